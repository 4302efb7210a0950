"""The words of a set of tables as they are looked up: phrases by their words, and small sets."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import field
from functools import cached_property
from typing import Any, cast

from ...quantities.frozen import Lazy, record
from ..rows.methods.language import DangerClass, Family, Form, Plant, State
from .text import Token, stem, tokens
from .trie import Line, Phrase, Trie

_LINKS = ("", "n", "en", "s", "es", "er", "e")
_LEAST_LEFT, _LEAST_RIGHT = 3, 4


_ROWS = ("plants", "forms", "states", "families")
_TRIES = ("scanned", "composed", "asides")
_SETS = (
    "known",
    "quiet",
    "heads",
    "hedges",
    "hedge_ends",
    "negations",
    "denied_between",
    "places",
    "bare_places",
    "beside_between",
    "staying",
    "within",
    "articles",
    "removals",
    "removed_between",
    "removed_last",
    "measures",
    "tools",
    "weak_before",
    "weak_after",
    "clause_ends",
    "homonyms",
    "barked",
    "clearing",
)


@record
class Language:
    """The words of a set of tables. `known` holds every stem that any phrase has, `quiet` those
    that begin no phrase but themselves and mean no danger, `heads` how words of danger begin,
    `strong` in the order of the tables the long danger words for which a wrong letter counts.
    """

    plants: dict[str, Plant] = field(default_factory=dict)
    forms: dict[str, Form] = field(default_factory=dict)
    states: dict[str, State] = field(default_factory=dict)
    families: dict[str, Family] = field(default_factory=dict)
    scanned: Trie = field(default_factory=Trie)
    composed: Trie = field(default_factory=Trie)
    asides: Trie = field(default_factory=Trie)
    known: set[str] = field(default_factory=set)
    quiet: set[str] = field(default_factory=set)
    heads: set[str] = field(default_factory=set)
    strong: dict[str, None] = field(default_factory=dict)
    hedges: set[Phrase] = field(default_factory=set)
    hedge_ends: set[str] = field(default_factory=set)
    negations: set[Phrase] = field(default_factory=set)
    denied_between: set[str] = field(default_factory=set)
    places: set[Phrase] = field(default_factory=set)
    bare_places: set[Phrase] = field(default_factory=set)
    beside_between: set[str] = field(default_factory=set)
    staying: set[str] = field(default_factory=set)
    within: set[str] = field(default_factory=set)
    articles: set[str] = field(default_factory=set)
    removals: set[Phrase] = field(default_factory=set)
    removed_between: set[str] = field(default_factory=set)
    removed_last: set[str] = field(default_factory=set)
    measures: set[str] = field(default_factory=set)
    tools: set[str] = field(default_factory=set)
    weak_before: set[str] = field(default_factory=set)
    weak_after: set[str] = field(default_factory=set)
    clause_ends: set[str] = field(default_factory=set)
    homonyms: set[Phrase] = field(default_factory=set)
    classes: dict[str, tuple[str, DangerClass]] = field(default_factory=dict)
    barked: frozenset[str] = frozenset()
    clearing: frozenset[str] = frozenset()

    def parts(self, word: str, deep: int = 2) -> tuple[str, ...]:
        """The known words of a closed compound, as stems, the longest last part first; none where
        it does not fall into known words.
        """
        for cut in range(_LEAST_LEFT, len(word) - _LEAST_RIGHT + 1):
            right = stem(word[cut:])
            if right not in self.known:
                continue
            for link in _LINKS:
                left = word[: cut - len(link)]
                if len(left) < _LEAST_LEFT or not word[:cut].endswith(link):
                    continue
                for base in (stem(left), stem(f"{left}e")):
                    if base in self.known:
                        return base, right
            if deep and (before := self.parts(word[:cut], deep - 1)):
                return *before, right
        return ()

    def split(self, text: str) -> list[Token]:
        """The words of a text, closed compounds of two known words taken apart."""
        found: list[Token] = []
        for token in tokens(text):
            if token.stem in self.known or not (parts := self.parts(token.word)):
                found.append(token)
                continue
            joint = token.joint
            for part in parts:
                found.append(Token(token.word, part, token.start, token.end, joint))
                joint = " "
        return found

    @cached_property
    def shortened(self) -> dict[str, list[str]]:
        """The strong words by what is left of them when one letter is."""
        found: dict[str, list[str]] = {}
        for word in self.strong:
            for short in sorted(shortenings(word)):
                found.setdefault(short, []).append(word)
        return found

    def lines(self, plain: Callable[[Any], Any]) -> Iterator[Any]:
        """What `of_lines` makes the same words of, line by line; `plain` writes a row."""
        tries = [getattr(self, name) for name in _TRIES]
        yield {name: sorted(getattr(self, name)) for name in _SETS}
        yield [list(self.strong), *(list(trie.first_words) for trie in tries)]
        yield {name: {k: plain(v) for k, v in getattr(self, name).items()} for name in _ROWS}
        yield {key: [method, plain(one)] for key, (method, one) in self.classes.items()}
        for trie in tries:
            yield from trie.lines()

    @classmethod
    def of_lines(cls, line: Line, value: Callable[[Any], Any]) -> Language:
        """The words that gave these lines; rows, which nothing changes here, are made of them when
        they are asked for.
        """
        made = cls()
        for name, words in line(0).items():
            phrases = (tuple(word) if type(word) is list else word for word in words)
            kind = frozenset if name in ("barked", "clearing") else set
            setattr(made, name, kind(phrases))
        strong, *tries = line(1)
        made.strong, number = dict.fromkeys(strong), 4
        for name, words in zip(_TRIES, tries, strict=True):
            root = dict(zip(words, range(number, number + len(words)), strict=True))
            setattr(made, name, Trie(root, line))
            number += len(words)
        for name, rows in line(2).items():
            setattr(made, name, Lazy(rows, value))
        made.classes = cast(Any, Lazy(line(3), lambda plain: (plain[0], value(plain[1]))))
        return made


def shortenings(word: str) -> set[str]:
    """A word, and it with any one letter left out: two words one letter apart share one."""
    return {word, *(word[:i] + word[i + 1 :] for i in range(len(word)))}
