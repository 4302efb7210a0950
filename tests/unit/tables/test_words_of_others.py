"""Words have an owner: no row of a later set takes a word that the sets before it understand.

The expectations are judgements made beforehand: what worked before a set is laid on top works the
same after it, and no danger word leads to a clean row.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from builders import EXAMPLES, own_set, tables
from feedstock import Heap, Lot, Tables, appraise, load_tables
from feedstock.contrib.check import check
from feedstock.contrib.json_schema import json_schema
from feedstock.contrib.listing import listing
from feedstock.errors import FeedstockError, TableError
from feedstock.model.findings import Verdict
from feedstock.model.inputs.heap import Job
from feedstock.tables.loading.source import TableSource
from feedstock.testing import check_tables
from feedstock.text import page

pytestmark = pytest.mark.property

Rows = dict[str, Any]
WOOD = {
    "value": "620 kg/m^3",
    "low": "560 kg/m^3",
    "high": "690 kg/m^3",
    "known": "judgement",
    "note": "for the test",
}
MEANING = {"meaning": "for the test", "known": "judgement"}


def clean(*names: str) -> Rows:
    return {"names": {"en": list(names)}, "like": "hardwood", "basic_density": WOOD}


def loaded(**contents: Any) -> Tables:
    return load_tables(own_set(**contents), plugins=False)


def verdict(held: Tables, **fields: Any) -> Verdict | str:
    """The verdict of a dry lot; `refused` where it is not understood."""
    try:
        lot = Lot(mass="10 kg", moisture="12 % wet", **{"origin": "own trees", **fields})
        return appraise(Heap(lots=[lot]), tables=held).lots[0].verdict
    except FeedstockError:
        return "refused"


TAKEN = (
    "fence-posts",
    "fence-post",
    "paint",
    "asbestos",
    "decks",
    "deck-boards",
    "creosoted-beams",
    "chipboard",
    "chip-board",
    "creosotte",
    "untreated",
    "apple-wood",
    "oak-branches",
    "old-rotten",
    "pit",
    "lime",
)


@pytest.mark.parametrize("key", TAKEN)
def test_a_word_that_is_understood_is_not_given_to_a_clean_row(key: str) -> None:
    word, held = key.replace("-", " "), taking_all()
    assert verdict(held, material=word) == verdict(tables(), material=word)
    assert verdict(held, material=f"{word}s") == verdict(tables(), material=f"{word}s")
    assert held.find("materials", f"mine:{key}") == f"mine:{key}"
    assert f"mine:{key}" in {taken.row for taken in held.taken}


@cache
def taking_all() -> Tables:
    return loaded(materials={key: clean(key.replace("-", " ")) for key in TAKEN})


def test_one_that_takes_a_word_is_named_and_no_other() -> None:
    held = loaded(materials={"lime": clean("lime"), "zelkova-two": clean("zelkova two")})
    assert {taken.row for taken in held.taken} == {"mine:lime"}


@pytest.mark.parametrize("key", ["fence-posts", "creosoted-beams", "chipboard"])
def test_a_full_name_does_not_hide_what_it_says(key: str) -> None:
    held = loaded(materials={key: clean(key.replace("-", " "))})
    assert verdict(held, material=f"mine:{key}") in (Verdict.CHECK_FIRST, Verdict.KEEP_OUT)


@pytest.mark.parametrize(
    ("kind", "key", "row"),
    [
        ("signs", "bare-wood", {"names": {"en": ["bare wood"]}, **MEANING}),
        ("signs", "seen", {"names": {"en": ["oak", "creosote"]}, **MEANING}),
        ("origins", "own-trees", {"names": {"en": ["own trees"]}, **MEANING}),
        ("origins", "yard", {"names": {"en": ["gasworks", "painted"]}, **MEANING}),
    ],
)
def test_signs_and_origins_take_no_word_either(kind: str, key: str, row: Rows) -> None:
    held, before = loaded(**{kind: {key: row}}), tables()
    for word in row["names"]["en"]:
        assert held.index(kind).find(word) == before.index(kind).find(word)
    assert held.find(kind, f"mine:{key}") == f"mine:{key}"


def test_a_clean_name_hides_no_danger_beside_it() -> None:
    """`garden rail` would swallow the first word of `rail tie`, if clean names were heard."""
    held = loaded(materials={"zelk-rail": clean("zelk rail", "zelk old")})
    for text in ("zelk rail ties", "zelk old fence"):
        lots = [verdict(each, material="oak", remarks=text) for each in (tables(), held)]
        assert lots[0] == lots[1] == Verdict.CHECK_FIRST


def test_the_shipped_examples_are_not_broken_by_a_harmless_word() -> None:
    held = loaded(materials={"apple-wood": clean("apple wood"), "my-oak": clean("oak", "limbs")})
    for path in sorted(EXAMPLES.glob("*.yaml")):
        heap = Job.read(path).heap
        before, after = (appraise(heap, tables=each) for each in (tables(), held))
        assert [lot.verdict for lot in before.lots] == [lot.verdict for lot in after.lots]
        assert [lot.row for lot in before.lots] == [lot.row for lot in after.lots]


def test_the_check_tells_a_taken_word_with_both_places(tmp_path: Path) -> None:
    path = tmp_path / "own.yaml"
    path.write_text(
        "set: {name: own, version: '1', schema: 1}\nmaterials:\n  posts-of-mine:\n"
        "    names: {en: [fence posts]}\n    like: hardwood\n"
    )
    report = check(TableSource.of(path))
    told = [p for p in report.errors if p.code == "taken-word" and p.line == 4]
    assert len(told) == 1
    assert str(told[0]).startswith(f"{path}:4:")
    assert "worked_wood.yaml:" in str(told[0]) or "danger.yaml:" in str(told[0])
    assert "own:posts-of-mine" in str(told[0])
    with pytest.raises(AssertionError, match="is taken"):
        check_tables(path)


def test_lists_and_results_say_whose_a_word_is() -> None:
    held = loaded(materials={"oak": clean("feijoa")})
    told = [line for line in listing(held, "materials") if "oak" in line]
    assert any(line.startswith("  mine:oak") and "full name alone" in line for line in told)
    assert any(line.startswith("  oak:") and "mine:oak" in line for line in told)
    for material, others in (("oak", 1), ("mine:oak", 1), ("feijoa", 1), ("pine", 0)):
        lot = Lot(material=material, mass="10 kg", moisture="12 % wet", origin="own trees")
        found = appraise(Heap(lots=[lot]), tables=held).findings
        assert sum(finding.code == "word-taken" for finding in found) == others, material


@pytest.mark.parametrize(
    ("kind", "row", "names", "code"),
    [
        ("materials", "oak", {"add": ["feijoa"]}, ""),
        ("materials", "oak", {"es": {"add": ["encina"]}}, ""),
        ("materials", "oak", {"add": {"de": ["Wetterbaum"]}}, ""),
        ("materials", "oak", {"add": ["creosoted beams"]}, "undeclared-gate"),
        ("materials", "oak", {"add": ["pine"]}, "taken-word"),
        ("materials", "oak", {"add": ["oak branches"]}, "taken-word"),
        ("materials", "plywood", {"add": ["stage panels"]}, ""),
        ("materials", "plywood", {"add": ["oak"]}, "taken-word"),
        ("signs", "painted", {"add": ["zelked"]}, ""),
        ("signs", "mark-ht", {"add": ["zelked"]}, "undeclared-gate"),
        ("signs", "bare-wood", {"add": ["zelked"]}, "undeclared-gate"),
        ("origins", "deck", {"add": ["zelkery"]}, ""),
        ("origins", "workshop", {"add": ["zelkery"]}, "undeclared-gate"),
        ("contaminants", "paint", {"add": ["zelk"]}, ""),
    ],
)
def test_names_are_added_freely_where_no_word_is_taken(
    kind: str, row: str, names: Rows, code: str
) -> None:
    change = {"amend": {kind: {row: {"names": names}}}}
    if not code:
        held = loaded(**change)
        given = names.get("add") or next(iter(names.values()))["add"]
        added = given if isinstance(given, list) else next(iter(given.values()))
        assert held.find(kind, added[0]) == f"reference:{row}"
        return
    with pytest.raises(TableError) as why:
        loaded(**change)
    assert code in {problem.code for problem in why.value.problems}


def test_a_set_that_says_why_may_hold_a_danger_word() -> None:
    said = {**clean("rubber tree"), "loosens": {"reason": "the wood of Hevea is no rubber"}}
    jsonschema.validate({"materials": {"hevea": said}}, json_schema())
    held = loaded(materials={"hevea": said})
    assert held.find("materials", "rubber tree") == "mine:hevea"
    lot = Lot(material="rubber tree", mass="10 kg", moisture="12 % wet", origin="own trees")
    result = appraise(Heap(lots=[lot]), tables=held)
    assert result.lots[0].verdict is Verdict.READY
    assert any(f.code == "gate-loosened" and "no rubber" in f.reason for f in result.findings)


def test_the_page_tells_that_a_bare_word_is_not_the_row_of_the_set() -> None:
    """The note stands where the word was written bare, with the way that works, and not where that
    way was gone, nor for a lot of another plant.
    """
    held = loaded(materials={"medlar": clean("medlar")})

    def told(material: str) -> str:
        lot = Lot(material=material, mass="10 kg", moisture="12 % wet", origin="own trees")
        return " ".join(page(appraise(Heap(lots=[lot]), tables=held)).split())

    bare = told("medlar")
    assert "Taken: 'medlar' was not taken as the row of that name in your table set" in bare
    assert "`material: mine:medlar`" in bare
    assert "Taken:" not in told("mine:medlar")
    assert "Taken:" not in told("oak")


def test_what_a_set_calls_its_own_is_its_own() -> None:
    """Its own `paint` is carried by its own material, and the reference's stays as it is."""
    own = {"reason": "own", "action": "own", "permits": "keep out", "known": "judgement"}
    held = loaded(
        contaminants={"paint": {"names": {"en": ["zelk paint"]}, **own}},
        materials={"zelkwood": {**clean("zelkwood"), "carries": ["paint"]}},
    )
    assert held.material("mine:zelkwood").carries == ("mine:paint",)
    assert held.find("contaminants", "paint") == "reference:paint"


def test_a_new_origin_is_of_unknown_history_until_it_says_why() -> None:
    origin = {"names": {"en": ["zelkery"]}, **MEANING}
    held = loaded(origins={"zelkery": origin})
    for material in ("sawn offcuts", "wheat straw", "plywood"):
        fields = {"material": material, "signs": ["bare wood"]}
        mine = verdict(held, **{**fields, "origin": "zelkery"})
        assert isinstance(mine, Verdict)
        assert mine.position >= Verdict.CHECK_FIRST.position, material
        assert mine.position >= tables_verdict(fields).position
    with pytest.raises(TableError) as why:
        loaded(origins={"zelkery": {**origin, "known_history": "true"}})
    assert {problem.code for problem in why.value.problems} == {"undeclared-gate"}
    said = {**origin, "known_history": "true", "loosens": {"reason": "our own saw"}}
    assert loaded(origins={"zelkery": said}).loosened[0].reason == "our own saw"


def tables_verdict(fields: Rows) -> Verdict:
    found = verdict(tables(), **{**fields, "origin": "unknown"})
    assert isinstance(found, Verdict)
    return found


@pytest.mark.parametrize(
    "row",
    [
        {"kind": "negations", "words": {"en": ["with"]}, "between": {"en": ["old"]}},
        {"kind": "places", "words": {"en": ["of"]}, "articles": {"en": ["the"]}},
        {"kind": "removals", "words": {"en": ["seen"]}},
        {"kind": "clean-phrases", "phrases": {"en": ["treated posts"]}},
        {
            "kind": "danger-words",
            "of": {"mine": {"warns_of": "thing", "words": {"en": ["zelk"]}}},
            "silent": ["paint"],
        },
        {
            "kind": "danger-words",
            "of": {"mine": {"warns_of": "thing", "denied": {"en": ["painted"]}}},
        },
        {"kind": "feed-forms", "of": {"sawn": {"solid": "true"}}},
    ],
)
def test_how_texts_are_heard_is_not_changed_unsaid(row: Rows) -> None:
    said = {"known": "judgement", "note": "for the test"}
    given = row if row["kind"] == "feed-forms" else {**row, **said}
    with pytest.raises(TableError) as why:
        loaded(methods={"mine": given})
    assert "undeclared-gate" in {problem.code for problem in why.value.problems}


def test_new_danger_words_are_free_and_take_no_clean_word() -> None:
    said = {"kind": "danger-words", "known": "judgement", "note": "for the test"}
    words = {"mine": {"warns_of": "on it", "words": {"en": ["zelk resin"]}}}
    held = loaded(methods={"zelk-words": {**said, "of": words}})
    assert verdict(held, material="oak", remarks="some zelk resin on it") is Verdict.CHECK_FIRST
    taking = {"mine": {"warns_of": "on it", "words": {"en": ["oak"]}}}
    with pytest.raises(TableError) as why:
        loaded(methods={"zelk-words": {**said, "of": taking}})
    assert "taken-word" in {problem.code for problem in why.value.problems}


def test_the_reference_lists_its_words_of_two_kinds() -> None:
    report = check(TableSource.of(str(EXAMPLES.parent / "tables")), with_panel=False)
    assert report.shared
    assert all("(" in each and "," in each for each in report.shared)
