"""Water to put out hot char: what boils off, what the char drinks, what fills the gaps, what the
ground takes.

Masses in kg, volumes in m3, temperatures in degC, heat in J. Coefficients of the heat capacity of
char are those of the sources, kJ/(kg K) with the temperature in K.
"""

from __future__ import annotations

from ..uncertainty.elementwise import maximum, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number

_KELVIN = 273.15
_KILO = 1000.0


def _polynomial_heat(start: Number, end: Number, a: float, b: float, c: float) -> Number:
    """Integral of a + b T + c T^2 (kJ/(kg K), T in K) from `start` to `end`, both in degC, in
    J/kg.
    """
    s, e = start + _KELVIN, end + _KELVIN
    return _KILO * (a * (e - s) + b / 2.0 * (e**2 - s**2) + c / 3.0 * (e**3 - s**3))


@formula(
    "heat in hot char",
    "integral of cp: Gupta, Yang and Roy 2003 below, Ragland, Aerts and Baker 1991 above 413 degC",
    hot="degC",
    cold="degC",
    result="J/kg",
)
def char_heat(
    hot: Number,
    cold: Number,
    low_a: float,
    low_b: float,
    low_c: float,
    high_a: float,
    high_b: float,
    change: float,
) -> Number:
    """Heat that a kilogram of char gives off from `hot` to `cold`, J/kg; negative when it is warmed
    instead.

    cp = low_a + low_b T + low_c T^2 below `change` degC (stated 40 to 413), high_a + high_b T above
    (stated to about 1450).

    Takes `hot` [degC], `cold` [degC]; returns [J/kg].

    >>> round(char_heat(500.0, 100.0, 1.0, 0.0, 0.0, 1.0, 0.0, 413.0))
    400000
    """
    below = _polynomial_heat(minimum(cold, change), minimum(hot, change), low_a, low_b, low_c)
    return below + _polynomial_heat(
        maximum(cold, change), maximum(hot, change), high_a, high_b, 0.0
    )


@formula(
    "heat that boils a kilogram of water",
    "heat and water balance, cp (Tb - T) + latent heat",
    water_temperature="degC",
    result="J/kg",
)
def heat_to_steam(
    water_temperature: Number, boiling: float, capacity: float, latent: float
) -> Number:
    """From liquid at `water_temperature` to steam at `boiling` degC; `capacity` in kJ/(kg K),
    `latent` in J/kg.

    Takes `water_temperature` [degC]; returns [J/kg].

    >>> round(heat_to_steam(10.0, 100.0, 4.19, 2.257e6) / 1e6, 3)
    2.634
    """
    return _KILO * capacity * (boiling - water_temperature) + latent


@formula(
    "water boiled off",
    "heat and water balance, char heat / heat of steam",
    char="kg",
    heat="J/kg",
    steam="J/kg",
    factor="1",
    result="kg",
)
def boiled_off(char: Number, heat: Number, steam: Number, factor: Number) -> Number:
    """Water turned to steam by `char` kg; `factor` for heat from walls and ground, and heat that
    leaves otherwise.

    Takes `char` [kg], `heat` [J/kg], `steam` [J/kg], `factor` [1]; returns [kg].

    >>> round(boiled_off(10.0, 400000.0, 2.6e6, 1.3), 3)
    2.0
    """
    return char * heat / steam * factor


@formula("water taken up by the char", "heat and water balance", char="kg", uptake="1", result="kg")
def taken_up(char: Number, uptake: Number) -> Number:
    """Water in the pores of the pieces, kg; `uptake` per kg of dry char.

    Takes `char` [kg], `uptake` [1]; returns [kg].

    >>> taken_up(10.0, 1.5)
    15.0
    """
    return char * uptake


@formula(
    "water between the pieces",
    "heat and water balance, V (1 - solid share) x share flooded x density",
    volume="m^3",
    packing="1",
    flooded="1",
    density="kg/m^3",
    result="kg",
)
def between_pieces(volume: Number, packing: Number, flooded: Number, density: float) -> Number:
    """Water that fills the gaps of a heap of `volume`, kg; `packing` is its solid share, `flooded`
    how much of the gaps fills.

    Takes `volume` [m^3], `packing` [1], `flooded` [1], `density` [kg/m^3]; returns [kg].

    >>> round(between_pieces(0.1, 0.45, 0.5, 1000.0), 2)
    27.5
    """
    return volume * (1.0 - packing) * flooded * density


@formula(
    "quench water",
    "heat and water balance, (boiled + taken up + between) / (1 - share lost)",
    boiled="kg",
    uptake="kg",
    between="kg",
    lost="1",
    density="kg/m^3",
    result="m^3",
)
def total_water(
    boiled: Number, uptake: Number, between: Number, lost: Number, density: float
) -> Number:
    """Water to pour, m3, when the share `lost` (0 to below 1) of it runs into the ground or past
    the vessel.

    Takes `boiled` [kg], `uptake` [kg], `between` [kg], `lost` [1], `density` [kg/m^3]; returns
    [m^3].

    >>> round(total_water(2.0, 15.0, 27.5, 0.2, 1000.0), 4)
    0.0556
    """
    return (boiled + uptake + between) / (1.0 - lost) / density


@formula(
    "time at the hose", "heat and water balance, V / flow", water="m^3", flow="m^3/s", result="s"
)
def hose_time(water: Number, flow: Number) -> Number:
    """Time at the hose.

    Takes `water` [m^3], `flow` [m^3/s]; returns [s].

    >>> round(hose_time(0.05, 0.00025))
    200
    """
    return water / flow


@formula(
    "water to have ready",
    "heat and water balance, the high end times a reserve, at most so many times the middle, less "
    "what a hose gives, and never less than the least",
    high="m^3",
    mid="m^3",
    reserve="1",
    most="1",
    hosed="m^3",
    least_of_all="m^3",
    result="m^3",
)
def have_ready(
    high: Number, mid: Number, reserve: Number, most: Number, hosed: Number, least_of_all: Number
) -> Number:
    """What stands ready before lighting, from the high end and the middle of the quench water; all
    volumes in one unit.

    Takes `high` [m^3], `mid` [m^3], `reserve` [1], `most` [1], `hosed` [m^3], `least_of_all` [m^3];
    returns [m^3].

    >>> round(have_ready(0.09, 0.06, 1.5, 2.0, 0.0, 0.02), 3)
    0.12
    """
    return maximum(minimum(high * reserve, mid * most) - hosed, least_of_all)
