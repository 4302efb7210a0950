"""`appraise_table`: an Arrow table of lots in, one of figures, verdicts and codes out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np
import pyarrow as pa
from pydantic import ValidationError

from ..assessment.verdict import JudgedLot
from ..documents.problems import problems_of
from ..errors import FeedstockError, InputError, Problem
from ..lot.build import Setting
from ..lot.model import ADDED, LOT_FIGURES
from ..model.experience import Experience
from ..model.findings import Verdict
from ..model.inputs.burn import Burn
from ..model.inputs.lot import Lot
from ..model.inputs.rows import lots_of_rows
from ..pipeline import judged_lot, setting_of
from ..quantities.estimate import figure_estimate
from ..quantities.frozen import frozen
from ..tables.limits import Limits, limits_in_use
from ..tables.loading.load import load_tables
from ..tables.tables import Tables
from ..uncertainty.propagate import middles
from .kinds import DIMENSION_OF, Columns, cell_text, grouped, plain
from .sums import Added, Part, Sums

_INPUT_OF = {
    "mass": "mass",
    "volume": "gross_volume",
    "pieces.count": "count",
    "containers.count": "count",
    "stack.width": "stack_width",
    "stack.length": "stack_length",
    "stack.height": "stack_height",
}

_FIGURE = pa.struct([(end, pa.float64()) for end in ("low", "mid", "high")])
SCHEMA = pa.schema(
    [
        *(
            pa.field(name, _FIGURE, metadata={"unit": about.unit})
            for name, about in LOT_FIGURES.items()
        ),
        pa.field("verdict", pa.string()),
        pa.field("codes", pa.list_(pa.string())),
        pa.field("problems", pa.list_(pa.string())),
    ]
)
"""What comes out for every row; the unit of a figure stands in its field's metadata."""


def appraise_table(
    table: Any,
    burn: Burn | None = None,
    tables: Tables | None = None,
    limits: str | None = None,
    experience: Experience | None = None,
) -> tuple[Any, Sums]:
    """Every row of a table as a lot by itself, and their sums.

    Takes a pyarrow Table, RecordBatch or RecordBatchReader with the columns of a CSV file; the same
    kind comes out, a Table for a reader. A number may stand for an amount where the metadata of its
    field has a `unit`. A row that cannot be appraised has its problems and no figures. Verdicts and
    codes are those of `appraise_lot`. Raises FeedstockError for a wrong column, burn or limits.
    """
    tables = tables if tables is not None else load_tables()
    setting = setting_of(burn, tables, experience)
    work = _Work(setting, limits_in_use(tables, limits))
    if isinstance(table, pa.RecordBatch):
        results, parts = work.batch(table)
        return results, Sums.of(parts, setting, limits)
    if not isinstance(table, (pa.Table, pa.RecordBatchReader)):
        what = f"a {type(table).__name__} was given as a table"
        remedy = "Give a pyarrow Table, RecordBatch or RecordBatchReader."
        raise InputError([Problem("wrong-type", what, remedy, "table")])
    batches = table.to_batches() if isinstance(table, pa.Table) else table
    out, sums = [], Sums.of({}, setting, limits)
    for batch in batches:
        results, parts = work.batch(batch)
        out.append(results)
        sums = Sums.merge([sums, Sums.of(parts, setting, limits)])
    return pa.Table.from_batches(out, SCHEMA), sums


@frozen
class _Kind:
    """What all rows of a kind have, and their amounts."""

    lot: JudgedLot
    rows: Any
    amounts: Mapping[str, Any]


class _Work:
    """Appraises batches in one setting."""

    def __init__(self, setting: Setting, limits: Limits | None) -> None:
        self._setting, self._limits = setting, limits

    def batch(self, batch: pa.RecordBatch) -> tuple[pa.RecordBatch, dict[str, Part]]:
        """The figures of a batch, and its part of the sums."""
        batch = plain(batch)
        columns = grouped(batch, self._setting.tables)
        out = _Out(batch.num_rows)
        parts: dict[str, Part] = {}
        for rows in _rows_of(columns.kinds):
            for kind in self._kinds(batch, columns, rows, out):
                out.take(kind, parts, _cells(batch, int(kind.rows[0])))
        return out.made(), parts

    def _kinds(
        self, batch: pa.RecordBatch, columns: Columns, rows: Any, out: _Out
    ) -> Iterator[_Kind]:
        """The rows of a kind as one; those with an amount that cannot be are told one by one."""
        stated = {
            name: column.mids[rows]
            for name, column in columns.amounts.items()
            if column.ranges[rows[0]]
        }
        sound = np.ones(len(rows), dtype=bool)
        for values in stated.values():
            sound &= np.isfinite(values) & (values > 0)
        ends = [rows[at] for at in _ends(stated, sound)]
        judged = {int(row): self._judged(batch, int(row)) for row in ends}
        if not ends or any(isinstance(outcome, list) for outcome in judged.values()):
            # an amount out of bounds, or a fault of all: each is looked at as it stands
            for row in rows:
                result = self._judged(batch, int(row))
                if isinstance(result, list):
                    out.refuse(int(row), result)
                else:
                    yield _Kind(result, np.array([row]), {})
            return
        for row in rows[~sound]:
            result = self._judged(batch, int(row))
            if isinstance(result, list):
                out.refuse(int(row), result)
            else:
                yield _Kind(result, np.array([row]), {})
        lot = judged[int(ends[0])]
        assert isinstance(lot, JudgedLot)
        amounts = {_INPUT_OF[name]: values[sound] for name, values in stated.items()}
        yield _Kind(lot, rows[sound], amounts)

    def _judged(self, batch: pa.RecordBatch, row: int) -> JudgedLot | list[Problem]:
        """One row by itself, or what is wrong with it."""
        problems: list[Problem] = []
        lots = lots_of_rows([_cells(batch, row)], problems)
        if problems:
            return problems
        try:
            lot = Lot.model_validate(lots[0])
            return judged_lot(lot, self._setting, self._limits)
        except ValidationError as why:
            return list(problems_of(why, Lot))
        except FeedstockError as why:
            return list(why.problems)


def _rows_of(kinds: Any) -> Iterator[Any]:
    """The rows of each kind, in order."""
    small = kinds.astype(np.uint16) if int(kinds.max(initial=0)) < 1 << 16 else kinds
    order = np.argsort(small, kind="stable")
    counts = np.bincount(kinds)
    yield from (rows for rows in np.split(order, np.cumsum(counts)[:-1]) if len(rows))


def _ends(amounts: Mapping[str, Any], sound: Any) -> list[int]:
    """The first of the rows, and those with the least and the most of each amount: what holds for
    them holds for all between.
    """
    places = np.flatnonzero(sound)
    if not len(places):
        return []
    places_of_ends = [0]
    for values in amounts.values():
        places_of_ends += [int(values[places].argmin()), int(values[places].argmax())]
    return [int(places[at]) for at in dict.fromkeys(places_of_ends)]


def _cells(batch: pa.RecordBatch, row: int) -> dict[str, Any]:
    """A row as a person would have written it."""
    return {
        name: cell_text(column[row].as_py(), batch.schema.field(name))
        for name, column in zip(batch.schema.names, batch.columns, strict=True)
    }


class _Out:
    """The columns that come out, filled kind by kind."""

    def __init__(self, rows: int) -> None:
        self._figures = {name: np.full((3, rows), np.nan) for name in LOT_FIGURES}
        self._kind = np.zeros(rows, dtype=np.int64)
        self._told: list[tuple[str | None, list[str] | None]] = [(None, None)]
        self._problems: dict[int, list[str]] = {}

    def refuse(self, row: int, problems: Sequence[Problem]) -> None:
        """A row that cannot be appraised."""
        self._problems[row] = [str(problem).removeprefix("lots[0].") for problem in problems]

    def take(self, kind: _Kind, parts: dict[str, Part], cells: Mapping[str, Any]) -> None:
        """The rows of a kind."""
        lot, rows = kind.lot, kind.rows
        self._kind[rows] = len(self._told)
        self._told.append((str(lot.verdict), [finding.code for finding in lot.findings]))
        wanted = [about.output for about in LOT_FIGURES.values() if about.output in lot.figures]
        model = lot.model
        run = middles(model.chain, model.inputs, wanted, kind.amounts)
        share = run["dry_mass"] / lot.figures["dry_mass"].mid
        sums: dict[str, Added] = {}
        for name, about in LOT_FIGURES.items():
            if about.output not in lot.figures:
                continue
            one = figure_estimate(lot.figures[about.output], about.unit, about.factor)
            mids = np.broadcast_to(run[about.output] * about.factor, len(rows))
            if name in ADDED:
                sums[name] = Added(
                    float(np.add.reduce(mids)),
                    float(np.add.reduce(mids * mids)),
                    float(mids.max()),
                )
            if lot.verdict is Verdict.KEEP_OUT and about.of_char:
                continue
            ends = self._figures[name]
            ends[1, rows] = mids
            # what is nothing at its middle, as water that need not be lost, grows as the lot does
            grown = share if about.unit in ("kg", "L") else 1.0
            for at, end in ((0, one.low_value), (2, one.high_value)):
                ends[at, rows] = mids * (end / one.mid_value) if one.mid_value else grown * end
        # a word that is dismissed is to be found in the name
        named = cells.get("dismiss") is not None
        stated = {k: v for k, v in cells.items() if v is not None and (named or k != "name")}
        part = Part(stated, lot.verdict, len(rows), sums)
        ranges = [
            f"{entry.name} {entry.low / entry.mid:.9g} {entry.high / entry.mid:.9g}"
            for entry in model.inputs
            if entry.shared
        ]
        key = part.key(DIMENSION_OF, ranges)
        parts[key] = parts[key].plus(part) if key in parts else part

    def made(self) -> pa.RecordBatch:
        """The batch."""
        columns = []
        for ends in self._figures.values():
            none = np.isnan(ends[1])
            children = [pa.array(end, mask=none) for end in ends]
            columns.append(
                pa.StructArray.from_arrays(
                    children, names=["low", "mid", "high"], mask=pa.array(none)
                )
            )
        verdicts, codes = zip(*self._told, strict=True)
        kinds = pa.array(self._kind)
        columns.append(pa.array(verdicts, pa.string()).take(kinds))
        columns.append(pa.array(codes, pa.list_(pa.string())).take(kinds))
        if self._problems:
            problems = [self._problems.get(row) for row in range(len(self._kind))]
            columns.append(pa.array(problems, pa.list_(pa.string())))
        else:
            columns.append(pa.nulls(len(self._kind), pa.list_(pa.string())))
        return pa.RecordBatch.from_arrays(columns, schema=SCHEMA)
