"""Each check has an answer that a gardener can give: what a clean lot is asked about is cleared by
the sign that the finding itself names, and no check is settled by a laboratory alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

import pytest

from builders import tables
from feedstock import Heap, Lot, Verdict, appraise
from feedstock.model.findings import Finding
from feedstock.tables.rows.contaminant import Contaminant

from .test_gates import HALVES, SHORT, corpus, heap_of, looked_at, one_way

pytestmark = pytest.mark.property

NAMED = re.compile(r"add the sign `([^`]+)`")


def gates(findings: Iterable[Finding]) -> list[str]:
    """The first sign that each finding names of those that hold a lot back."""
    held = [f for f in findings if f.permits > Verdict.DRY_FIRST and f.code != "word-heard"]
    assert all(NAMED.search(f.settle or "") for f in held), [(f.code, f.settle) for f in held]
    return [NAMED.findall(f.settle)[0] for f in held]


def test_no_check_is_settled_by_a_laboratory_alone() -> None:
    """Of every suspicion, and of every rule that raises one, the first step is no laboratory."""
    asked = 0
    for name, row in tables().rows["contaminants"].items():
        assert isinstance(row, Contaminant)
        for steps in (row.settles, *(rule.settles for rule in row.raised_by)):
            if steps:
                asked += 1
                assert steps[0].by != "laboratory", name
    assert asked > 30


def test_what_a_clean_lot_is_asked_is_cleared_by_the_sign_that_is_named() -> None:
    """Of every clean phrase that a row of the tables asks about; the words were judged clean before
    the rules met them.
    """
    asked, left = 0, []
    for half in HALVES:
        lots = corpus(half)["lots"]
        for number, phrase in enumerate(corpus(half)["phrases"]):
            if phrase["judgement"] != "clean" or phrase["at best"] != "ready":
                continue
            found = looked_at(half, number)
            if found is None and half in SHORT:
                continue  # a name that is not understood
            assert found is not None
            if found.verdict <= Verdict.DRY_FIRST or "word-heard" in found.codes:
                continue
            asked += 1
            heap = heap_of(phrase, lots, one_way(number, lots[phrase["lot"]]["form"]))
            signs = (*heap.lots[0].signs, *gates(found.holding))
            answered = Heap(lots=[heap.lots[0].model_copy(update={"signs": signs})])
            if appraise(answered, tables=tables()).lots[0].verdict > Verdict.DRY_FIRST:
                left.append(phrase["text"])
    print(f"{asked} clean phrases were asked about, {len(left)} not cleared: {left}")
    assert asked > 10
    assert left == []


@pytest.mark.parametrize("material", ["willow", "poplar", "pine bark", "horse manure", "hay"])
def test_what_is_asked_of_own_ground_has_its_answer(material: str) -> None:
    """What gathers metals or weedkillers, from a garden of one's own, one sign after the other."""
    signs: list[str] = []
    for _ in range(4):
        lot = Lot(
            material=material, mass="20 kg", moisture="15 % wet", origin="own garden", signs=signs
        )
        found = appraise(Heap(lots=[lot]), tables=tables()).lots[0]
        if found.verdict <= Verdict.DRY_FIRST:
            break
        signs += [sign for sign in gates(found.findings) if sign not in signs]
    else:
        pytest.fail(f"{material}: {signs} leave {found.verdict}")
    assert signs
