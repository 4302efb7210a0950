"""Where wet begins: the limits of an open fire, 20 and 30 % on wet basis, and ten points over the
first for what the moisture may be at most.
"""

from __future__ import annotations

import pytest

from builders import tables
from feedstock import Burn, Lot, LotAppraisal, Verdict, appraise_lot
from feedstock.assessment.verdict import scores

pytestmark = pytest.mark.worked


def oak(moisture: str, material: str = "oak") -> LotAppraisal:
    lot = Lot(material=material, mass="20 kg", moisture=moisture, origin="own trees")
    return appraise_lot(lot, Burn(burner="cone pit"), tables())


@pytest.mark.parametrize(
    "moisture, code",
    [
        ("12 % wet", None),
        ("20 % wet", None),
        ("20.2 % wet", "too-wet"),
        ("30 % wet", "too-wet"),
        ("30.2 % wet", "far-too-wet"),
        ("25 % dry", None),  # 25 / 125 is 20 % on wet basis
        ("43 % dry", "far-too-wet"),  # 43 / 143 is 30.07 %
        ("15 to 29.8 % wet, likely 18 % wet", None),
        ("15 to 30.2 % wet, likely 18 % wet", "may-be-too-wet"),
        ("15 to 45 % wet, likely 19 % wet", "may-be-too-wet"),
        ("15 to 45 % wet, likely 22 % wet", "too-wet"),
    ],
)
def test_middle_and_upper_end_are_held_against_the_limits(moisture: str, code: str | None) -> None:
    lot = oak(moisture)
    assert [finding.code for finding in lot.findings] == [code] * (code is not None)
    assert lot.verdict is (Verdict.DRY_FIRST if code else Verdict.READY)


def test_the_score_of_char_follows_the_carbon_that_is_kept() -> None:
    """An open fire keeps a quarter of the char of straw, nine tenths of that of limbs."""
    straw, limbs = oak("15 % wet", "wheat straw"), oak("15 % wet")
    assert straw.scores.char < 0.5 * limbs.scores.char


def test_suitability_is_the_geometric_mean_of_the_scores() -> None:
    """20 % wet scores 75, 16.25 % of carbon kept (five eighths of the way from 50 to 90) scores 75,
    nothing suspected 100, each with weight 1: the third root of 0.75 x 0.75 x 1 is 0.8255, which is
    85 to the nearest 5.
    """
    found = scores(tables(), 20.0, None, 16.25, (), Verdict.READY)
    assert (found.moisture, found.char, found.contamination) == (75.0, 75.0, 100.0)
    assert (found.density, found.suitability) == (None, 85.0)


def test_density_counts_half_in_suitability() -> None:
    """150 kg/m3 scores 27.5 (told to the nearest 5), with weight 0.5: 0.75^2 x 0.275^0.5 is 0.2950,
    its root of order 3.5 is 0.7056, told as 70. With weight 1 it would be the fourth root of
    0.1547, 0.627.
    """
    found = scores(tables(), 20.0, 150.0, 16.25, (), Verdict.READY)
    assert (found.density, found.suitability) == (30.0, 70.0)


def test_soil_is_told_beside_what_clean_wood_has() -> None:
    """Twelve parts of soil in a hundred, where the tables warn from three of ash on."""
    lot = Lot(material="oak", mass="20 kg", moisture="15 % wet", origin="own trees", soil="12 %")
    found = appraise_lot(lot, Burn(burner="cone pit"), tables())
    (told,) = [finding for finding in found.findings if finding.code == "soil-suspected"]
    assert told.values["most"] == pytest.approx(3.0)


def test_what_is_beyond_the_last_point_scores_as_that() -> None:
    wettest, wet = (
        scores(tables(), moisture, None, 16.25, (), Verdict.READY).moisture
        for moisture in (99.0, 20.0)
    )
    assert (wettest, wet) == (0.0, 75.0)
