"""Quality: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.uncertainty.elementwise import exp, log
from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula(
    "temperature for a molar H/C",
    "the same curve solved for T",
    ratio="1",
    start="1",
    rate="1/degC",
    result="degC",
)
def temperature_for(ratio: Number, start: float, rate: float) -> Number:
    """Temperature, degC, at which the curve passes `ratio` (above 0): the edges 0.7 and 0.4 of the
    char standards.

    Takes `ratio` [1], `start` [1], `rate` [1/degC]; returns [degC].

    >>> round(temperature_for(0.7, 1.9, 0.00281))
    355
    """
    return log(start / ratio) / rate


@formula(
    "hydrogen in ash-free char",
    "Neves et al. 2011: H = -0.0041 + 0.10 exp(-0.0024 T)",
    temperature="degC",
    rest="1",
    span="1",
    rate="1/degC",
    result="1",
)
def hydrogen_in_char(temperature: Number, rest: float, span: float, rate: float) -> Number:
    """Mass share of hydrogen in dry ash-free char made at `temperature` (degC, 300 to 800).

    Takes `temperature` [degC], `rest` [1], `span` [1], `rate` [1/degC]; returns [1].

    >>> round(hydrogen_in_char(500.0, -0.0041, 0.10, 0.0024), 3)
    0.026
    """
    return rest + span * exp(-rate * temperature)
