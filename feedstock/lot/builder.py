"""Collects the inputs and steps of a lot while it is bound."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel

from ..errors import InputError, Problem
from ..model.experience import Learned
from ..model.inputs.lot import Lot
from ..quantities.basis import as_wet
from ..quantities.cell import Cell, Scale
from ..quantities.fields import Measured
from ..tables.rows.material import Material
from ..tables.rows.methods.amount import Instruments
from ..tables.tables import Tables
from ..uncertainty.graph import Chain, Step
from ..uncertainty.inputs import UNIT_OF, Input, Origin, with_error


@dataclass(slots=True)
class Bound:
    """A lot bound to its row: the chain, its inputs, which figures it can give, and what was
    assumed on the way.
    """

    chain: Chain
    inputs: tuple[Input, ...]
    figures: tuple[str, ...]
    thickness: float
    fineness: str
    moisture_known: str
    notes: tuple[str, ...]
    before: Bound | None = None
    rate: Learned | None = None


@dataclass(slots=True)
class Builder:
    """Collects inputs and steps while a lot is bound."""

    lot: Lot
    full: str
    row: Material
    tables: Tables
    path: str
    signature: str
    signs: tuple[str, ...] = ()
    steps: list[Step] = field(default_factory=list)
    inputs: dict[str, Input] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    @property
    def tools(self) -> Instruments:
        """How far what a person measures lies from the truth."""
        return self.tables.method("instruments", Instruments)[1]

    def step(
        self, output: str, function: Callable[..., Any], *inputs: str, scale: Scale = "log"
    ) -> str:
        self.steps.append(Step(output, function, inputs, scale))
        return output

    def add(self, each: Input) -> str:
        self.inputs[each.name] = each
        return each.name

    def cell(
        self,
        name: str,
        cell: Cell,
        kind: str,
        full: str,
        path: tuple[str | int, ...],
        key: str = "",
        certain: bool = False,
    ) -> str:
        """An input that is a cell of a table; its doubt is shared with every lot that uses the same
        cell.
        """
        owner = self.tables.where(kind, full, path).row or full
        low, mid, high = cell.low, cell.mid, cell.high
        if cell.dimension == "moisture" and cell.basis == "dry":
            low, mid, high = (v / (1 + v) for v in (low, mid, high))
        if certain:
            low = high = mid
        origin = self.tables.origin(kind, full, path, cell)
        label = "/".join(str(p) for p in path)
        return self.add(
            Input(
                name,
                low,
                mid,
                high,
                cell.scale,
                key or f"row:{owner.replace(':', '/', 1)}/{label}",
                origin,
                UNIT_OF.get(cell.dimension, "1"),
            )
        )

    def given(
        self,
        name: str,
        said: Measured,
        field_name: str,
        scale: Scale = "log",
        error: float = 0.0,
        key: str = "",
        origin: str = "",
    ) -> str:
        """An input that the user gave: with their own range, or with a relative error of
        measuring.
        """
        if said.low is not None and said.high is not None:
            low, high, key = said.low, said.high, f"lot:{self.signature}:{field_name}"
        else:
            low, high = with_error(said.mid, error, scale)
            key = key or f"lot:{self.signature}:{field_name}"
        return self.add(
            Input(
                name,
                low,
                said.mid,
                high,
                scale,
                key,
                Origin(
                    "field",
                    origin or f"{field_name}: {said.text}",
                    field=f"{self.path}.{field_name}",
                ),
                UNIT_OF.get(said.dimension, "1"),
            )
        )

    def known(
        self, name: str, value: float, text: str, unit: str = "1", kind: str = "field"
    ) -> str:
        """An input without doubt."""
        origin = Origin("assumption" if kind == "assumption" else "field", text)
        return self.add(Input(name, value, value, value, "linear", f"exact:{name}", origin, unit))

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


def signature(lot: Lot) -> str:
    """What a lot says, without its amount and name, as a short text: lots that say the same share
    their doubt.

    Built from SI values, so that the unit in which something was written does not matter.
    """
    parts = {
        name: _plain(getattr(lot, name))
        for name in type(lot).model_fields
        if name not in ("name", "remarks", "mass", "volume", "containers", "pieces", "stack")
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
