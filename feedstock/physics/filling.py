"""How far a vessel is filled by a volume, and which volume lies below a level."""

from __future__ import annotations

import math
from collections.abc import Callable

from ..uncertainty.elementwise import maximum, minimum, sqrt
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number
from . import geometry
from .vessel import NOTHING, round_rim, trench

_HALVINGS = 60


def _within(level: Number, depth: Number) -> Number:
    return minimum(maximum(level, 0.0), depth)


def _level_by_halving(filled: Callable[[Number], Number], volume: Number, depth: Number) -> Number:
    """The level at which a growing `filled` reaches `volume`, bracketed between floor and rim;
    works on arrays alike.
    """
    low, step = 0.0 * (volume + depth), depth / 2.0
    for _ in range(_HALVINGS):
        low = low + step * (filled(low + step) <= volume)
        step = step / 2.0
    return _within(low + step, depth)


@formula(
    "cone filled to a level",
    "solid geometry, V = pi d^2 y^3/(12 h^2)",
    diameter="m",
    depth="m",
    level="m",
    result="m^3",
)
def cone_filled(diameter: Number, depth: Number, level: Number) -> Number:
    """Volume below `level` in a cone that stands on its point, of rim diameter and depth.

    Takes `diameter` [m], `depth` [m], `level` [m]; returns [m^3].

    >>> round(cone_filled(1.0, 0.5, 0.25), 4)
    0.0164
    """
    return geometry.cone(diameter, depth) * (_within(level, depth) / depth) ** 3


@formula(
    "level in a cone",
    "solid geometry, y = h (V/V_full)^(1/3)",
    diameter="m",
    depth="m",
    volume="m^3",
    result="m",
)
def cone_level(diameter: Number, depth: Number, volume: Number) -> Number:
    """Level in a cone.

    Takes `diameter` [m], `depth` [m], `volume` [m^3]; returns [m].

    >>> round(cone_level(1.0, 0.5, 0.0163625), 3)
    0.25
    """
    whole = geometry.cone(diameter, depth)
    return depth * (_within(volume, whole) / whole) ** (1.0 / 3.0)


@formula(
    "cylinder filled to a level",
    "solid geometry, V = pi d^2 y/4",
    diameter="m",
    depth="m",
    level="m",
    result="m^3",
)
def cylinder_filled(diameter: Number, depth: Number, level: Number) -> Number:
    """Cylinder filled to a level.

    Takes `diameter` [m], `depth` [m], `level` [m]; returns [m^3].

    >>> round(cylinder_filled(0.5, 0.8, 0.4), 4)
    0.0785
    """
    return geometry.cylinder(diameter, _within(level, depth))


@formula(
    "level in a cylinder",
    "solid geometry, y = 4 V/(pi d^2)",
    diameter="m",
    depth="m",
    volume="m^3",
    result="m",
)
def cylinder_level(diameter: Number, depth: Number, volume: Number) -> Number:
    """Level in a cylinder.

    Takes `diameter` [m], `depth` [m], `volume` [m^3]; returns [m].

    >>> round(cylinder_level(0.5, 0.8, 0.0785398), 3)
    0.4
    """
    return _within(volume / round_rim(diameter), depth)


@formula(
    "frustum filled to a level",
    "solid geometry, V = pi y (r0^2 + r0 r + r^2)/3 with r at the level",
    diameter="m",
    bottom_diameter="m",
    depth="m",
    level="m",
    result="m^3",
)
def frustum_filled(
    diameter: Number, bottom_diameter: Number, depth: Number, level: Number
) -> Number:
    """Volume below `level` in a frustum of rim and floor diameter; the rim may also be the narrower
    of the two.

    Takes `diameter` [m], `bottom_diameter` [m], `depth` [m], `level` [m]; returns [m^3].

    >>> round(frustum_filled(1.0, 1.0, 0.5, 0.25), 3)
    0.196
    """
    y = _within(level, depth)
    return geometry.cone_frustum(
        bottom_diameter, bottom_diameter + (diameter - bottom_diameter) * y / depth, y
    )


@formula(
    "level in a frustum",
    "solid geometry, r^3 = r0^3 + 3 V (R - r0)/(pi h), y = 3 V/(pi (r0^2 + r0 r + r^2))",
    diameter="m",
    bottom_diameter="m",
    depth="m",
    volume="m^3",
    result="m",
)
def frustum_level(
    diameter: Number, bottom_diameter: Number, depth: Number, volume: Number
) -> Number:
    """The second form of the height has no difference of radii in it, so a frustum that is nearly a
    cylinder is exact too.

    Takes `diameter` [m], `bottom_diameter` [m], `depth` [m], `volume` [m^3]; returns [m].

    >>> round(frustum_level(1.0, 1.0, 0.5, 0.19635), 3)
    0.25
    """
    part = _within(volume, geometry.cone_frustum(bottom_diameter, diameter, depth))
    cube = bottom_diameter**3 + 12.0 * part * (diameter - bottom_diameter) / (math.pi * depth)
    across = maximum(cube, 0.0) ** (1.0 / 3.0)
    return _within(
        12.0
        * part
        / maximum(math.pi * (bottom_diameter**2 + bottom_diameter * across + across**2), NOTHING),
        depth,
    )


@formula(
    "bowl filled to a level",
    "solid geometry, V = pi y^2 (3 Rs - y)/3, Rs = (a^2 + h^2)/(2 h)",
    diameter="m",
    depth="m",
    level="m",
    result="m^3",
)
def cap_filled(diameter: Number, depth: Number, level: Number) -> Number:
    """Volume below `level` in a spherical bowl of rim diameter and depth; deeper than half the
    diameter it narrows again to the rim.

    Takes `diameter` [m], `depth` [m], `level` [m]; returns [m^3].

    >>> round(cap_filled(1.0, 0.5, 0.5), 3)
    0.262
    """
    y, sphere = _within(level, depth), (diameter**2 / 4.0 + depth**2) / (2.0 * depth)
    return math.pi * y**2 * (3.0 * sphere - y) / 3.0


@formula(
    "level in a bowl",
    "the cubic of the filled bowl, solved by halving the bracket from floor to rim",
    diameter="m",
    depth="m",
    volume="m^3",
    result="m",
)
def cap_level(diameter: Number, depth: Number, volume: Number) -> Number:
    """Level in a bowl.

    Takes `diameter` [m], `depth` [m], `volume` [m^3]; returns [m].

    >>> round(cap_level(1.0, 0.5, 0.261799), 3)
    0.5
    """
    return _level_by_halving(lambda y: cap_filled(diameter, depth, y), volume, depth)


@formula(
    "trench filled to a level",
    "solid geometry, V = l y (w' + w at the level)/2",
    width="m",
    bottom_width="m",
    length="m",
    depth="m",
    level="m",
    result="m^3",
)
def trench_filled(
    width: Number, bottom_width: Number, length: Number, depth: Number, level: Number
) -> Number:
    """Trench filled to a level.

    Takes `width` [m], `bottom_width` [m], `length` [m], `depth` [m], `level` [m]; returns [m^3].

    >>> round(trench_filled(0.6, 0.4, 2.0, 0.5, 0.5), 3)
    0.5
    """
    y = _within(level, depth)
    return trench(bottom_width + (width - bottom_width) * y / depth, bottom_width, length, y)


@formula(
    "level in a trench",
    "solid geometry, the root of l (w' y + (w - w') y^2/(2 h)) = V that is free of cancellation",
    width="m",
    bottom_width="m",
    length="m",
    depth="m",
    volume="m^3",
    result="m",
)
def trench_level(
    width: Number, bottom_width: Number, length: Number, depth: Number, volume: Number
) -> Number:
    """Level in a trench.

    Takes `width` [m], `bottom_width` [m], `length` [m], `depth` [m], `volume` [m^3]; returns [m].

    >>> round(trench_level(0.6, 0.4, 2.0, 0.5, 0.5), 3)
    0.5
    """
    section = _within(volume, trench(width, bottom_width, length, depth)) / length
    root = sqrt(maximum(bottom_width**2 + 2.0 * (width - bottom_width) / depth * section, 0.0))
    return _within(2.0 * section / maximum(bottom_width + root, NOTHING), depth)


@formula(
    "pit with four sloping sides filled to a level",
    "solid geometry, the prismoid between the floor and the level",
    width="m",
    length="m",
    bottom_width="m",
    bottom_length="m",
    depth="m",
    level="m",
    result="m^3",
)
def prismoid_filled(
    width: Number,
    length: Number,
    bottom_width: Number,
    bottom_length: Number,
    depth: Number,
    level: Number,
) -> Number:
    """Volume below `level` in a pit of rectangular rim and floor of any proportions.

    Takes `width` [m], `length` [m], `bottom_width` [m], `bottom_length` [m], `depth` [m], `level`
    [m]; returns [m^3].

    >>> prismoid_filled(1.0, 1.0, 1.0, 1.0, 0.5, 0.25)
    0.25
    """
    y = _within(level, depth)
    up = y / depth
    return geometry.prismoid(
        bottom_width + (width - bottom_width) * up,
        bottom_length + (length - bottom_length) * up,
        bottom_width,
        bottom_length,
        y,
    )


@formula(
    "level in a pit with four sloping sides",
    "the cubic of the filled prismoid, solved by halving the bracket from floor to rim",
    width="m",
    length="m",
    bottom_width="m",
    bottom_length="m",
    depth="m",
    volume="m^3",
    result="m",
)
def prismoid_level(
    width: Number,
    length: Number,
    bottom_width: Number,
    bottom_length: Number,
    depth: Number,
    volume: Number,
) -> Number:
    """Level in a pit with four sloping sides.

    Takes `width` [m], `length` [m], `bottom_width` [m], `bottom_length` [m], `depth` [m], `volume`
    [m^3]; returns [m].

    >>> round(prismoid_level(1.0, 1.0, 1.0, 1.0, 0.5, 0.25), 3)
    0.25
    """
    return _level_by_halving(
        lambda y: prismoid_filled(width, length, bottom_width, bottom_length, depth, y),
        volume,
        depth,
    )
