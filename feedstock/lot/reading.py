"""A material that no row goes by is read as plant, form and state, where its words allow it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from ..model.inputs.lot import Lot
from ..model.inputs.moisture import Moisture
from ..quantities.cell import Cell
from ..quantities.fields import Measured
from ..tables.names.composition import ReadAs, Reading, read_material
from ..tables.rows.material import Material
from ..tables.rows.methods.vocabulary import FeedForm, FeedForms
from ..tables.tables import Tables
from ..words import Message, Quantity
from .packing import packed_thickness, packing_names


@dataclass(frozen=True, slots=True)
class ReadLot:
    """A lot as it was understood: fields that the name sets and the person left open are filled in.

    `form` and `history_needed` are those of the words or, with `by_measures`, of a width and a
    thickness; None and False where the row's own stand.
    """

    lot: Lot
    form: str | None = None
    history_needed: bool = False
    read_as: Message | None = None
    by_measures: bool = False

    @property
    def notes(self) -> tuple[Message, ...]:
        """How it was read, where that is not as it was written."""
        sawn = (Message("lot.sawn-by-measures"),) if self.by_measures else ()
        return sawn if self.read_as is None else (self.read_as, *sawn)


def read_lot(lot: Lot, tables: Tables) -> ReadLot:
    """The lot as it is; or, where no row goes by its material, as the words of that are read.

    What is not understood stays as it was written, so that the look-up of names refuses it.
    """
    if tables.index("materials").find(lot.material):
        return ReadLot(lot)
    reading = _reading(lot.material, tables)
    if reading is None:
        return ReadLot(lot)
    row, told = tables.material(reading.material), reading.read_as
    filled: dict[str, object] = {"material": reading.material}
    if lot.packing is None and lot.mass is None and lot.pieces is None:
        filled["packing"] = _packing(reading, row, tables)
    if lot.thickness is not None or lot.pieces is not None:
        # what was measured stands; the usual thickness of the form was not taken
        told = replace(told, thickness=None)
    elif reading.thickness is not None:
        packed = packed_thickness(lot.model_copy(update=filled), row, tables)
        if packed is None or packed[0].mid >= reading.thickness.mid:
            filled["thickness"] = _stated(reading.thickness)
        else:
            told = replace(told, thickness=None)
    if reading.decay is not None and lot.decay is None:
        filled["decay"] = reading.decay
    if reading.condition in row.moisture and lot.moisture is None:
        filled["moisture"] = Moisture(condition=reading.condition)
    needed = reading.history == "needed"
    return ReadLot(lot.model_copy(update=filled), reading.form, needed, _told(told))


def _packing(reading: Reading, row: Material, tables: Tables) -> str | None:
    """How the form lies, where the tables know it of the material."""
    solid = row.basic_density is not None and packing_names(tables).find(reading.packing or "")
    return reading.packing if reading.packing in row.bulk_density or solid else None


@lru_cache(maxsize=4096)
def _reading(material: str, tables: Tables) -> Reading | None:
    found = read_material(tables, material)
    return found if isinstance(found, Reading) else None


def _stated(cell: Cell) -> Measured:
    mid, low, high = cell.text
    return Measured(f"{low} to {high}, likely {mid}", cell.dimension, cell.mid, cell.low, cell.high)


def _told(read_as: ReadAs) -> Message:
    """`oak, branches, about 30 mm; dead`."""
    values: dict[str, object] = {"forms": read_as.forms, "states": read_as.states}
    if read_as.thickness is not None and read_as.forms:
        values["about"] = Quantity(1000 * read_as.thickness.mid, "mm")
    return Message("lot.read-as", material=read_as.material, **values)


def with_form(row: Material, form: str | None, tables: Tables) -> Material:
    """The row with another form, and what that means."""
    if form is None or form == row.form:
        return row
    found = row.model_copy(update={"form": form})
    found.means_form(_forms(tables).get(form, FeedForm()))
    return found


def form_by_measures(read: ReadLot, row: Material, tables: Tables) -> ReadLot:
    """The lot as its measures have it: wood that is given by a width and a thickness was sawn,
    whatever it is called, and what was sawn needs its history.
    """
    pieces = read.lot.pieces
    if pieces is None or pieces.thickness is None or not row.woody:
        return read
    forms = _forms(tables)
    if forms.get(read.form or row.form or "", FeedForm()).board:
        return replace(read, history_needed=True)
    sawn = next((form for form, means in forms.items() if means.rectangular), None)
    if sawn is None:
        return replace(read, history_needed=True)
    return replace(read, form=sawn, history_needed=True, by_measures=True)


@lru_cache(maxsize=32)
def _forms(tables: Tables) -> Mapping[str, FeedForm]:
    methods = tables.rows["methods"].values()
    return {k: v for row in methods if isinstance(row, FeedForms) for k, v in row.of.items()}
