"""Danger words in what a person wrote: what they warn of, and where they say no danger."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from ...quantities.frozen import frozen
from ..rows.methods.language import DangerClass, WarnsOf
from ..rows.row import Sourced
from .compiled import language_of
from .language import Language
from .spans import Span, misspelt, spans_of
from .text import Token, words_of
from .trie import Entry, Phrase

if TYPE_CHECKING:
    from ..tables import Tables

Field = Literal["material", "name", "remarks"]

KINDS = {"material": "materials", "origin": "origins", "signs": "signs"}
ANSWERS = {kind: field for field, kind in KINDS.items()}

_SHORT_FOREIGN, _MOST_GAP, _LONGEST = 5, 5, 4


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
    barked: bool = False,
    language: str = "en",
) -> tuple[Hit, ...]:
    """The danger words of a text, in order.

    `settled` are the words of the lot's own material, origin and signs; `barked` says that the
    lot's pieces are in bark, so that a weak word for a sawn thing is none; `language` is the
    reader's.
    """
    vocabulary = language_of(tables)
    words = vocabulary.split(text)
    spans = spans_of(vocabulary, words)
    if not spans:
        return ()
    settled_stems = {stem for name in settled for stem in words_of(name)}
    dangers = {p for span in spans if span.danger for p in range(span.first, span.last)}
    hedged = any(
        word.stem in vocabulary.hedge_ends and _ends_at(words, vocabulary.hedges, at)
        for at, word in enumerate(words)
    )
    gone = {} if hedged else _removed_later(vocabulary, words, spans, dangers)
    hits = []
    aside: set[int] = set()
    for span in spans:
        if span.danger is None:
            entry = span.denial if hedged else None
        elif _is_too_short(span, field, language) or _is_the_plant(span, words, field):
            continue
        else:
            entry = _strongest(span, field, language)
            if barked and _is_a_place_of_bark(vocabulary, words, span, entry):
                continue
            if entry.phrase in gone and span.first < gone[entry.phrase]:
                continue
            if _means_nothing(vocabulary, words, span, entry, dangers, aside, hedged):
                continue
        stems = {words[p].stem for p in range(span.first, span.last)}
        if entry is None or entry.warns_of is None or stems <= settled_stems:
            continue
        start, end = words[span.first].start, words[span.last - 1].end
        of = (entry.phrase, entry.of, entry.row)
        hit = Hit(entry.warns_of, text[start:end], start, end, *of, field, entry.weak, entry.kind)
        hits.append(hit)
    return tuple(dict.fromkeys(hits))


def _means_nothing(
    vocabulary: Language,
    words: list[Token],
    span: Span,
    entry: Entry,
    dangers: set[int],
    aside: set[int],
    hedged: bool,
) -> bool:
    """Whether a danger word, where it stands, says no danger of the lot."""
    if entry.weak and not _weak_counts(vocabulary, words, span):
        return True
    if _is_a_measure(vocabulary, words, span, entry):
        return True
    if entry.warns_of == "thing" and _is_beside(vocabulary, words, span, dangers, aside):
        aside.update(range(span.first, span.last))
        return True
    if entry.warns_of == "on it" and _is_of_a_tool(vocabulary, words, span):
        return True
    if hedged:
        return False
    return _is_denied(vocabulary, words, span, dangers) or (
        entry.foreign and _is_removed(vocabulary, words, span, dangers)
    )


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
    danger_class = language_of(tables).classes.get(hit.danger)
    if danger_class is not None:
        return "methods", *danger_class
    row = tables.rows[hit.kind][hit.row]
    if isinstance(row, Sourced):
        return hit.kind, hit.row, row
    return hit.kind, hit.row, DangerClass(warns_of=hit.warns_of)


def _strongest(span: Span, field: Field, language: str) -> Entry:
    """Of several meanings of one phrase, a strong one, and one that is no mere thing; a short
    foreign one is none outside the material where the reader's language has one.
    """
    dangers = [e for e in span.entries if e.role == "danger"]
    if field != "material":
        own = (language, "en", "la")
        near = [e for e in dangers if e.language in own or len(e.phrase) >= _SHORT_FOREIGN]
        dangers = near or dangers
    chosen = min(dangers, key=lambda e: (e.weak, e.warns_of == "thing"))
    if chosen.row:
        return chosen
    named = next((e for e in dangers if e.row), chosen)
    return replace(chosen, row=named.row, kind=named.kind) if named.row else chosen


def _is_the_plant(span: Span, words: list[Token], field: Field) -> bool:
    """Whether a weak word is the whole name of a material and a plant's: `docks`, `broom`."""
    whole = field == "material" and span.last - span.first == len(words)
    weak = all(entry.weak for entry in span.entries if entry.role == "danger")
    return whole and weak and any(entry.role == "plant" for entry in span.entries)


def _is_too_short(span: Span, field: Field, language: str) -> bool:
    """A short foreign word, or one that is a word of the reader's language, counts as the
    material alone.
    """
    dangers = [e for e in span.entries if e.role == "danger"]
    if field == "material" or any(e.language in (language, "en", "la") for e in dangers):
        return False
    readers = any(e.role != "danger" and e.language == language for e in span.entries)
    return readers or all(len(e.phrase) < _SHORT_FOREIGN for e in dangers)


def _ends_at(words: list[Token], phrases: set[Phrase], last: int) -> int:
    """How many words of the longest of some phrases end with the word at `last`; 0 for none."""
    for length in range(min(_LONGEST, last + 1) if last < len(words) else 0, 0, -1):
        if tuple(w.stem for w in words[last - length + 1 : last + 1]) in phrases:
            return length
    return 0


def _weak_counts(vocabulary: Language, words: list[Token], span: Span) -> bool:
    """Whether a weak word stands where it is the thing and no other use of the word."""
    before = words[span.first - 1] if span.first else None
    after = words[span.last] if span.last < len(words) else None
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


def _is_a_measure(vocabulary: Language, words: list[Token], span: Span, entry: Entry) -> bool:
    """Whether a thing only says how big or how straight a piece is: `pencil thick`."""
    if entry.warns_of != "thing" and not entry.foreign or span.last >= len(words):
        return False
    after = words[span.last]
    return after.joint in " -" and after.stem in vocabulary.measures


def _is_beside(
    vocabulary: Language, words: list[Token], span: Span, dangers: set[int], aside: set[int]
) -> bool:
    """Whether a place phrase with an article stands before the thing, with nothing between but
    another thing (`against the shed wall`) or what kind of thing it is; `aside` are the words of
    the things before it that are beside the lot.
    """
    at = span.first
    while at > 0 and words[at].joint == " ":
        at -= 1
        if _ends_at(words, vocabulary.bare_places, at):
            return True
        if words[at].stem in vocabulary.articles:
            while at > 0 and words[at].joint == " " and words[at - 1].stem in vocabulary.articles:
                at -= 1  # `the neighbour's`
            if at == 0 or words[at].joint != " ":
                return False
            return _ends_at(words, vocabulary.places, at - 1) > 0 or (
                words[at - 1].stem in vocabulary.within
                and _stays(vocabulary, words, at - 1, dangers, aside)
            )
        if at not in dangers and words[at].stem not in vocabulary.beside_between:
            return False
    return False


def _stays(
    vocabulary: Language, words: list[Token], at: int, dangers: set[int], aside: set[int]
) -> bool:
    """Whether what stands before the word at `at` says that the lot only lay there: `kept dry` in
    the barn, or `under the bench` in it.
    """
    for before in range(at - 1, max(-1, at - _MOST_GAP), -1):
        if words[before + 1].joint != " ":
            return False
        if before in aside or words[before].stem in vocabulary.staying:
            return True
        if before in dangers:
            return False
    return False


def _is_a_place_of_bark(vocabulary: Language, words: list[Token], span: Span, entry: Entry) -> bool:
    """Whether a weak word with its article, said of pieces in their bark, tells where they grew:
    `from the house`. A strong word names a thing all the same, and is asked about.
    """
    after_article = span.first and words[span.first - 1].stem in vocabulary.articles
    return bool(after_article and entry.weak and entry.under_bark and entry.warns_of == "thing")


def _is_of_a_tool(vocabulary: Language, words: list[Token], span: Span) -> bool:
    """Whether what follows at once is a tool: what is on it or drives it is not on the lot."""
    after = words[span.last] if span.last < len(words) else None
    return after is not None and after.joint in " -" and after.stem in vocabulary.tools


def _removed_later(
    vocabulary: Language, words: list[Token], spans: list[Span], dangers: set[int]
) -> dict[str, int]:
    """Where foreign matter is said to be picked out, which answers what was said of it before."""
    return {
        entry.phrase: span.first
        for span in spans
        if (entry := span.danger) is not None
        and entry.foreign
        and _is_removed(vocabulary, words, span, dangers)
    }


def _is_denied(vocabulary: Language, words: list[Token], span: Span, dangers: set[int]) -> bool:
    """Whether a negation stands before the word, with nothing between but what may, and none before
    that one: `never without creosote` denies nothing.
    """
    at, denied = span.first, False
    while at > 0 and words[at].joint == " ":
        at -= 1
        if length := _ends_at(words, vocabulary.negations, at):
            if denied:
                return False
            denied, at = True, at - length + 1
        elif (at in dangers and not denied) or words[at].stem in vocabulary.denied_between:
            continue
        else:
            break
    return denied


def _is_removed(vocabulary: Language, words: list[Token], span: Span, dangers: set[int]) -> bool:
    """Whether the words after it, or those directly before it, say that it was picked out."""
    for at in range(span.last, min(len(words), span.last + _MOST_GAP)):
        if words[at].joint != " ":
            break
        if any(
            _ends_at(words[at:], vocabulary.removals, last) == last + 1 for last in range(_LONGEST)
        ):
            return True
        ends = at + 1 == len(words) or words[at + 1].joint == ","
        if ends and words[at].stem in vocabulary.removed_last:
            return True
        if words[at].stem not in vocabulary.removed_between and at not in dangers:
            break
    at = span.first
    while at > 0 and words[at].joint == " ":
        at -= 1
        if _ends_at(words, vocabulary.removals, at):
            return True
        if words[at].stem not in vocabulary.removed_between and at not in dangers:
            return False
    return False
