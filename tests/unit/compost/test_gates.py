"""What comes into a mix goes through the same gates as a lot, and char that is still to be checked
is told as such.
"""

from __future__ import annotations

from typing import Any

import pytest

from builders import heap, lot, tables
from feedstock import Burn, Lot, UnknownName, Verdict, appraise, blend, quality
from feedstock.char.carbon import carbon
from feedstock.model.compost import Blend
from feedstock.text import page

pytestmark = pytest.mark.worked


def mixed(*parts: Any) -> Blend:
    return blend("60 L", list(parts), tables=tables())


@pytest.mark.parametrize("material", ["horse manure", "wheat straw", "hay", "cattle manure"])
def test_a_part_of_unknown_history_is_asked_about(material: str) -> None:
    """The same question as of a lot: weedkillers that pass through dung and stay in straw."""
    found = mixed((material, "100 L"))
    own = appraise(heap(Lot(material=material, mass="10 kg", moisture="15 % wet")), None, tables())
    # what is asked of the char alone (its ash, its metals) is no question to a heap of compost
    asked = {
        finding.code
        for finding in own.lots[0].findings
        if finding.permits is Verdict.CHECK_FIRST
        and finding.axis == "contamination"
        and finding.code not in ("high-ash-char", "background-over-limit")
    }
    assert {finding.code for finding in found.findings if not finding.cleared} == asked
    assert found.findings[0].permits is Verdict.CHECK_FIRST
    assert f"{found.findings[0].lot}: check first" in " ".join(page(found).split())


def test_the_growers_word_clears_a_part() -> None:
    part = {
        "material": "wheat straw",
        "volume": "100 L",
        "origin": "farm",
        "signs": ["not sprayed two seasons"],
    }
    assert all(finding.cleared for finding in mixed(part).findings)


def test_finished_compost_is_asked_nothing() -> None:
    assert mixed("garden compost").findings == ()


def test_a_sign_that_nothing_knows_is_told_with_its_place() -> None:
    with pytest.raises(UnknownName) as why:
        mixed({"material": "hay", "volume": "100 L", "signs": ["sprayd"]})
    assert why.value.problems[0].field.startswith("parts[0].signs")


def test_char_of_what_is_to_be_checked_says_so() -> None:
    pallet = Lot(name="pallet", material="pallet wood", mass="9 kg", origin="pallet")
    result = appraise(heap(lot(), pallet), Burn(burner="kettle"), tables())
    for found in (quality(result, tables=tables()), carbon(result, tables=tables())):
        note = found.notes[0]
        assert note.code == "char.check-first"
        assert note.values["lots"] == ("pallet",)
    clean = appraise(heap(lot()), Burn(burner="kettle"), tables())
    assert quality(clean, tables=tables()).notes[0].code != "char.check-first"
