"""Bringing table files of an older schema up to the present one, on the located tree, so that
messages keep their lines.

There is one pure function for each step; `STEPS[n]` turns schema n into n + 1. Positions are kept
because a step moves values together with their places.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ...documents.positions import Document, Path_
from ..rows.row import SCHEMA

Step = Callable[[Document], Document]


def schema_of(document: Document) -> int | None:
    """The schema number that a document names, None where it names none that can be read."""
    data = document.data
    about = data.get("set") if isinstance(data, dict) else None
    value = about.get("schema") if isinstance(about, dict) else None
    return int(value) if isinstance(value, str) and value.isdigit() and len(value) < 6 else None


def renamed(document: Document, old: Path_, new: Path_) -> Document:
    """The document with the value at `old` moved to `new` (in the same mapping or another that
    exists), places and all.
    """
    data = _moved(document.data, old, new)

    def shift(path: Path_) -> Path_:
        return (*new, *path[len(old) :]) if path[: len(old)] == old else path

    return Document(
        data,
        document.file,
        {shift(p): at for p, at in document.places.items()},
        {shift(p): at for p, at in document.keys.items()},
    )


def _moved(data: Any, old: Path_, new: Path_) -> Any:
    copy = _copied(data)
    value = _holder(copy, old).pop(old[-1])
    _holder(copy, new)[new[-1]] = value
    return copy


def _copied(data: Any) -> Any:
    if isinstance(data, dict):
        return {k: _copied(v) for k, v in data.items()}
    return [_copied(v) for v in data] if isinstance(data, list) else data


def _holder(data: Any, path: Path_) -> Any:
    for part in path[:-1]:
        data = data[part]
    return data


def _from_0(document: Document) -> Document:
    """Schema 0 gave a row's English names as `aka`; schema 1 gives names by language."""
    data = document.data
    if not isinstance(data, dict):
        return document
    for kind, rows in list(data.items()):
        for key, row in list(rows.items()) if kind != "set" and isinstance(rows, dict) else ():
            if isinstance(row, dict) and "aka" in row and "names" not in row:
                document = renamed(document, (kind, key, "aka"), (kind, key, "names"))
                document.data[kind][key]["names"] = {"en": document.data[kind][key]["names"]}
    return document


STEPS: dict[int, Step] = {0: _from_0}


def migrated(documents: list[Document]) -> list[Document]:
    """The documents of a set in the present schema; a number that has no step is left for the
    reader to refuse.
    """
    number = next((n for n in map(schema_of, documents) if n is not None), SCHEMA)
    while number < SCHEMA and number in STEPS:
        documents = [STEPS[number](document) for document in documents]
        number += 1
    return documents
