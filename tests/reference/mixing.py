"""Mixing: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.physics.mixing import (
    _ROUNDING,
    Ingredient,
    NoMixError,
    _non_negative,
    _surplus,
)
from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


def _second(mass: float, first: float, second: float, why: str) -> float:
    if first == 0:
        return 0.0
    if first * second >= 0:
        raise NoMixError(why)
    return -mass * first / second


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
