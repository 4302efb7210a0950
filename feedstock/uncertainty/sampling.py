"""Percentiles by draws, for figures that are the least or the greatest of several things that are
all in doubt.

Where such a figure bends, the changes at the ends of single keys tell too little. The draws are the
points of a lattice (Korobov 1959): even over every normal, and over every pair of them. Where a
normal begins is told by the key's own name, so that the same keys always meet the same draws.

What goes in with doubts by key (the totals of a heap) shares some of its keys with the inputs of
the chain: those are drawn one by one. All others are drawn together, as correlated normals with the
mean, variance and third cumulant that the keys have in sum.
"""

from __future__ import annotations

import math
import random
from array import array
from collections.abc import Mapping, Sequence
from dataclasses import field
from functools import lru_cache
from statistics import NormalDist
from typing import Any

from ..quantities.cell import Scale
from ..quantities.frozen import record
from .elementwise import exp, maximum, minimum
from .figure import UncertainValue
from .graph import Chain, Step, rows_function, upstream
from .inputs import FLOAT_WAYS, Input, curve_of
from .intervals import Moments, Shape, moments, parabola_of
from .vectors import Column, Lists, Vectors, vectors

COUNT, _GENERATOR = 4093, 1439
"""A prime number of draws, and the generator of which the lattices over pairs of up to forty
normals are the most even: no two points of any are nearer than a third of what is possible.
"""
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
def normals_of(key: str, dimension: int) -> array[float]:
    """The standard normals of a key, one for each draw."""
    even, step = _even(), pow(_GENERATOR, dimension, COUNT)
    start = random.Random(key).randrange(COUNT)
    return array("d", [even[(start + n * step) % COUNT] for n in range(COUNT)])


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
    needed = set[str]().union(*(upstream(chain, name) for name in wanted))
    draws = _Draws(on)
    for entry in inputs:
        if entry.name in needed:
            draws.take_input(entry)
    figures = {name: figure for name, figure in given.items() if name in needed}
    draws.take_figures(figures, {key for key in shares if key in figures})
    run = rows_function(
        (*draws.steps, *chain), tuple(draws.columns), tuple(draws.exact), tuple(wanted)
    )
    way = run.rows if isinstance(on, Lists) else run.columns
    columns = way(tuple(draws.columns.values()), tuple(draws.exact.values()))
    return {name: ends_of(column, on) for name, column in zip(wanted, columns, strict=True)}


@record
class _Draws:
    """Columns of draws, values that do not vary, and the steps that make the given figures of both;
    their names begin with a blank, which no name of a chain does.
    """

    on: Vectors
    columns: dict[str, Column] = field(default_factory=dict)
    exact: dict[str, float] = field(default_factory=dict)
    steps: list[Step] = field(default_factory=list)
    dimensions: dict[str, int] = field(default_factory=dict)

    def take_input(self, given: Input) -> None:
        if given.exact:
            self.exact[given.name] = float(given.mid)
            return
        dimension = self._dimension(given.key)
        column = _column(given.key, dimension, given.scale, given.low, given.mid, given.high)
        self.columns[given.name] = self.on.taken(column)

    def _dimension(self, key: str) -> int:
        return self.dimensions.setdefault(key, len(self.dimensions))

    def _normals(self, key: str) -> str:
        """The name of the column of a key."""
        name = f" normals {key}"
        if name not in self.columns:
            self.columns[name] = self.on.taken(normals_of(key, self._dimension(key)))
        return name

    def take_figures(self, given: Mapping[str, UncertainValue], shares: set[str]) -> None:
        """Keys that inputs have too go in one by one, all others together."""
        alone = set(self.dimensions)
        rests = {name: _Rest.of(figure, alone) for name, figure in given.items()}
        weights = _correlated(list(rests.values()))
        for (name, rest), row in zip(rests.items(), weights, strict=True):
            if given[name].sensitivities:
                self._take(name, given[name], rest, row, name in shares)
            else:
                self.exact[name] = float(given[name].mid)

    def _take(
        self,
        name: str,
        figure: UncertainValue,
        rest: _Rest,
        row: Sequence[float],
        share: bool,
    ) -> None:
        """The steps from normals to a figure."""
        total = FLOAT_WAYS[figure.usable][0](figure.mid) + rest.total.mean
        tilt, bend = parabola_of(rest.total.variance, rest.total.third)
        if rest.total.variance > 0:
            z = self._weighted(name, row)
            start = self._constants(name, start=total - bend, tilt=tilt, bend=bend)
            at = self._step(f" {name} in sum", _parabola, *start, z)
        else:
            (at,) = self._constants(name, start=total)
        for key, shape in rest.shapes.items():
            parts = self._constants(f"{name} {key}", **shape._asdict())
            at = self._step(f" {name} with {key}", _shaped, at, *parts, self._normals(key))
        back = _BACK[figure.usable]
        if not share:
            self._step(name, back, at)
        else:
            self._step(name, _clipped, self._step(f" {name} unclipped", back, at))

    def _weighted(self, name: str, row: Sequence[float]) -> str:
        """The normal of a figure, of independent ones."""
        at = ""
        for n, weight in enumerate(row):
            if abs(weight) > _WEIGHTLESS:
                (constant,) = self._constants(f"{name} {n}", weight=weight)
                made = f" {name} by {n}"
                normals = self._normals(f"rest {n}")
                if at:
                    at = self._step(made, _plus, at, constant, normals)
                else:
                    at = self._step(made, _times, constant, normals)
        return at

    def _constants(self, owner: str, **values: float) -> list[str]:
        names = [f" {what} of {owner}" for what in values]
        self.exact.update(zip(names, values.values(), strict=True))
        return names

    def _step(self, output: str, function: Any, *inputs: str) -> str:
        self.steps.append(Step(output, function, inputs))
        return output


def _times(weight: Any, z: Any) -> Any:
    return weight * z


def _plus(total: Any, weight: Any, z: Any) -> Any:
    return total + weight * z


def _parabola(start: Any, tilt: Any, bend: Any, z: Any) -> Any:
    return start + (tilt + bend * z) * z


def _shaped(total: Any, below: Any, bend_below: Any, above: Any, bend_above: Any, z: Any) -> Any:
    low, high = minimum(z, 0.0), maximum(z, 0.0)
    return total + (below + bend_below * low) * low + (above + bend_above * high) * high


def _clipped(value: Any) -> Any:
    return minimum(maximum(value, 0.0), 1.0)


def _as_is(value: Any) -> Any:
    return value


def _from_log(value: Any) -> Any:
    return exp(value)


def _from_logit(value: Any) -> Any:
    return 1.0 / (1.0 + exp(-value))


_BACK = {"linear": _as_is, "log": _from_log, "logit": _from_logit}


@lru_cache(maxsize=256)
def _column(
    key: str, dimension: int, scale: Scale, low: float, mid: float, high: float
) -> array[float]:
    """Kept, since most inputs of a plan are cells of the tables, the same in every plan."""
    return array("d", map(curve_of(low, mid, high, scale), normals_of(key, dimension)))


class _Rest:
    """A figure on its scale: shapes of keys that are drawn alone, and what is left in sum."""

    def __init__(self, shapes: Mapping[str, Shape], tilts: Mapping[str, float], total: Moments):
        self.shapes, self.tilts, self.total = shapes, tilts, total

    @classmethod
    def of(cls, figure: UncertainValue, alone: set[str]) -> _Rest:
        shapes = figure.shapes() if figure.sensitivities else {}
        others = {key: shape for key, shape in shapes.items() if key not in alone}
        parts = [moments(shape) for shape in others.values()]
        total = Moments(*(math.fsum(part[n] for part in parts) for n in range(3)))
        tilts = {key: _tilt(shape) for key, shape in others.items()}
        return cls({k: shape for k, shape in shapes.items() if k in alone}, tilts, total)


def _tilt(shape: Shape) -> float:
    """The straight part of what a key does: E[z f(z)]."""
    straight = _HALF_SQUARE * (shape.above + shape.below)
    return straight + _HALF_CUBE * (shape.bend_above - shape.bend_below)


def _correlated(rests: Sequence[_Rest]) -> list[list[float]]:
    """Weights of independent normals that make up one for each, correlated as the keys that they
    share make them (the factors of Cholesky).
    """
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
    return lower


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
