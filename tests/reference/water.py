"""Properties of water by the IAPWS formulation of 1995, as CoolProp computes them."""

from __future__ import annotations


def of_water(what: str, kelvin: float, name: str, value: float) -> float:
    """A property (`H` in J/kg, `D` in kg/m3) at a temperature and a second condition: the share of
    vapour (`Q`) or the pressure (`P`, in Pa). CoolProp takes two seconds to load, so that only
    those load it who ask.
    """
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(what, "T", kelvin, name, value, "Water"))
