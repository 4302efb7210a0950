"""Ends of a sum over lots whose amounts a person stated as ranges.

Such a range is a guess: a part of its normal is the person's, the same in every lot, and the rest
the lot's own. Where ranges are lopsided the two do not simply add: where the person guessed too low
every lot is also less sure. So the sum is looked at with the person's part at a few places, each
time as a sum of independent doubts by its first three moments, and these are mixed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from ..quantities.frozen import frozen
from .figure import Ratios, UncertainValue, joint_effect, scale_of_sum, shapes_on
from .folds import mixture_quantile, nodes
from .inputs import EDGE, FLOAT_WAYS, Way
from .intervals import (
    HIGH,
    LOW,
    Z95,
    Moments,
    Shape,
    moments,
    parabola,
    parabola_of,
    percentiles,
    two_parabolas,
)

_LOOKS = (-3.0, -2.0, -1.0, 0.0, 1.0)
"""Where the person's part stands for the low end, as standard normals; mirrored for the
high end.
"""
_SPACING = 0.25
_FINE_SPACING = _SPACING / 4
_NARROW = 0.3
"""Where the rest is narrower than this part of what the person's part does, the mixture needs finer
nodes.
"""
_POINTS = (-Z95, -Z95 / 2, Z95 / 2, Z95)

Changes = Sequence[float]
"""What a key does at its ends and half way to them, in order of its normal."""
Curves = tuple[Callable[[float], float], Callable[[float], float], Callable[[float], float]]
"""Mean, tilt and bend of a parabola of a normal, by where the person's part stands."""


@frozen
class _Guess:
    """What a stated range does to a part of the sum, as a factor; `person` and `own` are the
    weights of the two normals that it is made of.
    """

    key: str
    person: float
    own: float
    shape: Shape
    middle: float
    mid: float
    back: Callable[[float], float]

    @classmethod
    def of(cls, part: UncertainValue, key: str, shape: Shape, share: float) -> _Guess:
        to, back = FLOAT_WAYS[part.usable]
        weights = math.sqrt(share), math.sqrt(1.0 - share)
        return cls(key, *weights, shape, to(part.mid), part.mid, back)

    def factor(self, z: float) -> float:
        """The factor where the normal of the range is z."""
        return max(self.back(self.middle + self.shape.at(z)) / self.mid, EDGE)


@frozen
class _Part:
    """A part of the sum: what its guesses do, and what all its other keys do."""

    mid: float
    guesses: tuple[_Guess, ...]
    others: Mapping[str, Changes]

    @classmethod
    def of(cls, part: UncertainValue, bent: set[str]) -> _Part:
        """`bent` are the keys that need a look half way to their ends."""
        shapes = part.shapes() if part.shared else {}
        guesses = tuple(
            _Guess.of(part, key, shapes[key], share) for key, share in part.shared.items()
        )
        others: dict[str, Changes] = {}
        for key, (low, high) in part.sensitivities.items():
            if key not in part.shared:
                others[key] = (low, *part.half(key), high) if key in bent else (low, 0.0, 0.0, high)
        return cls(float(part.mid), guesses, others)


class StatedSum:
    """The sum of parts of which some rest on stated ranges; `person` is the key of what these
    share.
    """

    def __init__(self, parts: Sequence[UncertainValue], total: UncertainValue, person: str) -> None:
        self._total, self.person = total, person
        others = {key: pair for key, pair in total.sensitivities.items() if key != person}
        self._rest = replace(total, sensitivities=others)
        self._parts = parts
        self._seen: dict[float, tuple[float, Mapping[str, Changes]]] = {}

    def seen(self, p: float) -> UncertainValue:
        """The sum where the person's part stands at p."""
        mid, changes = self._look(p)
        ends = {key: (four[0], four[3]) for key, four in changes.items()}
        return UncertainValue(mid, ends, "log", _Seen(self, p), guessed=self)

    def at(self, p: float, normals: Mapping[str, float]) -> float:
        """The sum by its guesses alone, at normals of its lots' own parts."""
        total = 0.0
        for part in self._looked:
            here = part.mid
            for guess in part.guesses:
                here *= guess.factor(guess.person * p + guess.own * normals.get(guess.key, 0.0))
            total += here
        return total

    def halves(self, p: float, keys: Sequence[str]) -> dict[str, tuple[float, float]]:
        """What some keys do half way to their ends, with the person's part at p."""
        _, changes = self._look(p)
        return {key: (changes[key][1], changes[key][2]) for key in keys if key in self._bent}

    @cached_property
    def own(self) -> set[str]:
        """The keys of what is the lots' own of their ranges."""
        return {guess.key for part in self._looked for guess in part.guesses}

    def ratios(self) -> Ratios:
        """Both ends as parts of the middle."""
        mid = float(self._total.mid)
        return min(self._end(-1.0) / mid, 1.0), max(self._end(1.0) / mid, 1.0)

    def _end(self, side: float) -> float:
        """One end: the low one for side -1.

        It is that of all keys as if they added up, and the difference that it makes that they do
        not, by moments.
        """
        rest = self._rest
        way = scale_of_sum(rest, side < 0) if rest.summed else FLOAT_WAYS["log"]
        shapes = shapes_on(self._total, way)
        added = percentiles(list(shapes.values()))[side > 0]
        start = self._mixed(self._alone(shapes), side, 0.0)
        lean = joint_effect(rest, side < 0, way) / Z95**2
        difference = self._mixed(self._together(side, way), side, lean) - start
        return float(way[1](way[0](rest.mid) + added + difference))

    def _mixed(self, curves: Curves, side: float, lean: float) -> float:
        """An end of normals that are mixed over the person's part; `lean` is what is left of the
        joint effects of all others.
        """
        mean, tilt, bend = curves
        within, between = tilt(0.0), abs(mean(side) - mean(0.0))
        spacing = _FINE_SPACING if within < _NARROW * between else _SPACING
        rows = [
            (w, mean(p) - bend(p) - lean, max(tilt(p), 0.0), bend(p) + lean)
            for p, w in nodes(spacing)
        ]
        spread = math.hypot(within, between)
        guess = mean(0.0) + side * Z95 * spread
        return mixture_quantile(rows, LOW if side < 0 else HIGH, guess, spread)

    def _alone(self, shapes: Mapping[str, Shape]) -> Curves:
        """Mean, tilt and bend where the person's part only moves the whole."""
        parts = [moments(shape) for key, shape in shapes.items() if key != self.person]
        mean, variance, third = (math.fsum(part[n] for part in parts) for n in range(3))
        tilt, bend = parabola_of(variance, third)
        at = shapes[self.person].at
        return (lambda p: mean + at(p)), (lambda p: tilt), (lambda p: bend)

    def _together(self, side: float, way: Way) -> Curves:
        """Mean, tilt and bend as they are where the person's part stands."""
        places = sorted(-side * p for p in _LOOKS)
        seen = [self._on_scale(p, way) for p in places]
        mean, tilt, bend = (_curve(places, values) for values in zip(*seen, strict=True))
        return mean, tilt, bend

    @cached_property
    def _bent(self) -> set[str]:
        """Keys that need a look half way to their ends."""
        found = {key for part in self._parts for key in part.half_step_changes}
        return found | {key for part in self._parts for key in part.shared}

    @cached_property
    def _looked(self) -> list[_Part]:
        return [_Part.of(part, self._bent) for part in self._parts]

    def _look(self, p: float) -> tuple[float, Mapping[str, Changes]]:
        """The sum, and what every other key does, with the person's part at p."""
        if p not in self._seen:
            mid, changes = 0.0, dict[str, list[float]]()
            for part in self._looked:
                bases = [guess.factor(guess.person * p) for guess in part.guesses]
                factor = math.prod(bases)
                here = part.mid * factor
                mid += here
                for key, four in part.others.items():
                    _add(changes, key, four, factor)
                for guess, base in zip(part.guesses, bases, strict=True):
                    start = guess.person * p
                    four = [guess.factor(start + guess.own * z) / base - 1.0 for z in _POINTS]
                    _add(changes, guess.key, four, here)
            self._seen[p] = mid, changes
        return self._seen[p]

    def _on_scale(self, p: float, way: Way) -> tuple[float, float, float]:
        """Mean, tilt and bend on a scale, from the middle of the sum, with the person's part at
        p.
        """
        to = way[0]
        mid, changes = self._look(p)
        middle, base = to(mid), to(self._total.mid)
        mean = variance = third = 0.0
        for key, (low, half_low, half_high, high) in changes.items():
            a, b = to(mid + low) - middle, to(mid + high) - middle
            if key in self._bent:
                halves = to(mid + half_low) - middle, to(mid + half_high) - middle
                own: Moments = moments(two_parabolas(a, *halves, b))
            else:
                own = moments(parabola(a, b))
            mean, variance, third = mean + own.mean, variance + own.variance, third + own.third
        return (middle - base + mean, *parabola_of(variance, third))


@frozen
class _Seen:
    """The source of a sum where the person's part is known."""

    of: StatedSum
    p: float

    def half_step_changes(self, figure: UncertainValue) -> Mapping[str, tuple[float, float]]:
        return self.of.halves(self.p, figure.lopsided)

    @property
    def can_run(self) -> bool:
        return True

    def evaluate(self, normals: Mapping[str, float]) -> float:
        """Guesses as they add up, all other doubts by what each does alone."""
        figure = self.of.seen(self.p)
        others = [(key, [z]) for key, z in normals.items() if key not in self.of.own]
        rest = figure.alone(others)[0] / figure.mid if others else 1.0
        return self.of.at(self.p, normals) * rest


def _add(changes: dict[str, list[float]], key: str, four: Changes, factor: float) -> None:
    found = changes.setdefault(key, [0.0, 0.0, 0.0, 0.0])
    for n, change in enumerate(four):
        found[n] += factor * change


def _curve(places: Sequence[float], values: Sequence[float]) -> Callable[[float], float]:
    """The polynomial through evenly placed values; beyond them straight on."""

    def inside(p: float) -> float:
        found = 0.0
        for n, (place, value) in enumerate(zip(places, values, strict=True)):
            weight = 1.0
            for m, other in enumerate(places):
                if m != n:
                    weight *= (p - other) / (place - other)
            found += weight * value
        return found

    first, last = places[0], places[-1]
    low, high = values[1] - values[0], values[-1] - values[-2]

    def curve(p: float) -> float:
        if p < first:
            return values[0] + (p - first) * low / (places[1] - first)
        if p > last:
            return values[-1] + (p - last) * high / (last - places[-2])
        return inside(p)

    return curve
