"""Volumes of pieces, stacks and vessels.

Lengths in m, volumes in m3; constants are those of geometry only.
"""

from __future__ import annotations

import math

from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "round pieces by one diameter",
    "Huber's formula, V = n L pi d^2/4",
    count="1",
    diameter="m",
    length="m",
    hollow="1",
    result="m^3",
)
def round_pieces(count: Number, diameter: Number, length: Number, hollow: Number) -> Number:
    """Volume of `count` rounds of middle diameter and length, less the void share `hollow` (0 to
    below 1).

    Takes `count` [1], `diameter` [m], `length` [m], `hollow` [1]; returns [m^3].

    >>> round(round_pieces(10, 0.1, 1.0, 0.0), 4)
    0.0785
    """
    return count * length * math.pi / 4.0 * diameter**2 * (1.0 - hollow)


@formula(
    "round pieces by two diameters",
    "Smalian's formula, V = n L (A1 + A2)/2",
    count="1",
    butt="m",
    top="m",
    length="m",
    hollow="1",
    result="m^3",
)
def tapered_pieces(
    count: Number, butt: Number, top: Number, length: Number, hollow: Number
) -> Number:
    """Volume of `count` tapered rounds from the diameters of both ends (a paraboloid frustum).

    Takes `count` [1], `butt` [m], `top` [m], `length` [m], `hollow` [1]; returns [m^3].

    >>> round(tapered_pieces(1, 0.2, 0.0, 1.0, 0.0), 4)
    0.0157
    """
    return count * length * math.pi / 8.0 * (butt**2 + top**2) * (1.0 - hollow)


@formula(
    "sawn pieces",
    "solid geometry, V = n w t L",
    count="1",
    width="m",
    thickness="m",
    length="m",
    hollow="1",
    result="m^3",
)
def sawn_pieces(
    count: Number, width: Number, thickness: Number, length: Number, hollow: Number
) -> Number:
    """Sawn pieces.

    Takes `count` [1], `width` [m], `thickness` [m], `length` [m], `hollow` [1]; returns [m^3].

    >>> round(sawn_pieces(4, 0.1, 0.025, 2.0, 0.0), 4)
    0.02
    """
    return count * width * thickness * length * (1.0 - hollow)


@formula(
    "cone frustum",
    "solid geometry, V = L/3 (A1 + sqrt(A1 A2) + A2)",
    butt="m",
    top="m",
    length="m",
    result="m^3",
)
def cone_frustum(butt: Number, top: Number, length: Number) -> Number:
    """Volume of a frustum of a cone from the diameters of both ends.

    Takes `butt` [m], `top` [m], `length` [m]; returns [m^3].

    >>> round(cone_frustum(0.3, 0.2, 1.0), 4)
    0.0497
    """
    return length * math.pi / 12.0 * (butt**2 + butt * top + top**2)


@formula("box", "solid geometry, V = w l h", width="m", length="m", height="m", result="m^3")
def box(width: Number, length: Number, height: Number) -> Number:
    """Box.

    Takes `width` [m], `length` [m], `height` [m]; returns [m^3].

    >>> box(1.0, 2.0, 0.5)
    1.0
    """
    return width * length * height


@formula(
    "half cylinder lying",
    "Hardy 1996, PNW-GTR-364: V = pi w l h/4",
    width="m",
    length="m",
    height="m",
    result="m^3",
)
def half_cylinder(width: Number, length: Number, height: Number) -> Number:
    """A windrow: half an elliptic cylinder of base width, length and height.

    Takes `width` [m], `length` [m], `height` [m]; returns [m^3].

    >>> round(half_cylinder(1.0, 2.0, 0.5), 3)
    0.785
    """
    return math.pi / 4.0 * width * length * height


@formula(
    "half ellipsoid",
    "Hardy 1996, PNW-GTR-364: V = pi w l h/6",
    width="m",
    length="m",
    height="m",
    result="m^3",
)
def half_ellipsoid(width: Number, length: Number, height: Number) -> Number:
    """A rounded heap of base width, length and height.

    Takes `width` [m], `length` [m], `height` [m]; returns [m^3].

    >>> round(half_ellipsoid(1.0, 2.0, 0.5), 3)
    0.524
    """
    return math.pi / 6.0 * width * length * height


@formula(
    "paraboloid",
    "Hardy 1996, PNW-GTR-364: V = pi h w^2/8",
    width="m",
    length="m",
    height="m",
    result="m^3",
)
def paraboloid(width: Number, length: Number, height: Number) -> Number:
    """A round heap with a rounded top; a base of two widths counts with their product.

    Takes `width` [m], `length` [m], `height` [m]; returns [m^3].

    >>> round(paraboloid(1.0, 1.0, 0.8), 3)
    0.314
    """
    return math.pi / 8.0 * height * width * length


@formula(
    "cone heap", "solid geometry, V = pi w^2 h/12", width="m", length="m", height="m", result="m^3"
)
def cone_heap(width: Number, length: Number, height: Number) -> Number:
    """A tipped heap with straight flanks; a base of two widths counts with their product.

    Takes `width` [m], `length` [m], `height` [m]; returns [m^3].

    >>> round(cone_heap(1.2, 1.2, 1.0), 3)
    0.377
    """
    return math.pi / 12.0 * height * width * length


@formula("cone", "solid geometry, V = pi d^2 h/12", diameter="m", depth="m", result="m^3")
def cone(diameter: Number, depth: Number) -> Number:
    """A conical pit of rim diameter and depth.

    Takes `diameter` [m], `depth` [m]; returns [m^3].

    >>> round(cone(1.0, 0.5), 3)
    0.131
    """
    return math.pi / 12.0 * diameter**2 * depth


@formula("cylinder", "solid geometry, V = pi d^2 h/4", diameter="m", depth="m", result="m^3")
def cylinder(diameter: Number, depth: Number) -> Number:
    """Cylinder.

    Takes `diameter` [m], `depth` [m]; returns [m^3].

    >>> round(cylinder(0.5, 0.8), 3)
    0.157
    """
    return math.pi / 4.0 * diameter**2 * depth


@formula(
    "spherical cap",
    "solid geometry, V = pi h (3 a^2 + h^2)/6",
    diameter="m",
    depth="m",
    result="m^3",
)
def spherical_cap(diameter: Number, depth: Number) -> Number:
    """A bowl of rim diameter and depth (depth at most half the diameter describes a cap below its
    rim).

    Takes `diameter` [m], `depth` [m]; returns [m^3].

    >>> round(spherical_cap(1.0, 0.5), 3)
    0.262
    """
    return math.pi / 6.0 * depth * (0.75 * diameter**2 + depth**2)


@formula(
    "prismoid",
    "solid geometry, V = h/6 (ab + a'b' + (a + a')(b + b'))",
    width="m",
    length="m",
    bottom_width="m",
    bottom_length="m",
    depth="m",
    result="m^3",
)
def prismoid(
    width: Number, length: Number, bottom_width: Number, bottom_length: Number, depth: Number
) -> Number:
    """A pit with four sloping sides and parallel rim and floor of any proportions; with equal
    lengths a trench.

    Takes `width` [m], `length` [m], `bottom_width` [m], `bottom_length` [m], `depth` [m]; returns
    [m^3].

    >>> prismoid(1.0, 1.0, 1.0, 1.0, 0.5)
    0.5
    """
    return (
        depth
        / 6.0
        * (
            width * length
            + bottom_width * bottom_length
            + (width + bottom_width) * (length + bottom_length)
        )
    )


@formula(
    "measured gross volume",
    "solid geometry, volume times measuring error",
    volume="m^3",
    error="1",
    result="m^3",
)
def measured_volume(volume: Number, error: Number) -> Number:
    """A gross volume with the error of measuring a rough heap; `error` is a factor around 1.

    Takes `volume` [m^3], `error` [1]; returns [m^3].

    >>> round(measured_volume(0.5, 1.1), 3)
    0.55
    """
    return volume * error


@formula(
    "volume of containers",
    "solid geometry, count times what one holds",
    count="1",
    volume="m^3",
    result="m^3",
)
def container_volume(count: Number, volume: Number) -> Number:
    """Volume of containers.

    Takes `count` [1], `volume` [m^3]; returns [m^3].

    >>> round(container_volume(3, 0.08), 3)
    0.24
    """
    return count * volume
