"""How much bed the char treats at a dressing, and what to mind when it is crushed and spread."""

from __future__ import annotations

import re
from typing import Any

from ..char.quality import row_sources
from ..errors import InputError, Problem, shown
from ..model.char import Qualities
from ..model.compost import BedPlan
from ..physics import mixing
from ..quantities.fields import Measured, QuantityField
from ..quantities.units import Refused
from ..tables.inputs import cell_input
from ..tables.loading.load import load_tables
from ..tables.rows.methods.compost import Beds
from ..tables.tables import Tables
from ..uncertainty.formula import formula
from ..uncertainty.graph import Step
from ..uncertainty.inputs import Input, exact_input
from ..uncertainty.keys import compost_key
from ..uncertainty.propagate import propagate
from ..words import Message, Quantity
from .blend import shown_as
from .inputs import char_given, char_inputs, measured_input

_WAYS = "Write 0.6 kg/m^2, 3 L/m^2, or a share of the top soil such as 5 %."


@formula("dressing", "identity, m / A", mass="kg", area="m^2", result="kg/m^2")
def _per_area(mass: Any, area: Any) -> Any:
    return mass / area


def beds(
    char: Any,
    dressing: Any = None,
    *,
    depth: Any = None,
    quality: Qualities | None = None,
    high_ash: bool = False,
    tables: Tables | None = None,
) -> BedPlan:
    """The area that `char` (as in `blend`) treats.

    `dressing` is dry mass or litres per area, or a share of the volume of the top `depth` (a text
    such as 15 cm).

    Without it the usual yearly dressing of the tables is taken. With `quality`, or `high_ash`, what
    liming and salts ask for is said. Raises InputError for a dressing that is none of these.
    """
    tables = tables if tables is not None else load_tables()
    row_id, row = tables.method("beds", Beds)
    char_stated = char_given(char, tables)
    inputs, steps = char_inputs(char_stated, tables)
    text = _area(dressing, depth, row, row_id, tables, inputs, steps)
    steps.append(Step("per_area", _per_area, ("char_dry", "area")))
    figures = propagate(tuple(steps), inputs, ["char_dry", "area", "per_area"])
    per_area = shown_as(figures["per_area"], "kg/m^2", 1)
    ash = high_ash or (quality is not None and any(lot.high_ash for lot in quality.lots))
    over_year, over_all = (
        per_area.mid_value > row.yearly.high * (1 + 1e-9),
        per_area.mid_value > row.in_all_without_test.mid * (1 + 1e-9),
    )
    return BedPlan(
        char=shown_as(figures["char_dry"], "kg", 1),
        dressing=text,
        area=shown_as(figures["area"], "m^2", 1),
        dressing_mass=per_area,
        over_yearly=over_year,
        over_total=over_all,
        remarks=tuple(_remarks(row, ash, over_year, over_all)),
        sources=row_sources(row, tables, row_id),
    )


def _read_dressing(dressing: Any) -> Measured:
    """A dressing as it was said. Raises InputError with the ways to say it."""
    litres = (
        re.fullmatch(r"(.*\S)\s*/\s*m(?:\^2|2|²)\s*", dressing)
        if isinstance(dressing, str)
        else None
    )
    tries: list[tuple[str, Any]] = [
        ("area density", dressing),
        ("volume per area", dressing),
        ("share", dressing),
        *([("volume", litres.group(1))] if litres else []),
    ]
    stated, why = None, None
    for dimension, text in tries:
        try:
            door = QuantityField(dimension, above=0, below=1 if dimension == "share" else None)
            stated = door.read(text)
            door.check(stated)
            break
        except Refused as refused:
            stated, why = (
                None,
                refused
                if why is None or refused.code not in ("wrong-dimension", "unknown-unit")
                else why,
            )
    if stated is None:
        raise InputError(
            [
                Problem(
                    why.code if why is not None else "not-a-dressing",
                    why.what if why is not None else f"'{shown(str(dressing))}' is not a dressing",
                    _WAYS,
                    "dressing",
                )
            ]
        )
    return stated


def _area(
    dressing: Any,
    depth: Any,
    row: Beds,
    row_id: str,
    tables: Tables,
    inputs: list[Input],
    steps: list[Step],
) -> Message:
    """The step `area` and the words for the dressing.

    What a person states is taken as it is said.
    """
    if dressing is None:
        cell = row.yearly
        inputs.append(
            exact_input(
                "yearly", cell.mid, tables.origin("methods", row_id, ("yearly",), cell), "kg/m^2"
            )
        )
        steps.append(Step("area", mixing.area_by_mass, ("char_dry", "yearly")))
        return Message("dressing.yearly", dressing=Quantity(cell.mid, "kg/m^2"))
    stated = _read_dressing(dressing)
    inputs.append(measured_input("dressing", stated, "log", 0.0, compost_key("dressing")))
    if stated.dimension == "area density":
        steps.append(Step("area", mixing.area_by_mass, ("char_dry", "dressing")))
        return Message("dressing.mass", written=stated.text)
    if stated.dimension in ("volume", "volume per area"):
        steps.append(Step("area", mixing.area_by_volume, ("char_volume", "dressing")))
        return Message("dressing.volume", written=str(dressing).strip())
    inputs.append(_depth(depth, row_id, tables))
    steps.append(Step("area", mixing.area_by_share, ("char_volume", "dressing", "depth")))
    deep = Quantity(1000 * inputs[-1].mid, "mm")
    return Message("dressing.share", written=stated.text, depth=deep)


def _depth(depth: Any, row_id: str, tables: Tables) -> Input:
    if depth is None:
        return cell_input(tables, "depth", "methods", row_id, ("depth",))
    try:
        door = QuantityField(
            "length", above=0, maximum=2, why="Write a depth up to 2 m, for instance 15 cm."
        )
        stated: Measured = door.read(depth)
        door.check(stated)
    except Refused as why:
        raise InputError([Problem(why.code, why.what, why.expected, "depth")]) from None
    return measured_input("depth", stated, "log", 0.0, compost_key("depth"))


def _remarks(row: Beds, ash: bool, over_year: bool, over_all: bool) -> list[Message]:
    most = Quantity(row.in_all_without_test.mid, "kg/m^2")
    out = [
        Message("beds.crush"),
        Message("beds.charged"),
        Message("beds.acid"),
        Message("beds.most", most=most, ph=row.ph_most.mid),
    ]
    if ash:
        out.append(Message("beds.ash"))
    if over_all:
        out.append(Message("beds.over-all"))
    elif over_year:
        out.append(Message("beds.over-year", yearly=Quantity(row.yearly.high, "kg/m^2")))
    return out
