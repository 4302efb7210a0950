"""Compost by moisture and C:N, char in it by volume or mass, and the beds it dresses.

Moistures are on the wet basis (0 to 1), carbon and nitrogen are shares of dry matter, masses are as
they lie. Char is an ingredient whose carbon and nitrogen are nothing, since microbes do not live on
it; its water and its volume count.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from ..uncertainty.elementwise import greatest
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


class NoMixError(ValueError):
    """No mix of non-negative amounts reaches the targets; the text says which way they are
    missed.
    """


class Ingredient(NamedTuple):
    """Moisture (wet basis), and carbon and nitrogen that microbes can use, as shares of dry
    matter.
    """

    moisture: float
    carbon: float = 0.0
    nitrogen: float = 0.0


Amounts = Sequence[tuple[float, Ingredient]]

WATER = Ingredient(1.0)
"""Water as an ingredient: no dry matter at all."""

_ROUNDING = 1e-12
"""An amount below nothing by this share of the total is nothing: the solution lies on the edge."""


def char(moisture: float) -> Ingredient:
    """Char as an ingredient: water, and no carbon or nitrogen that counts.

    Plain numbers [1] in and out.

    >>> char(0.3).moisture
    0.3
    """
    return Ingredient(moisture)


@formula(
    "moisture of a mix",
    "Richard and Trautmann, Cornell Composting: G = sum(Q M) / sum(Q)",
    masses="kg",
    moistures="1",
    result="1",
)
def mix_moisture(masses: Sequence[Number], moistures: Sequence[Number]) -> Number:
    """Wet-basis moisture of a mix of masses as they lie. Raises ZeroDivisionError for no mass.

    Takes `masses` [kg], `moistures` [1]; returns [1].

    >>> mix_moisture([30.0, 10.0], [0.5, 0.1])
    0.4
    """
    return _sum(q * w for q, w in zip(masses, moistures, strict=True)) / _sum(masses)


@formula(
    "C:N of a mix",
    "Richard and Trautmann, Cornell Composting: R = sum(Q C (100 - M)) / sum(Q N (100 - M))",
    masses="kg",
    moistures="1",
    carbons="1",
    nitrogens="1",
    result="1",
)
def mix_ratio(
    masses: Sequence[Number],
    moistures: Sequence[Number],
    carbons: Sequence[Number],
    nitrogens: Sequence[Number],
) -> Number:
    """Carbon per nitrogen, by mass, of a mix of masses as they lie; ratios themselves are never
    averaged. Raises ZeroDivisionError without nitrogen.

    Takes `masses` [kg], `moistures` [1], `carbons` [1], `nitrogens` [1]; returns [1].

    >>> round(mix_ratio([10.0, 10.0], [0.5, 0.1], [0.4, 0.45], [0.02, 0.005]), 1)
    41.7
    """
    rows = list(zip(masses, moistures, carbons, nitrogens, strict=True))
    return _sum(q * (1.0 - w) * c for q, w, c, _ in rows) / _sum(
        q * (1.0 - w) * n for q, w, _, n in rows
    )


def _sum(values: Iterable[Number]) -> Number:
    return sum(values, start=0.0)


@formula(
    "second material for a C:N",
    "Richard and Trautmann, Cornell Composting: Q2 = Q1 N1 (R - C1/N1) (100 - M1) / "
    "(N2 (C2/N2 - R) (100 - M2))",
    mass="kg",
    ratio="1",
    result="kg",
)
def second_for_ratio(mass: float, first: Ingredient, second: Ingredient, ratio: float) -> float:
    """Mass of `second`, kg as it lies, that brings `mass` kg of `first` to the C:N `ratio`.

    Raises NoMixError unless the target lies between the two.

    Takes `mass` [kg], `ratio` [1]; returns [kg].

    >>> dung, straw = Ingredient(0.5, 0.4, 0.02), Ingredient(0.1, 0.45, 0.005)
    >>> round(second_for_ratio(10.0, dung, straw, 30.0), 2)
    3.7
    """
    return _second(
        mass,
        _surplus(first, ratio),
        _surplus(second, ratio),
        f"the C:N {ratio:g} does not lie between those of the two materials",
    )


@formula(
    "second material for a moisture",
    "Richard and Trautmann, Cornell Composting: Q2 = Q1 (G - M1) / (M2 - G)",
    mass="kg",
    moisture="1",
    result="kg",
)
def second_for_moisture(
    mass: float, first: Ingredient, second: Ingredient, moisture: float
) -> float:
    """Mass of `second`, kg as it lies, that brings `mass` kg of `first` to the wet-basis
    `moisture`. Raises NoMixError unless it lies between the two.

    Takes `mass` [kg], `moisture` [1]; returns [kg].

    >>> round(second_for_moisture(10.0, Ingredient(0.7), Ingredient(0.1), 0.5), 2)
    5.0
    """
    return _second(
        mass,
        first.moisture - moisture,
        second.moisture - moisture,
        f"the moisture {moisture:.0%} does not lie between those of the two materials",
    )


def _second(mass: float, first: float, second: float, why: str) -> float:
    if first == 0:
        return 0.0
    if first * second >= 0:
        raise NoMixError(why)
    return -mass * first / second


def _surplus(one: Ingredient, ratio: float) -> float:
    """Carbon beyond the target ratio, per mass as it lies; it is nothing in a mix that meets the
    ratio.
    """
    return (1.0 - one.moisture) * (one.carbon - ratio * one.nitrogen)


@formula(
    "two amounts for C:N and moisture at once",
    "Richard, Cornell Composting: both mixing equations together",
    ratio="1",
    moisture="1",
    result="kg",
)
def solve_two(
    given: Amounts, first: Ingredient, second: Ingredient, ratio: float, moisture: float
) -> tuple[float, float]:
    """Masses of `first` and `second`, kg, that bring what is `given` (mass kg, ingredient) to both
    targets.

    A linear solve of two equations. Raises NoMixError when an amount would be negative or when the
    two act alike.

    Takes `ratio` [1], `moisture` [1]; returns [kg].

    >>> dung, straw = Ingredient(0.5, 0.4, 0.02), Ingredient(0.1, 0.45, 0.005)
    >>> [round(q, 2) for q in solve_two([(10.0, dung)], WATER, straw, 30.0, 0.5)]
    [2.96, 3.7]
    """
    wet = sum(q * (one.moisture - moisture) for q, one in given)
    rich = sum(q * _surplus(one, ratio) for q, one in given)
    a, b = first.moisture - moisture, second.moisture - moisture
    c, d = _surplus(first, ratio), _surplus(second, ratio)
    whole = a * d - b * c
    if abs(whole) <= _ROUNDING * (abs(a * d) + abs(b * c)):
        raise NoMixError("the two materials act alike on moisture and C:N, so they cannot set both")
    amounts = ((b * rich - d * wet) / whole, (c * wet - a * rich) / whole)
    one, two = _non_negative(
        amounts, [*(each for _, each in given), first, second], ratio, moisture
    )
    return one, two


@formula(
    "three amounts for C:N and moisture at once",
    "Richard, Cornell Composting: the two mixing equations and the total solved together",
    total="kg",
    ratio="1",
    moisture="1",
    result="kg",
)
def solve_three(
    total: float, parts: tuple[Ingredient, Ingredient, Ingredient], ratio: float, moisture: float
) -> tuple[float, float, float]:
    """Masses, kg, of three ingredients that together weigh `total` kg and meet both targets;
    `WATER` may be one of them.

    A linear solve of three equations. Raises NoMixError when an amount would be negative or the
    three are not independent.

    Takes `total` [kg], `ratio` [1], `moisture` [1]; returns [kg].

    >>> dung, straw = Ingredient(0.5, 0.4, 0.02), Ingredient(0.1, 0.45, 0.005)
    >>> [round(q, 2) for q in solve_three(10.0, (dung, straw, WATER), 30.0, 0.5)]
    [6.0, 2.22, 1.78]
    """
    wet = [one.moisture - moisture for one in parts]
    rich = [_surplus(one, ratio) for one in parts]
    minors = (
        wet[1] * rich[2] - wet[2] * rich[1],
        wet[2] * rich[0] - wet[0] * rich[2],
        wet[0] * rich[1] - wet[1] * rich[0],
    )
    whole = sum(minors)
    if abs(whole) <= _ROUNDING * sum(abs(each) for each in minors):
        raise NoMixError(
            "the three materials are not independent in moisture and C:N, so no one "
            "mix is determined"
        )
    one, two, three = _non_negative(
        tuple(total * each / whole for each in minors), parts, ratio, moisture
    )
    return one, two, three


def _non_negative(
    amounts: Sequence[float], parts: Sequence[Ingredient], ratio: float, moisture: float
) -> tuple[float, ...]:
    slack = _ROUNDING * sum(abs(each) for each in amounts)
    if min(amounts) >= -slack:
        return tuple(max(each, 0.0) for each in amounts)
    raise NoMixError(_missed(parts, ratio, moisture))


def _missed(parts: Sequence[Ingredient], ratio: float, moisture: float) -> str:
    wet, rich = [one.moisture - moisture for one in parts], [_surplus(one, ratio) for one in parts]
    if max(wet) < 0:
        return f"every material is drier than {moisture:.0%}: add water"
    if min(wet) > 0:
        return f"every material is wetter than {moisture:.0%}: add something dry"
    if max(rich) < 0:
        return f"every material has a C:N below {ratio:g}: add something rich in carbon"
    if min(rich) > 0:
        return f"every material has a C:N above {ratio:g}: add something rich in nitrogen"
    return (
        f"the C:N {ratio:g} and the moisture {moisture:.0%} cannot both be met with these "
        "materials: one amount would be below nothing"
    )


@formula(
    "water to add to a mix",
    "mass balance, sum(Q (G - M)) / (1 - G)",
    masses="kg",
    moistures="1",
    target="1",
    result="kg",
)
def water_to_add(masses: Sequence[Number], moistures: Sequence[Number], target: Number) -> Number:
    """Water, kg (about litres), that brings a mix to the wet-basis moisture `target` (below 1); 0
    if it is wetter.

    Takes `masses` [kg], `moistures` [1], `target` [1]; returns [kg].

    >>> water_to_add([10.0], [0.3], 0.5)
    4.0
    """
    return greatest(
        _sum(q * (target - w) for q, w in zip(masses, moistures, strict=True)) / (1.0 - target), 0.0
    )


@formula(
    "mass share from volume share",
    "mass balance, v rho / (v rho + (1 - v) rho_other)",
    volume_share="1",
    density="kg/m^3",
    other="kg/m^3",
    result="1",
)
def mass_share(volume_share: Number, density: Number, other: Number) -> Number:
    """Mass share of a part that has `volume_share` of the heaped volumes before mixing; both bulk
    densities on one moisture basis.

    Takes `volume_share` [1], `density` [kg/m^3], `other` [kg/m^3]; returns [1].

    >>> round(mass_share(0.2, 150.0, 300.0), 3)
    0.111
    """
    return volume_share * density / (volume_share * density + (1.0 - volume_share) * other)


@formula(
    "volume share from mass share",
    "the same solved for v",
    share="1",
    density="kg/m^3",
    other="kg/m^3",
    result="1",
)
def volume_share(share: Number, density: Number, other: Number) -> Number:
    """Share of the heaped volumes before mixing, of a part that has the mass share `share`.

    Takes `share` [1], `density` [kg/m^3], `other` [kg/m^3]; returns [1].

    >>> round(volume_share(0.111111, 150.0, 300.0), 3)
    0.2
    """
    return share / density / (share / density + (1.0 - share) / other)


@formula(
    "what to mix with", "mass balance, V (1 - v) / v", volume="m^3", volume_share="1", result="m^3"
)
def rest_for(volume: Number, volume_share: Number) -> Number:
    """Heaped volume, m3, of the other materials for `volume` m3 of a part that shall have
    `volume_share` (above 0) of the sum.

    Takes `volume` [m^3], `volume_share` [1]; returns [m^3].

    >>> round(rest_for(0.05, 0.1), 3)
    0.45
    """
    return volume * (1.0 - volume_share) / volume_share


@formula(
    "nitrogen tied up",
    "balance against the C:N at which microbes neither take nor give",
    carbon="kg",
    nitrogen="kg",
    usable="1",
    critical="1",
    result="kg",
)
def nitrogen_tied_up(carbon: Number, nitrogen: Number, usable: Number, critical: Number) -> Number:
    """Nitrogen, kg, that microbes draw from the soil while they use up the share `usable` of
    `carbon`; 0 when the mix brings enough.

    `carbon` without that of char; `critical` is the C:N of balance.

    Takes `carbon` [kg], `nitrogen` [kg], `usable` [1], `critical` [1]; returns [kg].

    >>> nitrogen_tied_up(50.0, 1.0, 0.5, 25.0)
    0.5
    """
    return greatest(usable * (carbon / critical - nitrogen), 0.0)


@formula(
    "area for a dressing by mass", "mass balance, m / d", mass="kg", dressing="kg/m^2", result="m^2"
)
def area_by_mass(mass: Number, dressing: Number) -> Number:
    """Area, m2, that `mass` kg covers at `dressing` kg/m2.

    Takes `mass` [kg], `dressing` [kg/m^2]; returns [m^2].

    >>> area_by_mass(10.0, 0.5)
    20.0
    """
    return mass / dressing


@formula(
    "area for a dressing by volume", "mass balance, V / h", volume="m^3", layer="m", result="m^2"
)
def area_by_volume(volume: Number, layer: Number) -> Number:
    """Area, m2, that `volume` m3 covers `layer` m deep (1 L/m2 is a layer of 1 mm).

    Takes `volume` [m^3], `layer` [m]; returns [m^2].

    >>> area_by_volume(0.1, 0.005)
    20.0
    """
    return volume / layer


@formula(
    "area for a share of the top soil",
    "mass balance, V / (v h)",
    volume="m^3",
    share="1",
    depth="m",
    result="m^2",
)
def area_by_share(volume: Number, share: Number, depth: Number) -> Number:
    """Area, m2, in which `volume` m3 makes up `share` of the volume of the top `depth` m.

    Takes `volume` [m^3], `share` [1], `depth` [m]; returns [m^2].

    >>> round(area_by_share(0.1, 0.05, 0.2), 3)
    10.0
    """
    return volume / (share * depth)


@formula(
    "dressing per hectare", "mass balance, 1 kg/m2 = 10 t/ha", dressing="kg/m^2", result="t/ha"
)
def tonnes_per_hectare(dressing: Number) -> Number:
    """Dressing per hectare.

    Takes `dressing` [kg/m^2]; returns [t/ha].

    >>> tonnes_per_hectare(0.5)
    5.0
    """
    return 10.0 * dressing


@formula(
    "dressing for a share of the soil's mass",
    "mass balance, s h rho",
    share="1",
    depth="m",
    soil="kg/m^3",
    result="kg/m^2",
)
def dressing_for_share(share: Number, depth: Number, soil: Number) -> Number:
    """Dressing, kg/m2, that adds `share` of the dry mass of the top `depth` m of a soil of bulk
    density `soil` kg/m3.

    Takes `share` [1], `depth` [m], `soil` [kg/m^3]; returns [kg/m^2].

    >>> round(dressing_for_share(0.01, 0.2, 1250.0), 3)
    2.5
    """
    return share * depth * soil
