"""The phrases of the corpora from a heap to its verdict, on lots of every form and every way of
giving an amount. The judgements stand in the corpora, each with its published basis, and were
written before any rule.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, NamedTuple, get_args

import pytest

from builders import tables, yaml_data
from feedstock import FeedstockError, Heap, UnknownName, Verdict, appraise
from feedstock.model.appraisal import LotAppraisal
from feedstock.model.findings import Finding
from feedstock.tables.names.danger import scan
from feedstock.tables.names.meanings import Nature

pytestmark = pytest.mark.published

HERE = Path(__file__).parent
HALVES = (*"abcd", *(f"{name}{half}" for name in "efghijkmln" for half in (1, 2)), *"pqrstuvwx")
OTHERS = "jkmnpqrstuvwx"  # sets of other authors: of these only what is heard is appraised
# what may go wrong: of harmless and of clean phrases, and of clean names that are understood
MOST_HARMLESS, MOST_CLEAN, LEAST_UNDERSTOOD = 0.05, 0.05, 0.95


class Short(NamedTuple):
    """What falls short of a set that nobody has read to write rules: how many dangerous phrases are
    ready, how many harmless ones blocked, how many clean names not understood.
    """

    ready: int = 0
    blocked: int = 0
    unknown: int = 0


# t, u and v have been read, w and x have not; of t two clean names and of v one are not understood
SHORT = {
    "t": Short(0, 11, 2),
    "u": Short(0, 3),
    "v": Short(0, 4, 1),
    "w": Short(0, 9),
    "x": Short(0, 11),
}

SOLID = ("round wood", "sawn", "heap")
AMOUNTS: tuple[dict[str, Any], ...] = (
    {"mass": "20 kg"},
    {"volume": "200 L", "packing": "loose"},
    {"containers": {"count": 3, "of": "wheelbarrow"}},
    {
        "stack": {"shape": "box", "width": "1 m", "length": "1 m", "height": "0.5 m"},
        "packing": "loose",
    },
)
PIECES = {"pieces": {"count": 20, "diameter": "40 mm", "length": "1 m"}}
BOARDS = {"pieces": {"count": 20, "width": "90 mm", "thickness": "20 mm", "length": "1 m"}}


@cache
def corpus(half: str) -> dict[str, Any]:
    return dict(yaml_data(HERE / f"corpus_{half}.yaml"))


def ways(form: str) -> tuple[dict[str, Any], ...]:
    """The ways of giving an amount of such a lot."""
    counted = {"round wood": (PIECES,), "heap": (PIECES,), "sawn": (BOARDS,)}.get(form, ())
    return (*AMOUNTS, *counted)


def heap_of(
    each: dict[str, Any], lots: dict[str, Any], amount: dict[str, Any], **more: Any
) -> Heap:
    about = lots[each["lot"]]
    lot = {key: about[key] for key in ("material", "origin", "moisture") if key in about}
    if "sign" in about:
        lot["signs"] = [about["sign"]]
    lot |= amount
    said = {each["where"]: each["text"], **more}
    return Heap.model_validate(
        {**said, "lots": [lot]} if about["form"] == "heap" else {"lots": [{**lot, **said}]}
    )


def appraised(
    each: dict[str, Any], lots: dict[str, Any], amount: dict[str, Any], **more: Any
) -> LotAppraisal | None:
    """The lot with the phrase; None where its material is refused."""
    try:
        return appraise(heap_of(each, lots, amount, **more), tables=tables()).lots[0]
    except UnknownName:
        assert each["where"] == "material"
        return None


class Looked(NamedTuple):
    """What is asked of a lot with a phrase: its verdict, the codes of its findings, and the
    findings that hold it back.
    """

    verdict: Verdict
    codes: frozenset[str]
    holding: tuple[Finding, ...]


@cache
def looked_at(half: str, number: int) -> Looked | None:
    """A phrase of a half on its own kind of lot, in the way of giving an amount whose turn it is;
    None where its material is refused.
    """
    each, lots = corpus(half)["phrases"][number], corpus(half)["lots"]
    found = appraised(each, lots, one_way(number, lots[each["lot"]]["form"]))
    if found is None:
        return None
    holding = tuple(f for f in found.findings if f.permits > Verdict.DRY_FIRST)
    return Looked(found.verdict, frozenset(f.code for f in found.findings), holding)


def is_heard(each: dict[str, Any]) -> bool:
    """Whether a word of a phrase is heard on some kind of lot: where none is, no lot is asked."""
    said, where = each["text"], each["where"]
    return any(scan(tables(), said, where, nature=nature) for nature in get_args(Nature))


def one_way(number: int, form: str) -> dict[str, Any]:
    """The ways by turns, so that each meets every kind of phrase."""
    every = ways(form)
    return every[number % len(every)]


@pytest.mark.parametrize("half", HALVES)
def test_no_dangerous_phrase_is_ready(half: str) -> None:
    """In name, remarks, material. At first sight 4.0 % of half b were ready (10 of 249), 4.1 % of
    set c (5 of 121), 3.2 % of set d (5 of 157), 4.4 % of set e (7 of 158), 9.0 % of set f (9 of
    100), 9.2 % of set g (9 of 98), none of set h (of 60), 5.0 % of set i (3 of 60) and 5.0 % of the
    remarks in German, French and Spanish (6 of 120); of the sets of other authors none of j (of
    60), 5.0 % of k (3 of 60), none of m (of 60) and none of n (of 40), 6.7 % of p (2 of 30),
    none of q (of 30), 13 % of r (4 of 30) and none of s (of 30); none as material. All that were
    read stand as regression now. Of r, before it was read, 10 % (3 of 30) were ready once p and q
    had been: with s 5 % (3 of 60), at first sight 7 % (4 of 60); of t 3 % (1 of 30). Of u to x
    at first sight none, one, one and none (of 30 each); those of v and w have been read since.
    """
    lots, wrong, count = corpus(half)["lots"], [], 0
    for number, each in enumerate(corpus(half)["phrases"]):
        if each["judgement"] != "dangerous":
            continue
        count += 1
        found = appraised(each, lots, one_way(number, lots[each["lot"]]["form"]))
        if found is not None and found.verdict < Verdict.CHECK_FIRST:
            wrong.append(f"{each['where']}: {each['text']}")
    print(f"half {half}: {len(wrong)} of {count} dangerous phrases ready")
    assert count >= 20
    assert len(wrong) <= SHORT.get(half, Short()).ready


@pytest.mark.parametrize("half", HALVES)
def test_harmless_and_clean_phrases_pass(half: str) -> None:
    """Blocked counts what a word or a refusal blocks; what a row of the tables asks has its
    published source and its own answer, and is printed. At first sight 31 % of set d were blocked
    (25 of 80), 33 % of set e (55 of 168), 22 % of set f (30 of 138), 31 % of set g (37 of 118),
    19 % of set h (19 of 100) and 17 % of set i (10 of 60). Of the halves that were counted alone,
    once the other half had been read, 23 % of e2 (19 of 84) and 31 % of g2 (18 of 59). Sets a to i
    are of one author. Of four others, at first sight, 42 % of set j were blocked (46 of 110; j1 21
    and j2 25 of 55), 48 % of set k (53 of 110; 20 and 33), 37 % of set m (41 of 110; 21 and 20) and
    42 % of set n (34 of 80; 17 and 17 of 40). Of the halves that nobody had read, once the
    other half had been, 20 % of m2 (11 of 55) and 38 % of n2 (15 of 40). Of the everyday phrases
    of four more authors, at first sight, 40 % each of p and q were blocked (20 of 50), 32 % of r
    (16 of 50) and 36 % of s (18 of 50), and 8, 6, 4 and 9 of 10 clean names were understood. Sets r
    and s were counted twice more while nobody had read them: once p and q had been read and the
    rules made for any name, 18 % of r were blocked (9 of 50), 22 % of s (11 of 50) and 7 and 10 of
    10 names understood; after another 500 phrases by the author of the rules the same, with 8 of
    10 names of r. They have been read since and stand as regression. Of a ninth author's set t
    38 % were blocked at first sight (19 of 50), 36 % once r and s had been read (18 of 50). Of four
    more authors' sets u to x 18, 18, 22 and 28 % were blocked at first sight (9, 9, 11 and 14 of
    50) and 10, 9, 10 and 10 of 10 clean names understood; of w and x 18 and 22 % (9 and 11 of 50)
    once t, u and v had been read.
    """
    count = {"harmless trigger": 0, "clean": 0, "names": 0}
    wrong: dict[str, list[str]] = {"harmless trigger": [], "clean": [], "names": []}
    with_reason = []
    for number, each in enumerate(corpus(half)["phrases"]):
        judged = each["judgement"]
        if judged == "dangerous":
            continue
        if judged == "harmless trigger" and half[0] in OTHERS and not is_heard(each):
            count[judged] += 1
            continue
        found = looked_at(half, number)
        if judged == "clean" and each["where"] == "material":
            count["names"] += 1
            wrong["names"] += [] if found is not None else [each["text"]]
        if each["at best"] != "ready":
            continue
        count[judged] += 1
        if found is None or "word-heard" in found.codes:
            wrong[judged].append(each["text"])
        elif found.verdict > Verdict.DRY_FIRST:
            assert all(f.sources and f.action for f in found.holding)
            codes = ", ".join(f.code for f in found.holding)
            with_reason.append(f"{each['text']}: {codes}")
    print(f"half {half}: {count}, blocked {wrong}, with a published reason {with_reason}")
    short = SHORT.get(half, Short())
    blocked, clean = len(wrong["harmless trigger"]), len(wrong["clean"])
    assert blocked <= max(MOST_HARMLESS * count["harmless trigger"], short.blocked)
    assert clean <= max(MOST_CLEAN * count["clean"], short.unknown)
    unknown = (1 - LEAST_UNDERSTOOD) * count["names"]
    assert len(wrong["names"]) <= max(unknown, short.unknown)


def test_every_way_of_giving_an_amount_leads_to_one_verdict() -> None:
    """Of the first phrase of each kind of danger in each field, on its own kind of lot."""
    seen: set[tuple[str, str, str]] = set()
    for half in HALVES:
        lots = corpus(half)["lots"]
        for each in corpus(half)["phrases"]:
            form = lots[each["lot"]]["form"]
            kind = (each.get("kind", ""), each["where"], form)
            if each["judgement"] != "dangerous" or each["where"] == "material" or kind in seen:
                continue
            seen.add(kind)
            verdicts = set()
            for amount in ways(form):
                found = appraised(each, lots, amount)
                assert found is not None
                verdicts.add(found.verdict)
            assert len(verdicts) == 1, each["text"]
            assert verdicts.pop() >= Verdict.CHECK_FIRST
    assert len(seen) > 20


@pytest.mark.parametrize("half", HALVES)
def test_each_question_is_answered_by_the_line_that_it_gives(half: str) -> None:
    """Every fifth phrase: the words that the findings ask about, dismissed as they say, leave the
    lot as it would be without the phrase, and stay to be seen.
    """
    lots = corpus(half)["lots"]
    for number, each in enumerate(corpus(half)["phrases"][::5]):
        if each["where"] == "material":
            continue
        amount = one_way(number, lots[each["lot"]]["form"])
        asked = appraised(each, lots, amount)
        assert asked is not None
        words = [str(f.values["word"]) for f in asked.findings if f.code == "word-heard"]
        if not words:
            continue
        is_heap = lots[each["lot"]]["form"] == "heap"
        freed = appraised(each, lots, amount, dismiss=words)
        plain = appraised({**each, "text": "cut in february"}, lots, amount)
        assert freed is not None
        assert plain is not None
        assert freed.verdict == plain.verdict, (each["text"], is_heap)
        told = [f for f in freed.findings if f.code == "word-dismissed"]
        assert [str(f.values["word"]) for f in told] == words


PAIRS = yaml_data(HERE / "pairs.yaml")


def test_a_soothing_word_soothes_nothing_and_its_twin_passes() -> None:
    """Each pair on its lot: the first asks, the second does not, for the words' sake."""
    heard, missed, blocked = 0, [], []
    for number, pair in enumerate(PAIRS["pairs"]):
        amount = one_way(number, PAIRS["lots"][pair["lot"]]["form"])
        for part in ("dangerous", "harmless"):
            each = {"text": pair[part], "where": pair["where"], "lot": pair["lot"]}
            try:
                found = appraised(each, PAIRS["lots"], amount)
            except FeedstockError as why:
                pytest.fail(f"{pair[part]}: {why}")
            asks = found is None or found.verdict > Verdict.DRY_FIRST
            if part == "dangerous":
                heard += asks
                missed += [] if asks else [pair[part]]
            elif pair["at best"]["harmless"] == "ready" and (
                found is None or any(f.code == "word-heard" for f in found.findings)
            ):
                blocked.append(pair[part])
    print(f"pairs: {heard} of {len(PAIRS['pairs'])} heard, missed {missed}, blocked {blocked}")
    assert len(PAIRS["pairs"]) >= 100
    assert missed == []
    assert len(blocked) <= MOST_HARMLESS * len(PAIRS["pairs"])
