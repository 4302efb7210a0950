"""Methods that can decide a verdict: those of the first set that names one."""

from __future__ import annotations

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
    if purpose in dict(tables.use):
        return tables.method(purpose, model)
    for full, row in tables.rows["methods"].items():
        if isinstance(row, Defaults) and purpose in row.use:
            own = f"{full.partition(':')[0]}:{row.use[purpose]}"
            found = (
                own
                if own in tables.rows["methods"]
                else tables.find("methods", row.use[purpose], f"use.{purpose}")
            )
            return found, tables.row("methods", found, model)
    return None
