"""The public figures of a lot: the step that gives each, and its unit."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FigureSpec:
    """A public figure: the step that gives it, its fixed unit, and the factor from SI to that
    unit.
    """

    output: str
    unit: str
    factor: float


LOT_FIGURES: dict[str, FigureSpec] = {
    "moisture": FigureSpec("moisture", "%", 100),
    "moisture_dry": FigureSpec("moisture_dry", "%", 100),
    "density": FigureSpec("density", "kg/m^3", 1),
    "dry_mass": FigureSpec("dry_mass", "kg", 1),
    "char_yield": FigureSpec("char_yield", "%", 100),
    "char_mass": FigureSpec("char_mass", "kg", 1),
    "char_volume": FigureSpec("char_volume", "L", 1000),
    "char_carbon": FigureSpec("char_carbon", "kg", 1),
    "water_to_lose": FigureSpec("water_to_lose", "L", 1),
    "water_heat": FigureSpec("water_heat", "%", 100),
}


ADDED = ("dry_mass", "char_mass", "char_volume", "char_carbon")
"""Figures that add up over lots."""
