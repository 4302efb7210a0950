"""Charring: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.physics.charring import _MILLIMETRES, _MINUTE
from feedstock.uncertainty.elementwise import maximum, minimum
from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula(
    "char depth by time",
    "Wood Handbook, FPL-GTR-190 (2010), eq. 18-3 solved for x",
    time="s",
    coefficient="min/mm^1.23",
    factor="1",
    result="m",
)
def depth_at(time: Number, coefficient: Number, factor: Number, exponent: float) -> Number:
    """Depth of the char front after `time` in flame, in a piece thick enough not to have charred
    through.

    Takes `time` [s], `coefficient` [min/mm^1.23], `factor` [1]; returns [m].

    >>> round(depth_at(1434.1, 0.6, 1.0, 1.23), 3)
    0.02
    """
    return (time / (_MINUTE * factor * coefficient)) ** (1.0 / exponent) / _MILLIMETRES


@formula(
    "linear char depth",
    "EN 1995-1-2:2004, eq. 3.1: d = beta t",
    time="s",
    rate="mm/min",
    result="m",
)
def linear_depth(time: Number, rate: Number) -> Number:
    """Char depth in the standard fire at a constant rate in mm/min.

    Takes `time` [s], `rate` [mm/min]; returns [m].

    >>> round(linear_depth(1800.0, 0.65), 4)
    0.0195
    """
    return rate * time / _MINUTE / _MILLIMETRES


@formula(
    "time to a char depth at a constant rate",
    "EN 1995-1-2:2004, eq. 3.1 solved for t",
    depth="m",
    rate="mm/min",
    result="s",
)
def linear_time(depth: Number, rate: Number) -> Number:
    """Time to a char depth at a constant rate.

    Takes `depth` [m], `rate` [mm/min]; returns [s].

    >>> round(linear_time(0.0195, 0.65))
    1800
    """
    return _MINUTE * _MILLIMETRES * depth / rate


@formula(
    "charring rate of hardwood",
    "EN 1995-1-2:2004, table 3.1, linear between the two densities",
    density="kg/m^3",
    result="mm/min",
)
def hardwood_rate(
    density: Number, light: float, heavy: float, rate_light: float, rate_heavy: float
) -> Number:
    """Rate in mm/min at a characteristic density; constant below `light` and above `heavy`.

    Takes `density` [kg/m^3]; returns [mm/min].

    >>> round(hardwood_rate(370.0, 290.0, 450.0, 0.65, 0.5), 3)
    0.575
    """
    up = minimum(maximum((density - light) / (heavy - light), 0.0), 1.0)
    return rate_light + (rate_heavy - rate_light) * up


@formula(
    "charring rate by density",
    "AS 1720.4:2006: 0.4 + (280/rho12)^2",
    density="kg/m^3",
    result="mm/min",
)
def rate_by_density(density: Number, constant: float, scale: float) -> Number:
    """Rate in mm/min at the density at 12 % moisture.

    Takes `density` [kg/m^3]; returns [mm/min].

    >>> rate_by_density(560.0, 0.4, 280.0)
    0.65
    """
    return constant + (scale / density) ** 2


@formula(
    "linear char slowness",
    "Wood Handbook, FPL-GTR-190 (2010), eq. 18-2",
    density="kg/m^3",
    moisture="1",
    result="min/mm",
)
def slowness(
    density: Number, moisture: Number, per_density: float, per_both: float, constant: float
) -> Number:
    """Minutes per mm of one species; `density` is dry mass over volume at that moisture (share of
    the dry mass).

    Takes `density` [kg/m^3], `moisture` [1]; returns [min/mm].

    >>> round(slowness(500.0, 0.12, 0.002269, 0.00457, 0.331), 2)
    1.74
    """
    return (per_density + per_both * moisture) * density + constant


@formula(
    "burning rate by mass loss of a wood face",
    "definition: loss of a face times exposed face per rim",
    loss="kg/m^2/s",
    exposed="1",
    result="kg/m^2/s",
)
def rate_from_face(loss: Number, exposed: Number) -> Number:
    """Feed eaten per rim area from the mass loss of one wood face and how much face the feed shows
    per rim area.

    Takes `loss` [kg/m^2/s], `exposed` [1]; returns [kg/m^2/s].

    >>> rate_from_face(0.006, 2.0)
    0.012
    """
    return loss * exposed


@formula(
    "depth of the front",
    "definition, speed x time, at most the load",
    time="s",
    speed="mm/min",
    depth="m",
    result="m",
)
def front_depth(time: Number, speed: Number, depth: Number) -> Number:
    """How far down the front stands after `time`; what lies below it is uncharred feed.

    Takes `time` [s], `speed` [mm/min], `depth` [m]; returns [m].

    >>> round(front_depth(1200.0, 10.0, 0.4), 3)
    0.2
    """
    return minimum(speed * time / _MINUTE / _MILLIMETRES, depth)


@formula(
    "speed of the front by burning rate",
    "definition, rate / dry mass per volume of the load",
    rate="kg/m^2/s",
    load_density="kg/m^3",
    result="mm/min",
)
def front_speed(rate: Number, load_density: Number) -> Number:
    """The speed that a burning rate per area means in a load of that dry mass per heaped volume; a
    check on the judged speed.

    Takes `rate` [kg/m^2/s], `load_density` [kg/m^3]; returns [mm/min].

    >>> round(front_speed(0.01, 100.0), 3)
    6.0
    """
    return _MINUTE * _MILLIMETRES * rate / load_density
