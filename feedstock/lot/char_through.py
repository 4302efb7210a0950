"""Time in the flame until a piece is char to its centre."""

from __future__ import annotations

from ..physics import charring
from ..tables.rows.methods.fire import Charring
from ..uncertainty.inputs import Origin, stated_input
from ..uncertainty.keys import burn_key
from .model import Builder, Thickness, ThicknessSource
from .wood import bind_oven_dry_density
from .words import packed_thickness

_COEFFICIENTS = ("constant", "per_density", "per_moisture", "per_contraction")


def bind_char_through(b: Builder, thickness: Thickness, solid_density: bool) -> str:
    """Steps that end in `char_through`, s, where the tables in use have a method for it; the step
    that gives the oven-dry density of the pieces.
    """
    if not b.tables.has_method("char-through"):
        return ""
    row_id, row = b.tables.method("char-through", Charring)
    dimension = _least_dimension(b, thickness)
    dense = _oven_dry_density(b, solid_density, row_id)
    class_ = b.evidence.class_
    b.cell(
        "char_contraction",
        "methods",
        row_id,
        ("contraction", class_ if class_ in row.contraction else "other"),
    )
    for name in _COEFFICIENTS:
        b.cell(f"through_{name}", "methods", row_id, (name,), exact=True)
    b.cell("through_exponent", "methods", row_id, ("exponent",), exact=True)
    b.cell("thin_below", "methods", row_id, ("thin_below",), exact=True)
    b.cell("fire_factor", "methods", row_id, ("factor",))
    b.cell("thin_time", "methods", row_id, ("thin",))
    b.step(
        "char_coefficient",
        charring.char_coefficient,
        dense,
        "moisture_dry",
        "char_contraction",
        *(f"through_{name}" for name in _COEFFICIENTS),
    )
    b.step(
        "char_through",
        charring.through_time,
        dimension,
        "char_coefficient",
        "fire_factor",
        "thin_time",
        "thin_below",
        "through_exponent",
    )
    return dense


def _least_dimension(b: Builder, thickness: Thickness) -> str:
    """The name of the least dimension: that by which the pieces were measured where it was one."""
    source = thickness.source
    if source is ThicknessSource.DIAMETER:
        return "diameter"
    if source is ThicknessSource.TAPER:
        return b.step("mean_diameter", charring.mean_diameter, "butt", "top")
    if source is ThicknessSource.BOARD:
        return "board_thickness"
    if source is ThicknessSource.WIDTH:
        return "width"
    packed = packed_thickness(b.lot, b.row, b.tables)
    if source is ThicknessSource.PACKING and packed is not None:
        _, row_id, way = packed
        return b.cell("least_dimension", "methods", row_id, ("ways", way, "thickness"))
    if source is ThicknessSource.TABLE:
        return b.cell("least_dimension", "materials", b.row_id, ("thickness",))
    stated = b.lot.thickness
    assert stated is not None
    key = burn_key("thickness", b.row_id, f"{stated.mid:.6g}")
    origin = Origin("field", f"thickness: {stated.text}")
    return b.add(stated_input("least_dimension", stated, key, origin))


def _oven_dry_density(b: Builder, solid: bool, row_id: str) -> str:
    """The step with the oven-dry mass of a piece over its oven-dry volume; of loose matter that of
    the heap, and where the tables have none what the method takes.
    """
    if "density" not in b.made:
        return b.cell("through_density", "methods", row_id, ("density",))
    if not solid:
        return "density"
    return bind_oven_dry_density(b)
