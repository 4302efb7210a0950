"""Binding a lot, its row and the methods in use to inputs and steps: the one description of how its
figures come about.

Nothing is computed here. `bind` chooses the route (weighed, measured, counted), looks up every cell
and returns a `Bound`, which `figures` runs. Every input carries a key that says with which others
its doubt is shared.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..heap import Burn, Lot
from ..results_after import Experience
from ..tables import Tables
from .amount import bind_amount
from .builder import Bound as Bound
from .builder import Builder, signature
from .char import bind_char
from .experience import feed_class as feed_class
from .experience import volume_base as volume_base
from .experience import with_experience
from .moisture import bind_moisture, check_ceiling
from .moisture import instrument as instrument
from .water import bind_water
from .wood import bind_density, fineness_of, thickness_of


@dataclass(frozen=True, slots=True)
class FigureOf:
    """A public figure: the step that gives it, its fixed unit, and the factor from SI to that
    unit.
    """

    output: str
    unit: str
    factor: float


FIGURES: dict[str, FigureOf] = {
    "moisture": FigureOf("moisture", "%", 100),
    "moisture_dry": FigureOf("moisture_dry", "%", 100),
    "density": FigureOf("density", "kg/m^3", 1),
    "dry_mass": FigureOf("dry_mass", "kg", 1),
    "char_yield": FigureOf("char_yield", "%", 100),
    "char_mass": FigureOf("char_mass", "kg", 1),
    "char_volume": FigureOf("char_volume", "L", 1000),
    "char_carbon": FigureOf("char_carbon", "kg", 1),
    "water_to_lose": FigureOf("water_to_lose", "L", 1),
    "water_heat": FigureOf("water_heat", "%", 100),
}
ADDED = ("dry_mass", "char_mass", "char_volume", "char_carbon")
"""Figures that add up over lots."""


def bind(
    lot: Lot,
    full: str,
    tables: Tables,
    burner_row: str,
    burn: Burn | None,
    path: str,
    experience: Experience | None = None,
) -> Bound:
    """Bind a lot to its material's row; with `experience` its char is corrected by what own batches
    taught. Raises InputError where the tables or the lot lack what a figure needs.
    """
    row = tables.material(full)
    builder = Builder(lot, full, row, tables, path, signature(lot))
    known = bind_moisture(builder)
    thickness = thickness_of(lot, row, builder)
    check_ceiling(builder)
    solid = bind_amount(builder)
    bind_density(builder, solid)
    fineness = fineness_of(builder, thickness)
    bind_char(builder, burner_row, burn, fineness, thickness)
    bind_water(builder, burner_row)
    made = {step.output for step in builder.steps} | set(builder.inputs)
    figures = tuple(name for name, each in FIGURES.items() if each.output in made)
    bound = Bound(
        tuple(builder.steps),
        tuple(builder.inputs.values()),
        figures,
        thickness,
        fineness,
        known,
        tuple(builder.notes),
    )
    return bound if experience is None else with_experience(bound, builder, burner_row, experience)
