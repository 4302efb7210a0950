"""A matrix of the fire itself: vessel, ground and lighting, each word with the verdict that a dry
and clean lot gets over it.

The verdicts were written down from the rows' sources: what poisons char or breath, or may burst,
stays out; what a look, a question or a laboratory can settle is checked first; a plain hazard to
the place or the hand is told and leaves the lot ready.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import pytest

from builders import own_set, tables
from feedstock import Burn, Heap, Lot, UnknownName, Verdict, appraise, load_tables
from feedstock.lot.evidence import known_burn_words
from feedstock.model.appraisal import LotAppraisal
from feedstock.tables.tables import Tables

pytestmark = pytest.mark.property

ROWS = """
vessel | galvanised | keep out | vessel-galvanised
vessel | painted | keep out | vessel-painted
vessel | lined | keep out | vessel-lined
vessel | unknown content | keep out | vessel-unknown-content
vessel | unstated past | check first | vessel-past
vessel | oil drum | keep out | vessel-unknown-content
vessel | fuel drum | keep out | vessel-unknown-content
vessel | chemical drum | keep out | vessel-unknown-content
vessel | paint drum | keep out | vessel-unknown-content
vessel | enamelled | check first | vessel-enamelled
vessel | clean food drum | ready | vessel-food-drum
vessel | ceramic | ready | vessel-ceramic
vessel | bare steel | ready | -
vessel | stainless steel | ready | -
vessel | cast iron | ready | -
vessel | brick | ready | -
vessel | new drum | ready | -
vessel | built for it | ready | -
ground | old bonfire | check first | ground-old-bonfire
ground | town soil | check first | ground-town-soil
ground | old orchard soil | check first | ground-old-orchard
ground | peat | keep out | ground-peat
ground | roots | check first | ground-roots
ground | lawn | ready | ground-lawn
ground | paving | ready | ground-paving
ground | bare soil | ready | -
ground | gravel | ready | -
lighting | liquid fuel | keep out | lighting-liquid
lighting | petrol | keep out | lighting-liquid
lighting | diesel | keep out | lighting-liquid
lighting | paraffin | keep out | lighting-liquid
lighting | white spirit | keep out | lighting-liquid
lighting | plastic | keep out | lighting-plastic
lighting | glossy paper | check first | lighting-glossy
lighting | firelighter | check first | lighting-firelighter
lighting | dry twigs | ready | -
lighting | plain paper | ready | -
lighting | wood wool | ready | -
"""


@dataclass(frozen=True)
class Row:
    """One line of the matrix."""

    part: str
    word: str
    verdict: Verdict
    code: str

    def __str__(self) -> str:
        return f"{self.part} {self.word}"


MATRIX = [
    Row(part, word, Verdict(verdict), code)
    for part, word, verdict, code in (
        (cell.strip() for cell in line.split("|")) for line in ROWS.strip().splitlines()
    )
]
OAK = Lot(material="oak", mass="10 kg", moisture="12 % wet", origin="own trees")


def judged(
    around: dict[str, list[str]], burner: str = "kettle", found: Tables | None = None
) -> LotAppraisal:
    burn = Burn.model_validate({"burner": burner, **around})
    return appraise(Heap(lots=[OAK]), burn, found or tables()).lots[0]


def test_the_matrix_holds_every_word_that_a_burn_may_say() -> None:
    for part in ("vessel", "ground", "lighting"):
        told = {row.word.replace(" ", "-") for row in MATRIX if row.part == part}
        assert told == known_burn_words(part, tables()), part


@pytest.mark.parametrize("row", MATRIX, ids=str)
def test_each_word_has_its_verdict_and_reason(row: Row) -> None:
    result = judged({row.part: [row.word]})
    told = {f.code: f.permits for f in result.findings}
    assert result.verdict is row.verdict, told
    assert max(told.values(), default=Verdict.READY) is row.verdict
    if row.code == "-":
        assert not {code for code in told if code.startswith(row.part)}
    else:
        assert told[row.code] is row.verdict


@pytest.mark.parametrize("row", MATRIX, ids=str)
def test_no_clean_word_beside_it_makes_a_word_better(row: Row) -> None:
    clean = [r.word for r in MATRIX if r.part == row.part and r.code == "-"]
    result = judged({row.part: [*clean, row.word.upper().replace(" ", "-")]})
    assert result.verdict is row.verdict


@pytest.mark.parametrize("burner", ["drum", "drum kiln", "retort"])
def test_the_past_of_a_drum_is_asked(burner: str) -> None:
    for silent in ([], ["bare steel"], ["stainless steel"]):
        asked = judged({"vessel": silent}, burner)
        assert asked.verdict is Verdict.CHECK_FIRST
        found = next(f for f in asked.findings if f.code == "vessel-past")
        assert "new drum" in found.action
        assert found.settle
    for word in ("new drum", "built for it", "clean food drum"):
        assert judged({"vessel": [word]}, burner).verdict is Verdict.READY
    assert judged({"vessel": ["unknown content"]}, burner).verdict is Verdict.KEEP_OUT


@pytest.mark.parametrize("burner", ["pit", "cone pit", "trench", "kettle", "barbecue", "campfire"])
def test_what_is_no_drum_is_not_asked_for_its_past(burner: str) -> None:
    assert judged({}, burner).verdict is Verdict.READY


DANGERS = [row for row in MATRIX if row.verdict > Verdict.READY]


@cache
def loosened(codes: frozenset[str]) -> Tables:
    """The reference with these suspicions let pass, each with its reason."""
    change = {"permits": "ready", "loosens": {"reason": "a trial"}}
    rows = {f"reference:{code}": change for code in codes}
    return load_tables(own_set("loose", amend={"contaminants": rows}), plugins=False)


@pytest.mark.parametrize("row", DANGERS, ids=str)
def test_a_looser_row_is_seen(row: Row) -> None:
    """A set that lets words pass, with its reason declared, changes the verdicts of this matrix."""
    found = loosened(frozenset(row.code for row in DANGERS))
    assert judged({row.part: [row.word]}, found=found).verdict is Verdict.READY


def test_a_looser_row_moves_its_own_words_and_no_other() -> None:
    code = DANGERS[0].code
    found = loosened(frozenset({code}))
    for row in DANGERS:
        expected = Verdict.READY if row.code == code else row.verdict
        assert judged({row.part: [row.word]}, found=found).verdict is expected, row


@pytest.mark.parametrize(
    ("part", "word"),
    [("vessel", "sheep dip drum"), ("vessel", "old drum"), ("ground", "old tip soil")],
)
def test_no_word_that_raises_nothing_is_offered_for_one_that_is_not_known(
    part: str, word: str
) -> None:
    with pytest.raises(UnknownName) as why:
        judged({part: [word]})
    quiet = {row.word.replace(" ", "-") for row in MATRIX if row.verdict is Verdict.READY}
    assert not set(why.value.problems[0].nearest) & quiet
