"""Lots as flat rows: of a CSV file, or of another program's tables."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from ...documents.positions import Path_, Place, path_text
from ...errors import Problem, counted, nearest_names, shown
from .fields import MOST_LOTS

CSV_FIELDS = (
    "name",
    "material",
    "mass",
    "volume",
    "packing",
    "pieces.count",
    "pieces.length",
    "pieces.diameter",
    "pieces.diameters",
    "pieces.width",
    "pieces.thickness",
    "pieces.hollow",
    "stack.shape",
    "stack.width",
    "stack.length",
    "stack.height",
    "containers.count",
    "containers.of",
    "moisture",
    "moisture.reading",
    "moisture.by",
    "moisture.wet",
    "moisture.oven_dry",
    "moisture.air.temperature",
    "moisture.air.relative_humidity",
    "moisture.condition",
    "thickness",
    "decay",
    "lying",
    "soil",
    "origin",
    "signs",
    "year",
    "region",
    "measured.basic_density",
    "measured.bulk_density",
    "measured.ash",
    "remarks",
    "dismiss",
)


LISTS = ("signs", "dismiss", "pieces.diameters")


def lot_of_row(
    row: Mapping[str, Any],
    index: int,
    problems: list[Problem],
    places: Mapping[Path_, Place] | None = None,
    file: str | None = None,
) -> dict[str, Any]:
    """A row as the mapping of a lot: a point in a column's name leads into a part, a bar in a cell
    stands between the entries of a list.
    """
    lot: dict[str, Any] = {}
    for key, cell in row.items():
        *outer, last = key.split(".")
        inner: Any = lot
        for part in outer:
            inner = inner.setdefault(part, {})
        if not isinstance(inner, dict) or last in inner:
            place = (places or {}).get((index, *key.split(".")), (None, None))
            problems.append(
                Problem(
                    "two-moistures",
                    f"`{key.partition('.')[0]}` is given in two columns",
                    "Keep one of them in this row.",
                    path_text(("lots", index, key)),
                    shown(cell),
                    file,
                    *place,
                )
            )
            continue
        listed = key in LISTS and isinstance(cell, str)
        inner[last] = [part.strip() for part in cell.split("|") if part.strip()] if listed else cell
    return lot


def lots_of_rows(
    rows: Iterable[Mapping[str, Any]], problems: list[Problem]
) -> list[dict[str, Any]]:
    """Rows of another program as the mappings of lots; what says nothing is left out."""
    lots = []
    for index, row in enumerate(counted(rows, MOST_LOTS, "lots")):
        if not isinstance(row, Mapping):
            what = f"'{shown(row)}' is not a row"
            problems.append(
                Problem("not-a-mapping", what, "Give a dict for each lot.", f"lots[{index}]")
            )
            continue
        cells = {str(name): cell for name, cell in row.items() if not _says_nothing(cell)}
        for name in [name for name in cells if name not in CSV_FIELDS]:
            del cells[name]
            problems.append(
                Problem(
                    "unknown-field",
                    f"'{shown(name)}' is not a column of a lot",
                    f"Columns: {', '.join(CSV_FIELDS)}.",
                    f"lots[{index}].{name}",
                    nearest=nearest_names(name, CSV_FIELDS),
                )
            )
        lots.append(lot_of_row(cells, index, problems))
    if not lots and not problems:
        problems.append(Problem("empty", "there are no rows", "Give one for each lot.", "lots"))
    return lots


def _says_nothing(cell: Any) -> bool:
    """None, an empty text, and what stands for a missing number: NaN, and the like of it that does
    not even know whether it is itself.
    """
    if cell is None or (isinstance(cell, str) and not cell.strip()):
        return True
    try:
        return bool(cell != cell)
    except (TypeError, ValueError):
        return type(cell).__name__ in ("NAType", "NaTType")
