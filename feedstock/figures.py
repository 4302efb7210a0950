"""The one mechanism behind every figure: a graph of steps, run at the middle and at both ends of
every doubt.

A chain is an ordered tuple of `Step`s, each a pure function with named inputs and one named output.
An `Input` has three values (5th percentile, middle, 95th percentile) and a key: inputs with the
same key are the same draw, wherever they occur; different keys are independent. From one run with
everything at its middle and two runs per key (four where the ends are lopsided) come a figure's
value, its interval, what it shares with the figures of other lots, and its explanation. The same
functions run on arrays, which is the bulk form.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from typing import Any, Literal, TypeVar

from .elementwise import exp, greatest, least, log
from .percentiles import (
    P95,
    PAIRS,
    Shape,
    by_cumulants,
    most_likely,
    parabola,
    percentiles,
    two_parabolas,
)

Scale = Literal["linear", "log", "logit"]
Number = Any
"""A float, or an array of floats in the bulk form."""

Function = TypeVar("Function", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class Formula:
    """What a function of the physics computes, by which reference, and the units of its arguments
    and its result.
    """

    name: str
    reference: str
    units: Mapping[str, str]


def formula(name: str, reference: str, /, **units: str) -> Callable[[Function], Function]:
    """Attach a `Formula` to a function and return the function itself, so that calling it costs
    nothing more.
    """

    def attach(function: Function) -> Function:
        function.formula = Formula(name, reference, units)  # type: ignore[attr-defined]
        return function

    return attach


def formula_of(function: Callable[..., Any]) -> Formula:
    """The formula attached to a function; for one without, its name and nothing else."""
    found = getattr(function, "formula", None)
    return found if isinstance(found, Formula) else Formula(function.__name__, "", {})


@dataclass(frozen=True, slots=True)
class Origin:
    """Where an input comes from: a cell of a table, a field that the user filled in, or a stated
    assumption.
    """

    kind: Literal["table", "field", "assumption"]
    text: str
    set: str = ""
    version: str = ""
    row: str = ""
    field: str = ""
    file: str = ""
    line: int | None = None
    sources: tuple[str, ...] = ()
    locator: str = ""
    known: str = ""
    note: str = ""
    inherited_from: str = ""


UNIT_OF = {
    "mass": "kg",
    "length": "m",
    "volume": "m^3",
    "density": "kg/m^3",
    "temperature": "degC",
    "specific energy": "J/kg",
    "time": "s",
    "flow": "m^3/s",
    "area rate": "kg/m^2/s",
    "area density": "kg/m^2",
}
"""The SI unit in which a value of a dimension enters a chain; a share has none."""


@dataclass(frozen=True, slots=True)
class Input:
    """One uncertain (or, with equal ends, certain) number that enters a chain; `unit` is its SI
    unit.
    """

    name: str
    low: Number
    mid: Number
    high: Number
    scale: Scale
    key: str
    origin: Origin
    unit: str = ""

    @property
    def certain(self) -> bool:
        same = (self.low == self.mid) & (self.mid == self.high)
        return same if isinstance(same, bool) else False

    def at(self, z: float) -> float:
        """The input where its key has the standard normal z: its ends at P95 to either side,
        straight to each on its scale.

        A value at the very edge of the scale has no logarithm: the way is then straight on the
        linear scale, as far as the edge.
        """
        low, mid, high = float(self.low), float(self.mid), float(self.high)
        if z == 0.0:
            return mid
        end, part = (high, z / P95) if z > 0.0 else (low, -z / P95)
        if self.scale == "log" and min(low, mid, high) > _EDGE:
            return float(mid * (end / mid) ** part)
        if (
            self.scale == "logit"
            and min(low, mid, high) > _EDGE
            and max(low, mid, high) < 1.0 - _EDGE
        ):
            odds = mid / (1.0 - mid)
            odds *= (end / (1.0 - end) / odds) ** part
            return float(odds / (1.0 + odds))
        value = mid + part * (end - mid)
        if self.scale != "linear":
            value = max(value, 0.0)
        return min(value, 1.0) if self.scale == "logit" else value


@dataclass(frozen=True, slots=True)
class Step:
    """`output = function(*inputs)`; `scale` is the one on which the output's doubts are
    combined.
    """

    output: str
    function: Callable[..., Any]
    inputs: tuple[str, ...]
    scale: Scale = "log"


Chain = tuple[Step, ...]


@lru_cache(maxsize=512)
def _downstream(chain: Chain) -> dict[str, tuple[int, ...]]:
    """For every name, the steps that depend on it, in order."""
    found: dict[str, set[int]] = {}
    for index in range(len(chain) - 1, -1, -1):
        step = chain[index]
        behind = {index} | found.get(step.output, set())
        for name in step.inputs:
            found.setdefault(name, set()).update(behind)
    return {name: tuple(sorted(steps)) for name, steps in found.items()}


def run(chain: Sequence[Step], values: Mapping[str, Number]) -> dict[str, Number]:
    """All values of a chain for given values of its inputs.

    Raises KeyError for an input that is missing.
    """
    found = dict(values)
    for step in chain:
        found[step.output] = step.function(*[found[name] for name in step.inputs])
    return found


def _rerun(
    chain: Chain,
    after: Mapping[str, tuple[int, ...]],
    base: Mapping[str, Number],
    moved: Mapping[str, Number],
) -> dict[str, Number]:
    """All values with some inputs moved: only the steps behind them run again.

    `after` is that of `_downstream`.
    """
    behind = [after[name] for name in moved if name in after]
    steps: Iterable[int] = behind[0] if len(behind) == 1 else sorted(set().union(*behind))
    found = dict(base)
    found.update(moved)
    for index in steps:
        step = chain[index]
        found[step.output] = step.function(*[found[name] for name in step.inputs])
    return found


At = Callable[[Mapping[str, float]], Number]
"""A figure as a function of the standard normals of its keys; keys that are not given are at their
middle.
"""


def _joint_run(
    chain: Chain, base: Mapping[str, Number], groups: Mapping[str, Sequence[Input]], output: str
) -> At:
    """An output anywhere between the ends of its inputs.

    Only the steps that lead to it run; which they are is found out at the first call.
    """
    steps: list[Step] = []
    values: dict[str, Number] = {}
    members: dict[str, list[Input]] = {}

    def at(normals: Mapping[str, float]) -> Number:
        if not values:
            needed = upstream(chain, output)
            steps.extend(step for step in chain if step.output in needed)
            values.update((name, base[name]) for name in needed)
            members.update(
                (key, [each for each in inputs if each.name in needed])
                for key, inputs in groups.items()
            )
        return run(
            steps,
            {
                **values,
                **{
                    each.name: each.at(z)
                    for key, z in normals.items()
                    for each in members.get(key, ())
                },
            },
        )[output]

    return at


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


_EDGE = 1e-12
"""Nearer to the edge of its scale than this a value counts as at the edge: its logarithm would only
be rounding.
"""
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


def figures(chain: Chain, inputs: Sequence[Input], wanted: Sequence[str]) -> dict[str, Figure]:
    """The wanted outputs of a chain, each with its doubts by key."""
    base = run(chain, {each.name: each.mid for each in inputs})
    scales: dict[str, Scale] = {step.output: step.scale for step in chain}
    scales.update({each.name: each.scale for each in inputs if each.name not in scales})
    groups: dict[str, list[Input]] = {}
    after = _downstream(chain)
    for each in inputs:
        if not each.certain and (each.name in after or each.name in wanted):
            groups.setdefault(each.key, []).append(each)

    def rerun(moved: Iterable[tuple[Input, Number]]) -> dict[str, Number]:
        return _rerun(chain, after, base, {each.name: value for each, value in moved})

    moves = {
        key: (
            rerun((each, each.low) for each in members),
            rerun((each, each.high) for each in members),
        )
        for key, members in groups.items()
    }

    def half(key: str) -> tuple[dict[str, Number], dict[str, Number]]:
        return rerun((each, each.at(-P95 / 2)) for each in groups[key]), rerun(
            (each, each.at(P95 / 2)) for each in groups[key]
        )

    return from_moves(
        base,
        moves,
        half,
        {name: _joint_run(chain, base, groups, name) for name in wanted},
        {name: scales[name] for name in wanted},
    )


Values = Mapping[str, Number]


def from_moves(
    base: Values,
    moves: Mapping[str, tuple[Values, Values]],
    half: Callable[[str], tuple[Values, Values]],
    joint: Mapping[str, At],
    wanted: Mapping[str, Scale],
) -> dict[str, Figure]:
    """Figures from all values at the middle and with each key at its ends.

    `half` gives all values with a key half way to its ends, `joint` the way to run each figure,
    `wanted` the scales.
    """
    found = {}
    for name, scale in wanted.items():
        doubts = {
            key: (low[name] - base[name], high[name] - base[name])
            for key, (low, high) in moves.items()
        }
        found[name] = Figure(
            base[name],
            {key: pair for key, pair in doubts.items() if not _nothing(pair, base[name])},
            scale,
        )
    if not all(isinstance(each.mid, (int, float)) for each in found.values()):
        return found
    uneven = {name: lopsided(each) for name, each in found.items()}
    halves = {
        key: half(key) for key in dict.fromkeys(key for keys in uneven.values() for key in keys)
    }
    for name, figure in found.items():
        changes = {
            key: (halves[key][0][name] - base[name], halves[key][1][name] - base[name])
            for key in uneven[name]
        }
        found[name] = replace(figure, halves=changes, joint=joint.get(name))
    return found


def _nothing(pair: tuple[Number, Number], mid: Number) -> bool:
    """Whether a key leaves a figure where it is, but for rounding: such a key must not count as a
    doubt that lots share or not.
    """
    low, high = pair
    return (
        isinstance(low, (int, float))
        and isinstance(high, (int, float))
        and max(abs(low), abs(high)) <= _ROUNDING * abs(mid)
    )


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


@dataclass(frozen=True, slots=True)
class Term:
    """One step of an explanation: what was computed, by which formula, from which values."""

    output: str
    value: float
    unit: str
    formula: str
    reference: str
    inputs: tuple[tuple[str, float], ...]
    lot: str = ""


@dataclass(frozen=True, slots=True)
class Doubt:
    """One input of an explanation: its three values, where it comes from, and its share of the
    figure's width.
    """

    name: str
    low: float
    mid: float
    high: float
    unit: str
    key: str
    share: float
    origin: Origin
    lot: str = ""

    @property
    def shows(self) -> bool:
        """Whether its share is more than nothing when it is told in whole per cents."""
        return self.share >= 0.005


@dataclass(frozen=True, slots=True)
class Explanation:
    """How a figure came about: its parts (one per lot), the steps in order, and the inputs, widest
    doubt first.

    The shares of the inputs add to 1. Inputs of one key share that key's part of the width; it
    stands at the first.
    """

    figure: str
    unit: str
    low: float
    mid: float
    high: float
    parts: tuple[tuple[str, float], ...]
    steps: tuple[Term, ...]
    inputs: tuple[Doubt, ...]
    notes: tuple[str, ...] = ()

    def __str__(self) -> str:
        lines = [
            f"{self.figure}: {self.low:.3g} to {self.high:.3g} {self.unit}, likely "
            f"{self.mid:.3g} {self.unit}"
        ]
        lines += [
            f"  {doubt.share:4.0%} of the width: {doubt.name} ({doubt.origin.text})"
            for doubt in self.inputs
            if doubt.shows
        ]
        return "\n".join(lines)


def explain(
    name: str,
    unit: str,
    lots: Sequence[tuple[str, Chain, Sequence[Input]]],
    output: str,
    factor: float = 1.0,
    notes: Iterable[str] = (),
) -> Explanation:
    """Run the chains of the lots again and read the explanation of the sum of `output` off them.

    `factor` turns the chain's SI value into `unit`.
    """
    parts = [figures(chain, inputs, [output])[output] for _, chain, inputs in lots]
    total = add(parts) if len(parts) != 1 else parts[0]
    shares = total.shares()
    doubts, steps, given = [], [], set[str]()
    for lot, chain, inputs in lots:
        needed = upstream(chain, output)
        values = run(chain, {each.name: each.mid for each in inputs})
        steps += [_term(step, values, lot) for step in chain if step.output in needed]
        for each in inputs:
            if each.name in needed:
                share = 0.0 if each.key in given else shares.get(each.key, 0.0)
                given.add(each.key)
                doubts.append(
                    Doubt(
                        each.name,
                        each.low,
                        each.mid,
                        each.high,
                        each.unit,
                        each.key,
                        share,
                        each.origin,
                        lot,
                    )
                )
    doubts.sort(key=lambda d: -d.share)
    low, high = total.ends
    return Explanation(
        name,
        unit,
        low * factor,
        total.mid * factor,
        high * factor,
        tuple((lot, part.mid * factor) for (lot, _, _), part in zip(lots, parts, strict=True)),
        tuple(steps),
        tuple(doubts),
        tuple(notes),
    )


def upstream(chain: Sequence[Step], output: str) -> set[str]:
    """Every name that an output is made of, itself included."""
    needed = {output}
    for step in reversed(chain):
        if step.output in needed:
            needed.update(step.inputs)
    return needed


def _term(step: Step, values: Mapping[str, Number], lot: str) -> Term:
    about = formula_of(step.function)
    return Term(
        step.output,
        values[step.output],
        about.units.get("result", ""),
        about.name,
        about.reference,
        tuple((name, values[name]) for name in step.inputs),
        lot,
    )
