"""Heating value of dry matter, what is left of it when wet, and the share that boils water."""

from __future__ import annotations

from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "gross heating value",
    "Channiwala and Parikh 2002, Fuel 81:1051",
    carbon="1",
    hydrogen="1",
    oxygen="1",
    nitrogen="1",
    sulphur="1",
    ash="1",
    result="J/kg",
)
def gross_heating_value(
    carbon: Number,
    hydrogen: Number,
    oxygen: Number,
    nitrogen: Number,
    sulphur: Number,
    ash: Number,
    c: float,
    h: float,
    o: float,
    n: float,
    s: float,
    a: float,
) -> Number:
    """Higher heating value, J/kg dry, from the ultimate analysis as mass shares of dry matter;
    coefficients in MJ/kg per per cent.

    Takes `carbon` [1], `hydrogen` [1], `oxygen` [1], `nitrogen` [1], `sulphur` [1], `ash` [1];
    returns [J/kg].

    >>> shares = (0.5, 0.06, 0.43, 0.0, 0.0, 0.01)
    >>> per_cent = (0.3491, 1.1783, -0.1034, -0.0151, 0.1005, -0.0211)
    >>> round(gross_heating_value(*shares, *per_cent) / 1e6, 2)
    20.06
    """
    return 1e8 * (c * carbon + h * hydrogen + o * oxygen + n * nitrogen + s * sulphur + a * ash)


@formula(
    "net heating value, dry",
    "ISO 18125:2017, constant pressure",
    gross="J/kg",
    hydrogen="1",
    oxygen="1",
    nitrogen="1",
    result="J/kg",
)
def net_heating_value(
    gross: Number, hydrogen: Number, oxygen: Number, nitrogen: Number, h: float, o: float
) -> Number:
    """Lower heating value of dry matter, J/kg; coefficients `h`, `o` in J/g per per cent of
    hydrogen, and of oxygen and nitrogen.

    Takes `gross` [J/kg], `hydrogen` [1], `oxygen` [1], `nitrogen` [1]; returns [J/kg].

    >>> round(net_heating_value(20.0e6, 0.06, 0.43, 0.0, 212.2, 0.8) / 1e6, 2)
    18.69
    """
    return gross - 1e5 * (h * hydrogen + o * (oxygen + nitrogen))


@formula(
    "share of the heat that boils water",
    "ISO 18125:2017: 24.43 M of q_net,d (1 - 0.01 M)",
    net_dry="J/kg",
    wet="1",
    water="1",
    result="1",
)
def boiling_share(net_dry: Number, wet: Number, water: float) -> Number:
    """Part of the dry matter's net heat that evaporates the water it holds; above 1 it cannot burn
    by itself.

    Takes `net_dry` [J/kg], `wet` [1], `water` [1]; returns [1].

    >>> round(boiling_share(18.7e6, 0.5, 24.43), 3)
    0.131
    """
    return 1e5 * water * wet / (net_dry * (1.0 - wet))
