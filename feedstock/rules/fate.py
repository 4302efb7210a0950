"""What of an element stays in char: without credit for any loss when a limit judges, as measured
when it is reported.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from ..tables import Tables
from ..tables.methods import Defaults
from ..tables.methods_load import ElementFate, Fate
from ..tables.schema import Cell, Row

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


@dataclass(frozen=True, slots=True)
class Kept:
    """The two cells of an element, with their places in the row `full`."""

    full: str
    name: str
    conservative: Cell
    central: Cell
    band: int


def kept_of(fate: tuple[str, Fate], element: str, temperature: float) -> Kept | None:
    """What stays of an element in char of a highest temperature, degC; None where the table does
    not know it.
    """
    full, row = fate
    found: ElementFate | None = row.elements.get(element)
    if found is None:
        return None
    band = next(
        (
            number
            for number, each in enumerate(found.central)
            if each.to is None or temperature < each.to.mid
        ),
        len(found.central) - 1,
    )
    return Kept(full, found.name, found.conservative, found.central[band].kept, band)
