"""The one mechanism behind every figure: a graph of steps, run at the middle and at both ends of every doubt.

A chain is an ordered tuple of `Step`s, each a pure function with named inputs and one named output. An `Input` has
three values (5th percentile, middle, 95th percentile) and a key: inputs with the same key are the same draw, wherever
they occur; different keys are independent. From one run with everything at its middle and two runs per key come a
figure's value, its interval, what it shares with the figures of other lots, and its explanation. The same functions run
on arrays, which is the bulk form.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from statistics import NormalDist
from typing import Any, Literal, TypeVar

from .elementwise import exp, greatest, least, log, sqrt

Scale = Literal["linear", "log", "logit"]
Number = Any
"""A float, or an array of floats in the bulk form."""

Function = TypeVar("Function", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class Formula:
    """What a function of the physics computes, by which reference, and the units of its arguments and its result."""

    name: str
    reference: str
    units: Mapping[str, str]


def formula(name: str, reference: str, /, **units: str) -> Callable[[Function], Function]:
    """Attach a `Formula` to a function and return the function itself, so that calling it costs nothing more."""

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
    """Where an input comes from: a cell of a table, a field that the user filled in, or a stated assumption."""

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


@dataclass(frozen=True, slots=True)
class Input:
    """One uncertain (or, with equal ends, certain) number that enters a chain; `unit` is its SI unit."""

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


@dataclass(frozen=True, slots=True)
class Step:
    """`output = function(*inputs)`; `scale` is the one on which the output's doubts are combined."""

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


def run(chain: Chain, values: Mapping[str, Number]) -> dict[str, Number]:
    """All values of a chain for given values of its inputs. Raises KeyError for an input that is missing."""
    found = dict(values)
    for step in chain:
        found[step.output] = step.function(*[found[name] for name in step.inputs])
    return found


def _rerun(chain: Chain, after: Mapping[str, tuple[int, ...]], base: Mapping[str, Number], moved: Mapping[str, Number]) -> dict[str, Number]:
    """All values with some inputs moved: only the steps behind them run again. `after` is that of `_downstream`."""
    behind = [after[name] for name in moved if name in after]
    steps: Iterable[int] = behind[0] if len(behind) == 1 else sorted(set().union(*behind))
    found = dict(base)
    found.update(moved)
    for index in steps:
        step = chain[index]
        found[step.output] = step.function(*[found[name] for name in step.inputs])
    return found


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure with its doubts: for every key, the signed change when that key goes to its low and to its high end."""

    mid: Number
    doubts: Mapping[str, tuple[Number, Number]] = field(default_factory=dict)
    scale: Scale = "log"

    @property
    def ends(self) -> tuple[Number, Number]:
        """The 5th and the 95th percentile: doubts of different keys are combined by squares on the figure's scale."""
        return combine(self.mid, self.doubts.values(), self.scale)

    def shares(self) -> dict[str, float]:
        """For every key, the share of the width that it causes; they add to 1 where there is any doubt."""
        to, _ = _SCALES[_usable(self.mid, self.doubts.values(), self.scale)]
        middle = to(self.mid)
        squares = {}
        for key, (low, high) in self.doubts.items():
            a, b = to(self.mid + low) - middle, to(self.mid + high) - middle
            squares[key] = min(a, b, 0.0) ** 2 + max(a, b, 0.0) ** 2
        total = sum(squares.values())
        return {key: square / total for key, square in squares.items()} if total > 0 else {}


def _same(x: Number) -> Number:
    return x


_SCALES: dict[Scale, tuple[Callable[[Number], Number], Callable[[Number], Number]]] = {
    "linear": (_same, _same),
    "log": (log, exp),
    "logit": (lambda x: log(x / (1 - x)), lambda x: 1 / (1 + exp(-x))),
}


_EDGE = 1e-12
"""Nearer to the edge of its scale than this a value counts as at the edge: its logarithm would only be rounding."""


def _usable(mid: Number, doubts: Iterable[tuple[Number, Number]], scale: Scale) -> Scale:
    """A figure at the very edge of its scale (an amount of nothing, a share of 1) is combined on the linear one."""
    if scale == "linear" or not isinstance(mid, (int, float)):
        return scale
    top = 1.0 if scale == "logit" else float("inf")
    inside = all(_EDGE < mid + d < top - _EDGE for pair in doubts for d in pair) and _EDGE < mid < top - _EDGE
    return scale if inside else "linear"


P95 = NormalDist().inv_cdf(0.95)
"""The 95th percentile of the standard normal."""


def combine(mid: Number, doubts: Iterable[tuple[Number, Number]], scale: Scale) -> tuple[Number, Number]:
    """The 5th and 95th percentile of a figure from the changes that each key makes.

    On `scale` (log for amounts, logit for shares), on which a product of lognormal factors is exact, every key is an
    independent standard normal z and its change the parabola t z + c z^2 through its two ends. Mean, variance and third
    cumulant of the sum add over keys; the ends are those of the one parabola that has them (Cornish and Fisher 1938 in
    this form). Where no doubt is lopsided this is the root of the sum of squares; a single key gives back its own ends.
    """
    pairs = list(doubts)
    if not pairs:
        return mid, mid
    to, back = _SCALES[_usable(mid, pairs, scale)]
    middle = to(mid)
    mean = variance = third = 0.0 * middle
    for low, high in pairs:
        a, b = to(mid + low) - middle, to(mid + high) - middle
        tilt, curve = (b - a) / (2 * P95), (b + a) / (2 * P95 * P95)
        square = tilt * tilt
        mean = mean + curve
        variance = variance + square + 2 * curve * curve
        third = third + curve * (6 * square + 8 * curve * curve)
    tilt, curve = _parabola(variance, third)
    centre = middle + mean + curve * (P95 * P95 - 1)
    low, high = back(centre - P95 * tilt), back(centre + P95 * tilt)
    if scale != "linear":  # an amount or a share that had to be combined on the linear scale still ends at its edge
        low = greatest(low, 0.0)
    if scale == "logit":
        high = least(high, 1.0)
    # rounding of the two changes of scale must not put an end on the wrong side of the middle
    return least(low, mid), greatest(high, mid)


def _parabola(variance: Number, third: Number) -> tuple[Number, Number]:
    """t and c of t z + c z^2 with this variance, t^2 + 2 c^2, and third cumulant, 6 t^2 c + 8 c^3 = 6 c variance - 4 c^3."""
    variance = greatest(variance, 1e-300)
    most = sqrt(variance / 2)
    curve = least(greatest(third / (6 * variance), -most), most)
    for _ in range(3):  # the cubic is nearly straight
        square = curve * curve
        curve = curve - (curve * (6 * variance - 4 * square) - third) / (6 * variance - 12 * square + 1e-300)
        curve = least(greatest(curve, -most), most)
    return sqrt(greatest(variance - 2 * curve * curve, 0.0)), curve


def figures(chain: Chain, inputs: Sequence[Input], wanted: Sequence[str]) -> dict[str, Figure]:
    """The wanted outputs of a chain, each with its doubts by key."""
    base = run(chain, {each.name: each.mid for each in inputs})
    scales: dict[str, Scale] = {step.output: step.scale for step in chain}
    scales.update({each.name: each.scale for each in inputs if each.name not in scales})
    groups: dict[str, list[Input]] = {}
    for each in inputs:
        if not each.certain:
            groups.setdefault(each.key, []).append(each)
    doubts: dict[str, dict[str, tuple[Number, Number]]] = {name: {} for name in wanted}
    after = _downstream(chain)
    for key, members in groups.items():
        if not any(each.name in after or each.name in doubts for each in members):
            continue
        low = _rerun(chain, after, base, {each.name: each.low for each in members})
        high = _rerun(chain, after, base, {each.name: each.high for each in members})
        for name in wanted:
            pair = (low[name] - base[name], high[name] - base[name])
            if not (isinstance(pair[0], (int, float)) and pair[0] == 0 and pair[1] == 0):
                doubts[name][key] = pair
    return {name: Figure(base[name], doubts[name], scales[name]) for name in wanted}


def add(parts: Iterable[Figure]) -> Figure:
    """The sum of figures of several lots: doubts of equal key add with their sign, so shared doubt stays shared."""
    total: Number = 0.0
    doubts: dict[str, tuple[Number, Number]] = {}
    scale: Scale = "log"
    for part in parts:
        total = total + part.mid
        for key, (low, high) in part.doubts.items():
            before = doubts.get(key, (0.0, 0.0))
            doubts[key] = (before[0] + low, before[1] + high)
    return Figure(total, doubts, scale)


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
    """One input of an explanation: its three values, where it comes from, and its share of the figure's width."""

    name: str
    low: float
    mid: float
    high: float
    unit: str
    key: str
    share: float
    origin: Origin
    lot: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """How a figure came about: its parts (one per lot), the steps in order, and the inputs, widest doubt first.

    The shares of the inputs add to 1. Inputs of one key share that key's part of the width; it stands at the first.
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
        lines = [f"{self.figure}: {self.low:.3g} to {self.high:.3g} {self.unit}, likely {self.mid:.3g} {self.unit}"]
        lines += [f"  {doubt.share:4.0%} of the width: {doubt.name} ({doubt.origin.text})" for doubt in self.inputs if doubt.share >= 0.005]
        return "\n".join(lines)


def explain(name: str, unit: str, lots: Sequence[tuple[str, Chain, Sequence[Input]]], output: str, factor: float = 1.0,
            notes: Iterable[str] = ()) -> Explanation:
    """Run the chains of the lots again and read the explanation of the sum of `output` off them.

    `factor` turns the chain's SI value into `unit`.
    """
    parts = [figures(chain, inputs, [output])[output] for _, chain, inputs in lots]
    total = add(parts) if len(parts) != 1 else parts[0]
    shares = total.shares()
    doubts, steps, given = [], [], set[str]()
    for lot, chain, inputs in lots:
        needed = _upstream(chain, output)
        values = run(chain, {each.name: each.mid for each in inputs})
        steps += [_term(step, values, lot) for step in chain if step.output in needed]
        for each in inputs:
            if each.name in needed:
                share = 0.0 if each.key in given else shares.get(each.key, 0.0)
                given.add(each.key)
                doubts.append(Doubt(each.name, each.low, each.mid, each.high, each.unit, each.key, share, each.origin, lot))
    doubts.sort(key=lambda d: -d.share)
    low, high = total.ends
    return Explanation(name, unit, low * factor, total.mid * factor, high * factor,
                       tuple((lot, part.mid * factor) for (lot, _, _), part in zip(lots, parts, strict=True)),
                       tuple(steps), tuple(doubts), tuple(notes))


def _upstream(chain: Chain, output: str) -> set[str]:
    needed = {output}
    for step in reversed(chain):
        if step.output in needed:
            needed.update(step.inputs)
    return needed


def _term(step: Step, values: Mapping[str, Number], lot: str) -> Term:
    about = formula_of(step.function)
    return Term(step.output, values[step.output], about.units.get("result", ""), about.name, about.reference,
                tuple((name, values[name]) for name in step.inputs), lot)
