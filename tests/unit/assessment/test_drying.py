"""How a wet lot dries: the times by hand, where it stops, rain on dry wood, and words that fit the
kind.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from typing import Any

import pytest

from builders import tables
from feedstock import Burn, Heap, Lot, LotAppraisal, UnknownName, Verdict, appraise, appraise_lot
from feedstock.model.drying import Drying
from feedstock.quantities.cell import Cell
from feedstock.tables.rows.methods.drying import Drying as DryingRow
from feedstock.text import page

# 45 % wet is 0.818 of the dry mass, 20 % is 0.25, and at rest it is 0.16: ln(0.658 / 0.09) is 1.99;
# in winter it rests at 0.21: ln(0.608 / 0.04) is 2.72, and everything takes four times as long


def lot(**words: Any) -> LotAppraisal:
    words = {"material": "oak", "mass": "40 kg", "origin": "own trees", **words}
    return appraise_lot(Lot(**words), tables=tables())


def drying(**words: Any) -> Drying:
    found = lot(**words).drying
    assert found is not None
    return found


OF_THE_FOUR_KINDS = [
    # thickness, more, weeks in the season: pace 3, 5.5, 11, 22 times 1.99
    ("20 mm", {}, 5.97),
    ("80 mm", {"signs": ["bare wood"]}, 10.94),
    ("80 mm", {}, 21.89),
    ("200 mm", {}, 43.77),
]


@pytest.mark.worked
@pytest.mark.parametrize(("thickness", "more", "weeks"), OF_THE_FOUR_KINDS)
def test_weeks_by_hand(thickness: str, more: dict[str, Any], weeks: float) -> None:
    found = drying(thickness=thickness, moisture="45 % wet", **more)
    assert found.weeks is not None
    assert found.weeks.mid_value == pytest.approx(weeks, abs=0.01)
    assert found.weeks.low_value < 0.7 * weeks
    assert found.weeks.high_value > 1.5 * weeks
    # at a winter's pace brash takes 3 x 4 x 2.72 = 33 weeks, and a winter has 26
    assert found.weeks_winter is None
    assert "not before the next season" in str(found.time)


@pytest.mark.worked
def test_what_is_nearly_dry_gets_there_in_winter() -> None:
    """22 % wet is 0.282 of the dry mass: 3 x 4 x ln(0.072 / 0.04) is 7.06 weeks."""
    found = drying(thickness="20 mm", moisture="22 % wet")
    assert found.weeks_winter is not None
    assert found.weeks_winter.mid_value == pytest.approx(7.06, abs=0.01)
    assert found.weeks_winter.high_value <= 26


@pytest.mark.worked
def test_where_it_stops() -> None:
    """16 (12 to 19) % of the dry mass is 13.8 (10.7 to 16.0) % of the whole."""
    stops = drying(moisture="45 % wet").stops_at
    assert stops.mid_value == pytest.approx(13.79, abs=0.01)
    assert stops.low_value == pytest.approx(10.71, abs=0.01)
    assert stops.high_value == pytest.approx(15.97, abs=0.01)


@pytest.mark.worked
def test_the_weight_by_which_one_knows() -> None:
    """A piece of 100 kg at 45 % wet has 55 kg of dry matter, and weighs 68.75 kg at 20 %."""
    assert "weighs 69 % of that" in str(drying(thickness="80 mm", moisture="45 % wet").know)


@pytest.mark.regression
@pytest.mark.parametrize("moisture", [None, {"condition": "green"}])
def test_without_a_measured_moisture_no_weight_is_promised(moisture: Any) -> None:
    for material in ("oak", "twigs", "leaves"):
        know = str(drying(material=material, moisture=moisture).know)
        assert "%" not in know
        assert "hardly gets lighter" in know


@pytest.mark.property
def test_the_ends_against_draws() -> None:
    """Everything that is in doubt drawn from the shapes that the table gives."""
    found = drying(thickness="80 mm", moisture="40 to 50 % wet, likely 45 % wet").weeks
    assert found is not None
    row = tables().method("drying", DryingRow)[1]
    draw, weeks = random.Random(11), []
    # straight in the logarithm of the dry share, which is the odds of the wet share
    wet = [math.log(share / (1 - share)) for share in (0.40, 0.45, 0.50)]
    pace = [math.log(end / 604800) for end in _ends(row.paces["poles"])]
    rest = [math.log(end) for end in _ends(row.rest)]
    for _ in range(100_000):
        moisture, at_rest, tau = (_drawn(draw, ends) for ends in (wet, rest, pace))
        left = max(0.25 - at_rest, row.nearest.mid)
        weeks.append(tau * math.log((moisture - at_rest) / left))
    weeks.sort()
    half = (found.high_value - found.low_value) / 2
    assert abs(found.low_value - weeks[5_000]) < 0.05 * half
    assert abs(found.high_value - weeks[95_000]) < 0.05 * half


def _ends(cell: Cell) -> tuple[float, float, float]:
    return cell.low, cell.mid, cell.high


def _drawn(draw: random.Random, ends: Sequence[float]) -> float:
    low, mid, high = ends
    z = draw.gauss(0, 1) / 1.6449
    return math.exp(mid + z * (high - mid if z > 0 else mid - low))


@pytest.mark.worked
@pytest.mark.parametrize(("thickness", "days"), [("20 mm", 1.0), ("60 mm", 4.0), ("120 mm", 5.0)])
def test_rained_on_is_dry_inside(thickness: str, days: float) -> None:
    """By fuel time lags: two of ten hours to 25 mm, one of a hundred hours to 75 mm."""
    found = lot(thickness=thickness, moisture={"condition": "rained on"})
    assert found.verdict is Verdict.DRY_FIRST
    assert found.drying is not None
    assert found.drying.weeks is not None
    assert 7 * found.drying.weeks.mid_value == pytest.approx(days)
    assert "outside alone" in str(found.drying.how)


@pytest.mark.worked
@pytest.mark.parametrize("condition", ["Rained-On", "rained on", "rained_on"])
def test_rained_on_of_any_material(condition: str) -> None:
    for material in ("oak", "wheat straw", "leaves", "walnut shell", "bamboo", "bark"):
        assert lot(material=material, moisture={"condition": condition}).drying is not None


@pytest.mark.regression
def test_an_unknown_condition_offers_it() -> None:
    with pytest.raises(UnknownName, match="rained on"):
        lot(moisture={"condition": "drizzled"})


@pytest.mark.regression
@pytest.mark.parametrize(
    ("words", "fits", "not_fit"),
    [
        ({"material": "leaves"}, "Spread it a hand deep", ("plit", "tack")),
        ({"material": "wheat straw"}, "Spread it a hand deep", ("plit", "tack")),
        (
            {"material": "wheat straw", "mass": None, "containers": {"count": 3, "of": "bale"}},
            "Open the bales",
            ("plit", "tack"),
        ),
        ({"material": "maize stover"}, "bundles", ("plit",)),
        ({"material": "walnut shell"}, "Spread", ("plit", "tack")),
        ({"material": "twigs"}, "loose and crosswise", ("plit", "tack")),
        ({"material": "rotted wood"}, "Break it into lumps", ("plit", "tack")),
        ({"thickness": "80 mm"}, "one open row", ()),
        ({"thickness": "250 mm"}, "Split it to 100 mm", ()),
        ({"thickness": "250 mm", "decay": 5}, "Break it into lumps", ("plit",)),
        ({"thickness": "60 mm", "signs": ["bare wood"]}, "one open row", ("plit",)),
    ],
)
def test_the_words_fit_the_kind(words: dict[str, Any], fits: str, not_fit: tuple[str, ...]) -> None:
    found = lot(**{"moisture": "45 % wet", **words})
    assert found.drying is not None
    how = str(found.drying.how)
    assert fits in how
    assert not any(word in how for word in not_fit)
    wet = next(finding for finding in found.findings if finding.axis == "moisture")
    assert wet.action == how


@pytest.mark.regression
def test_what_is_wet_through_goes_to_the_compost() -> None:
    found = drying(material="leaves", moisture="72 % wet")
    assert found.weeks is None
    assert found.weeks_winter is None
    assert "compost" in str(found.how)


@pytest.mark.regression
def test_at_rest_with_a_damp_air_it_never_gets_there() -> None:
    air = {"temperature": "5 degC", "relative_humidity": "97 %"}
    found = drying(thickness="50 mm", moisture={"air": air})
    assert found.weeks is None
    assert "at rest with the air" in str(found.how)
    assert found.stops_at.mid_value > 20


@pytest.mark.regression
def test_no_drying_of_what_is_dry_or_stays_out() -> None:
    assert lot(moisture="15 % wet").drying is None
    painted = lot(moisture="45 % wet", signs=["flaking paint"])
    assert painted.verdict is Verdict.KEEP_OUT
    assert painted.drying is None


@pytest.mark.property
def test_wetter_and_thicker_take_longer() -> None:
    weeks = [
        [
            drying(thickness=thickness, moisture=f"{wet} % wet").weeks.mid_value  # type: ignore[union-attr]
            for wet in (22, 30, 45, 55)
        ]
        for thickness in ("20 mm", "80 mm", "200 mm")
    ]
    assert all(row == sorted(row) for row in weeks)
    assert all(column == sorted(column) for column in map(list, zip(*weeks, strict=True)))


@pytest.mark.property
def test_amount_and_units_do_not_matter() -> None:
    one = drying(thickness="80 mm", moisture="45 % wet", mass="10 kg")
    other = drying(thickness="8 cm", moisture="81.8181818 % dry", mass="2 t")
    assert one.weeks is not None
    assert other.weeks is not None
    assert one.weeks.mid_value == pytest.approx(other.weeks.mid_value, rel=1e-6)
    assert one.weeks.high_value == pytest.approx(other.weeks.high_value, rel=1e-3)


@pytest.mark.regression
def test_the_screen_says_how_long_in_two_lines() -> None:
    heap = Heap(lots=[Lot(material="oak", mass="40 kg", thickness="80 mm", moisture="45 % wet",
                          origin="own trees")])  # fmt: skip
    result = appraise(heap, Burn(burner="cone pit"), tables())
    text = " ".join(page(result, full=True).split())
    assert "drying in spring and summer 12 to 40 weeks, likely about 22" in text
    assert text.count("Cover the top alone") == 1
    assert "about 11 weeks" in text
    assert type(result).model_validate_json(result.model_dump_json()) == result
    assert "under 20 in" in " ".join(page(result, units="us").split())


@pytest.mark.property
def test_weeks_can_be_explained() -> None:
    result = appraise(
        Heap(lots=[Lot(name="limbs", material="oak", mass="40 kg", thickness="80 mm",
                       moisture="45 % wet", origin="own trees"),
                   Lot(name="dry", material="oak", mass="4 kg", moisture="15 % wet",
                       origin="own trees")]),
        tables=tables(),
    )  # fmt: skip
    weeks = result.lots[0].drying
    assert weeks is not None and weeks.weeks is not None
    for figure in ("lots[0].drying.weeks", "lots.limbs.drying.weeks"):
        explanation = result.explain(figure, tables())
        assert explanation.mid == pytest.approx(weeks.weeks.mid_value)
        assert "paces" in str(explanation.full if hasattr(explanation, "full") else explanation)
    for figure in ("lots.limbs.drying.weeks_winter", "lots.dry.drying.weeks", "lots[0].drying.x"):
        with pytest.raises(UnknownName, match="drying"):
            result.explain(figure, tables())


@pytest.mark.property
@pytest.mark.parametrize(
    ("material", "decay", "told"),
    [
        ("oak", None, False),
        ("oak", 3, False),
        ("oak", 4, True),
        ("pine", 5, True),
        ("rotted wood", None, True),
        ("rotted wood", 2, False),
    ],
)
def test_wood_that_crumbles_may_be_worth_more_left_to_rot(
    material: str, decay: int | None, told: bool
) -> None:
    """Advice, and no gate: the lot stays ready, and the page says it in one line."""
    heap = Heap(
        lots=[
            Lot(
                material=material,
                mass="20 kg",
                moisture="15 % wet",
                decay=decay,
                origin="own trees",
                name="log",
            )
        ]
    )
    result = appraise(heap, tables=tables())
    (lot,) = result.lots
    found = [each for each in lot.findings if each.code == "rotted-wood"]
    assert bool(found) is told
    assert all(each.permits is Verdict.READY and each.sources for each in found)
    assert lot.verdict is Verdict.READY
    assert ("left to rot, or in the compost" in page(result)) is told


@pytest.mark.worked
@pytest.mark.parametrize(("moisture", "sodden"), [("64.6 % wet", False), ("65.4 % wet", True)])
def test_straw_wetter_than_65_percent_goes_to_the_compost(moisture: str, sodden: bool) -> None:
    """Wetter than half-wilted grass it rots before it dries; up to there it is spread."""
    found = drying(material="wheat straw", moisture=moisture)
    assert (found.how.code == "drying.lay-sodden") is sodden
    assert (found.weeks is None) is sodden
