"""A text as words: folded, each with its stem, its place and what stands before it."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import NamedTuple

_WORD = re.compile(r"(?:\b[dlDL]['\u2019](?=\w\w))?([^\W_]+(?:['\u2019][^\W_]+)*)")
_BLANK = re.compile(r"[\s_\"'\u2018\u2019\u201c\u201d()]*")
_VOWEL = re.compile("[aeiouy]")


_WHOLE = frozenset(
    {
        "building",
        "mooring",
        "tailing",
        "skirting",
        "hoarding",
        "flooring",
        "cladding",
        "roofing",
        "screening",
        "wormed",
        "worming",
        "dewormed",
        "bolted",
        "branded",
        "treated",
        "drained",
        "coated",
        "wrapping",
        "binned",
        "trunking",
        "wrapped",
        "dipped",
        "dipping",
        "netting",
        "decking",
        "fencing",
        "framing",
        "siding",
        "piling",
        "lagging",
        "finished",
        "finishing",
        "marked",
        "arching",
        "carted",
        "tipped",
        "salted",
        "leaded",
        "dressed",
        "drenched",
        "gassed",
        "gritted",
        "sealed",
        "primed",
        "glazed",
        "polished",
        "planed",
        "boxed",
        "posted",
        "staked",
        "potted",
        "shedding",
        "planing",
        "clipping",
        "clippings",
        "bedding",
        "wedding",
        "kindling",
        "staging",
        "panelling",
        "shelving",
        "nesting",
        "dosed",
        "nested",
        "banding",
    }
)
"""Words whose ending changes what they mean: decking is no deck of leaves, wormed no worm."""


class Token(NamedTuple):
    """A word of a text. `joint` is what stands before it: a blank, a hyphen, or the break of a
    clause (`,`).
    """

    word: str
    stem: str
    start: int
    end: int
    joint: str


@lru_cache(maxsize=65536)
def fold(word: str) -> str:
    """Lower case, without accents or apostrophes."""
    if word.isascii():
        return word.lower().replace("'", "")
    plain = unicodedata.normalize("NFKD", word.casefold().replace("\u2019", ""))
    return "".join(c for c in plain if not unicodedata.combining(c)).replace("'", "")


def _undoubled(word: str) -> str:
    if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "lsz":
        return word[:-1]
    return word


@lru_cache(maxsize=65536)
def stem(word: str) -> str:
    """A folded word without its plural, -ed and -ing: `painted`, `paints`, `painting` are one."""
    if len(word) > 4 and word.endswith(("ies", "ied")):
        return f"{word[:-3]}y"
    if len(word) > 4 and word.endswith(("lves", "eaves")):
        word = f"{word[:-3]}f"
    elif len(word) > 4 and word.endswith(("shes", "ches", "xes", "sses")):
        word = word[:-2]
    elif len(word) > 3 and word.endswith("s") and not word.endswith("ss"):
        word = word[:-1]
    if word in _WHOLE:
        return word
    for ending, least in (("ing", 3), ("ed", 3)):
        rest = word[: -len(ending)]
        if word.endswith(ending) and len(rest) >= least and _VOWEL.search(rest):
            word = _undoubled(rest)
            break
    return word


def is_bent(word: str) -> bool:
    """Whether a folded word ends as a verb does: `sprayed` and `lying`, not `shed` and `bed`."""
    return word.endswith(("ed", "ing")) and (stem(word) != word or word in _WHOLE)


@lru_cache(maxsize=4096)
def tokens(text: str) -> tuple[Token, ...]:
    """The words of a text in order."""
    words: list[Token] = []
    last = 0
    for match in _WORD.finditer(text):
        start, end = match.span(1)
        between = text[last : match.start()]
        if between in ("", " ") or _BLANK.fullmatch(between):
            joint = " "
        else:
            joint = "-" if between == "-" else ","
        word = fold(match.group(1))
        words.append(Token(word, stem(word), start, end, joint))
        last = end
    return tuple(words)


@lru_cache(maxsize=32768)
def words_of(name: str) -> tuple[str, ...]:
    """The stems of a name, as the index holds them."""
    return tuple(token.stem for token in tokens(name))


def one_off(one: str, other: str) -> bool:
    """Whether two words differ by a letter that is wrong, missing, too many or swapped."""
    if abs(len(one) - len(other)) > 1:
        return False
    at = 0
    while at < min(len(one), len(other)) and one[at] == other[at]:
        at += 1
    rest, tail = other[at:], one[at:]
    swapped = tail[:2] == rest[:2][::-1] and tail[2:] == rest[2:]
    return tail[1:] == rest[1:] or tail[1:] == rest or tail == rest[1:] or swapped
