"""A figure with its interval (`Estimate`), what a user gave (`Measured`), and the doors through
which text comes in.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from .errors import shown
from .units import DIMENSIONS, Refused, Unit, find_unit, read_moisture, read_quantity

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema

COVERAGE = 0.90
"""Every interval of the library runs from the 5th to the 95th percentile."""


def _unit_of(symbol: str) -> Unit:
    unit = find_unit(symbol) if isinstance(symbol, str) else None
    if unit is None:
        raise Refused(
            "unknown-unit",
            f"'{shown(symbol, 30)}' is not a unit that is known here",
            "Write for instance kg, L or %.",
        )
    return unit


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its 90 % interval; it has no arithmetic, since lots that are added may share
    their doubt.

    `low_value`, `mid_value`, `high_value` are plain floats in `unit`; `low`, `mid`, `high` build a
    quantity of the pint library in its application registry, which is never changed here. Raises
    ValueError where the ends are not finite or out of order, or the unit is unknown.
    """

    low_value: float
    mid_value: float
    high_value: float
    unit: str
    coverage: float = COVERAGE

    def __post_init__(self) -> None:
        values = (self.low_value, self.mid_value, self.high_value)
        if not all(isinstance(v, (int, float)) and math.isfinite(v) for v in values):
            raise Refused(
                "not-finite", "an estimate needs three finite numbers", "Give low, mid and high."
            )
        if not self.low_value <= self.mid_value <= self.high_value:
            raise Refused(
                "inverted-range",
                f"low {self.low_value:g}, mid {self.mid_value:g} and high "
                f"{self.high_value:g} are out of order",
                "Give low <= mid <= high.",
            )
        if not 0 < self.coverage < 1:
            raise Refused(
                "out-of-range", f"the coverage {self.coverage:g} is not a share", "Give 0.90."
            )
        _unit_of(self.unit)

    @property
    def low(self) -> Any:
        """The 5th percentile as a pint quantity."""
        return _quantity(self.low_value, self.unit)

    @property
    def mid(self) -> Any:
        """The figure with every input at its middle, as a pint quantity."""
        return _quantity(self.mid_value, self.unit)

    @property
    def high(self) -> Any:
        """The 95th percentile as a pint quantity."""
        return _quantity(self.high_value, self.unit)

    def to(self, unit: str) -> Estimate:
        """The same estimate in another unit of the same dimension.

        Raises ValueError for any other unit.
        """
        here, there = _unit_of(self.unit), _unit_of(unit)
        if here.dimension != there.dimension:
            raise Refused(
                "wrong-dimension",
                f"{unit} is a unit of {there.dimension}, the estimate is a {here.dimension}",
                f"Give a unit of {here.dimension}.",
            )
        low, mid, high = (
            there.from_si(here.to_si(v)) for v in (self.low_value, self.mid_value, self.high_value)
        )
        return Estimate(low, mid, high, unit, self.coverage)

    def __str__(self) -> str:
        return (
            f"{self.low_value:.3g} to {self.high_value:.3g} {self.unit}, likely "
            f"{self.mid_value:.3g} {self.unit}"
        )

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.no_info_plain_validator_function(
            _as_estimate,
            serialization=core_schema.plain_serializer_function_ser_schema(_estimate_json),
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        number = {"type": "number"}
        return {
            "type": "object",
            "additionalProperties": False,
            "required": ["low", "mid", "high", "unit"],
            "properties": {
                "low": number,
                "mid": number,
                "high": number,
                "unit": {"type": "string"},
                "coverage": {"type": "number", "default": COVERAGE},
            },
        }


def _quantity(value: float, unit: str) -> Any:
    import pint

    known = _unit_of(unit)
    name = known.pint or DIMENSIONS[known.dimension].si
    number = value if known.pint else known.to_si(value)
    # the name is ours, from the whitelist: no text of a user reaches pint
    return pint.get_application_registry().Quantity(number, name)  # type: ignore[no-untyped-call]


def _estimate_json(value: Estimate) -> dict[str, Any]:
    return {
        "low": value.low_value,
        "mid": value.mid_value,
        "high": value.high_value,
        "unit": value.unit,
        "coverage": value.coverage,
    }


_ESTIMATE_KEYS = ("low", "mid", "high", "unit")


def _as_estimate(value: Any) -> Estimate:
    if isinstance(value, Estimate):
        return value
    if not isinstance(value, Mapping) or not set(_ESTIMATE_KEYS) <= set(value) <= {
        *_ESTIMATE_KEYS,
        "coverage",
    }:
        raise _custom("not-an-estimate", "this is not an estimate", "Give low, mid, high and unit.")
    numbers = [value[k] for k in ("low", "mid", "high")] + [value.get("coverage", COVERAGE)]
    if not all(isinstance(n, (int, float)) and not isinstance(n, bool) for n in numbers):
        raise _custom(
            "not-finite", "low, mid, high and coverage are numbers", "Give them without quotes."
        )
    try:
        return Estimate(
            float(numbers[0]),
            float(numbers[1]),
            float(numbers[2]),
            value["unit"],
            float(numbers[3]),
        )
    except Refused as why:
        raise _as_custom(why) from None


class FigureUnit:
    """For `Annotated[Estimate, FigureUnit("kg")]`: the one unit that this figure has, checked when
    it is read back.
    """

    def __init__(self, unit: str) -> None:
        self.unit = unit

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from pydantic_core import core_schema

        def check(value: Estimate) -> Estimate:
            if value.unit != self.unit:
                raise _custom(
                    "wrong-unit",
                    f"this figure is in {self.unit}, not in '{shown(value.unit, 30)}'",
                    f"Give it in {self.unit}.",
                )
            return value

        return core_schema.no_info_after_validator_function(check, handler(source))


@dataclass(frozen=True, slots=True)
class Measured:
    """What a user gave: the text as written and what it says in SI (temperatures in degC, shares as
    fractions).

    `low` and `high` are the ends of the user's own 90 % interval, None where there is no range.
    `basis` is `wet` or `dry` for a moisture. `note` tells how a doubtful word was read (a bare
    gallon).
    """

    text: str
    dimension: str
    mid: float
    low: float | None = None
    high: float | None = None
    basis: str = ""
    note: str = ""

    @property
    def values(self) -> tuple[float, ...]:
        return tuple(v for v in (self.low, self.mid, self.high) if v is not None)

    def __str__(self) -> str:
        return self.text


class Door:
    """For `Annotated[Measured, Door("mass", above=0)]`: takes text, a pint quantity, an `Estimate`
    or its mapping.

    Bounds are in SI: `above` and `below` exclude the bound itself, `least` and `most` include it.
    """

    def __init__(
        self,
        dimension: str,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
        below: float | None = None,
        why: str = "",
    ) -> None:
        self.dimension, self.above, self.least, self.most, self.below, self.why = (
            dimension,
            above,
            least,
            most,
            below,
            why,
        )

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.no_info_plain_validator_function(
            self.take,
            serialization=core_schema.plain_serializer_function_ser_schema(
                lambda m: m.text, return_schema=core_schema.str_schema()
            ),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {
            "type": "string",
            "examples": self._examples(),
            "description": f"a {self.dimension} with its unit",
            "x-dimension": self.dimension,
        }

    def _examples(self) -> list[str]:
        return [DIMENSIONS[self.dimension].example]

    def take(self, value: Any) -> Measured:
        try:
            found = self.read(value)
            self.check(found)
        except Refused as why:
            raise _as_custom(why) from None
        return found

    def read(self, value: Any) -> Measured:
        """The value as `Measured`; raises `Refused`."""
        if isinstance(value, Measured):
            if value.dimension != self.dimension:
                raise Refused(
                    "wrong-dimension",
                    f"'{shown(value.text)}' is a {value.dimension}, not a {self.dimension}",
                    f"Write for instance {DIMENSIONS[self.dimension].example}.",
                )
            return value
        if isinstance(value, str):
            said = read_quantity(value, self.dimension)
            return Measured(value, self.dimension, said.mid, said.low, said.high, note=said.note)
        return self.read(self._text_of(value))

    def _text_of(self, value: Any) -> str:
        example = DIMENSIONS[self.dimension].example
        if isinstance(value, bool) or value is None:
            raise Refused("empty", "there is no value", f"Write for instance {example}.")
        if isinstance(value, (int, float)):
            raise Refused(
                "no-unit",
                f"{shown(value)} has no unit",
                f"Write a number and a unit of {self.dimension}, for instance {example}.",
            )
        if isinstance(value, Mapping) and set(_ESTIMATE_KEYS) <= set(value):
            try:
                value = _as_estimate(value)
            except ValueError as why:
                raise Refused(
                    "not-an-estimate", str(why), "Give low, mid, high and unit."
                ) from None
        if isinstance(value, Estimate):
            return (
                f"{value.low_value!r} to {value.high_value!r} {value.unit}, likely "
                f"{value.mid_value!r}"
            )
        if hasattr(value, "to") and hasattr(value, "magnitude"):
            return self._text_of_quantity(value)
        raise Refused(
            "not-a-quantity",
            f"{shown(value)} is not a {self.dimension}",
            f"Write for instance {example}.",
        )

    def _text_of_quantity(self, value: Any) -> str:
        name, symbol = _PINT_SI[self.dimension]
        try:
            # the quantity converts itself, so a registry of its own does no harm
            number = float(value.to(name).magnitude)
        except Exception:
            raise Refused(
                "wrong-dimension",
                f"'{shown(str(value))}' is not a {self.dimension}",
                f"Give for instance {DIMENSIONS[self.dimension].example}.",
            ) from None
        if not math.isfinite(number):
            raise Refused(
                "not-finite",
                f"'{shown(str(value))}' is not finite",
                f"Give for instance {DIMENSIONS[self.dimension].example}.",
            )
        return f"{number!r} {symbol}".strip()

    def check(self, found: Measured) -> None:
        for value in found.values:
            if self.above is not None and not value > self.above:
                word = "zero" if value == 0 else "negative" if value < 0 else "too small"
                raise Refused(
                    "out-of-range",
                    f"'{shown(found.text)}' is {word}",
                    self.why or "Write a value above zero.",
                )
            if (
                self.least is not None
                and value < self.least
                or self.most is not None
                and value > self.most
                or (self.below is not None and not value < self.below)
            ):
                raise Refused(
                    "out-of-range",
                    f"'{shown(found.text)}' is out of range",
                    self.why or self._bounds(),
                )

    def _bounds(self) -> str:
        unit = DIMENSIONS[self.dimension].si
        parts = []
        if self.least is not None:
            parts.append(f"at least {self.least:g} {unit}")
        top = self.most if self.most is not None else self.below
        if top is not None:
            parts.append(f"at most {top:g} {unit}")
        return f"Write a value of {' and '.join(parts)}."


_PINT_SI = {
    "mass": ("kilogram", "kg"),
    "length": ("meter", "m"),
    "area": ("meter**2", "m^2"),
    "volume": ("meter**3", "m^3"),
    "density": ("kilogram/meter**3", "kg/m^3"),
    "temperature": ("degree_Celsius", "degC"),
    "time": ("second", "s"),
    "flow": ("liter/second", "L/s"),
    "share": ("percent", "%"),
    "number": ("dimensionless", ""),
    "specific energy": ("megajoule/kilogram", "MJ/kg"),
    "mass share": ("milligram/kilogram", "mg/kg"),
    "area density": ("kilogram/meter**2", "kg/m^2"),
    "area rate": ("gram/meter**2/second", "g/m^2/s"),
    "heat flux": ("kilowatt/meter**2", "kW/m^2"),
}


class MoistureDoor(Door):
    """As `Door`, for a moisture text with its basis: `22 % wet`, `28 % dry`."""

    def __init__(self, basis: str = "") -> None:
        super().__init__("share", least=0.0)
        self.basis = basis

    def read(self, value: Any) -> Measured:
        if isinstance(value, Measured):
            if not value.basis:
                raise Refused(
                    "no-basis",
                    f"'{shown(value.text)}' does not say on which basis",
                    "Write 22 % wet or 28 % dry.",
                )
            return value
        if not isinstance(value, str):
            raise Refused(
                "no-basis",
                f"{shown(value)} does not say on which basis",
                "Write 22 % wet or 28 % dry.",
            )
        said, basis = read_moisture(value)
        return Measured(value, "share", said.mid, said.low, said.high, basis, said.note)

    def check(self, found: Measured) -> None:
        for value in found.values:
            if value < 0:
                raise Refused(
                    "out-of-range",
                    f"'{shown(found.text)}' is negative",
                    "Write a moisture of 0 % or more.",
                )
            if found.basis == "wet" and value >= 1:
                raise Refused(
                    "out-of-range",
                    f"'{shown(found.text)}' is all water or more",
                    "A wet-basis moisture is below 100 %; a dry-basis one may exceed "
                    "it: write % dry if that was meant.",
                )

    def _examples(self) -> list[str]:
        return ["22 % wet", "28 % dry", "18 to 25 % dry", "18 to 25 % dry, likely 20 % dry"]


def _custom(
    code: str,
    what: str,
    expected: str,
    nearest: tuple[str, ...] = (),
    at: tuple[str | int, ...] = (),
) -> Any:
    """Our message as an error that pydantic carries; `located.problems_of` unpacks it.

    `at` leads from the model to the part that is wrong.
    """
    from pydantic_core import PydanticCustomError

    return PydanticCustomError(
        "feedstock",
        "{what}. {expected}",
        {
            "code": code,
            "what": what,
            "expected": expected,
            "nearest": list(nearest),
            "at": list(at),
        },
    )


def _as_custom(why: Refused) -> Any:
    return _custom(why.code, why.what, why.expected, why.nearest)


custom_error = _custom
"""For validators in the models of other modules."""
