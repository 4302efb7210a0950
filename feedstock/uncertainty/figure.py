"""A figure with its doubts by key, and its 5th and 95th percentile."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from typing import Protocol

from ..quantities.cell import Scale
from ..quantities.frozen import Once, frozen
from .elementwise import maximum, minimum
from .inputs import EDGE, FLOAT_WAYS, WAYS, Number, Way, power, usable_scale
from .intervals import (
    JOINT_SHARE,
    Z95,
    Shape,
    by_cumulants,
    most_likely,
    parabola,
    percentiles,
    two_parabolas,
)

ROUNDING = 1e-9
"""A change by less than this part of the middle is none: it may be all rounding."""
_LOPSIDED = 0.02
"""A key is lopsided where its two changes differ by more than this part of the whole half-width."""
_HALVINGS = 20

Ratios = tuple[float, float]
"""Both ends as parts of the middle."""


class Guessed(Protocol):
    """A sum on ranges that a person stated, whose key is `person`; `seen` where that is known."""

    person: str

    def seen(self, p: float) -> UncertainValue: ...


class Source(Protocol):
    """What can run a figure elsewhere than at its middle and at the ends of single keys."""

    def half_step_changes(self, figure: UncertainValue) -> Mapping[str, tuple[Number, Number]]:
        """The changes half way to the ends, for keys that need a look there."""

    @property
    def can_run(self) -> bool:
        """Whether `evaluate` can run the figure."""

    def evaluate(self, normals: Mapping[str, float]) -> float:
        """The figure with its keys at these standard normals."""


@frozen
class UncertainValue:
    """A figure with its doubts: for every key, the signed change when that key goes to its low and
    to its high end.

    `source` runs it anywhere between; `drawn` are its ends where they come from draws; `kept` gives
    its ends as parts of the middle where they are known from a lot that says the same; `summed`
    says that it is a sum over lots of which each has doubts of its own; `shared` holds for the
    ranges that a person stated the part of their variance that is the person's.

    >>> effects = {"scale:heap": (-1.0, 1.0), "meter:pin": (-2.0, 2.0)}
    >>> weight = UncertainValue(40.0, effects, "linear")
    >>> [round(end, 2) for end in weight.ends]
    [37.76, 42.24]
    >>> {key: round(share, 2) for key, share in weight.shares().items()}
    {'scale:heap': 0.2, 'meter:pin': 0.8}
    """

    mid: Number
    sensitivities: Mapping[str, tuple[Number, Number]] = field(default_factory=dict)
    scale: Scale = "log"
    source: Source | None = field(default=None, compare=False, repr=False)
    drawn: tuple[float, float] | None = None
    summed: bool = False
    shared: Mapping[str, float] = field(default_factory=dict)
    kept: Callable[[], Ratios | None] | None = field(default=None, compare=False, repr=False)
    guessed: Guessed | None = field(default=None, compare=False, repr=False)

    @Once
    def ends(self) -> tuple[Number, Number]:
        """The 5th and the 95th percentile: as drawn, as kept, or from what each key does."""
        if self.drawn is not None:
            return min(self.drawn[0], self.mid), max(self.drawn[1], self.mid)
        ratios = None if self.kept is None else self.kept()
        if ratios is not None:
            return ratios[0] * self.mid, ratios[1] * self.mid
        return combine(self)

    @Once
    def half_step_changes(self) -> Mapping[str, tuple[Number, Number]]:
        """The changes half way to the ends of the keys whose ends are lopsided."""
        if self.source is None or not isinstance(self.mid, (int, float)):
            return {}
        return self.source.half_step_changes(self)

    @Once
    def usable(self) -> Scale:
        """The scale on which all that is known of the figure can be told: its own, or the linear
        one at the edge of that.
        """
        own = self._of_ends[0]
        half = () if own == "linear" else self.half_step_changes.values()
        return usable_scale(self.mid, half, own) if half else own

    @Once
    def _of_ends(self) -> tuple[Scale, list[tuple[Number, Number]]]:
        """The scale on which the changes at the ends can be told, and these on it."""
        own = usable_scale(self.mid, self.sensitivities.values(), self.scale)
        return own, self.changes((FLOAT_WAYS if isinstance(self.mid, float) else WAYS)[own][0])

    def changes_on(self, way: Way) -> list[tuple[Number, Number]]:
        """The changes of every key on a scale, found once on that of the ends."""
        own, changes = self._of_ends
        return changes if way is FLOAT_WAYS[own] else self.changes(way[0])

    def changes(self, to: Callable[[Number], Number]) -> list[tuple[Number, Number]]:
        """The changes of every key on a scale."""
        mid = self.mid
        middle = to(mid)
        return [
            (to(mid + low) - middle, to(mid + high) - middle)
            for low, high in self.sensitivities.values()
        ]

    def shapes(self) -> dict[str, Shape]:
        """What every key does, on the usable scale."""
        return shapes_on(self, FLOAT_WAYS[self.usable])

    @Once
    def lopsided(self) -> Sequence[str]:
        """The keys that need a look half way to their ends."""
        changes = self._of_ends[1]
        if not changes:
            return []
        most = _LOPSIDED * math.dist(*zip(*changes, strict=True)) / 2
        return [
            key
            for key, (a, b) in zip(self.sensitivities, changes, strict=True)
            if abs(a + b) > most
        ]

    def shares(self) -> dict[str, float]:
        """For every key, the share of the width that it causes; they add to 1 where there is any
        doubt.
        """
        squares = {
            key: min(a, b, 0.0) ** 2 + max(a, b, 0.0) ** 2
            for key, (a, b) in zip(
                self.sensitivities, self.changes(WAYS[self.usable][0]), strict=True
            )
        }
        total = math.fsum(squares.values())
        return {key: square / total for key, square in squares.items()} if total > 0 else {}

    def half(self, key: str) -> tuple[Number, Number]:
        """The changes half way to the ends of a key: as they were run, or on the parabola through
        the ends.
        """
        if key in self.half_step_changes:
            return self.half_step_changes[key]
        to, back = WAYS[self.usable]
        middle = to(self.mid)
        shape = _shape(self, key, middle, to)
        return (
            back(middle + shape.at(-Z95 / 2)) - self.mid,
            back(middle + shape.at(Z95 / 2)) - self.mid,
        )

    def at(self, normals: Mapping[str, float]) -> float:
        """The figure where its keys have these standard normals; without a chain to run, by what
        each key does alone.
        """
        known = self.sensitivities.keys()
        moved = {key: z for key, z in normals.items() if z and key in known}
        if not moved:
            return float(self.mid)
        if len(moved) == 1:
            ((key, z),) = moved.items()
            pair = self.sensitivities[key] if abs(z) == Z95 else None
            if abs(z) == Z95 / 2:
                pair = self.half_step_changes.get(key)
            if pair is not None:
                return float(self.mid + pair[z > 0])
        if self.source is not None and self.source.can_run:
            return self.source.evaluate(moved)
        return self.alone([(key, [z]) for key, z in moved.items()])[0]

    def alone(self, normals: Sequence[tuple[str, Sequence[float]]]) -> list[float]:
        """The figure at many points, by what each key does alone."""
        to, back = FLOAT_WAYS[self.usable]
        middle = to(self.mid)
        totals = [middle] * len(normals[0][1]) if normals else [middle]
        for key, many in normals:
            shape = _shape(self, key, middle, to)
            totals = [total + shape.at(z) for total, z in zip(totals, many, strict=True)]
        return [float(back(total)) for total in totals]

    def times(self, factor: float) -> UncertainValue:
        """The same figure times a certain number."""
        changes = {k: (factor * a, factor * b) for k, (a, b) in self.sensitivities.items()}
        source = None if self.source is None else _Scaled(self, factor)
        # every field by its place: by their names takes several times as long
        mid, scale, summed = factor * self.mid, self.scale, self.summed
        return UncertainValue(mid, changes, scale, source, None, summed, self.shared, None, None)


@frozen
class _Scaled:
    """The source of a figure times a factor."""

    of: UncertainValue
    factor: float

    def half_step_changes(self, figure: UncertainValue) -> Mapping[str, tuple[Number, Number]]:
        return {
            k: (self.factor * a, self.factor * b) for k, (a, b) in self.of.half_step_changes.items()
        }

    @property
    def can_run(self) -> bool:
        return self.of.source is not None and self.of.source.can_run

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return self.factor * self.of.at(normals)


def combine(figure: UncertainValue) -> tuple[Number, Number]:
    """The 5th and 95th percentile of a figure from what each key does to it.

    On a scale every key is an independent standard normal z and its effect a curve through its
    known changes. Added up, the curves give percentiles (see `percentiles`); a single key gives
    back its own ends, and where nothing is lopsided this is the root of the sum of squares. What
    keys do jointly comes from one run more for each end, at the most likely way to get there. The
    scale is the figure's own (log for amounts, logit for shares), on which a product of factors is
    exact. A sum over lots has a scale between that and the linear one for each of its ends, see
    `scale_of_sum`.

    Arrays take a shorter way, `by_cumulants`, that knows neither curves nor joint effects.
    """
    if not figure.sensitivities:
        return figure.mid, figure.mid
    if not isinstance(figure.mid, (int, float)):
        to, back = WAYS[figure.scale]
        below, above = by_cumulants(figure.changes(to))
        middle = to(figure.mid)
        return minimum(back(middle + below), figure.mid), maximum(back(middle + above), figure.mid)
    if figure.summed and figure.usable == "log" and _can_run(figure):
        low = _combined(figure, scale_of_sum(figure, True))[0]
        high = _combined(figure, scale_of_sum(figure, False))[1]
    else:
        low, high = _combined(figure, FLOAT_WAYS[figure.usable])
    if figure.scale != "linear":
        # an amount or a share that was combined on the linear scale still ends at its edge
        low = max(low, 0.0)
    if figure.scale == "logit":
        high = min(high, 1.0)
    # the middle is the figure at the middle of all that goes in; where many doubts lean one way it
    # lies beyond a percentile
    return min(low, figure.mid), max(high, figure.mid)


def _can_run(figure: UncertainValue) -> bool:
    return figure.source is not None and figure.source.can_run


def _combined(figure: UncertainValue, way: Way) -> tuple[float, float]:
    """Both ends by one scale."""
    to, back = way
    middle = to(figure.mid)
    changes = figure.changes_on(way)
    if len(changes) == 1 or not any(map(any, changes)):
        ends = [0.0, *(change for pair in changes for change in pair)]
        return float(back(middle + min(ends))), float(back(middle + max(ends)))
    shapes = _shapes(figure, changes, middle, to)
    low, high = percentiles(shapes)
    if _can_run(figure):
        at_low, at_high = most_likely(changes)
        low += JOINT_SHARE * _joint(figure, at_low, shapes, middle, to)
        high += JOINT_SHARE * _joint(figure, at_high, shapes, middle, to)
    return float(back(middle + low)), float(back(middle + high))


def shapes_on(figure: UncertainValue, way: Way) -> dict[str, Shape]:
    """What every key does on a scale."""
    to = way[0]
    shapes = _shapes(figure, figure.changes_on(way), to(figure.mid), to)
    return dict(zip(figure.sensitivities, shapes, strict=True))


def joint_effect(figure: UncertainValue, low: bool, way: Way) -> float:
    """What all keys do jointly at the most likely way to an end, on a scale."""
    if not _can_run(figure):
        return 0.0
    to = way[0]
    middle, changes = to(figure.mid), figure.changes_on(way)
    shapes = _shapes(figure, changes, middle, to)
    return _joint(figure, most_likely(changes)[not low], shapes, middle, to)


def _shapes(
    figure: UncertainValue,
    changes: Sequence[tuple[float, float]],
    middle: float,
    to: Callable[[float], float],
) -> list[Shape]:
    half_step_changes, mid = figure.half_step_changes, figure.mid
    if not half_step_changes:
        return [parabola(low, high) for low, high in changes]
    shapes = []
    for key, (low, high) in zip(figure.sensitivities, changes, strict=True):
        half = half_step_changes.get(key)
        if half is None:
            shapes.append(parabola(low, high))
        else:
            below, above = to(mid + half[0]) - middle, to(mid + half[1]) - middle
            shapes.append(two_parabolas(low, below, above, high))
    return shapes


def scale_of_sum(figure: UncertainValue, low: bool) -> Way:
    """The power of the amount in which the changes of single keys add up to the change of all keys
    at once.

    Of independent lots that is the amount itself, of one lot its logarithm; lots that share some
    doubt lie between.
    """
    # a key that alone moves nothing that way stays where it is: its side would be a matter of
    # rounding
    changes = {key: min(pair) if low else max(pair) for key, pair in figure.sensitivities.items()}
    changes = {
        key: change
        for key, change in changes.items()
        if (-change if low else change) > ROUNDING * figure.mid
    }
    sides = {
        key: -Z95 if change == figure.sensitivities[key][0] else Z95
        for key, change in changes.items()
    }
    single = [1 + max(change, -figure.mid * (1 - EDGE)) / figure.mid for change in changes.values()]
    every = max(figure.at(sides) / figure.mid, EDGE)

    def beyond(exponent: float) -> float:
        to, _ = power(1.0, exponent)
        return float(math.fsum([to(part) for part in single]) - to(every))

    bottom, top = 0.0, 1.0
    if beyond(top) >= 0.0:
        return power(figure.mid, top)
    if beyond(bottom) <= 0.0:
        return power(figure.mid, bottom)
    for _ in range(_HALVINGS):
        exponent = (bottom + top) / 2
        bottom, top = (exponent, top) if beyond(exponent) > 0.0 else (bottom, exponent)
    return power(figure.mid, (bottom + top) / 2)


def _shape(figure: UncertainValue, key: str, middle: float, to: Callable[[float], float]) -> Shape:
    low, high = (to(figure.mid + change) - middle for change in figure.sensitivities[key])
    if key not in figure.half_step_changes:
        return parabola(low, high)
    half_low, half_high = (
        to(figure.mid + change) - middle for change in figure.half_step_changes[key]
    )
    return two_parabolas(low, half_low, half_high, high)


def _joint(
    figure: UncertainValue,
    normals: Sequence[float],
    shapes: Sequence[Shape],
    middle: float,
    to: Callable[[float], float],
) -> float:
    """What the keys do jointly at a point, beyond the sum of what each does alone; nothing where
    the figure leaves its scale there.
    """
    assert figure.source is not None
    value = figure.source.evaluate(dict(zip(figure.sensitivities, normals, strict=True)))
    scale = figure.usable
    if scale != "linear" and not EDGE < value < (1.0 - EDGE if scale == "logit" else math.inf):
        return 0.0
    # not by sum(): the last digit must not hang on the order in which keys came
    alone = math.fsum(
        [
            (above + bend_above * z) * z if z > 0.0 else (below + bend_below * z) * z
            for (below, bend_below, above, bend_above), z in zip(shapes, normals, strict=True)
        ]
    )
    return float(to(value) - middle - alone)
