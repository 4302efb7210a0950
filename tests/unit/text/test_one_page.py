"""The one page: its length, that nothing stands on it twice, and that nothing that must be seen is
left off.
"""

from __future__ import annotations

import json
import math
import re
from functools import cache
from typing import Any

import pytest

from builders import EXAMPLES, ROOT, heap, lot, tables
from feedstock import Appraisal, Burn, Heap, InputError, Job, Lot, Verdict, appraise
from feedstock.burn.burner import usual_burn
from feedstock.quantities.format import Units
from feedstock.tables.rows.methods.amount import Containers
from feedstock.text import page, sheet
from feedstock.words import Reader

pytestmark = pytest.mark.property

NAMES = ("orchard_prunings.csv", "shed_clearout.yaml", "storm_stand.yaml")
HEAPS = ROOT / "tests" / "heaps"
KINDS = tuple(sorted(path.name for path in HEAPS.glob("*.yaml")))
UNITS: tuple[Units, ...] = ("metric", "us")
KETTLE = Burn(burner="kettle", diameter="90 cm", depth="40 cm")
# a lot of every verdict, each with a reason of its own
BAD = (
    ("pallet wood", {"origin": "pallet", "signs": ["no mark"]}),
    ("painted wood", {"origin": "building site", "signs": ["flaking paint"]}),
    ("treated timber", {"origin": "deck", "signs": ["green tint"]}),
    ("particleboard", {"origin": "furniture"}),
    ("railway sleeper", {"origin": "railway"}),
    ("plywood", {"origin": "workshop"}),
    ("driftwood", {"origin": "shore"}),
    ("wheat straw", {"origin": "unknown"}),
)


@cache
def example(name: str) -> Appraisal:
    job = Job.read((EXAMPLES if name in NAMES else HEAPS) / name)
    return appraise(job.heap, usual_burn(job.burn, tables())[0], tables())


def mixed(count: int) -> Heap:
    """So many lots, every second one good, the others bad in turn."""
    lots = []
    for number in range(count):
        if number % 2:
            material, more = BAD[number // 2 % len(BAD)]
            made = {"material": material, "mass": "9 kg", "moisture": "14 % wet", **more}
            lots.append(Lot.model_validate({"name": f"{material} no {number}", **made}))
        else:
            wet = "15 % wet" if number % 4 else "45 % wet"
            lots.append(lot("oak", name=f"oak no {number}", moisture=wet))
    return Heap(lots=tuple(lots))


def lines(result: Appraisal, units: Units = "metric") -> list[str]:
    return page(result, units).rstrip("\n").split("\n")


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("name", [*NAMES, *KINDS])
def test_an_example_fits_on_its_page(name: str, units: Units) -> None:
    shown = lines(example(name), units)
    count = len(example(name).lots)
    assert len(KINDS) == 18
    assert len(shown) <= (40 if count == 1 else min(90, 60 + max(0, count - 7)))
    assert max(map(len, shown)) <= 80


@pytest.mark.parametrize(
    ("count", "most"), [(1, 40), (2, 60), (7, 60), (8, 61), (12, 65), (25, 78), (40, 90)]
)
@pytest.mark.parametrize("burn", [None, KETTLE])
def test_the_page_of_so_many_lots(count: int, most: int, burn: Burn | None) -> None:
    assert len(lines(appraise(mixed(count), burn, tables()))) <= most


@pytest.mark.parametrize("count", [7, 25, 40])
def test_whatever_is_kept_out_or_to_be_checked_is_named(count: int) -> None:
    result = appraise(mixed(count), KETTLE, tables())
    shown = " ".join(" ".join(lines(result)).split())
    named = [found.name for found in result.lots if found.verdict >= Verdict.CHECK_FIRST]
    assert len(named) >= count // 2
    assert [name for name in named if name not in shown] == []


@pytest.mark.parametrize("name", [*NAMES, *KINDS])
def test_no_sentence_stands_there_twice(name: str) -> None:
    shown = " ".join(" ".join(lines(example(name))).split())
    told = [part.strip() for part in re.split(r"(?<=[.:;])\s", shown)]
    # two steps may take the same amount
    amounts = ("about ", "a handful, ")
    long = [part for part in told if len(part.split()) >= 4 and not part.startswith(amounts)]
    assert sorted(part for part in set(long) if long.count(part) > 1) == []


@pytest.mark.parametrize("name", [*NAMES, *KINDS])
def test_no_number_of_a_kind_stands_there_twice(name: str) -> None:
    """The char that goes in, the water to have ready, and the time of a load."""
    result, reader = example(name), Reader()
    plan = result.burn
    shown = " ".join(" ".join(lines(result)).split())
    assert plan is not None
    assert result.goes_in is not None
    ready = result.goes_in.char_volume
    for value, spec in ((ready, ""), (plan.have_ready, "at-least")):
        assert value is not None
        word = re.escape(reader.word(value, spec))
        assert len(re.findall(rf"(?<![\d.]){word}", shown)) == 1


def test_what_is_left_out_of_the_fire_counts_in_nothing_that_goes_in() -> None:
    """The stump is in no kilogram and no litre of it: they are those of the heap without it."""
    job = Job.read(HEAPS / "thick_butts.yaml")
    result = appraise(job.heap, job.burn, tables())
    rest = tuple(each for each in job.heap.lots if each.name != "oak stump")
    without = appraise(job.heap.model_copy(update={"lots": rest}), job.burn, tables())
    assert result.goes_in == without.by_verdict[Verdict.READY]
    assert result.goes_in is not None
    assert result.goes_in.lots == ("oak butts", "oak tops", "twigs")
    now, _, out = page(result).partition("Goes in now")[2].partition("Not in this fire")
    assert "stump" not in now
    assert "oak stump" in out
    assert "Clean and dry enough" not in page(result)
    assert appraise(job.heap, None, tables()).goes_in is None


def test_many_lots_are_told_as_what_they_are_at_the_pit() -> None:
    """Forty names are not read at a fire: they are all the lots, and in every step those so thick,
    for nobody tells bundle 17 from bundle 18 once they lie sorted.
    """
    job = Job.read(HEAPS / "forty_lots.yaml")
    shown = " ".join(page(appraise(job.heap, job.burn, tables())).split())
    now = shown.partition("Goes in now ")[2]
    assert now.startswith("all 40 lots: about ")
    assert "what is 30 to 55 mm thick: about 60 kg" in shown
    assert "what is 66 mm thick: about 16 kg" in shown
    assert "keep back, for each load, what is 8 mm thick, about 5.5 kg, for the end" in shown
    assert "bundle" not in shown
    wet = job.heap.lots[21].model_copy(update={"moisture": lot(moisture="45 % wet").moisture})
    lots = (*job.heap.lots[:21], wet, *job.heap.lots[22:])
    some = job.heap.model_copy(update={"lots": lots})
    shown = " ".join(page(appraise(some, job.burn, tables())).split())
    assert "39 lots, all but those that are named below: about" in shown
    assert "bundle 22 (45 % wet" in shown


def test_a_lot_that_is_wet_and_to_be_checked_says_both() -> None:
    wet = Lot(
        name="pallet",
        material="pallet wood",
        mass="12 kg",
        moisture="45 % wet",
        origin="pallet",
        signs=["no mark"],
    )
    shown = " ".join(page(appraise(heap(wet), KETTLE, tables())).split())
    assert "wheat-ear stamp" in shown
    assert "pallet (unproven pallet; 45 % wet, dry it too): " in shown


def test_a_heap_without_measures_is_planned_for_the_usual_size() -> None:
    burn, note = usual_burn(Burn(burner="kettle"), tables())
    assert burn is not None
    assert note is not None
    result = appraise(heap(), burn, tables()).noting(note)
    shown = " ".join(page(result, "us").split())
    assert "planned for a usual kettle" in shown
    assert " m " not in shown


def test_the_whole_screen_is_a_word_away() -> None:
    result = example("storm_stand.yaml")
    whole = page(result, full=True)
    assert len(whole.split("\n")) > 4 * len(page(result).split("\n"))
    assert "Sources" in whole
    assert "Sources" not in page(result)


# --- what a person at the pit reads ---------------------------------------------------------------


def told(result: Appraisal, **more: Any) -> str:
    return " ".join(page(result, **more).split())


@pytest.mark.parametrize("name", [*NAMES, *KINDS])
def test_no_amount_of_fuel_has_more_digits_than_a_hand(name: str) -> None:
    """Half a kilogram below ten, a whole one below fifty; nothing is weighed finer at a fire."""
    shown = told(example(name))
    for number in re.findall(r"([\d.]+) kg", shown):
        value = float(number)
        assert value % 0.5 == 0, number
        assert value < 10 or value % 1 == 0, number


@pytest.mark.parametrize("name", [*NAMES, *KINDS])
def test_every_step_of_the_feeding_says_what_goes_in(name: str) -> None:
    shown = page(example(name))
    feeding = shown.partition(" 5. ")[2].partition(" 6. ")[0]
    assert feeding
    for line in feeding.split("\n")[1:]:
        assert not re.match(r"\s+(\d+( to \d+)?)?\s*:", line), line
    assert "1 weeks" not in shown


def test_water_is_told_once_a_load_and_once_for_all() -> None:
    many = told(example("two_tonnes.yaml"))
    assert many.count("Water beside the fire for each load:") == 1
    assert many.count("of water used (more is ready)") == 1
    one = told(example("barbecue_with_sides.yaml"))
    assert one.count("Water beside the fire:") == 1
    assert "for each load" not in one
    hosed = told(example("us_units.yaml"))
    assert "The hose laid, open and tried; beside the fire 20 litres in cans, should it" in hosed
    assert "the last one smaller" in hosed


def test_a_moisture_that_was_not_measured_says_so() -> None:
    guessed = told(example("green_wood.yaml"))
    assert "not measured, taken as 43 % wet" in guessed
    wet = appraise(heap(lot("oak", moisture="45 % wet")), KETTLE, tables())
    assert "45 % wet" in told(wet)
    assert "not measured" not in told(wet)
    silent = Lot(material="oak", mass="40 kg", origin="own trees", name="oak")
    assert "not measured" in told(appraise(heap(silent), KETTLE, tables()))


def test_cautions_are_of_what_is_burnt() -> None:
    """Straw is dusty; held back, it is not in this fire."""
    dusty = "Dusty: mask"
    straw = {"material": "wheat straw", "mass": "9 kg", "moisture": "14 % wet", "name": "straw"}
    clean = Lot.model_validate({**straw, "origin": "farm", "signs": ["not sprayed two seasons"]})
    held = Lot.model_validate({**straw, "origin": "unknown"})
    limbs = lot("oak", name="limbs", moisture="14 % wet", mass="40 kg")
    assert dusty in told(appraise(heap(limbs, clean), KETTLE, tables()))
    assert dusty not in told(appraise(heap(limbs, held), KETTLE, tables()))


@pytest.mark.parametrize(
    ("burner", "ways", "none"),
    [
        ("pit", ["Wet, turn", "damp soil"], ["airtight lid", "closed vessel", "short bursts"]),
        ("kettle", ["Wet, turn", "an airtight lid or damp soil"], ["short bursts"]),
        ("barbecue", ["short bursts", "an airtight lid"], ["damp soil"]),
        (
            "retort",
            ["Put it out under an airtight lid", "closed vessel"],
            ["Wet, turn", "damp soil"],
        ),
    ],
)
def test_it_is_put_out_as_its_vessel_is(burner: str, ways: list[str], none: list[str]) -> None:
    """By the ways of the burner's row, the best first."""
    measures = {"diameter": "60 cm", "depth": "30 cm"}
    if burner == "retort":
        measures = {"volume": "200 L", "vessel": "built for it"}
    burn = Burn.model_validate({"burner": burner, **measures})
    shown = told(appraise(heap(lot("oak", moisture="14 % wet")), burn, tables()))
    assert [way for way in ways if way not in shown] == []
    assert [way for way in none if way in shown] == []


def test_litres_come_in_the_readers_own_buckets_and_barrows() -> None:
    result = example("storm_stand.yaml")
    assert result.burn is not None
    assert result.burn.have_ready is not None
    buckets = math.ceil(result.burn.have_ready.high_value / 10)
    shown = told(result, bucket="10 L", barrow="80 L")
    assert f"litres ({buckets} buckets)" in shown
    assert re.search(r"likely about \d+ \(\d+ barrows\) of char", shown)
    assert re.search(r"L \(\d+ buckets\) of water", shown)
    assert "bucket" not in told(result)
    # limbs of which some are split for the bed
    assert "oak limbs of 22 mm: about 10 kg in 3 armfuls" in shown
    assert "buckets" in told(result, units="us", bucket="3 gal")
    with pytest.raises(InputError, match="no unit"):
        page(result, bucket="10")
    with pytest.raises(InputError, match="holds nothing"):
        page(result, bucket="0 L")
    assert len(page(result, bucket="10 L", barrow="80 L").split("\n")) <= 62


def test_no_name_of_a_lot_breaks_out_of_page_sheet_or_json() -> None:
    """Signs that move a screen are refused at the door; all else is text wherever it is shown."""
    name = "<script>alert(\"1\")</script> & 'x' \N{GRINNING FACE} " + "A" * 140
    bad = Lot.model_validate(
        {
            "name": name,
            "material": "oak",
            "mass": "40 kg",
            "moisture": "15 % wet",
            "origin": "own trees",
            "remarks": "\N{LATIN SMALL LETTER E WITH ACUTE}" * 1000,
        }
    )
    result = appraise(Heap(name=name, lots=(bad,)), KETTLE, tables())
    assert max(map(len, page(result).split("\n"))) <= 80
    printed = sheet(result)
    assert "<script" not in printed
    assert "&lt;script&gt;" in printed
    assert json.loads(json.dumps(result.model_dump(mode="json")))["inputs"]["heap"]["name"] == name
    assert Appraisal.model_validate_json(result.model_dump_json()) == result


def test_what_a_container_was_taken_to_hold_is_told_once() -> None:
    """In the units of the reader, with its interval: nobody knows by its name how large it is."""
    barrows = [
        Lot.model_validate(
            {
                "name": name,
                "material": "oak",
                "containers": {"count": count, "of": "barrow"},
                "moisture": "18 % wet",
                "origin": "own trees",
            }
        )
        for name, count in (("limbs", 3), ("poles", 5))
    ]
    result = appraise(Heap(lots=tuple(barrows)), tables=tables())
    cell = tables().method("containers", Containers)[1].of["wheelbarrow"].volume
    for units, factor, unit in (("metric", 1000.0, "litres"), ("us", 264.172, "US gal")):
        told = re.findall(
            r"a wheelbarrow holds ([\d.]+) to ([\d.]+) (litres|US gal)", flat(result, units)
        )
        assert len(told) == 1
        low, high, said = told[0]
        assert said == unit
        assert float(low) == pytest.approx(factor * cell.low, rel=0.05)
        assert float(high) == pytest.approx(factor * cell.high, rel=0.05)


def flat(result: Appraisal, units: Any) -> str:
    return " ".join(page(result, units=units).split())
