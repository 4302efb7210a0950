"""Density of wood on its three bases, shrinkage below fibre saturation, bark, and what a heap of it
holds.
"""

from __future__ import annotations

from ..uncertainty.elementwise import maximum, minimum
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
