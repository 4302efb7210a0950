"""A CSV file in batches, every row with its line, in memory that does not grow with the file."""

from __future__ import annotations

import contextlib
import csv
import os
import sys
from collections.abc import Iterator
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.compute
import pyarrow.csv

from ..quantities.frozen import frozen

_BLOCK = 2 << 20
"""Bytes that are parsed at once. The library reads some dozens of them ahead."""
_ROWS = 131_072
"""A batch holds at least so many rows, if there are as many: what all rows of a kind have is worked
out once for each.
"""


@frozen
class Lines:
    """Rows of a file with their numbers, and the numbers of those that have other cells."""

    batch: pa.RecordBatch
    numbers: Any
    unread: list[int]


def read_lines(source: str | os.PathLike[str]) -> Iterator[Lines]:
    """The rows of a CSV file as text, in batches; a row that says nothing is left out."""
    with open(source, newline="", encoding="utf-8-sig") as stream:
        header = csv.reader(stream)
        names = next((row for row in header if any(map(str.strip, row))), [])
        blank = max(header.line_num - 1, 0)
    if not names:
        return
    wrong: list[pyarrow.csv.InvalidRow] = []

    def skip(row: pyarrow.csv.InvalidRow) -> str:
        wrong.append(row)
        return "skip"

    with _silent(skip):  # it reads a block ahead
        reader = pyarrow.csv.open_csv(
            source,
            pyarrow.csv.ReadOptions(
                use_threads=False, block_size=_BLOCK, skip_rows=blank + 1, column_names=names
            ),
            pyarrow.csv.ParseOptions(
                invalid_row_handler=skip, ignore_empty_lines=False, newlines_in_values=True
            ),
            pyarrow.csv.ConvertOptions(
                column_types=dict.fromkeys(names, pa.string()),
                strings_can_be_null=True,
                null_values=[""],
            ),
        )
    counter = _Counter(wrong, blank + 2)
    waiting: list[Lines] = []
    rows = 0
    for batch in _batches(reader, skip):
        waiting.append(counter.numbered(batch))
        rows += batch.num_rows
        if rows >= _ROWS:
            yield _together(waiting)
            waiting, rows = [], 0
    waiting.append(counter.rest(reader.schema))
    yield _together(waiting)


def _batches(reader: pyarrow.csv.CSVStreamingReader, skip: object) -> Iterator[pa.RecordBatch]:
    while True:
        with _silent(skip):
            try:
                batch = reader.read_next_batch()
            except StopIteration:
                return
        yield batch


@contextlib.contextmanager
def _silent(handler: object) -> Iterator[None]:
    """Where a row of other cells is no UTF-8 the library prints a traceback beside its error, since
    it cannot hand the row over.
    """
    before = sys.unraisablehook

    def hook(unraisable: sys.UnraisableHookArgs, /) -> None:
        if unraisable.object is not handler:
            before(unraisable)

    sys.unraisablehook = hook
    try:
        yield
    finally:
        sys.unraisablehook = before


class _Counter:
    """Finds the line of every row: a cell in quotes may go over several."""

    def __init__(self, wrong: list[pyarrow.csv.InvalidRow], first: int) -> None:
        self._wrong, self._row, self._line = wrong, first, first

    def numbered(self, batch: pa.RecordBatch) -> Lines:
        """The rows of the next batch that say something."""
        left_out: list[Any] = []
        while self._wrong and self._wrong[0].number < self._row + batch.num_rows + len(left_out):
            left_out.append(self._wrong.pop(0))
        count = batch.num_rows + len(left_out)
        places = np.array([row.number - self._row for row in left_out], dtype=np.int64)
        kept = np.ones(count, dtype=bool)
        kept[places] = False
        heights = np.ones(count, dtype=np.int64)
        for place, row in zip(places, left_out, strict=True):
            heights[place] += row.text.count("\n")
        speaks = np.zeros(batch.num_rows, dtype=bool)
        for column in batch.columns:
            heights[kept] += _breaks(column)
            speaks |= column.is_valid().to_numpy(zero_copy_only=False)
        lines = self._line + np.concatenate([[0], np.cumsum(heights)]).astype(np.int64)
        self._row, self._line = self._row + count, int(lines[-1])
        numbers = lines[:-1][kept][speaks]
        return Lines(batch.filter(pa.array(speaks)), numbers, lines[:-1][places].tolist())

    def rest(self, schema: pa.Schema) -> Lines:
        """What is left behind the last row."""
        nothing = [pa.array([], kind) for kind in schema.types]
        return self.numbered(pa.RecordBatch.from_arrays(nothing, schema=schema))


def _breaks(column: pa.Array) -> Any:
    """The line breaks in every cell."""
    breaks = pa.compute.count_substring(column, "\n").fill_null(0)
    return breaks.to_numpy(zero_copy_only=False)


def _together(parts: list[Lines]) -> Lines:
    """Several batches as one."""
    whole = pa.Table.from_batches([lines.batch for lines in parts]).combine_chunks()
    batches = whole.to_batches() or [parts[0].batch]
    numbers = np.concatenate([lines.numbers for lines in parts])
    return Lines(batches[0], numbers, [line for lines in parts for line in lines.unread])
