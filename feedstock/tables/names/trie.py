"""Phrases by their words, and what each means."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from ..rows.methods.language import WarnsOf

Role = Literal["danger", "clean", "material", "plant", "form", "state", "plain"]
Phrase = tuple[str, ...]


@dataclass(frozen=True, slots=True)
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
    """Phrases by their words; the longest that begins at a word is found in one walk."""

    def __init__(self) -> None:
        self._root: dict[str, Any] = {}
        self.count = 0

    def put(self, words: Phrase, entry: Entry) -> None:
        if not words:
            return
        node = self._root
        for word in words:
            node = node.setdefault(word, {})
        held: list[Entry] = node.setdefault("", [])
        if entry not in held:
            held.append(entry)
            self.count += 1

    @property
    def first_words(self) -> dict[str, dict[str, Any]]:
        """What follows each word that begins a phrase; under "" what it means alone."""
        return self._root

    def longest(
        self, stems: list[str], at: int = 0, limit: int | None = None
    ) -> tuple[int, list[Entry]]:
        """Where the longest phrase that begins at `at` ends, not after `limit`, and what it means;
        (at, []) for none.
        """
        node, end = self._root, at
        held: list[Entry] = []
        for position in range(at, len(stems) if limit is None else limit):
            following = node.get(stems[position])
            if following is None:
                break
            node = following
            if "" in node:
                end, held = position + 1, node[""]
        return end, held
