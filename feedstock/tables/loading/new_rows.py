"""What a new row of a later set must declare: rows are added freely, but none may change how what
stands before it is judged or understood.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from .gate_data import DEFAULT_GATES, WORD_METHODS, reason_of
from .raw import RawRow
from .tightening import raised

_RAISING_PARTS = frozenset({"warns_of", "words", "weak"})
_BY_KEY = WORD_METHODS | {"feed-classes", "feed-forms"}

Seen = Iterator[tuple[tuple[str | int, ...], str]]
Rows = Mapping[str, RawRow]


def declared(row: RawRow) -> tuple[RawRow, str]:
    """A new row of a later set without its `loosens`, and the reason that it gives."""
    if row.kind == "clears" or "loosens" not in row.data:
        return row, reason_of(row.data.get("loosens"))
    data = {name: value for name, value in row.data.items() if name != "loosens"}
    bare = RawRow(row.set, row.kind, row.key, data, row.document, row.path, row.origins)
    return bare, reason_of(row.data["loosens"])


def of_unknown_history(row: RawRow) -> RawRow:
    """A new origin counts as unknown history until it says otherwise."""
    if row.kind != "origins" or "known_history" in row.data:
        return row
    data = {**row.data, "known_history": "false"}
    return RawRow(row.set, row.kind, row.key, data, row.document, row.path, row.origins)


def undeclared_parts(row: RawRow, before: Mapping[str, Rows]) -> Seen:
    """The parts of a new row that change what a verdict rests on, with what they do."""
    data = row.data
    if row.kind == "origins" and str(data.get("known_history", "")).lower() == "true":
        yield ("known_history",), "a new origin calls its history known"
    if row.kind != "methods":
        return
    kind = data.get("kind")
    if kind == "defaults":
        yield from _defaults(data, before)
    elif kind == "danger-words":
        yield from _danger_words(data)
    elif kind in WORD_METHODS and kind not in ("hedges", "plants", "forms", "states", "families"):
        yield ("kind",), f"new {kind} change how every text is heard"
    if kind in _BY_KEY:
        for other in before["methods"].values():
            if other.data.get("kind") == kind:
                again = set(_part(data.get("of"))) & set(_part(other.data.get("of")))
                for key in sorted(again):
                    yield ("of", key), f"it says anew what {other.row_id} says of '{key}'"


def _part(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, dict) else {}


def _defaults(data: dict[str, Any], before: Mapping[str, Rows]) -> Seen:
    """The last set that has defaults decides, so they must leave those before them as they are
    where a verdict rests on them.
    """
    defaults = [r.data for r in before["methods"].values() if r.data.get("kind") == "defaults"]
    if not defaults:
        return
    if data.get("burner") != defaults[-1].get("burner"):
        yield ("burner",), "new defaults have another burner"
    for name in sorted(DEFAULT_GATES - {"burner"}):
        if raised(defaults[-1].get(name), data.get(name)):
            yield (name,), f"new defaults have a higher {name}"
    use, used = _part(data.get("use")), _part(defaults[-1].get("use"))
    # what a limit is judged by is that of the first set, whatever later defaults say
    if use.get("containers") != used.get("containers"):
        yield ("use",), "new defaults have another method for containers"


def _danger_words(data: dict[str, Any]) -> Seen:
    for name in ("clearing", "silent", "barked"):
        if data.get(name):
            yield (name,), "it silences a name"
    for key, one in _part(data.get("of")).items():
        for name in sorted(set(_part(one)) - _RAISING_PARTS):
            yield ("of", key, name), f"new danger words that say `{name}` can silence others"
