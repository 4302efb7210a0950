"""Danger words that a person writes become questions: heard in every text of a lot and of its heap,
answered by an origin, a sign or a dismissal, and told once on the page. What is expected was
written from the rules of the words before it was run.
"""

from __future__ import annotations

from typing import Any

import pytest

from builders import tables
from feedstock import (
    Burn,
    FeedstockError,
    Heap,
    InputError,
    Lot,
    Verdict,
    appraise,
    appraise_lot,
    gather,
)
from feedstock.model.appraisal import Appraisal, LotAppraisal
from feedstock.model.findings import Finding
from feedstock.text.appraisal import appraisal_text

pytestmark = pytest.mark.worked

AMOUNTS: tuple[dict[str, Any], ...] = (
    {"mass": "20 kg"},
    {"volume": "200 L", "packing": "loose"},
    {"pieces": {"count": 30, "diameter": "40 mm", "length": "1 m"}},
    {"stack": {"shape": "box", "width": "1 m", "length": "1 m", "height": "0.5 m"}},
    {"containers": {"count": 4, "of": "wheelbarrow"}},
)


def lot(**more: Any) -> Lot:
    given = {"material": "oak", "moisture": "15 % wet", "origin": "own trees", **more}
    if not set(given) & {"mass", "volume", "pieces", "stack", "containers"}:
        given["mass"] = "20 kg"
    return Lot.model_validate(given)


def one(**more: Any) -> LotAppraisal:
    return appraise_lot(lot(**more), tables=tables())


def of(found: LotAppraisal, code: str) -> list[Finding]:
    return [finding for finding in found.findings if finding.code == code]


def words(found: LotAppraisal, code: str = "word-heard") -> list[str]:
    return [str(finding.values["word"]) for finding in of(found, code)]


@pytest.mark.parametrize("amount", AMOUNTS)
@pytest.mark.parametrize("field", ["name", "remarks"])
def test_a_danger_word_asks_on_lots_of_every_amount(field: str, amount: dict[str, Any]) -> None:
    found = one(**amount, **{field: "creosoted fence boards"})
    assert found.verdict is Verdict.CHECK_FIRST
    assert words(found) == ["creosoted", "fence boards"] or "creosoted" in words(found)
    assert all(f.sources and f.settle and f.reason and f.action for f in of(found, "word-heard"))
    assert one(**amount, **{field: "cut in february"}).verdict is Verdict.READY


@pytest.mark.parametrize("field", ["name", "remarks"])
def test_what_the_heap_says_holds_for_all_lots(field: str) -> None:
    heap = Heap.model_validate({field: "smells of diesel", "lots": [lot(name="a"), lot(name="b")]})
    result = appraise(heap, tables=tables())
    assert [each.verdict for each in result.lots] == [Verdict.CHECK_FIRST] * 2
    freed = Heap.model_validate({**dict(heap), "dismiss": ["diesel"]})
    assert {each.verdict for each in appraise(freed, tables=tables()).lots} == {Verdict.READY}


def test_a_wet_lot_says_both() -> None:
    found = one(moisture="40 % wet", remarks="old fence")
    assert {finding.permits for finding in found.findings} == {
        Verdict.CHECK_FIRST,
        Verdict.DRY_FIRST,
    }
    assert found.verdict is Verdict.CHECK_FIRST


def test_the_answer_that_is_offered_settles_the_question() -> None:
    """And what follows from the answer is that row's: a fence is kept out."""
    asked = one(remarks="fence posts")
    assert "`origin: fence`" in of(asked, "word-heard")[0].settle
    answered = one(remarks="fence posts", origin="fence")
    assert words(answered) == []
    assert answered.verdict is Verdict.KEEP_OUT


def test_a_sign_that_leaves_no_question_settles_no_word() -> None:
    """`no mark` says nothing of round wood, so that a word that it belongs to is still asked."""
    assert one(remarks="no stamp on it", signs=["no mark"]).verdict is Verdict.CHECK_FIRST


def test_a_word_of_the_own_material_asks_nothing_more() -> None:
    found = one(
        name="pallet", material="pallet wood", origin="pallet", signs=["mark HT", "bare wood"]
    )
    assert found.verdict is Verdict.READY
    assert words(found) == []


def test_a_dismissed_word_stays_visible() -> None:
    found = one(remarks="limbs off the old fence", dismiss=["fence"])
    assert found.verdict is Verdict.READY
    (finding,) = of(found, "word-dismissed")
    assert finding.cleared
    assert finding.permits is Verdict.READY
    assert "`fence`" in finding.reason


def problems(heap: Heap) -> list[str]:
    with pytest.raises(InputError) as why:
        appraise(heap, tables=tables())
    return [f"{problem.code} {problem.field}" for problem in why.value.problems]


def test_only_a_word_that_was_found_is_dismissed() -> None:
    """No lists in advance, and never what the material says."""
    assert problems(Heap(lots=[lot(remarks="old fence", dismiss=["fence", "paint"])])) == [
        "not-to-dismiss lots[0].dismiss[1]"
    ]
    assert problems(Heap(lots=[lot(material="pallet wood", dismiss=["pallet"])])) == [
        "not-to-dismiss lots[0].dismiss[0]"
    ]
    assert problems(Heap(lots=[lot()], remarks="never painted", dismiss=["painted"])) == [
        "not-to-dismiss dismiss[0]"
    ]
    # what a lot says is dismissed there, not for the whole heap
    assert problems(Heap(lots=[lot(remarks="old fence")], dismiss=["fence"])) == [
        "not-to-dismiss dismiss[0]"
    ]


def test_a_material_with_a_danger_word_is_refused_or_asked_and_never_ready() -> None:
    for material in ("creosoted boards", "painted oak", "oak fence posts", "old pallet"):
        try:
            assert one(material=material).verdict > Verdict.READY
        except FeedstockError as why:
            assert why.problems[0].code == "unknown-material"


@pytest.mark.parametrize("text", ["untreated", "unpainted", "not treated", "never painted"])
def test_hearsay_raises_nothing_and_clears_nothing(text: str) -> None:
    """Only a mark that was read proves a pallet: what somebody says does not."""
    assert one(remarks=text).verdict is Verdict.READY
    pallet = {"material": "pallet wood", "origin": "pallet", "signs": ["bare wood"]}
    assert one(**pallet, remarks=text).verdict is Verdict.CHECK_FIRST
    assert one(**pallet, name=text).verdict is Verdict.CHECK_FIRST


def test_words_that_nothing_knows_are_told() -> None:
    found = one(name="zarfs of oak")
    (finding,) = of(found, "words-not-read")
    assert finding.permits is Verdict.READY
    assert "`zarfs`" in finding.reason
    assert found.verdict is Verdict.READY
    assert not of(one(name="oak limbs"), "words-not-read")


def told(**heap: Any) -> str:
    result: Appraisal = appraise(Heap.model_validate(heap), tables=tables())
    return appraisal_text(result)


def test_the_page_asks_once_a_word_and_gives_the_lines() -> None:
    page = told(lots=[lot(name="limbs", remarks="old fence"), lot(name="logs", remarks="a fence")])
    assert page.count("You wrote `fence`") == 1
    assert "limbs and logs: You wrote `fence` in its remarks." in page
    assert "\n      if it fits, write  origin: fence\n" in page
    assert "\n      if not, write      dismiss: [fence]\n" in page


def test_the_page_says_where_to_dismiss_what_the_heap_says() -> None:
    page = told(name="all off the old fence", lots=[lot()])
    assert "beside `lots` of the heap  dismiss: [fence]" in page


def test_gathered_heap_keeps_what_was_dismissed() -> None:
    heap = Heap(
        name="beside us, a fence",
        dismiss=["fence"],
        lots=[lot(remarks="some fence is in it", dismiss=["fence"])],
    )
    burn = Burn(burner="cone pit", diameter="1 m", depth="40 cm")
    taken = gather("20 L", heap, burn, tables()).heap
    assert taken is not None
    assert (taken.dismiss, taken.lots[0].dismiss) == (("fence",), ("fence",))
    assert appraise(taken, burn, tables()).verdict is Verdict.READY


def test_a_table_of_lots_dismisses_too(tmp_path: Any) -> None:
    path = tmp_path / "heap.csv"
    path.write_text(
        "material,mass,moisture,origin,remarks,dismiss\n"
        "oak,20 kg,15 % wet,own trees,old fence and a gate board,fence|gate board\n"
    )
    assert Heap.read_csv(path).lots[0].dismiss == ("fence", "gate board")
