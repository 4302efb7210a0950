"""The one density of a lot's char, and the volume that follows from it."""

from __future__ import annotations

from ..physics import density
from ..tables.rows.methods.char import CharRetention, WoodChar
from ..uncertainty.keys import burn_key, method_key
from .model import Builder
from .wood import (
    bind_bark_left,
    bind_oven_dry_density,
    in_bark,
    own_density,
)

BARK = "bark"
"""The class of feed that the bark on a piece of wood belongs to."""


def bind_char_volume(b: Builder, thickness: float) -> str:
    """The steps `char_density` (dry mass of sorted char per heaped volume) and `char_volume`, by
    whichever way the amount came; the step that own batches count the volume per.

    Where dry mass and density were both reckoned from the solid volume, that is counted per, so
    that the density of the wood cancels; else the dry feed.
    """
    row_id, row = b.tables.method("wood-char", WoodChar)
    _rise(b, row_id)
    base = "dry_mass"
    if _of_pieces(b, row, thickness):
        _wood(b, row_id, row, thickness)
        base = "solid_volume" if "solid_volume" in b.made else base
    elif b.row.char_bulk_density is not None:
        b.cell("char_bulk_density", "materials", b.row_id, ("char_bulk_density",))
        b.step("char_density", density.as_measured, "char_bulk_density", "density_rise")
    elif not _by_balance(b, row_id):
        return base
    b.step("char_volume", density.char_volume, "char_mass", "char_density")
    return base


def _rise(b: Builder, row_id: str) -> None:
    """`density_rise`: how the density follows the doubt of the yield curve, where it has any."""
    if all(b.inputs[f"curve_error_{part}"].exact for part in ("common", "class")):
        b.known(
            "density_rise", 1.0, "the field yield holds the doubt of the curve", kind="assumption"
        )
        return
    b.cell("density_part", "methods", row_id, ("part",), exact=True)
    b.step("density_rise", density.rises_with_yield, "curve", "curve_error", "density_part")


def _of_pieces(b: Builder, row: WoodChar, thickness: float) -> bool:
    """Whether the density of its char follows from that of solid pieces: of wood that is no mere
    grain, such as sawdust.
    """
    if not b.row.woody or not (b.row.basic_density is not None or own_density(b.lot)):
        return False
    _, retention = b.tables.method("char-retention", CharRetention)
    grain = b.row.form in row.packing_of_form and thickness < retention.fine_below.mid
    return not (grain and b.row.bulk_density)


def _wood(b: Builder, row_id: str, row: WoodChar, thickness: float) -> None:
    crumbles = b.lot.decay is not None and b.lot.decay >= row.crumbles_from.mid
    oven_dry = bind_oven_dry_density(b)
    _lump_share(b, row_id, row, crumbles)
    lump = b.step("lump_density", density.lump_density, oven_dry, "lump_share", "density_rise")
    if in_bark(b) and not own_density(b.lot):
        lump = _with_bark(b, row_id)
    path: tuple[str, ...]
    if crumbles:
        path = ("packing_crumbled",)
    elif b.row.form in row.packing_of_form:
        path = ("packing_of_form", b.row.form)
    else:
        path = ("packing_thin",) if thickness < row.thin_below.mid else ("packing",)
    b.cell("char_packing", "methods", row_id, path, key=burn_key("packing"))
    b.step("char_density", density.heaped_density, lump, "char_packing")


def _lump_share(b: Builder, row_id: str, row: WoodChar, crumbles: bool) -> None:
    if crumbles:
        b.cell("lump_share", "methods", row_id, ("lump_crumbled",))
        return
    if b.evidence.class_ in row.lump_of_class:
        b.cell("lump_share", "methods", row_id, ("lump_of_class", b.evidence.class_))
        return
    key = method_key(row_id, "lump")
    temperature = b.inputs["temperature"].mid
    if not row.lump_cool_at.mid < temperature < row.lump_hot_at.mid:
        name = "lump_cool" if temperature <= row.lump_cool_at.mid else "lump_hot"
        b.cell("lump_share", "methods", row_id, (name,), key=key)
        return
    # the shares were read of chars whose temperature nobody told: its doubt is part of theirs
    b.known("density_temperature", temperature, "middle of the temperature", "degC", "assumption")
    for name in ("cool", "hot"):
        b.cell(f"lump_{name}", "methods", row_id, (f"lump_{name}",), key=key)
        b.cell(f"lump_{name}_at", "methods", row_id, (f"lump_{name}_at",), exact=True)
    b.step(
        "lump_share",
        density.lump_share,
        "density_temperature",
        "lump_cool",
        "lump_hot",
        "lump_cool_at",
        "lump_hot_at",
    )


def _with_bark(b: Builder, row_id: str) -> str:
    b.cell("bark_density", "materials", b.row_id, ("bark_density",))
    b.cell("bark_volume", "materials", b.row_id, ("bark_volume",))
    bind_bark_left(b)
    # bark shrinks as the wood under it does, so that both are off to the same side
    key = method_key(row_id, "lump")
    b.cell("bark_lump_share", "methods", row_id, ("lump_of_class", BARK), key=key)
    return b.step(
        "lump_density_in_bark",
        density.lump_density_in_bark,
        "lump_density",
        "density",
        "bark_density",
        "bark_volume",
        "bark_left",
        "bark_lump_share",
        "density_rise",
    )


def _by_balance(b: Builder, row_id: str) -> bool:
    """Char of matter whose heap is known and whose pieces are not."""
    own = b.lot.measured.bulk_density if b.lot.measured is not None else None
    if own is not None:
        feed = b.given("feed_density", own, "measured.bulk_density", error=b.tools.density.mid)
    elif b.row.bulk_density:
        key = "loose" if "loose" in b.row.bulk_density else next(iter(b.row.bulk_density))
        feed = b.cell("feed_density", "materials", b.row_id, ("bulk_density", key))
    else:
        return False
    b.cell("heap_lost", "methods", row_id, ("heap_lost",))
    b.step(
        "char_density",
        density.by_balance,
        feed,
        "ash",
        "ash_kept",
        "curve",
        "density_rise",
        "heap_lost",
    )
    return True
