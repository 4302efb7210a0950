"""Charring, burning rate and quench against published values, numerical integrals and properties of
water.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from builders import TABLE_FOLDER, method_row, raw_methods
from feedstock.documents.yaml_reader import read_yaml
from feedstock.physics import charring, quench, raw_wood
from feedstock.quantities.cell import Cell
from feedstock.tables.loading.references import cells_of, used_sources
from feedstock.tables.rows.methods.fire import (
    BurningRate,
    Charring,
    CharringByDensity,
    CharringRates,
    CharringSlowness,
    Quench,
)
from feedstock.tables.rows.row import Row
from feedstock.tables.rows.source import Source
from reference import charring as charring_ref
from reference import quench as quench_ref
from reference.water import of_water


def _read(*parts: str) -> dict[str, Any]:
    path = TABLE_FOLDER.joinpath(*parts)
    data = read_yaml(path.read_text(encoding="utf-8"), path.name).data
    assert isinstance(data, dict)
    return data


ROWS: dict[str, Row] = {key: method_row("fire.yaml", key) for key in raw_methods("fire.yaml")}


def _row(kind: type[Any]) -> Any:
    (found,) = [row for row in ROWS.values() if isinstance(row, kind)]
    return found


CHAR: Charring = _row(Charring)
RATES: CharringRates = _row(CharringRates)
BY_DENSITY: CharringByDensity = _row(CharringByDensity)
SLOW: CharringSlowness = _row(CharringSlowness)
FIRE: BurningRate = _row(BurningRate)
QUENCH: Quench = _row(Quench)


def m(density: float, moisture: float, contraction: float) -> float:
    return float(
        charring.char_coefficient(
            density,
            moisture,
            contraction,
            CHAR.constant.mid,
            CHAR.per_density.mid,
            CHAR.per_moisture.mid,
            CHAR.per_contraction.mid,
        )
    )


def through(
    thickness: float, coefficient: float, factor: float = 1.0, thin: float = CHAR.thin.mid
) -> float:
    return float(
        charring.through_time(
            thickness, coefficient, factor, thin, CHAR.thin_below.mid, CHAR.exponent.mid
        )
    )


def heat(hot: Any, cold: Any) -> Any:
    q = QUENCH
    return quench.char_heat(
        hot, cold, q.low_a.mid, q.low_b.mid, q.low_c.mid, q.high_a.mid, q.high_b.mid, q.change.mid
    )


# Wood Handbook (FPL-GTR-190, 2010), table 18-3: oven-dry density, char contraction, linear min/mm,
# m, and what equation 18-4 gives above the tabulated m at 8.5 % moisture (the tests were at 8 to 9
# %). The equation is a regression over these species, so it cannot meet each m.
TABLE_18_3 = {
    "southern pine": (509, 0.60, 1.24, 0.56, +0.002),
    "western redcedar": (310, 0.83, 1.22, 0.56, +0.012),
    "redwood": (343, 0.86, 1.28, 0.58, +0.027),
    "Engelmann spruce": (425, 0.82, 1.56, 0.70, -0.068),
    "basswood": (399, 0.52, 1.06, 0.48, -0.022),
    "hard maple": (691, 0.59, 1.46, 0.66, -0.001),
    "red oak": (664, 0.70, 1.59, 0.72, -0.017),
    "yellow-poplar": (504, 0.67, 1.36, 0.61, -0.013),
}


@pytest.mark.worked
@pytest.mark.parametrize("species", TABLE_18_3)
def test_coefficient_by_equation_18_4(species: str) -> None:
    density, contraction, _, tabulated, deviation = TABLE_18_3[species]
    assert m(density, 0.085, contraction) - tabulated == pytest.approx(deviation, abs=5.1e-4)


@pytest.mark.transcribed
def test_coefficient_by_equation_18_4_over_all_species() -> None:
    off = [
        m(density, 0.085, contraction) - tabulated
        for density, contraction, _, tabulated, _ in TABLE_18_3.values()
    ]
    assert abs(sum(off) / len(off)) < 0.012
    # Engelmann spruce is the odd one; nothing is off by more than 11 % and the next by 6 %
    relative = sorted(abs(o) / row[3] for o, row in zip(off, TABLE_18_3.values(), strict=True))
    assert relative[-1] < 0.11
    assert relative[-2] < 0.06


@pytest.mark.published
@pytest.mark.parametrize("species", TABLE_18_3)
def test_both_columns_of_table_18_3_agree(species: str) -> None:
    # the linear and the nonlinear rate were taken from the same tests and cross near 32 mm of char
    _, _, linear, tabulated, _ = TABLE_18_3[species]
    by_m = charring.time_to_depth(0.032, tabulated, 1.0, CHAR.exponent.mid) / 60 / 32
    assert by_m == pytest.approx(linear, rel=0.025)


@pytest.mark.worked
@pytest.mark.parametrize(
    "moisture, expected", [(0.085, 0.703), (0.12, 0.745), (0.20, 0.842), (0.30, 0.963)]
)
def test_wetter_red_oak(moisture: float, expected: float) -> None:
    # equation 18-4 for red oak, worked by hand from the printed coefficients
    assert m(664, moisture, 0.70) == pytest.approx(expected, abs=1e-3)


@pytest.mark.transcribed
def test_factor_spans_the_measured_fluxes() -> None:
    # table 18-3, linear min/mm in the standard test and at 18 and 55 kW/m2
    tested = {
        "southern pine": (1.24, 2.27, 1.17),
        "redwood": (1.28, 1.68, 0.98),
        "basswood": (1.06, 1.32, 0.76),
        "red oak": (1.59, 2.56, 1.38),
    }
    slow = [low / standard for standard, low, _ in tested.values()]
    fast = [high / standard for standard, _, high in tested.values()]
    assert [round(min(slow), 2), round(max(slow), 2), round(min(fast), 2), round(max(fast), 2)] == [
        1.25,
        1.83,
        0.72,
        0.94,
    ]
    assert CHAR.factor.low < min(fast) < CHAR.factor.mid < max(slow) < CHAR.factor.high


# equation 18-2, worked by hand from the printed coefficients: density, then min/mm at moistures
@pytest.mark.worked
@pytest.mark.parametrize(
    "species, density, expected",
    [
        ("douglas-fir", 450, {0.0: 1.35, 0.12: 1.60, 0.20: 1.76, 0.50: 2.38}),
        ("white-oak", 650, {0.0: 1.62, 0.12: 1.87, 0.20: 2.04, 0.50: 2.66}),
    ],
)
def test_linear_slowness_by_equation_18_2(
    species: str, density: float, expected: dict[float, float]
) -> None:
    row = SLOW.species[species]
    for moisture, value in expected.items():
        assert charring_ref.slowness(
            density, moisture, row.per_density.mid, row.per_both.mid, row.constant.mid
        ) == pytest.approx(value, abs=0.0065)


@pytest.mark.published
def test_southern_pine_by_equation_18_2_is_that_of_table_18_3() -> None:
    # two parts of the same chapter, 1.24 min/mm of table 18-3 at 8 to 9 %; the equation gives 1.29
    row = SLOW.species["southern-pine"]
    assert charring_ref.slowness(
        509, 0.085, row.per_density.mid, row.per_both.mid, row.constant.mid
    ) == pytest.approx(1.24, rel=0.05)


# EN 1995-1-2:2004, table 3.1, as given by Buchanan and Abu 2017, table 9.1: beta0 and beta_n,
# mm/min
EUROCODE = {
    "softwood-glulam": (0.65, 0.70),
    "softwood": (0.65, 0.80),
    "hardwood-light": (0.65, 0.70),
    "hardwood-heavy": (0.50, 0.55),
    "panelling": (0.9, None),
    "plywood": (1.0, None),
}


@pytest.mark.transcribed
@pytest.mark.parametrize("material", EUROCODE)
def test_eurocode_char_depths(material: str) -> None:
    plain, notional = EUROCODE[material]
    row = RATES.rates[material]
    assert charring_ref.linear_depth(30 * 60, row.plain.mid) == pytest.approx(
        30 * plain / 1000, rel=1e-12
    )
    assert (row.notional is None) is (notional is None)
    if row.notional is not None and notional is not None:
        assert charring_ref.linear_depth(60 * 60, row.notional.mid) == pytest.approx(
            60 * notional / 1000, rel=1e-12
        )
        assert charring_ref.linear_time(60 * notional / 1000, row.notional.mid) == pytest.approx(
            3600, rel=1e-12
        )


@pytest.mark.worked
@pytest.mark.parametrize(
    "density, expected", [(250, 0.70), (290, 0.70), (370, 0.625), (450, 0.55), (700, 0.55)]
)
def test_hardwood_between_the_two_densities(density: float, expected: float) -> None:
    light, heavy = RATES.rates["hardwood-light"], RATES.rates["hardwood-heavy"]
    assert light.notional is not None
    assert heavy.notional is not None
    assert charring_ref.hardwood_rate(
        density, light.density.mid, heavy.density.mid, light.notional.mid, heavy.notional.mid
    ) == pytest.approx(expected)


# AS 1720.4:2006 as given by Buchanan and Abu 2017, equation 9.4, at densities of 12 % moisture
@pytest.mark.worked
@pytest.mark.parametrize(
    "density, expected",
    [(350, 1.04), (400, 0.89), (450, 0.79), (500, 0.71), (600, 0.62), (700, 0.56), (800, 0.52)],
)
def test_australian_rate(density: float, expected: float) -> None:
    # at 450 and 0.7871, and at 800 and 0.5225, the second digit is rounded; half of it is the
    # tolerance
    assert charring_ref.rate_by_density(
        density, BY_DENSITY.constant.mid, BY_DENSITY.scale.mid
    ) == pytest.approx(expected, abs=0.0051)


# diameter in mm: minutes until the front meets in the middle, by m 0.56 and 0.72 (equation 18-3)
# and by 0.80 and 0.55 mm/min (Eurocode 5), worked by hand to the minute; 50 mm at 0.55 is 45.45
THROUGH = {
    10: (4, 5, 6, 9),
    25: (13, 16, 16, 23),
    50: (29, 38, 31, 45),
    75: (48, 62, 47, 68),
    100: (69, 89, 63, 91),
    150: (113, 146, 94, 136),
    200: (162, 208, 125, 182),
}


@pytest.mark.worked
@pytest.mark.parametrize("diameter", THROUGH)
def test_char_through_table(diameter: int) -> None:
    pine, oak, softwood, hardwood = THROUGH[diameter]
    half = diameter / 2000
    assert charring.time_to_depth(half, 0.56, 1.0, CHAR.exponent.mid) / 60 == pytest.approx(
        pine, abs=0.51
    )
    assert charring.time_to_depth(half, 0.72, 1.0, CHAR.exponent.mid) / 60 == pytest.approx(
        oak, abs=0.51
    )
    assert charring_ref.linear_time(half, 0.80) / 60 == pytest.approx(softwood, abs=0.51)
    assert charring_ref.linear_time(half, 0.55) / 60 == pytest.approx(hardwood, abs=0.51)


@pytest.mark.published
@pytest.mark.parametrize("diameter", [d for d in THROUGH if d >= 25])
def test_design_codes_lie_within_the_interval(diameter: int) -> None:
    # the interval of the char-through time must hold what the two design codes give for the same
    # piece
    thickness = diameter / 1000
    for density, contraction, code in (
        (450, 0.78, RATES.rates["softwood"]),
        (650, 0.62, RATES.rates["hardwood-heavy"]),
    ):
        assert code.notional is not None
        coefficient = m(density, 0.12, contraction)
        low, high = (
            through(thickness, coefficient, CHAR.factor.low),
            through(thickness, coefficient, CHAR.factor.high),
        )
        assert low < charring_ref.linear_time(thickness / 2, code.notional.mid) < high
        australian = charring_ref.rate_by_density(
            1.06 * density, BY_DENSITY.constant.mid, BY_DENSITY.scale.mid
        )
        assert low < charring_ref.linear_time(thickness / 2, australian) < high


@pytest.mark.transcribed
def test_burning_rate_is_that_of_wood_faces() -> None:
    # Wood Handbook table 18-3, mass loss in g/m2/s at 18 and 55 kW/m2
    losses = [3.8, 2.9, 4.5, 4.1, 8.6, 6.0, 9.3, 9.6]
    assert FIRE.face_loss.mid * 1000 == pytest.approx(sum(losses) / len(losses), rel=0.02)
    assert FIRE.face_loss.low * 1000 == pytest.approx(min(losses), rel=0.03)
    assert FIRE.face_loss.high * 1000 == pytest.approx(max(losses), rel=0.03)
    one_face, three_faces = (
        charring_ref.rate_from_face(FIRE.face_loss.low, FIRE.exposed.low),
        charring_ref.rate_from_face(FIRE.face_loss.high, FIRE.exposed.high),
    )
    assert one_face < FIRE.rate.low
    # the high end is a rounding above 9.6 g/m2/s times three faces, 1.73 kg/m2/min
    assert three_faces * 1.05 > FIRE.rate.high
    assert (
        FIRE.rate.low
        < charring_ref.rate_from_face(FIRE.face_loss.mid, FIRE.exposed.mid)
        < FIRE.rate.mid
        < FIRE.rate.high
    )


@pytest.mark.regression
def test_front_agrees_with_the_burning_rate() -> None:
    # no source gives the front; it must at least agree with what the fire eats of the load it moves
    # through
    assert charring_ref.front_speed(FIRE.rate.mid, FIRE.load_density.mid) == pytest.approx(
        FIRE.front.mid, rel=0.1
    )
    # 400 mm at 4.7 mm a minute
    assert charring.front_time(0.4, FIRE.front.mid) == pytest.approx(85.1 * 60, rel=1e-3)


# Gupta, Yang and Roy 2003 and Ragland, Aerts and Baker 1991, as reproduced by Basu, table 3.7;
# kJ/(kg K), T in K
def _gupta(kelvin: float) -> float:
    return -3.8e-6 * kelvin**2 + 5.98e-3 * kelvin - 0.795


def _ragland(kelvin: float) -> float:
    return 1.39 + 0.00036 * kelvin


@pytest.mark.worked
@pytest.mark.parametrize(
    "hot, cold",
    [(600, 100), (700, 100), (750, 20), (400, 100), (413, 413), (300, 40), (900, 500), (20, 600)],
)
def test_char_heat_is_the_integral_of_cp(hot: float, cold: float) -> None:
    change = 413 + 273.15
    expected, _ = quad(
        lambda t: _gupta(t) if t < change else _ragland(t),
        cold + 273.15,
        hot + 273.15,
        points=[change],
    )
    assert heat(hot, cold) == pytest.approx(1000 * expected, rel=1e-9, abs=1e-6)


@pytest.mark.worked
def test_char_heat_of_600_and_700_degrees() -> None:
    # MJ per kg char down to 100 degC: 0.71 and 0.88; by Ragland's line alone 0.81
    assert heat(600, 100) / 1e6 == pytest.approx(0.71, abs=0.005)
    assert heat(700, 100) / 1e6 == pytest.approx(0.88, abs=0.005)
    assert quench.char_heat(
        600, 100, 0, 0, 0, QUENCH.high_a.mid, QUENCH.high_b.mid, -273.15
    ) / 1e6 == pytest.approx(0.81, abs=0.01)


@pytest.mark.published
def test_heat_capacity_near_ambient() -> None:
    # Santos et al. 2020: eucalyptus charcoal 1017 +- 74 J/(kg K) near ambient, at a temperature the
    # abstract does not give. The softwood fit rises from 660 at 300 K to 990 at 400 K, so it meets
    # the value only warm; the line for wood char, about 1500, is far above. Hence the fit below 413
    # degC. A quench counts the heat above 100 degC, where they agree.
    softwood = heat(127, 27) / 100
    wood_char = (
        quench.char_heat(127, 27, 0, 0, 0, QUENCH.high_a.mid, QUENCH.high_b.mid, -273.15) / 100
    )
    assert softwood < 1017 < wood_char
    assert 1017 - softwood < 0.5 * (wood_char - 1017)
    assert heat(126, 124) / 2 == pytest.approx(1017, abs=74)


@pytest.mark.transcribed
def test_water_properties() -> None:
    # CoolProp 6+, the IAPWS formulation of 1995; 2256.4 kJ/kg at 100 degC, 2441.7 at 25 degC
    latent = {
        t: of_water("H", t + 273.15, "Q", 1) - of_water("H", t + 273.15, "Q", 0) for t in (25, 100)
    }
    assert latent[100] == pytest.approx(2256.4e3, abs=100)
    assert latent[25] == pytest.approx(2441.7e3, abs=100)
    assert QUENCH.latent.mid == pytest.approx(latent[100], rel=1e-4)
    assert QUENCH.water_density.mid == pytest.approx(of_water("D", 293.15, "P", 101325), rel=1e-4)
    liquid = [of_water("H", t + 273.15, "Q", 0) for t in (20, 100)]
    assert QUENCH.capacity.mid == pytest.approx((liquid[1] - liquid[0]) / 80 / 1000, rel=1e-3)


@pytest.mark.transcribed
@pytest.mark.parametrize("cold", [4, 12, 20, 25])
def test_heat_to_steam(cold: float) -> None:
    expected = of_water("H", 373.15, "Q", 1) - of_water("H", cold + 273.15, "Q", 0)
    found = quench.heat_to_steam(cold, QUENCH.boiling.mid, QUENCH.capacity.mid, QUENCH.latent.mid)
    assert found == pytest.approx(expected, rel=5e-4)
    if cold == 20:
        assert found / 1000 == pytest.approx(2592, abs=1)


@pytest.mark.worked
def test_water_boiled_off_per_kilogram() -> None:
    # 0.27 to 0.34 kg per kg char from 600 and 700 degC, water at 15 degC
    steam = quench.heat_to_steam(15.0, 100.0, QUENCH.capacity.mid, QUENCH.latent.mid)
    assert quench.boiled_off(1.0, heat(600, 100), steam, 1.0) == pytest.approx(0.27, abs=0.005)
    assert quench.boiled_off(1.0, heat(700, 100), steam, 1.0) == pytest.approx(0.34, abs=0.005)


@pytest.mark.worked
def test_quench_of_a_pit_by_hand() -> None:
    # 10 kg char in 60 L, boiled 2.72, taken up 20, gaps 60 x 0.55 x 0.5 x 0.9982 = 16.47; a fifth
    # lost: 49.0 kg or 49.1 L
    between = quench.between_pieces(0.060, 0.45, 0.5, QUENCH.water_density.mid)
    water = quench.total_water(
        2.72, quench.taken_up(10, 2.0), between, 0.2, QUENCH.water_density.mid
    )
    assert water * 1000 == pytest.approx(49.08, abs=0.02)
    assert quench.hose_time(water, 12e-3 / 60) == pytest.approx(245.4, abs=0.2)
    ready = (QUENCH.reserve.mid, QUENCH.most.mid)
    least = QUENCH.minimum.mid
    assert quench.have_ready(0.1, 0.08, *ready, 0.0, least) == pytest.approx(0.15)
    # at most twice the middle; what a hose gives comes off; two watering cans in any case
    assert quench.have_ready(0.1, 0.05, *ready, 0.0, least) == pytest.approx(0.1)
    assert quench.have_ready(0.1, 0.05, *ready, 0.06, least) == pytest.approx(0.04)
    assert quench.have_ready(0.001, 0.001, *ready, 0.0, least) == pytest.approx(0.02)
    assert quench_ref.wet_mass(10, 20) == 30


thickness = st.floats(0.001, 0.5)
density = st.floats(100, 1200)
moisture = st.floats(0, 2)
contraction = st.floats(0.3, 1)
minutes = st.floats(1, 600).map(lambda x: 60 * x)


@pytest.mark.property
@given(
    thickness,
    thickness,
    density,
    density,
    moisture,
    moisture,
    contraction,
    st.floats(0.6, 2.2),
    st.floats(180, 600),
)
def test_thicker_denser_wetter_is_never_faster(
    t1: float,
    t2: float,
    d1: float,
    d2: float,
    u1: float,
    u2: float,
    fc: float,
    factor: float,
    thin: float,
) -> None:
    quick = through(min(t1, t2), m(min(d1, d2), min(u1, u2), fc), factor, thin)
    slow = through(max(t1, t2), m(max(d1, d2), max(u1, u2), fc), factor, thin)
    assert 0 < quick <= slow


@pytest.mark.property
@given(st.floats(0, 0.014999), density, moisture)
def test_thin_pieces_take_the_judged_time(t: float, d: float, u: float) -> None:
    assert through(t, m(d, u, 0.7)) == CHAR.thin.mid


@pytest.mark.property
@given(st.floats(0.0005, 0.3), st.floats(0.2, 2), st.floats(0.6, 2.2))
def test_depth_inverts_time(depth: float, coefficient: float, factor: float) -> None:
    time = charring.time_to_depth(depth, coefficient, factor, CHAR.exponent.mid)
    assert charring_ref.depth_at(time, coefficient, factor, CHAR.exponent.mid) == pytest.approx(
        depth, rel=1e-12
    )


@pytest.mark.property
@given(st.floats(0.03, 0.3), st.floats(0.2, 2), st.floats(0, 1))
def test_core_of_a_round_is_one_less_depth_over_radius_squared(
    diameter: float, coefficient: float, part: float
) -> None:
    whole = charring.time_to_depth(diameter / 2, coefficient, 1.0, CHAR.exponent.mid)
    depth = charring_ref.depth_at(part * whole, coefficient, 1.0, CHAR.exponent.mid)
    x = min(depth / (diameter / 2), 1)
    assert charring.core_share(part * whole, whole, 2, CHAR.exponent.mid) == pytest.approx(
        (1 - x) ** 2, abs=1e-9
    )
    assert charring.core_share(part * whole, whole, 1, CHAR.exponent.mid) == pytest.approx(
        1 - x, abs=1e-9
    )


@pytest.mark.property
@given(minutes, minutes, minutes, st.sampled_from([1, 2]))
def test_core_shrinks_with_age_and_goes(a: float, b: float, whole: float, sides: int) -> None:
    p = CHAR.exponent.mid
    young, old = (
        charring.core_share(min(a, b), whole, sides, p),
        charring.core_share(max(a, b), whole, sides, p),
    )
    assert 0 <= old <= young <= 1
    assert charring.core_share(0.0, whole, sides, p) == 1
    assert charring.core_share(whole, whole, sides, p) == 0


@pytest.mark.property
@given(minutes, minutes, minutes)
def test_raw_wood_of_a_lot_is_the_mean_of_its_cores(a: float, b: float, whole: float) -> None:
    youngest, oldest = min(a, b), max(a, b) + 60
    power = CHAR.exponent.mid
    ages = np.linspace(youngest, oldest, 20001)
    cores = charring.core_share(ages, whole, 2.0, power)
    assert raw_wood.raw_share_of_lot(youngest, oldest, whole, power) == pytest.approx(
        float(np.mean(cores)), abs=2e-4
    )


@pytest.mark.worked
def test_a_piece_that_is_split_in_four_is_half_as_thick() -> None:
    # and needs (1/2)^1.23 = 0.426 of the time
    assert charring.split_thickness(0.25, 16) == pytest.approx(0.0625)
    assert charring.split_time(100.0, 4, 1.23) == pytest.approx(42.6, abs=0.05)


@pytest.mark.property
@given(st.floats(0, 1200), st.floats(0, 1200), st.floats(0, 1200))
def test_heat_adds_up_and_grows(a: float, b: float, c: float) -> None:
    assert heat(a, b) + heat(b, c) == pytest.approx(heat(a, c), abs=1e-3)
    assert heat(max(a, b), c) >= heat(min(a, b), c) - 1e-3


@pytest.mark.property
@given(
    st.floats(0, 500), st.floats(0, 500), st.floats(0, 500), st.floats(0, 0.9), st.floats(0, 0.9)
)
def test_more_of_anything_never_needs_less_water(
    boiled: float, drunk: float, gaps: float, a: float, b: float
) -> None:
    rho = QUENCH.water_density.mid
    assert quench.total_water(boiled, drunk, gaps, min(a, b), rho) <= quench.total_water(
        boiled, drunk, gaps, max(a, b), rho
    )
    assert quench.total_water(boiled, drunk, gaps, a, rho) <= quench.total_water(
        boiled + 1, drunk, gaps, a, rho
    )
    assert (
        quench.total_water(boiled, drunk, gaps, a, rho) * rho
        >= (boiled + drunk + gaps) * (1 - 1e-12) - 1e-9
    )


@pytest.mark.property
@given(st.floats(0.1, 500), st.floats(0.005, 0.03), st.floats(0.1, 4), st.floats(0.1, 1))
def test_time_to_feed_inverts_feed_burnt(
    dry: float, rate: float, rim: float, burning_fraction: float
) -> None:
    assert charring.feed_burnt(
        rate, rim, burning_fraction, charring.time_to_feed(dry, rate, rim, burning_fraction)
    ) == pytest.approx(dry)


@pytest.mark.property
@given(minutes, st.floats(0.5, 20), st.floats(0.1, 1.5))
def test_front_stops_at_the_floor(time: float, speed: float, depth: float) -> None:
    there = charring.front_time(depth, speed)
    assert charring_ref.front_depth(there, speed, depth) == pytest.approx(depth)
    assert charring_ref.front_depth(time, speed, depth) <= depth


@pytest.mark.property
def test_arrays_give_what_floats_give() -> None:
    pieces = np.array([0.004, 0.0149, 0.015, 0.03, 0.1, 0.25])
    together = charring.through_time(
        pieces, 0.56, 1.0, CHAR.thin.mid, CHAR.thin_below.mid, CHAR.exponent.mid
    )
    assert np.allclose(together, [through(float(t), 0.56) for t in pieces], rtol=1e-14)
    ages = np.array([0.0, 600.0, 3600.0, 9000.0])
    assert np.allclose(
        charring.core_share(ages, 3600.0, 2, 1.23),
        [charring.core_share(float(a), 3600.0, 2, 1.23) for a in ages],
        rtol=1e-13,
    )
    hot = np.array([50.0, 413.0, 600.0, 900.0])
    assert np.allclose(heat(hot, 100.0), [heat(float(t), 100.0) for t in hot], rtol=1e-13)


@pytest.mark.property
def test_every_cell_is_in_order_and_every_source_is_there() -> None:
    known = {
        key
        for path in sorted((TABLE_FOLDER / "sources").glob("*.yaml"))
        for key in _read("sources", path.name)["sources"]
    }
    own = {
        key: Source.model_validate(row)
        for key, row in _read("sources", "fire.yaml")["sources"].items()
    }
    used = {key for row in ROWS.values() for key in used_sources(row)}
    assert used <= known
    assert set(own) <= used
    cells: list[Cell] = [cell for row in ROWS.values() for _, cell in cells_of(row)]
    assert len(cells) > 60
    assert all(cell.low <= cell.mid <= cell.high for cell in cells)
