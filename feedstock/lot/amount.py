"""From a mass, pieces, a stack, a volume or containers to the step `dry_mass`."""

from __future__ import annotations

from ..errors import Problem, UnknownName, nearest_names, shown
from ..physics import density, geometry, moisture
from ..quantities.estimate import bounded_estimate
from ..quantities.frozen import frozen
from ..tables.caches import kept_of_tables
from ..tables.names.index import Index
from ..tables.rows.methods.amount import Container, Containers, Instruments, Packing
from ..tables.tables import Tables
from ..uncertainty.inputs import interval_input
from ..uncertainty.keys import lot_key, scale_key
from ..words import Message
from .model import Builder, Route
from .wood import bind_bark_left, bind_basic_density, bind_shrinkage, in_bark, own_density
from .words import packing_names


@frozen
class Amount:
    """How an amount was come by: the way it was given, and whether as a volume of solid wood, which
    may be in its bark.
    """

    route: Route
    solid: bool = False
    in_bark: bool = False


def bind_amount(b: Builder) -> Amount:
    """Steps that end in `dry_mass`."""
    lot = b.lot
    state_amount(b)
    if lot.mass is not None:
        b.step("dry_mass_with_soil", moisture.oven_dry_mass, "mass", "moisture")
        _take_soil(b)
        return Amount(Route.MASS)
    if lot.pieces is not None:
        _pieces_volume(b)
        return _solid_mass(b, Route.COUNTED)
    if lot.volume is not None:
        return _packed_mass(b, Route.HEAPED, lot.packing)
    if lot.stack is not None:
        _stack_volume(b)
        return _packed_mass(b, Route.STACKED, lot.packing)
    return _packed_mass(b, Route.CONTAINED, _containers_volume(b))


def check_amount(b: Builder) -> None:
    """Raise InputError for a mass that no scale shows, or a piece thicker than any: the unit was
    another.
    """
    lot, tools = b.lot, b.tools
    if lot.mass is not None and lot.mass.mid < tools.least_weighed.mid:
        what = f"'{shown(lot.mass.text)}' is less than a fine scale shows"
        least = f"{1000 * tools.least_weighed.mid:g} g"
        raise b.refuse("out-of-range", what, f"Write {least} or more: look at its unit.", "mass")
    if lot.thickness is not None and lot.thickness.mid > tools.thickest.mid:
        what = f"'{shown(lot.thickness.text)}' is thicker than any piece"
        most = f"{tools.thickest.mid:g} m"
        remedy = (
            f"Write the least dimension of a piece, up to {most}, which an old oak has: look at "
            "its unit."
        )
        raise b.refuse("out-of-range", what, remedy, "thickness")


def state_amount(b: Builder) -> None:
    """The inputs that hold the amount itself, in which lots of one kind differ."""
    lot, tools = b.lot, b.tools
    if lot.mass is not None:
        b.amount("mass", lot.mass, "mass", tools.scale.mid, scale_key())
    elif lot.pieces is not None:
        b.counted("count", float(lot.pieces.count), f"pieces.count: {lot.pieces.count}")
    elif lot.volume is not None:
        b.amount("gross_volume", lot.volume, "volume", tools.volume.mid)
    elif lot.stack is not None:
        for name in ("width", "length", "height"):
            b.amount(f"stack_{name}", getattr(lot.stack, name), f"stack.{name}", 0.0)
    elif lot.containers is not None:
        b.counted("count", lot.containers.count, f"containers.count: {lot.containers.count:g}")


def _take_soil(b: Builder) -> None:
    if b.lot.soil is not None:
        b.given("soil", b.lot.soil, "soil", "logit", b.tools.soil.mid)
    elif b.row.soil is not None:
        b.cell("soil", "materials", b.row_id, ("soil",))
    else:
        b.known("soil", 0.0, "no soil in the tables for this material", kind="assumption")
    b.step("dry_mass", density.without_soil, "dry_mass_with_soil", "soil")


def _pieces_volume(b: Builder) -> None:
    pieces, tools = b.lot.pieces, b.tools
    assert pieces is not None
    error = tools.length.mid
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
            key=lot_key(b.signature, "pieces.diameters"),
        )
        b.given(
            "top",
            top,
            "pieces.diameters[1]",
            error=error,
            key=lot_key(b.signature, "pieces.diameters"),
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


def _stack_volume(b: Builder) -> None:
    stack = b.lot.stack
    assert stack is not None
    row_id, tools = b.tables.method("instruments", Instruments)
    b.step("outer_volume", _SHAPES[stack.shape], "stack_width", "stack_length", "stack_height")
    error = tools.volume
    b.add(
        interval_input(
            "measuring",
            (1 - error.mid, 1.0, 1 + error.mid),
            "log",
            lot_key(b.signature, "stack"),
            b.tables.origin("methods", row_id, ("volume",), error),
        )
    )
    b.step("gross_volume", geometry.measured_volume, "outer_volume", "measuring")


@kept_of_tables(64)
def _container_names(tables: Tables) -> Index:
    row = tables.method("containers", Containers)[1]
    return Index({f":{key}": item.names for key, item in row.of.items()})


def container_of(b: Builder) -> Container | None:
    """The container by which the amount is given, None where it is given otherwise."""
    return None if b.lot.containers is None else _container(b)[1]


def _container(b: Builder) -> tuple[str, Container]:
    """The container's key and row. Raises UnknownName."""
    containers = b.lot.containers
    assert containers is not None
    return container_named(containers.of, b.tables, f"{b.path}.containers.of")


def container_named(name: str, tables: Tables, field: str) -> tuple[str, Container]:
    """The key and the row of a container by one of its names. Raises UnknownName."""
    row = tables.method("containers", Containers)[1]
    paths = _container_names(tables).find(name)
    if len(paths) == 1:
        key = paths[0][1:]
        return key, row.of[key]
    words = [n for item in row.of.values() for n in item.names[:1]]
    raise UnknownName(
        [
            Problem(
                "unknown-container",
                f"there is no container '{shown(name)}' in the tables",
                f"Write one of {', '.join(words)}, or give volume.",
                field,
                nearest=nearest_names(name, words),
            )
        ]
    )


def _containers_volume(b: Builder) -> str | None:
    row_id, _ = b.tables.method("containers", Containers)
    key, box = _container(b)
    b.cell("container", "methods", row_id, ("of", key, "volume"))
    held = b.inputs["container"]
    volume = bounded_estimate((held.low, held.high), held.mid, "L", 1000.0)
    b.notes.append(Message("lot.container", container=box.names[0], volume=volume))
    b.step("gross_volume", geometry.container_volume, "count", "container")
    if b.lot.packing is not None:
        return b.lot.packing
    # a loose barrowful of branches is a barrowful of brush
    by_form = b.tables.method("packing", Packing)[1].by_form
    return None if b.row.form in by_form else box.packing or None


def _usual_packing(b: Builder, row: Packing) -> str:
    """How such matter lies where nobody says; "" where that cannot be told."""
    if "loose" in b.row.bulk_density:
        return "loose"
    stacked = "stacked" if b.lot.stack is not None and b.row.solid else ""
    return row.by_form.get(b.row.form or "", stacked)


def _packed_mass(b: Builder, route: Route, packing: str | None) -> Amount:
    """From a gross volume to dry mass, by the bulk density of the material or by the solid share of
    wood.
    """
    row_id, row = b.tables.method("packing", Packing)
    bulk = b.row.bulk_density
    own = b.lot.measured.bulk_density if b.lot.measured is not None else None
    if own is not None:
        b.given("bulk_density", own, "measured.bulk_density", error=b.tools.density.mid)
        return _bulk_mass(b, route)
    name = packing or _usual_packing(b, row)
    ways = packing_names(b.tables)
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
        b.notes.append(Message("lot.packing", packing=name))
    if own_ways.find(name):
        key = own_ways.find(name)[0][1:]
        b.cell("bulk_density", "materials", b.row_id, ("bulk_density", key))
        return _bulk_mass(b, route)
    paths = ways.find(name)
    if len(paths) != 1 or b.row.basic_density is None:
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
    key = paths[0][1:]
    b.cell("solid_share", "methods", row_id, ("ways", key, "solid"))
    b.step("solid_volume", density.solid_volume, "gross_volume", "solid_share")
    return _solid_mass(b, route)


def _bulk_mass(b: Builder, route: Route) -> Amount:
    b.step("dry_mass_with_soil", density.dry_mass_of, "gross_volume", "bulk_density")
    _take_soil(b)
    return Amount(route)


def _solid_mass(b: Builder, route: Route) -> Amount:
    """Dry mass of a solid volume: basic density, decay, shrinkage, and bark where it is on."""
    bind_basic_density(b)
    b.step("moisture_dry_for_volume", moisture.dry_basis, "moisture")
    b.step(
        "dry_per_volume",
        density.dry_per_volume,
        "basic_density",
        "decay",
        "moisture_dry_for_volume",
        *bind_shrinkage(b),
    )
    barked = in_bark(b)
    if barked and not own_density(b.lot):
        row = b.row
        assert row.bark_density is not None
        assert row.bark_volume is not None
        b.cell("bark_density", "materials", b.row_id, ("bark_density",))
        b.cell("bark_volume", "materials", b.row_id, ("bark_volume",))
        bind_bark_left(b)
        b.step(
            "dry_mass",
            density.dry_mass_in_bark,
            "solid_volume",
            "dry_per_volume",
            "bark_density",
            "bark_volume",
            "bark_left",
        )
    else:
        b.step("dry_mass", density.dry_mass_of, "solid_volume", "dry_per_volume")
    return Amount(route, True, barked)
