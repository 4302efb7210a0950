"""Vessels against closed forms, against numerical integrals of the section's area, and against
their own inverses.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from feedstock.physics import filling, vessel
from feedstock.physics.shapes import SHAPES, Shape
from feedstock.uncertainty.formula import formula_of
from reference import geometry as geometry_ref

US_GALLON = 231 * 0.0254**3


def _cone_area(y: float, diameter: float, depth: float) -> float:
    return math.pi * (diameter / 2 * y / depth) ** 2


def _cap_area(y: float, diameter: float, depth: float) -> float:
    sphere = ((diameter / 2) ** 2 + depth**2) / (2 * depth)
    return math.pi * (sphere**2 - (sphere - y) ** 2)


def _frustum_area(y: float, diameter: float, bottom_diameter: float, depth: float) -> float:
    return math.pi / 4 * (bottom_diameter + (diameter - bottom_diameter) * y / depth) ** 2


def _prismoid_area(
    y: float, width: float, length: float, bottom_width: float, bottom_length: float, depth: float
) -> float:
    return (bottom_width + (width - bottom_width) * y / depth) * (
        bottom_length + (length - bottom_length) * y / depth
    )


AREAS: dict[str, Callable[..., float]] = {
    "cone": _cone_area,
    "cylinder": lambda y, diameter, depth: math.pi * diameter**2 / 4,
    "cap": _cap_area,
    "frustum": _frustum_area,
    "trench": lambda y, width, bottom_width, length, depth: (
        (bottom_width + (width - bottom_width) * y / depth) * length
    ),
    "prismoid": _prismoid_area,
}

# dimensions of a vessel of each shape, in the order of Shape.dimensions; some deep, some that
# narrow upwards, some pointed
CASES = [
    ("cone", (1.5, 0.75)),
    ("cone", (0.838, 0.356)),
    ("cylinder", (0.57, 0.85)),
    ("cap", (1.5, 0.45)),
    ("cap", (0.8, 0.4)),
    ("cap", (0.6, 0.9)),
    ("frustum", (1.5, 0.7, 0.6)),
    ("frustum", (0.5, 0.58, 0.8)),
    ("frustum", (1.0, 0.0, 0.5)),
    ("frustum", (0.6, 0.6, 0.8)),
    ("trench", (0.8, 0.4, 2.0, 0.5)),
    ("trench", (0.6, 0.0, 3.0, 0.5)),
    ("trench", (0.5, 0.7, 2.0, 0.5)),
    ("prismoid", (0.8, 2.0, 0.4, 1.6, 0.5)),
    ("prismoid", (1.0, 1.0, 0.0, 0.0, 0.6)),
    ("prismoid", (0.7, 1.2, 0.7, 0.0, 0.4)),
]


# worked examples of textbook identities, to three decimals
@pytest.mark.worked
@pytest.mark.parametrize(
    "name, dimensions, expected",
    [
        ("cone", (1.5, 0.75), 0.442),
        ("frustum", (1.5, 0.70, 0.6), 0.595),
        ("cap", (1.0, 0.5), 0.262),  # a hemisphere, 2 pi R^3/3
        ("cap", (1.5, 0.45), 0.445),
        ("trench", (0.8, 0.4, 2.0, 0.5), 0.600),
        ("prismoid", (0.8, 2.0, 0.4, 1.6, 0.5), 0.547),
    ],
)
def test_full_volume(name: str, dimensions: tuple[float, ...], expected: float) -> None:
    assert SHAPES[name].full(*dimensions) == pytest.approx(expected, abs=5.1e-4)


@pytest.mark.worked
def test_cone_pit_of_33_by_14_inches_in_gallons() -> None:
    # pi 33^2 14 / 12 cubic inches, 231 of them to the US gallon
    assert SHAPES["cone"].full(33 * 0.0254, 14 * 0.0254) / US_GALLON == pytest.approx(
        17.3, abs=0.05
    )


@pytest.mark.worked
def test_four_sided_pit_is_no_pyramid_frustum() -> None:
    # the pyramid formula needs a floor similar to the rim; here 2.0 x 0.8 over 1.6 x 0.4 m
    true, _ = quad(lambda y: _prismoid_area(y, 0.8, 2.0, 0.4, 1.6, 0.5), 0, 0.5)
    pyramid = geometry_ref.pyramid_frustum(2.0 * 0.8, 1.6 * 0.4, 0.5)
    assert SHAPES["prismoid"].full(0.8, 2.0, 0.4, 1.6, 0.5) == pytest.approx(true, rel=1e-12)
    assert round(true, 3) == 0.547
    assert round(pyramid, 3) == 0.542
    # and where rim and floor are similar the two agree
    assert geometry_ref.pyramid_frustum(1.0 * 2.0, 0.5 * 1.0, 0.6) == pytest.approx(
        SHAPES["prismoid"].full(1.0, 2.0, 0.5, 1.0, 0.6), rel=1e-12
    )


@pytest.mark.worked
@pytest.mark.parametrize("name, dimensions", CASES)
@pytest.mark.parametrize("share", [0.03, 0.25, 0.5, 0.8, 1.0])
def test_partial_fill_is_the_integral_of_the_area(
    name: str, dimensions: tuple[float, ...], share: float
) -> None:
    level = share * dimensions[-1]
    expected, _ = quad(AREAS[name], 0, level, args=dimensions)
    assert SHAPES[name].filled(*dimensions, level) == pytest.approx(expected, rel=1e-10)


@pytest.mark.worked
@pytest.mark.parametrize("name, dimensions", CASES)
@pytest.mark.parametrize("share", [0.02, 0.3, 0.85, 0.999])
def test_level_is_the_root_that_scipy_finds(
    name: str, dimensions: tuple[float, ...], share: float
) -> None:
    full, _ = quad(AREAS[name], 0, dimensions[-1], args=dimensions)
    expected = brentq(
        lambda y: quad(AREAS[name], 0, y, args=dimensions)[0] - share * full,
        0,
        dimensions[-1],
        xtol=1e-14,
    )
    assert SHAPES[name].level(*dimensions, share * full) == pytest.approx(expected, abs=1e-9)


@pytest.mark.worked
@pytest.mark.parametrize("name, dimensions", CASES)
def test_rim_is_the_area_at_full_depth(name: str, dimensions: tuple[float, ...]) -> None:
    shape = SHAPES[name]
    by_name = dict(zip(shape.dimensions, dimensions, strict=True))
    assert shape.rim_area(*[by_name[each] for each in shape.rim]) == pytest.approx(
        AREAS[name](dimensions[-1], *dimensions), rel=1e-12
    )


@pytest.mark.worked
def test_cap_and_cone_in_closed_form() -> None:
    # a cone half full by depth holds an eighth; a hemisphere half full by depth holds 5/16
    assert filling.cone_filled(1.2, 0.6, 0.3) / filling.cone_filled(1.2, 0.6, 0.6) == pytest.approx(
        1 / 8, rel=1e-12
    )
    assert filling.cap_filled(1.2, 0.6, 0.3) / filling.cap_filled(1.2, 0.6, 0.6) == pytest.approx(
        5 / 16, rel=1e-12
    )


metres = st.floats(0.05, 5.0)


@st.composite
def vessels(draw: st.DrawFn) -> tuple[Shape, tuple[float, ...]]:
    shape = SHAPES[draw(st.sampled_from(sorted(SHAPES)))]
    floor = st.one_of(st.just(0.0), st.floats(0.01, 5.0))
    return shape, tuple(
        draw(floor if name.startswith("bottom") else metres) for name in shape.dimensions
    )


@pytest.mark.property
@given(vessels(), st.floats(0, 1))
@example((SHAPES["frustum"], (1.0, 0.0, 0.5)), 0.0)
@example((SHAPES["frustum"], (0.6, 0.6 + 1e-12, 0.8)), 0.5)
@example((SHAPES["trench"], (1.0, 0.0, 2.0, 0.5)), 0.0)
def test_level_inverts_filled(case: tuple[Shape, tuple[float, ...]], share: float) -> None:
    shape, dimensions = case
    depth = dimensions[-1]
    level = shape.level(*dimensions, shape.filled(*dimensions, share * depth))
    assert level == pytest.approx(share * depth, abs=1e-9 * depth)
    assert shape.filled(*dimensions, level) == pytest.approx(
        shape.filled(*dimensions, share * depth), rel=1e-9, abs=1e-13 * shape.full(*dimensions)
    )


@pytest.mark.property
@given(vessels(), st.floats(0, 1), st.floats(0, 1))
def test_filled_grows_with_the_level(
    case: tuple[Shape, tuple[float, ...]], a: float, b: float
) -> None:
    shape, dimensions = case
    low, high = sorted((a * dimensions[-1], b * dimensions[-1]))
    full = shape.full(*dimensions)
    assert shape.filled(*dimensions, low) <= shape.filled(*dimensions, high) + 1e-12 * full
    assert shape.level(*dimensions, a * full) >= 0
    assert (
        shape.level(*dimensions, min(a, b) * full)
        <= shape.level(*dimensions, max(a, b) * full) + 1e-12
    )


@pytest.mark.property
@given(vessels())
def test_empty_full_and_beyond(case: tuple[Shape, tuple[float, ...]]) -> None:
    shape, dimensions = case
    depth, full = dimensions[-1], shape.full(*dimensions)
    assert shape.filled(*dimensions, 0.0) == 0
    assert shape.filled(*dimensions, -1.0) == 0
    assert shape.filled(*dimensions, depth) == pytest.approx(full, rel=1e-9)
    assert shape.filled(*dimensions, 2 * depth) == shape.filled(*dimensions, depth)
    assert shape.level(*dimensions, 0.0) == pytest.approx(0, abs=1e-12)
    assert shape.level(*dimensions, 2 * full) == pytest.approx(depth, rel=1e-9)


@pytest.mark.property
@pytest.mark.parametrize("name, dimensions", CASES)
def test_arrays_give_what_floats_give(name: str, dimensions: tuple[float, ...]) -> None:
    shape = SHAPES[name]
    levels = np.linspace(-0.1, 1.2, 27) * dimensions[-1]
    columns = [np.full_like(levels, dimension) for dimension in dimensions]
    one_by_one = [shape.filled(*dimensions, float(y)) for y in levels]
    assert np.allclose(shape.filled(*columns, levels), one_by_one, rtol=1e-13, atol=0)
    assert np.allclose(
        shape.level(*columns, np.array(one_by_one)),
        [shape.level(*dimensions, v) for v in one_by_one],
        rtol=1e-12,
        atol=1e-15,
    )


@pytest.mark.property
@given(vessels(), st.floats(0.001, 10.0))
def test_scaled_vessel_holds_what_is_wanted(
    case: tuple[Shape, tuple[float, ...]], wanted: float
) -> None:
    shape, dimensions = case
    full = shape.full(*dimensions)
    assert shape.full(
        *[vessel.scaled(dimension, full, wanted) for dimension in dimensions]
    ) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.property
@given(metres, metres, st.floats(0, 3))
def test_floor_by_slope(width: float, depth: float, slope: float) -> None:
    floor = vessel.bottom_from_slope(width, depth, slope)
    assert 0 <= floor <= width
    assert floor == 0 or floor + 2 * slope * depth == pytest.approx(width)


@pytest.mark.property
@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES)
def test_units_name_the_dimensions(shape: Shape) -> None:
    for function in (shape.filled, shape.level):
        assert tuple(formula_of(function).units)[: len(shape.dimensions)] == shape.dimensions
    assert (
        formula_of(shape.full).units["result"] == formula_of(shape.filled).units["result"] == "m^3"
    )
    assert formula_of(shape.level).units["result"] == "m"
