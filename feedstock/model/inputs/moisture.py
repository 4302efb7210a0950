"""A moisture in exactly one way."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated, Any, Self

from pydantic import model_serializer, model_validator

from ...quantities.estimate import custom_error
from ...quantities.fields import Measured, MoistureField, QuantityField
from .fields import InputModel, Mass, Text

if TYPE_CHECKING:
    from pydantic import GetJsonSchemaHandler
    from pydantic_core import CoreSchema

    from .fields import Quantity


class Air(InputModel):
    """The air in which wood has lain under cover until it came to rest with it."""

    temperature: Annotated[
        Measured,
        QuantityField(
            "temperature",
            minimum=-30,
            maximum=60,
            why="Write an outdoor temperature, for instance 12 degC.",
            shown=("12 degC", "54 degF"),
        ),
    ]
    """Of the air, in the mean of some weeks."""
    relative_humidity: Annotated[
        Measured,
        QuantityField(
            "share",
            above=0,
            maximum=0.98,
            why="Write a relative humidity above 0 % and up to 98 %.",
            shown=("78 %",),
        ),
    ]
    """Of the air, in the mean of some weeks."""

    if TYPE_CHECKING:

        def __init__(self, *, temperature: Quantity, relative_humidity: Quantity) -> None: ...


_MOISTURE_WAYS = (
    "Write '22 % wet', or {reading: '22 % dry', by: pin}, {wet: 412 g, oven_dry: 330 g}, "
    "{air: {...}} or {condition: seasoned}."
)


class Moisture(InputModel):
    """A moisture in exactly one way: stated, read by an instrument, weighed, at rest with the air,
    or by condition.
    """

    value: Annotated[Measured, MoistureField()] | None = None
    """The moisture with its basis."""
    reading: Annotated[Measured, MoistureField()] | None = None
    """What an instrument showed, with its basis."""
    by: Text | None = None
    """The instrument: pin, pinless, hay probe, oven."""
    wet: Mass | None = None
    """A sample's mass as it lay."""
    oven_dry: Mass | None = None
    """The same sample's mass after drying at 103 degC."""
    air: Air | None = None
    """The air in which it came to rest."""
    condition: Text | None = None
    """A word: green, seasoned, air-dry, damp, soaked, rained on."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, raw: Any) -> Any:
        if isinstance(raw, (Mapping, Moisture)):
            return raw
        return {"value": raw}

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        ways = [self.value, self.reading, self.wet or self.oven_dry, self.air, self.condition]
        count = sum(way is not None for way in ways)
        if count != 1:
            raise custom_error(
                "two-moistures" if count else "no-moisture",
                "the moisture is given in more than one way"
                if count
                else "the moisture is given in no way",
                _MOISTURE_WAYS,
            )
        if self.by is not None and self.reading is None:
            raise custom_error(
                "missing-field",
                "`by` names an instrument, but there is no `reading`",
                _MOISTURE_WAYS,
            )
        if (self.wet is None) != (self.oven_dry is None):
            raise custom_error(
                "missing-field",
                "weighing needs the mass before (`wet`) and after drying (`oven_dry`)",
                "Write {wet: 412 g, oven_dry: 330 g}.",
            )
        if (
            self.wet is not None
            and self.oven_dry is not None
            and not self.oven_dry.mid <= self.wet.mid
        ):
            raise custom_error(
                "out-of-range",
                "the sample weighs more after drying than before",
                "Write the mass as it lay under wet, the dried one under oven_dry.",
            )
        return self

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        schema_of_fields = super().__get_pydantic_json_schema__(schema, handler)
        named = handler.resolve_ref_schema(schema_of_fields)
        parts = {key: named.pop(key) for key in list(named) if key not in ("title", "description")}
        text = {"type": "string", "examples": MoistureField().examples()}
        named["anyOf"] = [text, parts]
        return schema_of_fields

    @model_serializer(mode="wrap")
    def _plain(self, handler: Any) -> Any:
        if self.value is not None:
            return self.value.text
        return {k: v for k, v in handler(self).items() if v is not None}
