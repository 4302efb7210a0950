"""The 5th and 95th percentile of a sum of independent doubts, from a few runs at chosen ends of
each.

Every doubt is a standard normal z; what it does to the figure is its `Shape`, a pair of parabolas
that meet at the middle. All numbers here are on the scale on which the figure's doubts add (log for
amounts, logit for shares).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from operator import mul
from statistics import NormalDist
from typing import Any, NamedTuple

from . import folds
from .elementwise import arcsin, maximum, minimum, sin, sqrt

Number = Any
"""A float, or an array of floats in the bulk form."""

Z95 = NormalDist().inv_cdf(0.95)
"""The 95th percentile of the standard normal."""
_TWICE, _TWICE_SQUARE = 2 * Z95, 2 * Z95 * Z95

# E[z^n; z > 0] of the standard normal, n = 1, 3 and 5; it is 1/2, 3/2 and 15/2 for n = 2, 4 and 6
_H1, _H3, _H5 = (n / math.sqrt(2 * math.pi) for n in (1, 2, 8))
LOW, HIGH = 0.05, 0.95
_NARROW = 0.1  # below this part of a shape that turns, all others are narrow beside it
_TINY = 1e-200  # a variance below this is none
# a third cumulant beyond this times the spread cubed leans far; one parabola has 2.8 at most
_LEAN = 1.0
# a parabola whose vertex lies further than half of this from the middle is read as rising for good
_FAR = 10
# variances beside what is folded, and the nodes that are enough for a part of that
_NARROWEST = 0.03
# a kink is felt where a part is wider than this beside what is folded
_KINKED = 0.3
_TURNING = 0.03
_COUNTS = ((0.08, 3), (0.35, 5), (0.8, 7), (1.5, 9))


class Shape(NamedTuple):
    """What z does: `below` z + `bend_below` z^2 for z < 0, `above` z + `bend_above` z^2 for z >
    0.
    """

    below: float
    bend_below: float
    above: float
    bend_above: float

    def at(self, z: float) -> float:
        return (
            (self.above + self.bend_above * z) * z
            if z > 0
            else (self.below + self.bend_below * z) * z
        )


def parabola(low: float, high: float) -> Shape:
    """The one parabola through the changes at z = -Z95 and z = Z95."""
    tilt, bend = (high - low) / _TWICE, (high + low) / _TWICE_SQUARE
    return Shape(tilt, bend, tilt, bend)


def two_parabolas(low: float, half_low: float, half_high: float, high: float) -> Shape:
    """A parabola on either side, through the changes at half of Z95 and at Z95.

    A kink at the middle stays a kink.
    """
    return Shape(
        (low - 4 * half_low) / Z95,
        (2 * low - 4 * half_low) / Z95**2,
        (4 * half_high - high) / Z95,
        (2 * high - 4 * half_high) / Z95**2,
    )


class Moments(NamedTuple):
    """Mean, variance and third cumulant, which add over independent doubts."""

    mean: float
    variance: float
    third: float


def moments(shape: Shape) -> Moments:
    """The exact moments of a shape over the standard normal."""
    below, bend, above, bend_above = shape
    if below == above and bend == bend_above:  # one parabola all the way
        square = above * above
        variance = square + 2 * bend * bend
        return Moments(bend, variance, bend * (6 * square + 8 * bend * bend))
    square, square_below = above * above, below * below
    mean = _H1 * (above - below) + 0.5 * (bend_above + bend)
    second = (
        0.5 * (square + square_below)
        + 2 * _H3 * (above * bend_above - below * bend)
        + 1.5 * (bend_above * bend_above + bend * bend)
    )
    third = (
        _H3 * (above * square - below * square_below)
        + 4.5 * (square * bend_above + square_below * bend)
        + 3 * _H5 * (above * bend_above * bend_above - below * bend * bend)
        + 7.5 * (bend_above**3 + bend**3)
    )
    square = mean * mean
    variance = second - square
    third += mean * (2 * square - 3 * second)
    return Moments(mean, variance if variance > 0.0 else 0.0, third)


def percentiles(
    shapes: Sequence[Shape], parts: Sequence[Moments] | None = None, lean: float = _LEAN
) -> tuple[float, float]:
    """5th and 95th percentile of the sum of independent shapes, at least two; `parts` are their
    moments where these are known; beyond `lean` others than the widest lean too far to go in
    together.

    The widest shape goes in as it is and the others together as the parabola of a normal z with
    their mean, variance and third cumulant: the wider of the two is folded exactly, moved to each
    of some nodes of the narrower. Where the others lean further than a parabola bears, or where
    there is but one, the second widest goes in as it is too.

    >>> low, high = percentiles([parabola(-3.0, 3.0), parabola(-4.0, 4.0)])
    >>> round(low, 3), round(high, 3)
    (-5.0, 5.0)
    """
    # equal variances by their shapes: the order in which keys came must not matter
    items = [moments(shape) for shape in shapes] if parts is None else parts
    ordered = sorted(zip([-item.variance for item in items], shapes, items, strict=True))
    own = ordered[0][2]
    others = _total([item for _, _, item in ordered[1:]])
    whole = Moments(
        own.mean + others.mean, own.variance + others.variance, own.third + others.third
    )
    low, high = ends_of(whole)
    spread = math.sqrt(whole.variance)
    fold, below = _folds(ordered, others, lean)
    if fold is not None:
        first = folds.root(fold, -Z95, low, spread)
        last = folds.root(fold, Z95, high, spread) if first is not None else None
        if first is not None and last is not None:
            return first, last
    under = below(spread)
    return (
        folds.search(lambda x: under(x) - LOW, low, spread),
        folds.search(lambda x: under(x) - HIGH, high, spread),
    )


Ordered = Sequence[tuple[float, Shape, Moments]]
"""Shapes with their moments, the widest first."""
Folds = tuple[folds.Fold | None, Callable[[float], folds.Below]]
"""The fold with its density, where what is folded rises as far as it matters, and the way to it
without.
"""


def _folds(ordered: Ordered, others: Moments, lean: float) -> Folds:
    _, widest, own = ordered[0]
    side = folds.rises(*widest)
    flat = _flattest(widest) if side else _TURNING * own.variance
    narrow = others.variance <= _NARROWEST * flat
    leans = len(ordered) == 2 or abs(others.third) > lean * others.variance**1.5
    if leans and not narrow:
        return _shape_folds(side, widest, _two_widest(ordered, flat))
    if others.variance <= max(flat, _NARROW * own.variance):
        return _shape_folds(side, widest, _spread(others, flat))
    tilt, bend = parabola_of(others.variance, others.third)
    smooth = abs(bend) * _FAR < tilt
    start = others.mean - bend
    points = [(w, x + start) for w, x in _placed(own, widest, others.variance if smooth else 0.0)]
    fold = folds.fold_of_parabola(tilt, bend, points) if smooth else None
    return fold, lambda spread: folds.below_parabola(tilt, bend, folds.merged(points, spread))


def _flattest(shape: Shape) -> float:
    """The square of the least slope of a shape where it matters: the variance beside which other
    parts are narrow or not.
    """
    below, bend_below, above, bend_above = shape
    ends = below - _TWICE * bend_below, above + _TWICE * bend_above
    return min(abs(below), abs(above), abs(ends[0]), abs(ends[1])) ** 2


def _shape_folds(side: int, shape: Shape, points: folds.Points) -> Folds:
    """The folds of a shape; one that falls is mirrored, z for -z."""
    fold = None
    if side > 0:
        fold = folds.fold_of_shape(*shape, points)
    elif side < 0:
        below, bend_below, above, bend_above = shape
        fold = folds.fold_of_shape(-above, bend_above, -below, bend_below, points)
    return fold, lambda spread: folds.below_shape(*shape, folds.merged(points, spread))


def _two_widest(ordered: Ordered, beside: float) -> list[tuple[float, float]]:
    """Points of all but the widest: the second in its own shape, the rest as one parabola."""
    _, shape, second = ordered[1]
    spread = _spread(_total([item for _, _, item in ordered[2:]]), beside)
    points = _placed(second, shape, beside)
    return [(w * v, y + x) for w, y in points for v, x in spread]


def _total(parts: Sequence[Moments]) -> Moments:
    return Moments(*[math.fsum(column) for column in zip(*parts, strict=True)] or (0.0, 0.0, 0.0))


def _nodes_for(variance: float, beside: float) -> folds.Nodes | None:
    """As many nodes as a part needs beside what is folded: the narrower it is, the fewer; None
    where it is not narrower.
    """
    for most, count in _COUNTS:
        if variance <= most * beside:
            return folds.gauss_nodes(count)
    return None


def _spread(of: Moments, beside: float) -> list[tuple[float, float]]:
    """Weights and values of the parabola with these moments; a single value where there is no
    variance.
    """
    if of.variance == 0.0:
        return [(1.0, of.mean)]
    tilt, bend = parabola_of(of.variance, of.third)
    start = of.mean - bend
    places = _nodes_for(of.variance, beside) or folds.nodes(1.0)
    return [(w, start + (tilt + bend * z) * z) for z, w in places]


def _placed(of: Moments, shape: Shape, beside: float) -> list[tuple[float, float]]:
    """Weights and values of a shape, with the mean that it has: its kink would take some away."""
    even = shape.below == shape.above and shape.bend_below == shape.bend_above
    few = even or of.variance <= _KINKED * beside
    places = _nodes_for(of.variance, beside) if few and folds.rises(*shape) else None
    found = [(w, shape.at(z)) for z, w in places or folds.nodes(0.5)]
    away = of.mean - math.fsum([w * x for w, x in found])
    return [(w, x + away) for w, x in found]


def by_cumulants(changes: Sequence[tuple[Number, Number]]) -> tuple[Number, Number]:
    """Percentiles of a sum, every key's change being the parabola through its ends; on arrays
    too.
    """
    mean = variance = third = 0.0
    for a, b in changes:
        tilt, bend = (b - a) / (2 * Z95), (b + a) / (2 * Z95 * Z95)
        square = tilt * tilt
        mean = mean + bend
        variance = variance + square + 2 * bend * bend
        third = third + bend * (6 * square + 8 * bend * bend)
    return ends_of(Moments(mean, variance, third))


def ends_of(of: Moments) -> tuple[Number, Number]:
    """Percentiles of the one parabola of a normal z that has these moments (Cornish and Fisher 1938
    in this form).
    """
    tilt, bend = parabola_of(of.variance, of.third)
    centre = of.mean + bend * (Z95 * Z95 - 1)
    return centre - Z95 * tilt, centre + Z95 * tilt


def parabola_of(variance: Number, third: Number) -> tuple[Number, Number]:
    """t and c of t z + c z^2 with this variance, t^2 + 2 c^2, and third cumulant, 6 t^2 c + 8 c^3 =
    6 c variance - 4 c^3.

    With c = sqrt(2 variance) sin u the cubic is that of sin 3 u. A third cumulant beyond what one
    parabola can have, (2 variance)^1.5, gets the most bent one.
    """
    if variance.__class__ is float and variance > _TINY:  # the same for what is usual
        twice = 2.0 * variance
        sine = third / twice**1.5
        sine = 1.0 if sine > 1.0 else -1.0 if sine < -1.0 else sine
        bend = math.sqrt(twice) * math.sin(math.asin(sine) / 3)
        rest = variance - 2.0 * bend * bend
        return (math.sqrt(rest) if rest > 0.0 else 0.0), bend
    twice = 2 * maximum(variance, _TINY)
    sine = minimum(maximum(third / twice**1.5, -1.0), 1.0)
    bend = sqrt(twice) * sin(arcsin(sine) / 3)
    return sqrt(maximum(variance - 2 * bend * bend, 0.0)), bend


def most_likely(changes: Sequence[tuple[float, float]]) -> tuple[list[float], list[float]]:
    """The most likely standard normals, one per doubt, that bring the sum to its low end, and those
    that bring it to its high end.

    `changes` are those at z = -Z95 and Z95. To first order every z is in proportion to the change
    that it makes on that side, and all together lie Z95 from the middle.
    """
    if max(map(min, changes)) <= 0.0 <= min(map(max, changes)):  # what is usual, told shorter
        low = [a if a < b else -b for a, b in changes]
        high = [b if a < b else -a for a, b in changes]
    else:
        low = [min(a, 0.0) if a < b else -min(b, 0.0) for a, b in changes]
        high = [-max(a, 0.0) if a > b else max(b, 0.0) for a, b in changes]
    return _at_end(low), _at_end(high)


def _at_end(changes: list[float]) -> list[float]:
    """The same in proportion, Z95 from the middle."""
    length = math.sqrt(math.fsum(map(mul, changes, changes)))
    if length == 0.0:
        return changes
    factor = Z95 / length
    return [factor * z for z in changes]


JOINT_SHARE = 1 - 1 / Z95**2
"""Part of the joint effect at the most likely point that moves a percentile.

Where two doubts act jointly as z_i z_j, the sum being at its end, the mean of z_i z_j is w_i w_j
(Z95^2 - 1); at the most likely point it is w_i w_j Z95^2.
"""
