"""Ready lots as fuel."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from ..lot.model import LotModel
from ..model.findings import Finding, Verdict
from ..model.inputs.lot import Lot
from ..physics import charring
from ..quantities.frozen import record
from ..uncertainty.figure import UncertainValue
from ..uncertainty.sums import add

PURPOSES = (
    "char-through",
    "burning-rate",
    "quench",
    "planning",
    "wood-char",
    "instruments",
    "char-retention",
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
_OF_A_PIECE = ("moisture", "water_heat", "char_through")


def fuel_outputs(model: LotModel) -> list[str]:
    """What a plan reads of a lot, as far as its chain gives it."""
    return [name for name in (*_AMOUNTS, *_OF_A_PIECE) if model.gives(name)]


@record
class Fuel:
    """A lot on its way into a plan, with its figures in SI by the names of its chain; `into` is in
    how many its pieces are split first.
    """

    model: LotModel
    verdict: Verdict
    concerns: int
    figures: Mapping[str, UncertainValue]
    into: int = 1

    @property
    def name(self) -> str:
        return self.model.name

    @property
    def lot(self) -> Lot:
        return self.model.lot

    @property
    def thickness(self) -> float:
        """Least dimension, m, of its pieces as they go in."""
        return float(charring.split_thickness(self.model.thickness.value, self.into))

    @property
    def fine(self) -> bool:
        """Whether it lies and burns as fine matter."""
        return self.model.fineness == "fine"

    @property
    def wood(self) -> bool:
        """Whether its pieces make embers that carry a fire."""
        return self.model.row.woody and not self.fine

    @property
    def rotted(self) -> bool:
        """Whether it breaks by hand and gives way under an axe."""
        return self.model.lies == "rotted"

    @property
    def scooped(self) -> float | None:
        """Its volume as it lies loose, m3, where the person told it so; a bale is no measure of
        straw that is fluffed up.
        """
        volume = self.lot.volume
        return None if volume is None or self.model.lies == "bales" else volume.mid

    @property
    def kindles(self) -> bool:
        """Whether it lights a fire where it is thin: sawdust and shavings of wood do not."""
        return self.model.row.kindles and not (self.fine and self.model.row.woody)

    @property
    def through(self) -> UncertainValue:
        """Time in flame until it is char to its centre, s."""
        return self.figures["char_through"]

    @property
    def dry(self) -> float:
        return float(self.figures["dry_mass"].mid)

    def split(self, into: int, exponent: float) -> Fuel:
        """The same lot with its pieces split in so many, all told."""
        shorter = charring.split_time(1.0, into / self.into, exponent)
        through = {"char_through": self.through.times(float(shorter))}
        return replace(self, into=into, figures={**self.figures, **through})


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
