"""The phrases of the index as they stand in a text, one after the other."""

from __future__ import annotations

from typing import NamedTuple

from .language import Language, shortenings
from .text import Token, one_off, stem
from .trie import Entry

_LONG, _SHORT = 7, 3


class Span(NamedTuple):
    """Words `first` up to `last` of a text that match entries of the index: what danger they mean
    first, or what they deny in one, as `unpainted` does.
    """

    first: int
    last: int
    entries: list[Entry]
    danger: Entry | None
    denial: Entry | None


def spans_of(vocabulary: Language, words: list[Token]) -> list[Span]:
    """The longest phrases of the index in a text that mean or deny a danger, one after the other;
    none runs over the break of a clause.

    Most words of a text stand in no phrase but themselves and mean no danger: they are passed by at
    once, and two words are tried as one where a danger begins as the first does.
    """
    stems = [word.stem for word in words]
    quiet, heads, known_stems = vocabulary.quiet, vocabulary.heads, vocabulary.known
    limits, limit = [0] * len(words), len(words)
    for at in range(len(words) - 1, -1, -1):
        limits[at] = limit
        limit = at if words[at].joint == "," else limit
    spans: list[Span] = []
    at = 0
    while at < len(words):
        end, span = at + 1, None
        if stems[at] in known_stems:
            if stems[at] not in quiet:
                last, entries = vocabulary.scanned.longest(stems, at, limits[at])
                if entries:
                    end, span = last, _span(at, last, entries)
        elif (right := misspelt(vocabulary, words[at])) is not None:
            span = _span(at, at + 1, vocabulary.scanned.longest([right])[1])
        unread = end == at + 1 < limits[at] and (span is None or span.danger is None)
        if unread and words[at].word in heads:
            span = _joined(vocabulary, words, at) or span
        if span is not None:
            spans.append(span)
            end = span.last
        at = end
    return spans


def _span(first: int, last: int, entries: list[Entry]) -> Span | None:
    """Entries that some words match, where one of them means or denies a danger."""
    danger = denial = None
    for entry in entries:
        if entry.role == "danger":
            danger = danger or entry
        elif entry.role == "clean" and entry.warns_of:
            denial = denial or entry
    return Span(first, last, entries, danger, denial) if danger or denial else None


def _joined(vocabulary: Language, words: list[Token], at: int) -> Span | None:
    """Two words that are one in the index: `chip board`."""
    if words[at].end == words[at + 1].end or len(words[at + 1].word) < _SHORT:
        return None  # `put up a` is no upas
    both = stem(words[at].word + words[at + 1].word)
    if both not in vocabulary.known:
        return None
    span = _span(at, at + 2, vocabulary.scanned.longest([both])[1])
    return span if span is not None and span.danger and not span.danger.weak else None


def misspelt(vocabulary: Language, token: Token) -> str | None:
    """The strong danger word of seven letters and more that is one letter from an unknown word."""
    if len(token.stem) < _LONG - 1 or token.stem in vocabulary.known:
        return None
    for short in shortenings(token.stem):
        for right in vocabulary.shortened.get(short, ()):
            if one_off(token.stem, right):
                return right
    return None
