"""Carbon in char."""

from __future__ import annotations

from ..uncertainty.elementwise import exp, least
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
    """
    return least(top - span * exp(-rate * temperature) + error, 1.0)


@formula("organic carbon in the char", "identity", organic_char="kg", carbon="1", result="kg")
def char_carbon(organic_char: Number, carbon: Number) -> Number:
    """Organic carbon, kg, in ash-free char; the ash is taken to hold none."""
    return organic_char * carbon


@formula("organic carbon kept per dry feed", "identity", carbon="kg", dry_mass="kg", result="1")
def carbon_kept(carbon: Number, dry_mass: Number) -> Number:
    return carbon / dry_mass
