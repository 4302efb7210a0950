"""What a text holds around its danger words."""

from __future__ import annotations

from dataclasses import field
from functools import cached_property

from ...quantities.frozen import record
from ..rows.methods.language import DangerClass
from .language import Language
from .meanings import Nature
from .spans import Span
from .text import Token
from .trie import Entry, Phrase

_LONGEST = 5


@record
class Surroundings:
    """A text by its words, with the words of its dangers. `aside` are words of things that are
    beside the lot, `gone` those of a clause about something that went elsewhere.
    """

    vocabulary: Language
    text: str
    words: list[Token]
    spans: list[Span]
    nature: Nature = "any"
    aside: set[int] = field(default_factory=set)
    gone: set[int] = field(default_factory=set)

    @cached_property
    def dangers(self) -> set[int]:
        return {p for s in self.spans if s.danger for p in range(s.first, s.last)}

    @cached_property
    def hedges(self) -> list[int]:
        """The words at which something is left open."""
        vocabulary, words = self.vocabulary, self.words
        return [
            at
            for at, word in enumerate(words)
            if (
                word.stem in vocabulary.hedge_ends
                and ends_at(words, vocabulary.hedges, at)
                and not (self._counts_growth(at) or self._limits_plants(at))
            )
            or (at and word.stem in vocabulary.ellipses and not self.follows(at + 1))
        ]

    def _counts_growth(self, at: int) -> bool:
        """Whether a word of amount counts what grows on wood by nature, and leaves nothing open:
        `some lichen`.
        """
        few = self.words[at].stem in self.vocabulary.amounts
        return few and self.follows(at + 1) in self.vocabulary.growths

    def _limits_plants(self, at: int) -> bool:
        """Whether `only` names plants or what grows: `garden waste only`, `only the tree`."""
        if self.words[at].stem not in self.vocabulary.limits:
            return False
        after = at + 1
        while self.follows(after) in self.vocabulary.articles:
            after += 1
        if self.follows(after):
            return self.is_of_plants(self.words[after].stem)
        return at > 0 and self.is_of_plants(self.words[at - 1].stem)

    def is_of_plants(self, stem: str) -> bool:
        """Whether a word names a plant, a form of its matter, or what grows on it by nature."""
        entries = self.vocabulary.composed.longest([stem])[1]
        grows = stem in self.vocabulary.growths
        return grows or any(entry.role in ("plant", "form") for entry in entries)

    def follows(self, at: int) -> str:
        """The word that stands at `at` in the clause of the word before it; "" for none."""
        here = at < len(self.words) and self.words[at].joint in " -"
        return self.words[at].stem if here else ""

    def clause(self, at: int) -> range:
        """The words of the clause that a word stands in."""
        first = last = at
        while first > 0 and self.words[first].joint != ",":
            first -= 1
        while last + 1 < len(self.words) and self.words[last + 1].joint != ",":
            last += 1
        return range(first, last + 1)

    def ends_clause(self, span: Span) -> bool:
        return span.last == len(self.words) or self.words[span.last].joint == ","

    def is_hedged(self, span: Span) -> bool:
        """Whether the clause of a danger leaves something open."""
        clause = self.clause(span.first)
        return any(at in clause for at in self.hedges)

    def stems(self, span: Span) -> set[str]:
        return {self.words[p].stem for p in range(span.first, span.last)}

    def of_class(self, entry: Entry) -> DangerClass | None:
        known = self.vocabulary.classes.get(entry.of)
        return known[1] if known is not None else None


def ends_at(words: list[Token], phrases: set[Phrase], last: int) -> int:
    """How many words of the longest of some phrases end with the word at `last`; 0 for none."""
    for length in range(min(_LONGEST, last + 1) if last < len(words) else 0, 0, -1):
        if any(words[at].joint == "," for at in range(last - length + 2, last + 1)):
            continue
        if tuple(w.stem for w in words[last - length + 1 : last + 1]) in phrases:
            return length
    return 0


def begins_at(words: list[Token], phrases: set[Phrase], first: int) -> int:
    """How many words of the longest of some phrases begin with the word at `first`."""
    for length in range(min(_LONGEST, len(words) - first), 0, -1):
        if any(words[at].joint == "," for at in range(first + 1, first + length)):
            continue
        if tuple(w.stem for w in words[first : first + length]) in phrases:
            return length
    return 0
