"""A figure with its doubts by key, its ends, and sums of figures."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from ..quantities.cell import Scale
from ..quantities.estimate import Estimate
from .elementwise import exp, greatest, least, log
from .inputs import _EDGE, Number
from .intervals import (
    P95,
    PAIRS,
    Shape,
    by_cumulants,
    most_likely,
    parabola,
    percentiles,
    two_parabolas,
)

At = Callable[[Mapping[str, float]], Number]
"""A figure as a function of the standard normals of its keys; keys that are not given are at their
middle.
"""


@dataclass(frozen=True)
class Figure:
    """A figure with its doubts: for every key, the signed change when that key goes to its low and
    to its high end.

    `halves` holds the changes half way to the ends, for keys whose ends are lopsided; `joint` runs
    the figure anywhere between; `drawn` are its ends where they come from draws; `summed` says that
    it is a sum over lots of which each has doubts of its own.
    """

    mid: Number
    doubts: Mapping[str, tuple[Number, Number]] = field(default_factory=dict)
    scale: Scale = "log"
    halves: Mapping[str, tuple[Number, Number]] = field(default_factory=dict)
    joint: At | None = field(default=None, compare=False, repr=False)
    drawn: tuple[float, float] | None = None
    summed: bool = False

    @cached_property
    def ends(self) -> tuple[Number, Number]:
        """The 5th and the 95th percentile: as drawn, or from what each key does."""
        return (
            combine(self)
            if self.drawn is None
            else (min(self.drawn[0], self.mid), max(self.drawn[1], self.mid))
        )

    @cached_property
    def usable(self) -> Scale:
        """The scale on which all that is known of the figure can be told: its own, or the linear
        one at the edge of that.
        """
        return _usable(self.mid, (*self.doubts.values(), *self.halves.values()), self.scale)

    def shares(self) -> dict[str, float]:
        """For every key, the share of the width that it causes; they add to 1 where there is any
        doubt.
        """
        to, _ = _SCALES[self.usable]
        middle = to(self.mid)
        squares = {}
        for key, (low, high) in self.doubts.items():
            a, b = to(self.mid + low) - middle, to(self.mid + high) - middle
            squares[key] = min(a, b, 0.0) ** 2 + max(a, b, 0.0) ** 2
        total = sum(squares.values())
        return {key: square / total for key, square in squares.items()} if total > 0 else {}

    def half(self, key: str) -> tuple[Number, Number]:
        """The changes half way to the ends of a key: as they were run, or on the parabola through
        the ends.
        """
        if key in self.halves:
            return self.halves[key]
        to, back = _SCALES[self.usable]
        middle = to(self.mid)
        shape = _shape(self, key, middle, to)
        return back(middle + shape.at(-P95 / 2)) - self.mid, back(
            middle + shape.at(P95 / 2)
        ) - self.mid

    def at(self, normals: Mapping[str, float]) -> float:
        """The figure where its keys have these standard normals; without a chain to run, by what
        each key does alone.
        """
        moved = {key: z for key, z in normals.items() if z and key in self.doubts}
        if len(moved) == 1:
            ((key, z),) = moved.items()
            known = {P95: self.doubts[key], P95 / 2: self.halves.get(key)}.get(abs(z))
            if known is not None:
                return float(self.mid + known[z > 0])
        if not moved or self.joint is not None:
            return float(self.joint(moved) if moved and self.joint is not None else self.mid)
        return self.alone([(key, [z]) for key, z in moved.items()])[0]

    def alone(self, normals: Sequence[tuple[str, Sequence[float]]]) -> list[float]:
        """The figure at many points, by what each key does alone."""
        to, back = _SCALES[self.usable]
        middle = to(self.mid)
        totals = [middle] * len(normals[0][1]) if normals else [middle]
        for key, many in normals:
            shape = _shape(self, key, middle, to)
            totals = [total + shape.at(z) for total, z in zip(totals, many, strict=True)]
        return [float(back(each)) for each in totals]

    def times(self, factor: float) -> Figure:
        """The same figure times a certain number."""
        joint = self.joint
        return replace(
            self,
            mid=factor * self.mid,
            doubts={key: (factor * low, factor * high) for key, (low, high) in self.doubts.items()},
            halves={key: (factor * low, factor * high) for key, (low, high) in self.halves.items()},
            joint=None if joint is None else lambda z: factor * joint(z),
            drawn=None,
        )


def _same(x: Number) -> Number:
    return x


_SCALES: dict[Scale, tuple[Callable[[Number], Number], Callable[[Number], Number]]] = {
    "linear": (_same, _same),
    "log": (log, exp),
    "logit": (lambda x: log(x / (1 - x)), lambda x: 1 / (1 + exp(-x))),
}


_ROUNDING = 1e-9
"""A change by less than this part of the middle is none: it may be all rounding."""


def _usable(mid: Number, doubts: Iterable[tuple[Number, Number]], scale: Scale) -> Scale:
    """A figure at the very edge of its scale (an amount of nothing, a share of 1) is combined on
    the linear one.
    """
    if scale == "linear" or not isinstance(mid, (int, float)):
        return scale
    top = 1.0 if scale == "logit" else float("inf")
    inside = (
        all(_EDGE < mid + d < top - _EDGE for pair in doubts for d in pair)
        and _EDGE < mid < top - _EDGE
    )
    return scale if inside else "linear"


Way = tuple[Callable[[Number], Number], Callable[[Number], Number]]
"""To the scale on which doubts are added, and back."""


def combine(figure: Figure) -> tuple[Number, Number]:
    """The 5th and 95th percentile of a figure from what each key does to it.

    On a scale every key is an independent standard normal z and its effect a curve through its
    known changes. Added up, the curves give percentiles (see `percentiles`); a single key gives
    back its own ends, and where nothing is lopsided this is the root of the sum of squares. What
    keys do jointly comes from one run more for each end, at the most likely way to get there. The
    scale is the figure's own (log for amounts, logit for shares), on which a product of factors is
    exact. A sum over lots has a scale between that and the linear one for each of its ends, see
    `_scale_of_sum`.

    Arrays take a shorter way, `by_cumulants`, that knows neither curves nor joint effects.
    """
    if not figure.doubts:
        return figure.mid, figure.mid
    if not isinstance(figure.mid, (int, float)):
        to, back = _SCALES[figure.scale]
        middle = to(figure.mid)
        below, above = by_cumulants(
            [
                (to(figure.mid + low) - middle, to(figure.mid + high) - middle)
                for low, high in figure.doubts.values()
            ]
        )
        return least(back(middle + below), figure.mid), greatest(back(middle + above), figure.mid)
    if figure.summed and figure.joint is not None and figure.usable == "log":
        low, high = (
            _combined(figure, _scale_of_sum(figure, True))[0],
            _combined(figure, _scale_of_sum(figure, False))[1],
        )
    else:
        low, high = _combined(figure, _SCALES[figure.usable])
    if (
        figure.scale != "linear"
    ):  # an amount or a share that was combined on the linear scale still ends at its edge
        low = max(low, 0.0)
    if figure.scale == "logit":
        high = min(high, 1.0)
    # the middle is the figure at the middle of all that goes in; where many doubts lean one way it
    # lies beyond a percentile
    return min(low, figure.mid), max(high, figure.mid)


def _combined(figure: Figure, way: Way) -> tuple[float, float]:
    """Both ends by one scale."""
    to, back = way
    middle = to(figure.mid)
    changes = [
        (to(figure.mid + low) - middle, to(figure.mid + high) - middle)
        for low, high in figure.doubts.values()
    ]
    if len(changes) == 1 or not any(a or b for a, b in changes):
        found = [0.0, *(each for pair in changes for each in pair)]
        return float(back(middle + min(found))), float(back(middle + max(found)))
    shapes = [_shape(figure, key, middle, to) for key in figure.doubts]
    low, high = percentiles(shapes)
    if figure.joint is not None:
        low += PAIRS * _joint(figure, most_likely(True, changes), shapes, to)
        high += PAIRS * _joint(figure, most_likely(False, changes), shapes, to)
    return float(back(middle + low)), float(back(middle + high))


def _scale_of_sum(figure: Figure, low: bool) -> Way:
    """The power of the amount in which the changes of single keys add up to the change of all keys
    at once.

    Of independent lots that is the amount itself, of one lot its logarithm; lots that share some
    doubt lie between.
    """
    # a key that alone moves nothing that way stays where it is: its side would be a matter of
    # rounding
    changes = {key: min(pair) if low else max(pair) for key, pair in figure.doubts.items()}
    changes = {
        key: change
        for key, change in changes.items()
        if (-change if low else change) > _ROUNDING * figure.mid
    }
    sides = {
        key: -P95 if change == figure.doubts[key][0] else P95 for key, change in changes.items()
    }
    single = [
        1 + max(change, -figure.mid * (1 - _EDGE)) / figure.mid for change in changes.values()
    ]
    every = max(figure.at(sides) / figure.mid, _EDGE)

    def beyond(power: float) -> float:
        to, _ = _power(1.0, power)
        return float(sum(to(each) for each in single) - to(every))

    bottom, top = 0.0, 1.0
    if beyond(top) >= 0.0:
        return _power(figure.mid, top)
    if beyond(bottom) <= 0.0:
        return _power(figure.mid, bottom)
    for _ in range(_HALVINGS):
        power = (bottom + top) / 2
        bottom, top = (power, top) if beyond(power) > 0.0 else (bottom, power)
    return _power(figure.mid, (bottom + top) / 2)


_HALVINGS = 20


def _power(mid: float, power: float) -> Way:
    """The scale of Box and Cox 1964: the logarithm at power 0, the amount at power 1, both as parts
    of the middle.
    """
    if power < _LEAST_POWER:
        return (lambda x: math.log(max(x / mid, _EDGE))), (lambda y: mid * math.exp(y))
    return (lambda x: (max(x / mid, 0.0) ** power - 1.0) / power), (
        lambda y: mid * max(1.0 + power * y, 0.0) ** (1.0 / power)
    )


_LEAST_POWER = 1e-4


def _shape(figure: Figure, key: str, middle: float, to: Callable[[float], float]) -> Shape:
    low, high = (to(figure.mid + change) - middle for change in figure.doubts[key])
    if key not in figure.halves:
        return parabola(low, high)
    half_low, half_high = (to(figure.mid + change) - middle for change in figure.halves[key])
    return two_parabolas(low, half_low, half_high, high)


def _joint(
    figure: Figure, normals: Sequence[float], shapes: Sequence[Shape], to: Callable[[float], float]
) -> float:
    """What the keys do jointly at a point, beyond the sum of what each does alone; nothing where
    the figure leaves its scale there.
    """
    value = figure.at(dict(zip(figure.doubts, normals, strict=True)))
    if _usable(value, (), figure.usable) != figure.usable:
        return 0.0
    return float(
        to(value)
        - to(figure.mid)
        - sum(shape.at(z) for shape, z in zip(shapes, normals, strict=True))
    )


_LOPSIDED = 0.02
"""A key is lopsided where its two changes differ by more than this part of the figure's whole
half-width.
"""


def lopsided(figure: Figure) -> list[str]:
    """The keys that need a look half way to their ends."""
    to, _ = _SCALES[figure.usable]
    middle = to(figure.mid)
    changes = {
        key: (to(figure.mid + low) - middle, to(figure.mid + high) - middle)
        for key, (low, high) in figure.doubts.items()
    }
    most = _LOPSIDED * sum((b - a) ** 2 / 4 for a, b in changes.values()) ** 0.5
    return [key for key, (a, b) in changes.items() if abs(a + b) > most]


def add(parts: Iterable[Figure]) -> Figure:
    """The sum of figures of several lots: doubts of equal key add with their sign, so shared doubt
    stays shared.
    """
    parts = tuple(parts)
    if len(parts) == 1 and parts[0].scale == "log":
        return parts[0]
    total: Number = 0.0
    doubts: dict[str, tuple[Number, Number]] = {}
    halves: dict[str, tuple[Number, Number]] = {}
    for part in parts:
        total = total + part.mid
        for key, (low, high) in part.doubts.items():
            before = doubts.get(key, (0.0, 0.0))
            doubts[key] = (before[0] + low, before[1] + high)
    for part in parts:
        for key in part.halves:
            if key not in halves:
                halves[key] = _add_pairs(each.half(key) for each in parts if key in each.doubts)
    known = all(part.joint is not None for part in parts)
    return Figure(
        total,
        doubts,
        "log",
        halves,
        (lambda normals: sum(part.at(normals) for part in parts)) if known else None,
        summed=any(part.doubts and part.doubts.keys() != doubts.keys() for part in parts),
    )


def _add_pairs(pairs: Iterable[tuple[Number, Number]]) -> tuple[Number, Number]:
    low = high = 0.0
    for a, b in pairs:
        low, high = low + a, high + b
    return low, high


def estimate_of(figure: Figure, unit: str, factor: float) -> Estimate:
    """A figure in its public unit."""
    low, high = figure.ends
    return Estimate(
        min(low, figure.mid) * factor, figure.mid * factor, max(high, figure.mid) * factor, unit
    )
