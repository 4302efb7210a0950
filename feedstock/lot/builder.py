"""Collects the inputs and steps of a lot while it is bound."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel

from ..errors import InputError, Problem
from ..model.inputs.heap import Heap
from ..model.inputs.lot import Lot
from ..quantities.cell import Scale
from ..quantities.fields import Measured
from ..quantities.units import as_wet
from ..tables.inputs import cell_input
from ..tables.rows.material import Material
from ..tables.rows.methods.amount import Instruments
from ..tables.tables import Tables
from ..uncertainty.graph import Step
from ..uncertainty.inputs import Input, Origin, exact_input, stated_input
from ..uncertainty.keys import Key, lot_key, stated_key
from ..words import Message
from .evidence import Evidence


@dataclass(slots=True)
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

    def add(self, each: Input) -> str:
        self.inputs[each.name] = each
        return each.name

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
