"""Runs of a chain into which figures go with their doubts by key, beside inputs of its own."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

from ..quantities.cell import Scale
from ..quantities.frozen import Once, frozen
from .figure import ROUNDING, UncertainValue
from .graph import (
    Chain,
    Members,
    OutputsFunction,
    PerturbationsFunction,
    Perturbed,
    outputs_function,
    perturbations_function,
)
from .inputs import FLOAT_WAYS, Input
from .intervals import Z95, Shape
from .mapped import seen_at
from .propagate import OfRun


class _Parts(NamedTuple):
    """What a key does, by number: to inputs, to given figures on their scales, and to given sums
    that rest on guesses.
    """

    inputs: list[tuple[int, Callable[[float], float]]]
    given: list[tuple[int, Shape]]
    guessed: list[int]


@frozen
class _Program:
    """A chain with the keys of its inputs, compiled; there is one of each shape."""

    steps: Chain
    names: tuple[str, ...]
    wanted: tuple[str, ...]
    reached: Sequence[tuple[int, ...]]
    moves: PerturbationsFunction
    outputs: dict[int, OutputsFunction] = field(default_factory=dict)

    @cached_property
    def scales(self) -> Mapping[str, Scale]:
        return {step.output: step.scale for step in self.steps}

    def output(self, number: int) -> OutputsFunction:
        """A wanted output, by number, as a function of the inputs."""
        if number not in self.outputs:
            wanted = (self.wanted[number],)
            self.outputs[number] = outputs_function(self.steps, self.names, wanted)
        return self.outputs[number]


@lru_cache(maxsize=128)
def _program(
    chain: Chain, names: tuple[str, ...], members: Members, wanted: tuple[str, ...]
) -> _Program:
    return _Program(chain, names, wanted, *perturbations_function(chain, names, members, wanted))


@frozen
class Joined:
    """A chain with its own inputs and with given figures. A key moves in both alike, so that
    shared doubt stays shared.
    """

    chain: Chain
    inputs: Sequence[Input]
    given: Mapping[str, UncertainValue]

    def figures(self, wanted: Sequence[str], more: Chain = ()) -> dict[str, UncertainValue]:
        """The wanted outputs with their doubts by key; `more` are further steps."""
        return self.run(wanted, more).figures()

    def run(self, wanted: Sequence[str], more: Chain = ()) -> Run:
        """The run for the wanted outputs, with every key in doubt."""
        chain, wanted = (*self.chain, *more), tuple(dict.fromkeys(wanted))
        items: tuple[Moving, ...] = (*self.inputs, *self.given.values())
        names = (*(entry.name for entry in self.inputs), *self.given)
        moving: dict[str, list[int]] = {}
        for n, item in enumerate(items):
            if not isinstance(item, Input):
                for key in item.sensitivities:
                    moving.setdefault(key, []).append(n)
            elif not item.exact:
                moving.setdefault(item.key, []).append(n)
        members, slot = [], 0
        for places in moving.values():
            members.append(tuple(zip(places, range(slot, slot + len(places)), strict=True)))
            slot += len(places)
        program = _program(chain, names, tuple(members), wanted)
        own = {name: item.scale for name, item in zip(names, items, strict=True)}
        scales = [program.scales.get(name) or own[name] for name in wanted]
        return Run(program, items, moving, scales)


Moving = Input | UncertainValue
_NONE = (0.0, 0.0)


class Run:
    """A run for the wanted outputs: at the middle, at both ends of every key and, as far as
    somebody asks, half way to these and anywhere else. Keys that are `known` stand where they are.
    """

    def __init__(
        self,
        program: _Program,
        items: Sequence[Moving],
        moving: Mapping[str, list[int]],
        scales: Sequence[Scale],
        known: Collection[str] = (),
    ) -> None:
        self.program, self.items, self.moving = program, items, moving
        self.scales, self.known = scales, known
        self._mids: list[float] = []
        self._leaning: Collection[str] = moving.keys()
        self._half: Sequence[Perturbed] | None = None
        self.keys, self.reached = list(moving), program.reached
        self._parts: dict[str, _Parts] = {}
        self._shapes: dict[int, Mapping[str, Shape]] = {}

    def seen(self, normals: Mapping[str, float]) -> Run:
        """The same where some keys stand at these normals and are in doubt no longer."""
        items = list(self.items)
        for n in {n for key in normals for n in self.moving.get(key, ())}:
            item = items[n]
            if isinstance(item, Input):
                value = item.at(normals[item.key])
                items[n] = replace(item, low=value, mid=value, high=value)
            else:
                items[n] = seen_at(item, normals)
        return Run(self.program, items, self.moving, self.scales, normals.keys())

    def figures(self, halved: bool = True) -> dict[str, UncertainValue]:
        """Every wanted output with its doubts by key; `halved` where somebody will ask what they do
        half way to their ends.
        """
        program, self._mids = self.program, [item.mid for item in self.items]
        middle, perturbed = self._moves(self.moving.keys() - self.known, self._end_of)
        changes: list[dict[str, tuple[float, float]]] = [{} for _ in program.wanted]
        edges = [ROUNDING * abs(mid) for mid in middle]
        for key, hits, (low, high) in zip(self.moving, program.reached, perturbed, strict=True):
            for place, at_low, at_high in zip(hits, low, high, strict=True):
                mid, edge = middle[place], edges[place]
                a, b = at_low - mid, at_high - mid
                if a > edge or b > edge or a < -edge or b < -edge:
                    changes[place][key] = a, b
        # every field by its place: to fill in defaults takes several times as long
        figures = [
            UncertainValue(mid, doubts, scale, OfRun(self, n), None, False, {}, None, None)
            for n, (mid, doubts, scale) in enumerate(zip(middle, changes, self.scales, strict=True))
        ]
        # found here: a run that held its figures would be held by them, and wait to be swept up
        if halved:
            self._leaning = {key for figure in figures for key in figure.lopsided}
        return dict(zip(program.wanted, figures, strict=True))

    def _moves(
        self, keys: Collection[str], pair: Callable[[int, str], tuple[float, float]]
    ) -> tuple[tuple[float, ...], Sequence[Perturbed]]:
        """The wanted outputs at the middle, and with each of some keys at two places."""
        low, high = list[float](), list[float]()
        for key, places in self.moving.items():
            if key in keys:
                for n in places:
                    ends = pair(n, key)
                    low.append(ends[0])
                    high.append(ends[1])
            else:
                at = [self._mids[n] for n in places]
                low += at
                high += at
        return self.program.moves(self._mids, low, high)

    def half_way(self) -> Sequence[Perturbed]:
        """The wanted outputs with each key half way to its ends by which one of them leans; run
        once.
        """
        if self._half is None:
            self._half = self._moves(self._leaning, self._half_of)[1]
        return self._half

    def _half_of(self, number: int, key: str) -> tuple[float, float]:
        item = self.items[number]
        if isinstance(item, Input):
            return item.at(-Z95 / 2), item.at(Z95 / 2)
        if key not in item.sensitivities:
            return item.mid, item.mid
        to, back = FLOAT_WAYS[item.usable]
        shape, middle = self._own(number, key), to(item.mid)
        return back(middle + shape.at(-Z95 / 2)), back(middle + shape.at(Z95 / 2))

    def _end_of(self, number: int, key: str) -> tuple[float, float]:
        item = self.items[number]
        if isinstance(item, Input):
            return item.low, item.high
        low, high = item.sensitivities.get(key, _NONE)
        return item.mid + low, item.mid + high

    def evaluate(self, output: int, normals: Mapping[str, float]) -> float:
        """A wanted output, by number, with its keys at these standard normals: given figures by
        what each key does to them alone, but for sums that rest on guesses.
        """
        values, away, guessed = list(self._mids), [0.0] * len(self._mids), set[int]()
        for key, z in normals.items():
            parts = self._parts.get(key)
            if parts is None:
                parts = self._parts[key] = self._parts_of(key)
            inputs, given, sums = parts
            for n, curve in inputs:
                values[n] = curve(z)
            # as `Shape.at`, which would be asked a hundred times here
            for n, (below, bend_below, above, bend_above) in given:
                change = (above + bend_above * z) * z if z > 0 else (below + bend_below * z) * z
                away[n] += change
            if sums:
                guessed.update(sums)
        for n, middle, back in self._told:
            if away[n]:
                values[n] = back(middle + away[n])
        for n in guessed:
            values[n] = self._figure(n).at(normals)
        return float(self.program.output(output)(values)[0])

    @Once
    def _told(self) -> Sequence[tuple[int, float, Callable[[float], float]]]:
        """The given figures, by number, each with its middle on its scale and the way back."""
        told = []
        for n, item in enumerate(self.items):
            if isinstance(item, UncertainValue) and item.guessed is None:
                to, back = FLOAT_WAYS[item.usable]
                told.append((n, to(item.mid), back))
        return told

    def _parts_of(self, key: str) -> _Parts:
        found = _Parts([], [], [])
        for n in self.moving.get(key, ()):
            item = self.items[n]
            if isinstance(item, Input):
                found.inputs.append((n, item.curve))
            elif item.guessed is not None:
                found.guessed.append(n)
            elif key in item.sensitivities:
                found.given.append((n, self._own(n, key)))
        return found

    def _figure(self, number: int) -> UncertainValue:
        item = self.items[number]
        assert isinstance(item, UncertainValue)
        return item

    def _own(self, number: int, key: str) -> Shape:
        """What a key does to a given figure, on its scale."""
        if number not in self._shapes:
            self._shapes[number] = self._figure(number).shapes()
        return self._shapes[number][key]
