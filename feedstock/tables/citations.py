"""The one maker of citations, from a row or from a cell."""

from __future__ import annotations

from ..quantities.cell import Cell
from ..quantities.frozen import Data
from .rows.row import Sourced
from .tables import Tables


class Citation(Data):
    """A source, where in it, and how it is known (read, memory, derived, practice, judgement)."""

    text: str
    """The source as it is cited."""
    at: str = ""
    """Where in it."""
    known: str = "read"
    """How it is known: read, memory, derived, practice or judgement."""

    def __str__(self) -> str:
        return ", ".join(part for part in (self.text, self.at) if part)


def citations(kind: str, row_id: str, row: Sourced, tables: Tables) -> tuple[Citation, ...]:
    """The sources of a row; a judgement or a practice is cited as such."""
    where = tables.where(kind, row_id, ())
    if not row.source:
        words = {
            "practice": "common practice, no source",
            "judgement": "judgement of the maintainers",
        }
        return (
            Citation(
                text=words.get(row.known, f"tables of {where.set}"),
                at=f"{kind} {row_id}",
                known=row.known,
            ),
        )
    return tuple(
        Citation(text=tables.source_title(key, where.set), at=row.at, known=row.known)
        for key in row.source
    )


def cited(cell: Cell, tables: Tables, set_name: str) -> tuple[Citation, ...]:
    """The sources of a cell."""
    if not cell.source:
        words = {
            "practice": "common practice, no source",
            "judgement": "judgement of the maintainers",
        }
        return (
            Citation(
                text=words.get(cell.known, "reference tables"), at=cell.note, known=cell.known
            ),
        )
    return tuple(
        Citation(text=tables.source_title(key, set_name), at=cell.at, known=cell.known)
        for key in cell.source
    )
