"""The difference between two states of the tables: by row and field, and by effect on the panel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from ..quantities.cell import Cell
from ..quantities.frozen import frozen
from ..tables.rows.light import Light
from ..tables.rows.row import Row
from ..tables.tables import Tables
from ..words import Texts


@frozen
class Difference:
    """One field of one row: what stands before and after; an empty text where the row or field is
    not there.
    """

    kind: str
    row: str
    field: str
    before: str
    after: str

    def __str__(self) -> str:
        name = f"{self.kind} {self.row}" + (f" {self.field}" if self.field else "")
        if not self.before:
            return f"{name}: new" + (f": {self.after}" if self.field else "")
        if not self.after:
            return f"{name}: gone" + (f" (was {self.before})" if self.field else "")
        return f"{name}: {self.before} becomes {self.after}"


def differences(before: Tables, after: Tables) -> list[Difference]:
    """Every field that differs, rows in order of their names; inherited fields only where they
    stand.
    """
    return [item for kind in before.rows for item in _kind(kind, before, after)]


def _kind(kind: str, before: Tables, after: Tables) -> Iterator[Difference]:
    old, new = before.rows[kind], after.rows[kind]
    for row_id in sorted(set(old) | set(new)):
        if row_id not in new:
            yield Difference(kind, row_id, "", old[row_id].display(row_id), "")
        elif row_id not in old:
            yield Difference(kind, row_id, "", "", new[row_id].display(row_id))
        else:
            a, b = _flat(old[row_id], kind, row_id, before), _flat(new[row_id], kind, row_id, after)
            for name in sorted(set(a) | set(b)):
                if a.get(name, "") != b.get(name, ""):
                    yield Difference(kind, row_id, name, a.get(name, ""), b.get(name, ""))


def _flat(row: Row, kind: str, row_id: str, tables: Tables) -> dict[str, str]:
    """The fields of a row as text by their path, leaving out what it inherits."""
    texts: dict[str, str] = {}

    def put(value: Any, path: tuple[str | int, ...]) -> None:
        if isinstance(value, Cell):
            if tables.where(kind, row_id, path).row in (row_id, ""):
                texts[".".join(map(str, path))] = cell_text(value)
        elif isinstance(value, Light):
            for name, info in type(value).model_fields.items():
                put(getattr(value, name), (*path, info.alias or name))
        elif isinstance(value, Texts) and set(value) <= {"en"}:
            put(value.get("en", ""), path)
        elif isinstance(value, Mapping):
            for key, inner in value.items():
                put(inner, (*path, key))
        elif isinstance(value, tuple):
            if all(isinstance(v, str) for v in value):
                if value and (not path or tables.where(kind, row_id, path[:1]).row in (row_id, "")):
                    texts[".".join(map(str, path))] = ", ".join(value)
            else:
                for index, inner in enumerate(value):
                    put(inner, (*path, index))
        elif value not in (None, ""):
            texts[".".join(map(str, path))] = str(value)

    put(row, ())
    return texts


def cell_text(cell: Cell) -> str:
    """A cell on one line: value, interval, how known, source and locator."""
    value, low, high = cell.text
    span = f" ({low} to {high}, {cell.covers}, ends {cell.ends})" if low != high else ""
    source = f"; {', '.join(cell.source)}, {cell.at}" if cell.source else ""
    return f"{value}{span}, {cell.known}{source}"
