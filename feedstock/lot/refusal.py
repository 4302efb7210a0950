"""What is said of a name that no table knows: what of it was understood, which field knows it, and
what may have been meant.
"""

from __future__ import annotations

import re

from ..errors import Problem, shown
from ..tables.names.composition import Refusal, read_material
from ..tables.names.danger import scan
from ..tables.names.nearest import nearest
from ..tables.tables import Tables

_WHAT = {"materials": "material", "origins": "origin", "signs": "sign"}


def unknown_name(tables: Tables, kind: str, name: str, path: str) -> Problem:
    """The problem of a name that `kind` (materials, origins, signs) does not know."""
    offer = nearest(tables, kind, name)
    what = f"there is no {_WHAT[kind]} '{shown(name)}' in the tables"
    refusal = read_material(tables, name) if kind == "materials" else None
    if isinstance(refusal, Refusal):
        what += _understood(refusal)
    parts = [_line(field, text) for field, text in offer.other_fields]
    if kind == "signs" and not parts:
        parts += _one_by_one(tables, name)
    if isinstance(refusal, Refusal) and not parts:
        parts += _remedy(tables, refusal)
    expected = " ".join([*parts, *([] if parts else [tables.offer(kind, name)])])
    return Problem(f"unknown-{_WHAT[kind]}", what, expected, path, name, nearest=offer.names)


def _one_by_one(tables: Tables, name: str) -> list[str]:
    """What to write instead of several signs in one text."""
    parts = [part.strip() for part in re.split(r"[,;|/+]|\band\b", name)]
    index = tables.index("signs")
    if len(parts) < 2 or not all(part and index.find(part) for part in parts):
        return []
    return [f"Write each sign by itself: `signs: [{', '.join(parts)}]`."]


def _understood(refusal: Refusal) -> str:
    """`: 'willow' is understood, 'baskets' is not`."""
    if refusal.code != "unknown-words" or not refusal.understood:
        return ""
    return f": {_quoted(refusal.understood)} understood, {_quoted(refusal.not_understood)} not"


def _quoted(words: tuple[str, ...]) -> str:
    return ", ".join(f"'{shown(word, 30)}'" for word in dict.fromkeys(words))


def _line(field: str, text: str) -> str:
    line = f"signs: [{text}]" if field == "signs" else f"{field}: {text}"
    return f"It is known in another field: write `{line}`."


def _remedy(tables: Tables, refusal: Refusal) -> list[str]:
    """What to write instead of a name whose words are understood, or of one of two meanings."""
    if refusal.code == "two-plants":
        return ["These are plants of different kinds: write a lot for each."]
    if refusal.code == "no-such-form":
        plants = " and ".join(refusal.plants) or "that plant"
        return [f"There are no {refusal.form} of {plants}: write another plant or another part."]
    if refusal.code == "no-material":
        return ["No word of it says which plant or matter it is: add that."]
    if refusal.code == "ask-back":
        word = shown(refusal.not_understood[0], 30)
        return [f"'{word}' has two meanings: add what it is, as in '{word} branches'."]
    risky = [w for w in refusal.not_understood if scan(tables, w, "material")]
    for word in risky:
        for field, name in nearest(tables, "materials", word).other_fields:
            return [_line(field, name)]
    if risky and refusal.understood:
        return [
            f"If it is {_quoted(tuple(risky))}, give that material, or an origin or a sign for it; "
            "if it is grown, write plant and form alone."
        ]
    return []
