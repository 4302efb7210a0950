"""Builds the model of a lot: binds it, its row and the methods in use to one chain."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from dataclasses import replace
from functools import cached_property
from threading import Lock

from ..model.experience import Experience
from ..model.inputs.burn import Burn
from ..model.inputs.lot import Lot
from ..physics import elements
from ..quantities.frozen import frozen
from ..tables.caches import cleared_with_tables
from ..tables.rows.material import Material
from ..tables.tables import Tables
from ..uncertainty.graph import run, upstream
from ..uncertainty.propagate import forget_kept
from .amount import bind_amount, check_amount, container_of, state_amount
from .char import bind_char
from .char_through import bind_char_through
from .drying import lies_to_dry
from .evidence import Evidence, evidence_of
from .experience import with_experience
from .model import LOT_FIGURES, Builder, LotModel, signature
from .moisture import bind_moisture, bind_water, check_ceiling
from .wood import bind_density, bind_volumes, fineness_of, thickness_of
from .words import (
    NO_WORDS,
    HeapTexts,
    ReadLot,
    form_by_measures,
    hits_in,
    read_lot,
    with_form,
    words_of_lot,
    written_material,
)


@frozen
class Setting:
    """What holds for every lot of a heap while it is bound; compared by values, and hashed once."""

    tables: Tables
    burner_row: str
    burn: Burn | None
    experience: Experience | None = None

    @cached_property
    def _hash(self) -> int:
        return hash((self.tables, self.burner_row, self.burn, self.experience))

    def __hash__(self) -> int:
        return self._hash


def build_lot_model(
    lot: Lot,
    setting: Setting,
    path: str,
    name: str = "",
    mark: str = "",
    fresh: bool = False,
    heap: HeapTexts | None = None,
) -> LotModel:
    """Bind a lot to its material's row; with an experience its char is corrected by what own
    batches taught. `mark` tells it from the other lots of a heap where it states a range of its
    amount; `heap` is what the heap says of all of them.

    A lot that says the same as one before, but for its name and how much there is of it, is that
    lot with another amount; with `fresh` it is bound anew, so that every origin is its own. Raises
    UnknownName for names that are in no table, InputError where the tables or the lot lack what a
    figure needs.
    """
    tables, called = setting.tables, name or lot.name or lot.material
    read, evidence, row = _understood(lot, setting, path)
    material, lot = written_material(lot.material, tables), read.lot
    says = signature(lot)
    b = Builder(lot, called, evidence, row, tables, path, says, mark or says)
    check_amount(b)
    kind = (says, evidence, setting)
    model_of_kind = None if fresh else _KEPT.get(kind)
    if model_of_kind is None:
        model = _bound(b, setting.burner_row, setting.burn)
        _keep(kind, model)
    else:
        model = _with_amount(model_of_kind, b)
    if read.notes:
        model = replace(model, read_as=read.read_as, notes=(*read.notes, *model.notes))
    if (
        lot.name
        or lot.remarks
        or lot.dismiss
        or heap
        or hits_in(material, "material", tables, "any")
    ):
        words = words_of_lot(lot, material, evidence, heap, tables, path)
        model = replace(model, words=words) if words != NO_WORDS else model
    if setting.experience is None:
        return model
    return with_experience(model, tables, setting.burner_row, setting.experience)


def _understood(lot: Lot, setting: Setting, path: str) -> tuple[ReadLot, Evidence, Material]:
    """A lot as its words and its measures are read, with its evidence and its row under the form
    that they give it.
    """
    tables = setting.tables
    read = read_lot(lot, tables)
    evidence = evidence_of(read.lot, setting.burn, tables, path)
    row = tables.material(evidence.material)
    read = form_by_measures(read, row, tables)
    form = evidence.form if read.form is None else read.form
    needed = evidence.history_needed or read.history_needed
    if (form, needed) != (evidence.form, evidence.history_needed):
        evidence = replace(evidence, form=form, history_needed=needed)
    return read, evidence, with_form(row, read.form, tables)


_MOST_KEPT = 2_000
_KEPT: OrderedDict[Hashable, LotModel] = OrderedDict()
_LOCK = Lock()


def _forget() -> None:
    with _LOCK:
        _KEPT.clear()


# a kind of lot is told with its tables, and so are the ends that are kept of it
cleared_with_tables(_forget)
cleared_with_tables(forget_kept)


def _keep(kind: Hashable, model: LotModel) -> None:
    with _LOCK:
        _KEPT[kind] = model
        while len(_KEPT) > _MOST_KEPT:
            _KEPT.popitem(last=False)


def _with_amount(model: LotModel, b: Builder) -> LotModel:
    """A lot of a kind that is known: the amounts are its own, all else is the same."""
    state_amount(b)
    inputs = tuple(b.inputs.get(entry.name, entry) for entry in model.inputs)
    return replace(model, lot=b.lot, name=b.name, inputs=inputs)


def _bound(b: Builder, burner_row: str, burn: Burn | None) -> LotModel:
    thickness = thickness_of(b)
    moisture_known = bind_moisture(b, thickness)
    check_ceiling(b)
    amount = bind_amount(b)
    solid_density = bind_density(b)
    fineness = fineness_of(b, thickness)
    volume_base = bind_char(b, burner_row, burn, fineness, thickness.value)
    bind_water(b, burner_row)
    wood_volume, loose_volume = bind_volumes(b)
    oven_dry = bind_char_through(b, thickness, solid_density)
    char_yield = _middle_of(b, "char_yield")
    outputs = frozenset({step.output for step in b.steps} | set(b.inputs))
    return LotModel(
        lot=b.lot,
        name=b.name,
        evidence=b.evidence,
        row=b.row,
        signature=b.signature,
        route=amount.route,
        solid=amount.solid,
        in_bark=amount.in_bark,
        thickness=thickness,
        fineness=fineness,
        moisture_known=moisture_known,
        lies=lies_to_dry(b, thickness, container_of(b)),
        solid_density=solid_density,
        oven_dry_density=oven_dry,
        wood_volume=wood_volume,
        loose_volume=loose_volume,
        volume_base=volume_base,
        char_yield=char_yield,
        char_ash=elements.ash_of_char(b.inputs["ash"].mid, b.inputs["ash_kept"].mid, char_yield),
        chain=tuple(b.steps),
        inputs=tuple(b.inputs.values()),
        outputs=outputs,
        figures=tuple(item for item, about in LOT_FIGURES.items() if about.output in outputs),
        notes=tuple(b.notes),
    )


def _middle_of(b: Builder, output: str) -> float:
    """A step with everything at its middle."""
    needed = upstream(b.steps, output)
    middles = {entry.name: entry.mid for entry in b.inputs.values()}
    return float(run([step for step in b.steps if step.output in needed], middles)[output])
