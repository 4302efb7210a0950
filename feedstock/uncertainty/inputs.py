"""Inputs of a chain: three values, a scale, a key and an origin; and the scales on which doubts
add: linear, logarithm for amounts, log odds for shares, powers.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import field, replace
from functools import lru_cache
from itertools import chain
from typing import Any, Literal

from ..quantities.cell import Cell, Scale
from ..quantities.fields import Measured
from ..quantities.frozen import Once, frozen
from ..quantities.units import as_wet
from .elementwise import exp, log
from .intervals import Z95
from .keys import Key, exact_key, row_key

Number = Any
"""A float, or an array of floats in the bulk form."""


@frozen
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
    keys: tuple[str, ...] = ()
    """The keys of the sources in their table."""
    ends: str = ""
    """Where low and high come from: read, derived, judgement, or a rule by its name."""


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


@frozen
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
    shared: float = 0.0
    """Of a range that a person states: the part of its variance that all such ranges of a heap
    share, since they are guesses of one person; `add` splits it off.
    """
    amount: bool = False
    """Whether it says how much there is and nothing else: all amounts of the lot are in proportion.
    """

    exact: bool = field(init=False, compare=False, repr=False)
    """Whether it is without doubt; asked of every input of every lot, so found once."""

    def __post_init__(self) -> None:
        same = (self.low == self.mid) & (self.mid == self.high)
        object.__setattr__(self, "exact", same is True)

    def at(self, z: float) -> float:
        """The input where its key has the standard normal z, see `value_at`."""
        return value_at(float(self.low), float(self.mid), float(self.high), self.scale, z)

    @Once
    def curve(self) -> Callable[[float], float]:
        """The same for many z, which costs less than to ask for each."""
        return curve_of(float(self.low), float(self.mid), float(self.high), self.scale)


EDGE = 1e-12
"""Nearer to the edge of its scale than this a value counts as at the edge: its logarithm would only
be rounding.
"""


def value_at(low: float, mid: float, high: float, scale: Scale, z: float) -> float:
    """A value at the standard normal z: its ends at Z95 to either side, straight to each on its
    scale.

    A value at the very edge of the scale has no logarithm: the way is then straight on the linear
    scale, as far as the edge.

    >>> round(value_at(20.0, 40.0, 80.0, "log", Z95 / 2), 3)  # half way to 80 in the logarithm
    56.569
    """
    return mid if z == 0.0 else curve_of(low, mid, high, scale)(z)


@lru_cache(maxsize=4096)
def curve_of(low: float, mid: float, high: float, scale: Scale) -> Callable[[float], float]:
    """A value as a function of the standard normal z; kept, for cells of tables come again."""
    if scale == "log" and min(low, mid, high) > EDGE:
        below, above = math.log(mid / low) / Z95, math.log(high / mid) / Z95
        return lambda z: mid * math.exp(z * (above if z > 0.0 else below))
    if scale == "logit" and min(low, mid, high) > EDGE and max(low, mid, high) < 1.0 - EDGE:
        odds = mid / (1.0 - mid)
        less = math.log(odds * (1.0 - low) / low) / Z95
        more = math.log(high / (1.0 - high) / odds) / Z95
        return lambda z: 1.0 - 1.0 / (1.0 + odds * math.exp(z * (more if z > 0.0 else less)))
    down, up = (mid - low) / Z95, (high - mid) / Z95
    if scale == "linear":
        return lambda z: mid + z * (up if z > 0.0 else down)
    top = 1.0 if scale == "logit" else math.inf
    return lambda z: min(max(mid + z * (up if z > 0.0 else down), 0.0), top)


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


def cell_input(
    name: str,
    cell: Cell,
    owner: str,
    path: tuple[str | int, ...],
    origin: Origin,
    *,
    key: Key | None = None,
    exact: bool = False,
) -> Input:
    """A cell of a table, in SI and a moisture on wet basis.

    Its doubt is shared with all that use the cell of the row `owner`, or by `key`; with `exact` it
    enters at its middle.
    """
    low, mid, high = (cell.mid,) * 3 if exact else (cell.low, cell.mid, cell.high)
    if cell.dimension == "moisture" and cell.basis == "dry":
        low, mid, high = (as_wet(value, "dry") for value in (low, mid, high))
    unit = UNIT_OF.get(cell.dimension, "1")
    return Input(name, low, mid, high, cell.scale, key or row_key(owner, path), origin, unit)


def stated_input(
    name: str,
    stated: Measured,
    key: Key,
    origin: Origin,
    *,
    scale: Scale = "log",
    error: float = 0.0,
    range_key: Key | None = None,
    shared: float = 0.0,
    amount: bool = False,
) -> Input:
    """What a person stated: with their own range, or with a relative error of measuring.

    A range has the key `range_key` and the shared part `shared`; a value the key `key`. A moisture
    enters on wet basis.
    """
    unit = UNIT_OF.get(stated.dimension, "1")
    mid = as_wet(stated.mid, stated.basis)
    if stated.low is not None and stated.high is not None:
        low, high = as_wet(stated.low, stated.basis), as_wet(stated.high, stated.basis)
        key = range_key or key
        return Input(name, low, mid, high, scale, key, origin, unit, shared, amount)
    low, high = with_error(mid, error, scale)
    return Input(name, low, mid, high, scale, key, origin, unit, 0.0, amount)


def error_input(name: str, half_width: float, key: Key, origin: Origin, unit: str = "1") -> Input:
    """An error that is added: nothing in the middle, as much to either side.

    >>> error_input("moisture_error", 0.02, Key("meter:pin"), Origin("assumption", "pin")).low
    -0.02
    """
    return Input(name, -half_width, 0.0, half_width, "linear", key, origin, unit)


def interval_input(
    name: str,
    ends: tuple[float, float, float],
    scale: Scale,
    key: Key,
    origin: Origin,
    unit: str = "1",
) -> Input:
    """Three values in SI that were worked out from a table or a statement: low, middle, high."""
    return Input(name, *ends, scale, key, origin, unit)


def exact_input(
    name: str, value: float, origin: Origin, unit: str = "1", *, amount: bool = False
) -> Input:
    """A value without doubt: counted, stated as exact, or assumed.

    >>> exact_input("count", 24.0, Origin("field", "pieces.count: 24")).exact
    True
    """
    key = exact_key(name)
    return Input(name, value, value, value, "linear", key, origin, unit, 0.0, amount)


def assumed_input(name: str, value: float, text: str, unit: str = "1") -> Input:
    """A value without doubt that nobody stated; `text` says what is assumed."""
    return exact_input(name, value, Origin("assumption", text), unit)


def per_amount(entry: Input) -> Input:
    """An amount as its ratio to the middle: what is left when how much there is does not count.

    Rounded, so that two lots that say the same of their amounts give the same ratios to the digit.
    """
    if not entry.amount or not entry.mid > 0:
        return entry
    low, high = (float(f"{end / entry.mid:.12g}") for end in (entry.low, entry.high))
    return replace(entry, low=low, mid=1.0, high=high)


Way = tuple[Callable[[Number], Number], Callable[[Number], Number]]
"""To the scale on which doubts are added, and back."""


def _same(x: Number) -> Number:
    return x


WAYS: dict[Scale, Way] = {
    "linear": (_same, _same),
    "log": (log, exp),
    "logit": (lambda x: log(x / (1 - x)), lambda x: 1 / (1 + exp(-x))),
}
FLOAT_WAYS: dict[Scale, Way] = {
    "linear": (_same, _same),
    "log": (math.log, math.exp),
    "logit": (lambda x: math.log(x / (1 - x)), lambda x: 1 / (1 + math.exp(-x))),
}
"""The same for floats alone, without a look at what the value is."""


def usable_scale(mid: Number, changes: Iterable[tuple[Number, Number]], scale: Scale) -> Scale:
    """The scale itself, or the linear one for a figure at its very edge (an amount of nothing, a
    share of 1).
    """
    if scale == "linear" or not isinstance(mid, (int, float)):
        return scale
    every = [0.0, *chain.from_iterable(changes)]
    top = 1.0 - EDGE if scale == "logit" else math.inf
    return scale if mid + min(every) > EDGE and mid + max(every) < top else "linear"


_LEAST_POWER = 1e-4


def power(mid: float, exponent: float) -> Way:
    """The scale of Box and Cox 1964: the logarithm at power 0, the amount at power 1, both as parts
    of the middle.
    """
    if exponent < _LEAST_POWER:
        return (lambda x: math.log(max(x / mid, EDGE))), (lambda y: mid * math.exp(y))
    return (
        lambda x: (max(x / mid, 0.0) ** exponent - 1.0) / exponent,
        lambda y: mid * max(1.0 + exponent * y, 0.0) ** (1.0 / exponent),
    )
