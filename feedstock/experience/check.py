"""Was the forecast right? Predicted against measured, batch by batch and figure by figure."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..model.experience import BatchFigure, CheckedFigure, Experience, ForecastCheck
from ..tables.loading.load import load_tables
from ..tables.tables import Tables
from ..words import Message
from .forecast import UNITS, predicted_estimate, taken_estimate
from .learn import Records, looked_at, records_of


def check_burn(
    records: Records, experience: Experience | None = None, tables: Tables | None = None
) -> ForecastCheck:
    """Predicted against measured for every batch, the share inside the 90 % interval, and the bias.

    With `experience` the forecast holds what own batches taught; batches that it was learnt from
    are no test of it, and that is said. The interval is that of the forecast alone: a measurement
    with much doubt of its own falls outside more often. Raises as `learn` does.
    """
    tables = tables if tables is not None else load_tables()
    chosen = records_of(records)
    observations, notes = looked_at(chosen, tables, experience)
    rows = [
        BatchFigure(
            batch=record.batch,
            figure=record.figure,
            burner=record.predicted.burner,
            feed=record.predicted.feed,
            weight=1.0,
            predicted=predicted_estimate(record.figure, record.predicted),
            measured=taken_estimate(record.figure, record.taken),
        )
        for record in observations
    ]
    if experience is not None:
        # a record is known again by what it measured
        learnt = {(row.batch, row.figure, row.measured) for row in experience.batches}
        again = {row.batch for row in rows if (row.batch, row.figure, row.measured) in learnt}
        if again:
            notes.append(Message("experience.same-batches", count=len(again)))
    return ForecastCheck(
        rows=tuple(rows),
        figures=tuple(
            _checked([row for row in rows if row.figure == name])
            for name in UNITS
            if any(row.figure == name for row in rows)
        ),
        with_experience=experience is not None and bool(experience.learned),
        notes=tuple(dict.fromkeys(notes)),
    )


def inside(row: BatchFigure) -> bool:
    """Whether what was measured lies in the interval that was forecast."""
    return row.predicted.low_value <= row.measured.mid_value <= row.predicted.high_value


def _checked(rows: Sequence[BatchFigure]) -> CheckedFigure:
    within = sum(inside(row) for row in rows)
    mean = math.fsum(
        math.log(row.measured.mid_value / row.predicted.mid_value) for row in rows
    ) / len(rows)
    return CheckedFigure(
        figure=rows[0].figure,
        batches=len(rows),
        within=within,
        share_within=100 * within / len(rows),
        bias=100 * math.expm1(mean),
    )
