"""A row with every value, its interval, its source, and where it was inherited from."""

from __future__ import annotations

from collections.abc import Iterator

from ..quantities.cell import Cell
from ..quantities.units import DIMENSIONS
from ..tables.loading.references import cells_of
from ..tables.rows.row import Row, Sourced
from ..tables.tables import Tables
from ..words import Texts
from .diff import cell_text

KINDS = (
    "materials",
    "burners",
    "contaminants",
    "clears",
    "signs",
    "origins",
    "limits",
    "methods",
    "scales",
    "cautions",
    "sources",
)


def found_rows(tables: Tables, name: str) -> list[tuple[str, str]]:
    """Every row of any kind that goes by a name, as (kind, full name)."""
    return [(kind, row_id) for kind in KINDS for row_id in tables.index(kind).find(name)]


def taken_text(tables: Tables, kind: str, row_id: str) -> str:
    """What is to be said of the words of a row that another one has too."""
    own = [taken for taken in tables.taken if (taken.kind, taken.row) == (kind, row_id)]
    if own:
        words = ", ".join(dict.fromkeys(f"'{taken.word}'" for taken in own))
        return f" (by its full name alone: {words} is {own[0].owner})"
    others = dict.fromkeys(
        taken.row for taken in tables.taken if (taken.owner.kind, taken.owner.row) == (kind, row_id)
    )
    return f" (a word of it is used by {', '.join(others)} too)" if others else ""


def short(row_id: str) -> str:
    """A full name without the set where that is the reference set."""
    return row_id.removeprefix("reference:")


def shown(tables: Tables, kind: str, row_id: str) -> Iterator[str]:
    """One row, value by value."""
    row: Row = tables.rows[kind][row_id]
    where = tables.where(kind, row_id, ())
    yield f"{row_id} ({kind}), set {where.set} {tables.version_of(where.set)}, {where.file}" + (
        f":{where.line}" if where.line else ""
    )
    for language, names in row.names.items():
        yield f"  names {language}: {', '.join(names)}"
    for name, info in type(row).model_fields.items():
        value = getattr(row, name)
        if isinstance(value, Texts):
            yield from _texts(name.replace("_", " "), value)
        if (
            isinstance(value, (str, int, float, bool))
            and value not in ("", None)
            or isinstance(value, tuple)
            and value
            and all(isinstance(v, str) for v in value)
        ):
            text = ", ".join(value) if isinstance(value, tuple) else str(value)
            yield f"  {(info.alias or name).replace('_', ' ')}: {text}"
    for path, cell in cells_of(row):
        yield from _cell(tables, kind, row_id, path, cell)
    if isinstance(row, Sourced) and row.source:
        for key in row.source:
            yield f"    source: {tables.source_title(key, where.set)}; {row.at} ({row.known})"


def _texts(name: str, texts: Texts) -> Iterator[str]:
    """A text as it stands in the table, with its language where that is not English."""
    for language, text in texts.items():
        yield f"  {name}{'' if language == 'en' else f' {language}'}: {text}"


def _cell(
    tables: Tables, kind: str, row_id: str, path: tuple[str | int, ...], cell: Cell
) -> Iterator[str]:
    place = tables.where(kind, row_id, path)
    inherited = f", from {short(place.row)}" if place.row not in (row_id, "") else ""
    yield f"  {'.'.join(map(str, path))}: {cell_text(cell)}{inherited}, {place.file}:{place.line}"
    if cell.low != cell.high:
        unit = (
            DIMENSIONS[cell.dimension].si
            if cell.dimension in DIMENSIONS
            else f"share, {cell.basis} basis"
        )
        yield (
            f"    as used (5th percentile, middle, 95th): {cell.low:.4g}, {cell.mid:.4g}, "
            f"{cell.high:.4g} {unit}"
        )
    for key in cell.source:
        yield f"    source: {tables.source_title(key, place.set)}"
    if cell.note:
        yield f"    note: {cell.note}"
