"""Sums of figures over lots: shared doubt stays shared."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field, replace

from ..quantities.frozen import frozen, record
from .elementwise import total
from .figure import UncertainValue
from .guesses import StatedSum
from .inputs import Number
from .intervals import Z95
from .keys import Key, stated_heap_key


def add(parts: Iterable[UncertainValue], person: Key | None = None) -> UncertainValue:
    """The sum of figures of several lots: doubts of equal key add with their sign, so shared doubt
    stays shared.

    Ranges that a person stated are guesses: what is the person's own of them
    (`UncertainValue.shared`) goes to the key `person`, by default that of the heap, and is shared
    by all; one part alone is unchanged.

    >>> one, other = (UncertainValue(10.0, {"scale:heap": (-1.0, 1.0)}) for _ in range(2))
    >>> add([one, other]).sensitivities
    {'scale:heap': (-2.0, 2.0)}
    """
    parts = tuple(parts)
    if len(parts) == 1 and parts[0].scale == "log":
        return parts[0]
    whose = person or stated_heap_key()
    whole, parts = parts, tuple(told_apart(part, whose) for part in parts)
    total: Number = 0.0
    sensitivities: dict[str, tuple[Number, Number]] = {}
    for part in parts:
        total = total + part.mid
        for key, (low, high) in part.sensitivities.items():
            before = sensitivities.get(key, (0.0, 0.0))
            sensitivities[key] = (before[0] + low, before[1] + high)
    uneven = any(
        part.sensitivities and part.sensitivities.keys() != sensitivities.keys() for part in parts
    )
    summed = UncertainValue(total, sensitivities, "log", _Sum(parts), summed=uneven)
    if whose not in sensitivities or summed.usable != "log":
        return summed
    guessed = StatedSum(whole, summed, whose)
    return replace(summed, kept=guessed.ratios, guessed=guessed)


@record
class Sums:
    """Sums of figures over lots of a heap, which are told by their numbers in it.

    The same lots are asked for more than once, as all and as those of one verdict, and added once.
    """

    lots: Sequence[Mapping[str, UncertainValue]]
    _known: dict[tuple[str, tuple[int, ...]], UncertainValue] = field(default_factory=dict)

    def of(self, chosen: Sequence[int], output: str) -> UncertainValue:
        """The sum of a step's output over the chosen lots, as far as they have it."""
        key = output, tuple(chosen)
        if key not in self._known:
            self._known[key] = add(
                self.lots[index][output] for index in chosen if output in self.lots[index]
            )
        return self._known[key]


@frozen
class _Sum:
    """The source of a sum."""

    parts: tuple[UncertainValue, ...]

    def half_step_changes(self, figure: UncertainValue) -> Mapping[str, tuple[Number, Number]]:
        changes: dict[str, tuple[Number, Number]] = {}
        parts = [(part, part.sensitivities.keys()) for part in self.parts]
        for part in self.parts:
            for key in part.half_step_changes:
                if key not in changes:
                    pairs = [item.half(key) for item, keys in parts if key in keys]
                    changes[key] = (total(a for a, _ in pairs), total(b for _, b in pairs))
        return changes

    @property
    def can_run(self) -> bool:
        return all(part.source is not None and part.source.can_run for part in self.parts)

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return math.fsum(part.at(normals) for part in self.parts)


def told_apart(part: UncertainValue, person: Key | None = None) -> UncertainValue:
    """A figure whose stated ranges are told apart into the person's share, by default that of the
    heap, and their own.
    """
    if not part.shared or not isinstance(part.mid, (int, float)):
        return part
    person = person or stated_heap_key()
    weights: dict[str, list[tuple[str, float]]] = {}
    for key, share in part.shared.items():
        weights.setdefault(person, []).append((key, math.sqrt(share)))
        weights.setdefault(key, []).append((key, math.sqrt(1.0 - share)))
    source = _Split(part, weights)
    sensitivities = {
        key: pair for key, pair in part.sensitivities.items() if key not in part.shared
    }
    sensitivities |= {key: source.changes(key, Z95) for key in weights}
    return replace(part, sensitivities=sensitivities, source=source, shared={}, kept=None)


@frozen
class _Split:
    """The source of a figure whose stated key is the sum of two independent ones."""

    of: UncertainValue
    weights: Mapping[str, list[tuple[str, float]]]

    def changes(self, key: str, z: float) -> tuple[float, float]:
        """The changes with one of the new keys at -z and at z."""
        low, high = (self.of.at(self._normals({key: end})) for end in (-z, z))
        return low - self.of.mid, high - self.of.mid

    def half_step_changes(self, figure: UncertainValue) -> Mapping[str, tuple[Number, Number]]:
        known = {
            k: pair for k, pair in self.of.half_step_changes.items() if k not in self.of.shared
        }
        return known | {key: self.changes(key, Z95 / 2) for key in self.weights}

    @property
    def can_run(self) -> bool:
        return self.of.source is not None and self.of.source.can_run

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return self.of.at(self._normals(normals))

    def _normals(self, normals: Mapping[str, float]) -> dict[str, float]:
        normals_of_parts = {key: z for key, z in normals.items() if key not in self.weights}
        for key, z in normals.items():
            for stated, weight in self.weights.get(key, ()):
                normals_of_parts[stated] = normals_of_parts.get(stated, 0.0) + weight * z
        return normals_of_parts
