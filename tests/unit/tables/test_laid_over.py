"""Sets laid over the reference as it is kept give what they give over its files: each row, place,
name, word and digest; and no file is read for it but theirs.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from alike import same_tables
from builders import EXAMPLES, lot, own_set, reference_set, tables
from feedstock import Burn, Heap, TableError, Tables, appraise, load_tables
from feedstock.tables.loading import layers
from feedstock.tables.loading.build import build
from feedstock.tables.loading.kept import kept_reference
from feedstock.tables.loading.over import Elsewhere, laid_over
from feedstock.tables.loading.raw import RawSet
from feedstock.tables.loading.reader import read_set
from feedstock.tables.loading.source import TableSource

pytestmark = pytest.mark.property

SAID = {"known": "judgement", "note": "for the test"}
DENSITY = {"value": "610 kg/m^3", "low": "500 kg/m^3", "high": "700 kg/m^3", **SAID}
FACTORS = {"below": {"value": 0.9, **SAID}, "above": {"value": 1.2, **SAID}}
BY_RULE = {"value": "610 kg/m^3", "ends": "rule tenth", **SAID}
BARE = {"meaning": "for the test", **SAID}

Change = dict[str, Any]


def row(name: str, **more: Any) -> Change:
    return {"names": {"en": [name]}, "like": "plum", "basic_density": DENSITY, **more}


NEW = own_set(
    sources={"slices": {"title": "Twelve slices of our own wood, dipped and dried"}},
    materials={
        "zelk": row("zelk wood", basic_density=BY_RULE),
        "zelk-hedge": {"like": "zelk"},
        "zelk-rods": row("zelk rods", like="hazel", form="brush"),
        "plum": row("plum of the lower field"),
    },
    methods={"tenth": {"kind": "interval-rule", **FACTORS, **SAID, "derivation": "for the test"}},
    signs={"zelk-mark": {"names": {"en": ["zelk mark"]}, **BARE}},
    origins={"zelk-yard": {"names": {"en": ["zelk yard"]}, **BARE}},
)
AMENDED = own_set(
    amend={
        "materials": {"hardwood": {"basic_density": DENSITY, "ash": None}},
        "burners": {"cone-pit": {"note": "measured twice"}},
        "methods": {"defaults": {"note": "read again"}},
    }
)
NAMED = own_set(
    amend={
        "materials": {"plum": {"names": {"en": {"add": ["zelk"]}}, "tightens": "true"}},
        "signs": {"painted": {"names": {"en": {"add": ["zelky"]}}}},
        "contaminants": {"paint": {"permits": "keep out", "tightens": "true"}},
    }
)
SECOND = own_set(
    "second",
    materials={"great-zelk": row("great zelk", like="mine:zelk"), "zelk": row("zelk wood")},
    amend={"materials": {"mine:zelk": {"ash": None, "note": "felled"}}},
)
SETS: dict[str, tuple[Any, ...]] = {
    "new rows": (NEW,),
    "changed rows": (AMENDED,),
    "changed names": (NAMED,),
    "one over the other": (NEW, SECOND),
    "the example": (EXAMPLES / "warm_climate_tables" / "warm_climate_tables",),
}


@pytest.fixture(scope="module")
def base() -> Tables:
    held = tables() and kept_reference()
    if held is None:
        pytest.skip("nothing can be kept in this checkout")
    return held


def read(given: Sequence[Any]) -> list[RawSet]:
    return [read_set(TableSource.of(each)) for each in given]


@pytest.mark.parametrize("name", SETS)
def test_all_is_as_over_the_files(name: str, base: Tables) -> None:
    sets = read(SETS[name])
    same_tables(laid_over(base, sets), build([reference_set(), *sets]))


def test_results_are_equal_to_the_byte(base: Tables) -> None:
    """Figures, findings and citations with the lines of both files."""
    sets = read((NEW,))
    heap = Heap(lots=[lot("zelk hedge"), lot("rotten oak")])
    burn = Burn(burner="cone pit", width="1 m", depth="0.5 m")
    told = []
    for held in (laid_over(base, sets), build([reference_set(), *sets])):
        result = appraise(heap, burn, held)
        why = result.explain("char_mass", tables=held).full()
        told.append((result.model_dump_json(), str(why)))
    assert told[0] == told[1]
    assert "tables/materials/hardwoods.yaml:" in told[0][1]


def test_no_file_is_read_but_theirs(
    base: Tables, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A set that is right does not ask the reference's files; one that is wrong does, so that the
    message tells the lines of both.
    """
    asked: list[str] = []

    def noted() -> RawSet:
        asked.append("the files")
        return reference_set()

    monkeypatch.setattr(layers, "whole_reference", noted)
    head = "set: {name: field-notes, version: '1', schema: 2}\nmaterials:\n  zelk: {like: "
    path = tmp_path / "notes.yaml"
    path.write_text(f"{head}plum}}\n")
    assert load_tables(path, plugins=False).find("materials", "zelk") == "field-notes:zelk"
    assert asked == []
    path.write_text(f"{head}no such tree}}\n")
    with pytest.raises(TableError, match="no such tree"):
        load_tables(path, plugins=False)
    assert asked == ["the files"]


FAR = {
    "classes anew": own_set(
        methods={"own": {"kind": "feed-classes", "of": {"liana": {}}, **SAID}},
    ),
    "a rule for ends": own_set(
        amend={"methods": {"scatter-between-trees": {"note": "for the test"}}},
    ),
    "a wrong row": own_set(materials={"zelk": {"like": "no such tree"}}),
    "a wrong name": own_set(materials={"zelk": {"like": "plum", "carries": ["no such thing"]}}),
}


@pytest.mark.parametrize("name", FAR)
def test_what_reaches_far_or_is_wrong_is_left_to_the_files(name: str, base: Tables) -> None:
    with pytest.raises(Elsewhere):
        laid_over(base, read((FAR[name],)))
