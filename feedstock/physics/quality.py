"""What the char is made of: molar H/C and O/C by temperature, ash, organic carbon.

Temperatures in degC.
"""

from __future__ import annotations

from ..uncertainty.elementwise import exp, log, maximum, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "molar H/C of char",
    "form r = a exp(-b T), fitted on Enders et al. 2012, Bioresour. Technol. 114:644, "
    "by class of feed",
    temperature="degC",
    start="1",
    rate="1/degC",
    doubt="1",
    result="1",
)
def hydrogen_to_carbon(
    temperature: Number, start: float, rate: float, doubt: Number = 1.0
) -> Number:
    """Moles of hydrogen per mole of organic carbon in char made at `temperature` (degC; fitted from
    300 to 600).

    `doubt` is the factor by which chars of other laboratories differ at one temperature; 1 is the
    curve itself.

    Takes `temperature` [degC], `start` [1], `rate` [1/degC], `doubt` [1]; returns [1].

    >>> round(hydrogen_to_carbon(500.0, 1.9, 0.00281, 1.0), 3)
    0.466
    """
    return start * exp(-rate * temperature) * doubt


@formula(
    "doubt of the molar H/C by temperature",
    "geometric mean of two factors, straight between two temperatures",
    temperature="degC",
    cool="1",
    hot="1",
    cool_to="degC",
    hot_from="degC",
    result="1",
)
def doubt_at(
    temperature: Number, cool: Number, hot: Number, cool_to: float, hot_from: float
) -> Number:
    """The factor by which chars of other laboratories differ: `cool` to `cool_to`, `hot` from
    `hot_from` on.

    Takes `temperature` [degC], `cool` [1], `hot` [1], `cool_to` [degC], `hot_from` [degC]; returns
    [1].

    >>> round(doubt_at(600.0, 1.5, 1.6, 550.0, 650.0), 4)
    1.5492
    """
    way = minimum(maximum(temperature - cool_to, 0.0), hot_from - cool_to) / (hot_from - cool_to)
    return cool * exp(way * log(hot / cool))


@formula(
    "least volatile matter of ash-free char",
    "mass balance: volatiles hold all that is no carbon",
    carbon="1",
    error="1",
    result="1",
)
def least_volatile(carbon: Number, error: Number) -> Number:
    """Volatile matter of ash-free char below which there would be more carbon than the highest of
    its interval, `carbon` + `error`.

    Takes `carbon` [1], `error` [1]; returns [1].

    >>> round(least_volatile(0.8, 0.07), 2)
    0.13
    """
    return maximum(1.0 - carbon - error, 0.0)


@formula(
    "carbon in ash-free char",
    "Neves et al. 2011: C = 0.93 - 0.92 exp(-0.0042 T)",
    temperature="degC",
    rest="1",
    span="1",
    rate="1/degC",
    result="1",
)
def carbon_in_char(temperature: Number, rest: float, span: float, rate: float) -> Number:
    """Mass share of carbon in dry ash-free char made at `temperature` (degC, 300 to 800); `span` is
    negative, since carbon rises.

    Takes `temperature` [degC], `rest` [1], `span` [1], `rate` [1/degC]; returns [1].

    >>> round(carbon_in_char(500.0, 0.93, -0.92, 0.0042), 3)
    0.817
    """
    return rest + span * exp(-rate * temperature)


@formula(
    "oxygen in ash-free char",
    "Neves et al. 2011: O = 0.07 + 0.85 exp(-0.0048 T)",
    temperature="degC",
    rest="1",
    span="1",
    rate="1/degC",
    result="1",
)
def oxygen_in_char(temperature: Number, rest: float, span: float, rate: float) -> Number:
    """Mass share of oxygen in dry ash-free char made at `temperature` (degC, 300 to 800).

    `span` is positive. Copies of the equation with a minus sign are in circulation; with it carbon,
    hydrogen and oxygen miss 1 by up to 0.4 at 300 degC and oxygen is negative below about 520 degC,
    with plus they add to 0.985 to 0.997.

    Takes `temperature` [degC], `rest` [1], `span` [1], `rate` [1/degC]; returns [1].

    >>> round(oxygen_in_char(500.0, 0.07, 0.85, 0.0048), 3)
    0.147
    """
    return rest + span * exp(-rate * temperature)


@formula(
    "molar ratio to carbon",
    "definition, (x / M_x) / (c / M_C)",
    share="1",
    carbon="1",
    atomic="g/mol",
    atomic_carbon="g/mol",
    result="1",
)
def molar_ratio(share: Number, carbon: Number, atomic: float, atomic_carbon: float) -> Number:
    """Moles of an element per mole of carbon, from mass shares on one basis and standard atomic
    weights.

    Takes `share` [1], `carbon` [1], `atomic` [g/mol], `atomic_carbon` [g/mol]; returns [1].

    >>> round(molar_ratio(0.03, 0.8, 1.008, 12.011), 3)
    0.447
    """
    return (share / atomic) / (carbon / atomic_carbon)


@formula(
    "ash of the char",
    "A_char = a A / Y: ash is kept apart from the organic part",
    ash="1",
    ash_kept="1",
    yield_="1",
    result="1",
)
def char_ash(ash: Number, ash_kept: Number, yield_: Number) -> Number:
    """Mass share of ash in dry char: `ash` of the dry feed, `ash_kept` the part of it that stays
    with the sorted char, `yield_` char per dry feed.

    Soil and grit picked up from the pit are not in it. At most 1.

    Takes `ash` [1], `ash_kept` [1], `yield_` [1]; returns [1].

    >>> round(char_ash(0.05, 0.86, 0.25), 3)
    0.172
    """
    return minimum(ash * ash_kept / yield_, 1.0)


@formula(
    "organic carbon of the char",
    "definition, C (1 - A_char); the ash is taken to hold no organic carbon",
    carbon="1",
    ash="1",
    result="1",
)
def organic_carbon(carbon: Number, ash: Number) -> Number:
    """Mass share of organic carbon in dry char, from that of the ash-free char and the char's
    `ash`.

    Takes `carbon` [1], `ash` [1]; returns [1].

    >>> round(organic_carbon(0.8, 0.1), 3)
    0.72
    """
    return carbon * (1.0 - ash)
