"""What a person is told before and between the fires, of heaps of every kind."""

from __future__ import annotations

import re

import pytest

from builders import tables
from feedstock import Burn, Heap, Job, Lot, appraise
from feedstock.model.appraisal import Appraisal
from feedstock.quantities.estimate import Estimate, exact_estimate
from feedstock.quantities.format import as_weighed, bare_in_hand, in_hand
from feedstock.text import page
from pages import HEAPS, NAMES, appraised, flat, shown


@pytest.mark.regression
def test_sticks_to_test_a_load_are_laid_aside_where_nothing_is_sawn() -> None:
    given = {"material": "birch", "moisture": "14 % wet", "origin": "own trees"}
    pieces = {"count": 60, "diameter": "30 mm", "length": "40 cm"}
    rods = Heap(lots=[Lot.model_validate({**given, "pieces": pieces})])
    burn = Burn(burner="cone pit", diameter="1 m", depth="45 cm", firing="top-lit")
    told = flat(appraise(rods, burn, tables()))
    assert "Saw " not in told
    assert told.index("Lay 4 straight dry sticks aside") < told.index("the 4 straight dry sticks")


@pytest.mark.worked
def test_loads_that_take_longer_than_a_day_are_told_by_days() -> None:
    """Seven loads of 159 + 30 min are 22 h: two in the 8 h of a day, on four days. Four of 111 +
    30 min are 9.4 h: three would go in a day, so that two days have two each. Two of 150 + 30 min
    are one day's.
    """
    assert "All 7 loads: about 22 h, 2 a day on 4 days; in them 91 kg of thin fuel," in shown(
        "two_tonnes"
    )
    assert "2 a day on 2 days" in shown("load_lit_on_top")
    assert "Both loads: about 6 h; in them 17 kg of thin fuel" in shown("brush")
    # a pit that was just flooded has no dry ground
    assert "Between: char spread damp outside the ring; bail; lay 1 kg of dry sticks." in shown(
        "brush"
    )


@pytest.mark.worked
def test_a_last_load_that_is_smaller_is_told() -> None:
    """Of 228 lb that lie there (130, 20, and 40 pieces of slash) a load takes what its steps say:
    the rest is the last load, and needs less time.
    """
    result = of_minutes(95)
    plan = result.burn
    assert plan is not None
    assert plan.loads.mid == 2
    (finding,) = [f for f in plan.findings if f.code == "more-than-one-load"]
    pounds = 0.45359237
    full = sum(step.mass.mid_value for step in plan.feeding)
    slash = 40 * 3.141593 / 4 * (1.5 * 0.0254) ** 2 * 4 * 0.3048  # m3 of round wood in bark
    assert slash == pytest.approx(0.0556, abs=0.0001)
    rest = finding.values["last"].value
    # pine of 340 to 500 kg dry the m3, at 15 % wet
    assert 150 * pounds + 400 * slash <= full + rest <= 150 * pounds + 590 * slash
    assert plan.duration is not None
    assert 0 < finding.values["last_minutes"] < plan.duration.mid_value
    told = " ".join(page(result, "us").split())
    assert "the last one smaller" in told
    assert re.search(r"The last load is \d+ lb in all, \d+ minutes: the same steps", told)
    # with half an hour after each, though the smaller one makes its bed as long
    both = plan.duration.mid_value + finding.values["last_minutes"] + 60
    assert plan.hours is not None
    assert plan.hours.mid_value == pytest.approx(both / 60)
    assert all("The last load" not in shown(name) for name in NAMES if name != "us_units")


def of_minutes(minutes: int) -> Appraisal:
    """The heap in inches and pounds, in burns of so many minutes."""
    job = Job.read(HEAPS / "us_units.yaml")
    assert job.burn is not None
    burn = {**job.burn.model_dump(exclude_none=True), "duration": f"{minutes} min"}
    return appraise(job.heap, Burn.model_validate(burn), tables())


@pytest.mark.worked
def test_a_small_last_load_need_not_be_lit_for_itself() -> None:
    """In two hours 62 of 81 kg dry burn, and the rest is less than half as much; in 95 min 46 do,
    and it is more. A time that was given is that of a full load either way.
    """
    otherwise = "; or all loads alike and shorter."
    assert otherwise in shown("us_units", "us")
    assert otherwise not in " ".join(page(of_minutes(95), "us").split())


@pytest.mark.regression
def test_splitting_and_sawing_are_work_of_the_day_before() -> None:
    told = shown("us_units", "us")
    first, second = told.index(" 1. "), told.index(" 2. ")
    assert first < told.index("Saw before that day: pine slash, each in 3, to 1.3 ft;") < second
    split = shown("two_tonnes")
    assert split.index("Split before that day, for all loads: ash logs") < split.index(" 2. ")
    broken = shown("rotted_wood")
    assert broken.index("Break by hand: crumbling end") < broken.index(" 2. ")


@pytest.mark.regression
def test_what_is_brought_is_said_to_be_counted() -> None:
    for name in NAMES:
        plan = appraised(name).burn
        assert plan is not None
        brings = any(step.bring is not None for step in plan.feeding)
        assert ("Counted in time and water, not in char." in shown(name)) is brings


@pytest.mark.worked
def test_what_is_brought_is_quenched_too() -> None:
    """Straw and leaves, 65 kg dry, with 27 kg of sticks and 6 kg of twigs: all that is hot is 98
    over 65 of what the straw alone would be.
    """
    result = appraised("straw_and_leaves")
    hot, char = result.explain("burn.quench_water"), result.explain("burn.char_volume")
    by_name = {step.output: step.value for step in hot.steps}
    fuel = by_name["fuel"]
    assert result.burn is not None
    brought = sum(s.bring.mid_value for s in result.burn.feeding if s.bring is not None)
    assert by_name["hot_fuel"] == pytest.approx(fuel + brought, rel=0.01)
    assert "hot_fuel" not in {step.output for step in char.steps}


@pytest.mark.regression
def test_what_flies_has_a_wind_of_its_own() -> None:
    """Force 3 on land, 8 to 12 mph: leaves and small twigs in constant motion. 8 mph is 12.9
    km/h. Crumbs of rotten wood, which are strewn as well, are no heavier.
    """
    told = "for straw, leaves, shavings or crumbs below 12 km/h: leaves only rustle;"
    flies = ["bedding", "rotted_wood", "straw_and_leaves"]
    assert [n for n in NAMES if told in shown(n)] == flies
    # of two numbers a person at the pit reads the one that counts
    assert [n for n in NAMES if "below 20 km/h" not in shown(n)] == flies
    wide = [n for n in NAMES if "6 m bare all round" in shown(n)]
    assert set(flies) < set(wide)
    assert [n for n in NAMES if "3 m bare" not in shown(n)] == wide


@pytest.mark.regression
def test_holes_of_a_drum_are_shut() -> None:
    assert "Holes in its base: shut with foil and clay." in shown("drum")


@pytest.mark.property
@pytest.mark.parametrize("name", [n for n in NAMES if n not in ("drum", "shells")])
def test_thin_fuel_of_all_loads_is_the_sum_of_what_the_steps_say(name: str) -> None:
    found = appraised(name)
    plan = found.burn
    assert plan is not None
    if plan.loads.mid == 1:
        return
    quick = [_exactly(step.mass) for step in plan.feeding if step.part in ("light", "aside", "cap")]
    told = plan.loads.mid * sum(float(in_hand(mass).split()[1]) for mass in quick)
    sum_of_all = bare_in_hand(exact_estimate(told, "kg"))
    assert f"; in them {sum_of_all} of thin fuel" in shown(name)


def _exactly(mass: Estimate) -> Estimate:
    return exact_estimate(mass.mid_value, "kg")


@pytest.mark.worked
def test_an_amount_as_it_is_weighed_is_the_one_that_is_said() -> None:
    """To half a kilogram up to ten, to one up to a hundred; 8.9 lb are 9, 4.08 kg."""
    exact = Estimate(8.8, 8.9, 9.0, "kg")
    assert in_hand(exact) == "about 9 kg"
    assert as_weighed(exact) == pytest.approx(9.0)
    assert as_weighed(Estimate(23.0, 23.4, 23.8, "kg")) == pytest.approx(23.0)
    pound = 0.45359237
    light = Estimate(8.8 * pound, 8.9 * pound, 9.0 * pound, "kg")
    assert as_weighed(light, "us") == pytest.approx(9 * pound)


@pytest.mark.property
@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_what_is_brought_is_one_number(name: str, units: str) -> None:
    """What the head says to bring is the sum of what the steps say that you bring, above ten to a
    whole kilogram or pound.
    """
    told = shown(name, units)
    head, _, steps = told.partition(" 1. ")
    asked = re.findall(r"Bring (?:about )?([\d.]+) (?:kg|lb)", head)
    asked += re.findall(r"finger thick, and ([\d.]+) (?:kg|lb) of twigs", head)
    brought = re.findall(r"that you bring: about ([\d.]+) (?:kg|lb)(?! \(|[^;]{0,9} \()", steps)
    brought += re.findall(r"\(([\d.]+) (?:kg|lb) of it (?:thin )?wood", steps)
    assert abs(sum(map(float, asked)) - sum(map(float, brought))) <= 0.5 * (units == "us")


@pytest.mark.property
@pytest.mark.parametrize("name", NAMES)
def test_what_is_kept_back_is_sorted_out_before_the_fire(name: str) -> None:
    """In the numbers of the steps that use it, in the work of the day before."""
    plan = appraised(name).burn
    assert plan is not None
    told = shown(name)
    before = told.partition(" 1. ")[2].partition(" 2. ")[0]
    later = [step for step in plan.feeding if step.part in ("with", "aside", "cap")]
    later = [step for step in later if step.lots]
    keeps = re.search(r"(Sort by thickness( \(.*?\))?; keep|Keep) back", before)
    assert bool(keeps) is bool(later)
    for step in later:
        own = step.mass if step.bring is None else None
        assert own is None or f"{in_hand(_exactly(own))}, " in before


@pytest.mark.regression
def test_wood_of_no_known_length_is_sawn_where_it_is_too_long() -> None:
    """Half way from the floor to four fifths of the rim: 37 cm and 1.05 m make 0.6 m, 42 cm and 1.2
    m 0.69 m; of a trench of 2.6 m four fifths are 6.8 ft, told by the half foot.
    """
    assert "Saw what is longer than 7 ft." in shown("trench_of_storm_limbs", "us")
    assert "Saw what is longer than 0.6 m." in shown("limbs_in_a_cone_pit")
    # butts of 60 cm are counted with their length; tops and twigs are not
    assert "Saw what is longer than 0.7 m." in shown("thick_butts")
    assert "Saw what" not in shown("straw_and_leaves")


@pytest.mark.regression
def test_a_load_lit_on_top_has_its_stick_and_its_range() -> None:
    for name in ("load_lit_on_top", "drum"):
        told = shown(name)
        sticks = "first the 4 straight dry sticks, unsawn, upright along the wall, from the floor"
        assert sticks in told
        assert told.index("Lay 4 straight dry sticks aside, unsawn.") < told.index("Saw ")
        assert re.search(
            r"from minute \d+ on hook a stick out .* with a poker or a rake; usually by \d+ one is "
            r"black to its foot .*: quench\. Still yellow flame an hour before dusk: quench",
            told,
        )


@pytest.mark.worked
def test_how_a_lot_is_shared_out_among_steps_is_told() -> None:
    """Twigs light and finish by weight, what is left of them makes the bed, and what a bed still
    wants is split for it; of forty lots the bed takes the thinnest that is left, and the layers the
    rest. What is split for the bed lies apart, by how thick it is.
    """
    told = shown("us_units", "us")
    assert "the rest of twigs, then pine slash of 3/4 in: about 6.5 lb" in told
    assert "cherry limbs and pine slash: about" in told
    told = shown("forty_lots")
    assert "0 what is 8 mm thick: about 4.5 kg; loose" in told
    assert "0 to 8 the thinnest that is left, 8 to 14 mm: about 6 kg" in told
    assert "59 to 78 the rest of what is 14 to 22 mm thick: about 28 kg" in told
    assert "8 to 19 what is 66 mm thick:" in told


@pytest.mark.regression
def test_thin_wood_for_the_top_of_a_load_is_set_aside_first() -> None:
    """Whatever has no room in it, the load is lit on top."""
    for name, each in (("load_lit_on_top", ", for each load, twigs"), ("drum", " hazel rods")):
        told = shown(name)
        assert f"Sort by thickness; keep back{each}, about 2 kg, for the top." in told
        assert "Fill, from the floor up; what has no room waits, but never what is for" in told


@pytest.mark.regression
def test_what_is_fed_without_rest_for_long_is_fed_by_turns() -> None:
    """Straw for an hour and a half, a portion every other minute; a handful of wood is 0.3 kg, and
    24 kg in 46 portions are 0.52, nearly two of them.
    """
    told = shown("straw_and_leaves")
    assert "in 46 portions, one every 2 min, two people by turns" in told
    assert "2 handfuls of wood with each portion" in told
    # an hour of shavings one person feeds
    assert all("by turns" not in shown(name) for name in ("limbs_in_a_cone_pit", "bedding"))


@pytest.mark.regression
def test_char_that_no_balance_tells_is_no_handful() -> None:
    assert "1.6 of char (under 0.5 kg)" in shown("one_kilogram")


@pytest.mark.regression
def test_wood_that_is_raw_at_the_quench_has_a_place_to_go() -> None:
    """The last of the butts, split to 85 mm, have 40 min where they need 80."""
    told = "then quench. Wood inside of the last oak butts: dry it for the next fire"
    assert told in shown("thick_butts")
    # the bundles all have time enough
    assert "Wood inside" not in shown("forty_lots")


@pytest.mark.regression
def test_a_thickness_that_was_assumed_stands_where_it_is_sorted() -> None:
    """Brush and brash of which nobody told it are 15 mm; twigs are twigs."""
    assert "Sort by thickness (assumed: hedge brush 15 mm); keep back" in shown("brush")
    assert "(assumed: beech brash 15 mm)" in shown("trench_of_storm_limbs")
    assert "(assumed" not in shown("limbs_in_a_cone_pit")


@pytest.mark.regression
def test_where_nothing_burns_today_the_page_says_how_to_know_when_it_may() -> None:
    green = Lot(
        name="apple trunk",
        material="apple",
        pieces={"count": 3, "diameter": "35 cm", "length": "80 cm"},
        moisture={"condition": "green"},
        origin="own trees",
    )
    burn = Burn(burner="cone pit", diameter="1 m", depth="45 cm")
    told = " ".join(page(appraise(Heap(lots=[green]), burn, tables())).split())
    assert "Split it to 100 mm or thinner" in told
    assert "Dry when: split a piece and read a meter on the fresh face" in told


@pytest.mark.regression
def test_the_question_of_a_word_says_what_it_would_mean() -> None:
    told = shown("mixed_scrap")
    assert (
        "you wrote `scrap` in the name of the heap, not of a lot. If any of it is second hand, "
        "write `origin: second hand`." in told
    )
