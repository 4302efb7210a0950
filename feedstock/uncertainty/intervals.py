"""The 5th and 95th percentile of a sum of independent doubts, from a few runs at chosen ends of
each.

Every doubt is a standard normal z; what it does to the figure is its `Shape`, a pair of parabolas
that meet at the middle. All numbers here are on the scale on which the figure's doubts add (log for
amounts, logit for shares).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from statistics import NormalDist
from typing import Any, NamedTuple

from . import newton
from .elementwise import arcsin, maximum, minimum, sin, sqrt

Number = Any
"""A float, or an array of floats in the bulk form."""

Z95 = NormalDist().inv_cdf(0.95)
"""The 95th percentile of the standard normal."""

_ROOT = math.sqrt(2 * math.pi)
# E[z^n; z > 0] of the standard normal, n = 0 ... 6
_HALF = (0.5, 1 / _ROOT, 0.5, 2 / _ROOT, 1.5, 8 / _ROOT, 7.5)
_PER_ROOT2 = 1 / math.sqrt(2)
LOW, HIGH = 0.05, 0.95
_TINY = 1e-200  # a variance below this is none
_NARROW = 0.1  # below this part of the widest variance all others are narrow beside it
# a third cumulant beyond this times the spread cubed leans far; one parabola has 2.8 at most
_LEAN = 1.0
# a parabola whose vertex lies further than half of this from the middle is read as rising for good
_FAR = 10


Nodes = Sequence[tuple[float, float]]


@lru_cache(maxsize=16)
def nodes(spacing: float) -> Nodes:
    """Nodes over -4 ... 4, each with the weight of the standard normal."""
    places = [n * spacing for n in range(-round(4 / spacing), round(4 / spacing) + 1)]
    density = [math.exp(-z * z / 2) for z in places]
    total = math.fsum(density)
    return tuple((z, weight / total) for z, weight in zip(places, density, strict=True))


_FINE, _COARSE = nodes(0.5), nodes(1.0)


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
    """The one parabola through the changes at z = -P95 and z = P95."""
    tilt, bend = (high - low) / (2 * Z95), (high + low) / (2 * Z95 * Z95)
    return Shape(tilt, bend, tilt, bend)


def two_parabolas(low: float, half_low: float, half_high: float, high: float) -> Shape:
    """A parabola on either side, through the changes at half of P95 and at P95.

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
    up, down = _raw(shape.above, shape.bend_above), _raw(-shape.below, shape.bend_below)
    mean, second, third = up[0] + down[0], up[1] + down[1], up[2] + down[2]
    return Moments(mean, max(second - mean * mean, 0.0), third - 3 * mean * second + 2 * mean**3)


def _raw(t: float, c: float) -> tuple[float, float, float]:
    """E[(t z + c z^2)^n; z > 0], n = 1, 2, 3."""
    return (
        t * _HALF[1] + c * _HALF[2],
        t * t * _HALF[2] + 2 * t * c * _HALF[3] + c * c * _HALF[4],
        t**3 * _HALF[3] + 3 * t * t * c * _HALF[4] + 3 * t * c * c * _HALF[5] + c**3 * _HALF[6],
    )


def percentiles(shapes: Sequence[Shape]) -> tuple[float, float]:
    """5th and 95th percentile of the sum of independent shapes, at least two.

    The widest shape goes in as it is, over nodes of its z, and the others together as the parabola
    of a normal z with their mean, variance and third cumulant. Where they lean further than a
    parabola bears, or where there is but one, the second widest goes in as it is too. The nodes are
    those of the narrower part, but for a parabola of others that is smooth and wide.

    >>> low, high = percentiles([parabola(-3.0, 3.0), parabola(-4.0, 4.0)])
    >>> round(low, 3), round(high, 3)
    (-5.0, 5.0)
    """
    # equal variances by their shapes: the order in which keys came must not matter
    ordered = sorted(
        ((moments(shape), shape) for shape in shapes),
        key=lambda pair: (-pair[0].variance, pair[1]),
    )
    own = ordered[0][0]
    others = _total([item for item, _ in ordered[1:]])
    low, high = _ends(
        Moments(own.mean + others.mean, own.variance + others.variance, own.third + others.third)
    )
    spread = math.sqrt(own.variance + others.variance)
    fold = _smooth_fold(ordered, others)
    if fold is not None:
        first = newton.root(fold, LOW, low, spread)
        last = newton.root(fold, HIGH, high, spread) if first is not None else None
        if first is not None and last is not None:
            return first, last
    below = _fold(ordered, others)
    return (
        _root(lambda x: below(x) - LOW, low, spread),
        _root(lambda x: below(x) - HIGH, high, spread),
    )


Ordered = Sequence[tuple["Moments", Shape]]
"""Shapes with their moments, the widest first."""


def _leans(ordered: Ordered, others: Moments) -> bool:
    """Whether the second widest goes in as it is too."""
    return len(ordered) == 2 or abs(others.third) > _LEAN * others.variance**1.5


def _two_widest(ordered: Ordered) -> list[tuple[float, float]]:
    second, rest = ordered[1][1], _total([item for item, _ in ordered[2:]])
    spread = _spread(rest, _COARSE)
    return [(w * v, second.at(z) + x) for z, w in _FINE for v, x in spread]


def _fold(ordered: Ordered, others: Moments) -> Callable[[float], float]:
    """The probability to lie below x, for whatever shapes."""
    own, widest = ordered[0]
    if _leans(ordered, others):
        return _fold_shape(widest, _two_widest(ordered))
    if others.variance <= _NARROW * own.variance:
        return _fold_shape(widest, _spread(others, _COARSE))
    return _fold_parabola(others, [(w, widest.at(z)) for z, w in _FINE])


def _smooth_fold(ordered: Ordered, others: Moments) -> newton.Fold | None:
    """The same with its density, where what is folded rises as far as it matters."""
    own, widest = ordered[0]
    leans = _leans(ordered, others)
    if not leans and others.variance > _NARROW * own.variance:
        tilt, bend = parabola_of(others.variance, others.third)
        if not abs(bend) * _FAR < tilt:
            return None
        places = [(w, widest.at(z) + others.mean - bend) for z, w in _FINE]
        return newton.fold_of_parabola(tilt, bend, places)
    side = newton.rises(*widest)
    if not side:
        return None
    points = _two_widest(ordered) if leans else _spread(others, _COARSE)
    below, bend_below, above, bend_above = widest
    if side < 0:  # mirrored: z for -z
        return newton.fold_of_shape(-above, bend_above, -below, bend_below, points)
    return newton.fold_of_shape(below, bend_below, above, bend_above, points)


def _total(parts: Sequence[Moments]) -> Moments:
    return Moments(*(math.fsum([part[n] for part in parts]) for n in range(3)))


def _spread(of: Moments, nodes: Nodes) -> list[tuple[float, float]]:
    """Weights and values of the parabola with these moments; a single value where there is no
    variance.
    """
    if of.variance == 0.0:
        return [(1.0, of.mean)]
    tilt, bend = parabola_of(of.variance, of.third)
    return [(w, of.mean + bend * (z * z - 1) + tilt * z) for z, w in nodes]


def _fold_parabola(of: Moments, points: Sequence[tuple[float, float]]) -> Callable[[float], float]:
    """The probability to lie below x of the parabola with these moments, moved to each of the
    weighted points.
    """
    tilt, bend = parabola_of(of.variance, of.third)
    moved = [(w, x + of.mean - bend) for w, x in points]
    return lambda x: sum([w * _under(tilt, bend, x - item) for w, item in moved])


def _fold_shape(shape: Shape, points: Sequence[tuple[float, float]]) -> Callable[[float], float]:
    """The probability to lie below x of a shape, moved to each of the weighted points."""
    above, bend_above, below, bend_below = (
        shape.above,
        shape.bend_above,
        -shape.below,
        shape.bend_below,
    )
    if (
        shape.below == above and bend_below == bend_above
    ):  # one parabola all the way, the same seen from either side
        return lambda x: sum([w * _under(abs(above), bend_above, x - point) for w, point in points])
    return lambda x: sum(
        [
            w * (_right(above, bend_above, x - point) + _right(below, bend_below, x - point))
            for w, point in points
        ]
    )


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
    return _ends(Moments(mean, variance, third))


def _ends(of: Moments) -> tuple[Number, Number]:
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
    twice = 2 * maximum(variance, _TINY)
    sine = minimum(maximum(third / twice**1.5, -1.0), 1.0)
    bend = sqrt(twice) * sin(arcsin(sine) / 3)
    return sqrt(maximum(variance - 2 * bend * bend, 0.0)), bend


def _under(t: float, c: float, y: float) -> float:
    """The probability that t z + c z^2 < y, z standard normal, t not negative."""
    inside = t * t + 4 * c * y
    if inside <= 0.0:  # the parabola never reaches y
        return 1.0 if c < 0.0 or y > 0.0 else 0.0
    reach = t + math.sqrt(inside)
    near = 0.5 + 0.5 * math.erf(2 * y / reach * _PER_ROOT2)
    if abs(c) * _FAR < t:  # the other root lies where there is nothing
        return near
    other = 0.5 + 0.5 * math.erf(-reach / (2 * c) * _PER_ROOT2)
    return near - other if c > 0.0 else near + 1.0 - other


def _right(t: float, c: float, y: float) -> float:
    """The probability that z > 0 and t z + c z^2 < y, z standard normal."""
    if y <= 0.0 <= t and c >= 0.0:
        return 0.0
    if t <= 0.0 <= y and c <= 0.0:
        return 0.5
    inside = t * t + 4 * c * y
    if inside <= 0.0:  # the parabola never reaches y
        return 0.5 if c < 0.0 else 0.0
    half = -(t + math.copysign(math.sqrt(inside), t)) / 2
    one = -y / half
    if c == 0.0:
        first = 0.5 * math.erf(max(one, 0.0) * _PER_ROOT2)
        return first if t > 0.0 else 0.5 - first
    other = half / c
    if one > other:
        one, other = other, one
    between = 0.5 * (math.erf(max(other, 0.0) * _PER_ROOT2) - math.erf(max(one, 0.0) * _PER_ROOT2))
    return between if c > 0.0 else 0.5 - between


_SLOPE = math.exp(-Z95 * Z95 / 2) / _ROOT
"""The density of the standard normal at P95: where the search begins."""
_STEADY = 1e-4  # of the spread: a search that moves by less has arrived


def _root(rising: Callable[[float], float], guess: float, spread: float) -> float:
    """Where a rising function passes zero, by secants that never leave the bracket found so far.

    A secant that still moved by 1e-4 of the spread is right to far more digits than that.
    """
    low, high = -math.inf, math.inf
    before, x = None, guess
    for _ in range(60):
        value = rising(x)
        if value < 0.0:
            low = x
        else:
            high = x
        slope = (
            (value - before[1]) / (x - before[0])
            if before is not None and x != before[0]
            else _SLOPE / spread
        )
        before = (x, value)
        step = value / slope if slope > 0.0 else math.inf
        following = x - step
        if not low <= following <= high or not math.isfinite(following):
            following = (
                (low + high) / 2
                if math.isfinite(low) and math.isfinite(high)
                else x - math.copysign(0.5 * spread, value)
            )
        if abs(following - x) <= _STEADY * spread:
            return following
        x = following
    return x


def mixture_quantile(
    parts: Sequence[tuple[float, float, float, float]], target: float, guess: float, spread: float
) -> float:
    """Where so much of a mixture lies below; its parts are a weight, and start, tilt and bend of a
    parabola of a normal each.
    """
    if spread <= 0.0:
        return guess
    return _root(
        lambda x: sum([w * _under(t, c, x - start) for w, start, t, c in parts]) - target,
        guess,
        spread,
    )


def most_likely(low: bool, changes: Sequence[tuple[float, float]]) -> list[float]:
    """The most likely standard normals, one per doubt, that bring the sum to its low or its high
    end.

    `changes` are those at z = -P95 and P95. To first order every z is in proportion to the change
    that it makes on that side, and all together lie P95 from the middle.
    """
    best = []
    for a, b in changes:
        change, side = (
            ((a, -1.0) if a < b else (b, 1.0)) if low else ((a, -1.0) if a > b else (b, 1.0))
        )
        best.append(side * max(-change if low else change, 0.0))
    length = math.sqrt(math.fsum(z * z for z in best))
    return [Z95 * z / length for z in best] if length > 0.0 else [0.0 for _ in best]


PAIRS = 1 - 1 / Z95**2
"""Part of the joint effect at the most likely point that moves a percentile.

Where two doubts act jointly as z_i z_j, the sum being at its end, the mean of z_i z_j is w_i w_j
(P95^2 - 1); at the most likely point it is w_i w_j P95^2.
"""
