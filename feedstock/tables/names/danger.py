"""Danger words in what a person wrote: what they warn of, and where they say no danger."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from ...quantities.frozen import frozen
from ..rows.methods.language import DangerClass, WarnsOf
from ..rows.row import Sourced
from . import (
    bearings,
    clauses,
    denials,
    elsewhere,
    governors,
    meanings,
    substances,
    tellings,
    ties,
    topics,
    workers,
)
from .compiled import language_of
from .language import Language
from .meanings import Field, Nature
from .spans import Span, misspelt, spans_of
from .surroundings import Surroundings
from .text import Token, words_of
from .trie import Entry

if TYPE_CHECKING:
    from ..tables import Tables

KINDS = {"material": "materials", "origin": "origins", "signs": "signs"}
ANSWERS = {kind: field for field, kind in KINDS.items()}


@frozen
class Hit:
    """A danger word in a text: what it warns of, the words as they stand there, from `start` to
    `end`, the phrase that they match, and the class or the row that it belongs to.
    """

    warns_of: WarnsOf
    phrase: str
    start: int
    end: int
    entry: str
    danger: str
    row: str
    field: Field
    weak: bool = False
    kind: str = ""


def scan(
    tables: Tables,
    text: str,
    field: Field = "remarks",
    settled: Iterable[str] = (),
    *,
    nature: Nature = "any",
    language: str = "en",
) -> tuple[Hit, ...]:
    """The danger words of a text, in order.

    `settled` are the words of the lot's own material, origin and signs; `nature` is what the lot is
    known to be, so that in bark a weak word for a sawn thing is none; `language` is the reader's.
    """
    vocabulary = language_of(tables)
    words = vocabulary.split(text)
    spans = spans_of(vocabulary, words)
    if not spans:
        return ()
    around = Surroundings(vocabulary, text, words, spans, nature)
    settled_stems = {stem for name in settled for stem in words_of(name)}
    language = meanings.language_of_text(vocabulary, words, language)
    gone = denials.removed_later(around)
    hits = []
    for span in spans:
        if span.danger is None:
            open_ = around.is_left_open(span) or _is_denied_again(around, span)
            entry = span.denial if open_ else None
        elif span.first in around.gone or meanings.is_another(
            vocabulary, span, words, field, language
        ):
            continue
        else:
            entry = meanings.strongest(span, field, language)
            if meanings.is_misread(vocabulary, span, words, entry, language):
                continue
            if nature != "any" and clauses.is_where_it_grew(around, span, entry):
                continue
            if entry.phrase in gone and span.first < gone[entry.phrase]:
                continue
            if _means_nothing(around, span, entry):
                continue
        if entry is None or entry.warns_of is None or around.stems(span) <= settled_stems:
            continue
        start, end = words[span.first].start, words[span.last - 1].end
        of = (entry.phrase, entry.of, entry.row)
        hit = Hit(entry.warns_of, text[start:end], start, end, *of, field, entry.weak, entry.kind)
        hits.append(hit)
    return tuple(dict.fromkeys(hits))


_TELLING = (
    governors.is_governed_apart,
    tellings.is_only_told,
    topics.is_of_another,
    elsewhere.is_away,
    workers.is_of_the_work,
    bearings.is_a_bearing,
    ties.is_untied,
    substances.is_of_something_else,
)
"""Whether the clause of a danger tells of something else than what the lot is."""


def _is_denied_again(around: Surroundings, span: Span) -> bool:
    """Whether what denies a danger is denied itself: `not unpainted`."""
    return span.denial is not None and denials.is_denied(around, span, span.denial)


def _means_nothing(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a danger word, where it stands, says no danger of the lot."""
    if entry.weak and not _weak_counts(around.vocabulary, around.words, span):
        return True
    if _is_a_measure(around, span, entry) or clauses.is_an_address(around, span, entry):
        return True
    if bearings.stood_there_before(around, span):
        return False
    if denials.is_elsewhere(around, span, entry):
        return True
    if not bearings.was_taken_apart(around, span) and clauses.is_apart(around, span, entry):
        if entry.warns_of == "thing":
            around.aside.update(range(span.first, span.last))
        return True
    if any(tells(around, span, entry) for tells in _TELLING):
        return True
    if _is_on_a_thing_apart(around, span, entry):
        return True
    tool = around.follows(span.last) in around.vocabulary.tools
    if entry.warns_of == "on it" and tool and not around.words[span.last].word.endswith("ed"):
        return True  # not `nails hammered in`
    if around.is_left_open(span):
        return False
    return denials.is_denied(around, span, entry) or (
        denials.can_be_removed(around, span, entry) and denials.is_removed(around, span)
    )


def _is_on_a_thing_apart(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is said of a thing beside which the lot lies: `by the creosoted fence`; what
    spreads from there counts.
    """
    class_ = around.of_class(entry)
    if entry.warns_of != "on it" or entry.foreign or class_ is None or class_.spreads:
        return False
    of = next((s for s in around.spans if s.first == span.last and s.danger is not None), None)
    if of is None or of.danger is None or of.danger.warns_of != "thing":
        return False
    if around.words[of.first].joint != " " or around.is_resumed(of.last):
        return False
    governor = governors.name_of(around, span).governor
    if governor >= 0 and around.words[governor].stem in around.vocabulary.within:
        return False  # `in the sump oil puddle`
    if bearings.was_taken_apart(around, of):
        return False
    return clauses.is_apart(around, of, of.danger)


def unread(tables: Tables, text: str) -> tuple[str, ...]:
    """The words of a text that nothing knows, as they stand there; numbers are no words."""
    vocabulary = language_of(tables)
    return tuple(
        dict.fromkeys(
            text[w.start : w.end]
            for w in vocabulary.split(text)
            if w.stem not in vocabulary.known
            and len(w.word) > 2
            and not w.word[0].isdigit()
            and misspelt(vocabulary, w) is None
        )
    )


def is_dismissed(tables: Tables, hit: Hit, word: str) -> bool:
    """Whether `word` is the phrase that was found, or the danger word within it."""
    asked, written = words_of(word), words_of(hit.phrase)
    if not asked:
        return False
    if asked in (written, words_of(hit.entry)):
        return True
    within = any(written[at : at + len(asked)] == asked for at in range(len(written)))
    end, entries = language_of(tables).scanned.longest(list(asked))
    return within and end == len(asked) and any(e.role == "danger" for e in entries)


def answer_to(tables: Tables, hit: Hit) -> tuple[str, str] | None:
    """The field and the row that say that it is so: the sign, origin or board whose name was
    written, else what the class asks for; None where the tables have none.
    """
    own = (ANSWERS[hit.kind], hit.row) if hit.kind in ANSWERS else None
    _, one = language_of(tables).classes.get(hit.danger, ("", None))
    for field, name in one.answer.items() if one is not None else ():
        if own is None or (hit.kind == "materials" and field != "material"):
            return field, tables.find(KINDS[field], name)
    return own


def basis_of(tables: Tables, hit: Hit) -> tuple[str, str, Sourced]:
    """The row of the tables that says why a word warns: kind, full name and what is cited."""
    known = language_of(tables).classes.get(hit.danger)
    if known is not None:
        return "methods", *known
    row = tables.rows[hit.kind][hit.row]
    if isinstance(row, Sourced):
        return hit.kind, hit.row, row
    return hit.kind, hit.row, DangerClass(warns_of=hit.warns_of)


def _weak_counts(vocabulary: Language, words: list[Token], span: Span) -> bool:
    """Whether a weak word stands where it is the thing and no other use of the word."""
    before = words[span.first - 1] if span.first else None
    after = words[span.last] if span.last < len(words) else None
    if after is not None and before is not None and before.stem in vocabulary.counts:
        if after.stem in vocabulary.links:
            return False  # `ten steps to the right`
    if words[span.first].joint == "-" or (after is not None and after.joint == "-"):
        return False
    if after is None or after.joint == "," or after.stem in vocabulary.clause_ends:
        return True
    if after.stem in vocabulary.weak_after:
        return True
    return (
        before is not None
        and words[span.first].joint == " "
        and before.stem in vocabulary.weak_before
    )


def _is_a_measure(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a thing only says how big or how straight a piece is, or what something is like:
    `pencil thick`, `tar-like`.
    """
    if (
        around.follows(span.last) in around.vocabulary.likens
        and around.words[span.last].joint == "-"
    ):
        return True
    if entry.warns_of != "thing" and not entry.foreign:
        return False
    return around.follows(span.last) in around.vocabulary.measures
