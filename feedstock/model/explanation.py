"""How a figure came about, as data."""

from __future__ import annotations

from dataclasses import dataclass

from ..uncertainty.inputs import Origin
from ..words import Message


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
class Contribution:
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
    inputs: tuple[Contribution, ...]
    notes: tuple[Message, ...] = ()

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
