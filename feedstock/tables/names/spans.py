"""The phrases of the index as they stand in a text, one after the other."""

from __future__ import annotations

from dataclasses import dataclass

from .compiled import Entry, Language, shortenings
from .text import Token, stem

_LONG = 7


@dataclass(frozen=True, slots=True)
class Span:
    """Words `first` up to `last` of a text that match entries of the index."""

    first: int
    last: int
    entries: tuple[Entry, ...]

    @property
    def danger(self) -> Entry | None:
        return next((e for e in self.entries if e.role == "danger"), None)

    @property
    def denial(self) -> Entry | None:
        """What the words deny in one, as `unpainted` does."""
        return next((e for e in self.entries if e.role == "clean" and e.warns_of), None)


def spans_of(held: Language, words: list[Token]) -> list[Span]:
    """The longest phrases of the index in a text, one after the other; none runs over the break
    of a clause.
    """
    stems = [word.stem for word in words]
    limits, limit = [0] * len(words), len(words)
    for at in range(len(words) - 1, -1, -1):
        limits[at] = limit
        limit = at if words[at].joint == "," else limit
    found: list[Span] = []
    at = 0
    while at < len(words):
        end, entries = held.scanned.longest(stems, at, limits[at])
        span = Span(at, end, tuple(entries)) if entries else None
        if end < at + 2 and at + 1 < limits[at] and (span is None or span.danger is None):
            span = _joined(held, words, at) or span
        if span is None and (right := misspelt(held, words[at])) is not None:
            span = Span(at, at + 1, tuple(held.scanned.longest([right])[1]))
        if span is not None:
            found.append(span)
        at = span.last if span is not None else at + 1
    return found


def _joined(held: Language, words: list[Token], at: int) -> Span | None:
    """Two words that are one in the index: `chip board`."""
    if words[at].end == words[at + 1].end:
        return None
    both = stem(words[at].word + words[at + 1].word)
    if both not in held.known:
        return None
    entries = held.scanned.longest([both])[1]
    span = Span(at, at + 2, tuple(entries))
    return span if span.danger is not None and not span.danger.weak else None


def misspelt(held: Language, token: Token) -> str | None:
    """The strong danger word of seven letters and more that is one letter from an unknown word."""
    if len(token.stem) < _LONG - 1 or token.stem in held.known:
        return None
    for short in shortenings(token.stem):
        for right in held.shortened.get(short, ()):
            if _one_off(token.stem, right):
                return right
    return None


def _one_off(one: str, other: str) -> bool:
    """Whether two words differ by a letter that is wrong, missing, too many or swapped."""
    if abs(len(one) - len(other)) > 1:
        return False
    at = 0
    while at < min(len(one), len(other)) and one[at] == other[at]:
        at += 1
    rest, mine = other[at:], one[at:]
    swapped = mine[:2] == rest[:2][::-1] and mine[2:] == rest[2:]
    return mine[1:] == rest[1:] or mine[1:] == rest or mine == rest[1:] or swapped
