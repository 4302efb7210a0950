"""What to write instead of a name that is not known: names that share a word, and the field that
knows it.
"""

from __future__ import annotations

import threading
from collections import Counter, OrderedDict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..rows.material import Material
from ..rows.methods.language import DangerWords
from .compiled import methods_of
from .danger import scan
from .standing import is_danger_row
from .text import words_of

if TYPE_CHECKING:
    from ..tables import Tables

FIELDS = {"materials": "material", "signs": "signs", "origins": "origin"}
_MOST, _GRAM, _LEAST_SHARED, _MOST_WEIGHED, _MOST_POSTED = 3, 3, 0.3, 64, 400
_MOST_KEPT = 32


@dataclass(frozen=True, slots=True)
class Offer:
    """What may have been meant: up to three names of this field, and the fields that know the
    word, each with the name to write there.
    """

    names: tuple[str, ...] = ()
    other_fields: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Name:
    """A name of a row, and whether it raises a suspicion or clears one."""

    text: str
    words: tuple[str, ...]
    raises: bool = False
    clears: bool = False


class NameIndex:
    """Names by their words, and words by their letters in threes, so that a search looks at the
    names that share something and never at all of them.
    """

    def __init__(self, names: Iterable[Name]) -> None:
        self._names = list(names)
        self._by_word: dict[str, list[int]] = {}
        self._by_gram: dict[str, list[str]] = {}
        self.looked_at = 0
        for number, name in enumerate(self._names):
            for word in dict.fromkeys(name.words):
                self._by_word.setdefault(word, []).append(number)
        for word in self._by_word:
            for gram in _grams(word):
                self._by_gram.setdefault(gram, []).append(word)

    def nearest(self, text: str, dangerous: bool = False) -> tuple[str, ...]:
        """Up to three names that share a whole word with `text`, or, where none does, one that is
        spelt alike; those that raise a suspicion first. None that clears, where `text` is
        dangerous.
        """
        words = words_of(text)
        shared = self._shared(words)
        if not shared:
            alike = [word for each in words if len(each) > _GRAM for word in self._alike(each)]
            shared = self._shared(dict.fromkeys(alike))
        found = [
            (-int(name.raises), -share, len(name.words), name.text)
            for number, share in shared.items()
            if not ((name := self._names[number]).clears and dangerous)
        ]
        return tuple(dict.fromkeys(text for *_, text in sorted(found)))[:_MOST]

    def _shared(self, words: Iterable[str]) -> Counter[int]:
        """How many words each name shares, the rarest words first, as far as a bound."""
        shared: Counter[int] = Counter()
        known = [word for word in dict.fromkeys(words) if word in self._by_word]
        for word in sorted(known, key=lambda each: len(self._by_word[each])):
            posted = self._by_word[word][:_MOST_POSTED]
            self.looked_at += len(posted)
            shared.update(posted)
        return shared

    def _alike(self, word: str) -> list[str]:
        """Words that share a good part of the letters in threes, the nearest first."""
        grams = _grams(word)
        counts: Counter[str] = Counter()
        rare = sorted(grams, key=lambda gram: len(self._by_gram.get(gram, ())))
        for gram in rare:
            posted = self._by_gram.get(gram, [])[:_MOST_POSTED]
            self.looked_at += len(posted)
            counts.update(posted)
        near = [
            (count / len(grams | _grams(other)), other)
            for other, count in counts.most_common(_MOST_WEIGHED)
        ]
        return [other for share, other in sorted(near, reverse=True) if share >= _LEAST_SHARED][:2]


def _grams(word: str) -> set[str]:
    padded = f"^{word}$"
    return {padded[at : at + _GRAM] for at in range(max(1, len(padded) - _GRAM + 1))}


def nearest(tables: Tables, kind: str, text: str, language: str = "en") -> Offer:
    """What may have been meant by a name that `kind` (materials, signs, origins) does not know.

    Names are of the reader's language. A word for a danger is never answered with one that clears.
    """
    dangerous = bool(scan(tables, text, "material"))
    other = tuple(
        (field, tables.rows[each][found[0]].display(found[0].partition(":")[2]))
        for each, field in FIELDS.items()
        if each != kind and len(found := tables.index(each).find(text)) == 1
    )
    return Offer(_index(tables, kind, language).nearest(text, dangerous), other)


_kept: OrderedDict[tuple[str, str, str], NameIndex] = OrderedDict()
_lock = threading.Lock()


def _index(tables: Tables, kind: str, language: str) -> NameIndex:
    key = (tables.digest, kind, language)
    with _lock:
        found = _kept.get(key)
        if found is not None:
            _kept.move_to_end(key)
            return found
    made = NameIndex(_names(tables, kind, language))
    with _lock:
        _kept[key] = made
        while len(_kept) > _MOST_KEPT:
            _kept.popitem(last=False)
    return made


def _names(tables: Tables, kind: str, language: str) -> Iterable[Name]:
    """Names of the rows of a kind in one language; the key where a row has none.

    A clean material counts as clearing: a danger is not answered with it.
    """
    clearing = {name for row in methods_of(tables, DangerWords) for name in row.clearing}
    for row_id, row in tables.rows[kind].items():
        key = row_id.partition(":")[2]
        raises = is_danger_row(row) if isinstance(row, Material) else key not in clearing
        spoken = tables.spoken(kind, row_id)
        for text in spoken.get(language) or (() if row.names else (key.replace("-", " "),)):
            yield Name(text, words_of(text), raises, not raises)
