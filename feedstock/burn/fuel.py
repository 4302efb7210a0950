"""Ready lots as fuel."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from ..lot.model import LotModel
from ..model.findings import Finding, Verdict
from ..model.inputs.lot import Lot
from ..uncertainty.figure import UncertainValue
from ..uncertainty.sums import add

PURPOSES = (
    "char-through",
    "burning-rate",
    "quench",
    "planning",
    "wood-char",
    "instruments",
    "kept",
)
"""The methods without which there is no plan."""

_AMOUNTS = (
    "dry_mass",
    "char_mass",
    "char_volume",
    "char_carbon",
    "wood_volume",
    "loose_volume",
    "lying_mass",
)
_OF_A_PIECE = ("moisture", "water_heat", "char_through", "char_coefficient")


def fuel_outputs(model: LotModel) -> list[str]:
    """What a plan reads of a lot, as far as its chain gives it."""
    return [name for name in (*_AMOUNTS, *_OF_A_PIECE) if model.gives(name)]


@dataclass(slots=True)
class Fuel:
    """A lot on its way into a plan, with its figures in SI by the names of its chain."""

    model: LotModel
    verdict: Verdict
    concerns: int
    figures: Mapping[str, UncertainValue]

    @property
    def name(self) -> str:
        return self.model.name

    @property
    def lot(self) -> Lot:
        return self.model.lot

    @property
    def thickness(self) -> float:
        """Least dimension, m."""
        return self.model.thickness.value

    @property
    def fine(self) -> bool:
        """Whether it lies and burns as fine matter."""
        return self.model.fineness == "fine"

    @property
    def through(self) -> UncertainValue:
        """Time in flame until it is char to its centre, s."""
        return self.figures["char_through"]

    @property
    def coefficient(self) -> float:
        """m of the time to a char depth."""
        return float(self.figures["char_coefficient"].mid)

    @property
    def dry(self) -> float:
        return float(self.figures["dry_mass"].mid)


def concerns_of(findings: Iterable[Finding]) -> int:
    """How much is to be thought of with a lot: suspicions count twice what evidence lowered."""
    return sum(
        2 - finding.cleared for finding in findings if finding.axis in ("contamination", "handling")
    )


def part_of(fuel: Fuel, share: float) -> Fuel:
    """The same lot with that share of its amounts; what is not an amount stays."""
    scaled = {
        name: weighted([(share, figure)]) if name in _AMOUNTS else figure
        for name, figure in fuel.figures.items()
    }
    return replace(fuel, figures=scaled)


def weighted(parts: Iterable[tuple[float, UncertainValue]]) -> UncertainValue:
    """The sum of figures times plain weights, doubts of equal key with their sign."""
    return add(figure.times(weight) for weight, figure in parts)
