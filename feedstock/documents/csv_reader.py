"""Strict CSV with positions."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from ..errors import InputError, Problem, nearest_names, shown
from .positions import Path_, Place


@dataclass(slots=True)
class CsvRows:
    """The rows of a CSV file as mappings of text, with the line of each and the place of every
    cell.
    """

    rows: list[dict[str, str]]
    places: dict[Path_, Place]


def read_csv(text: str, name: str, known: Sequence[str]) -> CsvRows:
    """Comma-separated rows under a header of field names; `known` are the names that a header may
    hold.
    """
    stream = csv.reader(io.StringIO(text, newline=""), strict=True)
    problems: list[Problem] = []
    rows: list[dict[str, str]] = []
    places: dict[Path_, Place] = {}
    header: list[str] | None = None
    ended = 0
    try:
        for cells in stream:
            ended = stream.line_num
            if not any(cell.strip() for cell in cells):
                continue
            if header is None:
                header = [cell.strip() for cell in cells]
                problems += _header_problems(header, name, known, stream.line_num)
                if problems:
                    break
                continue
            line = stream.line_num
            if len(cells) != len(header):
                problems.append(_row_length(cells, header, name, line))
                continue
            index = len(rows)
            rows.append(
                {key: cell.strip() for key, cell in zip(header, cells, strict=True) if cell.strip()}
            )
            places[(index,)] = (line, 1)
            for column, key in enumerate(header, 1):
                places[(index, *key.split("."))] = (line, column)
    except csv.Error as why:
        said = (
            "a quote is opened in this row and never closed"
            if "end of data" in str(why)
            else f"this is not CSV: {why}"
        )
        problems.append(
            Problem(
                "not-csv",
                said,
                "Close every quote, and save as comma-separated text.",
                file=name,
                line=ended + 1,
            )
        )
    if problems:
        raise InputError(problems)
    if not rows:
        raise InputError(
            [
                Problem(
                    "empty",
                    "there is no row under the header",
                    "Write one row a lot.",
                    file=name,
                    line=1,
                )
            ]
        )
    return CsvRows(rows, places)


def _header_problems(
    header: list[str], name: str, known: Sequence[str], line: int
) -> list[Problem]:
    if sum(key.count(";") for key in header) >= len(header):
        return [
            Problem(
                "semicolon",
                "the fields are separated by semicolons",
                "Save the sheet with commas between fields and points in numbers.",
                file=name,
                line=line,
            )
        ]
    if sum(key.count("\t") for key in header) >= len(header):
        return [
            Problem(
                "tab",
                "the fields are separated by tabs",
                "Save the sheet with commas between fields.",
                file=name,
                line=line,
            )
        ]
    problems = []
    for column, key in enumerate(header, 1):
        where: dict[str, Any] = {"file": name, "line": line, "column": column}
        if not key:
            problems.append(
                Problem(
                    "header",
                    f"column {column} has no name",
                    "Name it, or delete the column.",
                    **where,
                )
            )
        elif key not in known:
            problems.append(
                Problem(
                    "unknown-field",
                    f"'{shown(key)}' is not a field of a lot",
                    f"Fields: {', '.join(known)}.",
                    key,
                    nearest=nearest_names(key, known),
                    **where,
                )
            )
        elif header.index(key) != column - 1:
            problems.append(
                Problem(
                    "duplicate-key",
                    f"the column '{shown(key)}' stands a second time",
                    "Keep one of the two.",
                    key,
                    **where,
                )
            )
    return problems


def _row_length(cells: list[str], header: list[str], name: str, line: int) -> Problem:
    what = f"the row has {len(cells)} fields where the header has {len(header)}"
    if len(cells) > len(header) and any(
        a.strip()[-1:].isdigit() and b.strip()[:1].isdigit() for a, b in pairwise(cells)
    ):
        return Problem(
            "comma",
            f"{what}; a number may hold a decimal comma",
            "Write 1.5, not 1,5.",
            file=name,
            line=line,
        )
    return Problem(
        "row-length",
        what,
        "Give every row as many fields as the header; put text that holds a comma in quotes.",
        file=name,
        line=line,
    )
