"""Ends of the least or the greatest of several smooth figures that share their doubts.

Each figure is a curve of a normal of its own; the normals of two are correlated by the keys that
the figures share. That the least of some lies at a value or below is then a matter of normals that
lie below a bound each, and added up in one of two ways.

Where keys that do the same to all are wide, what they do together is looked at last (`_by_factor`):
the rest of every figure stands at places that are spread evenly, and at each of them the common
normal has one bound. Shared doubt that is lopsided keeps its whole weight so. Elsewhere lines are
laid along which the normals of all figures rise together, each of which passes every bound once
(`_by_lines`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from operator import mul
from statistics import NormalDist

from . import folds
from .branches import Branch, Curve
from .inputs import EDGE, FLOAT_WAYS
from .intervals import HIGH, LOW, Z95, parabola

_ALIKE = 0.25
"""What a key does to two figures is the same where it differs by no more than this part."""
_WIDE = 0.25
"""Common keys are wide where their variance is more than this part of that of the rest."""
_ONE = 0.02
"""Curves whose widths differ by less than this part are one."""
_LATTICES = {2: (89, 55), 3: (127, 33)}
"""How many places in two dimensions, and in three and more, and the generators of the lattices
(Korobov 1959) on which they lie.
"""
_PLACES = folds.gauss_nodes(7)
"""Where a key that is beside the others stands."""
_DIGITS = 6
_ENDS = LOW, HIGH
_WEIGHTLESS = 0.03
"""A smaller part of a variance is left out."""
_LEAST_SLOPE = 0.05
_PER_ROOT2 = 1 / math.sqrt(2)
_NORMAL = NormalDist()
_STEPS, _ARRIVED, _FLAT, _EDGE = 6, 0.05, 0.05, 1e-6
"""Steps of a secant; the last of them as a part of the spread; the least slope that is trusted, and
the least probability.
"""

Matrix = list[list[float]]
Looked = tuple[folds.Below, float, float]
"""The probability to lie at a value or below, on the scale of the logarithm where all figures are
told on that; and where to look for the 5th and the 95th percentile.
"""


def percentiles_of(
    looks: Sequence[tuple[float, Sequence[Branch]]], least: bool, shares: Sequence[float] = _ENDS
) -> list[float]:
    """Percentiles, by their shares, of the least or the greatest of some figures, looked at with a
    weight each; of one figure that is looked at once its ends.
    """
    if len(looks) == len(looks[0][1]) == 1:
        return list(looks[0][1][0].ends())
    log = all(branch.log for _, branches in looks for branch in branches)
    below, lows, highs = zip(*(_looked(of, least, log) for _, of in looks), strict=True)
    weights = [weight for weight, _ in looks]

    def under(x: float) -> float:
        return math.fsum([w * share(x) for w, share in zip(weights, below, strict=True)])

    low, high = (math.fsum(map(mul, weights, of)) for of in (lows, highs))
    between = math.fsum([w * (at - low) ** 2 for w, at in zip(weights, lows, strict=True)])
    spread = math.hypot(max(high - low, EDGE) / (2 * Z95), math.sqrt(between))
    back: Callable[[float], float] = math.exp if log else float
    middle, half = (low + high) / 2, (high - low) / (2 * Z95)
    guesses = [middle + half * _NORMAL.inv_cdf(share) for share in shares]
    return [
        back(_where(under, share, guess, spread))
        for share, guess in zip(shares, guesses, strict=True)
    ]


def ends_with(found: Sequence[float], change: tuple[float, float]) -> tuple[float, float]:
    """The ends of a figure, of which the 5th, 50th and 95th percentile were found, times what one
    key more does at its ends, as a logarithm.

    >>> ends = ends_with([0.5, 1.0, 2.0], (-math.log(2.0), math.log(2.0)))
    >>> [round(end, 2) for end in ends], round(2.0 ** math.sqrt(2.0), 2)
    ([0.38, 2.67], 2.67)
    """
    curve, shape = Curve.through(*map(math.log, found)), parabola(*change)
    weights = [weight for _, weight in _PLACES]
    places = [shape.at(z) for z, _ in _PLACES]
    scaled = curve.scaled(places)

    def under(x: float) -> float:
        return _added(weights, [bound * _PER_ROOT2 for bound in curve.bounds(x, scaled)])

    ends = []
    for share, side, beyond in zip(_ENDS, (-Z95, Z95), (min(change), max(change)), strict=True):
        own = curve.at(side) - curve.start
        guess = curve.start + math.copysign(math.hypot(own, beyond), side)
        ends.append(math.exp(_where(under, share, guess, math.hypot(own, beyond) / Z95)))
    return ends[0], ends[1]


def _where(under: folds.Below, share: float, guess: float, spread: float) -> float:
    """Where so much lies below: by secants on the normal with the probability to lie below, which
    is nearly straight; by search where these leave it.
    """
    wanted, x, slope = _NORMAL.inv_cdf(share), guess, 1.0 / spread
    before: tuple[float, float] | None = None
    for _ in range(_STEPS):
        below = under(x)
        if not _EDGE < below < 1.0 - _EDGE:
            break
        away = _NORMAL.inv_cdf(below) - wanted
        if before is not None and x != before[0]:
            slope = (away - before[1]) / (x - before[0])
        if not slope * spread > _FLAT:
            break
        before, x = (x, away), x - away / slope
        if abs(x - before[0]) < _ARRIVED * spread:
            return x
    return folds.search(lambda x: under(x) - share, guess, spread)


def _looked(branches: Sequence[Branch], least: bool, log: bool) -> Looked:
    if len(branches) > 1 and log:
        common = _common(branches)
        rests = [branch.variance(branch.parts.keys() - common) for branch in branches]
        if all(branch.variance(common) > _WIDE * max(rests) for branch in branches):
            return _by_factor(branches, common, least)
    return _by_lines(branches, least, log)


def _common(branches: Sequence[Branch]) -> frozenset[str]:
    """Keys that do the same to all."""
    first, *others = [
        dict(zip(b.figure.sensitivities, b.figure.changes_on(FLOAT_WAYS["log"]), strict=True))
        for b in branches
    ]
    common = list(first.items())
    for other in others:
        common = [(k, pair) for k, pair in common if k in other and _alike(*pair, *other[k])]
    return frozenset(key for key, _ in common)


def _alike(low: float, high: float, other_low: float, other_high: float) -> bool:
    most = _ALIKE * max(abs(low), abs(high), abs(other_low), abs(other_high))
    return abs(low - other_low) <= most and abs(high - other_high) <= most


# --- in two ways ----------------------------------------------------------------------------------


def _by_factor(branches: Sequence[Branch], common: frozenset[str], least: bool) -> Looked:
    choose, over = (min, max) if least else (max, min)
    factors = _factors(branches, common)
    rests = [branch.rest(common) for branch in branches]
    weights, normals = _places(_correlations(branches, common), [0.0] * len(branches))
    places = [[rest.at(z) for z in of] for rest, of in zip(rests, normals, strict=True)]
    low, high = (
        choose(
            f.start + r.start + side * math.hypot(f.at(side) - f.start, r.at(side) - r.start)
            for f, r in zip(factors, rests, strict=True)
        )
        for side in (-1.0, 1.0)
    )
    if len({factor._replace(start=0.0) for factor in factors}) == 1:
        # one factor for all: the least of the places is all that counts
        away = [[at + f.start for at in of] for f, of in zip(factors, places, strict=True)]
        factors, places = [factors[0]._replace(start=0.0)], [list(map(choose, *away))]
    scaled = [factor.scaled(of) for factor, of in zip(factors, places, strict=True)]

    def below(x: float) -> float:
        bounds = [f.bounds(x, of) for f, of in zip(factors, scaled, strict=True)]
        sides = bounds[0] if len(bounds) == 1 else map(over, *bounds)
        return _added(weights, [bound * _PER_ROOT2 for bound in sides])

    return below, *_twice(low, high)


def _twice(low: float, high: float) -> tuple[float, float]:
    """Ends of about the 5th and the 95th percentile, from those a spread away."""
    middle, half = (low + high) / 2, Z95 * (high - low) / 2
    return middle - half, middle + half


def _factors(branches: Sequence[Branch], common: frozenset[str]) -> list[Curve]:
    """What the common keys do to each figure; as to the first where that is the same."""
    first, square = branches[0].whole(True, common), branches[0].variance(common)
    factors = [first]
    for branch in branches[1:]:
        ratio = math.sqrt(branch.variance(common) / square)
        if abs(ratio - 1.0) < _ONE:
            away = branch.middle(True) - branches[0].middle(True)
            factors.append(first._replace(start=first.start + away))
        else:
            factors.append(branch.whole(True, common))
    return factors


def _by_lines(branches: Sequence[Branch], least: bool, log: bool) -> Looked:
    """The direction of the lines is that of the sum of all normals; they begin at places that are
    spread evenly over what is left beside it.
    """
    # the greatest is the least of what is turned round
    choose, side = (min, 1.0) if least else (max, -1.0)
    curves = [branch.whole(log) for branch in branches]
    between = _correlations(branches, frozenset())
    sums = [math.fsum(row) for row in between]
    length = math.sqrt(max(math.fsum(sums), _LEAST_SLOPE))
    slopes = [max(total / length, _LEAST_SLOPE) for total in sums]
    weights, starts = _places(between, slopes)
    # over the root of two from here on, as the error function takes them
    slopes = [side * slope / _PER_ROOT2 for slope in slopes]
    starts = [[at / slope for at in of] for slope, of in zip(slopes, starts, strict=True)]

    def below(x: float) -> float:
        bounds = [c.bounds(x, [0.0])[0] / of for c, of in zip(curves, slopes, strict=True)]
        return 0.5 + side * (_added(weights, _furthest(bounds, starts)) - 0.5)

    low, high = (choose(curve.at(side) for curve in curves) for side in (-Z95, Z95))
    return below, low, high


def _furthest(bounds: Sequence[float], starts: Sequence[Sequence[float]]) -> list[float]:
    """At each place the largest of the bounds, each less where its line starts there."""
    if len(bounds) == 3:  # what is usual, in one go
        (first, second, third), furthest = bounds, []
        for a, b, c in zip(*starts, strict=True):
            at, other, last = first - a, second - b, third - c
            if other > at:
                at = other
            furthest.append(last if last > at else at)
        return furthest
    furthest = [bounds[0] - start for start in starts[0]]
    for bound, of in zip(bounds[1:], starts[1:], strict=True):
        pairs = zip(furthest, of, strict=True)
        furthest = [at if at > (o := bound - start) else o for at, start in pairs]
    return furthest


def _added(weights: Sequence[float], bounds: Iterable[float]) -> float:
    """The probability of normals below bounds, each over the root of two, over weighted places."""
    return 0.5 + 0.5 * math.fsum(map(mul, weights, map(math.erf, bounds)))


def _correlations(branches: Sequence[Branch], common: frozenset[str]) -> Matrix:
    loadings = [branch.loadings(common) for branch in branches]
    between = [[0.0] * len(loadings) for _ in loadings]
    for a, one in enumerate(loadings):
        for b, other in enumerate(loadings[: a + 1]):
            both = math.fsum([part * other[key] for key, part in one.items() if key in other])
            between[a][b] = between[b][a] = max(-1.0, min(1.0, both))
    return between


def _places(between: Matrix, slopes: Sequence[float]) -> tuple[Sequence[float], Matrix]:
    """Weighted places of correlated normals, without what is theirs along a direction."""
    columns = _beside(between, slopes)
    weights, normals = _spread(len(columns))
    places = []
    for n in range(len(between)):
        parts = [(column[n], of) for column, of in zip(columns, normals, strict=False) if column[n]]
        places.append(_weighted(parts) if parts else [0.0] * len(weights))
    return weights, places


def _weighted(parts: Sequence[tuple[float, Sequence[float]]]) -> list[float]:
    """The sum of weighted columns."""
    if len(parts) == 1:
        ((a, of),) = parts
        return [a * x for x in of]
    (a, one), (b, other), *more = parts
    total = [a * x + b * y for x, y in zip(one, other, strict=True)]
    for c, of in more:
        total = [t + c * z for t, z in zip(total, of, strict=True)]
    return total


def _beside(between: Matrix, slopes: Sequence[float]) -> Matrix:
    """What is left beside a direction, as what independent normals one after the other bring to
    each (Cholesky, the widest first).
    """
    every = range(len(slopes))
    left = [[between[a][b] - slopes[a] * slopes[b] for b in every] for a in every]
    columns: Matrix = []
    for _ in every:
        # the first of equals: rounding must not turn the places round
        widest = max(every, key=lambda n: round(left[n][n], _DIGITS))
        if left[widest][widest] < _WEIGHTLESS:
            break
        root = math.sqrt(left[widest][widest])
        column = [row[widest] / root for row in left]
        columns.append(column)
        left = [[left[a][b] - column[a] * column[b] for b in every] for a in every]
    return columns


@lru_cache(maxsize=16)
def _spread(dimensions: int) -> tuple[Sequence[float], Sequence[Sequence[float]]]:
    """Weights of places and the normals there: nodes in one dimension, in more a lattice that is
    even over each pair of them, as wide as normals are.
    """
    if dimensions == 0:
        return [1.0], []
    if dimensions == 1:
        nodes = folds.nodes(0.25)
        return [weight for _, weight in nodes], [[z for z, _ in nodes]]
    count, generator = _LATTICES[min(dimensions, 3)]
    columns = []
    for dimension in range(dimensions):
        step = pow(generator, dimension, count)
        # begun in the middle, so that the points lie alike to either side
        shares = [((n * step + count // 2) % count + 0.5) / count for n in range(count)]
        z = [_NORMAL.inv_cdf(share) for share in shares]
        width = math.sqrt(math.fsum([at * at for at in z]) / count)
        columns.append([at / width for at in z])
    return [1.0 / count] * count, columns
