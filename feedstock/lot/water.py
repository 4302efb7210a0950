"""Litres of water to lose, and the share of the heat that boils what is there."""

from __future__ import annotations

from ..physics import heat, moisture
from ..tables.rows.burner import Burner
from ..tables.rows.methods.wood import HeatCoefficients
from .builder import Builder


def bind_water(b: Builder, burner_row: str) -> None:
    """Steps that end in `water_to_lose` and, where the row has the elements for it,
    `water_heat`.
    """
    burner = b.tables.row("burners", burner_row, Burner)
    b.step("moisture_dry", moisture.dry_basis, "moisture", scale="log")
    b.cell(
        "working_moisture",
        burner.moisture_ready,
        "burners",
        burner_row,
        ("moisture_ready",),
        certain=True,
    )
    b.step("water_to_lose", moisture.water_to_lose, "dry_mass", "moisture_dry", "working_moisture")
    row = b.row
    if (
        row.hydrogen is None
        or row.oxygen is None
        or row.nitrogen is None
        or (row.heating_value is None and row.carbon is None)
    ):
        return
    full, coefficients = b.tables.method("heating", HeatCoefficients)
    for name in ("hydrogen", "oxygen", "nitrogen"):
        b.cell(name, getattr(row, name), "materials", b.full, (name,), certain=True)
    _gross_heat(b, full, coefficients)
    for name in ("net_hydrogen", "net_oxygen", "water"):
        b.cell(f"heat_{name}", getattr(coefficients, name), "methods", full, (name,), certain=True)
    b.step(
        "net_heat",
        heat.net_heating_value,
        "gross_heat",
        "hydrogen",
        "oxygen",
        "nitrogen",
        "heat_net_hydrogen",
        "heat_net_oxygen",
    )
    b.step("water_heat", heat.boiling_share, "net_heat", "moisture", "heat_water")


def _gross_heat(b: Builder, full: str, coefficients: HeatCoefficients) -> None:
    row = b.row
    if row.heating_value is not None:
        b.cell("gross_heat", row.heating_value, "materials", b.full, ("heating_value",))
        return
    assert row.carbon is not None
    b.cell("carbon", row.carbon, "materials", b.full, ("carbon",))
    if row.sulphur is not None:
        b.cell("sulphur", row.sulphur, "materials", b.full, ("sulphur",), certain=True)
    else:
        b.known("sulphur", 0.0, "no sulphur in the tables", kind="assumption")
    names = ("carbon", "hydrogen", "oxygen", "nitrogen", "sulphur", "ash")
    for name in names:
        b.cell(f"heat_{name}", getattr(coefficients, name), "methods", full, (name,), certain=True)
    b.step("gross_heat", heat.gross_heating_value, *names, *(f"heat_{name}" for name in names))
