"""Learning from own batches: a normal update on the log scale per person, burner and class of feed,
with a robust weight.

What a batch can identify is litres of sorted char per kg of dry feed, kg of dried char per kg of
dry feed, and kg of dry feed per square metre of rim and minute; temperature and char retention
cannot be told apart and are not learnt. The tables' doubt of the char side is split by the
`learning` row into what stays with person and burner and what is new in every batch.
"""

from __future__ import annotations

import math
import os
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from ..documents.problems import problems_of
from ..errors import FeedstockError, InputError, Problem, counted
from ..model.experience import BatchFigure, Experience, FigureName, Learned
from ..physics.learning import Belief, robust, split
from ..quantities.estimate import scaled_estimate
from ..quantities.frozen import frozen
from ..tables.loading.load import load_tables
from ..tables.rows.methods.learning import BatchRecords, Learning
from ..tables.tables import Tables
from ..uncertainty.intervals import Z95
from ..words import Message
from .forecast import (
    Forecast,
    Predicted,
    Taken,
    forecast,
    measured,
    placed,
    predicted_estimate,
    taken_estimate,
)
from .reading import MOST_BATCHES
from .records import BatchRecord

Records = Iterable[BatchRecord | Mapping[str, Any]] | str | os.PathLike[str]


@frozen
class _Seen:
    """One figure of one record."""

    batch: str
    figure: FigureName
    predicted: Predicted
    taken: Taken

    @property
    def log(self) -> float:
        return math.log(self.taken.value / self.predicted.figure.mid)


def learn(records: Records, tables: Tables | None = None, person: str | None = None) -> Experience:
    """What the batches of one person teach; `records` are `BatchRecord`s or the path of a file of
    them.

    No records give an `Experience` that changes nothing. Raises FeedstockError with all problems:
    records of several persons without `person`, more char than dry feed, names that no table holds.
    """
    tables = tables if tables is not None else load_tables()
    if not isinstance(person, str | None):
        what = f"a {type(person).__name__} was given as person"
        raise InputError([Problem("wrong-type", what, "Give a name as text.", "person")])
    chosen_records = records_of(records)
    chosen = _of_person(chosen_records, person)
    observations, notes = looked_at(chosen, tables)
    groups: dict[tuple[FigureName, str, str], list[_Seen]] = {}
    for item in observations:
        groups.setdefault((item.figure, item.predicted.burner, item.predicted.feed), []).append(
            item
        )
    learned, rows = list[Learned](), list[BatchFigure]()
    for key in sorted(groups):
        if key[2] or key[0] == "burning-rate":
            result, judged = _learned(key, groups[key], tables)
            learned.append(result)
            rows += judged
        else:
            mixed = len(groups[key])
            notes.append(Message("experience.mixed", count=mixed, figure=key[0]))
    names = {record.person for record in chosen if record.person}
    return Experience(
        person=names.pop() if len(names) == 1 else "",
        learned=tuple(learned),
        batches=tuple(rows),
        notes=tuple(dict.fromkeys(notes)),
    )


def records_of(records: Records) -> list[BatchRecord]:
    """Records from a file, models or mappings. Raises InputError with all problems."""
    if isinstance(records, (str, os.PathLike)):
        return list(BatchRecord.read(records))
    if isinstance(records, BatchRecord) or not isinstance(records, Iterable):
        raise InputError(
            [
                Problem(
                    "wrong-type",
                    f"a {type(records).__name__} was given as records",
                    "Give a list of BatchRecord, or the path of a file of batches.",
                    "records",
                )
            ]
        )
    out, problems = list[BatchRecord](), list[Problem]()
    for record in counted(records, MOST_BATCHES, "records"):
        try:
            out.append(
                record if isinstance(record, BatchRecord) else BatchRecord.model_validate(record)
            )
        except ValidationError as why:
            problems += problems_of(why, BatchRecord)
    if problems:
        raise InputError(problems)
    return out


def _of_person(records: Sequence[BatchRecord], person: str | None) -> list[BatchRecord]:
    names = sorted({record.person for record in records if record.person})
    if person is None:
        if len(names) > 1:
            raise InputError(
                [
                    Problem(
                        "several-persons",
                        f"these are batches of {len(names)} persons: {', '.join(names[:10])}",
                        "Learn them apart: name one person.",
                        "person",
                    )
                ]
            )
        return list(records)
    if person.casefold() not in {name.casefold() for name in names}:
        raise InputError(
            [
                Problem(
                    "unknown-person",
                    f"no batch is of '{person}'",
                    f"Persons: {', '.join(names[:10]) or 'none is named'}.",
                    "person",
                )
            ]
        )
    return [record for record in records if (record.person or "").casefold() == person.casefold()]


def batch_name(record: BatchRecord, index: int) -> str:
    """Its name, its date, or its number."""
    return record.name or record.date or f"batch {index + 1}"


def looked_at(
    records: Sequence[BatchRecord], tables: Tables, experience: Experience | None = None
) -> tuple[list[_Seen], list[Message]]:
    """Forecast and measurement of every figure of every record.

    Raises InputError with the problems of all of them.
    """
    observations, notes, problems = list[_Seen](), list[Message](), list[Problem]()
    for index, record in enumerate(records):
        try:
            predicted: Forecast = forecast(record.lots, record.burn, tables, experience)
            measurements = measured(record, tables, predicted)
        except FeedstockError as why:
            problems += placed(why, record, index)
            continue
        name = batch_name(record, index)
        observations += [
            _Seen(name, figure, predicted.figures[figure], item)
            for figure, item in measurements.items()
        ]
        if record.minutes is not None:
            notes += [
                Message("experience.of-batch", batch=name, note=note) for note in predicted.notes
            ]
    if problems:
        raise InputError(problems)
    return observations, notes


def _learned(
    key: tuple[FigureName, str, str], observations: Sequence[_Seen], tables: Tables
) -> tuple[Learned, list[BatchFigure]]:
    figure, burner, feed = key
    method = tables.method("learning", Learning)[1]
    share = method.figures[figure].share.mid
    tau2, sigma2 = split(
        math.fsum(sorted(record.predicted.learnable for record in observations))
        / len(observations),
        share,
    )
    noises = [sigma2 + record.predicted.rest + record.taken.variance for record in observations]
    belief, weights = robust(
        Belief(0.0, tau2), [record.log for record in observations], noises, method.freedom.mid
    )
    half = Z95 * math.sqrt(belief.variance)
    factor = scaled_estimate(
        math.exp(belief.mean - half), math.exp(belief.mean), math.exp(belief.mean + half), "1"
    )
    outlier_below = tables.method("batch-records", BatchRecords)[1].outlier_below.mid
    rows = [
        BatchFigure(
            batch=record.batch,
            figure=figure,
            burner=burner,
            feed=feed,
            predicted=predicted_estimate(figure, record.predicted),
            measured=taken_estimate(figure, record.taken),
            weight=weight,
            outlier=weight < outlier_below,
        )
        for record, weight in zip(observations, weights, strict=True)
    ]
    return Learned(
        figure=figure,
        burner=burner,
        feed=feed,
        batches=len(observations),
        shift=belief.mean,
        variance=belief.variance,
        prior_variance=tau2,
        batch_variance=sigma2,
        irreducible_fraction=math.sqrt(1 - share),
        factor=factor,
        batch_weight=100 * (1 - belief.variance / tau2),
    ), rows
