"""A set of tables may bring classes and forms of its own; a word that no set lists is refused."""

from __future__ import annotations

from typing import Any

import pytest

from feedstock import Heap, Lot, TableError, appraise, load_tables


def vine(class_: str, form: str, **more: Any) -> dict[str, Any]:
    """A material of that class and form, all else like hardwood."""
    row = {"names": {"en": ["liana"]}, "like": "hardwood", "class": class_, "form": form}
    return {
        "set": {"name": "own", "version": "1", "schema": "1"},
        "materials": {"liana": row},
        **more,
    }


WORDS = {
    "own-classes": {
        "kind": "feed-classes",
        "known": "judgement",
        "note": "climbers",
        "of": {"climber": {"woody": "true"}},
    },
    "own-forms": {
        "kind": "feed-forms",
        "known": "judgement",
        "note": "coils",
        "of": {"coil": {"solid": "true"}},
    },
}


@pytest.mark.regression
def test_an_unknown_class_or_form_is_refused_with_its_place_and_the_words_that_do() -> None:
    with pytest.raises(TableError) as raised:
        load_tables(vine("climber", "coil"), plugins=False)
    told = {problem.field: str(problem) for problem in raised.value.problems}
    assert "hardwood" in told["materials.liana.class"]
    assert "feed-classes" in told["materials.liana.class"]
    assert "brush" in told["materials.liana.form"]


@pytest.mark.regression
def test_words_of_another_set_count_and_carry_their_meaning() -> None:
    tables = load_tables(vine("climber", "coil", methods=WORDS), plugins=False)
    row = tables.material("own:liana")
    assert row.woody and row.solid
    assert not (row.barked or row.flaky or row.clean)


@pytest.mark.regression
def test_a_class_of_its_own_needs_its_group_in_the_yield_curve() -> None:
    tables = load_tables(vine("climber", "round", methods=WORDS), plugins=False)
    heap = Heap(lots=[Lot(material="liana", mass="10 kg", moisture="15 % wet")])
    with pytest.raises(ValueError, match="climber"):
        appraise(heap, tables=tables)


@pytest.mark.regression
def test_classes_of_the_reference_mean_what_they_meant() -> None:
    tables = load_tables(plugins=False)
    oak, straw = (tables.material(f"reference:{name}") for name in ("oak", "wheat-straw"))
    assert oak.woody and oak.clean and oak.barked and oak.solid and oak.rots_as == "hardwood"
    assert (straw.woody, straw.flaky) == (False, True)
    assert tables.material("reference:spruce").rots_as == "softwood"
