"""A heap of lots, and the job file that holds a heap and a burn."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Self, TypeVar

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    model_validator,
)
from pydantic.config import JsonDict
from pydantic_core import PydanticKnownError

from ...documents.encoding import read_text
from ...documents.positions import Document
from ...documents.problems import problems_of
from ...errors import InputError, Problem, shown
from ...quantities.estimate import custom_error
from .burn import BURN_EXAMPLE, Burn
from .fields import MOST_LOTS, InputModel, Remarks, Text, Words
from .lot import LOT_EXAMPLE, Lot
from .rows import CSV_FIELDS, lot_of_row, lots_of_rows


def check_names(lots: Sequence[Lot]) -> None:
    """Raise where two lots go by one name."""
    index_of: dict[str, int] = {}
    for index, lot in enumerate(lots):
        if lot.name is not None:
            if lot.name.casefold() in index_of:
                raise custom_error(
                    "duplicate-name",
                    f"two lots are named '{shown(lot.name)}' "
                    f"(lots[{index_of[lot.name.casefold()]}] and lots[{index}])",
                    "Give each its own name.",
                    at=("lots", index, "name"),
                )
            index_of[lot.name.casefold()] = index


def at_least_one(value: tuple[Any, ...]) -> tuple[Any, ...]:
    """Raise where there is none. Asked of what was read: where an entry is wrong, that is told and
    not as well that it is missing.
    """
    if not value:
        raise PydanticKnownError(
            "too_short", {"field_type": "Tuple", "min_length": 1, "actual_length": 0}
        )
    return value


NotEmpty = AfterValidator(at_least_one)


def _bounded(value: Any) -> Any:
    """What has no length is looked at as far as a heap may go, and one further."""
    if isinstance(value, Iterator):
        return list(islice(value, MOST_LOTS + 1))
    return value


Lots = Annotated[
    tuple[Lot, ...],
    BeforeValidator(_bounded),
    Field(max_length=MOST_LOTS, json_schema_extra={"minItems": 1}),
    NotEmpty,
]


HEAP_EXAMPLE: JsonDict = {"name": "by the orchard", "lots": [LOT_EXAMPLE]}
"""A heap as a person would write it, for schemas."""


class Heap(InputModel):
    """All lots that lie ready.

    Names that are given must differ; a lot without one goes by its material.
    """

    model_config = ConfigDict(json_schema_extra={"examples": [HEAP_EXAMPLE]})

    name: Text | None = None
    """What the heap is called."""
    lots: Lots
    """The lots, each of one kind and one history."""
    remarks: Remarks | None = None
    """Anything else, for all lots."""
    dismiss: Words = ()
    """Danger words in its texts that do not mean what they say."""

    @model_validator(mode="after")
    def _different_names(self) -> Self:
        check_names(self.lots)
        return self

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> Heap:
        """A heap from a YAML, JSON or CSV file.

        Raises InputError with all problems, each with its line.
        """
        if str(path).lower().endswith(".csv"):
            return cls.read_csv(path)
        document = _document(path)
        if isinstance(document.data, dict):
            extra = [key for key in ("burn", "limits", "tables") if key in document.data]
            if extra:
                place = document.place((extra[0],), key=True)
                raise InputError(
                    [
                        Problem(
                            "job-file",
                            f"`{extra[0]}` belongs to a job file",
                            "Use Job.read for a file with burn, limits or tables, or take it away.",
                            extra[0],
                            "",
                            document.file,
                            *(place or (None, None)),
                        )
                    ]
                )
        return _validated(cls, document)

    @classmethod
    def from_rows(cls, rows: Iterable[Mapping[str, Any]]) -> Heap:
        """A heap from rows of another program (dicts, one a lot), with the columns of a CSV file;
        None, NaN and empty cells say nothing.

        Raises InputError with all problems, each with its row and column.
        """
        problems: list[Problem] = []
        lots = lots_of_rows(rows, problems)
        try:
            heap = cls.model_validate({"lots": lots})
        except ValidationError as why:
            problems += problems_of(why, cls)
        if problems:
            raise InputError(problems)
        return heap

    @classmethod
    def read_csv(cls, path: str | os.PathLike[str]) -> Heap:
        """A heap from a CSV file: a header of field names (nested ones with a point), one row a
        lot, signs apart by |.
        """
        from ...documents.csv_reader import read_csv  # only where files are read

        table = read_csv(read_text(path), os.fspath(path), CSV_FIELDS)
        problems: list[Problem] = []
        lots = [
            lot_of_row(row, index, problems, table.places, os.fspath(path))
            for index, row in enumerate(table.rows)
        ]
        places = {("lots", *p): at for p, at in table.places.items()}
        document = Document({"lots": lots}, os.fspath(path), {("lots",): (1, 1), **places})
        if problems:
            raise InputError(problems)
        return _validated(cls, document)

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            lots: Iterable[Lot | Mapping[str, Any]],
            name: str | None = None,
            remarks: str | None = None,
            dismiss: Sequence[str] = (),
        ) -> None: ...


class Job(InputModel):
    """A heap with, at will, the burn, the set of limits and table files; paths are relative to the
    job's file.
    """

    model_config = ConfigDict(
        json_schema_extra={"examples": [{**HEAP_EXAMPLE, "burn": BURN_EXAMPLE}]}
    )

    name: Text | None = None
    """What the heap is called."""
    lots: Lots
    """The lots, each of one kind and one history."""
    remarks: Remarks | None = None
    """Anything else, for all lots."""
    dismiss: Words = ()
    """Danger words in its texts that do not mean what they say."""
    burn: Burn | None = None
    """How it is to be burnt."""
    limits: Text | None = None
    """The set of limits that judges."""
    tables: Words = ()
    """Table files to lay on top, relative to the job's file; read by the command line alone."""

    @property
    def heap(self) -> Heap:
        """The heap alone."""
        heap = Heap(name=self.name, lots=self.lots, remarks=self.remarks, dismiss=self.dismiss)
        keep_place(heap, place_of(self))
        return heap

    @model_validator(mode="after")
    def _different_names(self) -> Self:
        check_names(self.lots)
        return self

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> Job:
        """A job from a YAML or JSON file, or a heap alone from a CSV file.

        Raises InputError with all problems.
        """
        if str(path).lower().endswith(".csv"):
            heap = Heap.read_csv(path)
            job = cls.model_validate({"lots": heap.lots})
            keep_place(job, place_of(heap))
            return job
        return _validated(cls, _document(path))


Model = TypeVar("Model", bound=InputModel)


def place_of(model: BaseModel) -> Document | None:
    """The file that a model was read from, with the places of its parts; None for one made in
    code.
    """
    document = model.__dict__.get("_document")
    return document if isinstance(document, Document) else None


def keep_place(model: BaseModel, document: Document | None) -> None:
    """Remember the file beside the fields; it counts neither for equality nor in what is written
    out.
    """
    if document is not None:
        model.__dict__["_document"] = document


def _document(path: str | os.PathLike[str]) -> Document:
    from ...documents.json_reader import read_json  # only where files are read
    from ...documents.yaml_reader import read_yaml

    text, name = read_text(path), os.fspath(path)
    return read_json(text, name) if Path(path).suffix.lower() == ".json" else read_yaml(text, name)


def _validated(model: type[Model], document: Document) -> Model:
    data = document.data
    if not isinstance(data, dict):
        what = (
            "the file begins with a list"
            if isinstance(data, list)
            else "the file holds nothing"
            if data is None
            else "the file holds a single text"
        )
        raise InputError(
            [
                Problem(
                    "not-a-mapping",
                    what,
                    "Write `lots:` at the left margin and the lots under it, each after a dash.",
                    file=document.file,
                    line=1,
                    column=1,
                )
            ]
        )
    of_tables = [
        key
        for key in ("materials", "contaminants", "sources", "burners", "limits", "set")
        if key in data
    ]
    if of_tables and "lots" not in data:
        place = document.place((of_tables[0],), key=True)
        raise InputError(
            [
                Problem(
                    "table-file",
                    "this is a table file, not a heap",
                    "Give it with --tables, and a heap file with `lots:` as the heap.",
                    of_tables[0],
                    "",
                    document.file,
                    *(place or (None, None)),
                )
            ]
        )
    try:
        validated = model.model_validate(data)
    except ValidationError as why:
        raise InputError(problems_of(why, model, document)) from None
    keep_place(validated, document)
    return validated


def lot_names(heap: Heap) -> list[str]:
    """The names of the lots: given, else the material, numbered where several would be the same."""
    names_given = {lot.name.casefold() for lot in heap.lots if lot.name is not None}
    plain: dict[str, int] = {}
    for lot in heap.lots:
        if lot.name is None:
            plain[lot.material.casefold()] = plain.get(lot.material.casefold(), 0) + 1
    out: list[str] = []
    count: dict[str, int] = {}
    for lot in heap.lots:
        if lot.name is not None:
            out.append(lot.name)
            continue
        key = lot.material.casefold()
        if plain[key] == 1 and key not in names_given:
            out.append(lot.material)
            continue
        count[key] = count.get(key, 0) + 1
        while f"{key} {count[key]}" in names_given:
            count[key] += 1
        out.append(f"{lot.material} {count[key]}")
    return out
