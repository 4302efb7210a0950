"""Carbon in char."""

from __future__ import annotations

from ..uncertainty.elementwise import exp, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "carbon in ash-free char",
    "form of Neves et al. 2011: C = top - span exp(-rate T), coefficients by the method row",
    temperature="degC",
    result="1",
)
def carbon_in_char(
    temperature: Number, top: float, span: float, rate: float, error: Number
) -> Number:
    """Mass share of carbon in dry ash-free char made at `temperature` (degC, 300 to 800); `error`
    is its doubt; at most 1.

    Takes `temperature` [degC]; returns [1].

    >>> round(carbon_in_char(500.0, 0.93, 0.92, 0.0042, 0.0), 3)
    0.817
    """
    return minimum(top - span * exp(-rate * temperature) + error, 1.0)


@formula("organic carbon in the char", "mass balance", organic_char="kg", carbon="1", result="kg")
def char_carbon(organic_char: Number, carbon: Number) -> Number:
    """Organic carbon, kg, in ash-free char; the ash is taken to hold none.

    Takes `organic_char` [kg], `carbon` [1]; returns [kg].

    >>> char_carbon(8.0, 0.8)
    6.4
    """
    return organic_char * carbon


@formula("organic carbon kept per dry feed", "mass balance", carbon="kg", dry_mass="kg", result="1")
def carbon_kept(carbon: Number, dry_mass: Number) -> Number:
    """Organic carbon kept per dry feed.

    Takes `carbon` [kg], `dry_mass` [kg]; returns [1].

    >>> carbon_kept(6.4, 32.0)
    0.2
    """
    return carbon / dry_mass
