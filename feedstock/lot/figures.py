"""The public figures of a lot: the step that gives each, and its unit."""

from __future__ import annotations

from dataclasses import dataclass


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
