"""Inputs of a chain: three values, a scale, a key and an origin."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from ..quantities.cell import Scale
from .intervals import P95

Number = Any
"""A float, or an array of floats in the bulk form."""


@dataclass(frozen=True, slots=True)
class Origin:
    """Where an input comes from: a cell of a table, a field that the user filled in, or a stated
    assumption.
    """

    kind: Literal["table", "field", "assumption"]
    text: str
    set: str = ""
    version: str = ""
    row: str = ""
    field: str = ""
    file: str = ""
    line: int | None = None
    sources: tuple[str, ...] = ()
    locator: str = ""
    known: str = ""
    note: str = ""
    inherited_from: str = ""


UNIT_OF = {
    "mass": "kg",
    "length": "m",
    "volume": "m^3",
    "density": "kg/m^3",
    "temperature": "degC",
    "specific energy": "J/kg",
    "time": "s",
    "flow": "m^3/s",
    "area rate": "kg/m^2/s",
    "area density": "kg/m^2",
}
"""The SI unit in which a value of a dimension enters a chain; a share has none."""


@dataclass(frozen=True, slots=True)
class Input:
    """One uncertain (or, with equal ends, certain) number that enters a chain; `unit` is its SI
    unit.
    """

    name: str
    low: Number
    mid: Number
    high: Number
    scale: Scale
    key: str
    origin: Origin
    unit: str = ""

    @property
    def certain(self) -> bool:
        same = (self.low == self.mid) & (self.mid == self.high)
        return same if isinstance(same, bool) else False

    def at(self, z: float) -> float:
        """The input where its key has the standard normal z: its ends at P95 to either side,
        straight to each on its scale.

        A value at the very edge of the scale has no logarithm: the way is then straight on the
        linear scale, as far as the edge.
        """
        low, mid, high = float(self.low), float(self.mid), float(self.high)
        if z == 0.0:
            return mid
        end, part = (high, z / P95) if z > 0.0 else (low, -z / P95)
        if self.scale == "log" and min(low, mid, high) > _EDGE:
            return float(mid * (end / mid) ** part)
        if (
            self.scale == "logit"
            and min(low, mid, high) > _EDGE
            and max(low, mid, high) < 1.0 - _EDGE
        ):
            odds = mid / (1.0 - mid)
            odds *= (end / (1.0 - end) / odds) ** part
            return float(odds / (1.0 + odds))
        value = mid + part * (end - mid)
        if self.scale != "linear":
            value = max(value, 0.0)
        return min(value, 1.0) if self.scale == "logit" else value


_EDGE = 1e-12
"""Nearer to the edge of its scale than this a value counts as at the edge: its logarithm would only
be rounding.
"""


def with_error(value: float, error: float, scale: Scale) -> tuple[float, float]:
    """The ends of a value with a relative error of measuring; of a share it acts on the odds, so
    that it stays a share.
    """
    if error == 0.0:
        return value, value  # the way to the odds and back would leave a doubt of rounding
    if scale != "logit" or not 0 < value < 1:
        return value * (1 - error), value * (1 + error)
    odds = value / (1 - value)
    low, high = odds * (1 - error), odds * (1 + error)
    return low / (1 + low), high / (1 + high)
