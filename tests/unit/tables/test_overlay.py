"""Sets laid over each other: what may be added, what must be said, and that every conflict names
both places.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from builders import own_set
from feedstock import Heap, Lot, TableError, appraise, load_tables
from feedstock.errors import UnknownName
from feedstock.tables.loading.build import build
from feedstock.tables.loading.discover import GROUP
from feedstock.tables.loading.reader import read_set
from feedstock.tables.loading.source import TableSource, reference_source
from feedstock.tables.rows.contaminant import Contaminant
from feedstock.tables.rows.methods.fire import BurningRate

pytestmark = pytest.mark.property

WOOD = {
    "value": "620 kg/m^3",
    "low": "560 kg/m^3",
    "high": "690 kg/m^3",
    "known": "judgement",
    "note": "for the test",
}


def codes(why: pytest.ExceptionInfo[TableError]) -> set[str]:
    return {problem.code for problem in why.value.problems}


def test_rows_are_added_freely_and_inherit() -> None:
    tables = load_tables(
        own_set(
            materials={
                "feijoa-hedge": {
                    "names": {"en": ["feijoa hedge"]},
                    "like": "hardwood",
                    "basic_density": WOOD,
                }
            }
        ),
        plugins=False,
    )
    lot = appraise(
        Heap(
            lots=[
                Lot(material="Feijoa hedges", mass="10 kg", moisture="15 % wet", origin="own trees")
            ]
        ),
        tables=tables,
    ).lots[0]
    assert lot.row == "mine:feijoa-hedge"
    assert lot.density is not None
    assert lot.density.mid_value == pytest.approx(620)
    told = tables.provenance("feijoa hedge", "ash")
    assert (told.set, told.inherited_from) == ("reference", "reference:hardwood")
    assert tables.provenance("feijoa hedge", "basic_density").set == "mine"


def test_a_key_of_another_set_stays_its_own() -> None:
    row = {"names": {"en": ["feijoa"]}, "like": "oak", "basic_density": WOOD}
    tables = load_tables(own_set(materials={"oak": row}), plugins=False)
    assert tables.find("materials", "oak") == "reference:oak"
    assert tables.find("materials", "oaks") == "reference:oak"
    assert tables.find("materials", "mine:oak") == "mine:oak"
    assert tables.find("materials", "feijoa") == "mine:oak"
    assert tables.provenance("mine:oak", "ash").set == "reference"


def test_the_same_word_in_two_sets_is_only_wrong_when_the_bare_word_is_used() -> None:
    row = {"names": {"en": ["feijoa"]}, "like": "hardwood", "basic_density": WOOD}
    one = own_set("one", materials={"feijoa": row, "feijoa-hedge": {"like": "feijoa"}})
    other = own_set("other", materials={"pineapple-guava": row})
    tables = load_tables(one, other, plugins=False)
    for word in ("feijoa", "feijoas"):
        with pytest.raises(UnknownName) as why:
            tables.find("materials", word)
        assert "one:feijoa" in str(why.value)
        assert "other:pineapple-guava" in str(why.value)
    assert tables.find("materials", "other:pineapple-guava") == "other:pineapple-guava"
    # what a set calls its own stays its own
    assert tables.provenance("one:feijoa-hedge", "basic_density").inherited_from == "one:feijoa"


def test_amend_changes_fields_and_lists() -> None:
    tables = load_tables(
        own_set(
            amend={
                "materials": {
                    "reference:oak": {"basic_density": WOOD, "traits": {"add": ["sparks"]}}
                }
            }
        ),
        plugins=False,
    )
    oak = tables.material("reference:oak")
    assert oak.basic_density is not None
    assert oak.basic_density.mid == 620
    assert "sparks" in oak.traits
    assert tables.provenance("reference:oak", "basic_density").set == "mine"
    assert tables.provenance("reference:oak", "lignin").set == "reference"


def test_like_is_resolved_after_all_changes() -> None:
    changed = {
        "value": "30 %",
        "low": "25 %",
        "high": "35 %",
        "known": "judgement",
        "note": "for the test",
    }
    tables = load_tables(
        own_set(amend={"materials": {"hardwood": {"lignin": changed}}}), plugins=False
    )
    hazel = tables.material("reference:hazel")
    assert hazel.lignin is not None
    assert hazel.lignin.mid == pytest.approx(0.30)


def test_a_hypothesis_that_is_carried_is_never_dropped_by_inheritance() -> None:
    tables = load_tables(
        own_set(
            materials={
                "my-panel": {
                    "names": {"en": ["my panel"]},
                    "like": "plywood",
                    "carries": ["coating"],
                }
            }
        ),
        plugins=False,
    )
    assert {"panel-glue", "coating"} <= {
        tables.find("contaminants", key).partition(":")[2]
        for key in tables.material("mine:my-panel").carries
    }


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"contaminants": {"paint": {"permits": "ready"}}}, "undeclared-gate"),
        ({"materials": {"plywood": {"carries": {"remove": ["panel-glue"]}}}}, "undeclared-gate"),
        ({"materials": {"straw": {"history": "not needed"}}}, "undeclared-gate"),
        ({"scales": {"gate": {"reason": "another"}}}, "undeclared-gate"),
        (
            {
                "burners": {
                    "pit": {
                        "moisture_ready": {"value": "40 % wet", "known": "judgement", "note": "x"}
                    }
                }
            },
            "undeclared-gate",
        ),
        ({"contaminants": {"paint": {"permits": "ready", "loosens": {"why": "x"}}}}, "no-reason"),
        (
            {"contaminants": {"paint": {"permits": "ready", "loosens": {"reason": "  "}}}},
            "no-reason",
        ),
        ({"materials": {"oakk": {"ash": WOOD}}}, "unknown-row"),
        ({"materials": {"oak": {"ash": WOOD}}}, "wrong-dimension"),
        ({"materials": {"oak": {"traits": {"remove": ["internodes"]}}}}, "unknown-row"),
        ({"materials": {"oak": {"like": {"add": ["pine"]}, "tightens": "true"}}}, "not-text"),
    ],
)
def test_changes_that_are_refused(change: dict[str, Any], code: str) -> None:
    with pytest.raises(TableError) as why:
        load_tables(own_set(amend=change), plugins=False)
    assert code in codes(why), str(why.value)


def test_loosening_is_repeated_on_every_result() -> None:
    tables = load_tables(
        own_set(
            amend={
                "contaminants": {
                    "street-tree": {"permits": "ready", "loosens": {"reason": "for the test"}}
                }
            }
        ),
        plugins=False,
    )
    result = appraise(
        Heap(lots=[Lot(material="oak", mass="10 kg", moisture="15 % wet", origin="own trees")]),
        tables=tables,
    )
    told = [f for f in result.findings if f.code == "gate-loosened"]
    assert len(told) == 1
    assert "for the test" in told[0].reason
    assert "reference:street-tree" in told[0].reason


def test_two_sets_that_change_one_field_must_say_which_comes_last(tmp_path: Path) -> None:
    cell = "{value: 600 kg/m^3, low: 550 kg/m^3, high: 650 kg/m^3, known: judgement, note: x}"
    for name in ("one", "two"):
        (tmp_path / f"{name}.yaml").write_text(
            f"set: {{name: {name}, version: '1', schema: 1}}\namend:\n  materials:\n   "
            f" oak:\n      basic_density: {cell}\n"
        )
    with pytest.raises(TableError) as why:
        load_tables(tmp_path / "one.yaml", tmp_path / "two.yaml", plugins=False)
    assert codes(why) == {"conflict"}
    assert "one.yaml:5" in str(why.value)
    assert "two.yaml:5" in str(why.value)
    text = (
        (tmp_path / "two.yaml")
        .read_text()
        .replace("schema: 1", "schema: 1, after: [one]")
        .replace("600", "610")
    )
    (tmp_path / "two.yaml").write_text(text)
    for order in (("one", "two"), ("two", "one")):
        tables = load_tables(*(tmp_path / f"{name}.yaml" for name in order), plugins=False)
        oak = tables.material("reference:oak").basic_density
        assert oak is not None
        assert oak.mid == 610


def test_replace_takes_the_whole_row() -> None:
    row = {
        "names": {"en": ["robinia"]},
        "like": "hardwood",
        "basic_density": WOOD,
        "tightens": "true",
    }
    tables = load_tables(own_set(replace={"materials": {"black-locust": row}}), plugins=False)
    robinia = tables.material("reference:black-locust")
    assert robinia.names["en"] == ("robinia",)
    assert (
        tables.provenance("reference:black-locust", "bark_density").inherited_from
        == "reference:hardwood"
    )


def test_like_may_not_run_in_a_circle_nor_too_deep() -> None:
    with pytest.raises(TableError) as why:
        load_tables(own_set(materials={"a": {"like": "b"}, "b": {"like": "a"}}), plugins=False)
    assert "circle" in codes(why)
    chain = {f"d{n}": {"like": f"d{n + 1}"} for n in range(7)} | {"d7": {"like": "oak"}}
    with pytest.raises(TableError) as why:
        load_tables(own_set(materials=chain), plugins=False)
    assert "depth" in codes(why)


def test_the_digest_is_over_content_only(tmp_path: Path) -> None:
    rows = "materials:\n  my-wood:\n    names: {en: [my wood]}\n    like: hardwood\n"
    head = "set: {name: x, version: '1', schema: 1}\n"
    (tmp_path / "a.yaml").write_bytes((head + rows).encode())
    one = load_tables(tmp_path / "a.yaml", plugins=False)
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "1.yaml").write_bytes(("# a comment\n" + rows.replace("\n", "\r\n")).encode())
    (tmp_path / "b" / "2.yaml").write_bytes(("\ufeff" + head).encode())
    other = load_tables(tmp_path / "b", plugins=False)
    assert one.digest == other.digest
    assert one == other
    assert hash(one) == hash(other)
    given = load_tables(
        own_set("x", materials={"my-wood": {"names": {"en": ["my wood"]}, "like": "hardwood"}}),
        plugins=False,
    )
    assert given.digest == one.digest
    changed = load_tables(
        own_set("x", materials={"my-wood": {"names": {"en": ["my woods"]}, "like": "hardwood"}}),
        plugins=False,
    )
    assert changed.digest != one.digest


def test_tables_are_picklable() -> None:
    import pickle

    tables = load_tables(plugins=False)
    back = pickle.loads(pickle.dumps(tables))
    assert back == tables
    assert back.find("materials", "oaks") == tables.find("materials", "oaks")


def test_the_reference_set_is_the_same_through_the_door_of_packages(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One door: the reference tables, copied into a package with an entry point, give the same
    digest.
    """
    import shutil

    package = tmp_path / "ref_as_package"
    shutil.copytree(str(reference_source().root), package)
    (package / "__init__.py").write_text("")
    info = tmp_path / "ref_as_package-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: ref-as-package\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text(f"[{GROUP}]\nref = ref_as_package\n")
    monkeypatch.syspath_prepend(str(tmp_path))
    load_tables.refresh()
    through = load_tables(reference=False)
    straight = load_tables(plugins=False)
    assert through.digest == straight.digest
    assert through.sets[0].distribution == "ref-as-package 1.0"
    load_tables.refresh()


def test_methods_can_be_chosen_by_name() -> None:
    tables = load_tables(plugins=False)
    lot = Lot(material="oak", mass="10 kg", moisture="15 % wet", origin="own trees")
    from feedstock import Burn

    retort = Burn(burner="retort")
    plain = appraise(Heap(lots=[lot]), retort, tables).char_mass.mid_value
    woolf = appraise(Heap(lots=[lot]), retort, tables.using(yield_curve="Woolf 2014"))
    assert woolf.char_mass.mid_value != plain
    assert woolf.inputs.methods == {"yield-curve": "Woolf 2014"}
    assert woolf.explain("char_mass").mid == pytest.approx(woolf.char_mass.mid_value)
    with pytest.raises(UnknownName):
        tables.using(yield_curve="wolf 2041")
    with pytest.raises(UnknownName):
        tables.using(yield_curve="char-carbon")


def test_two_sets_of_one_name_are_refused() -> None:
    problems: list[Any] = []
    sets = [
        read_set(reference_source()),
        read_set(TableSource.of(own_set("same"))),
        read_set(TableSource.of(own_set("same"))),
    ]
    with pytest.raises(TableError) as why:
        build(sets, problems)
    assert codes(why) == {"duplicate-set"}


@pytest.mark.parametrize(
    ("number", "wanted"),
    [
        ("3", "Upgrade feedstock"),
        ("99", "Upgrade feedstock"),
        ("one", "not a schema number"),
        ("-1", "not a schema number"),
    ],
)
def test_schema_numbers_that_are_refused(number: str, wanted: str) -> None:
    with pytest.raises(TableError) as why:
        load_tables(
            {
                "set": {"name": "x", "version": "1", "schema": number},
                "materials": {"m": {"like": "oak"}},
            },
            plugins=False,
        )
    assert {p.code for p in why.value.problems} == {"schema"}
    assert wanted in str(why.value)


def test_an_older_schema_is_migrated_and_keeps_its_lines(tmp_path: Path) -> None:
    """Schema 0 gave the English names as `aka`; the value moves, its line does not."""
    old = (
        "set: {name: old, version: '1', schema: 0}\nmaterials:\n  trial-wood:\n    aka: [trial "
        "wood, trialwood]\n    like: hardwood\n    ash: {value: 2 %, low: 1 %, high: 3 lb, "
        "known: judgement, note: x}\n"
    )
    (tmp_path / "old.yaml").write_text(old)
    with pytest.raises(TableError) as why:
        load_tables(tmp_path / "old.yaml", plugins=False)
    assert [(p.line, p.code) for p in why.value.problems] == [(6, "wrong-dimension")]
    (tmp_path / "old.yaml").write_text(old.replace("3 lb", "3 %"))
    tables = load_tables(tmp_path / "old.yaml", plugins=False)
    assert tables.find("materials", "trialwood") == "old:trial-wood"
    assert tables.provenance("trial wood", "names").line == 4


def test_terms_of_schema_1_are_read_where_they_stand() -> None:
    """Fields that have another name now, of new rows and of changed ones; in schema 2 the old names
    are not there.
    """
    content = {"value": "300 mg/kg", "low": "30 mg/kg", "high": "700 mg/kg"}
    contents = {"Cu": {"by": "content", "content": {**content, "known": "judgement", "note": "x"}}}
    more = {"value": "90 %", "low": "60 %", "high": "100 %", "known": "judgement", "note": "x"}
    tables: dict[str, Any] = {
        "set": {"name": "old", "version": "1", "schema": 1},
        "contaminants": {
            "dusted": {
                "names": {"en": ["dusted with copper"]},
                "axis": "contamination",
                "permits": "check first",
                "reason": "Copper.",
                "action": "Ask.",
                "known": "judgement",
                "note": "x",
                "loads": contents,
            }
        },
        "amend": {"methods": {"open-fire": {"alive": more}}},
    }
    loaded = load_tables(tables, plugins=False)
    row = loaded.row("contaminants", "old:dusted", Contaminant)
    assert row.element_content["Cu"].by == "content"
    rate = loaded.method("burning-rate", BurningRate)[1]
    assert rate.burning_fraction.text == ("90 %", "60 %", "100 %")
    with pytest.raises(TableError) as why:
        load_tables({**tables, "set": {**tables["set"], "schema": 2}}, plugins=False)
    assert {p.path[-1] for p in why.value.problems} == {"loads", "alive"}
