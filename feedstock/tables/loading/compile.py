"""Checked tables as lines of JSON, which `tables/store.py` reads: each row, its places, the index
of names, the words by which texts are read, and each row as it stands in its file.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from itertools import accumulate
from typing import Any

from ...documents.positions import Path_
from ...quantities.cell import Cell
from ...words import Texts
from ..names.compiled import language_of
from ..places import Where
from ..rows.light import Light
from ..store import CELL, DIGITS, FORMAT, ROW, TEXTS, TUPLE, WORDS, class_name
from ..tables import Tables
from .raw import KINDS, RawSet


def compiled(tables: Tables, raw: RawSet, key: str) -> bytes:
    """The content of the file that `Store.read` reads under the same key; `raw` is the set of which
    the tables were built.
    """
    writer = _Writer()
    rows: dict[str, list[tuple[str, int]]] = {}
    at: dict[str, Any] = {"rows": {}, "places": {}, "index": {}, "raw": {}}
    for kind in KINDS:
        rows[kind] = []
        at["rows"][kind] = len(writer.lines)
        for row_id, row in tables.rows[kind].items():
            plain = writer.plain(row)
            rows[kind].append((row_id, plain[1]))
            writer.put(plain)
        at["places"][kind] = len(writer.lines)
        for row_id in tables.rows[kind]:
            writer.put(_places(tables.places[kind][row_id]))
        at["index"][kind] = len(writer.lines)
        writer.put(tables.index(kind).parts())
        at["raw"][kind] = len(writer.lines)
        for text in raw.rows[kind].values():
            writer.put([text.document.file, text.data])
    at["language"] = len(writer.lines)
    for part in language_of(tables).lines(writer.plain):
        writer.put(part)
    at["cells"] = len(writer.lines)
    rest = _body([*writer.lines, *writer.cells])
    head = {
        "format": FORMAT,
        "key": key,
        "size": len(rest),
        "digest": tables.digest,
        "sets": [vars(about) for about in tables.sets],
        "loosened": [[loosened.set, loosened.row, loosened.reason] for loosened in tables.loosened],
        "rows": rows,
        "at": at,
        "classes": writer.classes,
    }
    return _text(head).encode() + b"\n" + rest


def _body(lines: list[str]) -> bytes:
    """The lines, and before them in one line where each begins and the last ends."""
    encoded = [f"{line}\n".encode() for line in lines]
    begin = DIGITS * (len(lines) + 1) + 1
    begins = accumulate(map(len, encoded), initial=begin)
    index = "".join(f"{number:0{DIGITS}}" for number in begins)
    return b"".join([index.encode(), b"\n", *encoded])


def _text(plain: Any) -> str:
    return json.dumps(plain, ensure_ascii=False, separators=(",", ":"))


class _Writer:
    """Values as plain JSON; which fields an object has is written once a class."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.classes: list[tuple[str, list[str]]] = []
        self.cells: dict[str, int] = {}

    def put(self, plain: Any) -> None:
        self.lines.append(_text(plain))

    def plain(self, value: Any) -> Any:
        """A value of a row; TypeError for one that `Store.value` could not give back."""
        if value is None or type(value) in (bool, int, float, str):
            return value
        if isinstance(value, Texts):
            return [TEXTS, dict(value)]
        if isinstance(value, Mapping) and all(isinstance(key, str) for key in value):
            return {key: self.plain(item) for key, item in value.items()}
        if isinstance(value, tuple):
            if all(type(item) is str for item in value):
                return [WORDS, *value]
            return [TUPLE, *map(self.plain, value)]
        if isinstance(value, Cell):
            return [CELL, self._cell(value)]
        if isinstance(value, Light):
            fields = value.__dict__
            return [ROW, self._number(type(value), list(fields)), *map(self.plain, fields.values())]
        raise TypeError(f"a {type(value).__name__} cannot stand in compiled tables")

    def _cell(self, cell: Cell) -> int:
        """The number of a cell, which is written once for all rows that inherit it."""
        line = _text([getattr(cell, name) for name in Cell.__dataclass_fields__])
        return self.cells.setdefault(line, len(self.cells))

    def _number(self, cls: type, fields: list[str]) -> int:
        entry = (class_name(cls), fields)
        if entry not in self.classes:
            self.classes.append(entry)
        return self.classes.index(entry)


def _places(places: Mapping[Path_, Where]) -> Any:
    words: dict[str, int] = {}

    def number(word: str) -> int:
        return words.setdefault(word, len(words))

    rows = [
        (path, number(w.set), number(w.file), w.line, w.column, number(w.row))
        for path, w in places.items()
    ]
    return [list(words), rows]
