"""From a mass, pieces, a stack, a volume or containers to the step `dry_mass`."""

from __future__ import annotations

from ..errors import Problem, UnknownName, nearest_names, shown
from ..physics import density, geometry, moisture
from ..tables.names.index import Index
from ..tables.rows.contaminant import Sign
from ..tables.rows.methods.amount import Container, Containers, Instruments, Packing
from ..tables.rows.methods.wood import Decay, WoodWater
from ..uncertainty.inputs import Input
from .builder import Builder
from .wood import bind_basic_density, own_density


def bind_amount(b: Builder) -> str:
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


def _take_soil(b: Builder) -> None:
    if b.lot.soil is not None:
        b.given("soil", b.lot.soil, "soil", "logit", b.tools.soil.mid)
    elif b.row.soil is not None:
        b.cell("soil", b.row.soil, "materials", b.full, ("soil",))
    else:
        b.known("soil", 0.0, "no soil in the tables for this material", kind="assumption")
    b.step("dry_mass", density.without_soil, "dry_mass_with_soil", "soil")


def _pieces_volume(b: Builder, tools: Instruments) -> None:
    pieces = b.lot.pieces
    assert pieces is not None
    error = tools.length.mid
    b.known("count", float(pieces.count), f"pieces.count: {pieces.count}")
    b.given("length", pieces.length, "pieces.length", error=error)
    if pieces.hollow is not None:
        b.given("hollow", pieces.hollow, "pieces.hollow", "logit", tools.hollow.mid)
    else:
        b.known("hollow", 0.0, "no hollow given", kind="assumption")
    if pieces.diameter is not None:
        b.given("diameter", pieces.diameter, "pieces.diameter", error=error)
        b.step("solid_volume", geometry.round_pieces, "count", "diameter", "length", "hollow")
    elif pieces.diameters is not None:
        butt, top = pieces.diameters
        b.given(
            "butt",
            butt,
            "pieces.diameters[0]",
            error=error,
            key=f"lot:{b.signature}:pieces.diameters",
        )
        b.given(
            "top",
            top,
            "pieces.diameters[1]",
            error=error,
            key=f"lot:{b.signature}:pieces.diameters",
        )
        b.step("solid_volume", geometry.tapered_pieces, "count", "butt", "top", "length", "hollow")
    elif pieces.width is not None and pieces.thickness is not None:
        b.given("width", pieces.width, "pieces.width", error=error)
        b.given("board_thickness", pieces.thickness, "pieces.thickness", error=error)
        b.step(
            "solid_volume",
            geometry.sawn_pieces,
            "count",
            "width",
            "board_thickness",
            "length",
            "hollow",
        )


_SHAPES = {
    "box": geometry.box,
    "half cylinder": geometry.half_cylinder,
    "half ellipsoid": geometry.half_ellipsoid,
    "paraboloid": geometry.paraboloid,
    "cone": geometry.cone_heap,
}


def _stack_volume(b: Builder, tools: Instruments, full: str) -> None:
    stack = b.lot.stack
    assert stack is not None
    for name in ("width", "length", "height"):
        b.given(f"stack_{name}", getattr(stack, name), f"stack.{name}")
    b.step("outer_volume", _SHAPES[stack.shape], "stack_width", "stack_length", "stack_height")
    error = tools.volume
    b.add(
        Input(
            "measuring",
            1 - error.mid,
            1.0,
            1 + error.mid,
            "log",
            f"lot:{b.signature}:stack",
            b.tables.origin("methods", full, ("volume",), error),
        )
    )
    b.step("gross_volume", geometry.measured_volume, "outer_volume", "measuring")


def _containers_volume(b: Builder) -> str | None:
    given = b.lot.containers
    assert given is not None
    full, row = b.tables.method("containers", Containers)
    found = Index({f":{key}": each.names for key, each in row.of.items()}).find(given.of)
    if len(found) != 1:
        words = [n for each in row.of.values() for n in each.names[:1]]
        raise UnknownName(
            [
                Problem(
                    "unknown-container",
                    f"there is no container '{shown(given.of)}' in the tables",
                    f"Write one of {', '.join(words)}, or give volume.",
                    f"{b.path}.containers.of",
                    nearest=nearest_names(given.of, words),
                )
            ]
        )
    key = found[0][1:]
    box: Container = row.of[key]
    b.known("count", given.count, f"containers.count: {given.count:g}")
    b.cell("container", box.volume, "methods", full, ("of", key, "volume"))
    b.step("gross_volume", geometry.container_volume, "count", "container")
    if b.lot.packing is not None:
        return b.lot.packing
    # a loose barrowful of branches is a barrowful of brush
    return None if b.row.form == "brush" else box.packing or None


def _packed_mass(b: Builder, packing: str | None) -> str:
    """From a gross volume to dry mass, by the bulk density of the material or by the solid share of
    wood.
    """
    full, row = b.tables.method("packing", Packing)
    bulk = b.row.bulk_density
    own = b.lot.measured.bulk_density if b.lot.measured is not None else None
    if own is not None:
        b.given("bulk_density", own, "measured.bulk_density", error=b.tools.density.mid)
        return _bulk_mass(b)
    name = packing or (
        "loose"
        if "loose" in bulk
        else row.by_form.get(
            b.row.form or "",
            "stacked"
            if b.lot.stack is not None and b.row.form in ("round", "sawn", "board")
            else "",
        )
    )
    ways = Index({f":{key}": each.names for key, each in row.ways.items()})
    own_ways = Index({f":{key}": [] for key in bulk})
    options = (
        [*bulk, *(w.names[0] if w.names else k for k, w in row.ways.items())]
        if b.row.basic_density is not None
        else list(bulk)
    )
    if not name:
        raise b.refuse(
            "no-packing",
            f"how {b.lot.material} lies in this volume is not said",
            f"Write packing: one of {', '.join(options)}.",
            "packing",
        )
    if packing is None:
        b.notes.append(f"packing was not given; {name} was assumed")
    if own_ways.find(name):
        key = own_ways.find(name)[0][1:]
        b.cell("bulk_density", bulk[key], "materials", b.full, ("bulk_density", key))
        return _bulk_mass(b)
    found = ways.find(name)
    if len(found) != 1 or b.row.basic_density is None:
        raise UnknownName(
            [
                Problem(
                    "unknown-packing",
                    f"the tables know no packing '{shown(name)}' of {b.lot.material}",
                    f"Write one of {', '.join(options) or 'none: weigh it'}.",
                    f"{b.path}.packing",
                    nearest=nearest_names(name, options),
                )
            ]
        )
    key = found[0][1:]
    b.cell("solid_share", row.ways[key].solid, "methods", full, ("ways", key, "solid"))
    b.step("solid_volume", density.solid_volume, "gross_volume", "solid_share")
    _solid_mass(b, "solid_volume")
    return "solid"


def _bulk_mass(b: Builder) -> str:
    b.step("dry_mass_with_soil", density.dry_mass_of, "gross_volume", "bulk_density")
    _take_soil(b)
    return "bulk"


def _solid_mass(b: Builder, volume: str) -> None:
    """Dry mass of a solid volume: basic density, decay, shrinkage, and bark where it is on."""
    bind_basic_density(b)
    full, water = b.tables.method("wood-water", WoodWater)
    b.cell("shrinkage_of_wood", water.shrinkage, "methods", full, ("shrinkage",), certain=True)
    b.cell("fibre_saturation", water.saturation, "methods", full, ("saturation",), certain=True)
    b.step("moisture_dry_for_volume", moisture.dry_basis, "moisture")
    b.step(
        "dry_per_volume",
        density.dry_per_volume,
        "basic_density",
        "decay",
        "moisture_dry_for_volume",
        "shrinkage_of_wood",
        "fibre_saturation",
    )
    if in_bark(b) and not own_density(b.lot):
        row = b.row
        assert row.bark_density is not None
        assert row.bark_volume is not None
        b.cell("bark_density", row.bark_density, "materials", b.full, ("bark_density",))
        b.cell("bark_volume", row.bark_volume, "materials", b.full, ("bark_volume",))
        _bark_left(b)
        b.step(
            "dry_mass",
            density.dry_mass_in_bark,
            volume,
            "dry_per_volume",
            "bark_density",
            "bark_volume",
            "bark_left",
        )
    else:
        b.step("dry_mass", density.dry_mass_of, volume, "dry_per_volume")


def in_bark(b: Builder) -> bool:
    """Whether diameters are over bark: round pieces have it on unless a sign says it is off."""
    row = b.row
    return (
        row.form in ("round", "brush")
        and row.bark_density is not None
        and row.bark_volume is not None
        and not any(b.tables.row("signs", sign, Sign).without_bark for sign in b.signs)
    )


def _bark_left(b: Builder) -> None:
    if b.lot.decay is None:
        b.known("bark_left", 1.0, "sound wood in its bark", kind="assumption")
        return
    full, row = b.tables.method("decay", Decay)
    b.cell(
        "bark_left",
        row.bark_left[b.lot.decay - 1],
        "methods",
        full,
        ("bark_left", b.lot.decay - 1),
        certain=True,
    )
