"""The one page: its length, that nothing stands on it twice, and that nothing that must be seen is
left off.
"""

from __future__ import annotations

import re
from functools import cache

import pytest

from builders import EXAMPLES, heap, lot, tables
from feedstock import Appraisal, Burn, Heap, Job, Lot, Verdict, appraise
from feedstock.burn.burner import usual_burn
from feedstock.quantities.format import Units
from feedstock.text import page
from feedstock.words import Reader

pytestmark = pytest.mark.property

NAMES = ("orchard_prunings.csv", "shed_clearout.yaml", "storm_stand.yaml")
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
    job = Job.read(EXAMPLES / name)
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
@pytest.mark.parametrize("name", NAMES)
def test_an_example_fits_on_its_page(name: str, units: Units) -> None:
    shown = lines(example(name), units)
    count = len(example(name).lots)
    assert len(shown) <= 60 + max(0, count - 7)
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


@pytest.mark.parametrize("name", NAMES)
def test_no_sentence_stands_there_twice(name: str) -> None:
    shown = " ".join(" ".join(lines(example(name))).split())
    told = [part.strip() for part in re.split(r"(?<=[.:;])\s", shown)]
    long = [part for part in told if len(part.split()) >= 4]
    assert sorted(part for part in set(long) if long.count(part) > 1) == []


@pytest.mark.parametrize("name", NAMES)
def test_no_number_of_a_kind_stands_there_twice(name: str) -> None:
    """The char that goes in, the water to have ready, and the time of a load."""
    result, reader = example(name), Reader()
    plan = result.burn
    shown = " ".join(" ".join(lines(result)).split())
    assert plan is not None
    ready = result.by_verdict[Verdict.READY].char_volume
    for value, spec in ((ready, ""), (plan.have_ready, "at-least")):
        assert value is not None
        assert shown.count(reader.word(value, spec)) == 1


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
