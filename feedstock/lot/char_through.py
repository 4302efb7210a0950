"""Time in the flame until a piece is char to its centre."""

from __future__ import annotations

from typing import Any

from ..model.inputs.lot import Lot
from ..physics import charring, density
from ..quantities.cell import Cell
from ..tables.rows.methods.fire import Charring
from ..tables.rows.methods.wood import WoodWater
from ..tables.tables import Tables
from ..uncertainty.formula import formula
from ..uncertainty.graph import Step
from ..uncertainty.inputs import UNIT_OF, Input, Origin
from .builder import Bound


def cell_input(
    tables: Tables,
    name: str,
    kind: str,
    full: str,
    path: tuple[str | int, ...],
    cell: Cell,
    key: str = "",
    certain: bool = False,
) -> Input:
    """A cell as an input, with the key of the row that owns it."""
    owner = tables.where(kind, full, path).row or full
    low, high = (cell.mid, cell.mid) if certain else (cell.low, cell.high)
    label = "/".join(str(p) for p in path)
    return Input(
        name,
        low,
        cell.mid,
        high,
        cell.scale,
        key or f"row:{owner.replace(':', '/', 1)}/{label}",
        tables.origin(kind, full, path, cell),
        UNIT_OF.get(cell.dimension, "1"),
    )


def char_through_steps(
    bound: Bound, lot: Lot, material: str, class_: str, tables: Tables
) -> tuple[list[Step], list[Input]]:
    """Steps from a lot's chain to `char_through`, s, and the inputs that they need besides the
    lot's own.
    """
    full, row = tables.method("char-through", Charring)
    steps: list[Step] = []
    inputs: list[Input] = []

    def cell(name: str, *path: str, certain: bool = False) -> str:
        found = tables.cell("methods", full, path)
        assert found is not None
        inputs.append(cell_input(tables, name, "methods", full, path, found, certain=certain))
        return name

    thickness = _thickness(bound, lot, material, tables, steps, inputs)
    dense = _oven_dry_density(bound, tables, steps, inputs)
    contraction = cell(
        "char_contraction",
        "contraction",
        class_ if class_ in row.contraction else "other",
    )
    coefficients = [
        cell(f"through_{name}", name, certain=True)
        for name in ("constant", "per_density", "per_moisture", "per_contraction")
    ]
    exponent, below = (
        cell("through_exponent", "exponent", certain=True),
        cell("thin_below", "thin_below", certain=True),
    )
    factor, thin = cell("fire_factor", "factor"), cell("thin_time", "thin")
    steps.append(
        Step(
            "char_coefficient",
            charring.char_coefficient,
            (dense, "moisture_dry", contraction, *coefficients),
        )
    )
    steps.append(
        Step(
            "char_through",
            charring.through_time,
            (thickness, "char_coefficient", factor, thin, below, exponent),
        )
    )
    return steps, inputs


def _thickness(
    bound: Bound, lot: Lot, material: str, tables: Tables, steps: list[Step], inputs: list[Input]
) -> str:
    """The input that holds the least dimension: that of the lot's own chain where it has one."""
    there = {each.name for each in bound.inputs}
    mid = bound.thickness
    if lot.thickness is None:
        if "diameter" in there:
            return "diameter"
        if "butt" in there and "top" in there:
            steps.append(Step("mean_diameter", _mean_of_two, ("butt", "top")))
            return "mean_diameter"
        if (
            "board_thickness" in there
            and lot.pieces is not None
            and lot.pieces.thickness is not None
            and lot.pieces.thickness.mid == mid
        ):
            return "board_thickness"
        if (
            "width" in there
            and lot.pieces is not None
            and lot.pieces.width is not None
            and lot.pieces.width.mid == mid
        ):
            return "width"
        cell = tables.cell("materials", material, ("thickness",))
        if cell is not None:
            inputs.append(
                cell_input(tables, "least_dimension", "materials", material, ("thickness",), cell)
            )
            return "least_dimension"
    said = lot.thickness
    low, high = (
        (said.low, said.high)
        if said is not None and said.low is not None and said.high is not None
        else (mid, mid)
    )
    inputs.append(
        Input(
            "least_dimension",
            low,
            mid,
            high,
            "log",
            f"burn:thickness:{material}:{mid:.6g}",
            Origin("field", f"thickness: {said.text}" if said is not None else "thickness"),
            "m",
        )
    )
    return "least_dimension"


@formula("mean diameter", "identity", butt="m", top="m", result="m")
def _mean_of_two(butt: Any, top: Any) -> Any:
    return (butt + top) / 2.0


def _oven_dry_density(bound: Bound, tables: Tables, steps: list[Step], inputs: list[Input]) -> str:
    made = {step.output for step in bound.chain}
    full, row = tables.method("wood-water", WoodWater)
    if "density" not in made:
        through, charring_row = tables.method("char-through", Charring)
        inputs.append(
            cell_input(
                tables, "through_density", "methods", through, ("density",), charring_row.density
            )
        )
        return "through_density"
    if not any(
        step.output == "density" and step.inputs[0] == "basic_density" for step in bound.chain
    ):
        return "density"  # of loose matter, per heaped volume
    for name, cell in (
        ("through_shrinkage", row.shrinkage),
        ("through_saturation", row.saturation),
    ):
        inputs.append(
            cell_input(tables, name, "methods", full, (name.partition("_")[2],), cell, certain=True)
        )
    for name, value in (("no_decay", 1.0), ("bone_dry", 0.0)):
        inputs.append(
            Input(
                name,
                value,
                value,
                value,
                "linear",
                f"exact:{name}",
                Origin("assumption", "oven-dry"),
                "1",
            )
        )
    steps.append(
        Step(
            "oven_dry_density",
            density.dry_per_volume,
            ("density", "no_decay", "bone_dry", "through_shrinkage", "through_saturation"),
        )
    )
    return "oven_dry_density"
