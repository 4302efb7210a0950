"""Quench: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula(
    "mass of wet char",
    "heat and water balance, dry char + water taken up",
    char="kg",
    uptake="kg",
    result="kg",
)
def wet_mass(char: Number, uptake: Number) -> Number:
    """What quenched and drained char weighs; never a yield.

    Takes `char` [kg], `uptake` [kg]; returns [kg].

    >>> wet_mass(10.0, 15.0)
    25.0
    """
    return char + uptake
