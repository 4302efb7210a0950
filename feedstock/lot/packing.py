"""What a word for how a lot lies says of its pieces."""

from __future__ import annotations

from functools import lru_cache

from ..model.inputs.lot import Lot
from ..quantities.cell import Cell
from ..tables.names.index import Index
from ..tables.rows.material import Material
from ..tables.rows.methods.amount import Packing
from ..tables.tables import Tables


@lru_cache(maxsize=64)
def packing_names(tables: Tables) -> Index:
    """The ways of lying by their names."""
    row = tables.method("packing", Packing)[1]
    return Index({f":{key}": way.names for key, way in row.ways.items()})


def packed_thickness(lot: Lot, row: Material, tables: Tables) -> tuple[Cell, str, str] | None:
    """The thickness that the lot's packing stands for where it is thinner than that of the
    material, with its row and its way: a heap of brush is no heap of limbs.
    """
    if lot.packing is None or lot.mass is not None or lot.pieces is not None:
        return None
    if row.basic_density is None:
        return None
    found = packing_names(tables).find(lot.packing)
    if len(found) != 1:
        return None
    row_id, packing = tables.method("packing", Packing)
    key = found[0][1:]
    cell = packing.ways[key].thickness
    if cell is None or (row.thickness is not None and row.thickness.mid <= cell.mid):
        return None
    return cell, row_id, key
