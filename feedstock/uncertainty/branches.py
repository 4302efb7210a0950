"""A smooth figure as a branch of what bends: as a curve of a normal of its own, with what every key
brings to that.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import field
from typing import NamedTuple

from ..quantities.frozen import Once, frozen
from .figure import UncertainValue
from .inputs import EDGE, FLOAT_WAYS
from .intervals import (
    JOINT_SHARE,
    Z95,
    Moments,
    Shape,
    ends_of,
    moments,
    most_likely,
    parabola_of,
    percentiles,
)

_STRAIGHT = 1e-4
"""A curve that leans less is straight."""
_SMALL, _OTHERS = 0.02, "others"
"""Keys that do less than this part of the whole stand together as one key without a name."""
_STEEPEST = 0.02
"""No side of a curve is taken for less than this part of both."""
_NEVER = 9.0
"""A bound beyond all normals."""
_LEAN = 0.6
"""Keys that lean further in sum do not go in together; what is quenched has several such."""
_EVEN = 0.3
"""A figure leans little whose third cumulant is less than this part of the cube of its spread."""
_LITTLE = 0.01
"""Keys that do less than this part of the width jointly do it nowhere."""
_TRIED, _MOST = 4, 0.7
"""So many keys are tried, the widest; and none that has a larger part of the variance: what is left
would be too narrow to lie even between the looks.
"""
_HALF_SQUARE, _HALF_CUBE = 0.5, 2 / math.sqrt(2 * math.pi)
"""E[z^2; z > 0] and E[z^3; z > 0] of the standard normal."""


class Curve(NamedTuple):
    """What a figure is by its own normal: start + tilt (exp(lean z) - 1) / lean."""

    start: float
    tilt: float
    lean: float

    @classmethod
    def through(cls, low: float, median: float, high: float) -> Curve:
        """The curve with these percentiles, the 5th, the 50th and the 95th.

        >>> curve = Curve.through(-1.0, 0.0, 2.0)
        >>> [round(curve.at(z), 6) for z in (-Z95, 0.0, Z95)]
        [-1.0, 0.0, 2.0]
        """
        least = _STEEPEST * (high - low)
        if not least > 0.0:
            return cls(median, 0.0, 1.0)
        lean = math.log(max(high - median, least) / max(median - low, least)) / Z95
        if abs(lean) < _STRAIGHT:
            lean = _STRAIGHT
        tilt = (high - low) / (2 * Z95)
        return cls(median, tilt * Z95 * lean / math.sinh(lean * Z95), lean)

    def at(self, z: float) -> float:
        """The value where the normal is z."""
        start, tilt, lean = self
        return start + tilt * (math.exp(lean * z) - 1.0) / lean

    def scaled(self, places: Sequence[float]) -> list[float]:
        """Places as `bounds` takes them."""
        slope = self.lean / self.tilt if self.tilt else 0.0
        return [slope * place for place in places]

    def bounds(self, value: float, scaled: Sequence[float]) -> list[float]:
        """The normals at which the curve, moved by some places, has a value.

        >>> curve = Curve.through(-1.0, 0.0, 2.0)
        >>> [round(z, 6) for z in curve.bounds(2.0, curve.scaled([0.0, 3.0]))]
        [1.644854, -1.644854]
        """
        start, tilt, lean = self
        if not tilt:
            return [_NEVER if start <= value else -_NEVER for _ in scaled]
        inside, per, log = 1.0 + (value - start) * lean / tilt, 1.0 / lean, math.log
        if inside - max(scaled) > EDGE:
            return [per * log(inside - place) for place in scaled]
        edge = math.copysign(_NEVER, -lean)
        return [per * log(inside - place) if inside - place > EDGE else edge for place in scaled]


@frozen
class Branch:
    """A figure with what every key does on its scale, by shape and by moments."""

    figure: UncertainValue
    shapes: Mapping[str, Shape]
    parts: Mapping[str, Moments]
    _joint: dict[frozenset[str], tuple[float, float]] = field(default_factory=dict)

    @classmethod
    def of(cls, figure: UncertainValue) -> Branch:
        of_keys = _gathered(figure.shapes()) if figure.sensitivities else {}
        shapes = dict(zip(of_keys, map(_on_its_way, of_keys.values()), strict=True))
        return cls(figure, shapes, dict(zip(shapes, map(moments, shapes.values()), strict=True)))

    @property
    def log(self) -> bool:
        """Whether the figure is told by its logarithm."""
        return self.figure.usable == "log" and self.figure.mid > EDGE

    def middle(self, log: bool) -> float:
        return math.log(self.figure.mid) if log else float(self.figure.mid)

    def variance(self, keys: Collection[str]) -> float:
        return math.fsum([part.variance for key, part in self.parts.items() if key in keys])

    @Once
    def in_all(self) -> float:
        """The variance of the whole."""
        return math.fsum([part.variance for part in self.parts.values()])

    @Once
    def of_keys(self) -> Mapping[str, tuple[float, float]]:
        """What each key does at its ends."""
        return {key: (shape.at(-Z95), shape.at(Z95)) for key, shape in self.shapes.items()}

    def rest(self, common: Collection[str]) -> Curve:
        """What all but the common keys do, by three moments."""
        mean, variance, third = _sum([p for k, p in self.parts.items() if k not in common])
        tilt, bend = parabola_of(variance, third)
        start, up = mean - bend, bend * Z95**2
        return Curve.through(start + up - tilt * Z95, start, start + up + tilt * Z95)

    def whole(self, log: bool, keys: Collection[str] | None = None) -> Curve:
        """The figure, or with some of its keys alone, through its percentiles: among several, one
        that leans little goes by its moments.
        """
        names = [key for key in self.shapes if keys is None or key in keys]
        parts = [self.parts[key] for key in names]
        of = _sum(parts)
        median = of.mean - parabola_of(of.variance, of.third)[1]
        even = len(names) > 2 and abs(of.third) < _EVEN * of.variance**1.5
        low, high = self._jointly(names, *ends_of(of)) if even else self._ends(names, parts)
        if log or self.figure.usable == "linear":
            middle = self.middle(log)
            return Curve.through(middle + low, middle + median, middle + high)
        to, back = FLOAT_WAYS[self.figure.usable]
        middle = to(self.figure.mid)
        return Curve.through(*(back(middle + away) for away in (low, median, high)))

    def ends(self) -> tuple[float, float]:
        """The 5th and the 95th percentile of the figure, in its own unit."""
        to, back = FLOAT_WAYS[self.figure.usable]
        low, high = self._ends(list(self.shapes), list(self.parts.values()))
        middle = to(self.figure.mid)
        return back(middle + low), back(middle + high)

    def _ends(self, names: Sequence[str], parts: Sequence[Moments]) -> tuple[float, float]:
        shapes = [self.shapes[key] for key in names]
        if len(shapes) < 2:
            ends = [0.0, *(shape.at(z) for shape in shapes for z in (-Z95, Z95))]
            return min(ends), max(ends)
        return self._jointly(names, *percentiles(shapes, parts, _LEAN))

    def _jointly(self, names: Sequence[str], low: float, high: float) -> tuple[float, float]:
        """Both ends with what some keys do jointly."""
        most = max(map(abs, self.joint(self.shapes))) if len(names) < len(self.shapes) else math.inf
        if most < _LITTLE * (high - low):
            return low, high
        below, above = self.joint(names)
        return low + JOINT_SHARE * below, high + JOINT_SHARE * above

    def joint(self, keys: Collection[str]) -> tuple[float, float]:
        """What some keys do jointly at the most likely way to each end, beyond the sum of what each
        does alone.
        """
        source, marked = self.figure.source, frozenset(keys)
        if marked not in self._joint:
            names = [key for key in self.shapes if key in marked]
            shapes = [self.shapes[key] for key in names]
            ends = 0.0, 0.0
            if source is not None and source.can_run and len(names) > 1:
                ways = most_likely([self.of_keys[key] for key in names])
                ends = self._beyond(names, shapes, ways[0]), self._beyond(names, shapes, ways[1])
            self._joint[marked] = ends
        return self._joint[marked]

    def _beyond(self, names: Sequence[str], shapes: Sequence[Shape], at: Sequence[float]) -> float:
        assert self.figure.source is not None
        value = self.figure.source.evaluate(dict(zip(names, at, strict=True)))
        scale = self.figure.usable
        if scale != "linear" and not EDGE < value < (1.0 - EDGE if scale == "logit" else math.inf):
            return 0.0
        to = FLOAT_WAYS[scale][0]
        # as `Shape.at`, which would be asked ten thousand times here
        alone = math.fsum(
            [
                (above + bend_above * z) * z if z > 0.0 else (below + bend_below * z) * z
                for (below, bend_below, above, bend_above), z in zip(shapes, at, strict=True)
            ]
        )
        return float(to(value) - to(self.figure.mid) - alone)

    def one_sided(self, keys: Collection[str] | None = None) -> float:
        """By how much more keys do jointly at one end of a figure than at the other, as a part of
        its width: what they do as products they do at both alike.
        """
        if self.figure.usable == "linear":
            return 0.0
        low, high = self.joint(self.shapes if keys is None else keys)
        if low == high:
            return 0.0
        return abs(low - high) / (2 * Z95 * math.sqrt(self.in_all))

    def tried(self) -> list[str]:
        """The keys of which one may be that without which all others add up best."""
        most = _MOST * self.in_all
        narrow = [k for k, p in self.parts.items() if p.variance <= most and k != _OTHERS]
        return sorted(narrow, key=lambda key: (-self.parts[key].variance, key))[:_TRIED]

    def loadings(self, common: Collection[str]) -> dict[str, float]:
        """What all but the common keys bring to the normal of the figure."""
        straight = {k: _straight(shape) for k, shape in self.shapes.items() if k not in common}
        length = math.sqrt(math.fsum([part * part for part in straight.values()]))
        return {key: part / length for key, part in straight.items()} if length > 0.0 else {}


def _gathered(shapes: Mapping[str, Shape]) -> Mapping[str, Shape]:
    """The shapes, and those of keys that do very little as one: a third of all keys, and a
    hundredth of the variance.
    """
    widths = [abs(shape.below) + abs(shape.above) for shape in shapes.values()]
    least = _SMALL * math.hypot(*widths)
    small = [width for width in widths if width < least]
    if len(small) < 2:
        return shapes
    pairs = zip(shapes.items(), widths, strict=True)
    left = {key: shape for (key, shape), width in pairs if width >= least}
    tilt = math.hypot(*small) / 2
    left[_OTHERS] = Shape(tilt, 0.0, tilt, 0.0)
    return left


def _on_its_way(shape: Shape) -> Shape:
    """A shape that does not turn back near its ends: what is clamped there stays where it is."""
    below, bend_below, above, bend_above = shape
    back_below = bend_below * below > 0.0 and abs(below) < 2.0 * _TURN * abs(bend_below)
    back_above = bend_above * above < 0.0 and abs(above) < 2.0 * _TURN * abs(bend_above)
    if not back_below and not back_above:
        return shape
    if back_above:
        above = shape.at(Z95) / (Z95 - Z95**2 / (2.0 * _TURN))
        bend_above = -above / (2.0 * _TURN)
    if back_below:
        below = shape.at(-Z95) / (-Z95 + Z95**2 / (2.0 * _TURN))
        bend_below = below / (2.0 * _TURN)
    return Shape(below, bend_below, above, bend_above)


_TURN = 2.2


def _sum(parts: Sequence[Moments]) -> Moments:
    return Moments(*[math.fsum(column) for column in zip(*parts, strict=True)] or (0.0,) * 3)


def _straight(shape: Shape) -> float:
    """The straight part of what a key does: E[z f(z)]."""
    below, bend_below, above, bend_above = shape
    return _HALF_SQUARE * (above + below) + _HALF_CUBE * (bend_above - bend_below)
