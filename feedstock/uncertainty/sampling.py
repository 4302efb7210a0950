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
import sys
from array import array
from collections.abc import Mapping, Sequence
from functools import lru_cache
from statistics import NormalDist
from typing import Any

from ..quantities.cell import Scale
from .figure import Figure
from .graph import Chain
from .inputs import Input, Origin
from .intervals import Moments, Shape, moments, parabola_of
from .program import rows_function
from .scales import FLOAT_WAYS

COUNT = 1024
_HALF_SQUARE, _HALF_CUBE = 0.5, 2 / math.sqrt(2 * math.pi)
"""E[z^2; z > 0] and E[z^3; z > 0] of the standard normal."""

Column = float | Sequence[float]
"""The draws of a value, or the value itself where it has no doubt."""


@lru_cache(maxsize=1)
def _even() -> tuple[float, ...]:
    normal = NormalDist()
    return tuple(normal.inv_cdf((n + 0.5) / COUNT) for n in range(COUNT))


@lru_cache(maxsize=512)
def normals_of(key: str) -> tuple[float, ...]:
    """The standard normals of a key, one for each draw."""
    found = list(_even())
    random.Random(key).shuffle(found)
    return tuple(found)


def drawn_ends(
    chain: Chain,
    inputs: Sequence[Input],
    given: Mapping[str, Figure],
    wanted: Sequence[str],
    shares: Sequence[str] = (),
) -> dict[str, tuple[float, float]]:
    """The 5th and the 95th percentile of the wanted outputs of a chain.

    `given` are values of the chain that come with doubts by key; those named in `shares` are kept
    between nothing and all.
    """
    columns = columns_of(inputs, given)
    for name in shares:
        column = columns.get(name)
        if column is not None and not isinstance(column, float):
            columns[name] = [min(max(value, 0.0), 1.0) for value in column]
    drawn = {name: column for name, column in columns.items() if not isinstance(column, float)}
    exact = {name: column for name, column in columns.items() if isinstance(column, float)}
    run = rows_function(chain, tuple(drawn), tuple(exact), tuple(wanted))
    # an array library is used where the host has loaded one, and never loaded here
    numpy = sys.modules.get("numpy")
    if numpy is None:
        rows = run.rows(tuple(drawn.values()), tuple(exact.values()))
    else:
        arrays = tuple(numpy.asarray(column, dtype=float) for column in drawn.values())
        rows = run.columns(arrays, tuple(exact.values()))
    return {name: ends_of(row) for name, row in zip(wanted, rows, strict=True)}


def columns_of(inputs: Sequence[Input], given: Mapping[str, Figure]) -> dict[str, Column]:
    """The draws of inputs and of values that come with doubts by key."""
    columns: dict[str, Column] = {}
    for each in inputs:
        certain = each.certain
        columns[each.name] = float(each.mid) if certain else _input_column(each)
    alone = {each.key for each in inputs if not each.certain}
    columns.update(_figure_columns(given, alone))
    return columns


def _input_column(given: Input) -> Sequence[float]:
    return _column(given.key, given.scale, float(given.low), float(given.mid), float(given.high))


@lru_cache(maxsize=256)
def _column(key: str, scale: Scale, low: float, mid: float, high: float) -> Sequence[float]:
    """Kept, since most inputs of a plan are cells of the tables, the same in every plan."""
    at = Input("", low, mid, high, scale, key, _NOWHERE).at
    return array("d", [at(z) for z in normals_of(key)])


_NOWHERE = Origin("assumption", "")


def _figure_columns(given: Mapping[str, Figure], alone: set[str]) -> dict[str, Column]:
    """Columns of figures: keys in `alone` one by one, all others together."""
    names = [name for name, figure in given.items() if figure.doubts]
    rest = {name: _Rest.of(given[name], alone) for name in names}
    normals = _correlated([rest[name] for name in names])
    columns: dict[str, Column] = {
        name: float(figure.mid) for name, figure in given.items() if not figure.doubts
    }
    for number, name in enumerate(names):
        columns[name] = rest[name].column(given[name], normals[number])
    return columns


class _Rest:
    """A figure on its scale: shapes of keys that are drawn alone, and what is left in sum."""

    def __init__(self, shapes: Mapping[str, Shape], tilts: Mapping[str, float], sum_: Moments):
        self.shapes, self.tilts, self.sum = shapes, tilts, sum_

    @classmethod
    def of(cls, figure: Figure, alone: set[str]) -> _Rest:
        shapes = figure.shapes()
        others = {key: shape for key, shape in shapes.items() if key not in alone}
        parts = [moments(shape) for shape in others.values()]
        total = Moments(*(math.fsum(part[n] for part in parts) for n in range(3)))
        tilts = {key: _tilt(shape) for key, shape in others.items()}
        return cls({k: shape for k, shape in shapes.items() if k in alone}, tilts, total)

    def column(self, figure: Figure, normals: Sequence[float] | None) -> list[float]:
        to, back = FLOAT_WAYS[figure.usable]
        middle = to(figure.mid) + self.sum.mean
        totals = [middle] * COUNT
        if normals is not None:
            tilt, bend = parabola_of(self.sum.variance, self.sum.third)
            start = middle - bend
            totals = [start + (tilt + bend * z) * z for z in normals]
        for key, shape in self.shapes.items():
            at = shape.at
            totals = [total + at(z) for total, z in zip(totals, normals_of(key), strict=True)]
        return [float(back(total)) for total in totals]


def _tilt(shape: Shape) -> float:
    """The straight part of what a key does: E[z f(z)]."""
    straight = _HALF_SQUARE * (shape.above + shape.below)
    return straight + _HALF_CUBE * (shape.bend_above - shape.bend_below)


def _correlated(rests: Sequence[_Rest]) -> list[Sequence[float] | None]:
    """Standard normals for each, correlated as the keys that they share make them."""
    found: list[Sequence[float] | None] = []
    lower: list[list[float]] = []
    for number, rest in enumerate(rests):
        row: list[float] = []
        for other in range(number):
            inner = math.fsum(a * b for a, b in zip(row, lower[other], strict=False))
            left = lower[other][other]
            row.append((_correlation(rest, rests[other]) - inner) / left if left > 1e-6 else 0.0)
        row.append(math.sqrt(max(1.0 - math.fsum(a * a for a in row), 0.0)))
        lower.append(row)
        found.append(_mixed(row) if rest.sum.variance > 0 else None)
    return found


def _correlation(one: _Rest, other: _Rest) -> float:
    both = one.sum.variance * other.sum.variance
    if both <= 0.0:
        return 0.0
    shared = math.fsum(tilt * other.tilts.get(key, 0.0) for key, tilt in one.tilts.items())
    return max(-1.0, min(1.0, shared / math.sqrt(both)))


def _mixed(weights: Sequence[float]) -> list[float]:
    """The weighted sum of as many independent columns of standard normals."""
    used = [(w, normals_of(f"rest {n}")) for n, w in enumerate(weights) if abs(w) > _WEIGHTLESS]
    if len(used) == 1:
        weight, column = used[0]
        return [weight * z for z in column]
    (first, a), (second, b), *others = used
    totals = [first * x + second * y for x, y in zip(a, b, strict=True)]
    for (third, c), (fourth, d) in zip(others[::2], others[1::2], strict=False):
        totals = [t + third * x + fourth * y for t, x, y in zip(totals, c, d, strict=True)]
    if len(others) % 2:
        weight, column = others[-1]
        totals = [t + weight * z for t, z in zip(totals, column, strict=True)]
    return totals


_WEIGHTLESS = 0.02
"""A smaller part of a normal is left out: its square is less than a two-thousandth of the whole."""


def ends_of(values: Any) -> tuple[float, float]:
    """The 5th and the 95th percentile of drawn values, straight between neighbours; a single value
    is both.
    """
    if isinstance(values, float):
        return values, values
    ordered = sorted(map(float, values))
    return _at(ordered, 0.05), _at(ordered, 0.95)


def _at(ordered: Sequence[float], share: float) -> float:
    place = share * len(ordered) - 0.5
    index = min(max(int(place), 0), len(ordered) - 2)
    return ordered[index] + (place - index) * (ordered[index + 1] - ordered[index])
