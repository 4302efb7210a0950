"""How much of the wood is still raw when a burn ends."""

from __future__ import annotations

from collections.abc import Callable

from ..uncertainty.elementwise import maximum, minimum
from ..uncertainty.inputs import Number
from . import charring
from .firing import _NOTHING

_SLICES = 24


def unreached_share(
    filled: Callable[[Number], Number],
    vessel: Number,
    rim: Number,
    depth: Number,
    load: Number,
    height: Number,
    speed: Number,
    time: Number,
    through: Number,
) -> Number:
    """Share of a load lit on top that is not char at `time`: what the front has not reached
    `through` seconds before.

    `filled(level)` is the volume below a level in the vessel, `depth` its depth, `height` the depth
    of the load.

    Lengths [m], areas [m^2], volumes [m^3], speeds [mm/min], times [s]; returns [1].

    >>> def filled(level): return 0.5 * level
    ...
    >>> round(unreached_share(filled, 0.25, 0.5, 0.5, 0.25, 0.5, 10.0, 2400.0, 600.0), 3)
    0.4
    """
    down = speed * maximum(time - through, 0.0) / 60.0 / 1000.0
    level = maximum(height - down, 0.0)
    below = filled(minimum(level, depth)) + maximum(level - depth, 0.0) * rim
    return minimum(maximum(below / maximum(load, _NOTHING), 0.0), 1.0)


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
    return minimum(maximum(total / maximum(load, _NOTHING), 0.0), 1.0)


def raw_share_of_lot(youngest: Number, oldest: Number, through: Number, exponent: float) -> Number:
    """Share of a lot's wood that is still raw, its pieces having been in flame for `youngest` to
    `oldest`, evenly spread; in s.

    Lengths [m], areas [m^2], volumes [m^3], speeds [mm/min], times [s]; returns [1].

    >>> raw_share_of_lot(1200.0, 1800.0, 600.0, 1.23)
    0.0
    """
    total: Number = 0.0
    for number in range(_SLICES):
        age = youngest + (oldest - youngest) * (number + 0.5) / _SLICES
        total = total + charring.core_share(age, through, 2.0, exponent)
    return total / _SLICES
