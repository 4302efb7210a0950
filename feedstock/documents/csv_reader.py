"""Strict CSV with positions."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from itertools import pairwise

from ..errors import InputError, Problem, nearest_names, shown
from ..quantities.frozen import record
from .positions import Path_, Place


@record
class CsvRows:
    """The rows of a CSV file as mappings of text, with the line of each and the place of every
    cell.
    """

    rows: list[dict[str, str]]
    places: dict[Path_, Place]


def read_csv(text: str, name: str, fields: Sequence[str]) -> CsvRows:
    """Comma-separated rows under a header of field names; `known` are the names that a header may
    hold.
    """
    stream = csv.reader(io.StringIO(text, newline=""), strict=True)
    table = CsvRows([], {})
    problems: list[Problem] = []
    ended = 0
    try:
        header: list[str] | None = None
        for cells in stream:
            ended = stream.line_num
            if not any(cell.strip() for cell in cells):
                continue
            if header is not None:
                _take_row(table, cells, header, name, ended, problems)
                continue
            header = [cell.strip() for cell in cells]
            problems += _header_problems(header, name, fields, ended)
            if problems:
                break
    except csv.Error as why:
        problems.append(_not_csv(why, name, ended + 1))
    if not problems and not table.rows:
        what = "there is no row under the header"
        problems.append(Problem("empty", what, "Write one row a lot.", file=name, line=1))
    if problems:
        raise InputError(problems)
    return table


def _take_row(
    table: CsvRows,
    cells: list[str],
    header: list[str],
    name: str,
    line: int,
    problems: list[Problem],
) -> None:
    if len(cells) != len(header):
        problems.append(_row_length(cells, header, name, line))
        return
    index = len(table.rows)
    filled = {key: cell.strip() for key, cell in zip(header, cells, strict=True) if cell.strip()}
    table.rows.append(filled)
    table.places[(index,)] = (line, 1)
    for column, key in enumerate(header, 1):
        table.places[(index, *key.split("."))] = (line, column)


def _not_csv(why: csv.Error, name: str, line: int) -> Problem:
    unclosed = "end of data" in str(why)
    what = "a quote is opened in this row and never closed" if unclosed else f"not CSV: {why}"
    remedy = "Close every quote, and save as comma-separated text."
    return Problem("not-csv", what, remedy, file=name, line=line)


_SEPARATORS = (
    (";", "semicolon", "Save the sheet with commas between fields and points in numbers."),
    ("\t", "tab", "Save the sheet with commas between fields."),
)


def _header_problems(
    header: list[str], name: str, fields: Sequence[str], line: int
) -> list[Problem]:
    for sign, word, remedy in _SEPARATORS:
        if sum(key.count(sign) for key in header) >= len(header):
            what = f"the fields are separated by {word}s"
            return [Problem(word, what, remedy, file=name, line=line)]
    problems: list[Problem] = []

    def report(column: int, code: str, what: str, remedy: str, key: str = "") -> None:
        nearest = nearest_names(key, fields) if code == "unknown-field" else ()
        problems.append(Problem(code, what, remedy, key, "", name, line, column, nearest))

    for column, key in enumerate(header, 1):
        if not key:
            what = f"column {column} has no name"
            report(column, "header", what, "Name it, or delete the column.")
        elif key not in fields:
            what = f"'{shown(key)}' is not a field of a lot"
            report(column, "unknown-field", what, f"Fields: {', '.join(fields)}.", key)
        elif header.index(key) != column - 1:
            what = f"the column '{shown(key)}' stands a second time"
            report(column, "duplicate-key", what, "Keep one of the two.", key)
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
