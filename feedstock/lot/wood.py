"""Density, decay and thickness: from the row, from the class of decay, or from an own sample."""

from __future__ import annotations

import math

from ..model.inputs.lot import Lot
from ..physics import density, moisture
from ..quantities.cell import Cell
from ..tables.rows.contaminant import Sign
from ..tables.rows.methods.char import CharRetention, WoodChar
from ..tables.rows.methods.wood import Decay, WoodWater
from ..uncertainty.inputs import Origin, interval_input
from ..uncertainty.keys import lot_key, row_key
from ..words import Message
from .model import Builder, Thickness, ThicknessSource
from .words import packed_thickness


def own_density(lot: Lot) -> bool:
    """Whether the density of the solid matter was measured on this lot."""
    return lot.measured is not None and (
        lot.measured.basic_density is not None or lot.measured.sample is not None
    )


def bind_basic_density(b: Builder) -> None:
    """`basic_density` and `decay`; an own measurement stands before the table, and then no decay
    factor is applied.
    """
    if "basic_density" in b.inputs or "basic_density" in b.made:
        return
    own = b.lot.measured
    if own is not None and own.basic_density is not None:
        b.given(
            "basic_density", own.basic_density, "measured.basic_density", error=b.tools.density.mid
        )
        b.known("decay", 1.0, "measured density: no decay factor", kind="assumption")
        return
    if own is not None and own.sample is not None:
        b.given("sample_mass", own.sample.oven_dry, "measured.sample.oven_dry")
        b.given(
            "sample_volume", own.sample.volume, "measured.sample.volume", error=b.tools.sample.mid
        )
        b.step("sample_density", density.of_sample, "sample_mass", "sample_volume")
        _basic_of_sample(b)
        b.known("decay", 1.0, "measured density: no decay factor", kind="assumption")
        return
    if b.row.basic_density is None:
        raise b.refuse(
            "no-density",
            f"the tables hold no solid density of {b.lot.material}",
            "Weigh it and give mass, or give measured: {basic_density: ...}.",
            "material",
        )
    b.cell("basic_density", "materials", b.row_id, ("basic_density",))
    _decay(b)


def _basic_of_sample(b: Builder) -> None:
    """A sample is measured before it is dried: below fibre saturation it has shrunk already."""
    b.step("moisture_of_sample", moisture.dry_basis, "moisture")
    b.step(
        "basic_density",
        density.basic_of,
        "sample_density",
        "moisture_of_sample",
        *bind_shrinkage(b),
    )


def _decay(b: Builder) -> None:
    if b.lot.decay is None and "rotted" in b.row.traits:
        _decay_unknown(b)
        return
    if b.lot.decay is None:
        b.known("decay", 1.0, "no decay given", kind="assumption")
        return
    low, mid, high, cell, row_id, path = decay_factor(b)
    b.add(
        interval_input(
            "decay",
            (low, mid, high),
            "log",
            row_key(row_id, path),
            b.tables.origin("methods", row_id, path, cell),
        )
    )


def _decay_unknown(b: Builder) -> None:
    """Wood that is called rotted without a class: anything from the second class to the last."""
    row_id, row = b.tables.method("decay", Decay)
    cells = row.lying[b.row.rots_as]
    b.notes.append(Message("lot.decay"))
    b.add(
        interval_input(
            "decay",
            (cells[-1].low, cells[2].mid, cells[1].high),
            "log",
            lot_key(b.signature, "decay"),
            Origin(
                "assumption",
                f"no decay class given: {row_id} from class 2 to 5",
                row=row_id,
                field="lying",
            ),
        )
    )


def decay_factor(b: Builder) -> tuple[float, float, float, Cell, str, tuple[str | int, ...]]:
    """The density left by the lot's decay class, made non-increasing over classes."""
    assert b.lot.decay is not None
    row_id, row = b.tables.method("decay", Decay)
    side = "lying" if b.lot.lying else "standing"
    group = b.row.rots_as
    cells = getattr(row, side)[group]
    number = b.lot.decay - 1
    ends = [
        density.decay_series([getattr(c, end) for c in cells])[number]
        for end in ("low", "mid", "high")
    ]
    return ends[0], ends[1], ends[2], cells[number], row_id, (side, group, number)


def bind_shrinkage(b: Builder) -> tuple[str, str]:
    """The names of the shrinkage of wood below fibre saturation, and of that."""
    row_id, _ = b.tables.method("wood-water", WoodWater)
    b.cell("shrinkage_of_wood", "methods", row_id, ("shrinkage",), exact=True)
    b.cell("fibre_saturation", "methods", row_id, ("saturation",), exact=True)
    return "shrinkage_of_wood", "fibre_saturation"


def bind_oven_dry_density(b: Builder) -> str:
    """The step with the oven-dry mass of a piece over its oven-dry volume, from the step `density`
    of its solid pieces.
    """
    b.known("no_decay", 1.0, "oven-dry", kind="assumption")
    b.known("bone_dry", 0.0, "oven-dry", kind="assumption")
    return b.step(
        "oven_dry_density",
        density.dry_per_volume,
        "density",
        "no_decay",
        "bone_dry",
        *bind_shrinkage(b),
    )


def in_bark(b: Builder) -> bool:
    """Whether pieces are in their bark: round ones have it on unless a sign says it is off."""
    row = b.row
    return (
        row.barked
        and row.bark_density is not None
        and row.bark_volume is not None
        and not any(b.tables.row("signs", sign, Sign).without_bark for sign in b.evidence.signs)
    )


def bind_bark_left(b: Builder) -> None:
    """The input `bark_left`: the share of the bark that decay has left on."""
    if b.lot.decay is None:
        b.known("bark_left", 1.0, "sound wood in its bark", kind="assumption")
        return
    row_id, _ = b.tables.method("decay", Decay)
    b.cell("bark_left", "methods", row_id, ("bark_left", b.lot.decay - 1), exact=True)


def bind_density(b: Builder) -> bool:
    """The step `density`: oven-dry mass per green solid volume, or per heaped volume for loose
    matter. Whether it is that of the solid pieces.
    """
    if b.row.basic_density is not None or own_density(b.lot):
        bind_basic_density(b)
        b.step("density", density.decayed, "basic_density", "decay")
        return True
    if "bulk_density" not in b.inputs and b.row.bulk_density:
        key = "loose" if "loose" in b.row.bulk_density else next(iter(b.row.bulk_density))
        b.cell("bulk_density", "materials", b.row_id, ("bulk_density", key))
    if "bulk_density" in b.inputs:
        b.known("as_it_lies", 1.0, "per heaped volume", kind="assumption")
        b.step("density", density.decayed, "bulk_density", "as_it_lies")
    return False


def bind_volumes(b: Builder) -> tuple[str, str]:
    """The names of the steps that give the volume of its wood or, of other matter, that of the heap
    (one of them "" ), and the step `lying_mass`.
    """
    b.step("lying_mass", moisture.mass_as_it_lies, "dry_mass", "moisture")
    if "solid_volume" in b.made:
        return b.step("wood_volume", density.measured_volume, "solid_volume"), ""
    if b.row.woody and (b.row.basic_density is not None or own_density(b.lot)):
        return b.step("wood_volume", density.volume_of, "dry_mass", "density"), ""
    if "density" in b.made:
        return "", b.step("loose_volume", density.volume_of, "dry_mass", "density")
    return "", ""


def thickness_of(b: Builder) -> Thickness:
    """The least dimension: given, or that of the pieces, or usual for the material."""
    lot = b.lot
    if lot.thickness is not None:
        return Thickness(lot.thickness.mid, ThicknessSource.STATED)
    pieces = lot.pieces
    if pieces is not None:
        if pieces.diameter is not None:
            return Thickness(pieces.diameter.mid, ThicknessSource.DIAMETER)
        if pieces.diameters is not None:
            mean = math.fsum(diameter.mid for diameter in pieces.diameters) / 2
            return Thickness(mean, ThicknessSource.TAPER)
        if pieces.width is not None and pieces.thickness is not None:
            if pieces.width.mid < pieces.thickness.mid:
                return Thickness(pieces.width.mid, ThicknessSource.WIDTH)
            return Thickness(pieces.thickness.mid, ThicknessSource.BOARD)
    packed = packed_thickness(lot, b.row, b.tables)
    if packed is not None:
        return Thickness(packed[0].mid, ThicknessSource.PACKING)
    if b.row.thickness is None:
        raise b.refuse(
            "no-thickness",
            f"the tables hold no usual thickness of {lot.material}",
            "Write thickness: 40 mm (the least dimension).",
            "thickness",
        )
    return Thickness(b.row.thickness.mid, ThicknessSource.TABLE)


def fineness_of(b: Builder, thickness: Thickness) -> str:
    """thick, medium or fine: how much of its char a flame leaves.

    Only loose, flaky matter counts as fine, and wood that falls to crumbs.
    """
    _, retention = b.tables.method("char-retention", CharRetention)
    crumbles = b.tables.method("wood-char", WoodChar)[1].crumbles_from.mid
    if b.row.woody and b.lot.decay is not None and b.lot.decay >= crumbles:
        return "fine" if b.lot.decay > crumbles else "medium"
    if thickness.value > retention.thick_above.mid:
        return retention.most_of_class.get(b.row.class_ or "", "thick")
    # shavings and sawdust of solid wood are as loose as what the tables call so
    loose = b.row.flaky or thickness.source is ThicknessSource.PACKING
    return "fine" if thickness.value < retention.fine_below.mid and loose else "medium"
