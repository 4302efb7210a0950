"""A fire that is fed at its pace: how much it takes in a time, how long it takes for so much, and
what all loads of a heap come to.

Masses in kg dry, SI units.
"""

from __future__ import annotations

from ..uncertainty.elementwise import maximum, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "fuel of a fed burn by its time",
    "balance of fuel, volume and time: rate x rim area x burning fraction x (quick fuel of the "
    "heap + bed at its part of the pace + feeding), no more than the whole time at the pace",
    rate="kg/m^2/s",
    rim="m^2",
    burning_fraction="1",
    time="s",
    bed="s",
    bed_pace="1",
    burn_down="s",
    there="1",
    lighting="s",
    mending="s",
    finish="s",
    result="kg",
)
def fed_in_time(
    rate: Number,
    rim: Number,
    burning_fraction: Number,
    time: Number,
    bed: Number,
    bed_pace: Number,
    burn_down: Number,
    there: Number,
    lighting: Number,
    mending: Number,
    finish: Number,
) -> Number:
    """Dry fuel that a fed fire takes in `time`: lit, fed at `bed_pace` of its pace until the bed
    stands, then at its pace until `burn_down` before the end.

    `there` is the part of the quick fuel that comes from the heap itself.

    Takes `rate` [kg/m^2/s], `rim` [m^2], `burning_fraction` [1], `time` [s], `bed` [s], `bed_pace`
    [1], `burn_down` [s], `there` [1], `lighting` [s], `mending` [s], `finish` [s]; returns [kg].

    >>> round(fed_in_time(0.01, 1.0, 1.0, 3600.0, 480.0, 0.5, 600.0, 1.0, 180.0, 90.0, 120.0), 2)
    31.5
    """
    quick, young = there * (lighting + mending + finish), minimum(bed, time)
    feeding = maximum(time - young - burn_down, 0.0)
    return rate * rim * burning_fraction * minimum(quick + bed_pace * young + feeding, time)


@formula(
    "length of a fed burn",
    "balance of fuel, volume and time: bed + feeding at the pace + burn-down",
    fuel="kg",
    rate="kg/m^2/s",
    rim="m^2",
    burning_fraction="1",
    bed="s",
    bed_pace="1",
    burn_down="s",
    there="1",
    lighting="s",
    mending="s",
    finish="s",
    result="s",
)
def fed_length(
    fuel: Number,
    rate: Number,
    rim: Number,
    burning_fraction: Number,
    bed: Number,
    bed_pace: Number,
    burn_down: Number,
    there: Number,
    lighting: Number,
    mending: Number,
    finish: Number,
) -> Number:
    """From lighting to quench; the inverse of `fed_in_time`.

    Takes `fuel` [kg], `rate` [kg/m^2/s], `rim` [m^2], `burning_fraction` [1], `bed` [s], `bed_pace`
    [1], `burn_down` [s], `there` [1], `lighting` [s], `mending` [s], `finish` [s]; returns [s].

    >>> round(fed_length(31.5, 0.01, 1.0, 1.0, 480.0, 0.5, 600.0, 1.0, 180.0, 90.0, 120.0))
    3600
    """
    laid = there * (lighting + mending + finish) + bed_pace * bed
    return bed + burn_down + maximum(fuel / (rate * rim * burning_fraction) - laid, 0.0)


@formula(
    "length of a load lit on top",
    "balance of fuel, volume and time: front to the floor + burn-down",
    front="s",
    burn_down="s",
    result="s",
)
def lit_length(front: Number, burn_down: Number) -> Number:
    """From lighting until the lowest pieces are through.

    Takes `front` [s], `burn_down` [s]; returns [s].

    >>> lit_length(3600.0, 900.0)
    4500.0
    """
    return front + burn_down


@formula(
    "part of a heap",
    "definition",
    whole="kg",
    share="1",
    result="kg",
)
def part_of_heap(whole: Number, share: Number) -> Number:
    """What of a heap is meant for one load.

    Takes `whole` [kg], `share` [1]; returns [kg].

    >>> part_of_heap(60.0, 0.5)
    30.0
    """
    return whole * share


@formula(
    "hours for all loads",
    "definition, loads x (burn + what lies between two)",
    loads="1",
    burn="s",
    turn="s",
    result="s",
)
def all_hours(loads: Number, burn: Number, turn: Number) -> Number:
    """Time for all loads of a heap, each with its quench, emptying and relighting.

    Takes `loads` [1], `burn` [s], `turn` [s]; returns [s].

    >>> all_hours(3.0, 7200.0, 1800.0)
    27000.0
    """
    return loads * (burn + turn)


@formula("of all loads", "definition", loads="1", one="1", result="1")
def of_all(loads: Number, one: Number) -> Number:
    """What all loads take or leave together, in the unit of one.

    Takes `loads` [1], `one` [1]; returns [1].

    >>> of_all(3.0, 40.0)
    120.0
    """
    return loads * one
