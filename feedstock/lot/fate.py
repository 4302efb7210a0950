"""What of an element stays in char."""

from __future__ import annotations

from dataclasses import dataclass

from ..quantities.cell import Cell
from ..tables.rows.methods.load import ElementFate, Fate


@dataclass(frozen=True, slots=True)
class Kept:
    """The two cells of an element, with their places in the row `full`."""

    row_id: str
    name: str
    conservative: Cell
    central: Cell
    band: int


def kept_of(fate: tuple[str, Fate], element: str, temperature: float) -> Kept | None:
    """What stays of an element in char of a highest temperature, degC; None where the table does
    not know it.
    """
    row_id, row = fate
    found: ElementFate | None = row.elements.get(element)
    if found is None:
        return None
    band = next(
        (
            number
            for number, item in enumerate(found.central)
            if item.to is None or temperature < item.to.mid
        ),
        len(found.central) - 1,
    )
    return Kept(row_id, found.name, found.conservative, found.central[band].kept, band)
