"""Compost and beds: worked examples, and what must hold for every mix."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from feedstock.physics import mixing
from feedstock.physics.mixing import WATER, Ingredient, NoMixError
from reference import mixing as mixing_ref

# Cornell Composting (Richard and Trautmann): grass clippings and leaves; carbon, nitrogen of dry
# matter, moisture wet basis
GRASS, LEAVES = Ingredient(0.77, 0.45, 0.024), Ingredient(0.35, 0.50, 0.0075)


def both(masses: list[float], parts: list[Ingredient]) -> tuple[float, float]:
    moistures = [one.moisture for one in parts]
    return (
        float(mixing.mix_moisture(masses, moistures)),
        float(
            mixing.mix_ratio(
                masses, moistures, [one.carbon for one in parts], [one.nitrogen for one in parts]
            )
        ),
    )


@pytest.mark.published
def test_hay_scraps_coffee() -> None:
    # docslib 12269573: 50 lb hay (40 % C, 1 % N), 10 lb scraps (10, 1), 2 lb coffee (25, 1) of
    # fresh mass: 34.7
    assert mixing.mix_ratio(
        [50, 10, 2], [0, 0, 0], [0.40, 0.10, 0.25], [0.01, 0.01, 0.01]
    ) == pytest.approx(34.7, abs=0.05)


@pytest.mark.published
def test_leaves_for_a_ratio_of_30() -> None:
    # Cornell Composting, 10 kg grass: 3.5 kg leaves for C:N 30 (3.47), and the mix is then 66.2 %
    # wet
    leaves = mixing_ref.second_for_ratio(10, GRASS, LEAVES, 30)
    assert leaves == pytest.approx(3.47, abs=0.005)
    assert both([10, leaves], [GRASS, LEAVES]) == pytest.approx((0.662, 30), rel=1e-3)


@pytest.mark.published
def test_leaves_for_60_percent() -> None:
    # Cornell Composting, the same grass: 6.8 kg leaves for 60 % moisture; C:N is then 36.7
    leaves = mixing_ref.second_for_moisture(10, GRASS, LEAVES, 0.60)
    assert leaves == pytest.approx(6.8, abs=0.05)
    assert both([10, 6.8], [GRASS, LEAVES])[1] == pytest.approx(36.7, abs=0.05)


@pytest.mark.worked
def test_ratios_are_not_averaged() -> None:
    # 2 parts grass (C:N 20, 3.4 % N) and 1 part leaves (60, 0.9 % N) by dry mass: 24.7, not the 33
    # of an averaged ratio
    assert mixing.mix_ratio(
        [2, 1], [0, 0], [0.034 * 20, 0.009 * 60], [0.034, 0.009]
    ) == pytest.approx(24.7, abs=0.05)


# ---- compost, what must hold

ingredients = st.builds(
    Ingredient, st.floats(0.05, 0.9), st.floats(0.2, 0.55), st.floats(0.002, 0.08)
)
masses = st.floats(0.1, 100)


@pytest.mark.property
@given(
    st.lists(st.tuples(masses, ingredients), min_size=1, max_size=6),
    st.randoms(use_true_random=False),
)
def test_mix_lies_between_its_parts_in_any_order(
    parts: list[tuple[float, Ingredient]], chance: Any
) -> None:
    moisture, ratio = both([q for q, _ in parts], [one for _, one in parts])
    ratios, moistures = (
        [one.carbon / one.nitrogen for _, one in parts],
        [one.moisture for _, one in parts],
    )
    assert min(ratios) * (1 - 1e-9) <= ratio <= max(ratios) * (1 + 1e-9)
    assert min(moistures) - 1e-9 <= moisture <= max(moistures) + 1e-9
    turned = list(parts)
    chance.shuffle(turned)
    assert both([q for q, _ in turned], [one for _, one in turned]) == pytest.approx(
        (moisture, ratio)
    )


@pytest.mark.property
@given(masses, ingredients, ingredients, st.floats(0.01, 0.99))
def test_second_material_is_exact_or_refused(
    mass: float, first: Ingredient, second: Ingredient, way: float
) -> None:
    a, b = first.carbon / first.nitrogen, second.carbon / second.nitrogen
    assume(abs(a - b) > 0.5)
    ratio = a + way * (b - a)
    found = mixing_ref.second_for_ratio(mass, first, second, ratio)
    assert found > 0
    assert both([mass, found], [first, second])[1] == pytest.approx(ratio, rel=1e-6)
    with pytest.raises(NoMixError):
        mixing_ref.second_for_ratio(mass, first, second, max(a, b) * 1.01)


@pytest.mark.property
@given(
    st.floats(1, 1000),
    st.tuples(ingredients, ingredients, ingredients),
    st.tuples(masses, masses, masses),
)
def test_three_amounts_are_found_again(
    total: float, parts: tuple[Ingredient, Ingredient, Ingredient], mix: tuple[float, float, float]
) -> None:
    scaled = [each * total / sum(mix) for each in mix]
    moisture, ratio = both(scaled, list(parts))
    rows = np.array(
        [
            [1.0] * 3,
            [one.moisture - moisture for one in parts],
            [(1 - one.moisture) * (one.carbon - ratio * one.nitrogen) for one in parts],
        ]
    )
    assume(np.linalg.cond(rows) < 1e5)
    found = mixing_ref.solve_three(total, parts, ratio, moisture)
    assert list(found) == [pytest.approx(each, rel=1e-5, abs=1e-7 * total) for each in scaled]
    assert list(found) == [
        pytest.approx(each, rel=1e-5, abs=1e-7 * total)
        for each in np.linalg.solve(rows, [total, 0, 0])
    ]
    assert sum(found) == pytest.approx(total)


@pytest.mark.property
@given(masses, ingredients, ingredients, ingredients, masses, masses)
def test_two_amounts_are_found_again(
    mass: float, base: Ingredient, first: Ingredient, second: Ingredient, one: float, two: float
) -> None:
    moisture, ratio = both([mass, one, two], [base, first, second])
    rows = np.array(
        [
            [part.moisture - moisture, (1 - part.moisture) * (part.carbon - ratio * part.nitrogen)]
            for part in (first, second)
        ]
    )
    assume(np.linalg.cond(rows) < 1e4)
    found = mixing.solve_two([(mass, base)], first, second, ratio, moisture)
    assert list(found) == [pytest.approx(each, rel=1e-5, abs=1e-5) for each in (one, two)]


@pytest.mark.property
@given(
    st.floats(1, 1000),
    st.tuples(ingredients, ingredients, ingredients),
    st.floats(15, 60),
    st.floats(0.4, 0.65),
)
def test_a_refused_mix_has_no_solution(
    total: float, parts: tuple[Ingredient, Ingredient, Ingredient], ratio: float, moisture: float
) -> None:
    rows = np.array(
        [
            [1.0] * 3,
            [one.moisture - moisture for one in parts],
            [(1 - one.moisture) * (one.carbon - ratio * one.nitrogen) for one in parts],
        ]
    )
    assume(np.linalg.cond(rows) < 1e5)
    exact = np.linalg.solve(rows, [total, 0, 0])
    assume(abs(exact).min() > 1e-6 * total)
    if exact.min() > 0:
        assert both(
            list(mixing_ref.solve_three(total, parts, ratio, moisture)), list(parts)
        ) == pytest.approx((moisture, ratio))
    else:
        with pytest.raises(NoMixError):
            mixing_ref.solve_three(total, parts, ratio, moisture)


@pytest.mark.property
def test_conflicting_targets_of_grass_and_leaves_need_a_third() -> None:
    # examples 2 and 3 conflict (66 % wet at C:N 30); dry hay or dry char solves it, water or straw
    # of C:N 66 cannot
    hay, straw = Ingredient(0.09, 0.46, 0.021), Ingredient(0.12, 0.46, 0.007)
    for third in (hay, mixing.char(0.05)):
        amounts = mixing_ref.solve_three(100, (GRASS, LEAVES, third), 30, 0.60)
        assert min(amounts) > 1
        assert both(list(amounts), [GRASS, LEAVES, third]) == pytest.approx((0.60, 30))
    with pytest.raises(NoMixError, match="cannot both be met"):
        mixing_ref.solve_three(100, (GRASS, LEAVES, straw), 30, 0.60)
    with pytest.raises(NoMixError, match="cannot both be met"):
        mixing_ref.solve_three(100, (GRASS, LEAVES, WATER), 30, 0.60)


@pytest.mark.property
@pytest.mark.parametrize(
    "parts, ratio, moisture, why",
    [
        (
            (Ingredient(0.1, 0.45, 0.02), Ingredient(0.2, 0.5, 0.01), Ingredient(0.3, 0.4, 0.005)),
            30,
            0.55,
            "drier",
        ),
        (
            (Ingredient(0.8, 0.45, 0.02), Ingredient(0.7, 0.5, 0.01), Ingredient(0.6, 0.4, 0.005)),
            30,
            0.55,
            "wetter",
        ),
        (
            (Ingredient(0.8, 0.45, 0.05), Ingredient(0.1, 0.5, 0.03), Ingredient(0.6, 0.4, 0.03)),
            30,
            0.55,
            "below 30",
        ),
        (
            (
                Ingredient(0.8, 0.45, 0.005),
                Ingredient(0.1, 0.5, 0.003),
                Ingredient(0.6, 0.4, 0.004),
            ),
            30,
            0.55,
            "above 30",
        ),
        ((GRASS, GRASS, LEAVES), 30, 0.6, "independent"),
    ],
)
def test_reasons(
    parts: tuple[Ingredient, Ingredient, Ingredient], ratio: float, moisture: float, why: str
) -> None:
    with pytest.raises(NoMixError, match=why):
        mixing_ref.solve_three(100, parts, ratio, moisture)


@pytest.mark.property
def test_two_that_act_alike_are_refused() -> None:
    with pytest.raises(NoMixError, match="alike"):
        mixing.solve_two([(10, GRASS)], LEAVES, LEAVES, 30, 0.6)


@pytest.mark.property
@given(
    st.lists(st.tuples(masses, ingredients), min_size=1, max_size=4),
    st.floats(0.1, 50),
    st.floats(0, 0.8),
)
def test_char_counts_as_water_only(
    parts: list[tuple[float, Ingredient]], char_mass: float, wet: float
) -> None:
    before, with_char = (
        both([q for q, _ in parts], [one for _, one in parts]),
        [*parts, (char_mass, mixing.char(wet))],
    )
    after = both([q for q, _ in with_char], [one for _, one in with_char])
    assert after[1] == pytest.approx(before[1])
    water = sum(q * one.moisture for q, one in parts) + char_mass * wet
    assert after[0] == pytest.approx(water / (sum(q for q, _ in parts) + char_mass))


@pytest.mark.property
@given(st.lists(st.tuples(masses, ingredients), min_size=1, max_size=5), st.floats(0.1, 0.9))
def test_added_water_reaches_the_target(
    parts: list[tuple[float, Ingredient]], target: float
) -> None:
    amounts, moistures = [q for q, _ in parts], [one.moisture for _, one in parts]
    water = float(mixing.water_to_add(amounts, moistures, target))
    before, after = (
        mixing.mix_moisture(amounts, moistures),
        mixing.mix_moisture([*amounts, water], [*moistures, 1.0]),
    )
    assert after == pytest.approx(max(target, before))


@pytest.mark.property
@given(st.floats(0.01, 0.99), st.floats(50, 900), st.floats(50, 900), st.floats(0.001, 5))
def test_volumes_and_masses_conserve(
    by_volume: float, density: float, other: float, volume: float
) -> None:
    by_mass = mixing_ref.mass_share(by_volume, density, other)
    assert mixing.volume_share(by_mass, density, other) == pytest.approx(by_volume)
    rest = mixing.rest_for(volume, by_volume)
    assert volume / (volume + rest) == pytest.approx(by_volume)
    assert volume * density / (volume * density + rest * other) == pytest.approx(by_mass)


@pytest.mark.worked
def test_nitrogen_is_balanced_at_the_critical_ratio() -> None:
    # University of New England, Oz Soils: a residue of C:N 20 balances, one of 80 takes nitrogen
    # from the soil
    assert mixing.nitrogen_tied_up(20.0, 1.0, 1.0, 20.0) == 0
    assert mixing.nitrogen_tied_up(80.0, 1.0, 1.0, 20.0) == pytest.approx(3.0)
    assert mixing.nitrogen_tied_up(10.0, 1.0, 1.0, 20.0) == 0


@pytest.mark.worked
@pytest.mark.parametrize(
    "share_, kg_per_m2, t_per_ha", [(0.01, 1.95, 19.5), (0.02, 3.9, 39), (0.05, 9.75, 97.5)]
)
def test_dressing_for_a_share_of_soil(share_: float, kg_per_m2: float, t_per_ha: float) -> None:
    # Guo 2020 gives shares of the soil's mass; 1 % of the top 15 cm at 1.3 g/cm3 is 1.95 kg/m2,
    # 19.5 t/ha
    found = mixing_ref.dressing_for_share(share_, 0.15, 1300)
    assert found == pytest.approx(kg_per_m2)
    assert mixing_ref.tonnes_per_hectare(found) == pytest.approx(t_per_ha)


@pytest.mark.property
@given(st.floats(0.1, 500), st.floats(0.05, 10), st.floats(100, 400), st.floats(0.05, 0.3))
def test_the_three_ways_to_an_area_agree(
    mass: float, dressing: float, density: float, depth: float
) -> None:
    area, volume = mixing.area_by_mass(mass, dressing), mass / density
    assert mixing.area_by_volume(volume, dressing / density) == pytest.approx(area)
    assert mixing.area_by_share(volume, dressing / density / depth, depth) == pytest.approx(area)
