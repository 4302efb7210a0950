"""What a person does with each line at the pit: the pit that is dug, pieces that are split and fed,
what goes in beside, how it ends.
"""

from __future__ import annotations

import re

import pytest

from builders import heap, lot, tables
from feedstock import Burn, appraise
from pages import NAMES, appraised, flat, shown


@pytest.mark.worked
def test_a_pit_is_told_as_it_is_dug() -> None:
    """A cone pit as dug has a floor of 0.35 of its rim: of 105 cm 37, of 41.3 in 14.5. What stands
    above the ground is not dug.
    """
    assert "The burn: cone pit, dug 105 cm wide, 48 deep, floor 37, fed" in shown(
        "limbs_in_a_cone_pit"
    )
    assert "cone pit, dug 41 in wide, 19 deep, floor 14, fed" in shown("limbs_in_a_cone_pit", "us")
    assert re.search(
        r"trench, dug 75 by 260 cm, 45 deep, floor \d+ by 260, fed", shown("trench_of_storm_limbs")
    )
    for name in ("barbecue_with_sides", "drum", "shells"):
        assert "dug " not in shown(name).partition(" 1. ")[0]
    for shape, told in (("point", "45 deep, straight to a point"), ("bowl", "round as a bowl")):
        burn = Burn(burner="cone pit", diameter="1 m", depth="45 cm", shape=shape)
        assert told in flat(appraise(heap(lot("oak", moisture="14 % wet")), burn, tables()))


@pytest.mark.worked
def test_pieces_are_split_into_what_a_person_sees() -> None:
    """Halves and quarters, which have no one thickness; in more by number and thickness. Lumps of
    80 mm broken in two are 80 / 2^0.5 = 57, poles of 80 mm in sixteen 80 / 16^0.5 = 20.
    """
    told = shown("rotted_wood")
    assert "soft middle, about 35 kg, in quarters;" in told
    assert "sound end, about 19 kg, each in 16, 20 mm thick" in told
    assert "crumbling end, about 20 kg, to lumps of 57 mm at most" in told
    assert "about 900 kg, in halves." in shown("two_tonnes")


@pytest.mark.worked
def test_a_portion_is_a_piece_at_least() -> None:
    """Nine butts in eight are 72 pieces, 36 for each of two loads, four of them every 8 min in the
    70 min. A log of 140 mm, sawn to 0.86 m, is 13.2 L, and half of one at 18 % wet about 4.6 kg:
    more than an armful.
    """
    assert "oak butts: about 90 kg in 36 pieces, 4 every 8 min" in shown("thick_butts")
    plan = appraised("two_tonnes").burn
    assert plan is not None
    (logs,) = [step for step in plan.feeding if step.lots == ("ash logs",)]
    assert logs.by_hand is not None
    assert logs.by_hand.code == "hand.logs"
    assert 4.3 <= logs.mass.mid_value / logs.by_hand.values["all"] <= 4.9
    assert "logs or armfuls, 4 every 9 min" in shown("two_tonnes")


@pytest.mark.worked
def test_little_is_fed_by_a_few_sticks() -> None:
    """Half a kilogram in 10 min: sticks of 12 mm every 3 min at most are four turns of 0.11 kg."""
    assert "8 to 18 hazel: about 0.5 kg, a few sticks every 2.5 min" in shown("one_kilogram")
    plan = appraised("one_kilogram").burn
    assert plan is not None
    assert [s.by_hand.code for s in plan.feeding if s.by_hand is not None] == ["hand.sticks"] * 3


@pytest.mark.worked
@pytest.mark.parametrize(
    ("name", "told"),
    [
        # 13 kg in 30 portions are 0.44 kg, one and a half handfuls of 0.3
        ("bedding", "spruce poles of 21 mm: about 13 kg, 1 or 2 handfuls with each portion"),
        # 19 kg with 9 armfuls and 13 portions are 0.86 kg
        ("rotted_wood", "sound end of 20 mm: about 19 kg, 3 handfuls with each portion"),
        # 5 kg in 19 portions are 0.26 kg
        ("shells", "walnut limbs of 20 mm: about 5 kg, a handful with each portion"),
    ],
)
def test_what_goes_in_beside_has_no_clock_of_its_own(name: str, told: str) -> None:
    assert told in shown(name)
    plan = appraised(name).burn
    assert plan is not None
    (beside,) = [step for step in plan.feeding if step.part == "with"]
    minutes = beside.end.mid_value - beside.begin.mid_value
    assert beside.every is not None
    turns = 0
    for step in plan.feeding:
        late = step.end.mid_value > beside.begin.mid_value * (1 + 1e-6)
        if late and step.part in ("main", "loose") and step.every is not None:
            turns += round((step.end.mid_value - step.begin.mid_value) / step.every.mid_value)
    assert minutes / beside.every.mid_value == pytest.approx(turns)


@pytest.mark.worked
def test_a_bed_lies_as_its_sticks_fit_and_waits_for_embers() -> None:
    """Sticks of four fifths of the length do not lie across a trench, nor across a barbecue of 58
    by 38 cm. A bed takes 5 to 15 min, which is told before pieces thicker than 60 mm.
    """
    for name in NAMES:
        long = name in ("trench_of_storm_limbs", "barbecue_with_sides")
        assert ("along it, until embers cover the floor" in shown(name)) is long, name
    thick = [n for n in NAMES if "until embers cover the floor, 5 to 15 min" in shown(n)]
    assert thick == [
        "forty_lots",
        "limbs_in_a_cone_pit",
        "rotted_wood",
        "thick_butts",
        "trench_of_storm_limbs",
        "two_tonnes",
    ]


@pytest.mark.property
@pytest.mark.parametrize("name", NAMES)
def test_grey_spots_and_no_clock_tell_when_the_last_of_it_goes_in(name: str) -> None:
    plan = appraised(name).burn
    assert plan is not None
    told = shown(name)
    assert ("on grey spots, the rest as flames sink; " in told) is (plan.firing == "fed")
    last = told.partition(" on grey spots")[0].rpartition(": ")[2]
    assert plan.firing != "fed" or " every " not in last


@pytest.mark.worked
def test_what_is_filled_lies_as_it_fits_too() -> None:
    """Rods of 2 m in a trench of 2.5 m by 60 cm; in a round pit a layer lies across the other."""
    lots = [
        lot("oak", name=name, moisture="14 % wet", mass="40 kg", thickness=thickness)
        for name, thickness in (("butts", "70 mm"), ("limbs", "24 mm"), ("rods", "8 mm"))
    ]
    trench = Burn(burner="trench", width="60 cm", length="2.5 m", depth="40 cm", firing="top-lit")
    assert "limbs: about 40 kg; along it, small gaps" in flat(
        appraise(heap(*lots), trench, tables())
    )
    pit = Burn(burner="cone pit", diameter="1.6 m", depth="70 cm", firing="top-lit")
    assert "limbs: about 40 kg; crosswise, small gaps" in flat(appraise(heap(*lots), pit, tables()))


@pytest.mark.worked
def test_the_fire_stands_when_its_bed_does() -> None:
    """5 to 15 min after lighting, likely 8, in the timeline as in the steps."""
    plan = appraised("two_tonnes").burn
    assert plan is not None
    (stands,) = [each.at for each in plan.timeline if each.event.code == "event.stands"]
    ends = (stands.low_value, stands.mid_value, stands.high_value)
    assert ends == pytest.approx((5, 8, 15))


@pytest.mark.regression
def test_lumps_are_laid_and_drowned_and_hot_metal_is_let_be() -> None:
    assert "laid lump by lump onto flame, crumbs strewn, never in wind" in shown("rotted_wood")
    lumps = "Rotten lumps glow inside: break each open and drown it."
    assert [n for n in NAMES if lumps in shown(n)] == ["rotted_wood"]
    metal = "The vessel burns a hand long after."
    assert [n for n in NAMES if metal in shown(n)] == [
        "barbecue_with_sides",
        "drum",
        "mixed_scrap",
        "shells",
    ]


@pytest.mark.worked
def test_what_is_dry_lights_what_dries_yet() -> None:
    """16 kg of dry rods beside 150 kg of green oak are its kindling, and thin; dry limbs of 50 mm
    are none, and what weighs more than the wet is burnt.
    """
    told = "Best kept as kindling for green oak, once that is dry. To burn dry hazel alone all"
    assert told in shown("green_wood")
    assert all("Best kept" not in shown(name) for name in NAMES if name != "green_wood")
    pit = Burn(burner="cone pit", diameter="1 m", depth="45 cm")
    wet = lot("oak", name="wet", moisture="45 % wet", mass="30 kg", thickness="70 mm")
    for dry in (
        lot("hazel", name="dry", moisture="15 % wet", mass="29 kg", thickness="20 mm"),
        lot("hazel", name="dry", moisture="15 % wet", mass="9 kg", thickness="50 mm"),
    ):
        assert "Best kept" not in flat(appraise(heap(wet, dry), pit, tables()))


@pytest.mark.worked
def test_thin_wood_that_the_last_load_lacks_is_told() -> None:
    """Each load has its share of the twigs: the last one what of 20 lb falls to it, and lacks the
    rest of what lights and finishes it.
    """
    plan = appraised("us_units").burn
    assert plan is not None
    (finding,) = [f for f in plan.findings if f.code == "more-than-one-load"]
    last, thin, lacks = (finding.values[n].value for n in ("last", "last_thin", "last_lacks"))
    whole = last + sum(step.mass.mid_value for step in plan.feeding)
    pounds = 0.45359237
    assert lacks == pytest.approx(thin - 20 * pounds * last / whole, abs=0.75)
    assert "and 5.5 lb more of thin wood, brought or split; or all loads" in shown("us_units", "us")


@pytest.mark.property
@pytest.mark.parametrize("name", NAMES)
def test_nothing_metric_is_left_for_a_reader_of_pounds(name: str) -> None:
    metric = re.findall(r"[\d.]+ (?:kg|g|mm|cm|m|km/h|L|litres|degC)\b", shown(name, "us"))
    assert metric == []
