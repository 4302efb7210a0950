"""What fires of such a kind gave off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from ..errors import UnknownName
from ..model.burn_plan import Remark
from ..quantities.cell import Cell
from ..quantities.data import trusted
from ..quantities.units import as_wet
from ..tables.citations import citation
from ..tables.rows.methods.planning import Emissions, Emitted
from ..tables.tables import Tables
from ..words import Message
from .fuel import Fuel


def emissions_of(firing: str, fuels: Sequence[Fuel], tables: Tables) -> Remark | None:
    """What fires of such a kind and moisture gave off, as a reason to burn dry."""
    try:
        row_id, row = tables.method("emissions", Emissions)
    except (KeyError, UnknownName):
        return None
    share = _mean_moisture(fuels)
    word: Literal["dry", "between", "wet", "closed"] = (
        "dry"
        if share < as_wet(row.dry_below.mid, row.dry_below.basis)
        else "wet"
        if share > as_wet(row.wet_above.mid, row.wet_above.basis)
        else "between"
    )
    if firing == "closed":
        word = "closed"
    amounts, wettest, set_name = (
        row.classes.get(word),
        row.classes.get("wet"),
        row_id.partition(":")[0],
    )
    if amounts is None:
        return None
    named = word not in ("closed", "wet") and wettest is not None and wettest.methane is not None
    text = Message(
        "emissions",
        closed=word == "closed",
        moisture=100 * share,
        amounts=_given_off(amounts),
        wet=100 * as_wet(row.wet_above.mid, row.wet_above.basis),
        methane=wettest.methane.mid if named and wettest and wettest.methane else None,
    )
    keys = dict.fromkeys(key for cell in _cells_of(amounts) for key in cell.source)
    return trusted(Remark)(
        text=text,
        sources=tuple(
            citation(tables, key, set_name, row.at, row.known) for key in keys or row.source
        ),
    )


def _cells_of(amounts: Emitted) -> list[Cell]:
    return [
        cell
        for cell in (amounts.carbon_monoxide, amounts.methane, amounts.particles)
        if cell is not None
    ]


def _given_off(amounts: Emitted) -> tuple[Message, ...]:
    named = (
        ("carbon monoxide", amounts.carbon_monoxide),
        ("methane", amounts.methane),
        ("particles", amounts.particles),
    )
    return tuple(
        Message("emissions.between", what=label, low=max(cell.low, 0.0), high=cell.high)
        if cell.low < cell.high
        else Message("emissions.over", what=label, low=cell.mid)
        for label, cell in named
        if cell is not None
    )


def _mean_moisture(fuels: Sequence[Fuel]) -> float:
    whole = math.fsum(fuel.dry for fuel in fuels)
    return float(math.fsum(fuel.dry * fuel.figures["moisture"].mid for fuel in fuels) / whole)
