"""Geometry: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

import math

from feedstock.uncertainty.elementwise import sqrt
from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula(
    "Newton's formula",
    "Avery and Burkhart, Forest Measurements: V = L (A1 + 4 Am + A2)/6",
    butt="m",
    middle="m",
    top="m",
    length="m",
    result="m^3",
)
def newton(butt: Number, middle: Number, top: Number, length: Number) -> Number:
    """Volume of one log from three diameters; the reference against which one or two diameters are
    judged.

    Takes `butt` [m], `middle` [m], `top` [m], `length` [m]; returns [m^3].

    >>> round(newton(0.3, 0.25, 0.2, 4.0), 3)
    0.199
    """
    return length * math.pi / 24.0 * (butt**2 + 4.0 * middle**2 + top**2)


@formula(
    "neiloid frustum",
    "Larsen, forestry functions: V = L/4 (A1 + (A1^2 A2)^(1/3) + (A1 A2^2)^(1/3) + A2)",
    butt="m",
    top="m",
    length="m",
    result="m^3",
)
def neiloid_frustum(butt: Number, top: Number, length: Number) -> Number:
    """Neiloid frustum.

    Takes `butt` [m], `top` [m], `length` [m]; returns [m^3].

    >>> round(neiloid_frustum(0.2, 0.2, 1.0), 4)
    0.0314
    """
    a, b = math.pi / 4.0 * butt**2, math.pi / 4.0 * top**2
    third = 1.0 / 3.0
    return length / 4.0 * (a + (a**2 * b) ** third + (a * b**2) ** third + b)


@formula(
    "pyramid frustum",
    "solid geometry, V = h/3 (A1 + A2 + sqrt(A1 A2)); only for similar rim and floor",
    top="m^2",
    bottom="m^2",
    depth="m",
    result="m^3",
)
def pyramid_frustum(top: Number, bottom: Number, depth: Number) -> Number:
    """Pyramid frustum.

    Takes `top` [m^2], `bottom` [m^2], `depth` [m]; returns [m^3].

    >>> round(pyramid_frustum(1.0, 0.25, 0.6), 3)
    0.35
    """
    return depth / 3.0 * (top + bottom + sqrt(top * bottom))
