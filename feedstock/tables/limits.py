"""Which set of published limits judges."""

from __future__ import annotations

from collections.abc import Mapping

from ..errors import InputError, Problem
from ..quantities.frozen import frozen
from .caches import kept_of_tables
from .citations import Citation, citation, plain_citation
from .rows.limits import LimitSet
from .tables import Tables


@frozen
class Limit:
    """One limit: a share by mass, how it is known, and what it is cited by."""

    value: float
    known: str
    sources: tuple[Citation, ...]


@frozen
class Limits:
    """The set in use, under the name by which it is told."""

    row_id: str
    name: str
    of: Mapping[str, Limit]


@kept_of_tables(64)
def limits_in_use(tables: Tables, name: str | None) -> Limits | None:
    """The named set, or the default; None where the tables have none.

    The default is the first set that says so: one that comes later cannot put its own limits in the
    place of another's without being named. Raises UnknownName for a set that is not there,
    InputError for one that is made for the feed.
    """
    if name is None:
        row_id = next(
            (
                key
                for key, row in tables.rows["limits"].items()
                if isinstance(row, LimitSet) and row.default
            ),
            None,
        )
        if row_id is None:
            return None
    else:
        row_id = tables.find("limits", name, "limits")
    row = tables.row("limits", row_id, LimitSet)
    if row.scope != "char":
        raise InputError(
            [
                Problem(
                    "wrong-limits",
                    f"'{name}' limits the feed of a panel mill or a boiler, not char for soil",
                    f"Name a set for char: {', '.join(sets_for_char(tables))}.",
                    "limits",
                    name or "",
                )
            ]
        )
    by_element = {}
    for element, cell in row.elements.items():
        sources = tuple(
            citation(tables, key, row_id.partition(":")[0], cell.at, cell.known)
            for key in cell.source
        )
        by_element[element] = Limit(
            cell.mid,
            cell.known,
            sources or (plain_citation(row.title, at=cell.note, known=cell.known),),
        )
    return Limits(row_id, row.display(row_id.partition(":")[2]), by_element)


def laxer_than_default(limits: Limits, tables: Tables) -> tuple[str, ...]:
    """The elements for which a set allows more than the default, or says nothing."""
    default = limits_in_use(tables, None)
    if default is None or default.row_id == limits.row_id:
        return ()
    return tuple(
        element
        for element, limit in default.of.items()
        if element not in limits.of or limits.of[element].value > limit.value * (1 + 1e-9)
    )


def sets_for_char(tables: Tables) -> list[str]:
    """The names of the sets that can judge a char."""
    return [
        row.display(row_id.partition(":")[2])
        for row_id, row in tables.rows["limits"].items()
        if isinstance(row, LimitSet) and row.scope == "char"
    ]
