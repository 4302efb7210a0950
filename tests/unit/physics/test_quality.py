"""What char is made of by its temperature, against published values and for every char."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from builders import method_row
from feedstock.physics import quality
from feedstock.physics.char import char_yield
from feedstock.tables.rows.methods.quality import CharQuality
from reference import quality as quality_ref


@pytest.fixture(scope="module")
def chars() -> CharQuality:
    found = method_row("after.yaml", "char-composition")
    assert isinstance(found, CharQuality)
    return found


def h_c(chars: CharQuality, group: str, temperature: float) -> float:
    curve = chars.curves[group]
    return float(quality.hydrogen_to_carbon(temperature, curve.start.mid, curve.rate.mid))


def share(curve: Any, temperature: float, function: Any = quality.oxygen_in_char) -> float:
    return float(function(temperature, curve.rest.mid, curve.span.mid, curve.rate.mid))


# Enders et al. 2012, Bioresour. Technol. 114:644, data table: means of oak, pine and hazelnut shell
ENDERS_WOOD = {300: 0.808, 350: 0.631, 400: 0.531, 450: 0.441, 500: 0.411, 550: 0.358, 600: 0.321}


@pytest.mark.published
@pytest.mark.parametrize("temperature, measured", ENDERS_WOOD.items())
def test_h_c_of_wood_against_enders(chars: CharQuality, temperature: int, measured: float) -> None:
    # one laboratory: inside the doubt of others, and never above the curve, which lies on the side
    # of more hydrogen
    doubt = chars.curves["wood"].doubt
    assert doubt.low < measured / h_c(chars, "wood", temperature) <= 1


@pytest.mark.transcribed
@pytest.mark.parametrize(
    "group, at_07, at_04",
    [("wood", 355.3, 554.5), ("plant", 391.7, 600.5), ("manure", 441.6, 575.9)],
)
def test_edges_of_the_standards(chars: CharQuality, group: str, at_07: float, at_04: float) -> None:
    # by hand: ln(1.90 / 0.7) / 0.00281, ln(2.0 / 0.4) / 0.00268 and so on, degC; manure
    # likewise, ln(4.41 / 0.7) / 0.004168
    curve = chars.curves[group]
    for ratio, expected in ((0.7, at_07), (0.4, at_04)):
        found = quality_ref.temperature_for(ratio, curve.start.mid, curve.rate.mid)
        assert found == pytest.approx(expected, abs=0.6)
        assert h_c(chars, group, found) == pytest.approx(ratio, rel=1e-12)


@pytest.mark.published
def test_h_c_of_wood_from_other_laboratories(chars: CharQuality) -> None:
    # means of wood chars in two data sets (Wood, Masek and Erastova 2023; Li, Gupta and You 2022):
    # inside the 90 % doubt
    doubt = chars.curves["wood"].doubt
    off = [
        math.log(measured / h_c(chars, "wood", t))
        for t, measured in ((350, 0.73), (400, 0.68), (500, 0.41), (600, 0.29), (700, 0.19))
    ]
    assert all(math.log(doubt.low) < each < math.log(doubt.high) for each in off)
    assert math.sqrt(sum(each**2 for each in off) / len(off)) < 0.25


@pytest.mark.transcribed
def test_doubt_is_a_quarter_in_the_log(chars: CharQuality) -> None:
    # Woolf et al. 2021 workbook: standard deviation of ln(H/C) 0.25 at one temperature; 1.645 of it
    # for 90 %
    for name in ("wood", "plant"):
        curve = chars.curves[name]
        assert math.log(curve.doubt.high) == pytest.approx(1.645 * 0.25, abs=0.005)
        assert math.log(curve.doubt.low) == pytest.approx(-1.645 * 0.25, abs=0.005)


# Neves et al. 2011, Prog. Energy Combust. Sci. 37:611, the three curves evaluated: T, C, H, O, H/C,
# O/C
NEVES = [
    (300, 0.669, 0.0446, 0.271, 0.794, 0.305),
    (400, 0.759, 0.0342, 0.195, 0.537, 0.193),
    (500, 0.817, 0.0260, 0.147, 0.379, 0.135),
    (600, 0.856, 0.0196, 0.118, 0.273, 0.103),
    (700, 0.881, 0.0145, 0.100, 0.197, 0.085),
    (750, 0.891, 0.0124, 0.093, 0.166, 0.079),
]


@pytest.mark.worked
@pytest.mark.parametrize("temperature, c, h, o, ratio_h, ratio_o", NEVES)
def test_neves_shares_and_ratios(
    chars: CharQuality,
    temperature: int,
    c: float,
    h: float,
    o: float,
    ratio_h: float,
    ratio_o: float,
) -> None:
    carbon, hydrogen = (
        share(chars.carbon, temperature),
        share(chars.hydrogen, temperature, quality_ref.hydrogen_in_char),
    )
    oxygen = share(chars.oxygen, temperature)
    assert (carbon, oxygen) == pytest.approx((c, o), abs=6e-4)
    assert hydrogen == pytest.approx(h, abs=6e-5)
    atomic = chars.atomic
    assert quality.molar_ratio(
        hydrogen, carbon, atomic.hydrogen.mid, atomic.carbon.mid
    ) == pytest.approx(ratio_h, abs=6e-4)
    assert quality.molar_ratio(
        oxygen, carbon, atomic.oxygen.mid, atomic.carbon.mid
    ) == pytest.approx(ratio_o, abs=6e-4)


@pytest.mark.property
@pytest.mark.parametrize("temperature", range(300, 801, 50))
def test_oxygen_has_plus(chars: CharQuality, temperature: int) -> None:
    # mass closure decides the sign: the public copies of Neves et al. 2011 print minus
    rest = share(chars.carbon, temperature) + share(
        chars.hydrogen, temperature, quality_ref.hydrogen_in_char
    )
    with_plus = rest + share(chars.oxygen, temperature)
    oxygen = chars.oxygen
    with_minus = rest + float(
        quality.oxygen_in_char(temperature, oxygen.rest.mid, -oxygen.span.mid, oxygen.rate.mid)
    )
    assert 0.985 <= with_plus <= 0.998
    assert abs(1 - with_plus) < abs(1 - with_minus)


@pytest.mark.published
def test_neves_and_enders_agree(chars: CharQuality) -> None:
    # two independent sources, 300 to 600 degC: within 0.05 of each other
    for temperature, measured in ENDERS_WOOD.items():
        carbon, hydrogen = (
            share(chars.carbon, temperature),
            share(chars.hydrogen, temperature, quality_ref.hydrogen_in_char),
        )
        assert (
            abs(
                quality.molar_ratio(
                    hydrogen, carbon, chars.atomic.hydrogen.mid, chars.atomic.carbon.mid
                )
                - measured
            )
            <= 0.05
        )


@pytest.mark.property
@given(
    st.floats(0.001, 0.4),
    st.floats(0.2, 1.0),
    st.floats(0.05, 0.9),
    st.floats(0.5, 1.0),
    st.floats(0.5, 1.0),
)
def test_ash_and_carbon_conserve(
    ash: float, ash_kept: float, organic: float, kept: float, carbon: float
) -> None:
    made = char_yield(ash, organic, kept, ash_kept)
    in_char = quality.char_ash(ash, ash_kept, made)
    assert in_char * made == pytest.approx(ash * ash_kept)
    assert quality.organic_carbon(carbon, in_char) * made == pytest.approx(
        (1 - ash) * organic * kept * carbon
    )


@pytest.mark.worked
def test_char_is_never_more_than_ash() -> None:
    assert quality.char_ash(0.008, 1.0, 0.25) == pytest.approx(0.032)
    assert quality.char_ash(0.3, 1.0, 0.2) == 1.0


@pytest.mark.property
@given(st.floats(300, 800), st.floats(300, 800), st.sampled_from(["wood", "plant", "manure"]))
def test_hotter_char_has_less_hydrogen(one: float, two: float, group: str) -> None:
    assume(two - one > 1e-6)
    curves = {"wood": (1.7933, 0.002949), "plant": (1.8501, 0.002984), "manure": (3.3815, 0.004168)}
    assert quality.hydrogen_to_carbon(one, *curves[group]) > quality.hydrogen_to_carbon(
        two, *curves[group]
    )
