"""Bringing table files of an older schema up to the present one, on the located tree, so that
messages keep their lines.

There is one pure function for each step; `STEPS[n]` turns schema n into n + 1. Positions are kept
because a step moves values together with their places.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from ...documents.positions import Document, Path_
from ..rows.row import SCHEMA
from .raw import KINDS

Step = Callable[[Document], Document]


def schema_of(document: Document) -> int | None:
    """The schema number that a document names, None where it names none that can be read."""
    data = document.data
    about = data.get("set") if isinstance(data, dict) else None
    value = about.get("schema") if isinstance(about, dict) else None
    return int(value) if isinstance(value, str) and value.isdigit() and len(value) < 6 else None


def renamed(document: Document, moves: Mapping[Path_, Path_]) -> Document:
    """The document with the value at each path moved to another (in the same mapping or another
    that exists), places and all.
    """
    if not moves:
        return document
    data, lengths = _copied(document.data), {len(path) for path in moves}
    for old, new in moves.items():
        _holder(data, new)[new[-1]] = _holder(data, old).pop(old[-1])

    def shift(path: Path_) -> Path_:
        for length in lengths:
            if path[:length] in moves:
                return (*moves[path[:length]], *path[length:])
        return path

    return Document(
        data,
        document.file,
        {shift(p): at for p, at in document.places.items()},
        {shift(p): at for p, at in document.keys.items()},
    )


def _copied(data: Any) -> Any:
    if isinstance(data, dict):
        return {k: _copied(v) for k, v in data.items()}
    return [_copied(v) for v in data] if isinstance(data, list) else data


def _holder(data: Any, path: Path_) -> Any:
    for part in path[:-1]:
        data = data[part]
    return data


def _rows(data: Any) -> Iterator[tuple[Path_, str, dict[str, Any]]]:
    """The rows of a document, and those that it changes, with their place and kind."""
    if not isinstance(data, dict):
        return
    for lead in ((), ("amend",), ("replace",)):
        part = data.get(lead[0]) if lead else data
        for kind, rows in part.items() if isinstance(part, dict) else ():
            for key, row in rows.items() if isinstance(rows, dict) and kind in KINDS else ():
                if isinstance(row, dict):
                    yield (*lead, kind, key), kind, row


def _from_0(document: Document) -> Document:
    """Schema 0 gave a row's English names as `aka`; schema 1 gives names by language."""
    moves: dict[Path_, Path_] = {
        (*path, "aka"): (*path, "names")
        for path, _, row in _rows(document.data)
        if "aka" in row and "names" not in row
    }
    document = renamed(document, moves)
    for path in moves.values():
        row = _holder(document.data, path)
        row["names"] = {"en": row["names"]}
    return document


_FIELDS_OF_1 = {
    "contaminants": {"loads": "element_content"},
    "burners": {"kept": "char_retention"},
    "methods": {
        "alive": "burning_fraction",
        "least": "minimum",
        "wild_below": "outlier_below",
    },
}
_METHODS_OF_1 = {"kept": "char-retention", "load-screening": "element-screening"}


def _from_1(document: Document) -> Document:
    """Schema 2 calls fields and kinds of methods by the terms of the field."""
    moves: dict[Path_, Path_] = {}
    for path, kind, row in _rows(document.data):
        for old, new in _FIELDS_OF_1.get(kind, {}).items():
            if old in row and new not in row:
                moves[*path, old] = (*path, new)
        use = row.get("use") if kind == "methods" else None
        for old, new in _METHODS_OF_1.items():
            if isinstance(use, dict) and old in use and new not in use:
                moves[*path, "use", old] = (*path, "use", new)
    document = renamed(document, moves)
    for _, kind, row in _rows(document.data):
        if kind == "methods" and isinstance(row.get("kind"), str):
            row["kind"] = _METHODS_OF_1.get(row["kind"], row["kind"])
    return document


STEPS: dict[int, Step] = {0: _from_0, 1: _from_1}


def migrated(documents: list[Document]) -> list[Document]:
    """The documents of a set in the present schema; a number that has no step is left for the
    reader to refuse.
    """
    number = next((n for n in map(schema_of, documents) if n is not None), SCHEMA)
    while number < SCHEMA and number in STEPS:
        documents = [STEPS[number](document) for document in documents]
        number += 1
    return documents
