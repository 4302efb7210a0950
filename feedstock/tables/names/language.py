"""The words of a set of tables as they are looked up: phrases by their words, and small sets."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import field
from functools import cached_property, partial
from typing import Any

from ...quantities.frozen import Lazy, record
from ..rows.methods.language import DangerClass, Family, Form, Plant, State
from . import scope_words
from .scope_words import ScopeWords
from .text import Token, stem, tokens
from .trie import Line, Phrase, Trie

_LINKS = ("", "n", "en", "s", "es", "er", "e")
_LEAST_LEFT, _LEAST_RIGHT = 3, 4


_ROWS = ("plants", "forms", "states", "families", "classes")
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
    *scope_words.PHRASES,
    *scope_words.STEMS,
)
_PHRASES = frozenset(
    {
        "hedges",
        "negations",
        "places",
        "bare_places",
        "removals",
        "homonyms",
        *scope_words.PHRASES,
    }
)
"""Those of the sets that hold phrases."""


@record
class Language(ScopeWords):
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
    barked: frozenset[str] = field(default_factory=frozenset)
    clearing: frozenset[str] = field(default_factory=frozenset)
    _unread: dict[str, Callable[[], Any]] = field(default_factory=dict, repr=False, compare=False)
    """What makes the words that stand in lines and were not asked for yet."""

    def __getattr__(self, name: str) -> Any:
        make = self.__dict__.get("_unread", {}).get(name)
        if make is None:
            raise AttributeError(name)
        # of two threads that make them at once both take the same
        return self.__dict__.setdefault(name, make())

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
        words: list[Token] = []
        for token in map(self._respelt, tokens(text)):
            if token.stem in self.known or not (parts := self.parts(token.word)):
                words.append(token)
                continue
            joint = token.joint
            for part in parts:
                words.append(Token(token.word, part, token.start, token.end, joint))
                joint = " "
        return words

    def _respelt(self, token: Token) -> Token:
        """A word in the spelling that the rules know: `wi` is with."""
        usual = self.usual.get(token.word)
        return token if usual is None else token._replace(word=usual, stem=stem(usual))

    @cached_property
    def usual(self) -> dict[str, str]:
        """The usual spelling of words, by how some people write them."""
        return {phrase[0]: phrase[-1] for phrase in self.respelt}

    @cached_property
    def shortened(self) -> dict[str, list[str]]:
        """The strong words by what is left of them when one letter is."""
        by_short: dict[str, list[str]] = {}
        for word in self.strong:
            for short in sorted(shortenings(word)):
                by_short.setdefault(short, []).append(word)
        return by_short

    def lines(self, plain: Callable[[Any], Any]) -> Iterator[Any]:
        """What `of_lines` makes the same words of, line by line; `plain` writes a row."""
        tries = [getattr(self, name) for name in _TRIES]
        for name in _SETS:
            words = getattr(self, name)
            yield _joined(map(" ".join, words) if name in _PHRASES else words, sort=True)
        yield _joined(self.strong)
        kinds = [getattr(self, name) for name in _ROWS]
        for keys in (*kinds, *(trie.first_words for trie in tries)):
            yield [_joined(keys), len(keys)]
        for rows in kinds:
            yield from map(plain, rows.values())
        for trie in tries:
            yield from trie.lines()

    @classmethod
    def of_lines(cls, line: Line, value: Callable[[Any], Any]) -> Language:
        """The words that gave these lines, each set of them made when it is first asked for."""
        number = len(_SETS) + 1 + len(_ROWS) + len(_TRIES)
        made = cls.__new__(cls)
        unread: dict[str, Callable[[], Any]] = {}
        for at, name in enumerate(_SETS):
            unread[name] = partial(_set_of, line, at, name)
        unread["strong"] = lambda: dict.fromkeys(_split(line(len(_SETS))))
        for at, name in enumerate((*_ROWS, *_TRIES), len(_SETS) + 1):
            words, count = line(at)
            if name in _TRIES:
                unread[name] = partial(_trie_of, line, words, number)
            else:
                unread[name] = partial(_rows_of, line, words, number, value)
            number += count
        made.__dict__["_unread"] = unread
        return made


_BETWEEN = "|"
"""Stands in no word, and a text needs no mark before it in JSON."""


def _joined(words: Iterable[str], sort: bool = False) -> str:
    """One text is read many times as quickly as a list of as many."""
    ordered = sorted(words) if sort else list(words)
    if any(_BETWEEN in word for word in ordered):
        raise ValueError(f"no word may hold '{_BETWEEN}'")
    return _BETWEEN.join(ordered)


def _split(text: str) -> list[str]:
    return text.split(_BETWEEN) if text else []


def _set_of(line: Line, number: int, name: str) -> Any:
    words = _split(line(number))
    kind: Callable[[Any], Any] = frozenset if name in ("barked", "clearing") else set
    return kind(tuple(word.split(" ")) for word in words) if name in _PHRASES else kind(words)


def _numbered(words: str, number: int) -> dict[str, Any]:
    """Words of which every one has its own line, from a number on."""
    keys = _split(words)
    return dict(zip(keys, range(number, number + len(keys)), strict=True))


def _rows_of(line: Line, words: str, number: int, value: Callable[[Any], Any]) -> Lazy[str, Any]:
    return Lazy(_numbered(words, number), lambda at: value(line(at)))


def _trie_of(line: Line, words: str, number: int) -> Trie:
    return Trie(_numbered(words, number), line)


def shortenings(word: str) -> set[str]:
    """A word, and it with any one letter left out: two words one letter apart share one."""
    return {word, *(word[:i] + word[i + 1 :] for i in range(len(word)))}
