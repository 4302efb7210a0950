"""Compost by moisture and C:N, char in it by volume or mass, and the beds it dresses.

Moistures are on the wet basis (0 to 1), carbon and nitrogen are shares of dry matter, masses are as
they lie. Char is an ingredient whose carbon and nitrogen are nothing, since microbes do not live on
it; its water and its volume count.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..uncertainty.elementwise import maximum, total
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
    return total(q * w for q, w in zip(masses, moistures, strict=True)) / total(masses)


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
    return total(q * (1.0 - w) * c for q, w, c, _ in rows) / total(
        q * (1.0 - w) * n for q, w, _, n in rows
    )


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
    mix: Amounts, first: Ingredient, second: Ingredient, ratio: float, moisture: float
) -> tuple[float, float]:
    """Masses of `first` and `second`, kg, that bring what is `mix` (mass kg, ingredient) to both
    targets.

    A linear solve of two equations. Raises NoMixError when an amount would be negative or when the
    two act alike.

    Takes `ratio` [1], `moisture` [1]; returns [kg].

    >>> dung, straw = Ingredient(0.5, 0.4, 0.02), Ingredient(0.1, 0.45, 0.005)
    >>> [round(q, 2) for q in solve_two([(10.0, dung)], WATER, straw, 30.0, 0.5)]
    [2.96, 3.7]
    """
    wet = total(q * (one.moisture - moisture) for q, one in mix)
    rich = total(q * _surplus(one, ratio) for q, one in mix)
    a, b = first.moisture - moisture, second.moisture - moisture
    c, d = _surplus(first, ratio), _surplus(second, ratio)
    whole = a * d - b * c
    if abs(whole) <= _ROUNDING * (abs(a * d) + abs(b * c)):
        raise NoMixError("the two materials act alike on moisture and C:N, so they cannot set both")
    amounts = ((b * rich - d * wet) / whole, (c * wet - a * rich) / whole)
    one, two = _non_negative(amounts, [*(item for _, item in mix), first, second], ratio, moisture)
    return one, two


@formula(
    "least of one material for C:N and moisture within limits",
    "Richard, Cornell Composting: both mixing equations as inequalities",
    ratio="1",
    moisture="1",
    result="kg",
)
def least_of_one(
    mix: Amounts, one: Ingredient, ratio: tuple[float, float], moisture: tuple[float, float]
) -> float:
    """The least mass of `one`, kg, that brings what is `mix` (mass kg, ingredient) within both
    ranges; 0 where it is there already. Raises NoMixError where no amount does.

    Takes `ratio` [1], `moisture` [1]; returns [kg].

    >>> dry = [(10.0, Ingredient(0.4, 0.4, 0.016))]
    >>> round(least_of_one(dry, WATER, (20.0, 40.0), (0.5, 0.7)), 6)
    2.0
    """
    low, high = 0.0, float("inf")
    for side, carbon, wet in (
        (1.0, ratio[0], moisture[0]),
        (-1.0, ratio[1], moisture[1]),
    ):
        for there, added in (
            (
                total(q * _surplus(ingredient, carbon) for q, ingredient in mix),
                _surplus(one, carbon),
            ),
            (total(q * (ingredient.moisture - wet) for q, ingredient in mix), one.moisture - wet),
        ):
            have, more = side * there, side * added
            if more > 0:
                low = max(low, -have / more)
            elif have < -_ROUNDING:
                raise NoMixError("it acts the wrong way")
            elif more < 0:
                high = min(high, -have / more)
    if low > high * (1 + 1e-9):
        raise NoMixError("what sets the one right upsets the other")
    return low


def _non_negative(
    amounts: Sequence[float], parts: Sequence[Ingredient], ratio: float, moisture: float
) -> tuple[float, ...]:
    slack = _ROUNDING * total(abs(amount) for amount in amounts)
    if min(amounts) >= -slack:
        return tuple(max(amount, 0.0) for amount in amounts)
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
    return maximum(
        total(q * (target - w) for q, w in zip(masses, moistures, strict=True)) / (1.0 - target),
        0.0,
    )


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
    return maximum(usable * (carbon / critical - nitrogen), 0.0)


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
