"""Estimates as a person would say them: in the reader's units, no digit that the interval lacks."""

from __future__ import annotations

import math
from typing import Literal

from .estimate import Estimate

Units = Literal["metric", "us"]


_US = {"kg": "lb", "L": "US gal", "kg/m^3": "lb/ft^3", "m": "ft", "mm": "in", "m^2": "ft^2"}


_NAMES = {
    "L": "litres",
    "%": "%",
    "kg": "kg",
    "lb": "lb",
    "US gal": "US gal",
    "min": "minutes",
    "week": "weeks",
    "m": "m",
}


def in_units(estimate: Estimate, units: Units) -> Estimate:
    """The estimate in the units that the reader wants."""
    return estimate.to(_US[estimate.unit]) if units == "us" and estimate.unit in _US else estimate


def amount(estimate: Estimate, units: Units = "metric") -> str:
    """`3 to 15 litres, likely about 7`: no digit that the interval does not bear."""
    shown = in_units(estimate, units)
    name = _NAMES.get(shown.unit, shown.unit)
    if shown.high_value <= 0:
        return f"no {name}" if name != "%" else "0 %"
    low, mid, high = (
        rounded(v, shown.high_value - shown.low_value)
        for v in (shown.low_value, shown.mid_value, shown.high_value)
    )
    if low == high:
        return f"about {mid} {name}"
    return f"{low} to {high} {name}, likely about {mid}"


_WHOLE = 1000.0
"""From here on a number without a width is written out to the unit."""


def rounded(value: float, width: float) -> str:
    """To a step of 1, 2 or 5 times a power of ten, near an eighth of the width; to three digits
    where there is no width.
    """
    if value == 0:
        return "0"
    if width <= 0:
        return f"{value:.3g}" if abs(value) < _WHOLE else f"{value:.0f}"
    power = 10.0 ** math.floor(math.log10(width / 8))
    step = next(s * power for s in (5, 2, 1) if s * power <= width / 8 * (1 + 1e-9))
    digits = max(0, -math.floor(math.log10(step)))
    text = f"{round(value / step) * step:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
