"""Batch files."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any, Generic, TypeVar, cast

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from ..documents.csv_reader import read_csv
from ..documents.encoding import read_text
from ..documents.json_reader import read_json
from ..documents.positions import Document, Path_, Place
from ..documents.problems import problems_of
from ..documents.yaml_reader import read_yaml
from ..errors import InputError, Problem, nearest_names, shown
from ..model.inputs.burn import Burn
from ..model.inputs.fields import Text
from ..model.inputs.heap import NotEmpty, keep_place
from ..model.inputs.rows import CSV_FIELDS

MOST_BATCHES = 5_000


Record = TypeVar("Record", bound=BaseModel)
"""The model of a batch. It is given to the reader, so that it can have a method that reads."""


class _Batches(BaseModel, Generic[Record]):
    model_config = ConfigDict(frozen=True, extra="forbid")

    person: Text | None = None
    batches: Annotated[tuple[Record, ...], Field(max_length=MOST_BATCHES), NotEmpty]


_SHARED = ("person", "burn", "heap")
"""What may stand once at the top of a file for every batch that does not say otherwise."""


_LOT_FIELDS = tuple(f"lots.{name}" for name in CSV_FIELDS)


_BURN_FIELDS = tuple(f"burn.{name}" for name in Burn.model_fields)


CSV_BATCH_FIELDS = (
    "name",
    "date",
    "person",
    "heap",
    "used",
    *_LOT_FIELDS,
    *_BURN_FIELDS,
    "minutes",
    "char.volume",
    "char.containers.count",
    "char.containers.of",
    "char.mass",
    "char.moisture",
    "char.sample.wet",
    "char.sample.oven_dry",
    "brands",
    "water",
    "remarks",
)


def read_batches(path: str | os.PathLike[str], record: type[Record]) -> tuple[Record, ...]:
    """The batches of a file, each as such a record. Raises InputError with all problems."""
    text = read_text(path)
    file = os.fspath(path)
    kind = Path(path).suffix.lower()
    if kind == ".csv":
        document = _from_csv(text, file)
    else:
        document = read_json(text, file) if kind == ".json" else read_yaml(text, file)
    data = document.data
    if isinstance(data, list):
        data, document = (
            {"batches": data},
            Document(
                {"batches": data},
                file,
                {("batches", *p): at for p, at in document.places.items()},
                {("batches", *p): at for p, at in document.keys.items()},
            ),
        )
    if not isinstance(data, dict):
        raise InputError(
            [
                Problem(
                    "not-a-mapping",
                    "the file holds no batches",
                    "Write `batches:` at the left margin and the batches under it, "
                    "each after a dash.",
                    file=file,
                    line=1,
                    column=1,
                )
            ]
        )
    document.data = _completed(data, document)
    batches = cast(type[_Batches[Record]], _Batches.__class_getitem__(record))
    try:
        batch_file = batches.model_validate(document.data)
    except ValidationError as why:
        raise InputError(problems_of(why, batches, document)) from None
    for index, batch in enumerate(batch_file.batches):
        keep_place(batch, _part(document, ("batches", index)))
    return batch_file.batches


def _part(document: Document, path: Path_) -> Document:
    """The same file with places told from one part of it."""
    n = len(path)

    def below(places: Mapping[Path_, Place]) -> dict[Path_, Place]:
        return {p[n:]: at for p, at in places.items() if p[:n] == path}

    return Document(None, document.file, below(document.places), below(document.keys))


def _completed(data: dict[str, Any], document: Document) -> dict[str, Any]:
    """Heap files read in, and what stands once at the top given to every batch."""
    shared = {key: data[key] for key in _SHARED if key in data}
    out = {key: value for key, value in data.items() if key not in ("burn", "heap")}
    batches = data.get("batches")
    if not isinstance(batches, list):
        return out
    problems: list[Problem] = []
    out["batches"] = [
        _batch(batch, shared, index, document, problems) for index, batch in enumerate(batches)
    ]
    if problems:
        raise InputError(problems)
    return out


def _batch(
    raw: Any, shared: Mapping[str, Any], index: int, document: Document, problems: list[Problem]
) -> Any:
    if not isinstance(raw, dict):
        return raw
    batch = {
        **{key: value for key, value in shared.items() if not (key == "heap" and raw.get("lots"))},
        **raw,
    }
    heap, used = batch.pop("heap", None), batch.pop("used", None)
    if isinstance(heap, str):
        if raw.get("lots"):
            problems.append(
                _problem(
                    "two-amounts",
                    "both a heap file and lots are given",
                    "Keep one of them.",
                    document,
                    ("batches", index, "heap"),
                )
            )
            return batch
        batch["lots"] = _lots_of(heap, used, document, index, problems)
    elif used is not None:
        problems.append(
            _problem(
                "missing-field",
                "`used` names lots, but no heap file is named",
                "Write heap: FILE beside it, or describe the lots under lots:.",
                document,
                ("batches", index, "used"),
            )
        )
    return batch


def _lots_of(
    heap: str, used: Any, document: Document, index: int, problems: list[Problem]
) -> list[Any]:
    """The lots of a heap file by their names; without names all of them."""
    from ..model.inputs.heap import Job

    try:
        lots = Job.read(Path(document.file).parent / heap).lots
    except InputError as why:
        problems.append(
            _problem(
                "no-lots",
                f"the heap file '{shown(heap)}' cannot be used: {why.problems[0]}",
                "Give the path of the heap as it was burnt, relative to this file.",
                document,
                ("batches", index, "heap"),
            )
        )
        return [{}]
    if used is None:
        return list(lots)
    named = {(lot.name or lot.material).casefold(): lot for lot in lots}
    chosen: list[Any] = []
    for name in [used] if isinstance(used, str) else used:
        named_lot = named.get(str(name).casefold())
        if named_lot is None:
            problems.append(
                _problem(
                    "unknown-lot",
                    f"there is no lot '{shown(str(name))}' in {shown(heap)}",
                    f"Lots: {', '.join(sorted(named)[:20])}.",
                    document,
                    ("batches", index, "used"),
                    nearest_names(str(name), named),
                )
            )
        else:
            chosen.append(named_lot)
    return chosen or [{}]


def _problem(
    code: str,
    what: str,
    expected: str,
    document: Document,
    path: Path_,
    nearest: tuple[str, ...] = (),
) -> Problem:
    from ..documents.positions import path_text

    line, column = document.place(path) or (None, None)
    return Problem(code, what, expected, path_text(path), "", document.file, line, column, nearest)


def _from_csv(text: str, file: str) -> Document:
    """One row a batch; the columns of a single lot begin with `lots.`, those of the fire with
    `burn.`; several lots come by a heap file.
    """
    table = read_csv(text, file, CSV_BATCH_FIELDS)
    batches: list[dict[str, Any]] = []
    for row in table.rows:
        batch: dict[str, Any] = {}
        for key, value in row.items():
            parts = key.split(".")
            split: Any = (
                [item.strip() for item in value.split("|") if item.strip()]
                if parts[-1] in ("signs", "used", "diameters", "vessel", "ground", "lighting")
                else value
            )
            inner: Any = batch
            for part in parts[:-1]:
                inner = inner.setdefault(part, {})
            inner[parts[-1]] = split
        if "lots" in batch:
            batch["lots"] = [batch["lots"]]
        batches.append(batch)
    places: dict[Path_, Place] = {("batches",): (1, 1)}
    for path, at in table.places.items():
        lot = len(path) > 1 and path[1] == "lots"
        places[("batches", path[0], "lots", 0, *path[2:]) if lot else ("batches", *path)] = at
    return Document({"batches": batches}, file, places)
