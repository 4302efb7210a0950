"""Folds: the probability that a shape, moved to each of some weighted points, lies below x; and
where it has a given probability.

What is folded is a parabola of a standard normal z, or two that meet at the middle. Where it rises
as far as it matters its density comes with it, so that a step or two of Newton's arrive; where it
turns, secants search.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from statistics import NormalDist

Points = Sequence[tuple[float, float]]
"""Weights and places to which a shape is moved."""
Fold = Callable[[float], tuple[float, float]]
"""The probability to lie below x, and the density there."""
Below = Callable[[float], float]
"""The probability to lie below x alone."""
Nodes = Sequence[tuple[float, float]]
"""Places of a standard normal with their weights."""

_PER_ROOT2 = 1 / math.sqrt(2)
_PER_ROOT2PI = 1 / math.sqrt(2 * math.pi)
_NORMAL = NormalDist()
_REACH = 4.5
"""A shape must rise this far to either side: beyond there is next to nothing."""
_FAR = 10
"""A parabola whose vertex lies further than half of this from the middle is read as rising for
good."""
_ARRIVED = 0.03  # of the spread: the error after such a step of Newton's is below its square
_FURTHEST = 0.8  # of the spread: a longer step is not trusted
_STEPS = 6


@lru_cache(maxsize=16)
def nodes(spacing: float) -> Nodes:
    """Nodes over -4 ... 4, each with the weight of the standard normal."""
    places = [n * spacing for n in range(-round(4 / spacing), round(4 / spacing) + 1)]
    density = [math.exp(-z * z / 2) for z in places]
    total = math.fsum(density)
    return tuple((z, weight / total) for z, weight in zip(places, density, strict=True))


@lru_cache(maxsize=16)
def gauss_nodes(count: int) -> Nodes:
    """So many nodes that give the mean of every polynomial up to twice their number, less one
    (Gauss and Hermite).

    >>> [(round(z, 4), round(weight, 4)) for z, weight in gauss_nodes(3)]
    [(-1.7321, 0.1667), (0.0, 0.6667), (1.7321, 0.1667)]
    """
    nodes: list[tuple[float, float]] = []
    for n in range(count):
        # roots are parted by those before them: Newton's steps on the polynomial without these
        z = 2.0 * math.sqrt(count) if n == 0 else nodes[-1][0] - 0.5
        for _ in range(200):
            value, slope = _hermite(count, z)
            step = value / (slope - value * math.fsum(1.0 / (z - root) for root, _ in nodes))
            z -= step
            if abs(step) < 1e-14:
                break
        z = 0.0 if abs(z) < 1e-12 else z
        before = _hermite(count - 1, z)[0]
        nodes.append((z, math.factorial(count - 1) / (count * before * before)))
    return tuple(reversed(nodes))


def _hermite(degree: int, z: float) -> tuple[float, float]:
    """The Hermite polynomial of a normal, and its slope."""
    before, value = 0.0, 1.0
    for n in range(degree):
        before, value = value, z * value - n * before
    return value, degree * before


# --- folds with their density ---------------------------------------------------------------------


def fold_of_parabola(tilt: float, bend: float, points: Points) -> Fold:
    """The fold of tilt z + bend z^2, which rises over the reach."""
    square, four = tilt * tilt, 4 * bend
    exp, sqrt, erf = math.exp, math.sqrt, math.erf

    def fold(x: float) -> tuple[float, float]:
        below = density = 0.0
        for weight, place in points:
            y = x - place
            inside = square + four * y
            if inside <= 0.0:
                below += weight if bend < 0 or y > 0 else -weight
                continue
            root = sqrt(inside)
            z = 2 * y / (tilt + root)
            below += weight * erf(z * _PER_ROOT2)
            density += weight * exp(-0.5 * z * z) / root
        return 0.5 + 0.5 * below, density * _PER_ROOT2PI

    return fold


def fold_of_shape(
    below_tilt: float, below_bend: float, above_tilt: float, above_bend: float, points: Points
) -> Fold:
    """The fold of two parabolas that meet at the middle and both rise over the reach."""
    above = above_tilt, above_tilt * above_tilt, 4.0 * above_bend
    beneath = below_tilt, below_tilt * below_tilt, 4.0 * below_bend
    exp, sqrt, erf = math.exp, math.sqrt, math.erf

    def fold(x: float) -> tuple[float, float]:
        under = density = 0.0
        for weight, place in points:
            y = x - place
            tilt, square, four = above if y > 0.0 else beneath
            inside = square + four * y
            if inside <= 0.0:
                under += weight if y > 0.0 else -weight
                continue
            root = sqrt(inside)
            z = 2.0 * y / (tilt + root)
            under += weight * erf(z * _PER_ROOT2)
            density += weight * exp(-0.5 * z * z) / root
        return 0.5 + 0.5 * under, density * _PER_ROOT2PI

    return fold


def rises(below_tilt: float, below_bend: float, above_tilt: float, above_bend: float) -> int:
    """1 or -1 for a shape that rises or falls over the whole reach, 0 for one that turns.

    >>> rises(1.0, 0.0, 2.0, 0.1), rises(-1.0, 0.0, -1.0, 0.0), rises(1.0, 0.5, 1.0, 0.5)
    (1, -1, 0)
    """
    above_end = above_tilt + 2 * above_bend * _REACH
    below_end = below_tilt - 2 * below_bend * _REACH
    if above_tilt > 0:
        return 1 if above_end > 0 and below_tilt > 0 and below_end > 0 else 0
    return -1 if above_tilt < 0 and above_end < 0 and below_tilt < 0 and below_end < 0 else 0


def root(fold: Fold, wanted: float, guess: float, spread: float) -> float | None:
    """Where the fold has the probability of this standard normal; None where the steps do not
    settle.

    The steps are those of Newton on the normal whose probability the fold has: seen so it is nearly
    straight, and one or two arrive.
    """
    x = guess
    for _ in range(_STEPS):
        below, density = fold(x)
        if density <= 0.0 or not 0.0 < below < 1.0:
            return None
        z = _NORMAL.inv_cdf(below)
        step = (z - wanted) * math.exp(-0.5 * z * z) * _PER_ROOT2PI / density
        if not abs(step) <= _FURTHEST * spread:
            return None
        x -= step
        if abs(step) <= _ARRIVED * spread:
            return x
    return None


# --- folds of what turns --------------------------------------------------------------------------

_CLOSE = 0.1
"""Points no further apart than this part of their spread are taken as one: what that takes from the
variance is a thousandth.
"""


def merged(points: Points, spread: float) -> Points:
    """The same points with those that lie close together taken as one, by their mean."""
    if len(points) < 12:
        return points
    parts, within = list[tuple[float, float]](), _CLOSE * spread
    weight, moment, start = 0.0, 0.0, -math.inf
    for place, more in sorted([(place, weight) for weight, place in points]):
        if place - start > within:
            if weight > 0.0:
                parts.append((weight, moment / weight))
            weight, moment, start = 0.0, 0.0, place
        weight += more
        moment += more * place
    return [*parts, (weight, moment / weight)]


def below_parabola(tilt: float, bend: float, points: Points) -> Below:
    """The fold of tilt z + bend z^2, wherever it turns."""
    return lambda x: math.fsum([w * _under(tilt, bend, x - place) for w, place in points])


def below_shape(
    below_tilt: float, below_bend: float, above_tilt: float, above_bend: float, points: Points
) -> Below:
    """The fold of two parabolas that meet at the middle, wherever they turn."""
    if below_tilt == above_tilt and below_bend == above_bend:
        # one parabola all the way, the same seen from either side
        return below_parabola(abs(above_tilt), above_bend, points)
    return lambda x: math.fsum(
        [
            w
            * (
                _right(above_tilt, above_bend, x - place)
                + _right(-below_tilt, below_bend, x - place)
            )
            for w, place in points
        ]
    )


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


_SLOPE = _NORMAL.pdf(_NORMAL.inv_cdf(0.95))
"""The density of the standard normal at its 95th percentile: where the search begins."""
_STEADY = 1e-3  # of the spread: a search that moves by less has arrived


def search(rising: Callable[[float], float], guess: float, spread: float) -> float:
    """Where a rising function passes zero, by secants that never leave the bracket found so far.

    A secant that still moved by 1e-3 of the spread is right to far more digits than that.
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
    return search(
        lambda x: math.fsum([w * _under(t, c, x - start) for w, start, t, c in parts]) - target,
        guess,
        spread,
    )
