"""From a chain and its inputs to figures: each key moved once, by a compiled program."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import (
    Callable,
    Hashable,
    ItemsView,
    Iterator,
    KeysView,
    Mapping,
    Sequence,
    ValuesView,
)
from functools import partial
from operator import attrgetter
from typing import Protocol

from ..quantities.cell import Scale
from ..quantities.frozen import frozen
from .figure import ROUNDING, Ratios, UncertainValue, combine
from .graph import Chain, Program, compiled, key_numbers
from .inputs import Input, Number, per_amount
from .intervals import Z95

Changes = Mapping[str, tuple[Number, Number]]
_NAME, _LOW, _MID, _HIGH = map(attrgetter, ("name", "low", "mid", "high"))


def propagate(
    chain: Chain, inputs: Sequence[Input], wanted: Sequence[str], signature: Hashable = None
) -> dict[str, UncertainValue]:
    """The wanted outputs of a chain, each with its doubts by key.

    With `signature` the ends of a figure of this shape are kept as parts of its middle for all lots
    that say the same (everything but how much there is of it), and worked out once: from the same
    inputs with every amount at its middle, so that they do not depend on which lot came first.
    `signature` must tell apart whatever else could move them: the digest of the tables, burn,
    limits, experience.

    Raises KeyError for an input that is missing.
    """
    names = tuple(map(_NAME, inputs))
    numbers, keys = key_numbers(inputs)
    program = compiled(tuple(chain), names, numbers, tuple(wanted))
    run = Run(program, tuple([inputs[n] for n in program.positions]), keys)
    return run.figures(None if signature is None else (signature, program))


Perturbations = tuple[tuple[tuple[Number, ...], tuple[Number, ...]], ...]
"""For every key what it reaches, at its low and at its high end."""


def middles(
    chain: Chain, inputs: Sequence[Input], wanted: Sequence[str], columns: Mapping[str, Number]
) -> dict[str, Number]:
    """The wanted outputs with everything at its middle, by the program of the single figures;
    `columns` stand for the middles of some inputs.
    """
    numbers, _ = key_numbers(inputs)
    program = compiled(tuple(chain), tuple(map(_NAME, inputs)), numbers, tuple(wanted))
    chosen = (inputs[n] for n in program.positions)
    values = program.middle([columns.get(entry.name, entry.mid) for entry in chosen])
    return dict(zip(program.wanted, values, strict=True))


class Run:
    """One run of a program: the values at the middle, and what each key does to them as far as
    somebody asks.
    """

    def __init__(self, program: Program, inputs: tuple[Input, ...], keys: tuple[str, ...]) -> None:
        self.program, self.inputs, self.keys = program, inputs, keys
        self.mids: list[Number] = list(map(_MID, inputs))
        self.middle: tuple[Number, ...] = ()
        self._perturbed: Perturbations | None = None
        self._half: Perturbations | None = None
        self._sensitivities: list[dict[str, tuple[Number, Number]]] | None = None
        self._members: Mapping[str, tuple[int, ...]] | None = None
        self._per_amount: dict[str, UncertainValue] | None = None

    def figures(self, signature: Hashable = None) -> dict[str, UncertainValue]:
        """Every wanted output; with `signature` its ends are looked up or kept under it, and only
        its middle is run.
        """
        program = self.program
        if signature is None:
            self.perturb()
        else:
            self.middle = program.middle(self.mids)
        stated = {entry.key: entry.shared for entry in self.inputs if entry.shared}
        figures = {}
        for output, name in enumerate(program.wanted):
            mid = self.middle[output]
            sensitivities = _Sensitivities(self, output)
            shared = {key: share for key, share in stated.items() if key in sensitivities}
            ratios = None
            if signature is not None and isinstance(mid, (int, float)):
                ratios = partial(_ratios, (signature, name), name, self)
            scale = program.scales[output] or self._own_scale(name)
            source = OfRun(self, output)
            # every field by its place: to fill in defaults takes several times as long
            figures[name] = UncertainValue(
                mid, sensitivities, scale, source, None, False, shared, ratios, None
            )
        return figures

    def _own_scale(self, name: str) -> Scale:
        return next(entry.scale for entry in self.inputs if entry.name == name)

    def perturb(self) -> Perturbations:
        """What every key reaches with it at its ends; run once."""
        if self._perturbed is None:
            lows, highs = list(map(_LOW, self.inputs)), list(map(_HIGH, self.inputs))
            self.middle, self._perturbed = self.program.perturbations(self.mids, lows, highs)
        return self._perturbed

    def sensitivities(self, output: int) -> dict[str, tuple[Number, Number]]:
        """The changes of a wanted output, by number, at both ends of every key that moves it."""
        if self._sensitivities is None:
            perturbed, middle = self.perturb(), self.middle
            by_output: list[dict[str, tuple[Number, Number]]] = [{} for _ in middle]
            # what moves no further is rounding; every array counts as moved
            edges = [ROUNDING * mid if mid.__class__ is float else None for mid in middle]
            # keys of inputs that the program does not use may stand at the end
            for key, hits, (low, high) in zip(
                self.keys, self.program.reached, perturbed, strict=False
            ):
                for place, at_low, at_high in zip(hits, low, high, strict=True):
                    mid, edge = middle[place], edges[place]
                    a, b = at_low - mid, at_high - mid
                    if edge is None or a > edge or b > edge or a < -edge or b < -edge:
                        by_output[place][key] = a, b
            self._sensitivities = by_output
        return self._sensitivities[output]

    def per_amount(self) -> dict[str, UncertainValue]:
        """Every wanted output where every amount stands at its middle; run once."""
        if self._per_amount is None:
            inputs = tuple(per_amount(entry) for entry in self.inputs)
            self._per_amount = Run(self.program, inputs, self.keys).figures()
        return self._per_amount

    @property
    def reached(self) -> Sequence[tuple[int, ...]]:
        """For each key, which of the wanted outputs it reaches."""
        return self.program.reached

    def half_way(self) -> Perturbations:
        """What every key does half way to its ends; run once, when a figure first asks."""
        if self._half is None:
            low, high = list(self.mids), list(self.mids)
            for n, entry in enumerate(self.inputs):
                if not entry.exact:
                    curve = entry.curve
                    low[n], high[n] = curve(-Z95 / 2), curve(Z95 / 2)
            self._half = self.program.perturbations(self.mids, low, high)[1]
        return self._half

    def evaluate(self, output: int, normals: Mapping[str, float]) -> float:
        """A wanted output, by number, with its keys at these standard normals."""
        if self._members is None:
            # keys of inputs that the program does not use may stand at the end
            self._members = dict(zip(self.keys, self.program.members, strict=False))
        values, inputs = list(self.mids), self.inputs
        for name, z in normals.items():
            for n in self._members.get(name, ()):
                values[n] = inputs[n].curve(z)
        return float(self.program.value(output, values))


class _Sensitivities(Mapping[str, tuple[Number, Number]]):
    """Those of one output of a run, worked out when somebody first asks."""

    __slots__ = ("_output", "_run")

    def __init__(self, run: Run, output: int) -> None:
        self._run, self._output = run, output

    def __getitem__(self, key: str) -> tuple[Number, Number]:
        return self._run.sensitivities(self._output)[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._run.sensitivities(self._output))

    def __len__(self) -> int:
        return len(self._run.sensitivities(self._output))

    def __contains__(self, key: object) -> bool:
        return key in self._run.sensitivities(self._output)

    def keys(self) -> KeysView[str]:
        return self._run.sensitivities(self._output).keys()

    def items(self) -> ItemsView[str, tuple[Number, Number]]:
        return self._run.sensitivities(self._output).items()

    def values(self) -> ValuesView[tuple[Number, Number]]:
        return self._run.sensitivities(self._output).values()

    def __repr__(self) -> str:
        return repr(self._run.sensitivities(self._output))


class AnyRun(Protocol):
    """A run as its figures ask it."""

    @property
    def keys(self) -> Sequence[str]: ...

    @property
    def reached(self) -> Sequence[tuple[int, ...]]: ...

    def half_way(self) -> Sequence[tuple[tuple[Number, ...], tuple[Number, ...]]]: ...

    def evaluate(self, output: int, normals: Mapping[str, float]) -> float: ...


class OfRun:
    """The source of a figure that a run gave."""

    __slots__ = ("output", "run")

    def __init__(self, run: AnyRun, output: int) -> None:
        self.run, self.output = run, output

    def half_step_changes(self, figure: UncertainValue) -> Changes:
        wanted = figure.lopsided
        if not wanted:
            return {}
        half, reached, mid = self.run.half_way(), self.run.reached, figure.mid
        changes = {}
        for key in wanted:
            number = self.run.keys.index(key)
            place = reached[number].index(self.output)
            low, high = half[number]
            changes[key] = (low[place] - mid, high[place] - mid)
        return changes

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
_UNKNOWN: Ratios = (-1.0, -1.0)
_kept: OrderedDict[Hashable, Ratios | None] = OrderedDict()
_lock = threading.Lock()


def forget_kept() -> None:
    """Forget all kept ends."""
    with _lock:
        _kept.clear()


def _ratios(key: Hashable, name: str, run: Run) -> Ratios | None:
    """The ends of an output as parts of its middle, where every amount stands at its middle; None
    where it has no middle of which its ends could be parts.
    """
    ratios = _kept.get(key, _UNKNOWN)
    if ratios is not _UNKNOWN:
        return ratios
    figure = run.per_amount()[name]
    low, high = combine(figure)
    of_middle = None
    if figure.mid > 0:
        of_middle = low / figure.mid, high / figure.mid
    elif low == figure.mid == high:
        of_middle = 1.0, 1.0
    with _lock:
        _kept[key] = of_middle
        while len(_kept) > _MOST_KEPT:
            _kept.popitem(last=False)
    return of_middle


# --- figures from runs that others made -----------------------------------------------------------

Values = Mapping[str, Number]


@frozen
class _OfCalls:
    """The source of a figure whose runs somebody else makes."""

    name: str
    mid: Number
    half: Callable[[str], tuple[Values, Values]]
    joint: Callable[[Mapping[str, float]], Number] | None

    def half_step_changes(self, figure: UncertainValue) -> Changes:
        pairs = {key: self.half(key) for key in figure.lopsided}
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


def from_perturbations(
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

    figures = {}
    for name, scale in wanted.items():
        mid = base[name]
        pairs = {
            key: (low[name] - mid, high[name] - mid) for key, (low, high) in perturbations.items()
        }
        sensitivities = {key: pair for key, pair in pairs.items() if not nothing(pair, mid)}
        figures[name] = UncertainValue(
            mid, sensitivities, scale, _OfCalls(name, mid, half_once, joint.get(name))
        )
    return figures
