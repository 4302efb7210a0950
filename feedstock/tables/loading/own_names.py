"""Names that a set uses for rows of its own: they are written out, so that no other set can mean
them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from ..names.index import Index
from .raw import Change, RawRow, RawSet, names_of

Names = Mapping[str, Index]

_CONDITION = {
    "signs": "signs",
    "origins": "origins",
    "not_origins": "origins",
    "materials": "materials",
}
_CAUTION = {"burners": "burners", "materials": "materials"}


def own_names(of: RawSet) -> Names:
    """The rows of a set by kind and name."""
    return {
        kind: Index({row.row_id: names_of(row) for row in rows.values()})
        for kind, rows in of.rows.items()
        if rows
    }


def with_own_names(row: RawRow, own: Names) -> RawRow:
    """A row of text in which every name of a row of its own set is the full one."""
    data = _written_out(row.kind, row.data, own)
    if data == row.data:
        return row
    return RawRow(row.set, row.kind, row.key, data, row.document, row.path, row.origins)


def change_with_own_names(change: Change, own: Names) -> Change:
    """A change in which every name of a row of its own set is the full one."""
    data = _written_out(change.kind, change.data, own)
    return Change(
        change.set,
        change.kind,
        change.target,
        data,
        change.document,
        change.path,
        change.replaces,
    )


def _written_out(kind: str, data: dict[str, Any], own: Names) -> dict[str, Any]:
    if not own:
        return data
    return {**data, **dict(_fields(kind, data, own))}


def _fields(kind: str, data: dict[str, Any], own: Names) -> Iterator[tuple[str, Any]]:
    if kind == "materials" and "carries" in data:
        yield "carries", _words(data["carries"], "contaminants", own)
    elif kind == "signs" and "excludes" in data:
        yield "excludes", _words(data["excludes"], "signs", own)
    elif kind == "contaminants" and isinstance(data.get("raised_by"), list):
        yield "raised_by", [_parts(rule, _CONDITION, own) for rule in data["raised_by"]]
    elif kind == "clears":
        if isinstance(data.get("hypothesis"), str):
            yield "hypothesis", _words(data["hypothesis"], "contaminants", own)
        for name in ("when", "unless"):
            if name in data:
                yield name, _parts(data[name], _CONDITION, own)
    elif kind == "cautions" and "when" in data:
        yield "when", _parts(data["when"], _CAUTION, own)
    elif kind == "methods":
        yield from _of_method(data, own)


def _of_method(data: dict[str, Any], own: Names) -> Iterator[tuple[str, Any]]:
    use, of = data.get("use"), data.get("of")
    if isinstance(data.get("burner"), str):
        yield "burner", _words(data["burner"], "burners", own)
    if isinstance(use, dict):
        yield "use", {purpose: _words(name, "methods", own) for purpose, name in use.items()}
    if isinstance(of, dict) and data.get("kind") in ("plants", "forms", "families"):
        rows = {"row": "materials", "alone": "materials"}
        yield "of", {key: _parts(entry, rows, own) for key, entry in of.items()}


def _parts(value: Any, kinds: Mapping[str, str], own: Names) -> Any:
    if not isinstance(value, dict):
        return value
    return {
        name: _words(inner, kinds[name], own) if name in kinds else inner
        for name, inner in value.items()
    }


def _words(value: Any, kind: str, own: Names) -> Any:
    """A word, a list of words, or the words that are added to one."""
    if isinstance(value, str):
        row_ids = own[kind].find(value) if kind in own else []
        return row_ids[0] if len(row_ids) == 1 else value
    if isinstance(value, list):
        return [_words(word, kind, own) for word in value]
    if isinstance(value, dict) and set(value) <= {"add", "remove"} and "add" in value:
        return {**value, "add": _words(value["add"], kind, own)}
    return value
