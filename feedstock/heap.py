"""What a user describes: lots, the heap of them, the burn, and the job file that holds all three.

Models are frozen and refuse unknown fields. Names of materials, signs, origins and burners are
looked up in tables by `appraise`, not here.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal, Protocol, Self, TypeVar

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationError,
    model_serializer,
    model_validator,
)

from .errors import InputError, Problem, shown
from .estimate import Door, Estimate, Measured, MoistureDoor, custom_error
from .located import (
    CsvRows,
    Located,
    path_text,
    problems_of,
    read_csv,
    read_json,
    read_text,
    read_yaml,
)

if TYPE_CHECKING:

    class SupportsTo(Protocol):
        """A quantity of the pint library, of whichever registry."""

        @property
        def magnitude(self) -> Any: ...
        def to(self, *args: Any, **kwargs: Any) -> Any: ...

    Quantity = str | Estimate | Measured | Mapping[str, Any] | SupportsTo

MOST_LOTS = 10_000


def _on_one_line(value: str) -> str:
    """No line break, escape or other control character: names are printed to terminals."""
    if any(ord(sign) < 32 or 127 <= ord(sign) < 160 for sign in value):
        raise custom_error(
            "control-character",
            f"a control character stands in '{shown(value)}'",
            "Write plain text on one line.",
        )
    return value


Text = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=200),
    AfterValidator(_on_one_line),
]


def _as_tuple(value: Any) -> Any:
    return (value,) if isinstance(value, str) else value


Words = Annotated[tuple[Text, ...], BeforeValidator(_as_tuple)]
_NEXT_TO_NOTHING = 1e-7
"""In kg, m and m3: a tenth of a milligram, of a micrometre, of a millilitre.

A smaller amount is a slip of the pen.
"""

Mass = Annotated[Measured, Door("mass", above=_NEXT_TO_NOTHING, most=1e6)]
Length = Annotated[Measured, Door("length", above=_NEXT_TO_NOTHING, most=100)]
Thick = Annotated[
    Measured,
    Door(
        "length",
        above=_NEXT_TO_NOTHING,
        most=4,
        why="Write a thickness above nothing and up to 4 m: look at its unit.",
    ),
]
Long = Annotated[
    Measured,
    Door(
        "length", least=0.01, most=100, why="Write a length from 1 cm to 100 m: look at its unit."
    ),
]
Rim = Annotated[
    Measured,
    Door("length", least=0.05, most=30, why="Write a measure from 5 cm to 30 m: look at its unit."),
]
Volume = Annotated[Measured, Door("volume", above=_NEXT_TO_NOTHING, most=1e4)]
Density = Annotated[Measured, Door("density", least=1, most=2500)]
ShareBelowOne = Annotated[
    Measured, Door("share", least=0, below=1, why="Write a share from 0 % to below 100 %.")
]


def _as_written(value: Any) -> Any:
    """Neither `1_000` nor True is a number that a person wrote."""
    if isinstance(value, bool) or (isinstance(value, str) and "_" in value):
        raise custom_error(
            "not-a-number",
            f"'{shown(value)}' is not a number as it is written here",
            "Write it in digits alone, for instance 1000.",
        )
    return value


AsWritten = BeforeValidator(_as_written)
Count = Annotated[int, AsWritten, Field(ge=1, le=1_000_000)]


class _Model(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    @model_serializer(mode="wrap")
    def _without_nothing(self, handler: Any) -> Any:
        """What was not given is left out, so that a written heap reads like one that a person
        wrote.
        """
        found = handler(self)
        return (
            {k: v for k, v in found.items() if v is not None and v != ()}
            if isinstance(found, dict)
            else found
        )


class Pieces(_Model):
    """A count of like pieces: round by `diameter` (in the middle, over bark) or `diameters` (butt,
    top), or sawn by `width` and `thickness`.
    """

    count: Count
    length: Long
    diameter: Thick | None = None
    diameters: tuple[Thick, Thick] | None = None
    width: Thick | None = None
    thickness: Thick | None = None
    hollow: ShareBelowOne | None = None

    @model_validator(mode="after")
    def _one_section(self) -> Self:
        ways = [
            self.diameter is not None,
            self.diameters is not None,
            self.width is not None or self.thickness is not None,
        ]
        if sum(ways) != 1:
            raise custom_error(
                "two-amounts" if sum(ways) else "no-amount",
                "the cross-section of the pieces is given in more than one way"
                if sum(ways)
                else "the pieces have no cross-section",
                "Write diameter, or diameters: [butt, top], or width and thickness.",
            )
        if ways[2] and (self.width is None or self.thickness is None):
            raise custom_error(
                "missing-field",
                "sawn pieces need both width and thickness",
                "Write width: 140 mm and thickness: 19 mm.",
            )
        return self

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            count: int,
            length: Quantity,
            diameter: Quantity | None = None,
            diameters: Sequence[Quantity] | None = None,
            width: Quantity | None = None,
            thickness: Quantity | None = None,
            hollow: Quantity | None = None,
        ) -> None: ...


class Stack(_Model):
    """A stacked or heaped gross volume by its shape and outer measures."""

    shape: Literal["box", "half cylinder", "half ellipsoid", "paraboloid", "cone"] = "box"
    width: Length
    length: Length
    height: Length

    if TYPE_CHECKING:

        def __init__(
            self, *, shape: str = "box", width: Quantity, length: Quantity, height: Quantity
        ) -> None: ...


class Containers(_Model):
    """So many wheelbarrows, bags or bales."""

    count: Annotated[float, AsWritten, Field(gt=0, le=1e5, allow_inf_nan=False)]
    of: Text

    if TYPE_CHECKING:

        def __init__(self, *, count: float, of: str) -> None: ...


class Air(_Model):
    """The air in which wood has lain under cover until it came to rest with it."""

    temperature: Annotated[
        Measured,
        Door(
            "temperature",
            least=-30,
            most=60,
            why="Write an outdoor temperature, for instance 12 degC.",
        ),
    ]
    relative_humidity: Annotated[
        Measured,
        Door(
            "share", above=0, most=0.98, why="Write a relative humidity above 0 % and up to 98 %."
        ),
    ]

    if TYPE_CHECKING:

        def __init__(self, *, temperature: Quantity, relative_humidity: Quantity) -> None: ...


_MOISTURE_WAYS = (
    "Write '22 % wet', or {reading: '22 % dry', by: pin}, {wet: 412 g, oven_dry: 330 g}, "
    "{air: {...}} or {condition: seasoned}."
)


class Moisture(_Model):
    """A moisture in exactly one way: stated, read by an instrument, weighed, at rest with the air,
    or by condition.
    """

    value: Annotated[Measured, MoistureDoor()] | None = None
    reading: Annotated[Measured, MoistureDoor()] | None = None
    by: Text | None = None
    wet: Mass | None = None
    oven_dry: Mass | None = None
    air: Air | None = None
    condition: Text | None = None

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, raw: Any) -> Any:
        if isinstance(raw, (Mapping, Moisture)):
            return raw
        return {"value": raw}

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        ways = [self.value, self.reading, self.wet or self.oven_dry, self.air, self.condition]
        given = sum(way is not None for way in ways)
        if given != 1:
            raise custom_error(
                "two-moistures" if given else "no-moisture",
                "the moisture is given in more than one way"
                if given
                else "the moisture is given in no way",
                _MOISTURE_WAYS,
            )
        if self.by is not None and self.reading is None:
            raise custom_error(
                "missing-field",
                "`by` names an instrument, but there is no `reading`",
                _MOISTURE_WAYS,
            )
        if (self.wet is None) != (self.oven_dry is None):
            raise custom_error(
                "missing-field",
                "weighing needs the mass before (`wet`) and after drying (`oven_dry`)",
                "Write {wet: 412 g, oven_dry: 330 g}.",
            )
        if (
            self.wet is not None
            and self.oven_dry is not None
            and not self.oven_dry.mid <= self.wet.mid
        ):
            raise custom_error(
                "out-of-range",
                "the sample weighs more after drying than before",
                "Write the mass as it lay under wet, the dried one under oven_dry.",
            )
        return self

    @model_serializer(mode="wrap")
    def _plain(self, handler: Any) -> Any:
        if self.value is not None:
            return self.value.text
        return {k: v for k, v in handler(self).items() if v is not None}


class Sample(_Model):
    """A piece of the lot that was dried and measured: its oven-dry mass and its volume (by dipping,
    or by tape).
    """

    oven_dry: Mass
    volume: Volume

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if not 20 <= self.oven_dry.mid / self.volume.mid <= 1540:
            raise custom_error(
                "out-of-range",
                "the sample would have a density of "
                f"{self.oven_dry.mid / self.volume.mid:.3g} kg/m^3",
                "Wood lies between about 100 and 1300 kg/m^3: look at the units of both.",
            )
        return self


class Measures(_Model):
    """Own measurements, which stand before the tables."""

    basic_density: Density | None = None
    bulk_density: Density | None = None
    ash: ShareBelowOne | None = None
    sample: Sample | None = None

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            basic_density: Quantity | None = None,
            bulk_density: Quantity | None = None,
            ash: Quantity | None = None,
            sample: Mapping[str, Any] | Sample | None = None,
        ) -> None: ...


_AMOUNTS = ("mass", "volume", "pieces", "stack", "containers")
_AMOUNT_WAYS = "Write one of mass, volume (with packing), pieces, stack or containers."


class Lot(_Model):
    """Pieces of one kind and one history.

    Raises ValidationError for an impossible or doubtful description.

    The amount is given in exactly one way, the moisture in at most one.
    """

    name: Text | None = None
    material: Text
    mass: Mass | None = None
    volume: Volume | None = None
    pieces: Pieces | None = None
    stack: Stack | None = None
    containers: Containers | None = None
    packing: Text | None = None
    moisture: Moisture | None = None
    thickness: Length | None = None
    decay: Annotated[int, AsWritten, Field(ge=1, le=5)] | None = None
    lying: bool = True
    soil: ShareBelowOne | None = None
    origin: Text = "unknown"
    signs: Words = ()
    year: Annotated[int, AsWritten, Field(ge=1700, le=2200)] | None = None
    region: Text | None = None
    measured: Measures | None = None
    remarks: Annotated[str, StringConstraints(max_length=2000)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _not_names(cls, raw: Any) -> Any:
        if isinstance(raw, str) or raw is None:
            raise custom_error(
                "not-a-mapping",
                f"'{shown(raw)}' is not a lot" if raw is not None else "there is no lot here",
                "Write material: and an amount for each lot.",
            )
        return raw

    @model_validator(mode="after")
    def _one_amount(self) -> Self:
        given = [name for name in _AMOUNTS if getattr(self, name) is not None]
        if len(given) != 1:
            raise custom_error(
                "two-amounts" if given else "no-amount",
                f"the amount is given in more than one way ({', '.join(given)})"
                if given
                else "the lot has no amount",
                _AMOUNT_WAYS,
            )
        if self.packing is not None and given[0] in ("mass", "pieces"):
            raise custom_error(
                "not-needed",
                f"`packing` belongs to a volume, a stack or containers, not to {given[0]}",
                "Take packing away.",
                at=("packing",),
            )
        return self

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            material: str,
            name: str | None = None,
            mass: Quantity | None = None,
            volume: Quantity | None = None,
            pieces: Mapping[str, Any] | Pieces | None = None,
            stack: Mapping[str, Any] | Stack | None = None,
            containers: Mapping[str, Any] | Containers | None = None,
            packing: str | None = None,
            moisture: str | Measured | Mapping[str, Any] | Moisture | None = None,
            thickness: Quantity | None = None,
            decay: int | None = None,
            lying: bool = True,
            soil: Quantity | None = None,
            origin: str = "unknown",
            signs: Sequence[str] = (),
            year: int | None = None,
            region: str | None = None,
            measured: Mapping[str, Any] | Measures | None = None,
            remarks: str | None = None,
        ) -> None: ...


def check_names(lots: Sequence[Lot]) -> None:
    """Raise where two lots go by one name."""
    seen: dict[str, int] = {}
    for index, lot in enumerate(lots):
        if lot.name is not None:
            if lot.name.casefold() in seen:
                raise custom_error(
                    "duplicate-name",
                    f"two lots are named '{shown(lot.name)}' "
                    f"(lots[{seen[lot.name.casefold()]}] and lots[{index}])",
                    "Give each its own name.",
                    at=("lots", index, "name"),
                )
            seen[lot.name.casefold()] = index


class Heap(_Model):
    """All lots that lie ready.

    Names that are given must differ; a lot without one goes by its material.
    """

    name: Text | None = None
    lots: Annotated[tuple[Lot, ...], Field(min_length=1, max_length=MOST_LOTS)]
    remarks: Annotated[str, StringConstraints(max_length=2000)] | None = None

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
        located = _located(path)
        if isinstance(located.data, dict):
            extra = [key for key in ("burn", "limits", "tables") if key in located.data]
            if extra:
                place = located.place((extra[0],), key=True)
                raise InputError(
                    [
                        Problem(
                            "job-file",
                            f"`{extra[0]}` belongs to a job file",
                            "Use Job.read for a file with burn, limits or tables, or take it away.",
                            extra[0],
                            "",
                            located.file,
                            *(place or (None, None)),
                        )
                    ]
                )
        return _validated(cls, located)

    @classmethod
    def read_csv(cls, path: str | os.PathLike[str]) -> Heap:
        """A heap from a CSV file: a header of field names (nested ones with a point), one row a
        lot, signs apart by |.
        """
        found = read_csv(read_text(path), os.fspath(path), CSV_FIELDS)
        problems: list[Problem] = []
        lots = [
            _lot_of_row(row, index, found, os.fspath(path), problems)
            for index, row in enumerate(found.rows)
        ]
        places = {("lots", *p): at for p, at in found.places.items()}
        located = Located({"lots": lots}, os.fspath(path), {("lots",): (1, 1), **places})
        if problems:
            raise InputError(problems)
        return _validated(cls, located)

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            lots: Iterable[Lot | Mapping[str, Any]],
            name: str | None = None,
            remarks: str | None = None,
        ) -> None: ...


class Burn(_Model):
    """How it is to be burnt.

    `burner` is a name of the tables; measures are those of the rim, inside.

    `firing` is `fed` (in layers) or `top-lit` (filled, then lit). `vessel`, `ground` and `lighting`
    are words of the tables that can raise a suspicion (galvanised; peat; liquid fuel). `heaped` is
    how high a top-lit load is piled, as a multiple of the vessel's volume.
    """

    burner: Text
    firing: Literal["fed", "top-lit", "closed"] | None = None
    width: Rim | None = None
    diameter: Rim | None = None
    depth: Rim | None = None
    length: Rim | None = None
    bottom_width: Length | None = None
    bottom_length: Length | None = None
    volume: Volume | None = None
    duration: Annotated[Measured, Door("time", above=0, most=30 * 86400)] | None = None
    temperature: (
        Annotated[
            Measured,
            Door(
                "temperature",
                least=20,
                most=1300,
                why="Write the highest temperature of the char, for instance 650 degC.",
            ),
        ]
        | None
    ) = None
    hose: Annotated[Measured, Door("flow", above=0, most=1)] | None = None
    heaped: Annotated[float, AsWritten, Field(gt=0, le=5, allow_inf_nan=False)] | None = None
    vessel: Words = ()
    ground: Words = ()
    lighting: Words = ()

    @model_validator(mode="after")
    def _one_width(self) -> Self:
        if self.width is not None and self.diameter is not None:
            raise custom_error(
                "two-amounts",
                "both width and diameter are given",
                "Write diameter for a round rim, width (and length) for a straight one.",
            )
        return self

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            burner: str,
            firing: str | None = None,
            width: Quantity | None = None,
            diameter: Quantity | None = None,
            depth: Quantity | None = None,
            length: Quantity | None = None,
            bottom_width: Quantity | None = None,
            bottom_length: Quantity | None = None,
            volume: Quantity | None = None,
            duration: Quantity | None = None,
            temperature: Quantity | None = None,
            hose: Quantity | None = None,
            heaped: float | None = None,
            vessel: str | Sequence[str] = (),
            ground: str | Sequence[str] = (),
            lighting: str | Sequence[str] = (),
        ) -> None: ...


class Job(_Model):
    """A heap with, at will, the burn, the set of limits and table files; paths are relative to the
    job's file.
    """

    name: Text | None = None
    lots: Annotated[tuple[Lot, ...], Field(min_length=1, max_length=MOST_LOTS)]
    remarks: Annotated[str, StringConstraints(max_length=2000)] | None = None
    burn: Burn | None = None
    limits: Text | None = None
    tables: Words = ()

    @property
    def heap(self) -> Heap:
        """The heap alone."""
        found = Heap(name=self.name, lots=self.lots, remarks=self.remarks)
        keep_place(found, place_of(self))
        return found

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
            found = cls.model_validate({"lots": heap.lots})
            keep_place(found, place_of(heap))
            return found
        return _validated(cls, _located(path))


Model = TypeVar("Model", bound=_Model)


def place_of(model: BaseModel) -> Located | None:
    """The file that a model was read from, with the places of its parts; None for one made in
    code.
    """
    found = model.__dict__.get("_located")
    return found if isinstance(found, Located) else None


def keep_place(model: BaseModel, located: Located | None) -> None:
    """Remember the file beside the fields; it counts neither for equality nor in what is written
    out.
    """
    if located is not None:
        model.__dict__["_located"] = located


def _located(path: str | os.PathLike[str]) -> Located:
    text, name = read_text(path), os.fspath(path)
    return read_json(text, name) if Path(path).suffix.lower() == ".json" else read_yaml(text, name)


def _validated(model: type[Model], located: Located) -> Model:
    data = located.data
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
                    file=located.file,
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
        place = located.place((of_tables[0],), key=True)
        raise InputError(
            [
                Problem(
                    "table-file",
                    "this is a table file, not a heap",
                    "Give it with --tables, and a heap file with `lots:` as the heap.",
                    of_tables[0],
                    "",
                    located.file,
                    *(place or (None, None)),
                )
            ]
        )
    try:
        found = model.model_validate(data)
    except ValidationError as why:
        raise InputError(problems_of(why, model, located)) from None
    keep_place(found, located)
    return found


CSV_FIELDS = (
    "name",
    "material",
    "mass",
    "volume",
    "packing",
    "pieces.count",
    "pieces.length",
    "pieces.diameter",
    "pieces.diameters",
    "pieces.width",
    "pieces.thickness",
    "pieces.hollow",
    "stack.shape",
    "stack.width",
    "stack.length",
    "stack.height",
    "containers.count",
    "containers.of",
    "moisture",
    "moisture.reading",
    "moisture.by",
    "moisture.wet",
    "moisture.oven_dry",
    "moisture.air.temperature",
    "moisture.air.relative_humidity",
    "moisture.condition",
    "thickness",
    "decay",
    "lying",
    "soil",
    "origin",
    "signs",
    "year",
    "region",
    "measured.basic_density",
    "measured.bulk_density",
    "measured.ash",
    "remarks",
)


def _lot_of_row(
    row: dict[str, str], index: int, found: CsvRows, file: str, problems: list[Problem]
) -> dict[str, Any]:
    lot: dict[str, Any] = {}
    for key, text in row.items():
        *outer, last = key.split(".")
        inner: Any = lot
        for part in outer:
            inner = inner.setdefault(part, {})
        if not isinstance(inner, dict) or last in inner:
            line, column = found.places[index, *key.split(".")]
            problems.append(
                Problem(
                    "two-moistures",
                    f"`{key.partition('.')[0]}` is given in two columns",
                    "Keep one of them in this row.",
                    path_text(("lots", index, key)),
                    text,
                    file,
                    line,
                    column,
                )
            )
            continue
        inner[last] = (
            [part.strip() for part in text.split("|") if part.strip()]
            if key in ("signs", "pieces.diameters")
            else text
        )
    return lot
