"""Density: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.physics.density import WATER
from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula(
    "density at a moisture",
    "Wood Handbook 2010 ch. 4: rho = rho_w G (1 + M/100)",
    specific_gravity="1",
    dry="1",
    result="kg/m^3",
)
def density_at(specific_gravity: Number, dry: Number) -> Number:
    """Density, kg/m3, of wood with dry-basis moisture `dry`, mass and volume both at that moisture.

    `specific_gravity` is oven-dry mass over the volume at that same moisture.

    Takes `specific_gravity` [1], `dry` [1]; returns [kg/m^3].

    >>> round(density_at(0.5, 0.12), 1)
    560.0
    """
    return WATER * specific_gravity * (1.0 + dry)
