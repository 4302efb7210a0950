"""Names that share a word with what was written, or are spelt like it, found without looking at all
of them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable

from ...errors import nearest_names
from ...quantities.frozen import frozen
from .text import one_off, words_of

FEW = 2000
"""Up to so many names are compared letter by letter where none shares a word."""

_MOST, _GRAM, _LEAST_SHARED, _MOST_WEIGHED, _MOST_POSTED = 3, 3, 0.3, 64, 400


@frozen
class Name:
    """A name of a row, and whether it raises a suspicion or clears one; one that is `soothing` is
    offered for the same words alone, give or take a letter.
    """

    text: str
    words: tuple[str, ...]
    raises: bool = False
    clears: bool = False
    soothing: bool = False

    def may_answer(self, words: tuple[str, ...], dangerous: bool) -> bool:
        """Whether the name may be offered for what was written."""
        if self.clears and dangerous:
            return False
        return not self.soothing or (
            len(words) == len(self.words) and all(map(_same, words, self.words))
        )


class NameIndex:
    """Names by their words, and words by their letters in threes, so that a search looks at the
    names that share something and never at all of them. Words in `small` are shared by no names.
    """

    def __init__(self, names: Iterable[Name], small: Container[str] = ()) -> None:
        self._names = list(names)
        self._by_word: dict[str, list[int]] = {}
        self._by_gram: dict[str, list[str]] = {}
        self.looked_at = 0
        for number, name in enumerate(self._names):
            for word in dict.fromkeys(name.words):
                if word in small and len(name.words) > 1:
                    continue
                self._by_word.setdefault(word, []).append(number)
        for word in self._by_word:
            for gram in _grams(word):
                self._by_gram.setdefault(gram, []).append(word)

    def nearest(self, text: str, dangerous: bool = False) -> tuple[str, ...]:
        """Up to three names that share a whole word with `text`, or, where none does, one that is
        spelt alike; those that raise a suspicion first. None that clears, where `text` is
        dangerous, and a soothing one for the same words alone.
        """
        words = words_of(text)
        shared = self._shared(words)
        if not shared and len(self._names) <= FEW:
            offered = [each.text for each in self._names if each.may_answer(words, dangerous)]
            return nearest_names(text, offered)
        if not shared:
            alike = [word for each in words if len(each) >= _GRAM for word in self._alike(each)]
            shared = self._shared(dict.fromkeys(alike))
        ranked = [
            (-int(name.raises), -share, len(name.words), name.text)
            for number, share in shared.items()
            if (name := self._names[number]).may_answer(words, dangerous)
        ]
        return tuple(dict.fromkeys(text for *_, text in sorted(ranked)))[:_MOST]

    def _shared(self, words: Iterable[str]) -> Counter[int]:
        """How many words each name shares, the rarest words first, as far as a bound."""
        shared: Counter[int] = Counter()
        indexed = [word for word in dict.fromkeys(words) if word in self._by_word]
        for word in sorted(indexed, key=lambda each: len(self._by_word[each])):
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


def _same(one: str, other: str) -> bool:
    return one == other or (len(one) >= _GRAM < len(other) and one_off(one, other))


def _grams(word: str) -> set[str]:
    padded = f"^{word}$"
    return {padded[at : at + _GRAM] for at in range(max(1, len(padded) - _GRAM + 1))}
