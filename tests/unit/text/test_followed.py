"""What a person is told before and between the fires, of heaps of every kind."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from builders import tables
from feedstock import Job, appraise
from feedstock.model.appraisal import Appraisal
from feedstock.quantities.estimate import Estimate, exact_estimate
from feedstock.quantities.format import as_weighed, bare_in_hand, in_hand
from feedstock.text import page

HEAPS = Path(__file__).parents[2] / "heaps"
NAMES = sorted(path.stem for path in HEAPS.glob("*.yaml"))


@cache
def appraised(name: str) -> Appraisal:
    job = Job.read(HEAPS / f"{name}.yaml")
    return appraise(job.heap, job.burn, tables())


def shown(name: str, units: str = "metric") -> str:
    return " ".join(page(appraised(name), "us" if units == "us" else "metric").split())


@pytest.mark.worked
def test_loads_that_take_longer_than_a_day_are_told_by_days() -> None:
    """Seven loads of 159 + 30 min are 22 h: two in the 8 h of a day, on four days. Four of 111 +
    30 min are 9.4 h: three would go in a day, so that two days have two each. Two of 150 + 30 min
    are one day's.
    """
    assert "All 7 loads: about 22 h, 2 a day on 4 days; between them empty it" in shown(
        "two_tonnes"
    )
    assert "2 a day on 2 days" in shown("load_lit_on_top")
    assert "Both loads: about 6 h; between them empty it, drain it, light on dry ground" in shown(
        "brush"
    )


@pytest.mark.worked
def test_a_last_load_that_is_smaller_is_told() -> None:
    """Of 228 lb that lie there (130, 20, and 40 pieces of slash) a load takes what its steps say:
    the rest is the last load, and needs less time.
    """
    plan = appraised("us_units").burn
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
    assert re.search(
        r"The last load is \d+ lb in all, \d+ minutes: the same steps", shown("us_units", "us")
    )
    # 120 and 51 min with half an hour after each are 231 min
    assert "Both loads: about 3.9 h" in shown("us_units", "us")
    assert all("The last load" not in shown(name) for name in NAMES if name != "us_units")


@pytest.mark.regression
def test_splitting_and_sawing_are_work_of_the_day_before() -> None:
    told = shown("us_units", "us")
    first, second = told.index(" 1. "), told.index(" 2. ")
    assert first < told.index("Saw before that day: pine slash, each in 2, to 2 ft.") < second
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
        assert ("Minutes and water count it, the char above does not." in shown(name)) is brings


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
    km/h.
    """
    told = "Straw, leaves, shavings: below 12 km/h, leaves only rustle."
    assert [n for n in NAMES if told in shown(n)] == ["bedding", "straw_and_leaves"]


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
    assert f"lighting and finishing {sum_of_all} of thin fuel" in shown(name)


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
