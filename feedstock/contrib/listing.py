"""The sets in use and their rows, to look through or to search."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from ..errors import InputError, Problem, nearest_names, shown
from ..tables.names.index import folded
from ..tables.places import SetInfo
from ..tables.rows.row import Row
from ..tables.tables import Tables
from ..words.layout import wrapped
from .show import KINDS, short, taken_text


def listing(tables: Tables, kind: str | None = None, word: str = "") -> Iterator[str]:
    """The sets in use and their rows with all their names, one a line; with a word only rows that
    have it in a name or in their key.

    Raises InputError for a kind that there is not.
    """
    kinds = _kinds(kind)
    for table_set in tables.sets:
        yield _set_text(table_set)
    for one in kinds:
        rows = _rows_with(tables, one, word)
        if not rows:
            continue
        yield ""
        yield f"{one} ({len(rows)})"
        for row_id, row in rows:
            names = ", ".join(name for names in row.names.values() for name in names)
            after = f": {names}" if names else ""
            yield f"  {short(row_id)}{after}{taken_text(tables, one, row_id)}"


def listing_text(tables: Tables, kind: str | None = None, word: str = "") -> str:
    """The list on lines of a width; what was searched for and not found is said."""
    lines = list(listing(tables, kind, word))
    if word and len(lines) == len(tables.sets):
        where = f"{kind} have" if kind else "row has"
        lines += ["", f"No {where} '{shown(word)}' in a name."]
    return "\n".join(_broken(line) for line in lines) + "\n"


def _broken(line: str) -> str:
    return wrapped(line[2:], "  ", "      ") if line.startswith("  ") else wrapped(line, rest="  ")


def listing_data(tables: Tables, kind: str | None = None, word: str = "") -> dict[str, Any]:
    """The same for a program."""
    return {
        "sets": [asdict(table_set) for table_set in tables.sets],
        "rows": [
            {
                "kind": one,
                "row": row_id,
                "names": {language: list(names) for language, names in row.names.items()},
                "remark": taken_text(tables, one, row_id).strip(" ()"),
            }
            for one in _kinds(kind)
            for row_id, row in _rows_with(tables, one, word)
        ],
    }


def _kinds(kind: str | None) -> tuple[str, ...]:
    if kind is None:
        return KINDS
    if kind not in KINDS:
        what = f"'{shown(kind)}' is not a kind of row"
        remedy = f"Kinds: {', '.join(KINDS)}. A word is searched for with --search."
        near = nearest_names(kind, KINDS)
        raise InputError([Problem("unknown-word", what, remedy, nearest=near)])
    return (kind,)


def _set_text(of: SetInfo) -> str:
    """Name, version, digest, where it comes from, licence and who answers for it."""
    whence = f", from {of.distribution}" if of.distribution else ""
    licence = f"; licence {of.licence}" if of.licence else "; no licence given"
    maintainer = f"; maintainer {of.maintainer}" if of.maintainer else ""
    return f"set {of.name} {of.version} ({of.digest[:12]}){whence}{licence}{maintainer}"


def _rows_with(tables: Tables, kind: str, word: str) -> list[tuple[str, Row]]:
    wanted = folded(word)
    return [
        (row_id, row)
        for row_id, row in sorted(tables.rows[kind].items())
        if not wanted or any(wanted in folded(name) for name in _row_words(row_id, row))
    ]


def _row_words(row_id: str, row: Row) -> Iterator[str]:
    yield row_id.partition(":")[2]
    for names in row.names.values():
        yield from names
