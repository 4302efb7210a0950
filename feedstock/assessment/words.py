"""Findings about the words of a lot: what a danger word asks, and what answers it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from ..lot.words import Heard, WordsOfLot
from ..model.findings import Finding, Verdict
from ..quantities.data import trusted
from ..tables.citations import citations
from ..tables.names.danger import KINDS, answer_to, basis_of
from ..tables.rows.methods.language import DangerWords
from ..tables.tables import Tables
from ..words import Message, Texts, Values

_WORDS = re.compile(r"[^\W_]+(?:['\u2019][^\W_]+)*")

HEARD, DISMISSED, NOT_READ = "word-heard", "word-dismissed", "words-not-read"


def word_findings(
    words: WordsOfLot, findings: Sequence[Finding], tables: Tables, lot: str
) -> Iterator[Finding]:
    """A finding for each danger word, `findings` being those of the lot's own evidence.

    A word that the lot's own rows speak of is theirs to judge, as long as they leave a question or
    answer one: no row that says nothing can settle a word.
    """
    judged = any(
        finding.axis in ("contamination", "handling")
        and (finding.cleared or finding.permits > Verdict.READY)
        for finding in findings
    )
    keys = set()
    for heard in words.heard:
        if heard.settled and judged:
            continue
        key = (heard.hit.phrase.casefold(), heard.where, heard.dismissed)
        if key not in keys:
            keys.add(key)
            yield _finding(heard, tables, lot)
    if words.unread:
        yield _not_read(words.unread, tables, lot)


def _finding(heard: Heard, tables: Tables, lot: str) -> Finding:
    hit = heard.hit
    values: dict[str, object] = {
        "word": _one_line(hit.phrase),
        "where": Message(f"word.in.{heard.where}"),
        "about": Message(f"word.{hit.warns_of.replace(' ', '-')}"),
        "heap": heard.where.startswith("heap"),
        "material": heard.where == "material",
    }
    answer = None if heard.dismissed else answer_to(tables, hit)
    if answer is not None:
        field, row_id = answer
        values |= {"field": field, "answer": _called(tables, KINDS[field], row_id)}
    return trusted(Finding)(
        code=DISMISSED if heard.dismissed else HEARD,
        axis="contamination",
        permits=Verdict.READY if heard.dismissed else Verdict.CHECK_FIRST,
        evidence=(Message("evidence.wrote", what=hit.phrase),),
        sources=citations(*basis_of(tables, hit), tables),
        lot=lot,
        cleared=heard.dismissed,
        values=Values(values),
    )


def _one_line(phrase: str) -> str:
    """The words of a phrase without what stands between them, so that it can be written down."""
    return " ".join(_WORDS.findall(phrase))


def _called(tables: Tables, kind: str, row_id: str) -> Texts:
    return tables.rows[kind][row_id].called(row_id.partition(":")[2])


def _not_read(unread: Iterable[str], tables: Tables, lot: str) -> Finding:
    row_id, row = next(iter(tables.rows_of("methods", DangerWords)))
    return trusted(Finding)(
        code=NOT_READ,
        axis="words",
        permits=Verdict.READY,
        sources=citations("methods", row_id, row, tables),
        lot=lot,
        values=Values({"words": tuple(unread)}),
    )
