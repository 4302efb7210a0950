"""Phrases by their words, and what each means."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Literal

from ...quantities.frozen import frozen
from ..rows.methods.language import WarnsOf

Role = Literal["danger", "clean", "material", "plant", "form", "state", "plain"]
Phrase = tuple[str, ...]
Line = Callable[[int], Any]
"""Gives the content of a numbered line."""


@frozen
class Entry:
    """What a phrase means. `of` is the key of a class, a plant, a form or a state, or the full
    name of a material.
    """

    role: Role
    of: str
    phrase: str
    language: str
    warns_of: WarnsOf | None = None
    row: str = ""
    weak: bool = False
    foreign: bool = False
    under_bark: bool = False
    kind: str = ""


class Trie:
    """Phrases by their words; the longest that begins at a word is found in one walk.

    Of a trie that was made before, what follows a first word may be the number of the line that
    tells it, which is read when a text has that word.
    """

    def __init__(self, root: dict[str, Any] | None = None, line: Line | None = None) -> None:
        self._root: dict[str, Any] = {} if root is None else root
        self._line = line
        self.count = 0

    def put(self, words: Phrase, entry: Entry) -> None:
        if not words:
            return
        self._root.setdefault(words[0], {})
        node = self.after(words[0])
        for word in words[1:]:
            node = node.setdefault(word, {})
        entries: list[Entry] = node.setdefault("", [])
        if entry not in entries:
            entries.append(entry)
            self.count += 1

    def after(self, word: str) -> dict[str, Any]:
        """What follows a word that begins a phrase; nothing, where none does."""
        node = self._root.get(word, {})
        if type(node) is int and self._line is not None:
            node = self._root[word] = _read(self._line(node))
        return node  # type: ignore[no-any-return]

    def has(self, words: Phrase) -> bool:
        """Whether just these words are a phrase."""
        node = self.after(words[0])
        for word in words[1:]:
            node = node.get(word, {})
        return "" in node

    @property
    def first_words(self) -> dict[str, dict[str, Any]]:
        """What follows each word that begins a phrase; under "" what it means alone."""
        if self._line is not None:
            for word, node in self._root.items():
                if type(node) is int:
                    self._root[word] = _read(self._line(node))
        return self._root

    def lines(self) -> Iterator[Any]:
        """What follows each word that begins a phrase, in their order, as plain JSON."""
        return map(_plain, self.first_words.values())

    def longest(
        self, stems: list[str], at: int = 0, limit: int | None = None
    ) -> tuple[int, list[Entry]]:
        """Where the longest phrase that begins at `at` ends, not after `limit`, and what it means;
        (at, []) for none.
        """
        node, end = self._root, at
        entries: list[Entry] = []
        for position in range(at, len(stems) if limit is None else limit):
            following = node.get(stems[position])
            if following is None:
                break
            if type(following) is int and self._line is not None:
                following = node[stems[position]] = _read(self._line(following))
            node = following
            if "" in node:
                end, entries = position + 1, node[""]
        return end, entries


def _plain(node: dict[str, Any]) -> dict[str, Any]:
    return {
        word: _plain(inner) if word else [_values_of(entry) for entry in inner]
        for word, inner in node.items()
    }


def _values_of(entry: Entry) -> list[Any]:
    """Its fields without the defaults at the end."""
    fields = Entry.__dataclass_fields__.values()
    values = [getattr(entry, field.name) for field in fields]
    defaults = [field.default for field in fields]
    while values[-1] == defaults[len(values) - 1]:
        values.pop()
    return values


def _read(node: dict[str, Any]) -> dict[str, Any]:
    return {
        word: _read(inner) if word else [Entry(*fields) for fields in inner]
        for word, inner in node.items()
    }
