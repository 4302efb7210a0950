"""`Measured`, what a user gave, and the pydantic types through which text comes in."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from ..errors import shown
from .estimate import ESTIMATE_KEYS, Estimate, as_custom, as_estimate
from .frozen import frozen
from .parse import read_moisture, read_quantity
from .units import DIMENSIONS, Refused

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema


@frozen
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


class QuantityField:
    """For `Annotated[Measured, QuantityField("mass", above=0)]`: takes text, a pint quantity, an
    `Estimate` or its mapping.

    Bounds are in SI: `above` and `below` exclude the bound itself, `minimum` and `maximum` include
    it.
    """

    def __init__(
        self,
        dimension: str,
        above: float | None = None,
        minimum: float | None = None,
        maximum: float | None = None,
        below: float | None = None,
        why: str = "",
        shown: tuple[str, ...] = (),
    ) -> None:
        self.shown = shown
        self.dimension, self.above, self.minimum, self.maximum, self.below, self.why = (
            dimension,
            above,
            minimum,
            maximum,
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
        """Text, or where it is read an estimate; each with what it is."""
        about = {"description": self._means(), "x-dimension": self._kind()}
        text = {"type": "string", "examples": self.examples()}
        if handler.mode == "serialization":
            return {**text, **about}
        of_estimate = Estimate.__get_pydantic_core_schema__(Estimate, handler)
        estimate = Estimate.__get_pydantic_json_schema__(of_estimate, handler)
        return {"anyOf": [text, estimate], **about}

    def _means(self) -> str:
        return f"A {self.dimension} with its unit; a range is a 90 % interval."

    def _kind(self) -> str:
        return self.dimension

    def examples(self) -> list[str]:
        """Texts that may stand in this field."""
        written = re.split(r", | or ", DIMENSIONS[self.dimension].example)
        fitting = [text for text in (*self.shown, *written) if self._fits(text)]
        return fitting or [self._within()]

    def _fits(self, text: str) -> bool:
        try:
            self.take(text)
        except ValueError:
            return False
        return True

    def _within(self) -> str:
        """A value between the bounds."""
        least = self.minimum if self.minimum is not None else self.above or 0.0
        most = self.maximum if self.maximum is not None else self.below
        value = 2 * least + 1 if most is None else (least + most) / 2
        return f"{value:g} {DIMENSIONS[self.dimension].si}".removesuffix(" 1")

    def take(self, value: Any) -> Measured:
        try:
            measured = self.read(value)
            self.check(measured)
        except Refused as why:
            raise as_custom(why) from None
        return measured

    def read(self, value: Any) -> Measured:
        """The value as `Measured`; raises `Refused`."""
        if isinstance(value, Measured):
            if value.dimension != self.dimension:
                raise Refused(
                    "wrong-dimension",
                    f"'{shown(value.text)}' is a {value.dimension}, not a {self.dimension}",
                    f"Write for instance {DIMENSIONS[self.dimension].example}.",
                )
            self.check_text(value)
            return value
        if isinstance(value, str):
            quantity = read_quantity(value, self.dimension)
            return Measured(
                value, self.dimension, quantity.mid, quantity.low, quantity.high, note=quantity.note
            )
        return self.read(self._text_of(value))

    def check_text(self, value: Measured) -> None:
        """A value that was made in code is what its text says: the text is what is written out."""
        if not isinstance(value.text, str) or self.read(value.text) != value:
            raise Refused(
                "not-as-written",
                f"this value is not what its text '{shown(value.text)}' says",
                "Give the text alone.",
            )

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
        if isinstance(value, Mapping) and set(ESTIMATE_KEYS) <= set(value):
            more = set(value) - {*ESTIMATE_KEYS, "coverage"}
            if more:
                raise Refused(
                    "not-an-estimate",
                    f"'{shown(sorted(map(str, more))[0])}' is not part of an estimate",
                    "Give low, mid, high and unit.",
                )
            try:
                value = as_estimate(value)
            except ValueError as why:
                raise Refused(
                    "not-an-estimate", str(why), "Give low, mid, high and unit."
                ) from None
        if isinstance(value, Estimate):
            if value.low_value == value.high_value:
                return f"{value.mid_value!r} {value.unit}"
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

    def check(self, measured: Measured) -> None:
        for value in measured.values:
            if self.above is not None and not value > self.above:
                word = "zero" if value == 0 else "negative" if value < 0 else "too small"
                raise Refused(
                    "out-of-range",
                    f"'{shown(measured.text)}' is {word}",
                    self.why
                    or (
                        "It is less than can be meant: look at its unit."
                        if value > 0
                        else "Write a value above zero."
                    ),
                )
            if (
                self.minimum is not None
                and value < self.minimum
                or self.maximum is not None
                and value > self.maximum
                or (self.below is not None and not value < self.below)
            ):
                raise Refused(
                    "out-of-range",
                    f"'{shown(measured.text)}' is out of range",
                    self.why or self._bounds(),
                )

    def _bounds(self) -> str:
        unit = DIMENSIONS[self.dimension].si
        parts = []
        if self.minimum is not None:
            parts.append(f"at least {self.minimum:g} {unit}")
        top = self.maximum if self.maximum is not None else self.below
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
    "volume per area": ("liter/meter**2", "L/m^2"),
    "heat flux": ("kilowatt/meter**2", "kW/m^2"),
}


class MoistureField(QuantityField):
    """As `QuantityField`, for a moisture text with its basis: `22 % wet`, `28 % dry`."""

    def __init__(self, basis: str = "") -> None:
        super().__init__("share", minimum=0.0)
        self.basis = basis

    def read(self, value: Any) -> Measured:
        if isinstance(value, Measured):
            if not value.basis:
                raise Refused(
                    "no-basis",
                    f"'{shown(value.text)}' does not say on which basis",
                    "Write 22 % wet or 28 % dry.",
                )
            self.check_text(value)
            return value
        if not isinstance(value, str):
            raise Refused(
                "no-basis",
                f"{shown(value)} does not say on which basis",
                "Write 22 % wet or 28 % dry.",
            )
        quantity, basis = read_moisture(value)
        return Measured(
            value, "share", quantity.mid, quantity.low, quantity.high, basis, quantity.note
        )

    def check(self, measured: Measured) -> None:
        for value in measured.values:
            if value < 0:
                raise Refused(
                    "out-of-range",
                    f"'{shown(measured.text)}' is negative",
                    "Write a moisture of 0 % or more.",
                )
            if measured.basis == "wet" and value >= 1:
                raise Refused(
                    "out-of-range",
                    f"'{shown(measured.text)}' is all water or more",
                    "A wet-basis moisture is below 100 %; a dry-basis one may exceed "
                    "it: write % dry if that was meant.",
                )

    def examples(self) -> list[str]:
        """Texts that may stand in this field."""
        return ["22 % wet", "28 % dry", "18 to 25 % dry", "18 to 25 % dry, likely 20 % dry"]

    def _means(self) -> str:
        return "Water in percent, of the whole mass (wet) or of the dry matter (dry)."

    def _kind(self) -> str:
        return "moisture"
