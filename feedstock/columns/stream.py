"""A register too long to hold: read, appraised and written batch by batch."""

from __future__ import annotations

import contextlib
import csv
import os
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.compute
import pyarrow.csv
import pyarrow.parquet

from ..documents.aside import aside_of
from ..errors import InputError, Problem, file_name
from ..model.experience import Experience
from ..model.inputs.burn import Burn
from ..quantities.frozen import frozen
from ..tables.tables import Tables
from .csv_lines import Lines, read_lines
from .sums import Sums
from .table import SCHEMA, appraise_table

ENDINGS = (".csv", ".parquet")
_BATCH = 131_072
_CELLS = "the line has another number of cells than the header"
_CARRIED = ("name", "material")
"""Columns of what came in that go out again, behind the number of the row."""


@frozen
class Streamed:
    """What came of a register: its sums, and how many rows could not be appraised."""

    sums: Sums
    rows: int
    refused: int
    problems: Path


def appraise_file(
    source: str | os.PathLike[str],
    target: str | os.PathLike[str],
    burn: Burn | None = None,
    tables: Tables | None = None,
    limits: str | None = None,
    experience: Experience | None = None,
    progress: Callable[[int], object] = lambda rows: None,
) -> Streamed:
    """Appraise every row of a CSV or Parquet file into another one, in memory that does not grow
    with the rows.

    What cannot be appraised goes into `TARGET.problems.csv`, with its row (in a CSV file its line)
    and the remedy. Both are written aside and put in place whole. Raises InputError.
    """
    _check_kinds(source, target)
    into = Path(target)
    beside = into.with_name(f"{into.name}.problems.csv")
    asides = [aside_of(path) for path in (into, beside)]
    sums: Sums | None = None
    rows = refused = 0
    try:
        with (
            _writer(into, asides[0]) as write,
            open(asides[1], "w", newline="", encoding="utf-8") as stream,
        ):
            table = csv.writer(stream)
            table.writerow(["row", "problem"])
            for lines in _read(source):
                results, part = appraise_table(lines.batch, burn, tables, limits, experience)
                sums = part if sums is None else Sums.merge([sums, part])
                problems = _problems(results, lines)
                table.writerows(problems)
                refused += len({row for row, _ in problems})
                rows += lines.batch.num_rows + len(lines.unread)
                write(_whole(lines.batch, results, lines.numbers))
                progress(rows)
        if sums is None or not rows:
            raise _refused(source, "empty", "there are no rows", "Give one for each lot.")
        _put(asides[0], into)
        if refused:
            _put(asides[1], beside)
        else:
            beside.unlink(missing_ok=True)
    except (OSError, pa.ArrowException, UnicodeDecodeError, csv.Error) as why:
        raise _unreadable(source, why) from None
    finally:
        _take_away(asides)
    return Streamed(sums, rows, refused, beside)


def _take_away(asides: Iterable[Path]) -> None:
    for aside in asides:
        with contextlib.suppress(OSError):
            aside.unlink(missing_ok=True)


def _check_kinds(source: str | os.PathLike[str], target: str | os.PathLike[str]) -> None:
    for path in (source, target):
        if Path(path).suffix.lower() not in ENDINGS:
            what = "this is neither a .csv nor a .parquet file"
            raise _refused(path, "register", what, "Give a file of one of these kinds.")
        if Path(path).exists() and not Path(path).is_file():
            # a pipe would be waited for without end
            raise _refused(path, "register", "this is not a plain file", "Give a plain file.")
    if Path(source).exists() and Path(target).exists() and Path(source).samefile(target):
        what = "the rows would be written over with their results"
        raise _refused(target, "register", what, "Give another file for --rows.")


def _refused(path: str | os.PathLike[str], code: str, what: str, remedy: str) -> InputError:
    return InputError([Problem(code, what, remedy, file=file_name(path))])


def _unreadable(path: str | os.PathLike[str], why: Exception) -> InputError:
    text = str(getattr(why, "strerror", None) or why)
    if isinstance(why, UnicodeDecodeError) or "invalid UTF8" in text or "\ufffd" in text:
        what = "this is not UTF-8 (it may be in Latin-1); nothing was done"
        return _refused(path, "encoding", what, "Save it as UTF-8.")
    what = f"this cannot be read or written ({text})"
    return _refused(path, "unreadable", what, "Give files that may be; nothing was done.")


def _put(aside: Path, target: Path) -> None:
    """What was written aside, onto the disk and in its place."""
    with open(aside, "rb+") as stream:
        os.fsync(stream.fileno())
    aside.replace(target)


def _read(source: str | os.PathLike[str]) -> Iterator[Lines]:
    """The batches of a file, each with the numbers of its rows: lines of a CSV file."""
    if Path(source).suffix.lower() == ".parquet":
        with pyarrow.parquet.ParquetFile(source) as stored:
            at = 1
            for batch in stored.iter_batches(batch_size=_BATCH):
                yield Lines(batch, np.arange(at, at + batch.num_rows), [])
                at += batch.num_rows
    else:
        yield from read_lines(source)


def _problems(results: pa.RecordBatch, lines: Lines) -> list[tuple[int, str]]:
    """What is wrong with rows, each with its number."""
    problems = results.column("problems")
    wrong = np.flatnonzero(problems.is_valid().to_numpy(zero_copy_only=False))
    lines_and_texts = [
        (int(lines.numbers[row]), text) for row in wrong for text in problems[row].as_py()
    ]
    return sorted([*lines_and_texts, *((number, _CELLS) for number in lines.unread)])


def _whole(batch: pa.RecordBatch, results: pa.RecordBatch, numbers: Any) -> pa.RecordBatch:
    """The rows that were appraised, each with its number and what it is called."""
    names = [name for name in _CARRIED if name in batch.schema.names]
    columns = [pa.array(numbers), *(batch.column(name) for name in names), *results.columns[:-1]]
    fields = [
        pa.field("row", pa.int64()),
        *(batch.schema.field(name) for name in names),
        *(SCHEMA.field(at) for at in range(len(SCHEMA) - 1)),
    ]
    whole = pa.RecordBatch.from_arrays(columns, schema=pa.schema(fields))
    return whole.filter(results.column("problems").is_null())


@contextlib.contextmanager
def _writer(target: Path, aside: Path) -> Iterator[Callable[[pa.RecordBatch], None]]:
    """Writes batches of one shape."""
    writers: list[Any] = []
    flat = target.suffix.lower() == ".csv"

    def write(batch: pa.RecordBatch) -> None:
        table = _flat(batch) if flat else pa.Table.from_batches([batch])
        if not writers:
            kind = pyarrow.csv.CSVWriter if flat else pyarrow.parquet.ParquetWriter
            writers.append(kind(aside, table.schema))
        writers[0].write_table(table)

    try:
        yield write
    finally:
        for writer in writers:
            writer.close()


def _flat(batch: pa.RecordBatch) -> pa.Table:
    """A figure as three columns, codes with a bar between them."""
    table = pa.Table.from_batches([batch])
    codes = pa.compute.binary_join(table["codes"], " | ")
    at = table.schema.get_field_index("codes")
    return table.set_column(at, "codes", codes).flatten()
