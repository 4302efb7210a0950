"""Numbers that were judged stand in the tables with a note, and a set that changes one is heard."""

from __future__ import annotations

from typing import Any

import pytest

from feedstock import Burn, Heap, InputError, Lot, appraise, load_tables
from feedstock.quantities.cell import Cell

pytestmark = pytest.mark.regression

TABLES = load_tables(plugins=False)
BURN = Burn(burner="cone pit", width="1 m", depth="0.5 m")
PLACES = {
    "usual-instruments": ["wettest", "wettest_end", "driest_part", "soil_temperature"],
    "wood-and-water": ["leeway"],
    "char-through": ["density"],
    "small-burn": [
        "bed",
        "bed_pace",
        "burn_down_least",
        "burn_down_most",
        "tended",
        "turn",
        "thickest",
        "thickest_share",
        "thinnest_split",
        "main_least",
        "wood_least",
        "hosed",
        "stretched",
    ],
}


def amended(method: str, field: str, value: str) -> Any:
    cell = {"value": value, "known": "judgement", "note": "for the test"}
    return load_tables(
        {
            "set": {"name": "own", "version": "1", "schema": 1},
            "amend": {"methods": {method: {field: cell}}},
        },
        plugins=False,
    )


@pytest.mark.parametrize(
    ("row", "field"), [(row, field) for row, fields in PLACES.items() for field in fields]
)
def test_a_judgement_says_so_and_why(row: str, field: str) -> None:
    cell = TABLES.cell("methods", f"reference:{row}", (field,))
    assert isinstance(cell, Cell)
    assert cell.known == "judgement"
    assert len(cell.note) > 20


def heap(**words: Any) -> Heap:
    return Heap(lots=[Lot(**{"material": "oak", "mass": "20 kg", "origin": "own trees", **words})])


def test_the_wettest_moisture_that_is_believed() -> None:
    leaves = heap(material="leaves", moisture="88 % wet")
    appraise(leaves, tables=TABLES)
    with pytest.raises(InputError, match="below 85 % wet"):
        appraise(leaves, tables=amended("usual-instruments", "wettest", "85 %"))


def test_the_ends_of_a_reading() -> None:
    # read as 1 % by something that is 4 points out: never below a fifth of it, 0.2 %; of 92 %
    # with 15 points never above 97 %
    (dry,) = appraise(heap(moisture="1 % wet"), tables=TABLES).lots
    assert dry.moisture.low_value == pytest.approx(0.2)
    (wet,) = appraise(heap(material="leaves", moisture="92 % wet"), tables=TABLES).lots
    assert wet.moisture.high_value == pytest.approx(97)
    half = amended("usual-instruments", "driest_part", "50 %")
    (dry,) = appraise(heap(moisture="1 % wet"), tables=half).lots
    assert dry.moisture.low_value == pytest.approx(0.5)


def test_more_water_than_wood_can_hold() -> None:
    # oak of 500 kg/m3 at the lightest: 1/0.5 - 1/1.54 = 1.351 dry; 10 % above it is let through
    appraise(heap(moisture="145 % dry"), tables=TABLES)
    with pytest.raises(InputError, match="can hold"):
        appraise(heap(moisture="150 % dry"), tables=TABLES)
    with pytest.raises(InputError, match="can hold"):
        appraise(heap(moisture="145 % dry"), tables=amended("wood-and-water", "leeway", "1 %"))


def test_a_caution_belongs_to_a_part_of_the_work() -> None:
    result = appraise(heap(moisture="15 % wet"), BURN, TABLES)
    stages = [caution.stage for caution in result.cautions]
    order = ["before", "burning", "quench", "after"]
    assert set(stages) == set(order)
    assert stages == sorted(stages, key=order.index)
    assert result.burn is not None
    assert {caution.stage for caution in result.burn.cautions} == {"before", "burning", "quench"}
