"""Quantities in the texts of rows: each stands in braces with its unit, so that a reader gets it in
units of their own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from ..errors import Problem
from ..quantities.format import WRITTEN, bare_quantity
from ..quantities.units import find_unit
from ..tables.rows.row import Row
from ..tables.tables import Tables
from ..words import Texts

Path = tuple[str | int, ...]

NAMED = frozenset({"elements", "limits"})
"""What a text may name in braces besides quantities: elements over their limit, and the limits."""

_BRACES = re.compile(r"\{[^{}]*\}?|\}")


def bare_quantities(tables: Tables, set_name: str, problems: list[Problem]) -> None:
    """Append a problem for every quantity without braces in the texts of a set, and for braces that
    hold neither a quantity nor a name.
    """
    for kind, rows in tables.rows.items():
        for row_id, row in rows.items():
            if row_id.partition(":")[0] != set_name and set_name not in _changed_by(
                tables, kind, row_id
            ):
                continue
            for path, texts in texts_of(row):
                where = tables.where(kind, row_id, path)
                if where.set == set_name:
                    for language, text in texts.items():
                        place = (*path, language) if len(texts) > 1 else path
                        problems += _faults(text, tables, kind, row_id, place)


def _changed_by(tables: Tables, kind: str, row_id: str) -> set[str]:
    return {where.set for where in tables.places[kind].get(row_id, {}).values()}


def texts_of(row: Row) -> Iterator[tuple[Path, Texts]]:
    """Every text of a row that is said to a reader, with its path."""
    for name, info in type(row).model_fields.items():
        yield from _texts(getattr(row, name), (info.alias or name,))


def _texts(value: Any, path: Path) -> Iterator[tuple[Path, Texts]]:
    if isinstance(value, Texts):
        yield path, value
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from _texts(item, (*path, key))
    elif isinstance(value, tuple):
        for number, item in enumerate(value):
            yield from _texts(item, (*path, number))
    elif hasattr(type(value), "model_fields"):
        for name, info in type(value).model_fields.items():
            yield from _texts(getattr(value, name), (*path, info.alias or name))


def _faults(text: str, tables: Tables, kind: str, row_id: str, path: Path) -> Iterator[Problem]:
    bare = bare_quantity(text)
    if bare is not None:
        what = f"'{bare}' stands in this text without braces"
        remedy = f"Write {{{bare}}}: then it is printed in the reader's units."
        yield _problem("bare-quantity", what, remedy, tables, kind, row_id, path)
    for match in _BRACES.finditer(text):
        inside = WRITTEN.fullmatch(match[0])
        if inside is not None and find_unit(inside[3]) is not None:
            continue
        if match[0][1:-1] not in NAMED:
            what = f"'{match[0]}' is no quantity with a unit that is known here"
            remedy = "Write a number and its unit, for instance {3 m} or {20 to 30 cm}."
            yield _problem("not-a-quantity", what, remedy, tables, kind, row_id, path)


def _problem(
    code: str, what: str, expected: str, tables: Tables, kind: str, row_id: str, path: Path
) -> Problem:
    where = tables.where(kind, row_id, path)
    field = ".".join(map(str, (kind, row_id.partition(":")[2], *path)))
    return Problem(code, what, expected, field, "", where.file or None, where.line, where.column)
