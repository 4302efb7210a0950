"""Which of the meanings of a phrase is meant, in the language of its text."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from .language import Language
from .spans import Span
from .text import Token
from .trie import Entry

Field = Literal["material", "name", "remarks"]
Nature = Literal["any", "in bark", "brush", "soft"]
"""What the lot is known to be: pieces in their bark, twigs, or no wood at all."""

_SHORT_FOREIGN, _LEAST_OF_LANGUAGE, _LEAST_OF_TEXT = 5, 2, 4


def is_another(
    vocabulary: Language, span: Span, words: list[Token], field: Field, language: str
) -> bool:
    """Whether what could mean a danger is a word of the reader's language, or a plant."""
    whole = field == "material" and span.last - span.first == len(words)
    short = is_too_short(span, "material" if whole else "remarks", language)
    return short or is_the_plant(vocabulary, span, words, field)


def is_misread(
    vocabulary: Language, span: Span, words: list[Token], entry: Entry, language: str
) -> bool:
    """Whether a word of a text of another language is only one letter from a foreign one: derecho,
    a storm, and desecho.
    """
    if words[span.first].stem in vocabulary.known or span.last - span.first > 1:
        return False
    return len(words) >= _LEAST_OF_TEXT and entry.language not in (language, "en", "la")


def strongest(span: Span, field: Field, language: str) -> Entry:
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


def is_the_plant(vocabulary: Language, span: Span, words: list[Token], field: Field) -> bool:
    """Whether a weak word that is a plant's too is the whole name of a material (`docks`), or
    stands in a row with another plant: `dogwood and broom`.
    """
    stems = tuple(word.stem for word in words[span.first : span.last])
    if stems not in vocabulary.homonyms and not any(e.role == "plant" for e in span.entries):
        return False
    if not all(entry.weak for entry in span.entries if entry.role == "danger"):
        return False
    if field == "material" and span.last - span.first == len(words):
        return True
    before, after = span.first - 1, span.last
    neighbours = []
    if before > 0 and words[before].stem in vocabulary.denied_and:
        neighbours.append(before - 1)
    if after + 1 < len(words) and words[after].stem in vocabulary.denied_and:
        neighbours.append(after + 1)
    return any(
        entry.role == "plant"
        for at in neighbours
        for entry in vocabulary.scanned.longest([words[at].stem])[1]
    )


def language_of_text(vocabulary: Language, words: list[Token], language: str) -> str:
    """The language that two and more of the words are of alone, where it is not the reader's."""
    count: dict[str, int] = {}
    for word in words:
        entries = vocabulary.scanned.longest([word.stem])[1]
        for said in {e.language for e in entries if e.role == "plain"}:
            count[said] = count.get(said, 0) + 1
    most = max(count, key=lambda said: (count[said], said == language), default=language)
    return most if count.get(most, 0) >= _LEAST_OF_LANGUAGE else language


def is_too_short(span: Span, field: Field, language: str) -> bool:
    """A short foreign word, or one that is a word of the reader's language, counts as the
    material alone.
    """
    dangers = [e for e in span.entries if e.role == "danger"]
    if field == "material" or any(e.language in (language, "en", "la") for e in dangers):
        return False
    readers = any(e.role != "danger" and e.language == language for e in span.entries)
    return readers or all(len(e.phrase) < _SHORT_FOREIGN for e in dangers)
