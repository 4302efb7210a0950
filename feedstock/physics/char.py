"""How much char a dry feed gives: the laboratory curve, what a burner keeps of it, mass, density
and volume. One density serves every figure of a char: heaped, sorted, uncrushed and dry.
"""

from __future__ import annotations

from ..uncertainty.elementwise import exp, maximum, minimum
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
    kept="1",
    ash_kept="1",
    result="1",
)
def char_yield(ash: Number, organic: Number, kept: Number, ash_kept: Number) -> Number:
    """Sorted char per dry feed; `ash` of the dry feed, `kept` share of the organic char left by the
    fire, `ash_kept` of the ash.

    Takes `ash` [1], `organic` [1], `kept` [1], `ash_kept` [1]; returns [1].

    >>> round(char_yield(0.02, 0.3, 0.9, 0.86), 3)
    0.282
    """
    return ash_kept * ash + (1.0 - ash) * organic * kept


@formula(
    "kept share behind a published field yield",
    "solved from Y = a A + (1 - A) y k for the reference feed",
    field_yield="1",
    ash="1",
    organic="1",
    ash_kept="1",
    result="1",
)
def kept_behind(field_yield: Number, ash: Number, organic: Number, ash_kept: Number) -> Number:
    """The kept share k of a burner whose published yield with its reference feed is `field_yield`;
    it may exceed 1.

    Takes `field_yield` [1], `ash` [1], `organic` [1], `ash_kept` [1]; returns [1].

    >>> round(kept_behind(0.2818, 0.02, 0.3, 0.86), 3)
    0.9
    """
    return (field_yield - ash_kept * ash) / ((1.0 - ash) * organic)


@formula(
    "kept share of this feed",
    "mass balance: the burner's, times the feed's by fineness over the reference feed's",
    burner="1",
    feed="1",
    reference="1",
    result="1",
)
def kept_of_feed(burner: Number, feed: Number, reference: Number) -> Number:
    """Kept share of this feed.

    Takes `burner` [1], `feed` [1], `reference` [1]; returns [1].

    >>> round(kept_of_feed(0.8, 0.75, 0.9), 3)
    0.667
    """
    return burner * feed / reference


@formula("kept share less brands", "mass balance", kept="1", brands="1", result="1")
def without_brands(kept: Number, brands: Number) -> Number:
    """Kept share once half-charred pieces, `brands` of the charge, are sorted out.

    Takes `kept` [1], `brands` [1]; returns [1].

    >>> without_brands(0.8, 0.05)
    0.76
    """
    return kept * (1.0 - brands)


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
    kept="1",
    result="kg",
)
def organic_char(dry_mass: Number, ash: Number, organic: Number, kept: Number) -> Number:
    """Ash-free char, kg, of a dry feed.

    Takes `dry_mass` [kg], `ash` [1], `organic` [1], `kept` [1]; returns [kg].

    >>> round(organic_char(100.0, 0.02, 0.3, 0.9), 2)
    26.46
    """
    return dry_mass * (1.0 - ash) * organic * kept


@formula(
    "share of the oven-dry density that a piece of char has",
    "table of two temperatures, linear between, flat outside",
    temperature="degC",
    cool="1",
    hot="1",
    cool_to="degC",
    hot_from="degC",
    result="1",
)
def lump_share(
    temperature: Number, cool: Number, hot: Number, cool_to: float, hot_from: float
) -> Number:
    """Apparent density of a piece of char over the oven-dry density of the piece of wood that it
    was.

    `cool` holds to `cool_to`, `hot` from `hot_from` on. For char made at 350 to 800 degC.

    Takes `temperature` [degC], `cool` [1], `hot` [1], `cool_to` [degC], `hot_from` [degC]; returns
    [1].

    >>> round(lump_share(550.0, 0.62, 0.55, 500.0, 600.0), 3)
    0.585
    """
    way = minimum(maximum(temperature - cool_to, 0.0), hot_from - cool_to) / (hot_from - cool_to)
    return cool + (hot - cool) * way


@formula(
    "how the density follows the doubt of the yield",
    "first order in the log: exp(part e / y)",
    curve="1",
    error="1",
    part="1",
    result="1",
)
def rises_with_yield(curve: Number, error: Number, part: Number) -> Number:
    """The factor by which char is denser where the laboratory curve is off by `error`: where more
    char is left of the same feed, `part` of it (in the log) is denser pieces and the rest more
    volume.

    Takes `curve` [1], `error` [1], `part` [1]; returns [1].

    >>> round(rises_with_yield(0.25, 0.05, 0.5), 4)
    1.1052
    """
    return exp(part * error / curve)


@formula(
    "density of a piece of char",
    "definition: share of the oven-dry density of the wood",
    oven_dry="kg/m^3",
    share="1",
    rise="1",
    result="kg/m^3",
)
def lump_density(oven_dry: Number, share: Number, rise: Number) -> Number:
    """Apparent density of a piece of char, pores and all.

    Takes `oven_dry` [kg/m^3], `share` [1], `rise` [1]; returns [kg/m^3].

    >>> round(lump_density(500.0, 0.62, 1.0), 1)
    310.0
    """
    return oven_dry * share * rise


@formula(
    "density of the pieces of char with those of bark",
    "mass balance: the volumes of wood and bark add; bark per wood volume (USFS GTR WO-104)",
    lump="kg/m^3",
    wood="kg/m^3",
    bark="kg/m^3",
    bark_volume="1",
    bark_left="1",
    share="1",
    rise="1",
    result="kg/m^3",
)
def lump_density_in_bark(
    lump: Number,
    wood: Number,
    bark: Number,
    bark_volume: Number,
    bark_left: Number,
    share: Number,
    rise: Number,
) -> Number:
    """Mean apparent density of char of wood (`lump`) and of the bark on it.

    `wood` and `bark` are dry mass per green volume, `share` is the density of char of bark over
    that of the bark.

    Takes `lump` [kg/m^3], `wood` [kg/m^3], `bark` [kg/m^3], `bark_volume` [1], `bark_left` [1],
    `share` [1], `rise` [1]; returns [kg/m^3].

    >>> round(lump_density_in_bark(300.0, 500.0, 300.0, 0.1, 1.0, 0.6, 1.0), 1)
    289.1
    """
    volume = bark_volume * bark_left
    return (wood + volume * bark) / (wood / lump + volume / (share * rise))


@formula(
    "density of char as it lies",
    "definition: solid share of the heap",
    lump="kg/m^3",
    packing="1",
    result="kg/m^3",
)
def heaped_density(lump: Number, packing: Number) -> Number:
    """Dry mass of sorted char per heaped volume, from that of its pieces.

    Takes `lump` [kg/m^3], `packing` [1]; returns [kg/m^3].

    >>> round(heaped_density(310.0, 0.45), 1)
    139.5
    """
    return lump * packing


@formula(
    "density of char by the balance of its feed",
    "mass balance: rho = rho_feed Y / (1 - S), Y = a A + (1 - A) y of the laboratory",
    feed="kg/m^3",
    ash="1",
    ash_kept="1",
    organic="1",
    rise="1",
    lost="1",
    result="kg/m^3",
)
def by_balance(
    feed: Number, ash: Number, ash_kept: Number, organic: Number, rise: Number, lost: Number
) -> Number:
    """Dry mass of char per heaped volume, from that of its feed, `feed`.

    `organic` is the curve's yield and `rise` what its doubt adds; a heap loses `lost` of its
    volume. What a fire burns off takes mass and volume alike, so it is not in it.

    Takes `feed` [kg/m^3], `ash` [1], `ash_kept` [1], `organic` [1], `rise` [1], `lost` [1]; returns
    [kg/m^3].

    >>> round(by_balance(300.0, 0.02, 0.86, 0.28, 1.0, 0.45), 1)
    159.1
    """
    return feed * (ash_kept * ash + (1.0 - ash) * organic * rise) / (1.0 - lost)


@formula(
    "density of char as it was measured",
    "that of the row, with the doubt of the yield",
    density="kg/m^3",
    rise="1",
    result="kg/m^3",
)
def as_measured(density: Number, rise: Number) -> Number:
    """Dry mass of char per heaped volume where the row has one.

    Takes `density` [kg/m^3], `rise` [1]; returns [kg/m^3].

    >>> as_measured(70.0, 1.0)
    70.0
    """
    return density * rise


@formula(
    "heaped char volume",
    "mass balance, m_char / rho_char",
    mass="kg",
    density="kg/m^3",
    result="m^3",
)
def char_volume(mass: Number, density: Number) -> Number:
    """Heaped, sorted, uncrushed, dry volume of char.

    Takes `mass` [kg], `density` [kg/m^3]; returns [m^3].

    >>> char_volume(8.0, 160.0)
    0.05
    """
    return mass / density
