"""Density, decay and thickness: from the row, from the class of decay, or from an own sample."""

from __future__ import annotations

from ..model.inputs.lot import Lot
from ..physics import density
from ..quantities.cell import Cell
from ..tables.rows.material import Material
from ..tables.rows.methods.char import Kept
from ..tables.rows.methods.wood import Decay
from ..uncertainty.inputs import Input, Origin
from .builder import Builder


def own_density(lot: Lot) -> bool:
    """Whether the density of the solid matter was measured on this lot."""
    return lot.measured is not None and (
        lot.measured.basic_density is not None or lot.measured.sample is not None
    )


def bind_basic_density(b: Builder) -> None:
    """`basic_density` and `decay`; an own measurement stands before the table, and then no decay
    factor is applied.
    """
    if "basic_density" in b.inputs or any(step.output == "basic_density" for step in b.steps):
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
        b.step("basic_density", density.of_sample, "sample_mass", "sample_volume")
        b.known("decay", 1.0, "measured density: no decay factor", kind="assumption")
        return
    if b.row.basic_density is None:
        raise b.refuse(
            "no-density",
            f"the tables hold no solid density of {b.lot.material}",
            "Weigh it and give mass, or give measured: {basic_density: ...}.",
            "material",
        )
    b.cell("basic_density", b.row.basic_density, "materials", b.full, ("basic_density",))
    _decay(b)


def _decay(b: Builder) -> None:
    if b.lot.decay is None and "rotted" in b.row.traits:
        _decay_unknown(b)
        return
    if b.lot.decay is None:
        b.known("decay", 1.0, "no decay given", kind="assumption")
        return
    low, mid, high, cell, full, path = decay_factor(b)
    b.add(
        Input(
            "decay",
            low,
            mid,
            high,
            "log",
            f"row:{full.replace(':', '/', 1)}/{'/'.join(map(str, path))}",
            b.tables.origin("methods", full, path, cell),
        )
    )


def _decay_unknown(b: Builder) -> None:
    """Wood that is called rotted without a class: anything from the second class to the last."""
    full, row = b.tables.method("decay", Decay)
    cells = row.lying["softwood" if b.row.class_ == "softwood" else "hardwood"]
    b.notes.append(
        "rotted wood without its decay class (1 sound to 5 powder): the whole range "
        "from 2 to 5 was taken; give decay"
    )
    b.add(
        Input(
            "decay",
            cells[-1].low,
            cells[2].mid,
            cells[1].high,
            "log",
            f"lot:{b.signature}:decay",
            Origin(
                "assumption",
                f"no decay class given: {full} from class 2 to 5",
                row=full,
                field="lying",
            ),
        )
    )


def decay_factor(b: Builder) -> tuple[float, float, float, Cell, str, tuple[str | int, ...]]:
    """The density left by the lot's decay class, made non-increasing over classes."""
    assert b.lot.decay is not None
    full, row = b.tables.method("decay", Decay)
    side = "lying" if b.lot.lying else "standing"
    group = "softwood" if b.row.class_ == "softwood" else "hardwood"
    cells = getattr(row, side)[group]
    number = b.lot.decay - 1
    ends = [
        density.decay_series([getattr(c, end) for c in cells])[number]
        for end in ("low", "mid", "high")
    ]
    return ends[0], ends[1], ends[2], cells[number], full, (side, group, number)


def bind_density(b: Builder, route: str) -> None:
    """The step `density`: oven-dry mass per green solid volume, or per heaped volume for loose
    matter.
    """
    if b.row.basic_density is not None or own_density(b.lot):
        bind_basic_density(b)
        b.step("density", density.decayed, "basic_density", "decay")
    elif "bulk_density" in b.inputs:
        b.known("as_it_lies", 1.0, "per heaped volume", kind="assumption")
        b.step("density", density.decayed, "bulk_density", "as_it_lies")
    elif b.row.bulk_density:
        key = "loose" if "loose" in b.row.bulk_density else next(iter(b.row.bulk_density))
        b.cell("bulk_density", b.row.bulk_density[key], "materials", b.full, ("bulk_density", key))
        b.known("as_it_lies", 1.0, "per heaped volume", kind="assumption")
        b.step("density", density.decayed, "bulk_density", "as_it_lies")


def thickness_of(lot: Lot, row: Material, b: Builder) -> float:
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
        raise b.refuse(
            "no-thickness",
            f"the tables hold no usual thickness of {lot.material}",
            "Write thickness: 40 mm (the least dimension).",
            "thickness",
        )
    return row.thickness.mid


def fineness_of(b: Builder, thickness: float) -> str:
    """thick, medium or fine: how much of its char a flame leaves.

    Only loose, flaky matter counts as fine.
    """
    _, kept = b.tables.method("kept", Kept)
    if thickness > kept.thick_above.mid:
        return "thick"
    loose = b.row.form in ("loose", "sheet", "brush") or b.row.class_ in (
        "straw",
        "leaf",
        "husk",
        "manure",
    )
    return "fine" if thickness < kept.fine_below.mid and loose else "medium"
