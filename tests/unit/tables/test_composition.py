"""Names of materials composed of plant, form and state."""

from __future__ import annotations

import itertools

import pytest

from feedstock import Heap, Lot, Verdict, appraise, load_tables
from feedstock.tables.names.compiled import methods_of
from feedstock.tables.names.composition import Reading, Refusal, read_material
from feedstock.tables.rows.methods.language import Families, Forms, Plants

pytestmark = pytest.mark.worked


def reading(text: str) -> Reading:
    found = read_material(load_tables(plugins=False), text)
    assert isinstance(found, Reading), found
    return found


def refusal(text: str) -> Refusal:
    found = read_material(load_tables(plugins=False), text)
    assert isinstance(found, Refusal), found
    return found


def test_plant_form_and_state_in_any_order() -> None:
    told = {
        (r.material, r.form, r.packing, r.decay, r.read_as.plants, r.read_as.forms)
        for words in itertools.permutations(("dead", "oak", "branches"))
        if (r := reading(" ".join(words)))
    }
    assert told == {("reference:oak", "round", "loose", 1, ("oak",), ("branches",))}


def test_own_name_of_a_row_stands_before_composition() -> None:
    assert reading("oak leaves").material == "reference:oak-leaves"
    assert reading("oak leaves").exact
    assert reading("dry oak leaves").material == "reference:oak-leaves"


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("gooseberry bush", "hardwood"),
        ("walnut shells", "walnut-shell"),
        ("pistachio shells", "nut-shell"),
        ("Buchenholz", "beech"),
        ("Birkenreisig", "birch"),
        ("bûches de hêtre", "beech"),
        ("troncos de pino", "pine"),
        ("sedge and rushes", "reed"),
        ("oak and beech logs", "hardwood"),
    ],
)
def test_species_family_and_language(text: str, row: str) -> None:
    """A species without a row is read as its family's, two of one family as the family's."""
    assert reading(text).material == f"reference:{row}"


@pytest.mark.parametrize("text", ["apple shells", "oak straw", "hemlock stalks", "pine leaves"])
def test_plant_without_that_part_is_refused(text: str) -> None:
    assert refusal(text).code == "no-such-form"


def test_two_plants_of_two_families_are_two_lots() -> None:
    found = refusal("oak and pine logs")
    assert (found.code, found.plants) == ("two-plants", ("oak", "pine"))


@pytest.mark.parametrize("text", ["ash", "lime", "box", "plane", "wood ash", "garden lime"])
def test_word_of_two_meanings_alone_is_asked_back(text: str) -> None:
    assert refusal(text).code == "ask-back"


def test_unknown_word_is_told_beside_what_was_understood() -> None:
    found = refusal("willow zarfs")
    assert found.code == "unknown-words"
    assert found.understood == ("willow",)
    assert found.not_understood == ("zarfs",)


def test_worse_history_of_row_and_form_holds() -> None:
    assert reading("oak boards").history == "needed"
    assert reading("oak boards").form == "sawn"
    assert reading("oak branches").history is None


def test_old_sets_nothing_and_green_sets_the_condition() -> None:
    assert (reading("old oak logs").decay, reading("old oak logs").condition) == (None, None)
    assert reading("green oak logs").condition == "green"


def test_every_row_that_the_words_name_is_there() -> None:
    tables = load_tables(plugins=False)
    for row in tables.rows["methods"].values():
        if isinstance(row, Plants):
            families = {f for r in methods_of(tables, Families) for f in r.of}
            assert {plant.family for plant in row.of.values()} <= families
            names = [plant.row for plant in row.of.values() if plant.row]
        elif isinstance(row, Families):
            names = [family.row for family in row.of.values()]
        elif isinstance(row, Forms):
            names = [n for form in row.of.values() for n in (form.row, form.alone) if n]
        else:
            continue
        for name in names:
            assert tables.find("materials", name)


@pytest.mark.parametrize(
    ("text", "name", "decay"),
    [
        ("old fence post", "fence post", None),
        ("rotten fence posts", "fence posts", 4),
        ("half-rotten fence post", "fence post", 3),
        ("Old, rotten railway sleepers", "railway sleepers", 4),
        ("a pile of broken pallets", "pallets", None),
    ],
)
def test_a_row_of_two_words_is_read_in_a_state_too(text: str, name: str, decay: int | None) -> None:
    """The state is carried, and what the row is, and is suspected of, stays."""
    plain, stated = reading(name), reading(text)
    assert (stated.material, stated.form, stated.history) == (
        plain.material,
        plain.form,
        plain.history,
    )
    assert (stated.decay, stated.exact) == (decay, False)
    held = load_tables(plugins=False)
    verdicts = {
        word: appraise(
            Heap(lots=[Lot(material=word, mass="9 kg", moisture="15 % wet", origin="own trees")]),
            tables=held,
        ).lots[0]
        for word in (name, text)
    }
    assert verdicts[text].verdict is verdicts[name].verdict
    assert verdicts[text].verdict.position >= Verdict.CHECK_FIRST.position
    assert {f.code for f in verdicts[name].findings} <= {f.code for f in verdicts[text].findings}


@pytest.mark.parametrize("text", ["new fence post", "old box", "oak fence post", "rotten"])
def test_what_is_no_row_in_a_state_stays_refused(text: str) -> None:
    """A word that nothing knows is not passed over, nor a word of two meanings, nor a plant."""
    refusal(text)


def test_a_word_before_wood_that_is_no_plant_names_no_wood() -> None:
    tables = load_tables(plugins=False)
    for name in ("moonwood", "sunwood", "rainwood"):
        refused = read_material(tables, name)
        assert isinstance(refused, Refusal), name
        assert refused.code == "unknown-words"
    assert not isinstance(read_material(tables, "limbs from the backyard"), Refusal)
