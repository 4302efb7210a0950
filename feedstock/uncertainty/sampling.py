"""Percentiles by draws, for figures that are the least or the greatest of several things that are
all in doubt.

Where such a figure bends, the changes at the ends of single keys tell too little. The draws are
spread evenly over each key (a Latin hypercube, McKay, Beckman and Conover 1979) and shuffled by the
key's own name, so that the same keys always meet the same draws, whatever else is in the heap and
in whatever order.

What goes in with doubts by key (the totals of a heap) shares some of its keys with the inputs of
the chain: those are drawn one by one. All others are drawn together, as correlated normals with the
mean, variance and third cumulant that the keys have in sum.
"""

from __future__ import annotations

import math
import random
from array import array
from collections.abc import Mapping, Sequence
from functools import lru_cache
from statistics import NormalDist

from ..quantities.cell import Scale
from .figure import UncertainValue
from .graph import Chain
from .inputs import Input, value_at
from .intervals import Moments, Shape, moments, parabola_of
from .program import rows_function
from .scales import FLOAT_WAYS
from .vectors import Column, Lists, Vectors, vectors

COUNT = 2048
_DIGITS = 6
"""Significant digits of a drawn end: far more than draws give, and few enough that an array library
gives the same.
"""
_WEIGHTLESS = 0.02
"""A smaller part of a normal is left out: its square is less than a two-thousandth of the whole."""
_HALF_SQUARE, _HALF_CUBE = 0.5, 2 / math.sqrt(2 * math.pi)
"""E[z^2; z > 0] and E[z^3; z > 0] of the standard normal."""


@lru_cache(maxsize=1)
def _even() -> tuple[float, ...]:
    normal = NormalDist()
    return tuple(normal.inv_cdf((n + 0.5) / COUNT) for n in range(COUNT))


@lru_cache(maxsize=512)
def normals_of(key: str) -> array[float]:
    """The standard normals of a key, one for each draw."""
    found = list(_even())
    random.Random(key).shuffle(found)
    return array("d", found)


def drawn_ends(
    chain: Chain,
    inputs: Sequence[Input],
    given: Mapping[str, UncertainValue],
    wanted: Sequence[str],
    shares: Sequence[str] = (),
) -> dict[str, tuple[float, float]]:
    """The 5th and the 95th percentile of the wanted outputs of a chain.

    `given` are values of the chain that come with doubts by key; those named in `shares` are kept
    between nothing and all.
    """
    on = vectors()
    exact = {entry.name: float(entry.mid) for entry in inputs if entry.exact}
    exact |= {name: float(figure.mid) for name, figure in given.items() if not figure.sensitivities}
    drawn = {entry.name: on.taken(_column(entry)) for entry in inputs if not entry.exact}
    alone = {entry.key for entry in inputs if not entry.exact}
    drawn |= _figure_columns({k: f for k, f in given.items() if f.sensitivities}, alone, on)
    drawn |= {name: on.clipped(drawn[name]) for name in shares if name in drawn}
    run = rows_function(chain, tuple(drawn), tuple(exact), tuple(wanted))
    way = run.rows if isinstance(on, Lists) else run.columns
    columns = way(tuple(drawn.values()), tuple(exact.values()))
    return {name: ends_of(column, on) for name, column in zip(wanted, columns, strict=True)}


def _column(given: Input) -> array[float]:
    return _kept_column(given.key, given.scale, given.low, given.mid, given.high)


@lru_cache(maxsize=256)
def _kept_column(key: str, scale: Scale, low: float, mid: float, high: float) -> array[float]:
    """Kept, since most inputs of a plan are cells of the tables, the same in every plan."""
    return array("d", [value_at(low, mid, high, scale, z) for z in normals_of(key)])


def _figure_columns(
    given: Mapping[str, UncertainValue], alone: set[str], on: Vectors
) -> dict[str, Column]:
    """Columns of figures: keys in `alone` one by one, all others together."""
    rests = [_Rest.of(figure, alone) for figure in given.values()]
    normals = _correlated(rests, on)
    return {
        name: rest.column(figure, column, on)
        for (name, figure), rest, column in zip(given.items(), rests, normals, strict=True)
    }


class _Rest:
    """A figure on its scale: shapes of keys that are drawn alone, and what is left in sum."""

    def __init__(self, shapes: Mapping[str, Shape], tilts: Mapping[str, float], total: Moments):
        self.shapes, self.tilts, self.total = shapes, tilts, total

    @classmethod
    def of(cls, figure: UncertainValue, alone: set[str]) -> _Rest:
        shapes = figure.shapes()
        others = {key: shape for key, shape in shapes.items() if key not in alone}
        parts = [moments(shape) for shape in others.values()]
        total = Moments(*(math.fsum(part[n] for part in parts) for n in range(3)))
        tilts = {key: _tilt(shape) for key, shape in others.items()}
        return cls({k: shape for k, shape in shapes.items() if k in alone}, tilts, total)

    def column(self, figure: UncertainValue, normals: Column | None, on: Vectors) -> Column:
        """The draws of the figure; `normals` are those of what is left in sum."""
        total: Column | float = FLOAT_WAYS[figure.usable][0](figure.mid) + self.total.mean
        if normals is not None:
            tilt, bend = parabola_of(self.total.variance, self.total.third)
            total = on.parabola(total - bend, tilt, bend, normals)
        for key, shape in self.shapes.items():
            total = on.shaped(total, shape, on.taken(normals_of(key)))
        return on.back(figure.usable, total)


def _tilt(shape: Shape) -> float:
    """The straight part of what a key does: E[z f(z)]."""
    straight = _HALF_SQUARE * (shape.above + shape.below)
    return straight + _HALF_CUBE * (shape.bend_above - shape.bend_below)


def _correlated(rests: Sequence[_Rest], on: Vectors) -> list[Column | None]:
    """Standard normals for each, correlated as the keys that they share make them (the factors of
    Cholesky); None where nothing is left.
    """
    found: list[Column | None] = []
    lower: list[list[float]] = []
    for number, rest in enumerate(rests):
        row: list[float] = []
        for other in range(number):
            inner = math.fsum(a * b for a, b in zip(row, lower[other], strict=False))
            left = lower[other][other]
            free = _correlation(rest, rests[other]) - inner
            row.append(free / left if left > _WEIGHTLESS else 0.0)
        row.append(math.sqrt(max(1.0 - math.fsum(a * a for a in row), 0.0)))
        lower.append(row)
        terms = [
            (weight, on.taken(normals_of(f"rest {n}")))
            for n, weight in enumerate(row)
            if abs(weight) > _WEIGHTLESS
        ]
        found.append(on.weighted(terms) if rest.total.variance > 0 else None)
    return found


def _correlation(one: _Rest, other: _Rest) -> float:
    both = one.total.variance * other.total.variance
    if both <= 0.0:
        return 0.0
    shared = math.fsum(tilt * other.tilts.get(key, 0.0) for key, tilt in one.tilts.items())
    return max(-1.0, min(1.0, shared / math.sqrt(both)))


def ends_of(values: Column | float, on: Vectors) -> tuple[float, float]:
    """The 5th and the 95th percentile of drawn values, straight between neighbours; a single value
    is both.
    """
    if isinstance(values, float):
        return values, values
    ordered = on.ordered(values)
    return _at(ordered, 0.05), _at(ordered, 0.95)


def _at(ordered: Sequence[float], share: float) -> float:
    place = share * len(ordered) - 0.5
    index = min(max(int(place), 0), len(ordered) - 2)
    value = ordered[index] + (place - index) * (ordered[index + 1] - ordered[index])
    return float(f"{value:.{_DIGITS}g}")
