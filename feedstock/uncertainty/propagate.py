"""From a chain and its inputs to figures: each key moved once, by a compiled program."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial

from ..quantities.cell import Scale
from .figure import ROUNDING, Ratios, UncertainValue, combine
from .graph import Chain
from .inputs import Input, Number, per_amount
from .intervals import Z95
from .program import EXACT, Program, compiled, key_numbers

Changes = Mapping[str, tuple[Number, Number]]


def propagate(
    chain: Chain, inputs: Sequence[Input], wanted: Sequence[str], kept: Hashable = None
) -> dict[str, UncertainValue]:
    """The wanted outputs of a chain, each with its doubts by key.

    With `kept` the ends of a figure are kept as parts of its middle for all lots that say the same
    (everything but how much there is of it), and worked out once: from the same inputs with every
    amount at its middle, so that they do not depend on which lot came first. `kept` must tell
    apart whatever else could move them: the digest of the tables, burn, limits, experience.

    Raises KeyError for an input that is missing.
    """
    names = tuple(entry.name for entry in inputs)
    numbers, keys = key_numbers(inputs)
    program = compiled(tuple(chain), names, numbers, tuple(wanted))
    run = Run(program, tuple(inputs[n] for n in program.positions), tuple(keys))
    found = run.figures()
    if kept is None:
        return found
    return {name: _with_kept(figure, name, kept, run) for name, figure in found.items()}


@dataclass(slots=True)
class Run:
    """One run of a program: the values at the middle, and what each key does to them."""

    program: Program
    inputs: tuple[Input, ...]
    keys: tuple[str, ...]
    mids: list[Number] = field(init=False)
    _half: tuple[tuple[tuple[Number, ...], tuple[Number, ...]], ...] | None = None
    _per_amount: dict[str, UncertainValue] | None = None

    def __post_init__(self) -> None:
        self.mids = [given.mid for given in self.inputs]

    def figures(self) -> dict[str, UncertainValue]:
        """Every wanted output."""
        program = self.program
        lows, highs = [given.low for given in self.inputs], [given.high for given in self.inputs]
        middle, perturbations = program.perturbations(self.mids, lows, highs)
        sensitivities: list[dict[str, tuple[Number, Number]]] = [{} for _ in middle]
        for key, hits, (low, high) in zip(self.keys, program.reached, perturbations, strict=False):
            for output, at_low, at_high in zip(hits, low, high, strict=True):
                mid = middle[output]
                pair = at_low - mid, at_high - mid
                if not nothing(pair, mid):
                    sensitivities[output][key] = pair
        shared = {given.key: given.shared for given in self.inputs if given.shared}
        own = {given.name: given.scale for given in self.inputs}
        found = {}
        for output, name in enumerate(program.wanted):
            scale: Scale = program.scales[output] or own[name]
            source = _OfRun(self, output)
            split = {key: share for key, share in shared.items() if key in sensitivities[output]}
            found[name] = UncertainValue(
                middle[output], sensitivities[output], scale, source, shared=split
            )
        return found

    def per_amount(self) -> dict[str, UncertainValue]:
        """Every wanted output where every amount stands at its middle; run once."""
        if self._per_amount is None:
            inputs = tuple(per_amount(given) for given in self.inputs)
            self._per_amount = Run(self.program, inputs, self.keys).figures()
        return self._per_amount

    def half_way(self) -> tuple[tuple[tuple[Number, ...], tuple[Number, ...]], ...]:
        """What every key does half way to its ends; run once, when a figure first asks."""
        if self._half is None:
            low, high = (
                [
                    given.mid if key == EXACT else given.at(z)
                    for given, key in zip(self.inputs, self.program.keys, strict=True)
                ]
                for z in (-Z95 / 2, Z95 / 2)
            )
            self._half = self.program.perturbations(self.mids, low, high)[1]
        return self._half

    def evaluate(self, output: int, normals: Mapping[str, float]) -> float:
        """A wanted output, by number, with its keys at these standard normals."""
        values = list(self.mids)
        for n, (given, key) in enumerate(zip(self.inputs, self.program.keys, strict=True)):
            z = 0.0 if key == EXACT else normals.get(given.key, 0.0)
            if z:
                values[n] = given.at(z)
        return float(self.program.value(output)(values))


@dataclass(frozen=True, slots=True)
class _OfRun:
    """The source of a figure that a run gave."""

    run: Run
    output: int

    def half_step_changes(self, figure: UncertainValue) -> Changes:
        wanted = figure.lopsided()
        if not wanted:
            return {}
        half, reached, mid = self.run.half_way(), self.run.program.reached, figure.mid
        found = {}
        for key in wanted:
            number = self.run.keys.index(key)
            place = reached[number].index(self.output)
            low, high = half[number]
            found[key] = (low[place] - mid, high[place] - mid)
        return found

    @property
    def can_run(self) -> bool:
        return True

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return self.run.evaluate(self.output, normals)


def nothing(pair: tuple[Number, Number], mid: Number) -> bool:
    """Whether a key leaves a figure where it is, but for rounding: such a key must not count as a
    doubt that lots share or not.
    """
    low, high = pair
    if not isinstance(low, (int, float)) or not isinstance(high, (int, float)):
        return False
    return bool(max(abs(low), abs(high)) <= ROUNDING * abs(mid))


# --- ends that are kept ---------------------------------------------------------------------------

_MOST_KEPT = 20_000
_kept: OrderedDict[Hashable, Ratios] = OrderedDict()
_lock = threading.Lock()


def forget_kept() -> None:
    """Forget all kept ends."""
    with _lock:
        _kept.clear()


def _with_kept(figure: UncertainValue, name: str, kept: Hashable, run: Run) -> UncertainValue:
    if not isinstance(figure.mid, (int, float)) or not figure.mid > 0 or not figure.sensitivities:
        return figure
    return UncertainValue(
        figure.mid,
        figure.sensitivities,
        figure.scale,
        figure.source,
        shared=figure.shared,
        kept=partial(_ratios, (kept, name), name, run),
    )


def _ratios(key: Hashable, name: str, run: Run) -> Ratios:
    """The ends of an output as parts of its middle, where every amount stands at its middle."""
    known = _kept.get(key)
    if known is None:
        figure = run.per_amount()[name]
        low, high = combine(figure)
        known = low / figure.mid, high / figure.mid
        with _lock:
            _kept[key] = known
            while len(_kept) > _MOST_KEPT:
                _kept.popitem(last=False)
    return known


# --- figures from runs that others made -----------------------------------------------------------

Values = Mapping[str, Number]


@dataclass(frozen=True, slots=True)
class _OfCalls:
    """The source of a figure whose runs somebody else makes."""

    name: str
    mid: Number
    half: Callable[[str], tuple[Values, Values]]
    joint: Callable[[Mapping[str, float]], Number] | None

    def half_step_changes(self, figure: UncertainValue) -> Changes:
        pairs = {key: self.half(key) for key in figure.lopsided()}
        return {
            key: (low[self.name] - self.mid, high[self.name] - self.mid)
            for key, (low, high) in pairs.items()
        }

    @property
    def can_run(self) -> bool:
        return self.joint is not None

    def evaluate(self, normals: Mapping[str, float]) -> float:
        assert self.joint is not None
        return float(self.joint(normals))


def from_moves(
    base: Values,
    perturbations: Mapping[str, tuple[Values, Values]],
    half: Callable[[str], tuple[Values, Values]],
    joint: Mapping[str, Callable[[Mapping[str, float]], Number]],
    wanted: Mapping[str, Scale],
) -> dict[str, UncertainValue]:
    """Figures from all values at the middle and with each key at its ends.

    `half` gives all values with a key half way to its ends, `joint` the way to run each figure,
    `wanted` the scales.
    """
    known: dict[str, tuple[Values, Values]] = {}

    def half_once(key: str) -> tuple[Values, Values]:
        if key not in known:
            known[key] = half(key)
        return known[key]

    found = {}
    for name, scale in wanted.items():
        mid = base[name]
        pairs = {
            key: (low[name] - mid, high[name] - mid) for key, (low, high) in perturbations.items()
        }
        sensitivities = {key: pair for key, pair in pairs.items() if not nothing(pair, mid)}
        found[name] = UncertainValue(
            mid, sensitivities, scale, _OfCalls(name, mid, half_once, joint.get(name))
        )
    return found
