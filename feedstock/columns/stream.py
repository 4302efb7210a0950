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

from ..errors import InputError, Problem, file_name
from ..model.experience import Experience
from ..model.inputs.burn import Burn
from ..quantities.frozen import frozen
from ..tables.tables import Tables
from .sums import Sums
from .table import SCHEMA, appraise_table

ENDINGS = (".csv", ".parquet")
_BATCH = 65_536
_BLOCK = 8 << 20
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
    asides = [path.with_name(f".{path.name}.{os.getpid()}.new") for path in (into, beside)]
    sums: Sums | None = None
    rows = refused = 0
    try:
        skipped: list[int] = []
        with _writer(into, asides[0]) as write, open(asides[1], "w", newline="") as told:
            table = csv.writer(told)
            table.writerow(["row", "problem"])
            for batch, numbers in _read(source, skipped):
                results, part = appraise_table(batch, burn, tables, limits, experience)
                sums = part if sums is None else Sums.merge([sums, part])
                refused += _tell(results, numbers, table)
                rows += batch.num_rows
                write(_whole(batch, results, numbers))
                progress(rows)
            for number in skipped:
                table.writerow([number, "the line has another number of cells than the header"])
            refused, rows = refused + len(skipped), rows + len(skipped)
        if sums is None:
            raise _refused(source, "empty", "there are no rows", "Give one for each lot.")
        _put(asides[0], into)
        if refused:
            _put(asides[1], beside)
        else:
            beside.unlink(missing_ok=True)
    except (OSError, pa.ArrowException) as why:
        what = f"this cannot be read or written ({getattr(why, 'strerror', None) or why})"
        remedy = "Give files that may be; nothing was done."
        raise _refused(source, "unreadable", what, remedy) from None
    finally:
        _take_away(asides)
    return Streamed(sums, rows, refused, beside)


def _take_away(asides: Iterable[Path]) -> None:
    for aside in asides:
        with contextlib.suppress(OSError):
            aside.unlink(missing_ok=True)


def _check_kinds(*paths: str | os.PathLike[str]) -> None:
    for path in paths:
        if Path(path).suffix.lower() not in ENDINGS:
            what = "this is neither a .csv nor a .parquet file"
            raise _refused(path, "register", what, "Give a file of one of these kinds.")


def _refused(path: str | os.PathLike[str], code: str, what: str, remedy: str) -> InputError:
    return InputError([Problem(code, what, remedy, file=file_name(path))])


def _put(aside: Path, target: Path) -> None:
    """What was written aside, onto the disk and in its place."""
    with open(aside, "rb+") as stream:
        os.fsync(stream.fileno())
    aside.replace(target)


def _read(
    source: str | os.PathLike[str], skipped: list[int]
) -> Iterator[tuple[pa.RecordBatch, Any]]:
    """The batches of a file, each with the numbers of its rows: lines of a CSV file."""
    if Path(source).suffix.lower() == ".parquet":
        with pyarrow.parquet.ParquetFile(source) as stored:
            at = 1
            for batch in stored.iter_batches(batch_size=_BATCH):
                yield batch, np.arange(at, at + batch.num_rows)
                at += batch.num_rows
        return

    def skip(row: Any) -> str:
        skipped.append(row.number)
        return "skip"

    with open(source, newline="", encoding="utf-8-sig") as stream:
        names = next(csv.reader(stream), [])
    options = pyarrow.csv.ConvertOptions(
        column_types=dict.fromkeys(names, pa.string()), strings_can_be_null=True, null_values=[""]
    )
    reader = pyarrow.csv.open_csv(
        source,
        pyarrow.csv.ReadOptions(use_threads=False, block_size=_BLOCK),
        pyarrow.csv.ParseOptions(invalid_row_handler=skip),
        options,
    )
    at = 2
    for batch in reader:
        numbers = np.arange(at, at + batch.num_rows)
        for number in skipped:
            numbers[numbers >= number] += 1 if number >= at else 0
        if batch.num_rows:
            at = int(numbers[-1]) + 1
            yield batch, numbers


def _tell(results: pa.RecordBatch, numbers: Any, table: Any) -> int:
    """Write what is wrong with rows; how many there are."""
    problems = results.column("problems")
    wrong = np.flatnonzero(problems.is_valid().to_numpy(zero_copy_only=False))
    for row in wrong:
        for text in problems[int(row)].as_py():
            table.writerow([int(numbers[row]), text])
    return len(wrong)


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
