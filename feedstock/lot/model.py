"""What binding finds out of a lot, as fields: nothing is guessed again from names of steps; its
public figures; and the builder that collects its inputs and steps while it is bound.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import field
from enum import Enum
from typing import Any

from pydantic import BaseModel

from ..errors import InputError, Problem
from ..model.experience import Learned
from ..model.inputs.heap import Heap
from ..model.inputs.lot import Lot
from ..quantities.cell import Scale
from ..quantities.fields import Measured
from ..quantities.frozen import frozen, record
from ..quantities.units import as_wet
from ..tables.inputs import cell_input
from ..tables.rows.material import Material
from ..tables.rows.methods.amount import Instruments
from ..tables.tables import Tables
from ..uncertainty.graph import Chain, Step
from ..uncertainty.inputs import Input, Origin, exact_input, stated_input
from ..uncertainty.keys import Key, lot_key, stated_key
from ..words import Message
from .evidence import Evidence
from .words import NO_WORDS, WordsOfLot


class Route(Enum):
    """The way by which the amount of a lot was given."""

    MASS = "weighed"
    COUNTED = "counted"
    HEAPED = "heaped"
    STACKED = "stacked"
    CONTAINED = "contained"


class ThicknessSource(Enum):
    """Where the least dimension of a lot's pieces comes from."""

    STATED = "stated"
    DIAMETER = "diameter of the pieces"
    TAPER = "mean of butt and top"
    WIDTH = "width of the pieces"
    BOARD = "thickness of the pieces"
    PACKING = "usual for the way it lies"
    TABLE = "usual for the material"


@frozen
class Thickness:
    """The least dimension, m, and where it comes from."""

    value: float
    source: ThicknessSource


@frozen
class LotModel:
    """A lot bound to its row once: its chain from amount and moisture to char, water and time in
    the fire, the inputs, and what was found out on the way.

    `evidence` holds row, origin and signs as row ids. `solid` says that the amount is a volume of
    solid wood, `solid_density` that the density is that of the pieces and not of the heap.
    `in_bark` says that the pieces were measured over their bark. `oven_dry_density`, `wood_volume`
    and `loose_volume` are the steps that give these, "" where there is none; `volume_base` is the
    step per which own batches count char volume. `char_yield` and `char_ash`, the share
    of ash in it, are the middles by the tables alone, which no amount moves. `words` are those of
    its texts that ask something.

    `lies` says how it lies to dry, "" where the tables say nothing of drying.

    `uncorrected` is the same lot before own experience, by which contamination is judged.
    """

    lot: Lot
    name: str
    evidence: Evidence
    row: Material
    signature: str
    route: Route
    solid: bool
    in_bark: bool
    thickness: Thickness
    fineness: str
    moisture_known: str
    lies: str
    solid_density: bool
    oven_dry_density: str
    wood_volume: str
    loose_volume: str
    volume_base: str
    char_yield: float
    char_ash: float
    chain: Chain
    inputs: tuple[Input, ...]
    outputs: frozenset[str]
    figures: tuple[str, ...]
    notes: tuple[Message, ...] = ()
    words: WordsOfLot = NO_WORDS
    read_as: Message | None = None
    uncorrected: LotModel | None = None
    rate: Learned | None = None

    @property
    def row_id(self) -> str:
        """The full name of the material's row."""
        return self.evidence.material

    @property
    def kind(self) -> Hashable:
        """What lots have in common that differ in nothing but how much there is of them: what they
        say, and how wide a range they state of their amount.
        """
        ranges = tuple(
            (
                entry.name,
                float(f"{entry.low / entry.mid:.12g}"),
                float(f"{entry.high / entry.mid:.12g}"),
            )
            for entry in self.inputs
            if entry.amount and not entry.exact and entry.mid
        )
        return self.signature, ranges

    @property
    def plain(self) -> LotModel:
        """The lot as the tables alone have it."""
        return self if self.uncorrected is None else self.uncorrected

    def middle(self, name: str) -> float:
        """The middle of an input."""
        return float(next(entry.mid for entry in self.inputs if entry.name == name))

    def gives(self, name: str) -> bool:
        """Whether its chain has an input or a step of that name."""
        return name in self.outputs

    @property
    def middles(self) -> Mapping[str, float]:
        """Every input at its middle."""
        return {entry.name: entry.mid for entry in self.inputs}


@frozen
class FigureSpec:
    """A public figure: the step that gives it, its fixed unit, the factor from SI to that unit, and
    whether it is of the char, of which nothing is said where a lot is to be kept out.
    """

    output: str
    unit: str
    factor: float
    of_char: bool = False


LOT_FIGURES: dict[str, FigureSpec] = {
    "moisture": FigureSpec("moisture", "%", 100),
    "moisture_dry": FigureSpec("moisture_dry", "%", 100),
    "density": FigureSpec("density", "kg/m^3", 1),
    "dry_mass": FigureSpec("dry_mass", "kg", 1),
    "char_yield": FigureSpec("char_yield", "%", 100, of_char=True),
    "char_mass": FigureSpec("char_mass", "kg", 1, of_char=True),
    "char_volume": FigureSpec("char_volume", "L", 1000, of_char=True),
    "char_carbon": FigureSpec("char_carbon", "kg", 1, of_char=True),
    "water_to_lose": FigureSpec("water_to_lose", "L", 1),
    "water_heat": FigureSpec("water_heat", "%", 100),
}


ADDED = ("dry_mass", "char_mass", "char_volume", "char_carbon")
"""Figures that add up over lots."""


@record
class Builder:
    """Collects inputs and steps while a lot is bound."""

    lot: Lot
    name: str
    evidence: Evidence
    row: Material
    tables: Tables
    path: str
    signature: str
    who: str
    steps: list[Step] = field(default_factory=list)
    inputs: dict[str, Input] = field(default_factory=dict)
    notes: list[Message] = field(default_factory=list)
    made: set[str] = field(default_factory=set)
    solid_density: bool = False

    @property
    def row_id(self) -> str:
        """The full name of the material's row."""
        return self.evidence.material

    @property
    def tools(self) -> Instruments:
        """How far what a person measures lies from the truth."""
        return self.tables.method("instruments", Instruments)[1]

    def step(
        self, output: str, function: Callable[..., Any], *inputs: str, scale: Scale = "log"
    ) -> str:
        if output not in self.made:
            self.steps.append(Step(output, function, inputs, scale))
            self.made.add(output)
        return output

    def add(self, entry: Input) -> str:
        self.inputs[entry.name] = entry
        return entry.name

    def cell(
        self,
        name: str,
        kind: str,
        row_id: str,
        path: tuple[str | int, ...],
        key: Key | None = None,
        exact: bool = False,
    ) -> str:
        """An input that is a cell of a table; its doubt is shared with every lot that uses the same
        cell. A name that the chain has already stays what it is.
        """
        if name not in self.inputs:
            self.add(cell_input(self.tables, name, kind, row_id, path, key, exact))
        return name

    def given(
        self,
        name: str,
        stated: Measured,
        field_name: str,
        scale: Scale = "log",
        error: float = 0.0,
        key: Key | None = None,
    ) -> str:
        """An input that the user gave: with their own range, or with a relative error of
        measuring.
        """
        own = lot_key(self.signature, field_name)
        origin = self.stated(field_name, stated.text)
        return self.add(
            stated_input(name, stated, key or own, origin, scale=scale, error=error, range_key=own)
        )

    def amount(
        self, name: str, stated: Measured, field_name: str, error: float, key: Key | None = None
    ) -> str:
        """An amount that the user gave: a range of it is a guess, in part that of the person and
        shared by the heap, in part that of this lot.
        """
        return self.add(
            stated_input(
                name,
                stated,
                key or lot_key(self.signature, field_name),
                self.stated(field_name, stated.text),
                error=error,
                range_key=stated_key(f"{self.who}:{field_name}"),
                shared=self.tools.stated_shared.mid,
                amount=True,
            )
        )

    def stated(self, field_name: str, text: str) -> Origin:
        """The origin of what stands in a field of the lot."""
        return Origin("field", f"{field_name}: {text}", field=f"{self.path}.{field_name}")

    def known(
        self, name: str, value: float, text: str, unit: str = "1", kind: str = "field"
    ) -> str:
        """An input without doubt. A name that the chain has already stays what it is."""
        if name not in self.inputs:
            origin = Origin("assumption" if kind == "assumption" else "field", text)
            self.add(exact_input(name, value, origin, unit))
        return name

    def counted(self, name: str, value: float, text: str) -> str:
        """How many there are: an amount without doubt."""
        return self.add(exact_input(name, value, Origin("field", text), amount=True))

    def refuse(
        self, code: str, what: str, expected: str, field_name: str, nearest: Iterable[str] = ()
    ) -> InputError:
        return InputError(
            [
                Problem(
                    code,
                    what,
                    expected,
                    f"{self.path}.{field_name}" if field_name else self.path,
                    nearest=tuple(nearest),
                )
            ]
        )


_APART = ("name", "remarks", "dismiss", "mass", "volume", "containers", "pieces", "stack")


def signature(lot: Lot) -> str:
    """What a lot says, without its amount and name, as a short text: lots that say the same share
    their doubt.

    Built from SI values, so that the unit in which something was written does not matter.
    """
    parts = {
        name: _plain(getattr(lot, name)) for name in type(lot).model_fields if name not in _APART
    }
    if lot.pieces is not None:
        parts["pieces"] = {k: v for k, v in _plain(lot.pieces).items() if k != "count"}
    if lot.containers is not None:
        parts["containers"] = lot.containers.of.casefold()
    if lot.stack is not None:
        parts["stack"] = lot.stack.shape
    parts["way"] = next(
        way
        for way in ("mass", "volume", "containers", "pieces", "stack")
        if getattr(lot, way) is not None
    )
    return hashlib.sha256(repr(sorted(parts.items())).encode()).hexdigest()[:12]


def _plain(value: Any) -> Any:
    if isinstance(value, Measured):
        # a moisture counts as what it says, whichever basis it is written on
        return tuple(float(f"{as_wet(v, value.basis):.9g}") for v in value.values)
    if isinstance(value, BaseModel):
        return {name: _plain(getattr(value, name)) for name in type(value).model_fields}
    if isinstance(value, tuple):
        return (
            sorted(_plain(v) for v in value)
            if all(isinstance(v, str) for v in value)
            else [_plain(v) for v in value]
        )
    return value.casefold() if isinstance(value, str) else value


def lot_marks(heap: Heap) -> list[str]:
    """What tells the lots of a heap apart where they state ranges of their amounts: the name, and
    without one what the lot says and its number among its equals.
    """
    out: list[str] = []
    count: dict[str, int] = {}
    for lot in heap.lots:
        if lot.name is not None:
            out.append(lot.name.casefold())
            continue
        says = signature(lot)
        count[says] = count.get(says, 0) + 1
        out.append(f"{says}/{count[says]}")
    return out
