"""`Estimate`: a value with its interval, without arithmetic; and its one maker from figures: unit,
order of the ends, the bounds of its kind.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Protocol

from ..errors import shown
from .cell import Scale
from .described import component, component_ref
from .frozen import frozen
from .units import DIMENSIONS, Refused, Unit, find_unit

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


@frozen
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
        for value in (self.low_value, self.mid_value, self.high_value):
            if not isinstance(value, (int, float)) or not math.isfinite(value):
                three = "an estimate needs three finite numbers"
                raise Refused("not-finite", three, "Give low, mid and high.")
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
    def __get_pydantic_core_schema__(cls, source: Any, handler: Any) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.no_info_plain_validator_function(
            as_estimate,
            serialization=core_schema.plain_serializer_function_ser_schema(_estimate_json),
            ref=component_ref(cls),
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        number = {"type": "number"}
        parts = {
            "type": "object",
            "description": "A value and its 90 % interval.",
            "required": ["low", "mid", "high", "unit"],
            "properties": {
                "low": {**number, "description": "The 5th percentile."},
                "mid": {**number, "description": "The figure with everything at its middle."},
                "high": {**number, "description": "The 95th percentile."},
                "unit": {"type": "string", "description": "The unit of all three."},
                "coverage": {
                    **number,
                    "default": COVERAGE,
                    "description": "The share of cases that the interval holds.",
                },
            },
        }
        return component(cls, schema, handler, parts)


def estimate_of(low: float, mid: float, high: float, unit: str) -> Estimate:
    """Three values that were written as an estimate. Raises ValueError where they are none."""
    return Estimate(low, mid, high, unit)


def _quantity(value: float, unit: str) -> Any:
    import pint

    entry = _unit_of(unit)
    name = entry.pint or DIMENSIONS[entry.dimension].si
    number = value if entry.pint else entry.to_si(value)
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


ESTIMATE_KEYS = ("low", "mid", "high", "unit")


def as_estimate(value: Any) -> Estimate:
    """An estimate from its JSON; what a newer version says besides is left out."""
    if isinstance(value, Estimate):
        return value
    if not isinstance(value, Mapping) or not set(ESTIMATE_KEYS) <= set(value):
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
        raise as_custom(why) from None


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

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {**handler(schema), "x-unit": self.unit}


def _custom(
    code: str,
    what: str,
    expected: str,
    nearest: tuple[str, ...] = (),
    at: tuple[str | int, ...] = (),
) -> Any:
    """Our message as an error that pydantic carries; `documents.problems.problems_of` unpacks it.

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


def as_custom(why: Refused) -> Any:
    """A refusal as an error that pydantic carries."""
    return _custom(why.code, why.what, why.expected, why.nearest)


custom_error = _custom
"""For validators in the models of other modules."""


class Figure(Protocol):
    """What an estimate is made of: a middle, both ends, and the scale on which they are told."""

    @property
    def mid(self) -> Any: ...

    @property
    def ends(self) -> tuple[Any, Any]: ...

    @property
    def scale(self) -> Scale: ...


def figure_estimate(figure: Figure, unit: str, factor: float = 1.0) -> Estimate:
    """A figure in its public unit; `factor` turns the SI value into it.

    What is told on the log scale is an amount and never below nothing, what is told on the logit
    scale a share and never above the whole. The middle lies between the ends.

    >>> from types import SimpleNamespace
    >>> share = SimpleNamespace(mid=0.25, ends=(-0.05, 0.35), scale="logit")
    >>> figure_estimate(share, "%", 100.0)
    Estimate(low_value=0.0, mid_value=25.0, high_value=35.0, unit='%', coverage=0.9)
    """
    return bounded_estimate(figure.ends, figure.mid, unit, factor, figure.scale)


def bounded_estimate(
    ends: tuple[float, float], mid: float, unit: str, factor: float = 1.0, scale: Scale = "log"
) -> Estimate:
    """Three values as an estimate, kept within the bounds of the scale."""
    low, high = ends
    if scale != "linear":
        low, mid, high = max(low, 0.0), max(mid, 0.0), max(high, 0.0)
    if scale == "logit":
        low, mid, high = min(low, 1.0), min(mid, 1.0), min(high, 1.0)
    low, high = min(low, mid) * factor, max(high, mid) * factor
    return Estimate(told(low), told(mid * factor), told(high), unit)


def told(value: float) -> float:
    """A number as a result tells it: fourteen digits, so that what units and curves leave of a
    round number is round again.

    >>> told(499.99999999999983), told(0.43179999999999996), told(2 / 3)
    (500.0, 0.4318, 0.66666666666667)
    """
    return float(f"{value:.14g}")


def exact_estimate(value: float, unit: str) -> Estimate:
    """A value without doubt."""
    value = told(value)
    return Estimate(value, value, value, unit)


def scaled_estimate(
    low: float, mid: float, high: float, unit: str, factor: float = 1.0
) -> Estimate:
    """Three values that are not from a chain (cells of a table), brought into order."""
    return bounded_estimate((low, high), mid, unit, factor, "linear")
