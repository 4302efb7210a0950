"""A form in which wood grows: what is said of branches is heard as of pieces in their bark.

The judgements follow from the forms: a branch is no part of a shed or fence, a pole or log may be.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from builders import own_set, tables, yaml_data
from feedstock import FeedstockError, Heap, Lot, appraise, load_tables
from feedstock.tables.names.danger import answer_to, scan

REFERENCE = Path(__file__).parents[3] / "tables"
pytestmark = pytest.mark.regression


def words_asked(material: str, remarks: str) -> list[str]:
    lot = Lot(material=material, mass="20 kg", origin="own trees", remarks=remarks)
    found = appraise(Heap(lots=[lot]), tables=tables()).lots[0]
    return [str(f.values["word"]) for f in found.findings if f.code == "word-heard"]


@pytest.mark.parametrize("material", ["oak branches", "hazel prunings", "birch limbs"])
def test_branches_squash_a_greenhouse_and_are_no_fence(material: str) -> None:
    assert words_asked(material, "squashed the greenhouse") == []
    assert words_asked(material, "old fence, broken up") == ["fence"]
    assert words_asked(material, "sprayed twice") == ["sprayed"]


@pytest.mark.parametrize(
    "remarks",
    [
        "plus the doors from the stable",
        "including a gate",
        "incl. the old gate",
        "and a wardrobe",
        "along with a gate",
        "even a gate",
        "there is a gate under it",
    ],
)
def test_what_lies_among_branches_is_asked_about(remarks: str) -> None:
    assert words_asked("oak branches", remarks)


@pytest.mark.parametrize("material", ["oak", "oak logs", "oak poles", "oak boards"])
def test_what_may_be_a_thing_is_asked_about(material: str) -> None:
    assert words_asked(material, "squashed the greenhouse") == ["greenhouse"]


def test_old_paint_is_answered_by_flaking_paint_and_asbestos_by_a_board() -> None:
    found = tables()
    for said, sign in (("old painted shed", "flaking-paint"), ("asbestos sheet", "cement-board")):
        assert answer_to(found, scan(found, said)[0]) == ("signs", f"reference:{sign}")


def test_a_form_that_grows_so_loosens() -> None:
    rows = yaml_data(REFERENCE / "names" / "forms.yaml")["methods"]["plant-forms"]["of"]
    logs = {**rows["logs"], "grown": "true"}
    amend = {"methods": {"plant-forms": {"of": {"logs": logs}, "tightens": "true"}}}
    with pytest.raises(FeedstockError, match="of such wood fewer dangers are heard"):
        load_tables(own_set("mine", amend=amend), plugins=False)
