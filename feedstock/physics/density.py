"""Density of wood on its three bases, shrinkage below fibre saturation, bark, and what a heap of it
holds; density and volume of its char. One density serves every figure of a char: heaped, sorted,
uncrushed and dry.
"""

from __future__ import annotations

from ..uncertainty.elementwise import exp, maximum, minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number

WATER = 1000.0
"""kg/m3: the density of water by which specific gravity is defined."""


@formula(
    "specific gravity below fibre saturation",
    "Simpson 1993, FPL-GTR-76: G = Gb / (1 - 0.265 a Gb), a = (30 - M)/30",
    basic="1",
    dry="1",
    result="1",
)
def specific_gravity_at(basic: Number, dry: Number, shrinkage: float, saturation: float) -> Number:
    """Oven-dry mass over the volume at dry-basis moisture `dry`, from the basic specific gravity
    (green volume).

    Takes `basic` [1], `dry` [1]; returns [1].

    >>> round(specific_gravity_at(0.5, 0.0, 0.265, 0.3), 3)
    0.576
    """
    dried = maximum(saturation - dry, 0.0) / saturation
    return basic / (1.0 - shrinkage * dried * basic)


@formula(
    "oven-dry mass per solid volume as it lies",
    "Simpson 1993, FPL-GTR-76, times the decay factor",
    basic="kg/m^3",
    decay="1",
    dry="1",
    result="kg/m^3",
)
def dry_per_volume(
    basic: Number, decay: Number, dry: Number, shrinkage: float, saturation: float
) -> Number:
    """Oven-dry mass, kg, in a cubic metre of wood at dry-basis moisture `dry`: basic density,
    decayed, and shrunk below fibre saturation.

    Takes `basic` [kg/m^3], `decay` [1], `dry` [1]; returns [kg/m^3].

    >>> round(dry_per_volume(500.0, 1.0, 0.0, 0.265, 0.3), 1)
    576.4
    """
    return WATER * specific_gravity_at(basic / WATER, dry, shrinkage, saturation) * decay


@formula("density of a sample", "mass balance", mass="kg", volume="m^3", result="kg/m^3")
def of_sample(mass: Number, volume: Number) -> Number:
    """Oven-dry mass over the volume that the sample had before it was dried.

    Takes `mass` [kg], `volume` [m^3]; returns [kg/m^3].

    >>> round(of_sample(0.33, 0.0006), 1)
    550.0
    """
    return mass / volume


@formula(
    "basic density from that at a moisture",
    "Simpson 1993, FPL-GTR-76, solved for Gb: Gb = G / (1 + 0.265 a G)",
    density="kg/m^3",
    dry="1",
    result="kg/m^3",
)
def basic_of(density: Number, dry: Number, shrinkage: float, saturation: float) -> Number:
    """Oven-dry mass per green volume, from that per volume at dry-basis moisture `dry`.

    Takes `density` [kg/m^3], `dry` [1]; returns [kg/m^3].

    >>> round(basic_of(576.4, 0.0, 0.265, 0.3), 1)
    500.0
    """
    gone = maximum(saturation - dry, 0.0) / saturation
    return density / (1.0 + shrinkage * gone * density / WATER)


@formula("basic density left by decay", "mass balance", basic="kg/m^3", decay="1", result="kg/m^3")
def decayed(basic: Number, decay: Number) -> Number:
    """Oven-dry mass per green volume of wood that has kept the share `decay` of its density.

    Takes `basic` [kg/m^3], `decay` [1]; returns [kg/m^3].

    >>> decayed(570.0, 0.8)
    456.0
    """
    return basic * decay


@formula(
    "oven-dry mass of pieces in bark",
    "mass balance; bark volume as a share of the wood volume (USFS GTR WO-104)",
    volume="m^3",
    wood="kg/m^3",
    bark="kg/m^3",
    bark_volume="1",
    bark_left="1",
    result="kg",
)
def dry_mass_in_bark(
    volume: Number, wood: Number, bark: Number, bark_volume: Number, bark_left: Number
) -> Number:
    """Oven-dry mass of pieces measured over bark: `volume` m3, `wood` and `bark` kg/m3,
    `bark_volume` m3 bark per m3 wood.

    Bark that has fallen off (all but the share `bark_left`) leaves its room empty: the size is that
    of the piece in its bark. Pieces that were measured bare are to be given as bare wood.

    Takes `volume` [m^3], `wood` [kg/m^3], `bark` [kg/m^3], `bark_volume` [1], `bark_left` [1];
    returns [kg].

    >>> round(dry_mass_in_bark(1.1, 500.0, 300.0, 0.1, 1.0), 1)
    530.0
    """
    return volume * (wood + bark_volume * bark_left * bark) / (1.0 + bark_volume)


@formula("oven-dry mass from a volume", "mass balance", volume="m^3", density="kg/m^3", result="kg")
def dry_mass_of(volume: Number, density: Number) -> Number:
    """Oven-dry mass from a volume.

    Takes `volume` [m^3], `density` [kg/m^3]; returns [kg].

    >>> dry_mass_of(0.2, 500.0)
    100.0
    """
    return volume * density


@formula(
    "solid volume in a heap",
    "mass balance, gross volume times the solid share",
    volume="m^3",
    solid="1",
    result="m^3",
)
def solid_volume(volume: Number, solid: Number) -> Number:
    """Volume of the pieces themselves in a heaped or stacked volume.

    Takes `volume` [m^3], `solid` [1]; returns [m^3].

    >>> solid_volume(1.0, 0.65)
    0.65
    """
    return volume * solid


@formula("dry matter without soil", "mass balance", dry_mass="kg", soil="1", result="kg")
def without_soil(dry_mass: Number, soil: Number) -> Number:
    """Oven-dry mass less soil and grit, of which `soil` is the share of the dry mass.

    Takes `dry_mass` [kg], `soil` [1]; returns [kg].

    >>> without_soil(50.0, 0.02)
    49.0
    """
    return dry_mass * (1.0 - soil)


@formula(
    "solid volume of dry matter", "mass balance", dry_mass="kg", density="kg/m^3", result="m^3"
)
def volume_of(dry_mass: Number, density: Number) -> Number:
    """Solid volume of dry matter.

    Takes `dry_mass` [kg], `density` [kg/m^3]; returns [m^3].

    >>> volume_of(100.0, 500.0)
    0.2
    """
    return dry_mass / density


@formula("solid volume of wood that was measured", "as measured", solid="m^3", result="m^3")
def measured_volume(solid: Number) -> Number:
    """The volume of the wood itself, as it was measured.

    Takes `solid` [m^3]; returns [m^3].

    >>> measured_volume(0.2)
    0.2
    """
    return solid


def decay_series(factors: list[float]) -> list[float]:
    """Decay factors by class made non-increasing: a class never has more density than the one
    before it.

    Plain numbers [1] in and out.

    >>> decay_series([1.0, 0.8, 0.85, 0.5])
    [1.0, 0.8, 0.8, 0.5]
    """
    running, out = 1.0, []
    for factor in factors:
        running = minimum(running, factor)
        out.append(running)
    return out


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
