"""Methods that can decide a verdict: those of the first set that names one."""

from __future__ import annotations

from functools import lru_cache
from typing import TypeVar

from .rows.methods.defaults import Defaults
from .rows.row import Row
from .tables import Tables

R = TypeVar("R", bound=Row)


def gate_method(tables: Tables, purpose: str, model: type[R]) -> tuple[str, R] | None:
    """The method for a purpose that can decide a verdict; None where the tables have none.

    It is that of the first set which names one, or one that was chosen by `Tables.using`: a set
    that comes later cannot put its own figures in its place without declaring the change.
    """
    row_id = _gate_row(tables, purpose)
    return None if row_id is None else (row_id, tables.row("methods", row_id, model))


@lru_cache(maxsize=512)
def _gate_row(tables: Tables, purpose: str) -> str | None:
    if purpose in dict(tables.use):
        return tables.find("methods", dict(tables.use)[purpose], f"use.{purpose}")
    for row_id, row in tables.rows["methods"].items():
        if isinstance(row, Defaults) and purpose in row.use:
            own = f"{row_id.partition(':')[0]}:{row.use[purpose]}"
            return (
                own
                if own in tables.rows["methods"]
                else tables.find("methods", row.use[purpose], f"use.{purpose}")
            )
    return None
