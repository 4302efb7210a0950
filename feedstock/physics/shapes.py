"""The shapes of vessels that a burner row may name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number
from . import geometry
from .filling import (
    cap_filled,
    cap_level,
    cone_filled,
    cone_level,
    cylinder_filled,
    cylinder_level,
    frustum_filled,
    frustum_level,
    prismoid_filled,
    prismoid_level,
    trench_filled,
    trench_level,
)
from .vessel import rectangular_rim, round_rim, trench


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape of vessel: the names of its dimensions in the order of the arguments, and its four
    functions.

    `full` and `filled`/`level` take all `dimensions` (`filled` and `level` then a level in m or a
    volume in m3); `rim_area` takes those named in `rim`.
    """

    dimensions: tuple[str, ...]
    rim: tuple[str, ...]
    full: Callable[..., Number]
    rim_area: Callable[..., Number]
    filled: Callable[..., Number]
    level: Callable[..., Number]


@formula(
    "cone frustum by rim and floor",
    "solid geometry, V = h/3 (A1 + sqrt(A1 A2) + A2)",
    diameter="m",
    bottom_diameter="m",
    depth="m",
    result="m^3",
)
def frustum(diameter: Number, bottom_diameter: Number, depth: Number) -> Number:
    """Cone frustum by rim and floor.

    Takes `diameter` [m], `bottom_diameter` [m], `depth` [m]; returns [m^3].

    >>> round(frustum(1.0, 1.0, 0.5), 3)
    0.393
    """
    return geometry.cone_frustum(bottom_diameter, diameter, depth)


_ROUND = ("diameter", "depth")


SHAPES: dict[str, Shape] = {
    "cone": Shape(_ROUND, ("diameter",), geometry.cone, round_rim, cone_filled, cone_level),
    "cylinder": Shape(
        _ROUND, ("diameter",), geometry.cylinder, round_rim, cylinder_filled, cylinder_level
    ),
    "cap": Shape(_ROUND, ("diameter",), geometry.spherical_cap, round_rim, cap_filled, cap_level),
    "frustum": Shape(
        ("diameter", "bottom_diameter", "depth"),
        ("diameter",),
        frustum,
        round_rim,
        frustum_filled,
        frustum_level,
    ),
    "trench": Shape(
        ("width", "bottom_width", "length", "depth"),
        ("width", "length"),
        trench,
        rectangular_rim,
        trench_filled,
        trench_level,
    ),
    "prismoid": Shape(
        ("width", "length", "bottom_width", "bottom_length", "depth"),
        ("width", "length"),
        geometry.prismoid,
        rectangular_rim,
        prismoid_filled,
        prismoid_level,
    ),
}
"""The shapes that a burner row may name, by that name."""
