"""From what is said of moisture to the step `moisture`, wet basis; and the litres of water to lose,
with the share of the heat that boils what is there.
"""

from __future__ import annotations

import math

from ..errors import Problem, UnknownName, nearest_names, shown
from ..physics import density, heat, moisture
from ..quantities.fields import Measured
from ..quantities.units import as_dry, as_wet
from ..tables.caches import kept_of_tables
from ..tables.names.index import Index
from ..tables.rows.methods.amount import Instrument, Instruments
from ..tables.rows.methods.wood import Equilibrium, HeatCoefficients, WoodWater
from ..tables.tables import Tables
from ..uncertainty.inputs import Origin, error_input, interval_input
from ..uncertainty.keys import lot_key, meter_key, method_key
from ..words import Message
from .drying import RAINED_ON, bind_rained_on, is_rained_on
from .model import Builder, Thickness
from .wood import decay_factor


def bind_moisture(b: Builder, thickness: Thickness) -> str:
    """Inputs and steps that end in `moisture` (wet basis); says how it is known."""
    stated = b.lot.moisture
    if stated is None:
        _moisture_unknown(b)
        return "unknown"
    if stated.value is not None or stated.reading is not None:
        _moisture_stated(b, stated.value or stated.reading, stated.by)  # type: ignore[arg-type]
        return "stated" if stated.value is not None else "reading"
    if stated.wet is not None and stated.oven_dry is not None:
        b.given("sample_as_it_lay", stated.wet, "moisture.wet")
        b.given("sample_oven_dry", stated.oven_dry, "moisture.oven_dry")
        b.step(
            "moisture_weighed",
            moisture.wet_from_weighing,
            "sample_as_it_lay",
            "sample_oven_dry",
            scale="logit",
        )
        _instrument_error(b, "oven", 1 - stated.oven_dry.mid / stated.wet.mid)
        b.step("moisture", moisture.with_error, "moisture_weighed", "moisture_error", scale="logit")
        return "weighed"
    if stated.air is not None:
        _moisture_of_air(b)
        return "air"
    if is_rained_on(str(stated.condition), b.tables):
        bind_rained_on(b, thickness)
        return RAINED_ON
    _moisture_by_condition(b, str(stated.condition))
    return "condition"


def _moisture_stated(b: Builder, stated: Measured, by: str | None) -> None:
    if stated.low is not None and stated.high is not None:
        low, mid, high = (as_wet(v, stated.basis) for v in (stated.low, stated.mid, stated.high))
        b.add(
            interval_input(
                "moisture",
                (low, mid, high),
                "logit",
                lot_key(b.signature, "moisture"),
                Origin("field", f"moisture: {stated.text}", field=f"{b.path}.moisture"),
            )
        )
        return
    _moisture_read(b, stated, by)


def _moisture_read(b: Builder, stated: Measured, by: str | None) -> None:
    """A single value, with the error of the instrument that it was read with."""
    name, tool, row_id = instrument(b.tables, by or "unknown", f"{b.path}.moisture.by")
    reading = (
        stated.mid
        if stated.basis == tool.basis
        else as_dry(stated.mid)
        if tool.basis == "dry"
        else as_wet(stated.mid, "dry")
    )
    if by is not None and stated.basis != tool.basis:
        b.notes.append(
            Message(
                "lot.other-basis",
                tool=tool.names[0] if tool.names else name,
                shows=tool.basis,
                written=stated.text,
                basis=stated.basis,
            )
        )
    low_error, high_error = (
        tool.error.mid,
        tool.error_wet.mid if _wetter(reading, tool) else tool.error.mid,
    )
    most, least = b.tools.wettest_end.mid, b.tools.driest_part.mid * reading
    low, mid, high = (
        min(as_wet(v, tool.basis), most)
        for v in (max(reading - low_error, least), reading, reading + high_error)
    )
    cell = b.tables.origin("methods", row_id, ("moisture", name, "error"), tool.error)
    text = (
        f"moisture: {stated.text}, read by {tool.names[0] if tool.names else name} "
        f"(instrument error {100 * tool.error.mid:.2g} points {tool.basis} basis)"
    )
    b.add(
        interval_input(
            "moisture",
            (low, mid, high),
            "logit",
            meter_key(name),
            Origin(
                "field",
                text,
                field=f"{b.path}.moisture",
                sources=cell.sources,
                locator=cell.locator,
                known=cell.known,
            ),
        )
    )


def _instrument_error(b: Builder, name: str, reading: float) -> None:
    _, tool, row_id = instrument(b.tables, name, "")
    error = tool.error_wet.mid if _wetter(reading, tool) else tool.error.mid
    origin = b.tables.origin("methods", row_id, ("moisture", name, "error"), tool.error)
    b.add(error_input("moisture_error", error, meter_key(name), origin))


def _wetter(reading: float, tool: Instrument) -> bool:
    """Whether a reading is beyond what the instrument reads well; rounding of units must not decide
    it.
    """
    return reading > tool.wet_above.mid * (1 + 1e-9)


@kept_of_tables(64)
def _instruments(tables: Tables) -> Index:
    row = tables.method("instruments", Instruments)[1]
    return Index({f":{key}": item.names for key, item in row.moisture.items()})


def instrument(tables: Tables, name: str, path: str) -> tuple[str, Instrument, str]:
    """The key, the row and the full name of the table of a moisture instrument.

    Raises UnknownName.
    """
    row_id, row = tables.method("instruments", Instruments)
    paths = _instruments(tables).find(name)
    if len(paths) != 1:
        words = list(row.moisture)
        raise UnknownName(
            [
                Problem(
                    "unknown-instrument",
                    f"there is no instrument '{shown(name)}'",
                    f"Write one of {', '.join(words)}.",
                    path,
                    nearest=nearest_names(name, words),
                )
            ]
        )
    key = paths[0][1:]
    return key, row.moisture[key], row_id


def _moisture_of_air(b: Builder) -> None:
    air = b.lot.moisture.air  # type: ignore[union-attr]
    row_id, row = b.tables.method("equilibrium", Equilibrium)
    b.given("air_temperature", air.temperature, "moisture.air.temperature", "linear")  # type: ignore[union-attr]
    b.given("air_humidity", air.relative_humidity, "moisture.air.relative_humidity", "logit")  # type: ignore[union-attr]
    names = ("w0", "w1", "w2", "k0", "k1", "k2", "a0", "a1", "a2", "b0", "b1", "b2")
    for name in names:
        b.cell(name, "methods", row_id, ("coefficients", name), exact=True)
    b.step(
        "moisture_of_air",
        moisture.equilibrium_moisture,
        "air_temperature",
        "air_humidity",
        *names,
        scale="logit",
    )
    error = row.error
    b.add(
        error_input(
            "moisture_error",
            error.mid,
            method_key(row_id),
            b.tables.origin("methods", row_id, ("error",), error),
        )
    )
    b.step(
        "moisture_at_rest", moisture.with_error, "moisture_of_air", "moisture_error", scale="logit"
    )
    b.step("moisture", moisture.wet_basis, "moisture_at_rest", scale="logit")


def _moisture_by_condition(b: Builder, condition: str) -> None:
    conditions = b.row.moisture
    paths = Index({f":{key}": [] for key in conditions}).find(condition)
    if len(paths) != 1:
        words = [*conditions, *([RAINED_ON] if b.tables.has_method("drying") else [])]
        raise UnknownName(
            [
                Problem(
                    "unknown-condition",
                    f"the tables know no moisture of {b.lot.material} for '{shown(condition)}'",
                    f"Write one of {', '.join(words)}, or give a figure.",
                    f"{b.path}.moisture.condition",
                    nearest=nearest_names(condition, words),
                )
            ]
        )
    key = paths[0][1:]
    b.cell("moisture", "materials", b.row_id, ("moisture", key))


def _moisture_unknown(b: Builder) -> None:
    """The widest interval of the row: the lowest low to the highest high, its middle on the logit
    scale.
    """
    cells = b.row.moisture
    if not cells:
        raise b.refuse(
            "no-moisture",
            f"the tables hold no moisture of {b.lot.material}, and none was given",
            "Write moisture: 22 % wet, or another way.",
            "moisture",
        )
    ends = [
        (as_wet(c.low, c.basis), as_wet(c.mid, c.basis), as_wet(c.high, c.basis))
        for c in cells.values()
    ]
    low, high = min(e[0] for e in ends), max(e[2] for e in ends)
    middles = sorted(e[1] for e in ends)
    mid = 1 / (1 + math.exp(-math.fsum(math.log(m / (1 - m)) for m in middles) / len(middles)))
    text = (
        f"no moisture given: the whole range of {', '.join(cells)} of "
        f"{b.row.display(b.lot.material)}"
    )
    b.add(
        interval_input(
            "moisture",
            (low, mid, high),
            "logit",
            lot_key(b.signature, "moisture"),
            Origin("assumption", text, row=b.row_id, field="moisture"),
        )
    )


def check_ceiling(b: Builder) -> None:
    """A moisture that the wood cannot hold is a slip of the pen, not a wet lot; of a stated range
    the wet end counts.
    """
    stated = b.lot.moisture
    if stated is None:
        return
    cell, read = b.row.basic_density, stated.value or stated.reading
    if read is not None:
        text, wet = read.text, as_wet(read.values[-1], read.basis)
    elif stated.wet is not None and stated.oven_dry is not None:
        text, wet = (
            f"{stated.wet.text} before, {stated.oven_dry.text} oven-dry",
            1 - stated.oven_dry.mid / stated.wet.mid,
        )
    else:
        return
    if wet > b.tools.wettest.mid:
        raise b.refuse(
            "over-ceiling",
            f"'{text}' leaves next to no dry matter",
            f"Write a moisture below {100 * b.tools.wettest.mid:g} % wet.",
            "moisture",
        )
    if cell is None or not b.row.solid:
        return
    _, row = b.tables.method("wood-water", WoodWater)
    lightest = cell.low / density.WATER * (decay_factor(b)[0] if b.lot.decay else 1.0)
    ceiling = moisture.highest_moisture(lightest, row.cell_wall.mid)
    if as_dry(wet) > (1 + row.leeway.mid) * ceiling:
        limit = 100 * as_wet(ceiling, "dry")
        raise b.refuse(
            "over-ceiling",
            f"'{text}' is more water than {b.lot.material} can hold (about "
            f"{100 * ceiling:.0f} % dry, {limit:.0f} % wet)",
            "Look at the basis: meters read % dry; or at the material, or give decay: "
            "for rotted wood.",
            "moisture",
        )


def bind_water(b: Builder, burner_row: str) -> None:
    """Steps that end in `water_to_lose` and, where the row has the elements for it,
    `water_heat`.
    """
    b.step("moisture_dry", moisture.dry_basis, "moisture", scale="log")
    b.cell(
        "working_moisture",
        "burners",
        burner_row,
        ("moisture_ready",),
        exact=True,
    )
    b.step("water_to_lose", moisture.water_to_lose, "dry_mass", "moisture_dry", "working_moisture")
    row = b.row
    if (
        row.hydrogen is None
        or row.oxygen is None
        or row.nitrogen is None
        or (row.heating_value is None and row.carbon is None)
    ):
        return
    row_id, coefficients = b.tables.method("heating", HeatCoefficients)
    for name in ("hydrogen", "oxygen", "nitrogen"):
        b.cell(name, "materials", b.row_id, (name,), exact=True)
    _gross_heat(b, row_id, coefficients)
    for name in ("net_hydrogen", "net_oxygen", "water"):
        b.cell(f"heat_{name}", "methods", row_id, (name,), exact=True)
    b.step(
        "net_heat",
        heat.net_heating_value,
        "gross_heat",
        "hydrogen",
        "oxygen",
        "nitrogen",
        "heat_net_hydrogen",
        "heat_net_oxygen",
    )
    b.step("water_heat", heat.boiling_share, "net_heat", "moisture", "heat_water")


def _gross_heat(b: Builder, row_id: str, coefficients: HeatCoefficients) -> None:
    row = b.row
    if row.heating_value is not None:
        b.cell("gross_heat", "materials", b.row_id, ("heating_value",))
        return
    assert row.carbon is not None
    b.cell("carbon", "materials", b.row_id, ("carbon",))
    if row.sulphur is not None:
        b.cell("sulphur", "materials", b.row_id, ("sulphur",), exact=True)
    else:
        b.known("sulphur", 0.0, "no sulphur in the tables", kind="assumption")
    names = ("carbon", "hydrogen", "oxygen", "nitrogen", "sulphur", "ash")
    for name in names:
        b.cell(f"heat_{name}", "methods", row_id, (name,), exact=True)
    b.step("gross_heat", heat.gross_heating_value, *names, *(f"heat_{name}" for name in names))
