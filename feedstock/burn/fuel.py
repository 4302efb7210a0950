"""Ready lots as fuel."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from ..lot.builder import Bound
from ..lot.char_through import char_through_steps
from ..model.findings import Verdict
from ..model.inputs.lot import Lot
from ..physics import density
from ..tables.tables import Tables
from ..uncertainty.figure import Figure
from ..uncertainty.formula import formula
from ..uncertainty.graph import Step
from ..uncertainty.propagate import figures
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


@dataclass(slots=True)
class Fuel:
    """A lot on its way into a plan, with its figures in SI by the names of its chain."""

    name: str
    lot: Lot
    full: str
    bound: Bound
    verdict: Verdict
    class_: str
    form: str
    concerns: int = 0
    figures: dict[str, Figure] = field(default_factory=dict)
    coefficient: float = 0.0

    @property
    def thickness(self) -> float:
        """Least dimension, m."""
        return self.bound.thickness

    @property
    def through(self) -> Figure:
        """Time in flame until it is char to its centre, s."""
        return self.figures["char_through"]

    @property
    def dry(self) -> float:
        return float(self.figures["dry_mass"].mid)


_AMOUNTS = (
    "dry_mass",
    "char_mass",
    "char_volume",
    "char_carbon",
    "wood_volume",
    "loose_volume",
    "lying_mass",
)


def part_of(fuel: Fuel, share: float) -> Fuel:
    """The same lot with that share of its amounts; what is not an amount stays."""
    scaled = {
        name: weighted([(share, each)]) if name in _AMOUNTS else each
        for name, each in fuel.figures.items()
    }
    return replace(fuel, figures=scaled)


def weighted(parts: Iterable[tuple[float, Figure]]) -> Figure:
    """The sum of figures times plain weights, doubts of equal key with their sign."""
    return add(each.times(weight) for weight, each in parts)


def prepare(fuel: Fuel, tables: Tables) -> None:
    """Run the lot's chain with what a plan asks beyond the appraisal: char-through time, and its
    volume in a load.
    """
    extra, inputs = char_through_steps(fuel.bound, fuel.lot, fuel.full, fuel.class_, tables)
    made = {step.output for step in fuel.bound.chain} | {each.name for each in fuel.bound.inputs}
    if "solid_volume" in made and "wood_volume" not in made:
        extra = [*extra, Step("wood_volume", _solid_wood, ("solid_volume",))]
    elif "density" in made and "wood_volume" not in made:
        extra = [*extra, Step("loose_volume", density.volume_of, ("dry_mass", "density"))]
    extra = [*extra, Step("lying_mass", as_it_lies, ("dry_mass", "moisture"))]
    chain = (*fuel.bound.chain, *extra)
    there = made | {step.output for step in extra}
    wanted = [
        name
        for name in (
            "dry_mass",
            "char_mass",
            "char_volume",
            "char_carbon",
            "moisture",
            "water_heat",
            "wood_volume",
            "loose_volume",
            "lying_mass",
            "char_through",
            "char_coefficient",
        )
        if name in there
    ]
    fuel.figures = figures(chain, [*fuel.bound.inputs, *inputs], wanted)
    fuel.coefficient = float(fuel.figures["char_coefficient"].mid)


@formula("solid volume of wood that was measured", "identity", solid="m^3", result="m^3")
def _solid_wood(solid: Any) -> Any:
    return solid


@formula("mass as it lies", "identity, m_dry / (1 - w)", dry_mass="kg", wet="1", result="kg")
def as_it_lies(dry_mass: Any, wet: Any) -> Any:
    return dry_mass / (1.0 - wet)
