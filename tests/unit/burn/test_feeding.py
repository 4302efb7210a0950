"""What goes in from when to when: at the pace of the fire, thick before thin, split where it must
be, the same share of every lot in every load.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from builders import heap, lot, plan
from feedstock import Heap, Lot, load_tables
from feedstock.model.burn_plan import BurnPlan, FeedingStep
from feedstock.tables.rows.methods.fire import BurningRate
from strategies import examples

CLASSES = ("thin", "finger", "wrist", "thick")
RATE = load_tables(plugins=False).method("burning-rate", BurningRate)[1].rate

BURNS = st.sampled_from(
    [
        {"burner": "cone pit", "diameter": "1.1 m", "depth": "50 cm"},
        {"burner": "cone pit", "diameter": "70 cm", "depth": "35 cm", "shape": "bowl"},
        {"burner": "trench", "width": "60 cm", "length": "2.2 m", "depth": "40 cm"},
        {"burner": "kettle", "diameter": "80 cm", "depth": "35 cm", "duration": "50 min"},
        {"burner": "pit", "width": "1.3 m", "depth": "60 cm", "duration": "3 h"},
        {"burner": "cone pit", "diameter": "90 cm", "depth": "45 cm", "hose": "12 L/min"},
    ]
)
RIMS = {"1.1 m": 0.9503, "70 cm": 0.3848, "60 cm": 1.32, "80 cm": 0.5027, "1.3 m": 1.69}
RIMS["90 cm"] = 0.6362
LOTS = st.lists(
    st.tuples(
        st.sampled_from(["oak", "pine", "spruce", "hazel", "wheat straw", "walnut shell"]),
        st.floats(2, 160),
        st.floats(0.5, 300),
    ),
    min_size=1,
    max_size=6,
)


def made(lots: list[tuple[str, float, float]]) -> Heap:
    """Dry clean lots of these materials, thicknesses in mm and masses in kg."""
    return Heap(
        lots=[
            Lot(
                material=material,
                name=f"lot {number}",
                mass=f"{mass} kg",
                thickness=f"{thickness} mm" if material not in LOOSE else None,
                moisture="12 % wet",
                origin="farm",
                signs=["not sprayed two seasons"],
                soil="0 %",
            )
            for number, (material, thickness, mass) in enumerate(lots)
        ]
    )


LOOSE = ("wheat straw", "walnut shell")


def mid(step: FeedingStep) -> tuple[float, float, float]:
    """Begin and end in minutes, and kg from the heap."""
    brought = step.bring.mid_value if step.bring is not None else 0.0
    return step.begin.mid_value, step.end.mid_value, step.mass.mid_value - brought


def rim_of(burn: dict[str, str]) -> float:
    return RIMS[burn.get("diameter") or burn["width"]]


@pytest.mark.property
@examples(0.4)
@given(LOTS, BURNS)
def test_nothing_is_fed_faster_than_the_fire_eats(
    lots: list[tuple[str, float, float]], burn: dict[str, str]
) -> None:
    burn_plan = plan(made(lots), **burn)
    if burn_plan.refused:
        return
    # dry kg a minute: 12 % of what lies there is water, and the rate's high end
    high = RATE.high * 60 * rim_of(burn)
    assert burn_plan.duration is not None
    minute = 0.0
    while minute <= burn_plan.duration.mid_value:
        fed = sum(_by(step, minute) for step in burn_plan.feeding[1:])
        # the stack that is laid before lighting excepted
        assert fed <= high * minute * (1 + 1e-6) + 1e-9
        minute += 1.0
    # and at its middle pace over all: lighting fuel, bed and main are no more than the time
    last = [step for step in burn_plan.feeding if step.part in ("bed", "main", "loose")]
    if last:
        fed = 0.88 * sum(mid(step)[2] for step in burn_plan.feeding if step.part != "aside")
        pace = RATE.mid * 60 * rim_of(burn)
        assert fed <= pace * last[-1].end.mid_value * (1 + 1e-6)


def _by(step: FeedingStep, minute: float) -> float:
    """Dry kg until then, with what is brought."""
    begin, end, mass = mid(step)
    mass = 0.88 * mass + (step.bring.mid_value if step.bring is not None else 0.0)
    if minute >= end:
        return mass
    return mass * (minute - begin) / (end - begin) if minute > begin else 0.0


@pytest.mark.property
@examples(0.4)
@given(LOTS, BURNS)
# thin wood after thick in a burn of a stated time: the load settles slowly
@example(
    [("oak", 2.0, 1.0), ("oak", 2.0, 1.0), ("oak", 2.0, 14.0), ("oak", 48.0, 3.0)],
    {"burner": "kettle", "diameter": "80 cm", "depth": "35 cm", "duration": "50 min"},
)
# a crumb of the bed that is thick for it
@example(
    [("oak", 2.0, 1.0), ("oak", 2.0, 43.0), ("oak", 26.0, 79.0), ("wheat straw", 2.0, 285.0)],
    {"burner": "trench", "width": "60 cm", "length": "2.2 m", "depth": "40 cm"},
)
def test_steps_follow_each_other_and_portions_are_what_is_fed(
    lots: list[tuple[str, float, float]], burn: dict[str, str]
) -> None:
    what = made(lots)
    burn_plan = plan(what, **burn)
    if burn_plan.refused:
        return
    order = ["light", "bed", "main", "loose", "aside"]
    in_turn = [step for step in burn_plan.feeding if step.part != "with"]
    parts = [order.index(step.part) for step in in_turn]
    assert parts == sorted(parts)
    assert burn_plan.feeding[0].part == "light"
    for before, after in pairwise(in_turn):
        assert after.begin.mid_value == pytest.approx(before.end.mid_value)
    _wood_goes_with_what_it_carries(burn_plan)
    assert burn_plan.duration is not None
    assert burn_plan.feeding[-1].end.mid_value <= burn_plan.duration.mid_value * (1 + 1e-9)
    for step in burn_plan.feeding:
        times = 1.0
        if step.every is not None:
            times = (step.end.mid_value - step.begin.mid_value) / step.every.mid_value
            assert times == pytest.approx(round(times))
        assert step.portion.mid_value * times == pytest.approx(step.mass.mid_value)
        assert str(step.cue)
    # thick never after thin on an established bed
    main = [CLASSES.index(step.thickness) for step in burn_plan.feeding if step.part == "main"]
    assert main == sorted(main, reverse=True)
    # one load takes the same share of every lot that is not left out
    kept = sum(mass for n, (_, _, mass) in enumerate(lots) if f"lot {n}" not in burn_plan.left_out)
    fed = sum(mid(step)[2] for step in burn_plan.feeding)
    assert fed <= kept * (1 + 1e-9)
    if "duration" not in burn:
        assert fed == pytest.approx(kept / burn_plan.loads.mid, rel=1e-6)
    else:
        assert burn_plan.loads.mid == 1 or fed >= kept / burn_plan.loads.mid * (1 - 1e-6)


def _wood_goes_with_what_it_carries(found: BurnPlan) -> None:
    """From the minutes of the step before it on, and no longer than what it carries."""
    for before, step in pairwise(found.feeding):
        if step.part != "with":
            continue
        assert before.begin.mid_value <= step.begin.mid_value * (1 + 1e-9)
        assert step.begin.mid_value <= before.end.mid_value
        assert set(step.lots) <= {f"lot {n}" for n in range(6)}
        carried = [other for other in found.feeding if other.part in ("main", "loose")]
        assert step.end.mid_value <= max(o.end.mid_value for o in carried) * (1 + 1e-9)


@pytest.mark.property
@examples(0.4)
@given(LOTS, BURNS)
def test_what_does_not_get_through_is_split_or_left_out(
    lots: list[tuple[str, float, float]], burn: dict[str, str]
) -> None:
    burn_plan = plan(made(lots), **burn)
    split = {each.lot: each for each in burn_plan.split if each.why == "through"}
    for each in split.values():
        assert each.into in (2, 4, 8, 16)
        assert each.thickness.mid_value >= 25 * (1 - 1e-6)
    assert not set(split) & set(burn_plan.left_out)
    if burn_plan.refused:
        assert burn_plan.left_out
        return
    assert burn_plan.uncharred_fraction is not None
    # brands of every burner here are 5 % of the charge
    assert burn_plan.uncharred_fraction.mid_value <= 5 * (1 + 1e-6)
    fed = {name for step in burn_plan.feeding for name in step.lots}
    assert fed == {f"lot {n}" for n in range(len(lots))} - set(burn_plan.left_out)
    width = {"1.1 m": 1100, "70 cm": 700, "60 cm": 600, "80 cm": 800, "1.3 m": 1300, "90 cm": 900}
    most = min(100.0, width[burn.get("diameter") or burn["width"]] / 10)
    for step in burn_plan.feeding:
        assert step.thickest is None or step.thickest.mid_value <= most * (1 + 1e-6)


@pytest.mark.property
@examples(0.2)
@given(LOTS, BURNS, st.randoms(use_true_random=False))
def test_order_and_units_change_nothing(
    lots: list[tuple[str, float, float]], burn: dict[str, str], random: Any
) -> None:
    # whole millimetres and grams, so that inches and pounds can be written without rounding
    lots = [(m, float(round(t)), round(k, 1)) for m, t, k in lots]
    what = made(lots)
    shuffled = list(what.lots)
    random.shuffle(shuffled)
    same(plan(what, **burn), plan(Heap(lots=shuffled), **burn))
    us = [
        each.model_copy(
            update={
                "mass": Lot(material="oak", mass=f"{each.mass.mid / 0.45359237!r} lb").mass,
                "thickness": each.thickness
                and Lot(
                    material="oak", mass="1 kg", thickness=f"{each.thickness.mid / 0.0254!r} in"
                ).thickness,
            }
        )
        for each in what.lots
        if each.mass is not None
    ]
    same(plan(what, **burn), plan(Heap(lots=us), **burn))


def same(one: BurnPlan, other: BurnPlan) -> None:
    assert one.loads == other.loads
    assert set(one.left_out) == set(other.left_out)
    assert {(s.lot, s.into, s.why) for s in one.split} == {
        (s.lot, s.into, s.why) for s in other.split
    }
    assert [(s.part, s.thickness, s.lots) for s in one.feeding] == [
        (s.part, s.thickness, s.lots) for s in other.feeding
    ]
    for a, b in zip(one.feeding, other.feeding, strict=True):
        assert mid(a) == pytest.approx(mid(b), rel=1e-6, abs=1e-6)


# --- by hand


@pytest.mark.worked
def test_a_load_by_hand() -> None:
    """A cone pit of 1 m: rim 0.7854 m2, pace 0.95 x 0.7854 = 0.7461 kg dry a minute. 60 kg of limbs
    of 40 mm at 12 % wet and 20 kg of twigs hold 52.8 and 17.6 kg dry.

    Quick fuel 6.5 min = 4.850 kg, of twigs. Bed 8 min at half pace = 2.984 kg, of twigs, the finest
    of the rest. Main: 52.8 kg limbs in 70.77 min, then 17.6 - 4.850 - 2.984 = 9.766 kg twigs in
    13.09 min. Twigs laid last take 5 min, but the last limbs more than the 18.09 min since they
    were laid: pieces of 40 mm of ash need 26 to 30 min, 13.09 of which the twigs are fed. In all
    8 + 70.77 + 28 = 106.8 min.
    """
    some = heap(
        lot("ash wood", "60 kg", "40 mm", "12 % wet", name="limbs", soil="0 %"),
        lot("hazel", "20 kg", "8 mm", "12 % wet", name="twigs", soil="0 %"),
    )
    burn_plan = plan(some, burner="cone pit", diameter="1 m", depth="60 cm", shape="bowl")
    assert burn_plan.loads.mid == 1
    assert not burn_plan.split
    assert [(step.part, step.thickness, step.lots) for step in burn_plan.feeding] == [
        ("light", "thin", ("twigs",)),
        ("bed", "thin", ("twigs",)),
        ("main", "wrist", ("limbs",)),
        ("main", "thin", ("twigs",)),
        ("aside", "thin", ("twigs",)),
    ]
    limbs_need = dict(burn_plan.char_through)["limbs"].mid_value
    assert 26 <= limbs_need <= 30
    assert [step.end.mid_value for step in burn_plan.feeding] == pytest.approx(
        [0, 8, 78.77, 91.86, 78.77 + limbs_need], abs=0.02
    )
    dry = [0.88 * step.mass.mid_value for step in burn_plan.feeding]
    assert dry == pytest.approx([2.238, 2.984, 52.8, 9.766, 2.611], abs=0.002)
    assert burn_plan.duration is not None
    assert burn_plan.duration.mid_value == pytest.approx(78.77 + limbs_need, abs=0.02)
    # fifteen armfuls of limbs, about every five minutes
    limbs = burn_plan.feeding[2]
    assert limbs.every is not None
    assert limbs.every.mid_value == pytest.approx(70.77 / 15, abs=0.01)
    assert limbs.portion.mid_value == pytest.approx(60 / 15, abs=0.01)
