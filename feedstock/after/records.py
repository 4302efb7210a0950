"""The record of a batch as a person fills it in: what went in, the fire, and the char by volume or
by dry mass.

Wet char is never taken for dry: a mass counts only with its moisture or with a dried sample.
"""

from __future__ import annotations

import datetime
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationError,
    model_serializer,
    model_validator,
)

from ..errors import InputError, Problem, nearest_names, shown
from ..estimate import Door, Measured, MoistureDoor, custom_error
from ..heap import CSV_FIELDS, MOST_LOTS, Burn, Containers, Lot, Mass, Text, keep_place
from ..located import Located, Path_, Place, problems_of, read_csv, read_json, read_text, read_yaml

if TYPE_CHECKING:
    from ..heap import Quantity

MOST_BATCHES = 5_000
_WET = (
    "Measure it heaped in a bucket and write volume: 60 L; or dry a handful at 105 degC "
    "until its weight stays and write sample: {wet: 412 g, oven_dry: 180 g} beside mass."
)


def _as_date(value: str) -> str:
    try:
        return datetime.date.fromisoformat(value).isoformat()
    except ValueError:
        raise custom_error(
            "not-a-date",
            f"'{shown(value)}' is not a date",
            "Write year-month-day, for instance 2026-03-14.",
        ) from None


Date = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=40),
    AfterValidator(_as_date),
]
Time = Annotated[
    Measured,
    Door(
        "time",
        above=0,
        most=30 * 86400,
        why="Write how long it burnt, from lighting to quench, for instance 55 min.",
    ),
]
AnyMass = Annotated[Measured, Door("mass", least=0, most=1e6)]
AnyVolume = Annotated[Measured, Door("volume", least=0, most=1e4)]


class _Model(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

    @model_serializer(mode="wrap")
    def _without_nothing(self, handler: Any) -> Any:
        found = handler(self)
        return (
            {k: v for k, v in found.items() if v is not None and v != ()}
            if isinstance(found, dict)
            else found
        )


class DriedSample(_Model):
    """A handful of the char, weighed as it lay and after drying."""

    wet: Mass
    oven_dry: Mass

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if self.oven_dry.mid > self.wet.mid:
            raise custom_error(
                "out-of-range",
                "the sample weighs more after drying than before",
                "Write the mass as it lay under wet, the dried one under oven_dry.",
            )
        return self

    if TYPE_CHECKING:

        def __init__(self, *, wet: Quantity, oven_dry: Quantity) -> None: ...


class CharMeasured(_Model):
    """Sorted char without brands: heaped volume, or so many containers, or a mass with its moisture
    or a dried sample; both at will.
    """

    volume: (
        Annotated[
            Measured,
            Door(
                "volume",
                above=0,
                most=1e4,
                why="Write the heaped volume of the sorted char, above nothing.",
            ),
        ]
        | None
    ) = None
    containers: Containers | None = None
    mass: (
        Annotated[
            Measured,
            Door(
                "mass", above=0, most=1e6, why="Write the mass of the sorted char, above nothing."
            ),
        ]
        | None
    ) = None
    moisture: Annotated[Measured, MoistureDoor()] | None = None
    sample: DriedSample | None = None

    @model_validator(mode="after")
    def _dry(self) -> Self:
        if self.volume is None and self.containers is None and self.mass is None:
            raise custom_error(
                "no-amount",
                "the char has no amount",
                "Write volume: 60 L (heaped, sorted), or mass with a dried sample.",
            )
        if self.volume is not None and self.containers is not None:
            raise custom_error(
                "two-amounts",
                "the volume of the char is given in two ways",
                "Write volume, or containers, not both.",
            )
        if self.mass is not None and self.moisture is None and self.sample is None:
            raise custom_error(
                "wet-mass",
                f"'{shown(self.mass.text)}' of char without its moisture: quenched "
                "char holds one to four times its own mass of water",
                _WET,
                at=("mass",),
            )
        if self.moisture is not None and self.sample is not None:
            raise custom_error(
                "two-moistures",
                "the moisture of the char is given in two ways",
                "Write moisture or sample, not both.",
            )
        if self.mass is None and (self.moisture is not None or self.sample is not None):
            raise custom_error(
                "missing-field",
                "a moisture of the char is given, but no mass",
                "Write the mass as it lay at the same time, or take the moisture away.",
            )
        return self

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            volume: Quantity | None = None,
            containers: Mapping[str, Any] | Containers | None = None,
            mass: Quantity | None = None,
            moisture: str | Measured | None = None,
            sample: Mapping[str, Any] | DriedSample | None = None,
        ) -> None: ...


class BatchRecord(_Model):
    """One burn as it came out.

    `lots` is what was burnt; `minutes` runs from lighting to quench; brands and water are told
    beside.

    In a file `heap` may name a heap file (relative to the record) and `used` the lots of it that
    were burnt; both are read in. Raises ValidationError for what cannot be.
    """

    name: Text | None = None
    date: Date | None = None
    person: Text | None = None
    lots: Annotated[tuple[Lot, ...], Field(min_length=1, max_length=MOST_LOTS)]
    burn: Burn
    minutes: Time | None = None
    char: CharMeasured
    brands: AnyMass | None = None
    water: AnyVolume | None = None
    remarks: Annotated[str, StringConstraints(max_length=2000)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _what_was_burnt(cls, raw: Any) -> Any:
        if isinstance(raw, Mapping) and not raw.get("lots"):
            raise custom_error(
                "no-lots",
                "it is not said what was burnt",
                "Write lots: (as in a heap file), or heap: FILE with used: [names of the lots]: "
                "without the dry feed no yield can be told.",
            )
        return raw

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> tuple[BatchRecord, ...]:
        """The batches of a YAML, JSON or CSV file.

        Raises InputError with all problems, each with its line.
        """
        return read_batches(path)

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            lots: Sequence[Lot | Mapping[str, Any]],
            burn: Burn | Mapping[str, Any],
            char: CharMeasured | Mapping[str, Any],
            name: str | None = None,
            date: str | None = None,
            person: str | None = None,
            minutes: Quantity | None = None,
            brands: Quantity | None = None,
            water: Quantity | None = None,
            remarks: str | None = None,
        ) -> None: ...


class _Batches(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

    person: Text | None = None
    batches: Annotated[tuple[BatchRecord, ...], Field(min_length=1, max_length=MOST_BATCHES)]


# --- files ----------------------------------------------------------------------------------------

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


def read_batches(path: str | os.PathLike[str]) -> tuple[BatchRecord, ...]:
    """As `BatchRecord.read`."""
    file = os.fspath(path)
    text = read_text(path)
    kind = Path(path).suffix.lower()
    if kind == ".csv":
        located = _from_csv(text, file)
    else:
        located = read_json(text, file) if kind == ".json" else read_yaml(text, file)
    data = located.data
    if isinstance(data, list):
        data, located = (
            {"batches": data},
            Located(
                {"batches": data},
                file,
                {("batches", *p): at for p, at in located.places.items()},
                {("batches", *p): at for p, at in located.keys.items()},
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
    located.data = _completed(data, located)
    try:
        found = _Batches.model_validate(located.data)
    except ValidationError as why:
        raise InputError(problems_of(why, _Batches, located)) from None
    for index, record in enumerate(found.batches):
        keep_place(record, _part(located, ("batches", index)))
    return found.batches


def _part(located: Located, path: Path_) -> Located:
    """The same file with places told from one part of it."""
    n = len(path)

    def below(places: Mapping[Path_, Place]) -> dict[Path_, Place]:
        return {p[n:]: at for p, at in places.items() if p[:n] == path}

    return Located(None, located.file, below(located.places), below(located.keys))


def _completed(data: dict[str, Any], located: Located) -> dict[str, Any]:
    """Heap files read in, and what stands once at the top given to every batch."""
    shared = {key: data[key] for key in _SHARED if key in data}
    out = {key: value for key, value in data.items() if key not in ("burn", "heap")}
    batches = data.get("batches")
    if not isinstance(batches, list):
        return out
    problems: list[Problem] = []
    out["batches"] = [
        _batch(each, shared, index, located, problems) for index, each in enumerate(batches)
    ]
    if problems:
        raise InputError(problems)
    return out


def _batch(
    raw: Any, shared: Mapping[str, Any], index: int, located: Located, problems: list[Problem]
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
                    located,
                    ("batches", index, "heap"),
                )
            )
            return batch
        batch["lots"] = _lots_of(heap, used, located, index, problems)
    elif used is not None:
        problems.append(
            _problem(
                "missing-field",
                "`used` names lots, but no heap file is named",
                "Write heap: FILE beside it, or describe the lots under lots:.",
                located,
                ("batches", index, "used"),
            )
        )
    return batch


def _lots_of(
    heap: str, used: Any, located: Located, index: int, problems: list[Problem]
) -> list[Any]:
    """The lots of a heap file by their names; without names all of them."""
    from ..heap import Job

    try:
        lots = Job.read(Path(located.file).parent / heap).lots
    except InputError as why:
        problems.append(
            _problem(
                "no-lots",
                f"the heap file '{shown(heap)}' cannot be used: {why.problems[0]}",
                "Give the path of the heap as it was burnt, relative to this file.",
                located,
                ("batches", index, "heap"),
            )
        )
        return [{}]
    if used is None:
        return list(lots)
    named = {(lot.name or lot.material).casefold(): lot for lot in lots}
    chosen: list[Any] = []
    for name in [used] if isinstance(used, str) else used:
        found = named.get(str(name).casefold())
        if found is None:
            problems.append(
                _problem(
                    "unknown-lot",
                    f"there is no lot '{shown(str(name))}' in {shown(heap)}",
                    f"Lots: {', '.join(sorted(named)[:20])}.",
                    located,
                    ("batches", index, "used"),
                    nearest_names(str(name), named),
                )
            )
        else:
            chosen.append(found)
    return chosen or [{}]


def _problem(
    code: str,
    what: str,
    expected: str,
    located: Located,
    path: Path_,
    nearest: tuple[str, ...] = (),
) -> Problem:
    from ..located import path_text

    line, column = located.place(path) or (None, None)
    return Problem(code, what, expected, path_text(path), "", located.file, line, column, nearest)


def _from_csv(text: str, file: str) -> Located:
    """One row a batch; the columns of a single lot begin with `lots.`, those of the fire with
    `burn.`; several lots come by a heap file.
    """
    found = read_csv(text, file, CSV_BATCH_FIELDS)
    batches: list[dict[str, Any]] = []
    for row in found.rows:
        batch: dict[str, Any] = {}
        for key, value in row.items():
            parts = key.split(".")
            split: Any = (
                [each.strip() for each in value.split("|") if each.strip()]
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
    for path, at in found.places.items():
        lot = len(path) > 1 and path[1] == "lots"
        places[("batches", path[0], "lots", 0, *path[2:]) if lot else ("batches", *path)] = at
    return Located({"batches": batches}, file, places)
