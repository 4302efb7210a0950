"""How the words of a lot are understood: its material as plant, form and state, how it lies, the
danger words in its texts and those of its heap with what answers them, and doubtful words for
units.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal, get_args

from pydantic import BaseModel

from ..errors import InputError, Problem, shown
from ..model.inputs.burn import Burn
from ..model.inputs.heap import Heap
from ..model.inputs.lot import Lot
from ..model.inputs.moisture import Moisture
from ..quantities.cell import Cell
from ..quantities.fields import Measured
from ..quantities.frozen import frozen
from ..tables.caches import kept_of_tables
from ..tables.names.compiled import language_of
from ..tables.names.composition import ReadAs, Reading, read_material
from ..tables.names.danger import KINDS, Hit, answer_to, is_dismissed, scan, unread
from ..tables.names.index import Index
from ..tables.names.meanings import Field, Nature
from ..tables.names.standing import is_danger_row
from ..tables.names.text import words_of
from ..tables.rows.material import Material
from ..tables.rows.methods.amount import Packing
from ..tables.rows.methods.vocabulary import FeedForm, FeedForms
from ..tables.tables import Tables
from ..words import Message, Quantity
from .evidence import Evidence

Where = Literal["material", "name", "remarks", "heap-name", "heap-remarks"]


@frozen
class HeapTexts:
    """What the heap itself says of all its lots."""

    name: str = ""
    remarks: str = ""
    dismiss: tuple[str, ...] = ()

    @property
    def texts(self) -> tuple[tuple[Where, Field, str], ...]:
        return ("heap-name", "name", self.name), ("heap-remarks", "remarks", self.remarks)


@frozen
class Heard:
    """A danger word where it stands, save one that only belongs to the name of the lot's material.

    `settled` says that the lot's own material, origin or signs speak of it already, `dismissed`
    that a person has said that it does not mean the lot.
    """

    hit: Hit
    where: Where
    settled: bool = False
    dismissed: bool = False


@frozen
class WordsOfLot:
    """The danger words of a lot, and the words of its name that nothing knows."""

    heard: tuple[Heard, ...] = ()
    unread: tuple[str, ...] = ()


NO_WORDS = WordsOfLot()


@kept_of_tables(4096)
def hits_in(text: str, field: Field, tables: Tables, nature: Nature) -> tuple[Hit, ...]:
    """The danger words of a text, each once."""
    if not text:
        return ()
    hits = {
        (hit.phrase.casefold(), hit.danger): hit for hit in scan(tables, text, field, nature=nature)
    }
    return tuple(hits.values())


@kept_of_tables(4096)
def unread_in(name: str, tables: Tables) -> tuple[str, ...]:
    """The words of a name that nothing knows."""
    return unread(tables, name) if name else ()


@kept_of_tables(4096)
def nature_of(evidence: Evidence, tables: Tables) -> Nature:
    """Whether a sign says that the pieces are in their bark, or the lot is no wood at all."""
    first, barked = tables.sets[0].name, language_of(tables).barked
    if any(sign in {f"{first}:{key}" for key in barked} for sign in evidence.signs):
        return "in bark"
    row = tables.material(evidence.material)
    if not row.woody and not is_danger_row(row):
        return "soft"
    grown = row.form == "brush" and not row.carries and row.history is None
    return "brush" if grown else "any"


@kept_of_tables(4096)
def _is_grown(material: str, tables: Tables) -> bool:
    """Whether a material is called by a plant and a form that grows so: `oak branches`."""
    reading = _reading(material, tables)
    if reading is None or not (reading.grown and reading.read_as.plants):
        return False
    row = tables.material(reading.material)
    return not row.carries and reading.history is None


def heap_texts(heap: Heap, tables: Tables) -> HeapTexts:
    """What a heap says of all its lots.

    Raises InputError for a dismissed word that does not stand in it.
    """
    texts = HeapTexts(heap.name or "", heap.remarks or "", heap.dismiss)
    _check_dismissed(texts.dismiss, texts.texts, tables, "")
    return texts


def written_material(material: str, tables: Tables) -> str:
    """A material as it is heard: of the full name of a row the name of its set is left out."""
    _, colon, key = material.partition(":")
    return key if colon and tables.index("materials").find(material) else material


def words_of_lot(
    lot: Lot, material: str, evidence: Evidence, heap: HeapTexts | None, tables: Tables, path: str
) -> WordsOfLot:
    """What stands in the texts of a lot; `material` is its material as it was written.

    Raises InputError for a dismissed word that does not stand in name or remarks.
    """
    own: tuple[tuple[Where, Field, str], ...] = (
        ("name", "name", lot.name or ""),
        ("remarks", "remarks", lot.remarks or ""),
    )
    _check_dismissed(lot.dismiss, own, tables, path, material)
    nature = nature_of(evidence, tables)
    if nature == "any" and _is_grown(material, tables):
        nature = "in bark"
    heard = [
        *_heard((("material", "material", material),), (), nature, evidence, tables),
        *_heard(own, lot.dismiss, nature, evidence, tables),
    ]
    if heap is not None:
        heard += _heard(heap.texts, heap.dismiss, nature, evidence, tables)
    return WordsOfLot(tuple(heard), unread_in(lot.name or "", tables))


def _heard(
    texts: Iterable[tuple[Where, Field, str]],
    dismissed: Sequence[str],
    nature: Nature,
    evidence: Evidence,
    tables: Tables,
) -> Iterator[Heard]:
    for where, field, text in texts:
        for hit in hits_in(text, field, tables, nature):
            own = ("materials", evidence.material)
            of_material = _speaks(hit, frozenset({own}), tables)
            if of_material and (hit.kind, hit.row) != own:
                continue
            rows = {("signs", sign) for sign in evidence.signs} | {("origins", evidence.origin)}
            denied = any(is_dismissed(tables, hit, word) for word in dismissed)
            settled = of_material or _speaks(hit, frozenset(rows), tables)
            yield Heard(hit, where, settled, denied)


@kept_of_tables(4096)
def _speaks(hit: Hit, own: frozenset[tuple[str, str]], tables: Tables) -> bool:
    """Whether rows of a lot, by kind and full name, speak of a word: they are what it asks for, or
    it is a word of theirs; of a row that clears, the whole name.
    """
    answer = answer_to(tables, hit)
    if (hit.kind, hit.row) in own or (answer and (KINDS[answer[0]], answer[1]) in own):
        return True
    asked, clearing = words_of(hit.phrase), language_of(tables).clearing
    for kind, row_id in own:
        set_name, _, key = row_id.partition(":")
        clears = key in clearing or (kind == "signs" and set_name != tables.sets[0].name)
        for names in tables.spoken(kind, row_id).values():
            for name in names:
                words = words_of(name)
                if asked == words or (not clears and set(asked) <= set(words)):
                    return True
    return False


def _check_dismissed(
    dismissed: Sequence[str],
    texts: Iterable[tuple[Where, Field, str]],
    tables: Tables,
    path: str,
    material: str = "",
) -> None:
    """Raise InputError with every dismissed word that was not found: there are no lists in
    advance.
    """
    if not dismissed:
        return
    hits = [
        hit
        for _, field, text in texts
        for nature in get_args(Nature)
        for hit in hits_in(text, field, tables, nature)
    ]
    of_material = hits_in(material, "material", tables, "any")
    problems = []
    for index, word in enumerate(dismissed):
        if any(is_dismissed(tables, hit, word) for hit in hits):
            continue
        if any(is_dismissed(tables, hit, word) for hit in of_material):
            what = f"'{shown(word)}' stands in the material, which cannot be dismissed"
            remedy = "Write a material without that word, if it is not one."
        else:
            what = (
                f"'{shown(word)}' was not found in the name or the remarks as a word to ask about"
            )
            remedy = "Dismiss only a word that the appraisal asks about; take it away."
        where = f"{path}.dismiss[{index}]" if path else f"dismiss[{index}]"
        nearest = tuple(dict.fromkeys(hit.phrase for hit in hits))[:3]
        problems.append(Problem("not-to-dismiss", what, remedy, where, word, nearest=nearest))
    if problems:
        raise InputError(problems)


def unit_notes(heap: Heap, burn: Burn | None) -> list[Message]:
    """How doubtful words were read, wherever a text stands."""
    notes: list[Message] = []

    def look(value: object) -> None:
        if isinstance(value, Measured):
            if value.note:
                notes.append(Message("heap.read-as", note=value.note))
        elif isinstance(value, BaseModel):
            for name in type(value).model_fields:
                look(getattr(value, name))
        elif isinstance(value, tuple):
            for part in value:
                look(part)

    look(heap)
    if burn is not None:
        look(burn)
    return notes


@frozen
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
    row, read_as = tables.material(reading.material), reading.read_as
    filled: dict[str, object] = {"material": reading.material}
    if lot.packing is None and lot.mass is None and lot.pieces is None:
        filled["packing"] = _packing(reading, row, tables)
    if lot.thickness is not None or lot.pieces is not None:
        # what was measured stands; the usual thickness of the form was not taken
        read_as = replace(read_as, thickness=None)
    elif reading.thickness is not None:
        packed = packed_thickness(lot.model_copy(update=filled), row, tables)
        if packed is None or packed[0].mid >= reading.thickness.mid:
            filled["thickness"] = _stated(reading.thickness)
        else:
            read_as = replace(read_as, thickness=None)
    if reading.decay is not None and lot.decay is None:
        filled["decay"] = reading.decay
    if reading.condition in row.moisture and lot.moisture is None:
        filled["moisture"] = Moisture(condition=reading.condition)
    needed = reading.history == "needed"
    return ReadLot(lot.model_copy(update=filled), reading.form, needed, _reading_message(read_as))


def _packing(reading: Reading, row: Material, tables: Tables) -> str | None:
    """How the form lies, where the tables know it of the material."""
    solid = row.basic_density is not None and packing_names(tables).find(reading.packing or "")
    return reading.packing if reading.packing in row.bulk_density or solid else None


@kept_of_tables(4096)
def _reading(material: str, tables: Tables) -> Reading | None:
    reading = read_material(tables, material)
    return reading if isinstance(reading, Reading) else None


def _stated(cell: Cell) -> Measured:
    mid, low, high = cell.text
    return Measured(f"{low} to {high}, likely {mid}", cell.dimension, cell.mid, cell.low, cell.high)


def _reading_message(read_as: ReadAs) -> Message:
    """`oak, branches, about 30 mm; dead`."""
    forms = tuple(form for form in read_as.forms if form != read_as.material)
    values: dict[str, object] = {"forms": forms, "states": read_as.states}
    if read_as.thickness is not None and read_as.forms:
        about = 1000 * read_as.thickness.mid
        if about >= 1:  # what is thinner than a millimetre has none that can be told
            values["about"] = Quantity(about, "mm")
    return Message("lot.read-as", material=read_as.material, **values)


def with_form(row: Material, form: str | None, tables: Tables) -> Material:
    """The row with another form, and what that means."""
    if form is None or form == row.form:
        return row
    formed = row.model_copy(update={"form": form})
    formed.means_form(_forms(tables).get(form, FeedForm()))
    return formed


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


@kept_of_tables(32)
def _forms(tables: Tables) -> Mapping[str, FeedForm]:
    methods = tables.rows_of("methods", FeedForms)
    return {key: form for _, row in methods for key, form in row.of.items()}


@kept_of_tables(64)
def packing_names(tables: Tables) -> Index:
    """The ways of lying by their names."""
    row = tables.method("packing", Packing)[1]
    return Index({f":{key}": way.names for key, way in row.ways.items()})


def packed_thickness(lot: Lot, row: Material, tables: Tables) -> tuple[Cell, str, str] | None:
    """The thickness that the lot's packing stands for where it is thinner than that of the
    material, with its row and its way: a heap of brush is no heap of limbs.
    """
    if lot.packing is None or lot.mass is not None or lot.pieces is not None:
        return None
    if row.basic_density is None:
        return None
    paths = packing_names(tables).find(lot.packing)
    if len(paths) != 1:
        return None
    row_id, packing = tables.method("packing", Packing)
    key = paths[0][1:]
    cell = packing.ways[key].thickness
    if cell is None or (row.thickness is not None and row.thickness.mid <= cell.mid):
        return None
    return cell, row_id, key
