"""The one maker of citations, from a row or from a cell."""

from __future__ import annotations

from ..quantities.cell import Cell
from ..quantities.data import Data, trusted
from .caches import kept_of_tables
from .rows.row import Sourced
from .rows.source import Source, cited_text
from .tables import Tables


class Citation(Data):
    """A source, where in it, how it is known, and the key and DOI by which a program finds it."""

    text: str
    """The source as it is cited."""
    at: str = ""
    """Where in it."""
    known: str = "read"
    """How it is known: read, memory, derived, practice or judgement."""
    key: str = ""
    """The full name of its row, for programs."""
    doi: str = ""
    """Its DOI, where it has one."""

    def __str__(self) -> str:
        return ", ".join(part for part in (self.text, self.at) if part)


def plain_citation(text: str, *, at: str = "", known: str = "read") -> Citation:
    """What is no row of `sources`: something computed, a set, a practice, a judgement."""
    return trusted(Citation)(text=text, at=at, known=known)


@kept_of_tables(8192)
def citation(tables: Tables, key: str, set_name: str, at: str, known: str) -> Citation:
    """A source as a set names it, with the place in it."""
    row_id = tables.source_name(key, set_name)
    if row_id is None:
        return trusted(Citation)(text=key, at=at, known=known)
    row = tables.row("sources", row_id, Source)
    return trusted(Citation)(text=cited_text(row), at=at, known=known, key=row_id, doi=row.doi)


def citations(kind: str, row_id: str, row: Sourced, tables: Tables) -> tuple[Citation, ...]:
    """The sources of a row; a judgement or a practice is cited as such."""
    where = tables.where(kind, row_id, ())
    if not row.source:
        words = {
            "practice": "common practice, no source",
            "judgement": "judgement of the maintainers",
        }
        return (
            trusted(Citation)(
                text=words.get(row.known, f"tables of {where.set}"),
                at=f"{kind} {row_id}",
                known=row.known,
            ),
        )
    return tuple(citation(tables, key, where.set, row.at, row.known) for key in row.source)


def cited(cell: Cell, tables: Tables, set_name: str) -> tuple[Citation, ...]:
    """The sources of a cell."""
    if not cell.source:
        words = {
            "practice": "common practice, no source",
            "judgement": "judgement of the maintainers",
        }
        return (
            trusted(Citation)(
                text=words.get(cell.known, "reference tables"), at=cell.note, known=cell.known
            ),
        )
    return tuple(citation(tables, key, set_name, cell.at, cell.known) for key in cell.source)
