"""Permanence: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from collections.abc import Iterable

from feedstock.physics.permanence import kept_carbon
from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula(
    "carbon added to mineral soil",
    "IPCC 2019 Refinement, vol. 4 ch. 2 appendix 4, equation 4Ap.1: sum of BC F_C F_perm",
    result="kg",
)
def inventory(chars: Iterable[tuple[Number, Number, Number]]) -> Number:
    """Organic carbon, kg, left after 100 years, of several chars, each (dry mass kg, carbon share,
    permanence).

    The appendix covers char made above 350 degC under controlled air and put on cropland or
    grassland with mineral soil, not open fires.

    Returns [kg].

    >>> inventory([(10.0, 0.8, 0.75), (5.0, 0.6, 0.5)])
    7.5
    """
    return sum((kept_carbon(*each) for each in chars), start=0.0)
