"""What a row is to those who read names: wood of a plant, a question, a row of the first set."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..rows.contaminant import Contaminant
from ..rows.material import Material

if TYPE_CHECKING:
    from ..tables import Tables


def is_tree(row: Material) -> bool:
    """Whether a row is the wood of a plant, so that its names are names of a plant."""
    return row.class_ in ("hardwood", "softwood") and row.form == "round" and bool(row.like)


def is_danger_row(row: Material) -> bool:
    """Whether a material is itself a question: it carries a suspicion, or is a made board."""
    return row.form in ("board",) or (bool(row.carries) and row.class_ not in ("straw", "manure"))


def is_poisonous_plant(tables: Tables, row: Material) -> bool:
    """Whether a row is the wood of a plant that is asked about for its smoke or sap alone: it is
    read with forms as other plants are, and asks all the same.
    """
    grown = row.class_ in ("hardwood", "softwood") and row.form in ("round", "brush")
    return (
        grown
        and bool(row.like and row.carries)
        and all(
            isinstance(asked := tables.rows["contaminants"].get(_full(tables, name)), Contaminant)
            and asked.axis == "handling"
            for name in row.carries
        )
    )


def _full(tables: Tables, name: str) -> str:
    return next(iter(tables.index("contaminants").find(name)), name)


def may_hide(tables: Tables, row_id: str) -> bool:
    """Whether a clean name of a row may have a danger word in it: those of the first set, and those
    of a row that says why (`loosens`).
    """
    return row_id.partition(":")[0] == tables.sets[0].name or any(
        loosened.row == row_id for loosened in tables.loosened
    )
