"""Sums of figures over lots: shared doubt stays shared."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from .figure import Figure
from .inputs import Number
from .intervals import P95
from .keys import Key, stated_heap_key


def add(parts: Iterable[Figure], person: Key | None = None) -> Figure:
    """The sum of figures of several lots: doubts of equal key add with their sign, so shared doubt
    stays shared.

    Ranges that a person stated are guesses: what is the person's own of them (`Figure.shared`) goes
    to the key `person`, by default that of the heap, and is shared by all; one part alone is
    unchanged.

    >>> one, other = (Figure(10.0, {"scale:heap": (-1.0, 1.0)}) for _ in range(2))
    >>> add([one, other]).doubts
    {'scale:heap': (-2.0, 2.0)}
    """
    parts = tuple(parts)
    if len(parts) == 1 and parts[0].scale == "log":
        return parts[0]
    parts = tuple(_split(part, person or stated_heap_key()) for part in parts)
    total: Number = 0.0
    doubts: dict[str, tuple[Number, Number]] = {}
    for part in parts:
        total = total + part.mid
        for key, (low, high) in part.doubts.items():
            before = doubts.get(key, (0.0, 0.0))
            doubts[key] = (before[0] + low, before[1] + high)
    uneven = any(part.doubts and part.doubts.keys() != doubts.keys() for part in parts)
    return Figure(total, doubts, "log", _Sum(parts), summed=uneven)


@dataclass(frozen=True, slots=True)
class _Sum:
    """The source of a sum."""

    parts: tuple[Figure, ...]

    def halves(self, figure: Figure) -> Mapping[str, tuple[Number, Number]]:
        found: dict[str, tuple[Number, Number]] = {}
        for part in self.parts:
            for key in part.halves:
                if key not in found:
                    pairs = [item.half(key) for item in self.parts if key in item.doubts]
                    found[key] = (sum(a for a, _ in pairs), sum(b for _, b in pairs))
        return found

    @property
    def can_run(self) -> bool:
        return all(part.source is not None and part.source.can_run for part in self.parts)

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return sum(part.at(normals) for part in self.parts)


def _split(part: Figure, person: Key) -> Figure:
    """A figure whose stated range is told apart into the person's share and its own."""
    if not part.shared or not isinstance(part.mid, (int, float)):
        return part
    weights: dict[str, list[tuple[str, float]]] = {}
    for key, share in part.shared.items():
        weights.setdefault(person, []).append((key, math.sqrt(share)))
        weights.setdefault(key, []).append((key, math.sqrt(1.0 - share)))
    source = _Split(part, weights)
    doubts = {key: pair for key, pair in part.doubts.items() if key not in part.shared}
    doubts |= {key: source.changes(key, P95) for key in weights}
    return replace(part, doubts=doubts, source=source, shared={}, kept=None)


@dataclass(frozen=True, slots=True)
class _Split:
    """The source of a figure whose stated key is the sum of two independent ones."""

    of: Figure
    weights: Mapping[str, list[tuple[str, float]]]

    def changes(self, key: str, z: float) -> tuple[float, float]:
        """The changes with one of the new keys at -z and at z."""
        low, high = (self.of.at(self._normals({key: end})) for end in (-z, z))
        return low - self.of.mid, high - self.of.mid

    def halves(self, figure: Figure) -> Mapping[str, tuple[Number, Number]]:
        known = {k: pair for k, pair in self.of.halves.items() if k not in self.of.shared}
        return known | {key: self.changes(key, P95 / 2) for key in self.weights}

    @property
    def can_run(self) -> bool:
        return self.of.source is not None and self.of.source.can_run

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return self.of.at(self._normals(normals))

    def _normals(self, normals: Mapping[str, float]) -> dict[str, float]:
        found = {key: z for key, z in normals.items() if key not in self.weights}
        for key, z in normals.items():
            for stated, weight in self.weights.get(key, ()):
                found[stated] = found.get(stated, 0.0) + weight * z
        return found
