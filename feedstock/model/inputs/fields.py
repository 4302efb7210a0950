"""The fields of what a user describes, with their bounds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Annotated, Any, Protocol, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    model_serializer,
)

from ...errors import moves_a_screen, shown
from ...quantities.described import plain_model_schema
from ...quantities.estimate import Estimate, custom_error
from ...quantities.fields import Measured, QuantityField

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema

    class SupportsTo(Protocol):
        """A quantity of the pint library, of whichever registry."""

        @property
        def magnitude(self) -> Any: ...
        def to(self, *args: Any, **kwargs: Any) -> Any: ...

    Quantity = str | Estimate | Measured | Mapping[str, Any] | SupportsTo


MOST_LOTS = 10_000


def _on_one_line(value: str) -> str:
    """No line break, escape or other control character: names are printed to terminals."""
    if any(moves_a_screen(sign) for sign in value):
        raise custom_error(
            "control-character",
            f"a control character stands in '{shown(value)}'",
            "Write plain text on one line.",
        )
    return value


def _without_escapes(value: str) -> str:
    """Lines are welcome, what else moves a screen is not."""
    if any(moves_a_screen(sign) and sign not in "\n\r\t" for sign in value):
        raise custom_error(
            "control-character",
            f"a control character stands in '{shown(value)}'",
            "Write plain text.",
        )
    return value


Remarks = Annotated[str, StringConstraints(max_length=2000), AfterValidator(_without_escapes)]
"""Some lines of anything."""


def _not_blank(value: Any) -> Any:
    """An empty text says nothing, and our own sentence tells so wherever it was written."""
    if isinstance(value, str) and not value.strip():
        raise custom_error("empty", "the text is empty", "Write something, or leave the field out.")
    return value


LONGEST_TEXT = 200

Text = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=LONGEST_TEXT),
    BeforeValidator(_not_blank),
    AfterValidator(_on_one_line),
]


def _as_tuple(value: Any) -> Any:
    return (value,) if isinstance(value, str) else value


class _Reads:
    """A validator that runs before a field's own, and other ways to write the field in a schema."""

    def __init__(self, read: Callable[[Any], Any], ways: Callable[[dict[str, Any]], Any]) -> None:
        self.read, self.ways = read, ways

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        inner = handler(schema)
        if handler.mode == "serialization":
            return inner
        return {"anyOf": [inner, self.ways(inner)]}


Words = Annotated[tuple[Text, ...], _Reads(_as_tuple, lambda several: several["items"])]


_NEXT_TO_NOTHING = 1e-7
"""In kg, m and m3: a tenth of a milligram, of a micrometre, of a millilitre.

A smaller amount is a slip of the pen.
"""


Mass = Annotated[Measured, QuantityField("mass", above=_NEXT_TO_NOTHING, maximum=1e6)]


Length = Annotated[Measured, QuantityField("length", above=_NEXT_TO_NOTHING, maximum=100)]


Thick = Annotated[
    Measured,
    QuantityField(
        "length",
        above=_NEXT_TO_NOTHING,
        maximum=4,
        why="Write a thickness above nothing and up to 4 m: look at its unit.",
    ),
]


Long = Annotated[
    Measured,
    QuantityField(
        "length",
        minimum=0.01,
        maximum=100,
        why="Write a length from 1 cm to 100 m: look at its unit.",
    ),
]


Rim = Annotated[
    Measured,
    QuantityField(
        "length",
        minimum=0.05,
        maximum=30,
        why="Write a measure from 5 cm to 30 m: look at its unit.",
    ),
]


Volume = Annotated[Measured, QuantityField("volume", above=_NEXT_TO_NOTHING, maximum=1e4)]


Density = Annotated[Measured, QuantityField("density", minimum=1, maximum=2500)]


ShareBelowOne = Annotated[
    Measured,
    QuantityField("share", minimum=0, below=1, why="Write a share from 0 % to below 100 %."),
]


def _as_written(value: Any) -> Any:
    """Neither `1_000` nor True is a number that a person wrote."""
    if isinstance(value, bool) or (isinstance(value, str) and "_" in value):
        raise custom_error(
            "not-a-number",
            f"'{shown(value)}' is not a number as it is written here",
            "Write it in digits alone, for instance 1000.",
        )
    return value


AsWritten = _Reads(
    _as_written, lambda number: {"type": "string", "pattern": r"^\s*\d+(\.\d+)?\s*$"}
)


Count = Annotated[int, Field(ge=1, le=1_000_000), AsWritten]


_YES_OR_NO = ("yes", "no", "true", "false", "on", "off", "y", "n", "t", "f", "1", "0")


YesNo = Annotated[
    bool, _Reads(lambda value: value, lambda _: {"enum": [*_YES_OR_NO, "Yes", "No", 1, 0]})
]


class InputModel(BaseModel):
    """The base of what a person writes: frozen, and unknown fields are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, defer_build=True)

    @model_serializer(mode="wrap")
    def _without_nothing(self, handler: Any) -> Any:
        """What was not given is left out, so that a written heap reads like one that a person
        wrote.
        """
        fields = handler(self)
        return (
            {k: v for k, v in fields.items() if v is not None and v != ()}
            if isinstance(fields, dict)
            else fields
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return plain_model_schema(cls, schema, handler)

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy; what is changed in it is read like what a person wrote.

        Raises ValidationError for what cannot be.
        """
        if not update:
            return super().model_copy(deep=deep)
        fields = {name: getattr(self, name) for name in type(self).model_fields}
        return type(self).model_validate({**fields, **update})
