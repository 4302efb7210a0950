"""Percentiles of a folded sum by Newton's steps, where the fold is smooth and rising.

The folds are those of `intervals`; here each also gives its density, so that a few steps arrive
where the search by secants takes many. Where a shape turns within reach, or the steps do not
settle, nothing is said and the search goes on as before.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Sequence
from operator import itemgetter
from statistics import NormalDist

Points = Sequence[tuple[float, float]]
"""Weights and places to which a shape is moved."""
Fold = Callable[[float], tuple[float, float]]
"""The probability to lie below x, and the density there."""

_PER_ROOT2 = 1 / math.sqrt(2)
_PER_ROOT2PI = 1 / math.sqrt(2 * math.pi)
_NORMAL = NormalDist()
_REACH = 4.5
"""A shape must rise this far to either side: beyond there is next to nothing."""
_ARRIVED = 4e-3  # of the spread: the error after a step of Newton's is far below its square
_FURTHEST = 0.8  # of the spread: a longer step is not trusted
_STEPS = 6


def fold_of_parabola(tilt: float, bend: float, points: Points) -> Fold:
    """The fold of tilt z + bend z^2, which rises over the reach, moved to each of the points."""
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
    above_square, above_four = above_tilt * above_tilt, 4 * above_bend
    below_square, below_four = below_tilt * below_tilt, 4 * below_bend
    exp, sqrt, erf = math.exp, math.sqrt, math.erf
    ordered = sorted(points, key=itemgetter(1))
    places = [place for _, place in ordered]

    def fold(x: float) -> tuple[float, float]:
        under = density = 0.0
        middle = bisect_left(places, x)
        for weight, place in ordered[:middle]:
            y = x - place
            inside = above_square + above_four * y
            if inside <= 0.0:
                under += weight
                continue
            root = sqrt(inside)
            z = 2 * y / (above_tilt + root)
            under += weight * erf(z * _PER_ROOT2)
            density += weight * exp(-0.5 * z * z) / root
        for weight, place in ordered[middle:]:
            y = x - place
            inside = below_square + below_four * y
            if inside <= 0.0:
                under -= weight
                continue
            root = sqrt(inside)
            z = 2 * y / (below_tilt + root)
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
    slopes = (above_tilt, above_end, below_tilt, below_end)
    return 1 if min(slopes) > 0 else -1 if max(slopes) < 0 else 0


def root(fold: Fold, target: float, guess: float, spread: float) -> float | None:
    """Where the fold reaches the target; None where the steps do not settle.

    The steps are those of Newton on the normal whose probability the fold has: seen so it is nearly
    straight, and one or two arrive.
    """
    x, wanted = guess, _NORMAL.inv_cdf(target)
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
