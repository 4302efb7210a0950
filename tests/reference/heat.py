"""Heat: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula(
    "net heating value, as received",
    "ISO 18125:2017",
    net_dry="J/kg",
    wet="1",
    water="1",
    result="J/kg",
)
def net_as_received(net_dry: Number, wet: Number, water: float) -> Number:
    """Lower heating value as it lies, J/kg, at wet-basis moisture `wet`; `water` is the coefficient
    in J/g per per cent.

    Takes `net_dry` [J/kg], `wet` [1], `water` [1]; returns [J/kg].

    >>> round(net_as_received(18.7e6, 0.2, 24.43) / 1e6, 2)
    14.47
    """
    return net_dry * (1.0 - wet) - 1e5 * water * wet
