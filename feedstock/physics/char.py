"""How much char a dry feed gives: the laboratory curve, what a burner keeps, mass and carbon."""

from __future__ import annotations

from ..uncertainty.elementwise import exp, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "char yield of the organic part, exponential in temperature",
    "form of Neves et al. 2011 and Woolf et al. 2014, coefficients by the method row",
    temperature="degC",
    lignin="1",
    result="1",
)
def organic_yield(
    temperature: Number,
    lignin: Number,
    floor: Number,
    amplitude: float,
    rate: float,
    lignin_slope: float,
    offset: float,
) -> Number:
    """Dry ash-free char per dry ash-free feed, in a closed laboratory vessel at the highest
    treatment temperature (degC).

    y = floor + lignin_slope * lignin + offset + amplitude * exp(-rate * T). Range of use 350 to 800
    degC.

    Takes `temperature` [degC], `lignin` [1]; returns [1].

    >>> round(organic_yield(500.0, 0.0, 0.2, 0.9, 0.005, 0.0, 0.0), 3)
    0.274
    """
    return floor + lignin_slope * lignin + offset + amplitude * exp(-rate * temperature)


@formula(
    "error of the curve",
    "mass balance, sum of what all classes share and what this class has",
    common="1",
    class_="1",
    result="1",
)
def total_error(common: Number, class_: Number) -> Number:
    """Error of the curve.

    Takes `common` [1], `class_` [1]; returns [1].

    >>> round(total_error(0.02, -0.01), 3)
    0.01
    """
    return common + class_


@formula(
    "laboratory yield with its doubt",
    "mass balance to first order: y exp(e / y), which never falls to nothing",
    curve="1",
    error="1",
    result="1",
)
def shifted(curve: Number, error: Number) -> Number:
    """The curve moved by an error in yield, as a factor, so that it stays above nothing; at most
    0.99.

    Takes `curve` [1], `error` [1]; returns [1].

    >>> round(shifted(0.3, 0.03), 3)
    0.332
    """
    return minimum(curve * exp(error / curve), 0.99)


@formula(
    "char yield, dry basis",
    "Y = a A + (1 - A) y k: ash is kept apart from the organic part",
    ash="1",
    organic="1",
    char_retention="1",
    ash_kept="1",
    result="1",
)
def char_yield(ash: Number, organic: Number, char_retention: Number, ash_kept: Number) -> Number:
    """Sorted char per dry feed; `ash` of the dry feed, `char_retention` share of the organic char
    left by the fire, `ash_kept` of the ash.

    Takes `ash` [1], `organic` [1], `char_retention` [1], `ash_kept` [1]; returns [1].

    >>> round(char_yield(0.02, 0.3, 0.9, 0.86), 3)
    0.282
    """
    return ash_kept * ash + (1.0 - ash) * organic * char_retention


@formula(
    "char retention behind a published field yield",
    "solved from Y = a A + (1 - A) y k for the reference feed",
    field_yield="1",
    ash="1",
    organic="1",
    ash_kept="1",
    result="1",
)
def retention_behind(field_yield: Number, ash: Number, organic: Number, ash_kept: Number) -> Number:
    """The char retention k of a burner whose published yield with its reference feed is
    `field_yield`; it may exceed 1.

    Takes `field_yield` [1], `ash` [1], `organic` [1], `ash_kept` [1]; returns [1].

    >>> round(retention_behind(0.2818, 0.02, 0.3, 0.86), 3)
    0.9
    """
    return (field_yield - ash_kept * ash) / ((1.0 - ash) * organic)


@formula(
    "char retention of this feed",
    "mass balance: the burner's, times the feed's by fineness over the reference feed's",
    burner="1",
    feed="1",
    reference="1",
    result="1",
)
def retention_of_feed(burner: Number, feed: Number, reference: Number) -> Number:
    """Char retention of this feed.

    Takes `burner` [1], `feed` [1], `reference` [1]; returns [1].

    >>> round(retention_of_feed(0.8, 0.75, 0.9), 3)
    0.667
    """
    return burner * feed / reference


@formula("char retention less brands", "mass balance", char_retention="1", brands="1", result="1")
def without_brands(char_retention: Number, brands: Number) -> Number:
    """Char retention once half-charred pieces, `brands` of the charge, are sorted out.

    Takes `char_retention` [1], `brands` [1]; returns [1].

    >>> without_brands(0.8, 0.05)
    0.76
    """
    return char_retention * (1.0 - brands)


@formula("char mass", "mass balance, m_char = m_dry Y", dry_mass="kg", yield_="1", result="kg")
def char_mass(dry_mass: Number, yield_: Number) -> Number:
    """Char mass.

    Takes `dry_mass` [kg], `yield_` [1]; returns [kg].

    >>> char_mass(32.0, 0.25)
    8.0
    """
    return dry_mass * yield_


@formula(
    "organic char",
    "mass balance, (1 - A) y k of the dry feed",
    dry_mass="kg",
    ash="1",
    organic="1",
    char_retention="1",
    result="kg",
)
def organic_char(dry_mass: Number, ash: Number, organic: Number, char_retention: Number) -> Number:
    """Ash-free char, kg, of a dry feed.

    Takes `dry_mass` [kg], `ash` [1], `organic` [1], `char_retention` [1]; returns [kg].

    >>> round(organic_char(100.0, 0.02, 0.3, 0.9), 2)
    26.46
    """
    return dry_mass * (1.0 - ash) * organic * char_retention


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
