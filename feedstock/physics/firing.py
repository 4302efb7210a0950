"""What one burn takes in and leaves: the least of what the fire, the fuel and the vessel allow.

Masses in kg dry, SI units.
"""

from __future__ import annotations

from ..uncertainty.elementwise import maximum, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number

# the least denominator: no fuel gives no char and no load
NOTHING = 1e-300
# slices of a load, and ages of a lot, over which a raw core is averaged


@formula(
    "char that a vessel holds",
    "balance of fuel, volume and time, V x filling / (volume in the vessel per sorted volume)",
    vessel="m^3",
    fill="1",
    in_vessel="1",
    result="m^3",
)
def usable_char(vessel: Number, fill: Number, in_vessel: Number) -> Number:
    """Sorted, heaped volume of char, m3, of a vessel filled with char to the share `fill`.

    Takes `vessel` [m^3], `fill` [1], `in_vessel` [1]; returns [m^3].

    >>> round(usable_char(0.2, 0.9, 1.2), 3)
    0.15
    """
    return vessel * fill / in_vessel


@formula(
    "volume per fuel", "balance of fuel, volume and time", volume="m^3", fuel="kg", result="m^3/kg"
)
def per_fuel(volume: Number, fuel: Number) -> Number:
    """Volume per fuel.

    Takes `volume` [m^3], `fuel` [kg]; returns [m^3/kg].

    >>> per_fuel(0.1, 50.0)
    0.002
    """
    return volume / maximum(fuel, NOTHING)


@formula(
    "fuel for a volume",
    "balance of fuel, volume and time",
    volume="m^3",
    per_fuel="m^3/kg",
    result="kg",
)
def fuel_for(volume: Number, per_fuel: Number) -> Number:
    """Dry feed that fills `volume` at `per_fuel` m3 per kg of feed.

    Takes `volume` [m^3], `per_fuel` [m^3/kg]; returns [kg].

    >>> round(fuel_for(0.15, 0.002), 1)
    75.0
    """
    return volume / maximum(per_fuel, NOTHING)


@formula(
    "quick fuel held back",
    "balance of fuel, volume and time, rate x rim area x burning fraction x (lighting + "
    "mending + finish)",
    rate="kg/m^2/s",
    rim="m^2",
    burning_fraction="1",
    lighting="s",
    mending="s",
    finish="s",
    result="kg",
)
def quick_fuel(
    rate: Number,
    rim: Number,
    burning_fraction: Number,
    lighting: Number,
    mending: Number,
    finish: Number,
) -> Number:
    """Thin dry fuel for lighting, for ashy spots and for the finish, given as times at the fire's
    own burning rate.

    Takes `rate` [kg/m^2/s], `rim` [m^2], `burning_fraction` [1], `lighting` [s], `mending` [s],
    `finish` [s]; returns [kg].

    >>> round(quick_fuel(0.016, 0.8, 1.0, 180.0, 60.0, 150.0), 3)
    4.992
    """
    return rate * rim * burning_fraction * (lighting + mending + finish)


@formula(
    "fuel of one burn",
    "balance of fuel, volume and time, the least of what there is and what the vessel takes",
    there="kg",
    vessel="kg",
    result="kg",
)
def fuel_by_two(there: Number, vessel: Number) -> Number:
    """Fuel of one burn.

    Takes `there` [kg], `vessel` [kg]; returns [kg].

    >>> fuel_by_two(60.0, 75.0)
    60.0
    """
    return minimum(there, vessel)


@formula(
    "fuel of one burn of stated length",
    "balance of fuel, volume and time, the least of what there is, what the vessel "
    "takes and what the fire eats",
    there="kg",
    vessel="kg",
    eaten="kg",
    result="kg",
)
def fuel_by_three(there: Number, vessel: Number, eaten: Number) -> Number:
    """Fuel of one burn of stated length.

    Takes `there` [kg], `vessel` [kg], `eaten` [kg]; returns [kg].

    >>> fuel_by_three(60.0, 75.0, 40.0)
    40.0
    """
    return minimum(minimum(there, vessel), eaten)


@formula(
    "char that one burn leaves",
    "balance of fuel, volume and time, (fuel - quick fuel (1 - kept of kindling)) x "
    "char per fuel x (1 - wood still raw beyond the usual)",
    fuel="kg",
    quick="kg",
    kindling="1",
    per_fuel="m^3/kg",
    uncharred_fraction="1",
    usual="1",
    result="m^3",
)
def char_left(
    fuel: Number,
    quick: Number,
    kindling: Number,
    per_fuel: Number,
    uncharred_fraction: Number,
    usual: Number,
) -> Number:
    """Sorted char, m3.

    Of the quick fuel only `kindling` of its char stays; The `usual` share of half-charred wood is
    in `per_fuel` already.

    Takes `fuel` [kg], `quick` [kg], `kindling` [1], `per_fuel` [m^3/kg], `uncharred_fraction` [1],
    `usual` [1]; returns [m^3].

    >>> round(char_left(60.0, 5.0, 0.3, 0.002, 0.08, 0.05), 4)
    0.1096
    """
    full = maximum(fuel - minimum(quick, fuel) * (1.0 - kindling), 0.0)
    return full * per_fuel * (1.0 - maximum(uncharred_fraction - usual, 0.0))


@formula(
    "what is to be put out",
    "balance of fuel, volume and time, fuel x char per fuel",
    fuel="kg",
    per_fuel="m^3/kg",
    result="m^3",
)
def hot_char(fuel: Number, per_fuel: Number) -> Number:
    """Volume, m3, of all that glows or could when it is put out: the whole fuel of the burn as if
    it had charred, quick fuel and cores with it.

    Takes `fuel` [kg], `per_fuel` [m^3/kg]; returns [m^3].

    >>> hot_char(60.0, 0.002)
    0.12
    """
    return fuel * per_fuel


@formula(
    "mass of a volume of char",
    "balance of fuel, volume and time, by the heap's mean bulk density",
    volume="m^3",
    total_mass="kg",
    total_volume="m^3",
    result="kg",
)
def char_mass_of(volume: Number, total_mass: Number, total_volume: Number) -> Number:
    """Mass of a volume of char.

    Takes `volume` [m^3], `total_mass` [kg], `total_volume` [m^3]; returns [kg].

    >>> char_mass_of(0.1, 8.0, 0.05)
    16.0
    """
    return volume * total_mass / maximum(total_volume, NOTHING)


@formula(
    "how full a vessel is",
    "balance of fuel, volume and time",
    char="m^3",
    in_vessel="1",
    vessel="m^3",
    result="1",
)
def fill_share(char: Number, in_vessel: Number, vessel: Number) -> Number:
    """Share of the vessel under char before it is sorted; above 1 it is heaped over the rim.

    Takes `char` [m^3], `in_vessel` [1], `vessel` [m^3]; returns [1].

    >>> round(fill_share(0.15, 1.2, 0.2), 3)
    0.9
    """
    return char * in_vessel / vessel


@formula(
    "heaped volume of a heap of fuel",
    "balance of fuel, volume and time, solid wood / packing + loose matter",
    wood="m^3",
    packing="1",
    loose="m^3",
    result="m^3",
)
def gross_volume(wood: Number, packing: Number, loose: Number) -> Number:
    """Heaped volume of a heap of fuel.

    Takes `wood` [m^3], `packing` [1], `loose` [m^3]; returns [m^3].

    >>> round(gross_volume(0.1, 0.4, 0.05), 3)
    0.3
    """
    return wood / packing + loose


@formula(
    "volume of a load",
    "balance of fuel, volume and time, vessel x heap factor",
    vessel="m^3",
    heaped="1",
    result="m^3",
)
def load_volume(vessel: Number, heaped: Number) -> Number:
    """Volume of a load.

    Takes `vessel` [m^3], `heaped` [1]; returns [m^3].

    >>> round(load_volume(0.2, 1.3), 3)
    0.26
    """
    return vessel * heaped


@formula(
    "volume that is there to load",
    "balance of fuel, volume and time, the least of load and heap",
    load="m^3",
    gross="m^3",
    result="m^3",
)
def loaded(load: Number, gross: Number) -> Number:
    """Volume that is there to load.

    Takes `load` [m^3], `gross` [m^3]; returns [m^3].

    >>> loaded(0.26, 0.3)
    0.26
    """
    return minimum(load, gross)


@formula(
    "loads",
    "balance of fuel, volume and time, fuel over what one burn takes",
    there="kg",
    one="kg",
    result="1",
)
def loads(there: Number, one: Number) -> Number:
    """Loads as a real number; the whole number above it is what has to be burnt.

    Takes `there` [kg], `one` [kg]; returns [1].

    >>> loads(60.0, 40.0)
    1.5
    """
    return there / maximum(one, NOTHING)


@formula(
    "depth of a load",
    "balance of fuel, volume and time, level in the vessel plus what stands above its "
    "rim over the rim area",
    level="m",
    volume="m^3",
    vessel="m^3",
    rim="m^2",
    result="m",
)
def load_depth(level: Number, volume: Number, vessel: Number, rim: Number) -> Number:
    """Depth of a load.

    Takes `level` [m], `volume` [m^3], `vessel` [m^3], `rim` [m^2]; returns [m].

    >>> round(load_depth(0.4, 0.25, 0.2, 0.5), 3)
    0.5
    """
    return level + maximum(volume - vessel, 0.0) / rim
