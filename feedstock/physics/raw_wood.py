"""How much of the wood is still raw when a burn ends."""

from __future__ import annotations

from collections.abc import Callable

from ..uncertainty.elementwise import maximum, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number
from . import charring
from .firing import NOTHING

_SLICES = 24
_TOGETHER = 1.0
"""Pieces that go in together are still a moment apart, s."""


def raw_share_of_load(
    filled: Callable[[Number], Number],
    depth: Number,
    rim: Number,
    load: Number,
    height: Number,
    speed: Number,
    time: Number,
    through: Number,
    exponent: float,
) -> Number:
    """Share of the wood of a load lit on top that is still raw at `time`: all that the front has
    not reached, and cores above it.

    Slice by slice from the top; a piece at depth z is in flame since z / `speed` (mm/min), and its
    core shrinks from then on.

    Lengths [m], areas [m^2], volumes [m^3], speeds [mm/min], times [s]; returns [1].

    >>> def filled(level): return 0.5 * level
    ...
    >>> raw_share_of_load(filled, 0.5, 0.5, 0.25, 0.5, 10.0, 1e6, 600.0, 1.23)
    0.0
    """

    def below(level: Number) -> Number:
        return filled(minimum(level, depth)) + maximum(level - depth, 0.0) * rim

    total: Number = 0.0
    above = below(height)
    for number in range(_SLICES):
        under = below(height * (1 - (number + 1) / _SLICES))
        age = time - 60.0 * 1000.0 * height * (number + 0.5) / _SLICES / speed
        total = total + (above - under) * charring.core_share(age, through, 2.0, exponent)
        above = under
    return minimum(maximum(total / maximum(load, NOTHING), 0.0), 1.0)


def _core_to(age: Number, through: Number, exponent: float) -> Number:
    """Integral of the core share of a round piece from 0 to `age`, over `through`."""
    share = minimum(maximum(age / through, 0.0), 1.0)
    power = 1.0 / exponent
    return (
        share
        - 2.0 * share ** (power + 1.0) / (power + 1.0)
        + share ** (2.0 * power + 1.0) / (2.0 * power + 1.0)
    )


@formula(
    "raw wood left in a lot",
    "mean of the core share (1 - (t/T)^(1/n))^2 over the ages of its pieces",
    youngest="s",
    oldest="s",
    through="s",
    result="1",
)
def raw_share_of_lot(youngest: Number, oldest: Number, through: Number, exponent: float) -> Number:
    """Share of a lot's wood that is still raw, its pieces having been in flame for `youngest` to
    `oldest`, evenly spread.

    Takes `youngest` [s], `oldest` [s], `through` [s]; returns [1].

    >>> raw_share_of_lot(1200.0, 1800.0, 600.0, 1.23)
    0.0
    """
    spread = maximum(oldest - youngest, _TOGETHER)
    later = _core_to(youngest + spread, through, exponent)
    return maximum((later - _core_to(youngest, through, exponent)) * through / spread, 0.0)
