"""Binding a lot, its row and the methods in use to inputs and steps: the one description of how its figures come about.

Nothing is computed here. `bind` chooses the route (weighed, measured, counted), looks up every cell and returns a
`Bound`, which `figures` runs. Every input carries a key that says with which others its doubt is shared.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from pydantic import BaseModel

from .errors import InputError, Problem, UnknownName, nearest_names, shown
from .estimate import Measured
from .figures import Chain, Input, Origin, Scale, Step, run
from .heap import Burn, Lot
from .percentiles import P95
from .physics import carbon, char, correction, density, geometry, heat, moisture
from .results_after import Experience, Learned
from .tables import Tables
from .tables.methods import (
    CarbonCurve,
    Container,
    Containers,
    Decay,
    Equilibrium,
    HeatCoefficients,
    Instrument,
    Instruments,
    Kept,
    Packing,
    WoodChar,
    WoodWater,
    YieldCurve,
)
from .tables.names import Index
from .tables.schema import Burner, Cell, Material


@dataclass(frozen=True, slots=True)
class FigureOf:
    """A public figure: the step that gives it, its fixed unit, and the factor from SI to that unit."""

    output: str
    unit: str
    factor: float


FIGURES: dict[str, FigureOf] = {
    "moisture": FigureOf("moisture", "%", 100),
    "moisture_dry": FigureOf("moisture_dry", "%", 100),
    "density": FigureOf("density", "kg/m^3", 1),
    "dry_mass": FigureOf("dry_mass", "kg", 1),
    "char_yield": FigureOf("char_yield", "%", 100),
    "char_mass": FigureOf("char_mass", "kg", 1),
    "char_volume": FigureOf("char_volume", "L", 1000),
    "char_carbon": FigureOf("char_carbon", "kg", 1),
    "water_to_lose": FigureOf("water_to_lose", "L", 1),
    "water_heat": FigureOf("water_heat", "%", 100),
}
ADDED = ("dry_mass", "char_mass", "char_volume", "char_carbon")
"""Figures that add up over lots."""


@dataclass(slots=True)
class Bound:
    """A lot bound to its row: the chain, its inputs, which figures it can give, and what was assumed on the way."""

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
class _Builder:
    """Collects inputs and steps while a lot is bound."""

    lot: Lot
    full: str
    row: Material
    tables: Tables
    path: str
    signature: str
    steps: list[Step] = field(default_factory=list)
    inputs: dict[str, Input] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def step(self, output: str, function: Callable[..., Any], *inputs: str, scale: Scale = "log") -> str:
        self.steps.append(Step(output, function, inputs, scale))
        return output

    def add(self, each: Input) -> str:
        self.inputs[each.name] = each
        return each.name

    def cell(self, name: str, cell: Cell, kind: str, full: str, path: tuple[str | int, ...], key: str = "", certain: bool = False) -> str:
        """An input that is a cell of a table; its doubt is shared with every lot that uses the same cell."""
        owner = self.tables.where(kind, full, path).row or full
        low, mid, high = cell.low, cell.mid, cell.high
        if cell.dimension == "moisture" and cell.basis == "dry":
            low, mid, high = (v / (1 + v) for v in (low, mid, high))
        if certain:
            low = high = mid
        origin = self.tables.origin(kind, full, path, cell)
        label = "/".join(str(p) for p in path)
        return self.add(Input(name, low, mid, high, cell.scale, key or f"row:{owner.replace(':', '/', 1)}/{label}", origin, _UNIT_OF.get(cell.dimension, "1")))

    def given(self, name: str, said: Measured, field_name: str, scale: Scale = "log", error: float = 0.0, key: str = "", origin: str = "") -> str:
        """An input that the user gave: with their own range, or with a relative error of measuring."""
        if said.low is not None and said.high is not None:
            low, high, key = said.low, said.high, f"lot:{self.signature}:{field_name}"
        else:
            low, high = _with_error(said.mid, error, scale)
            key = key or f"lot:{self.signature}:{field_name}"
        return self.add(Input(name, low, said.mid, high, scale, key, Origin("field", origin or f"{field_name}: {said.text}", field=f"{self.path}.{field_name}"),
                              _UNIT_OF.get(said.dimension, "1")))

    def known(self, name: str, value: float, text: str, unit: str = "1", kind: str = "field") -> str:
        """An input without doubt."""
        origin = Origin("assumption" if kind == "assumption" else "field", text)
        return self.add(Input(name, value, value, value, "linear", f"exact:{name}", origin, unit))

    def refuse(self, code: str, what: str, expected: str, field_name: str, nearest: Iterable[str] = ()) -> InputError:
        return InputError([Problem(code, what, expected, f"{self.path}.{field_name}" if field_name else self.path, nearest=tuple(nearest))])


_UNIT_OF = {"mass": "kg", "length": "m", "volume": "m^3", "density": "kg/m^3", "temperature": "degC", "specific energy": "J/kg"}


def signature(lot: Lot) -> str:
    """What a lot says, without its amount and name, as a short text: lots that say the same share their doubt.

    Built from SI values, so that the unit in which something was written does not matter.
    """
    parts = {name: _plain(getattr(lot, name)) for name in type(lot).model_fields
             if name not in ("name", "remarks", "mass", "volume", "containers", "pieces", "stack")}
    if lot.pieces is not None:
        parts["pieces"] = {k: v for k, v in _plain(lot.pieces).items() if k != "count"}
    if lot.containers is not None:
        parts["containers"] = lot.containers.of.casefold()
    if lot.stack is not None:
        parts["stack"] = lot.stack.shape
    parts["way"] = next(way for way in ("mass", "volume", "containers", "pieces", "stack") if getattr(lot, way) is not None)
    return hashlib.sha256(repr(sorted(parts.items())).encode()).hexdigest()[:12]


def _plain(value: Any) -> Any:
    if isinstance(value, Measured):
        # a moisture counts as what it says, whichever basis it is written on
        return tuple(float(f"{_wet(v, value.basis):.9g}") for v in value.values)
    if isinstance(value, BaseModel):
        return {name: _plain(getattr(value, name)) for name in type(value).model_fields}
    if isinstance(value, tuple):
        return sorted(_plain(v) for v in value) if all(isinstance(v, str) for v in value) else [_plain(v) for v in value]
    return value.casefold() if isinstance(value, str) else value


def bind(lot: Lot, full: str, tables: Tables, burner_row: str, burn: Burn | None, path: str, experience: Experience | None = None) -> Bound:
    """Bind a lot to its material's row; with `experience` its char is corrected by what own batches taught. Raises InputError where the tables or the lot lack what a figure needs."""
    row = tables.material(full)
    builder = _Builder(lot, full, row, tables, path, signature(lot))
    known = _moisture(builder)
    thickness = _thickness(lot, row, builder)
    _check_ceiling(builder)
    solid = _amount(builder)
    _density(builder, solid)
    fineness = _fineness(builder, thickness)
    _char(builder, burner_row, burn, fineness, thickness)
    _water(builder, burner_row)
    made = {step.output for step in builder.steps} | set(builder.inputs)
    figures = tuple(name for name, each in FIGURES.items() if each.output in made)
    bound = Bound(tuple(builder.steps), tuple(builder.inputs.values()), figures, thickness, fineness, known, tuple(builder.notes))
    return bound if experience is None else _with_experience(bound, builder, burner_row, experience)


# --- moisture -------------------------------------------------------------------------------------------------------


def _moisture(b: _Builder) -> str:
    """Inputs and steps that end in `moisture` (wet basis); says how it is known."""
    said = b.lot.moisture
    if said is None:
        _moisture_unknown(b)
        return "unknown"
    if said.value is not None or said.reading is not None:
        _moisture_stated(b, said.value or said.reading, said.by)  # type: ignore[arg-type]
        return "stated" if said.value is not None else "reading"
    if said.wet is not None and said.oven_dry is not None:
        b.given("sample_as_it_lay", said.wet, "moisture.wet")
        b.given("sample_oven_dry", said.oven_dry, "moisture.oven_dry")
        b.step("moisture_weighed", moisture.wet_from_weighing, "sample_as_it_lay", "sample_oven_dry", scale="logit")
        _instrument_error(b, "oven", 1 - said.oven_dry.mid / said.wet.mid)
        b.step("moisture", moisture.with_error, "moisture_weighed", "moisture_error", scale="logit")
        return "weighed"
    if said.air is not None:
        _moisture_of_air(b)
        return "air"
    _moisture_by_condition(b, str(said.condition))
    return "condition"


def _moisture_stated(b: _Builder, said: Measured, by: str | None) -> None:
    if said.low is not None and said.high is not None:
        low, mid, high = (_wet(v, said.basis) for v in (said.low, said.mid, said.high))
        b.add(Input("moisture", low, mid, high, "logit", f"lot:{b.signature}:moisture", Origin("field", f"moisture: {said.text}", field=f"{b.path}.moisture")))
        return
    name, tool, full = instrument(b.tables, by or "unknown", f"{b.path}.moisture.by")
    reading = said.mid if said.basis == tool.basis else _dry(said.mid) if tool.basis == "dry" else _wet(said.mid, "dry")
    if by is not None and said.basis != tool.basis:
        b.notes.append(f"a {tool.names[0] if tool.names else name} shows {tool.basis} basis; '{said.text}' was taken as {said.basis} basis, as written")
    low_error, high_error = tool.error.mid, tool.error_wet.mid if _wetter(reading, tool) else tool.error.mid
    low, mid, high = (min(_wet(v, tool.basis), 0.97) for v in (max(reading - low_error, 0.2 * reading), reading, reading + high_error))
    cell = b.tables.origin("methods", full, ("moisture", name, "error"), tool.error)
    text = f"moisture: {said.text}, read by {tool.names[0] if tool.names else name} (instrument error {100 * tool.error.mid:.2g} points {tool.basis} basis)"
    b.add(Input("moisture", low, mid, high, "logit", f"meter:{name}",
                Origin("field", text, field=f"{b.path}.moisture", sources=cell.sources, locator=cell.locator, known=cell.known)))


def _instrument_error(b: _Builder, name: str, reading: float) -> None:
    _, tool, full = instrument(b.tables, name, "")
    error = tool.error_wet.mid if _wetter(reading, tool) else tool.error.mid
    origin = b.tables.origin("methods", full, ("moisture", name, "error"), tool.error)
    b.add(Input("moisture_error", -error, 0.0, error, "linear", f"meter:{name}", origin))


def _wetter(reading: float, tool: Instrument) -> bool:
    """Whether a reading is beyond what the instrument reads well; rounding of units must not decide it."""
    return reading > tool.wet_above.mid * (1 + 1e-9)


def instrument(tables: Tables, name: str, path: str) -> tuple[str, Instrument, str]:
    """The key, the row and the full name of the table of a moisture instrument. Raises UnknownName."""
    full, row = tables.method("instruments", Instruments)
    found = Index({f":{key}": each.names for key, each in row.moisture.items()}).find(name)
    if len(found) != 1:
        words = [key for key, each in row.moisture.items()]
        raise UnknownName([Problem("unknown-instrument", f"there is no instrument '{shown(name)}'", f"Write one of {', '.join(words)}.", path, nearest=nearest_names(name, words))])
    key = found[0][1:]
    return key, row.moisture[key], full


def _moisture_of_air(b: _Builder) -> None:
    air = b.lot.moisture.air  # type: ignore[union-attr]
    full, row = b.tables.method("equilibrium", Equilibrium)
    b.given("air_temperature", air.temperature, "moisture.air.temperature", "linear")  # type: ignore[union-attr]
    b.given("air_humidity", air.relative_humidity, "moisture.air.relative_humidity", "logit")  # type: ignore[union-attr]
    names = ("w0", "w1", "w2", "k0", "k1", "k2", "a0", "a1", "a2", "b0", "b1", "b2")
    for name in names:
        b.cell(name, row.coefficients[name], "methods", full, ("coefficients", name), certain=True)
    b.step("moisture_of_air", moisture.equilibrium_moisture, "air_temperature", "air_humidity", *names, scale="logit")
    error = row.error
    b.add(Input("moisture_error", -error.mid, 0.0, error.mid, "linear", f"method:{full}:common", b.tables.origin("methods", full, ("error",), error)))
    b.step("moisture_at_rest", moisture.with_error, "moisture_of_air", "moisture_error", scale="logit")
    b.step("moisture", moisture.wet_basis, "moisture_at_rest", scale="logit")


def _moisture_by_condition(b: _Builder, condition: str) -> None:
    known = b.row.moisture
    found = Index({f":{key}": [] for key in known}).find(condition)
    if len(found) != 1:
        raise UnknownName([Problem("unknown-condition", f"the tables know no moisture of {b.lot.material} for '{shown(condition)}'",
                                   f"Write one of {', '.join(known) or 'none: give a figure'}.", f"{b.path}.moisture.condition", nearest=nearest_names(condition, known))])
    key = found[0][1:]
    b.cell("moisture", known[key], "materials", b.full, ("moisture", key))


def _moisture_unknown(b: _Builder) -> None:
    """The widest interval of the row: the lowest low to the highest high, its middle on the logit scale."""
    cells = b.row.moisture
    if not cells:
        raise b.refuse("no-moisture", f"the tables hold no moisture of {b.lot.material}, and none was given", "Write moisture: 22 % wet, or another way.", "moisture")
    ends = [(_wet(c.low, c.basis), _wet(c.mid, c.basis), _wet(c.high, c.basis)) for c in cells.values()]
    low, high = min(e[0] for e in ends), max(e[2] for e in ends)
    middles = sorted(e[1] for e in ends)
    mid = 1 / (1 + math.exp(-sum(math.log(m / (1 - m)) for m in middles) / len(middles)))
    text = f"no moisture given: the whole range of {', '.join(cells)} of {b.row.display(b.lot.material)}"
    b.add(Input("moisture", low, mid, high, "logit", f"lot:{b.signature}:moisture", Origin("assumption", text, row=b.full, field="moisture")))


def _wet(value: float, basis: str) -> float:
    return value / (1 + value) if basis == "dry" else value


def _dry(value: float) -> float:
    return value / (1 - value)


def _with_error(value: float, error: float, scale: Scale) -> tuple[float, float]:
    """The ends of a value with a relative error of measuring; of a share it acts on the odds, so that it stays a share."""
    if error == 0.0:
        return value, value  # the way to the odds and back would leave a doubt of rounding
    if scale != "logit" or not 0 < value < 1:
        return value * (1 - error), value * (1 + error)
    odds = value / (1 - value)
    low, high = odds * (1 - error), odds * (1 + error)
    return low / (1 + low), high / (1 + high)


def _check_ceiling(b: _Builder) -> None:
    """A moisture that the wood cannot hold is a slip of the pen, not a wet lot."""
    said = b.lot.moisture
    if said is None:
        return
    cell, stated = b.row.basic_density, said.value or said.reading
    if stated is not None:
        text, wet = stated.text, _wet(stated.mid, stated.basis)
    elif said.wet is not None and said.oven_dry is not None:
        text, wet = f"{said.wet.text} before, {said.oven_dry.text} oven-dry", 1 - said.oven_dry.mid / said.wet.mid
    else:
        return
    if wet > 0.95:
        raise b.refuse("over-ceiling", f"'{text}' leaves next to no dry matter", "Write a moisture below 95 % wet.", "moisture")
    if cell is None or b.row.form not in ("round", "sawn", "board"):
        return
    _, row = b.tables.method("wood-water", WoodWater)
    lightest = cell.low / density.WATER * (_decay_factor(b)[0] if b.lot.decay else 1.0)
    ceiling = moisture.highest_moisture(lightest, row.cell_wall.mid)
    if _dry(wet) > 1.1 * ceiling:
        limit = 100 * _wet(ceiling, "dry")
        raise b.refuse("over-ceiling", f"'{text}' is more water than {b.lot.material} can hold (about {100 * ceiling:.0f} % dry, {limit:.0f} % wet)",
                       "Look at the basis: meters read % dry; or at the material, or give decay: for rotted wood.", "moisture")


# --- amount ---------------------------------------------------------------------------------------------------------


def _amount(b: _Builder) -> str:
    """Steps that end in `dry_mass`; returns how it was come by: mass, bulk or solid."""
    lot = b.lot
    full, tools = b.tables.method("instruments", Instruments)
    if lot.mass is not None:
        b.given("mass", lot.mass, "mass", error=tools.scale.mid, key="scale:heap")
        b.step("dry_mass_with_soil", moisture.oven_dry_mass, "mass", "moisture")
        _take_soil(b)
        return "mass"
    if lot.pieces is not None:
        _pieces_volume(b, tools)
        _solid_mass(b, "solid_volume")
        return "solid"
    if lot.volume is not None:
        b.given("gross_volume", lot.volume, "volume", error=tools.volume.mid)
        packing = lot.packing
    elif lot.stack is not None:
        _stack_volume(b, tools, full)
        packing = lot.packing
    else:
        packing = _containers_volume(b)
    return _packed_mass(b, packing)


def _take_soil(b: _Builder) -> None:
    if b.lot.soil is not None:
        b.given("soil", b.lot.soil, "soil", "logit", 0.3)
    elif b.row.soil is not None:
        b.cell("soil", b.row.soil, "materials", b.full, ("soil",))
    else:
        b.known("soil", 0.0, "no soil in the tables for this material", kind="assumption")
    b.step("dry_mass", density.without_soil, "dry_mass_with_soil", "soil")


def _pieces_volume(b: _Builder, tools: Instruments) -> None:
    pieces = b.lot.pieces
    assert pieces is not None
    error = tools.length.mid
    b.known("count", float(pieces.count), f"pieces.count: {pieces.count}")
    b.given("length", pieces.length, "pieces.length", error=error)
    if pieces.hollow is not None:
        b.given("hollow", pieces.hollow, "pieces.hollow", "logit", 0.2)
    else:
        b.known("hollow", 0.0, "no hollow given", kind="assumption")
    if pieces.diameter is not None:
        b.given("diameter", pieces.diameter, "pieces.diameter", error=error)
        b.step("solid_volume", geometry.round_pieces, "count", "diameter", "length", "hollow")
    elif pieces.diameters is not None:
        butt, top = pieces.diameters
        b.given("butt", butt, "pieces.diameters[0]", error=error, key=f"lot:{b.signature}:pieces.diameters")
        b.given("top", top, "pieces.diameters[1]", error=error, key=f"lot:{b.signature}:pieces.diameters")
        b.step("solid_volume", geometry.tapered_pieces, "count", "butt", "top", "length", "hollow")
    elif pieces.width is not None and pieces.thickness is not None:
        b.given("width", pieces.width, "pieces.width", error=error)
        b.given("board_thickness", pieces.thickness, "pieces.thickness", error=error)
        b.step("solid_volume", geometry.sawn_pieces, "count", "width", "board_thickness", "length", "hollow")


_SHAPES = {"box": geometry.box, "half cylinder": geometry.half_cylinder, "half ellipsoid": geometry.half_ellipsoid,
           "paraboloid": geometry.paraboloid, "cone": geometry.cone_heap}


def _stack_volume(b: _Builder, tools: Instruments, full: str) -> None:
    stack = b.lot.stack
    assert stack is not None
    for name in ("width", "length", "height"):
        b.given(f"stack_{name}", getattr(stack, name), f"stack.{name}")
    b.step("outer_volume", _SHAPES[stack.shape], "stack_width", "stack_length", "stack_height")
    error = tools.volume
    b.add(Input("measuring", 1 - error.mid, 1.0, 1 + error.mid, "log", f"lot:{b.signature}:stack", b.tables.origin("methods", full, ("volume",), error)))
    b.step("gross_volume", geometry.measured_volume, "outer_volume", "measuring")


def _containers_volume(b: _Builder) -> str | None:
    given = b.lot.containers
    assert given is not None
    full, row = b.tables.method("containers", Containers)
    found = Index({f":{key}": each.names for key, each in row.of.items()}).find(given.of)
    if len(found) != 1:
        words = [n for each in row.of.values() for n in each.names[:1]]
        raise UnknownName([Problem("unknown-container", f"there is no container '{shown(given.of)}' in the tables", f"Write one of {', '.join(words)}, or give volume.",
                                   f"{b.path}.containers.of", nearest=nearest_names(given.of, words))])
    key = found[0][1:]
    box: Container = row.of[key]
    b.known("count", given.count, f"containers.count: {given.count:g}")
    b.cell("container", box.volume, "methods", full, ("of", key, "volume"))
    b.step("gross_volume", geometry.container_volume, "count", "container")
    if b.lot.packing is not None:
        return b.lot.packing
    # a loose barrowful of branches is a barrowful of brush
    return None if b.row.form == "brush" else box.packing or None


def _packed_mass(b: _Builder, packing: str | None) -> str:
    """From a gross volume to dry mass, by the bulk density of the material or by the solid share of wood."""
    full, row = b.tables.method("packing", Packing)
    bulk = b.row.bulk_density
    own = b.lot.measured.bulk_density if b.lot.measured is not None else None
    if own is not None:
        b.given("bulk_density", own, "measured.bulk_density", error=0.05)
        return _bulk_mass(b)
    name = packing or ("loose" if "loose" in bulk else row.by_form.get(b.row.form or "", "stacked" if b.lot.stack is not None and b.row.form in ("round", "sawn", "board") else ""))
    ways = Index({f":{key}": each.names for key, each in row.ways.items()})
    own_ways = Index({f":{key}": [] for key in bulk})
    options = [*bulk, *(w.names[0] if w.names else k for k, w in row.ways.items())] if b.row.basic_density is not None else list(bulk)
    if not name:
        raise b.refuse("no-packing", f"how {b.lot.material} lies in this volume is not said", f"Write packing: one of {', '.join(options)}.", "packing")
    if packing is None:
        b.notes.append(f"packing was not given; {name} was assumed")
    if own_ways.find(name):
        key = own_ways.find(name)[0][1:]
        b.cell("bulk_density", bulk[key], "materials", b.full, ("bulk_density", key))
        return _bulk_mass(b)
    found = ways.find(name)
    if len(found) != 1 or b.row.basic_density is None:
        raise UnknownName([Problem("unknown-packing", f"the tables know no packing '{shown(name)}' of {b.lot.material}", f"Write one of {', '.join(options) or 'none: weigh it'}.",
                                   f"{b.path}.packing", nearest=nearest_names(name, options))])
    key = found[0][1:]
    b.cell("solid_share", row.ways[key].solid, "methods", full, ("ways", key, "solid"))
    b.step("solid_volume", density.solid_volume, "gross_volume", "solid_share")
    _solid_mass(b, "solid_volume")
    return "solid"


def _bulk_mass(b: _Builder) -> str:
    b.step("dry_mass_with_soil", density.dry_mass_of, "gross_volume", "bulk_density")
    _take_soil(b)
    return "bulk"


def _solid_mass(b: _Builder, volume: str) -> None:
    """Dry mass of a solid volume: basic density, decay, shrinkage, and bark where it is on."""
    _basic_density(b)
    full, water = b.tables.method("wood-water", WoodWater)
    b.cell("shrinkage_of_wood", water.shrinkage, "methods", full, ("shrinkage",), certain=True)
    b.cell("fibre_saturation", water.saturation, "methods", full, ("saturation",), certain=True)
    b.step("moisture_dry_for_volume", moisture.dry_basis, "moisture")
    b.step("dry_per_volume", density.dry_per_volume, "basic_density", "decay", "moisture_dry_for_volume", "shrinkage_of_wood", "fibre_saturation")
    if in_bark(b.lot, b.row) and not _own_density(b.lot):
        row = b.row
        assert row.bark_density is not None
        assert row.bark_volume is not None
        b.cell("bark_density", row.bark_density, "materials", b.full, ("bark_density",))
        b.cell("bark_volume", row.bark_volume, "materials", b.full, ("bark_volume",))
        _bark_left(b)
        b.step("dry_mass", density.dry_mass_in_bark, volume, "dry_per_volume", "bark_density", "bark_volume", "bark_left")
    else:
        b.step("dry_mass", density.dry_mass_of, volume, "dry_per_volume")


def in_bark(lot: Lot, row: Material) -> bool:
    """Whether diameters are over bark: round pieces have it on unless they were seen bare."""
    return row.form in ("round", "brush") and row.bark_density is not None and row.bark_volume is not None and not any(
        sign.casefold().replace("-", " ") == "bare wood" for sign in lot.signs)


def _bark_left(b: _Builder) -> None:
    if b.lot.decay is None:
        b.known("bark_left", 1.0, "sound wood in its bark", kind="assumption")
        return
    full, row = b.tables.method("decay", Decay)
    b.cell("bark_left", row.bark_left[b.lot.decay - 1], "methods", full, ("bark_left", b.lot.decay - 1), certain=True)


def _own_density(lot: Lot) -> bool:
    return lot.measured is not None and (lot.measured.basic_density is not None or lot.measured.sample is not None)


def _basic_density(b: _Builder) -> None:
    """Inputs `basic_density` and `decay`; an own measurement stands before the table, and then no decay factor is applied."""
    if "basic_density" in b.inputs:
        return
    own = b.lot.measured
    if own is not None and own.basic_density is not None:
        b.given("basic_density", own.basic_density, "measured.basic_density", error=0.05)
        b.known("decay", 1.0, "measured density: no decay factor", kind="assumption")
        return
    if own is not None and own.sample is not None:
        value = own.sample.oven_dry.mid / own.sample.volume.mid
        text = f"measured.sample: {own.sample.oven_dry.text} in {own.sample.volume.text}"
        b.add(Input("basic_density", value * 0.93, value, value * 1.07, "log", f"lot:{b.signature}:measured.sample", Origin("field", text, field=f"{b.path}.measured.sample"), "kg/m^3"))
        b.known("decay", 1.0, "measured density: no decay factor", kind="assumption")
        return
    if b.row.basic_density is None:
        raise b.refuse("no-density", f"the tables hold no solid density of {b.lot.material}", "Weigh it and give mass, or give measured: {basic_density: ...}.", "material")
    b.cell("basic_density", b.row.basic_density, "materials", b.full, ("basic_density",))
    _decay(b)


def _decay(b: _Builder) -> None:
    if b.lot.decay is None and "rotted" in b.row.traits:
        _decay_unknown(b)
        return
    if b.lot.decay is None:
        b.known("decay", 1.0, "no decay given", kind="assumption")
        return
    low, mid, high, cell, full, path = _decay_factor(b)
    b.add(Input("decay", low, mid, high, "log", f"row:{full.replace(':', '/', 1)}/{'/'.join(map(str, path))}", b.tables.origin("methods", full, path, cell)))


def _decay_unknown(b: _Builder) -> None:
    """Wood that is called rotted without a class: anything from the second class to the last."""
    full, row = b.tables.method("decay", Decay)
    cells = row.lying["softwood" if b.row.class_ == "softwood" else "hardwood"]
    b.notes.append("rotted wood without its decay class (1 sound to 5 powder): the whole range from 2 to 5 was taken; give decay")
    b.add(Input("decay", cells[-1].low, cells[2].mid, cells[1].high, "log", f"lot:{b.signature}:decay",
                Origin("assumption", f"no decay class given: {full} from class 2 to 5", row=full, field="lying")))


def _decay_factor(b: _Builder) -> tuple[float, float, float, Cell, str, tuple[str | int, ...]]:
    """The density left by the lot's decay class, made non-increasing over classes."""
    assert b.lot.decay is not None
    full, row = b.tables.method("decay", Decay)
    side = "lying" if b.lot.lying else "standing"
    group = "softwood" if b.row.class_ == "softwood" else "hardwood"
    cells = getattr(row, side)[group]
    number = b.lot.decay - 1
    ends = [density.decay_series([getattr(c, end) for c in cells])[number] for end in ("low", "mid", "high")]
    return ends[0], ends[1], ends[2], cells[number], full, (side, group, number)


# --- density and thickness ------------------------------------------------------------------------------------------


def _density(b: _Builder, route: str) -> None:
    """The step `density`: oven-dry mass per green solid volume, or per heaped volume for loose matter."""
    if b.row.basic_density is not None or _own_density(b.lot):
        _basic_density(b)
        b.step("density", density.decayed, "basic_density", "decay")
    elif "bulk_density" in b.inputs:
        b.known("as_it_lies", 1.0, "per heaped volume", kind="assumption")
        b.step("density", density.decayed, "bulk_density", "as_it_lies")
    elif b.row.bulk_density:
        key = "loose" if "loose" in b.row.bulk_density else next(iter(b.row.bulk_density))
        b.cell("bulk_density", b.row.bulk_density[key], "materials", b.full, ("bulk_density", key))
        b.known("as_it_lies", 1.0, "per heaped volume", kind="assumption")
        b.step("density", density.decayed, "bulk_density", "as_it_lies")


def _thickness(lot: Lot, row: Material, b: _Builder) -> float:
    """The least dimension, m: given, or that of the pieces, or usual for the material."""
    if lot.thickness is not None:
        return lot.thickness.mid
    pieces = lot.pieces
    if pieces is not None:
        if pieces.diameter is not None:
            return pieces.diameter.mid
        if pieces.diameters is not None:
            return sum(d.mid for d in pieces.diameters) / 2
        if pieces.width is not None and pieces.thickness is not None:
            return min(pieces.width.mid, pieces.thickness.mid)
    if row.thickness is None:
        raise b.refuse("no-thickness", f"the tables hold no usual thickness of {lot.material}", "Write thickness: 40 mm (the least dimension).", "thickness")
    return row.thickness.mid


def _fineness(b: _Builder, thickness: float) -> str:
    """thick, medium or fine: how much of its char a flame leaves. Only loose, flaky matter counts as fine."""
    _, kept = b.tables.method("kept", Kept)
    if thickness > kept.thick_above.mid:
        return "thick"
    loose = b.row.form in ("loose", "sheet", "brush") or b.row.class_ in ("straw", "leaf", "husk", "manure")
    return "fine" if thickness < kept.fine_below.mid and loose else "medium"


# --- char -----------------------------------------------------------------------------------------------------------


def _char(b: _Builder, burner_row: str, burn: Burn | None, fineness: str, thickness: float) -> None:
    burner = b.tables.row("burners", burner_row, Burner)
    full, curve = b.tables.method("yield-curve", YieldCurve)
    _temperature(b, burner_row, burner, burn, curve)
    if b.lot.measured is not None and b.lot.measured.ash is not None:
        b.given("ash", b.lot.measured.ash, "measured.ash", "logit", 0.1)
    elif b.row.ash is not None:
        b.cell("ash", b.row.ash, "materials", b.full, ("ash",))
    else:
        raise b.refuse("no-ash", f"the tables hold no ash of {b.lot.material}", "Give measured: {ash: 2 %}, or a table that has it.", "material")
    b.cell("ash_kept", burner.ash_kept, "burners", burner_row, ("ash_kept",))
    _organic_yield(b, full, curve, burner)
    _kept(b, burner_row, burner, fineness, curve, full)
    b.step("char_yield", char.char_yield, "ash", "organic_yield", "kept", "ash_kept")
    b.step("char_mass", char.char_mass, "dry_mass", "char_yield")
    b.step("organic_char", char.organic_char, "dry_mass", "ash", "organic_yield", "kept")
    _carbon(b)
    _char_volume(b, thickness)


def _temperature(b: _Builder, burner_row: str, burner: Burner, burn: Burn | None, curve: YieldCurve) -> None:
    """`temperature` with its doubt, and `curve_temperature`, which has none where the field yield already holds it."""
    lowest, highest = curve.lowest.mid, curve.highest.mid
    if burn is not None and burn.temperature is not None:
        said = burn.temperature
        if said.mid < lowest or said.mid > highest:
            raise InputError([Problem("out-of-range", f"'{said.text}' is outside the {lowest:.0f} to {highest:.0f} degC in which a char yield can be told",
                                      "Give the highest temperature of the char bed in that range, or leave it out.", "burn.temperature")])
        low, high = (said.low, said.high) if said.low is not None and said.high is not None else (said.mid - 50, said.mid + 50)
        origin = Origin("field", f"burn.temperature: {said.text}", field="burn.temperature")
        low, mid, high = max(low, lowest), said.mid, min(high, highest)
    else:
        cell = burner.temperature
        origin = b.tables.origin("burners", burner_row, ("temperature",), cell)
        low, mid, high = max(cell.low, lowest), cell.mid, min(cell.high, highest)
    b.add(Input("temperature", low, mid, high, "linear", "burn:temperature", origin, "degC"))
    if "temperature" in burner.contains:
        b.add(Input("curve_temperature", mid, mid, mid, "linear", "exact:curve_temperature", Origin("table", f"{origin.text}; its doubt is part of the field yield", row=burner_row), "degC"))


def _curve_temperature(b: _Builder) -> str:
    return "curve_temperature" if "curve_temperature" in b.inputs else "temperature"


def _organic_yield(b: _Builder, full: str, curve: YieldCurve, burner: Burner) -> None:
    group = curve.groups.get(b.row.class_ or "")
    if group is None:
        raise b.refuse("no-class", f"the yield curve knows no class '{b.row.class_}'", "Give the row a class that the method lists.", "material")
    for name in ("floor", "amplitude", "rate", "lignin"):
        b.cell(f"curve_{name}", getattr(curve, name), "methods", full, (name,), certain=True)
    _lignin(b, full, curve, group)
    offset = curve.offsets.get(group)
    if offset is not None:
        b.cell("curve_offset", offset, "methods", full, ("offsets", group), certain=True)
    else:
        b.known("curve_offset", 0.0, f"no offset for {group}", kind="assumption")
    b.step("curve", char.organic_yield, _curve_temperature(b), "lignin", "curve_floor", "curve_amplitude", "curve_rate", "curve_lignin", "curve_offset", scale="logit")
    _curve_error(b, full, curve, group, burner)
    b.step("organic_yield", char.shifted, "curve", "curve_error")


def _lignin(b: _Builder, full: str, curve: YieldCurve, group: str) -> None:
    if curve.lignin.mid == 0:
        b.known("lignin", 0.0, "this curve does not use lignin", kind="assumption")
    elif b.row.lignin is not None:
        b.cell("lignin", b.row.lignin, "materials", b.full, ("lignin",))
    else:
        b.cell("lignin", curve.lignin_of[group], "methods", full, ("lignin_of", group))


def error_of(curve: YieldCurve, group: str, temperature: float) -> tuple[Cell, int]:
    """The half-width of an unseen study for a group of classes at a temperature, and its place in the row."""
    bands = curve.error[group]
    for number, band in enumerate(bands):
        if band.to is None or temperature < band.to.mid:
            return band.error, number
    return bands[-1].error, len(bands) - 1


def _curve_error(b: _Builder, full: str, curve: YieldCurve, group: str, burner: Burner) -> None:
    """The laboratory scatter; with a field yield only what the feed's class has beyond the reference feed's, so that nothing is counted twice."""
    cell, number = error_of(curve, group, b.inputs["temperature"].mid)
    origin = b.tables.origin("methods", full, ("error", group, number, "error"), cell)
    if burner.field_yield is None or burner.reference is None:
        common = curve.common.mid
        parts = {"common": cell.mid * math.sqrt(common), group: cell.mid * math.sqrt(1 - common)}
    else:
        reference, _ = error_of(curve, curve.groups[burner.reference.class_], b.inputs["temperature"].mid)
        parts = {"common": 0.0, group: math.sqrt(max(cell.mid**2 - reference.mid**2, 0.0))}
    for name, (key, error) in zip(("curve_error_common", "curve_error_class"), parts.items(), strict=True):
        b.add(Input(name, -error, 0.0, error, "linear", f"method:{full}:{key}", origin))
    b.step("curve_error", char.total_error, "curve_error_common", "curve_error_class", scale="linear")


def _kept(b: _Builder, burner_row: str, burner: Burner, fineness: str, curve: YieldCurve, full: str) -> None:
    """The step `kept`: the burner's share, times how this feed's fineness compares, less brands where they are not in it."""
    kept_full, row = b.tables.method("kept", Kept)
    brands_counted = "brands" in burner.contains
    out = "kept_with_brands" if not brands_counted else "kept"
    if burner.field_yield is not None and burner.reference is not None:
        _kept_of_field(b, burner_row, burner, curve, full)
        reference = "thick" if burner.reference.thickness.mid > row.thick_above.mid else "medium"
    elif burner.kept is not None:
        b.cell("kept_by_burner", burner.kept, "burners", burner_row, ("kept",))
        reference = "thick"
    else:
        b.cell(out, getattr(row, fineness), "methods", kept_full, (fineness,), key=f"burn:kept:{fineness}")
        reference = ""
    if reference:
        fineness = reference if burner.air == "closed" else fineness
        same = fineness == reference
        b.cell("kept_of_feed", getattr(row, fineness), "methods", kept_full, (fineness,), key=f"burn:kept:{fineness}", certain=same)
        b.cell("kept_of_reference", getattr(row, reference), "methods", kept_full, (reference,), certain=True)
        b.step(out, char.kept_of_feed, "kept_by_burner", "kept_of_feed", "kept_of_reference")
    if not brands_counted:
        b.cell("brands", burner.brands, "burners", burner_row, ("brands",))
        b.step("kept", char.without_brands, out, "brands")


def _kept_of_field(b: _Builder, burner_row: str, burner: Burner, curve: YieldCurve, full: str) -> None:
    """The kept share behind the published field yield of the burner's reference feed."""
    assert burner.field_yield is not None
    assert burner.reference is not None
    b.cell("field_yield", burner.field_yield, "burners", burner_row, ("field_yield",))
    b.cell("reference_ash", burner.reference.ash, "burners", burner_row, ("reference", "ash"), certain=True)
    group = curve.groups[burner.reference.class_]
    offset = curve.offsets.get(group)
    b.known("reference_offset", offset.mid if offset is not None else 0.0, "offset of the reference feed", kind="assumption")
    lignin = curve.lignin_of.get(group)
    b.known("reference_lignin", lignin.mid if lignin is not None else 0.0, "lignin of the reference feed", kind="assumption")
    cell = burner.temperature
    b.cell("reference_temperature", cell, "burners", burner_row, ("temperature",), certain=True)
    b.step("reference_curve", char.organic_yield, "reference_temperature", "reference_lignin", "curve_floor", "curve_amplitude", "curve_rate", "curve_lignin", "reference_offset")
    b.step("kept_by_burner", char.kept_behind, "field_yield", "reference_ash", "reference_curve", "ash_kept")


def _carbon(b: _Builder) -> None:
    full, curve = b.tables.method("char-carbon", CarbonCurve)
    group = curve.groups.get(b.row.class_ or "", "wood")
    row = curve.curves[group]
    for name in ("top", "span", "rate"):
        b.cell(f"carbon_{name}", getattr(row, name), "methods", full, ("curves", group, name), certain=True)
    error = row.error
    b.add(Input("carbon_error", -error.mid, 0.0, error.mid, "linear", f"method:{full}:{group}", b.tables.origin("methods", full, ("curves", group, "error"), error)))
    b.step("carbon_of_char", carbon.carbon_in_char, "temperature", "carbon_top", "carbon_span", "carbon_rate", "carbon_error", scale="logit")
    b.step("char_carbon", carbon.char_carbon, "organic_char", "carbon_of_char")
    b.step("carbon_kept", carbon.carbon_kept, "char_carbon", "dry_mass", scale="logit")


def _char_volume(b: _Builder, thickness: float) -> None:
    if b.row.woody and (b.row.basic_density is not None or _own_density(b.lot)):
        full, row = b.tables.method("wood-char", WoodChar)
        b.cell("shrinkage_to_char", row.shrinkage, "methods", full, ("shrinkage",))
        thin = thickness < row.thin_below.mid
        name = "packing_thin" if thin else "packing"
        b.cell("char_packing", getattr(row, name), "methods", full, (name,), key="burn:packing")
        solid = "solid_volume"
        if not any(step.output == solid for step in b.steps):
            solid = b.step("wood_volume", density.volume_of, "dry_mass", "density")
        b.step("char_volume", char.char_volume_of_wood, solid, "shrinkage_to_char", "kept", "char_packing")
    elif b.row.char_bulk_density is not None:
        b.cell("char_bulk_density", b.row.char_bulk_density, "materials", b.full, ("char_bulk_density",))
        b.step("char_volume", char.char_volume_by_bulk, "char_mass", "char_bulk_density")


# --- water ----------------------------------------------------------------------------------------------------------


def _water(b: _Builder, burner_row: str) -> None:
    burner = b.tables.row("burners", burner_row, Burner)
    b.step("moisture_dry", moisture.dry_basis, "moisture", scale="log")
    b.cell("working_moisture", burner.moisture_ready, "burners", burner_row, ("moisture_ready",), certain=True)
    b.step("water_to_lose", moisture.water_to_lose, "dry_mass", "moisture_dry", "working_moisture")
    row = b.row
    if row.hydrogen is None or row.oxygen is None or row.nitrogen is None or (row.heating_value is None and row.carbon is None):
        return
    full, coefficients = b.tables.method("heating", HeatCoefficients)
    for name in ("hydrogen", "oxygen", "nitrogen"):
        b.cell(name, getattr(row, name), "materials", b.full, (name,), certain=True)
    _gross_heat(b, full, coefficients)
    for name in ("net_hydrogen", "net_oxygen", "water"):
        b.cell(f"heat_{name}", getattr(coefficients, name), "methods", full, (name,), certain=True)
    b.step("net_heat", heat.net_heating_value, "gross_heat", "hydrogen", "oxygen", "nitrogen", "heat_net_hydrogen", "heat_net_oxygen")
    b.step("water_heat", heat.boiling_share, "net_heat", "moisture", "heat_water")


def _gross_heat(b: _Builder, full: str, coefficients: HeatCoefficients) -> None:
    row = b.row
    if row.heating_value is not None:
        b.cell("gross_heat", row.heating_value, "materials", b.full, ("heating_value",))
        return
    assert row.carbon is not None
    b.cell("carbon", row.carbon, "materials", b.full, ("carbon",))
    if row.sulphur is not None:
        b.cell("sulphur", row.sulphur, "materials", b.full, ("sulphur",), certain=True)
    else:
        b.known("sulphur", 0.0, "no sulphur in the tables", kind="assumption")
    names = ("carbon", "hydrogen", "oxygen", "nitrogen", "sulphur", "ash")
    for name in names:
        b.cell(f"heat_{name}", getattr(coefficients, name), "methods", full, (name,), certain=True)
    b.step("gross_heat", heat.gross_heating_value, *names, *(f"heat_{name}" for name in names))


# --- what own batches taught ----------------------------------------------------------------------------------------


def feed_class(tables: Tables, row: Material) -> str:
    """The class of feed by which batches are learnt from: the group of the yield curve that the material belongs to."""
    return tables.method("yield-curve", YieldCurve)[1].groups.get(row.class_ or "", "")


def _with_experience(bound: Bound, b: _Builder, burner_row: str, experience: Experience) -> Bound:
    """The same lot with char mass and volume corrected. The gates of contamination are judged on `before`, which own batches do not move."""
    feed = feed_class(b.tables, b.row)
    mass, volume = experience.of("mass-per-feed", burner_row, feed), experience.of("volume-per-feed", burner_row, feed)
    rate = experience.of("burning-rate", burner_row)
    if mass is None and volume is None:
        return replace(bound, rate=rate)
    mids = run(bound.chain, {each.name: each.mid for each in bound.inputs})
    steps, inputs = list[Step](), list(bound.inputs)
    for step in bound.chain:
        if step.output == "char_yield" and mass is not None:
            steps += _corrected(step, mass, mids, inputs)
        elif step.output == "char_carbon" and mass is not None:
            steps += [replace(step, output="char_carbon_before"), Step("char_carbon", correction.in_step, ("char_carbon_before", "char_yield", "char_yield_before"))]
        elif step.output == "char_volume" and volume is not None:
            if mass is not None and "char_mass" in step.inputs:  # the mass that was learnt must not move the volume a second time
                steps.append(Step("char_mass_before", char.char_mass, ("dry_mass", "char_yield_before")))
                step = replace(step, inputs=tuple("char_mass_before" if name == "char_mass" else name for name in step.inputs))
            steps += _corrected(step, volume, mids, inputs, volume_base(bound.chain))
        else:
            steps.append(step)
    return replace(bound, chain=tuple(steps), inputs=tuple(inputs), before=bound, rate=rate)


def volume_base(chain: Chain) -> str:
    """What char volume is counted per: dry feed, or solid wood where the density of the wood stands on both sides and cancels."""
    behind = {"dry_mass"}
    for step in reversed(chain):
        if step.output in behind:
            behind.update(step.inputs)
    return "wood_volume" if "basic_density" in behind and any(step.output == "wood_volume" for step in chain) else "dry_mass"


def _corrected(step: Step, learned: Learned, mids: dict[str, Any], inputs: list[Input], base: str = "") -> list[Step]:
    """The steps that stand for `step`: as it was, what the tables' middle gives, and the correction. Adds the inputs that they need."""
    name = step.output
    per = mids[name] / (mids[base] if base else 1.0)
    if per <= 0:
        return [step]
    told = f"{learned.batches} own batch{'es' if learned.batches != 1 else ''}"
    half = P95 * math.sqrt(learned.variance)
    low, mid, high = (math.exp(learned.shift + each) for each in (-half, 0.0, half))
    inputs += [
        Input(f"{name}_stays", *(learned.stays,) * 3, "linear", f"exact:{name}_stays", Origin("assumption", f"part of the width that no batch can teach; {told} stand for the rest")),
        Input(f"{name}_own", low, mid, high, "log", learned.key, Origin("assumption", f"own level of {learned.figure}, learnt from {told}")),
        Input(f"{name}_usual", *(per,) * 3, "linear", f"exact:{name}_usual", Origin("assumption", "what the tables alone give at their middle")),
    ]
    if not base:
        return [replace(step, output=f"{name}_before"), Step(name, correction.yield_with_experience, (f"{name}_before", f"{name}_usual", f"{name}_stays", f"{name}_own"), step.scale)]
    return [replace(step, output=f"{name}_before"), Step(f"usual_{name}", correction.usual, (base, f"{name}_usual")),
            Step(name, correction.with_experience, (f"{name}_before", f"usual_{name}", f"{name}_stays", f"{name}_own"), step.scale)]
