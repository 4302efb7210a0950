"""Binds a lot, its row and the methods in use to one chain."""

from __future__ import annotations

from ..model.experience import Experience
from ..model.inputs.burn import Burn
from ..model.inputs.lot import Lot
from ..tables.tables import Tables
from .amount import bind_amount
from .builder import Bound, Builder, signature
from .char import bind_char
from .experience import with_experience
from .figures import FIGURES
from .moisture import bind_moisture, check_ceiling
from .water import bind_water
from .wood import bind_density, fineness_of, thickness_of


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
    signs = tuple(
        tables.find("signs", sign, f"{path}.signs[{index}]") for index, sign in enumerate(lot.signs)
    )
    builder = Builder(lot, full, row, tables, path, signature(lot), signs)
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
