"""Organic carbon of the char, what of it is expected in the soil after a hundred years in two
published ways, and the carbon dioxide it stands for.
"""

from __future__ import annotations

from typing import Any

from ..errors import InputError, Problem
from ..model.appraisal import Appraisal
from ..model.char import Carbon
from ..physics import permanence as physics
from ..quantities.estimate import Estimate, bounded_estimate, exact_estimate, scaled_estimate
from ..quantities.fields import QuantityField
from ..quantities.units import Refused
from ..tables.inputs import cell_input
from ..tables.loading.load import load_tables
from ..tables.rows.burner import Burner
from ..tables.rows.methods.amount import Instruments
from ..tables.rows.methods.permanence import InventoryDefaults, Permanence
from ..tables.rows.methods.quality import CharQuality
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.formula import formula
from ..uncertainty.graph import Step
from ..uncertainty.inputs import Input, Origin, assumed_input, interval_input
from ..uncertainty.keys import row_key, soil_key
from ..uncertainty.sums import add
from ..words import Message, Quantity
from .composition import CharOf, chars_of, residual, uncleared
from .quality import row_sources


def carbon(
    appraisal: Appraisal, soil_temperature: Any = "10 to 15 degC", tables: Tables | None = None
) -> Carbon:
    """Carbon of the char of an appraisal (every lot that is not to be kept out) and what is
    expected to last.

    `soil_temperature` is the yearly mean of the bed, within the 5 to 25 degC of the table; outside
    it the nearest line is read. Both ways are shown with their intervals, since they differ. Raises
    InputError for a temperature that no soil has.
    """
    tables = tables if tables is not None else load_tables()
    soil = _soil(soil_temperature, tables)
    _, quality = tables.method("char-quality", CharQuality)
    full_i, inventory = tables.method("inventory-defaults", InventoryDefaults)
    full_p, lines = tables.method("permanence", Permanence)
    sums: dict[str, list[UncertainValue]] = {
        "char_carbon": [],
        "default_carbon": [],
        "default_left": [],
        "ratio_left": [],
    }
    notes: list[Message] = uncleared(appraisal)
    for char in chars_of(appraisal, tables):
        wanted = ["char_carbon"]
        wanted += _by_default(char, inventory, full_i, tables, notes)
        wanted += _by_ratio(char, lines, full_p, soil, tables, notes)
        for name, figure in char.figures(*wanted, "h_c").items():
            if name in sums:
                sums[name].append(figure)
    notes += _out_of_range(soil, lines)
    dioxide = physics.carbon_dioxide(1.0, quality.atomic.carbon.mid, quality.atomic.oxygen.mid)

    def kilograms(name: str, factor: float = 1.0) -> Estimate | None:
        return _kilograms(add(sums[name]), factor) if sums[name] else None

    sources = (*row_sources(inventory, tables, full_i), *row_sources(lines, tables, full_p))
    whole = kilograms("char_carbon") or exact_estimate(0.0, "kg")
    return Carbon(
        years=int(lines.years.mid),
        soil_temperature=scaled_estimate(soil.low, soil.mid, soil.high, "degC"),
        organic_carbon=whole,
        default_carbon=kilograms("default_carbon"),
        by_default=kilograms("default_left"),
        by_default_dioxide=kilograms("default_left", dioxide),
        by_ratio=kilograms("ratio_left"),
        by_ratio_dioxide=kilograms("ratio_left", dioxide),
        scope=_scope(appraisal, tables),
        notes=tuple(dict.fromkeys(notes)),
        sources=tuple(dict.fromkeys(sources)),
    )


def _out_of_range(soil: Input, lines: Permanence) -> list[Message]:
    """A remark where the soil is colder or warmer than any line of the table."""
    points = [line.soil.mid for line in lines.lines]
    if points[0] <= soil.mid <= points[-1]:
        return []
    low, high = (Quantity(point, "degC") for point in (points[0], points[-1]))
    return [Message("carbon.soil-range", low=low, high=high)]


def _scope(appraisal: Appraisal, tables: Tables) -> Message:
    """What the published ways were made for, by whether the fire is open."""
    burn = appraisal.inputs.burn
    name = burn.burner if burn else tables.defaults[1].burner
    air = tables.row("burners", tables.find("burners", name), Burner).air
    return Message("carbon.scope-open" if air == "open" else "carbon.scope-closed")


def _kilograms(figure: UncertainValue, factor: float) -> Estimate:
    return bounded_estimate(figure.ends, figure.mid, "kg", factor)


def _soil(stated_soil: Any, tables: Tables) -> Input:
    try:
        door = QuantityField(
            "temperature",
            minimum=-10,
            maximum=40,
            why="Write the yearly mean temperature of the soil, for instance 11 degC or 10 "
            "to 14 degC.",
        )
        stated = door.read(stated_soil)
        door.check(stated)
    except Refused as why:
        raise InputError([Problem(why.code, why.what, why.expected, "soil_temperature")]) from None
    error = tables.method("instruments", Instruments)[1].soil_temperature.mid
    low, high = (
        (stated.low, stated.high)
        if stated.low is not None and stated.high is not None
        else (stated.mid - error, stated.mid + error)
    )
    origin = Origin("field", f"soil_temperature: {stated.text}", field="soil_temperature")
    ends = (low, stated.mid, high)
    key = soil_key("temperature")
    return interval_input("soil_temperature", ends, "linear", key, origin, "degC")


def _cell(char: CharOf, tables: Tables, row_id: str, name: str, *path: str | int) -> str:
    char.inputs.append(cell_input(tables, name, "methods", row_id, path))
    return name


def _by_default(
    char: CharOf, inventory: InventoryDefaults, row_id: str, tables: Tables, notes: list[Message]
) -> list[str]:
    """Equation 4Ap.1 with the default carbon of the feed class and the default permanence of the
    temperature band.
    """
    key = char.row.partition(":")[2]
    group = inventory.materials.get(key) or inventory.groups.get(char.class_)
    band = physics.band_of(char.temperature, [item.above.mid for item in inventory.permanence])
    if group is None or band is None:
        least = Quantity(min(item.above.mid for item in inventory.permanence), "degC")
        notes.append(
            Message("carbon.no-class", lot=char.name)
            if group is None
            else Message("carbon.too-cold", lot=char.name, least=least)
        )
        return []
    _cell(
        char,
        tables,
        row_id,
        "default_share",
        "carbon",
        group,
        "pyrolysis",
    )
    _cell(
        char,
        tables,
        row_id,
        "default_left_share",
        "permanence",
        band,
        "left",
    )
    char.inputs.append(
        assumed_input("all_of_it", 1.0, "carbon before any loss"),
    )
    char.steps += [
        Step("default_carbon", physics.kept_carbon, ("char_mass", "default_share", "all_of_it")),
        Step(
            "default_left",
            physics.kept_carbon,
            ("char_mass", "default_share", "default_left_share"),
        ),
    ]
    return ["default_carbon", "default_left"]


def _by_ratio(
    char: CharOf, lines: Permanence, row_id: str, soil: Input, tables: Tables, notes: list[Message]
) -> list[str]:
    """The line F = c + m H/C of the soil's temperature, with the scatter of the incubations around
    it.
    """
    ratio = char.figures("h_c")["h_c"].mid
    if not physics.applies(ratio, lines.not_above.mid):
        most = lines.not_above.mid
        notes.append(Message("carbon.no-ratio", lot=char.name, ratio=float(ratio), most=most))
        return []
    char.inputs.append(soil)
    points = [line.soil.mid for line in lines.lines]
    for name in ("intercept", "slope"):
        values = [getattr(line, name).mid for line in lines.lines]

        def read(at: Any, points: list[float] = points, values: list[float] = values) -> Any:
            return physics.between(at, points, values)

        read.formula = physics.between.formula  # type: ignore[attr-defined]
        char.steps.append(Step(f"line_{name}", read, ("soil_temperature",), "linear"))
    sd = physics.between(soil.mid, points, [line.residual.mid for line in lines.lines])
    char.inputs.append(
        residual(
            "line_error",
            float(sd),
            row_key(row_id, ("lines", "residual")),
            tables.origin("methods", row_id, ("lines", 0, "residual"), lines.lines[0].residual),
        )
    )
    char.steps += [
        Step(
            "left",
            physics.permanence,
            ("h_c", "line_intercept", "line_slope", "line_error"),
            "logit",
        ),
        Step("ratio_left", _left, ("char_carbon", "left")),
    ]
    return ["ratio_left"]


@formula("carbon left by the ratio line", "identity", carbon="kg", share="1", result="kg")
def _left(carbon: Any, share: Any) -> Any:
    return carbon * share
