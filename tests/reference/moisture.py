"""Moisture: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula("water in the lot", "mass balance, m_dry u", dry_mass="kg", dry="1", result="kg")
def water(dry_mass: Number, dry: Number) -> Number:
    """Mass of water, kg, in oven-dry matter of dry-basis moisture `dry`.

    Takes `dry_mass` [kg], `dry` [1]; returns [kg].

    >>> water(32.0, 0.25)
    8.0
    """
    return dry_mass * dry
