"""Sums of figures over lots."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ..lot.model import ADDED, LOT_FIGURES
from ..model.appraisal import Total
from ..model.findings import Verdict
from ..quantities.estimate import Estimate, figure_estimate
from ..uncertainty.figure import UncertainValue
from ..uncertainty.sums import add

LotFigures = Mapping[str, UncertainValue]


@dataclass(slots=True)
class Totals:
    """Sums over lots of a heap, which are told by their numbers in it.

    The same lots are asked for more than once, as all and as those of one verdict, and added once.
    """

    lots: Sequence[LotFigures]
    _known: dict[tuple[str, tuple[int, ...]], Estimate] = field(default_factory=dict)
    _sums: dict[tuple[str, tuple[int, ...]], UncertainValue] = field(default_factory=dict)

    def __call__(self, chosen: Sequence[int], name: str) -> Estimate:
        """The sum of a public figure over the chosen lots, as far as they have it."""
        about, key = LOT_FIGURES[name], (name, tuple(chosen))
        if key not in self._known:
            total = self.figure(chosen, name)
            self._known[key] = figure_estimate(total, about.unit, about.factor)
        return self._known[key]

    def figure(self, chosen: Sequence[int], name: str) -> UncertainValue:
        """The same sum with its doubts."""
        output, key = LOT_FIGURES[name].output, (name, tuple(chosen))
        if key not in self._sums:
            self._sums[key] = add(
                self.lots[index][output] for index in chosen if output in self.lots[index]
            )
        return self._sums[key]

    def of_verdict(self, verdict: Verdict, chosen: Sequence[int], names: tuple[str, ...]) -> Total:
        """The lots of one verdict together; of what is to be kept out no char is told."""
        if verdict is Verdict.KEEP_OUT:
            return Total(lots=names, dry_mass=self(chosen, "dry_mass"))
        return Total(lots=names, **{name: self(chosen, name) for name in ADDED})
