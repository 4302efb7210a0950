"""What a result says, as data: a code and named values, said in any language and in any units."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any

from ..errors import shown
from ..quantities.described import component, component_ref
from ..quantities.estimate import Estimate, custom_error, estimate_of, told
from ..quantities.frozen import FrozenMap, frozen
from ..quantities.units import find_unit

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema


_SPEAKERS: list[Callable[[Any], str]] = []


def speak_with(speaker: Callable[[Any], str]) -> None:
    """Take what says a value in English and metric: languages stand above messages, which are data
    alone.
    """
    _SPEAKERS[:] = [speaker]


def _speak(value: Any) -> str:
    return _SPEAKERS[0](value)


@frozen
class Quantity:
    """A number with its unit and without an interval."""

    value: float
    unit: str

    def __post_init__(self) -> None:
        if find_unit(self.unit) is None:
            raise ValueError(f"'{shown(self.unit, 30)}' is not a unit that is known here")
        self.__dict__["value"] = told(self.value)

    def __str__(self) -> str:
        return _speak(self)


class Texts(FrozenMap[str, str]):
    """What a row of a table says, in every language that the row gives it in.

    A quantity stands in it in braces with its unit, `{3 m}`.
    """

    __slots__ = ()

    def __init__(self, texts: str | Mapping[str, str] = "", **languages: str) -> None:
        by_language = {"en": texts} if isinstance(texts, str) else dict(texts)
        super().__init__({k: v for k, v in {**by_language, **languages}.items() if v})

    def __reduce__(self) -> tuple[Any, ...]:
        return Texts, (dict(self),)

    def __repr__(self) -> str:
        return f"Texts({dict(self)!r})"

    def __str__(self) -> str:
        return _speak(self)

    def given_in(self, language: str) -> str:
        """The text in that language, else in English, else in the first that there is."""
        return self.get(language) or self.get("en") or next(iter(self.values()), "")

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import core_schema

        text = core_schema.str_schema()
        return core_schema.no_info_after_validator_function(
            lambda value: value if isinstance(value, Texts) else Texts(value),
            core_schema.union_schema(
                [
                    core_schema.is_instance_schema(Texts),
                    text,
                    core_schema.dict_schema(
                        core_schema.str_schema(min_length=2, max_length=12), text, min_length=1
                    ),
                ]
            ),
            serialization=core_schema.plain_serializer_function_ser_schema(dict),
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        text = {"type": "string"}
        return {"anyOf": [text, {"type": "object", "additionalProperties": text}]}


class Message:
    """A sentence of a result: `code` says which, `values` hold what stands in it.

    `str()` is the sentence in English and metric; `words.say` says it in any units and language.
    Values are text, numbers, estimates, quantities, texts of rows, other messages, or tuples of
    these. JSON carries code, values and the English text; reading ignores the text.
    """

    __slots__ = ("code", "values")

    code: str
    values: FrozenMap[str, Any]

    def __init__(self, code: str, /, **values: Any) -> None:
        object.__setattr__(self, "code", code)
        object.__setattr__(self, "values", values_of(values))

    @classmethod
    def of(cls, code: str, values: Mapping[str, Any]) -> Message:
        """A message from a mapping of values, whatever their names."""
        message = cls(code)
        object.__setattr__(message, "values", values_of(values))
        return message

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError("a message cannot be changed")

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Message):
            return NotImplemented
        return self.code == other.code and self.values == other.values

    def __hash__(self) -> int:
        return hash((self.code, self.values))

    def __repr__(self) -> str:
        return f"Message({self.code!r}, {', '.join(f'{k}={v!r}' for k, v in self.values.items())})"

    def __reduce__(self) -> tuple[Any, ...]:
        return Message.of, (self.code, dict(self.values))

    def __str__(self) -> str:
        return _speak(self)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.no_info_plain_validator_function(
            message_of,
            serialization=core_schema.plain_serializer_function_ser_schema(message_json),
            ref=component_ref(cls),
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        parts = {
            "type": "object",
            "description": "A sentence as a code with named values, which any language can say.",
            "required": ["code"],
            "properties": {
                "code": {"type": "string", "description": "Which sentence it is."},
                "values": {"type": "object", "description": "What stands in it, by name."},
                "text": {"type": "string", "description": "The sentence in English and metric."},
            },
        }
        return component(cls, schema, handler, parts)


class Values(FrozenMap[str, Any]):
    """The named values of a finding."""

    __slots__ = ()

    def __init__(self, items: Mapping[str, Any] | tuple[tuple[str, Any], ...] = ()) -> None:
        super().__init__({name: _as_told(value) for name, value in dict(items).items()})

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.no_info_plain_validator_function(
            values_read,
            serialization=core_schema.plain_serializer_function_ser_schema(values_json),
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "object"}

    def __reduce__(self) -> tuple[Any, ...]:
        return Values, (dict(self),)


def _as_told(value: Any) -> Any:
    if value.__class__ is float:
        return told(value)
    return tuple(map(_as_told, value)) if value.__class__ is tuple else value


def values_of(values: Mapping[str, Any]) -> Values:
    """Values as they are kept: lists as tuples, numbers as Python's own."""
    return Values({name: _kept(value) for name, value in values.items()})


def _kept(value: Any) -> Any:
    if value is None or isinstance(value, (str, bool, int, Message, Texts, Estimate, Quantity)):
        return value
    if isinstance(value, float):
        return float(value)
    if isinstance(value, Iterable) and not isinstance(value, Mapping):
        return tuple(_kept(item) for item in value)
    raise TypeError(f"a {type(value).__name__} cannot stand in a message")


def message_json(message: Message) -> dict[str, Any]:
    """Code, values and the sentence in English and metric."""
    return {
        "code": message.code,
        "values": values_json(message.values),
        "text": str(message),
    }


def values_json(values: Mapping[str, Any]) -> dict[str, Any]:
    """Named values as plain JSON."""
    return {name: _json(value) for name, value in values.items()}


def _json(value: Any) -> Any:
    if isinstance(value, Message):
        return message_json(value)
    if isinstance(value, Texts):
        return {"texts": dict(value)}
    if isinstance(value, Quantity):
        return {"value": value.value, "unit": value.unit}
    if isinstance(value, Estimate):
        return {
            "low": value.low_value,
            "mid": value.mid_value,
            "high": value.high_value,
            "unit": value.unit,
            "coverage": value.coverage,
        }
    return [_json(item) for item in value] if isinstance(value, tuple) else value


def message_of(value: Any) -> Message:
    """A message from its JSON; a ValueError that pydantic carries where it is none."""
    if isinstance(value, Message):
        return value
    if not isinstance(value, Mapping) or not isinstance(value.get("code"), str):
        raise _no_message()
    values = value.get("values", {})
    if not isinstance(values, Mapping):
        raise _no_message()
    return Message.of(value["code"], values_read(values))


def values_read(values: Any) -> Values:
    """Named values from their JSON."""
    if isinstance(values, Values):
        return values
    if not isinstance(values, Mapping):
        raise _no_message()
    return Values({str(name): _read(value) for name, value in values.items()})


def _read(value: Any) -> Any:
    if isinstance(value, (list, tuple)):
        return tuple(_read(item) for item in value)
    if not isinstance(value, Mapping) or isinstance(value, Texts):
        return _kept(value)
    if "code" in value:
        return message_of(value)
    if "texts" in value and isinstance(value["texts"], Mapping):
        return Texts({str(k): str(v) for k, v in value["texts"].items()})
    try:
        if "low" in value:
            low, mid, high = (float(value[end]) for end in ("low", "mid", "high"))
            return estimate_of(low, mid, high, value["unit"])
        return Quantity(float(value["value"]), value["unit"])
    except (KeyError, TypeError, ValueError):
        raise _no_message() from None


def _no_message() -> Any:
    return custom_error(
        "not-a-message",
        "this is not a message",
        "Give code and values, as a result writes them.",
    )
