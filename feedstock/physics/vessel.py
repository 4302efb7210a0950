"""What a pit or a kettle holds when it is filled to a level, and the level for a wanted volume.

Lengths in m, volumes in m3.

Levels are measured upwards from the floor. A level below the floor or above the rim counts as the
floor or the rim, a volume beyond the full one as the full one, so that every function is monotone
and `level(filled(y)) == y` within the vessel. Widths and depths are above 0; a bottom of no width
makes the frustum a cone and the prismoid a wedge or pyramid.
"""

from __future__ import annotations

import math

from ..uncertainty.elementwise import maximum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number

# the least denominator: an empty vessel has level 0 and not 0/0
NOTHING = 1e-300
# halvings of the depth: 2^-60 of it is below the rounding of a float


@formula("area of a round rim", "solid geometry, A = pi d^2/4", diameter="m", result="m^2")
def round_rim(diameter: Number) -> Number:
    """Area of a round rim.

    Takes `diameter` [m]; returns [m^2].

    >>> round(round_rim(1.0), 3)
    0.785
    """
    return math.pi / 4.0 * diameter**2


@formula(
    "area of a rectangular rim", "solid geometry, A = w l", width="m", length="m", result="m^2"
)
def rectangular_rim(width: Number, length: Number) -> Number:
    """Area of a rectangular rim.

    Takes `width` [m], `length` [m]; returns [m^2].

    >>> rectangular_rim(1.0, 2.0)
    2.0
    """
    return width * length


@formula(
    "trench",
    "solid geometry, V = l h (w + w')/2; upright ends",
    width="m",
    bottom_width="m",
    length="m",
    depth="m",
    result="m^3",
)
def trench(width: Number, bottom_width: Number, length: Number, depth: Number) -> Number:
    """A trench of trapezoid section between upright ends.

    Takes `width` [m], `bottom_width` [m], `length` [m], `depth` [m]; returns [m^3].

    >>> round(trench(0.6, 0.4, 2.0, 0.5), 3)
    0.5
    """
    return length * depth * (width + bottom_width) / 2.0


@formula(
    "floor width of a sloping pit",
    "solid geometry, w' = w - 2 s h, not below 0",
    width="m",
    depth="m",
    slope="1",
    result="m",
)
def bottom_from_slope(width: Number, depth: Number, slope: Number) -> Number:
    """Floor width when only the slope of the walls is known: `slope` is the run of one wall per
    metre of depth.

    Takes `width` [m], `depth` [m], `slope` [1]; returns [m].

    >>> bottom_from_slope(1.0, 0.5, 0.5)
    0.5
    """
    return maximum(width - 2.0 * slope * depth, 0.0)


@formula(
    "a length of a similar vessel",
    "solid geometry, lengths go with the cube root of the volume",
    length="m",
    volume="m^3",
    wanted="m^3",
    result="m",
)
def scaled(length: Number, volume: Number, wanted: Number) -> Number:
    """Any length of a vessel of the same proportions that holds `wanted` instead of `volume`.

    Takes `length` [m], `volume` [m^3], `wanted` [m^3]; returns [m].

    >>> round(scaled(1.0, 0.1, 0.8), 3)
    2.0
    """
    return length * (wanted / volume) ** (1.0 / 3.0)
