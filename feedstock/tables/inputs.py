"""A cell of a table as an input of a chain."""

from __future__ import annotations

from ..documents.positions import Path_
from ..uncertainty.inputs import Input
from ..uncertainty.inputs import cell_input as made_input
from ..uncertainty.keys import Key
from .tables import Tables


def cell_input(
    tables: Tables,
    name: str,
    kind: str,
    row_id: str,
    path: Path_,
    key: Key | None = None,
    exact: bool = False,
) -> Input:
    """The cell at a path of a row under a name of a chain; a moisture enters on wet basis.

    Its doubt is shared with every other use of the cell, also by rows that inherit it, unless `key`
    names another one; an `exact` one has none. Made once and kept with the tables.
    """
    place = (name, kind, row_id, path, key, exact)
    entry = tables.inputs.get(place)
    if entry is None:
        entry = tables.inputs[place] = _made(tables, name, kind, row_id, path, key, exact)
    return entry


def _made(
    tables: Tables, name: str, kind: str, row_id: str, path: Path_, key: Key | None, exact: bool
) -> Input:
    cell = tables.cell(kind, row_id, path)
    assert cell is not None, (kind, row_id, path)
    owner = tables.where(kind, row_id, path).row or row_id
    origin = tables.origin(kind, row_id, path, cell)
    return made_input(name, cell, owner, path, origin, key=key, exact=exact)
