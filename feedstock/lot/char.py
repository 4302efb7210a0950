"""From dry mass to char: yield by the curve and the burner, what the fire leaves, volume and
carbon.
"""

from __future__ import annotations

import math

from ..errors import InputError, Problem
from ..model.inputs.burn import Burn
from ..physics import char
from ..quantities.cell import Cell
from ..tables.rows.burner import Burner
from ..tables.rows.methods.char import CarbonCurve, CharRetention, YieldCurve
from ..uncertainty.inputs import Origin, error_input, exact_input, interval_input
from ..uncertainty.keys import burn_key, method_key
from .char_volume import bind_char_volume
from .model import Builder


def bind_char(
    b: Builder, burner_row: str, burn: Burn | None, fineness: str, thickness: float
) -> str:
    """Steps that end in `char_yield`, `char_mass`, `char_volume` and `char_carbon`; the step that
    the char volume is counted per by own batches.
    """
    burner = b.tables.row("burners", burner_row, Burner)
    row_id, curve = b.tables.method("yield-curve", YieldCurve)
    _temperature(b, burner_row, burner, burn, curve)
    if b.lot.measured is not None and b.lot.measured.ash is not None:
        b.given("ash", b.lot.measured.ash, "measured.ash", "logit", b.tools.ash.mid)
    elif b.row.ash is not None:
        b.cell("ash", "materials", b.row_id, ("ash",))
    else:
        raise b.refuse(
            "no-ash",
            f"the tables hold no ash of {b.lot.material}",
            "Give measured: {ash: 2 %}, or a table that has it.",
            "material",
        )
    b.cell("ash_kept", "burners", burner_row, ("ash_kept",))
    _organic_yield(b, row_id, curve, burner)
    _retention(b, burner_row, burner, _as_lit(b, burner, burn, fineness), curve, row_id)
    b.step("char_yield", char.char_yield, "ash", "organic_yield", "char_retention", "ash_kept")
    b.step("char_mass", char.char_mass, "dry_mass", "char_yield")
    b.step("organic_char", char.organic_char, "dry_mass", "ash", "organic_yield", "char_retention")
    _carbon(b)
    return bind_char_volume(b, thickness)


def _temperature(
    b: Builder, burner_row: str, burner: Burner, burn: Burn | None, curve: YieldCurve
) -> None:
    """`temperature` with its doubt, and `curve_temperature`, which has none where the field yield
    already holds it.
    """
    lowest, highest = curve.lowest.mid, curve.highest.mid
    if burn is not None and burn.temperature is not None:
        stated = burn.temperature
        if stated.mid < lowest or stated.mid > highest:
            raise InputError(
                [
                    Problem(
                        "out-of-range",
                        f"'{stated.text}' is outside the {lowest:.0f} to {highest:.0f} "
                        "degC in which a char yield can be told",
                        "Give the highest temperature of the char bed in that range, "
                        "or leave it out.",
                        "burn.temperature",
                    )
                ]
            )
        error = b.tools.temperature.mid
        low, high = (
            (stated.low, stated.high)
            if stated.low is not None and stated.high is not None
            else (stated.mid - error, stated.mid + error)
        )
        origin = Origin("field", f"burn.temperature: {stated.text}", field="burn.temperature")
        low, mid, high = max(low, lowest), stated.mid, min(high, highest)
    else:
        cell = burner.temperature
        origin = b.tables.origin("burners", burner_row, ("temperature",), cell)
        low, mid, high = max(cell.low, lowest), cell.mid, min(cell.high, highest)
    key = burn_key("temperature")
    b.add(interval_input("temperature", (low, mid, high), "linear", key, origin, "degC"))
    if "temperature" in burner.contains:
        text = f"{origin.text}; its doubt is part of the field yield"
        whole = Origin("table", text, row=burner_row)
        b.add(exact_input("curve_temperature", mid, whole, "degC"))


def _curve_temperature(b: Builder) -> str:
    return "curve_temperature" if "curve_temperature" in b.inputs else "temperature"


def _organic_yield(b: Builder, row_id: str, curve: YieldCurve, burner: Burner) -> None:
    group = curve.groups.get(b.row.class_ or "")
    if group is None:
        raise b.refuse(
            "no-class",
            f"the yield curve knows no class '{b.row.class_}'",
            "Give the row a class that the method lists.",
            "material",
        )
    for name in ("floor", "amplitude", "rate", "lignin"):
        b.cell(f"curve_{name}", "methods", row_id, (name,), exact=True)
    _lignin(b, row_id, curve, group)
    offset = curve.offsets.get(group)
    if offset is not None:
        b.cell("curve_offset", "methods", row_id, ("offsets", group), exact=True)
    else:
        b.known("curve_offset", 0.0, f"no offset for {group}", kind="assumption")
    b.step(
        "curve",
        char.organic_yield,
        _curve_temperature(b),
        "lignin",
        "curve_floor",
        "curve_amplitude",
        "curve_rate",
        "curve_lignin",
        "curve_offset",
        scale="logit",
    )
    _curve_error(b, row_id, curve, group, burner)
    b.step("organic_yield", char.shifted, "curve", "curve_error")


def _lignin(b: Builder, row_id: str, curve: YieldCurve, group: str) -> None:
    if curve.lignin.mid == 0:
        b.known("lignin", 0.0, "this curve does not use lignin", kind="assumption")
    elif b.row.lignin is not None:
        b.cell("lignin", "materials", b.row_id, ("lignin",))
    else:
        b.cell("lignin", "methods", row_id, ("lignin_of", group))


def _error_of(curve: YieldCurve, group: str, temperature: float) -> tuple[Cell, int]:
    """The half-width of an unseen study for a group of classes at a temperature, and its place in
    the row.
    """
    bands = curve.error[group]
    for number, band in enumerate(bands):
        if band.to is None or temperature < band.to.mid:
            return band.error, number
    return bands[-1].error, len(bands) - 1


def _curve_error(b: Builder, row_id: str, curve: YieldCurve, group: str, burner: Burner) -> None:
    """The laboratory scatter; with a field yield only what the feed's class has beyond the
    reference feed's, so that nothing is counted twice.
    """
    cell, number = _error_of(curve, group, b.inputs["temperature"].mid)
    origin = b.tables.origin("methods", row_id, ("error", group, number, "error"), cell)
    half = _with_ash(b, curve, group, cell.mid)
    if burner.field_yield is None or burner.reference is None:
        common = curve.common.mid
        shared = cell.mid**2 * common
        parts = {"common": math.sqrt(shared), group: math.sqrt(half**2 - shared)}
    else:
        reference, _ = _error_of(
            curve, curve.groups[burner.reference.class_], b.inputs["temperature"].mid
        )
        parts = {"common": 0.0, group: math.sqrt(max(half**2 - reference.mid**2, 0.0))}
    for name, (key, error) in zip(
        ("curve_error_common", "curve_error_class"), parts.items(), strict=True
    ):
        b.add(error_input(name, error, method_key(row_id, key), origin))
    b.step(
        "curve_error", char.total_error, "curve_error_common", "curve_error_class", scale="linear"
    )


def _with_ash(b: Builder, curve: YieldCurve, group: str, half: float) -> float:
    """The half-width for the ash of this feed: more where it is high, and more where it is that of
    the class instead of a measured one.
    """
    high, more = curve.ash_high, curve.ash_high_more
    if high is not None and more is not None and b.inputs["ash"].mid > high.mid:
        half += more.mid
    measured = b.lot.measured is not None and b.lot.measured.ash is not None
    if not measured and group in curve.ash_error:
        half = math.hypot(half, curve.ash_error[group].mid)
    return half


def _as_lit(b: Builder, burner: Burner, burn: Burn | None, fineness: str) -> str:
    """The name of the retention: fine feed that is lit from the top keeps more than what falls
    through a flame.
    """
    firing = burn.firing if burn is not None and burn.firing is not None else burner.firing[0]
    _, retention = b.tables.method("char-retention", CharRetention)
    if fineness == "fine" and firing == "top-lit" and retention.fine_top_lit is not None:
        return "fine_top_lit"
    return fineness


def _retention(
    b: Builder, burner_row: str, burner: Burner, fineness: str, curve: YieldCurve, row_id: str
) -> None:
    """The step `char_retention`: the burner's own, times how this feed's fineness compares, less
    brands where they are not in it.
    """
    retention_row, row = b.tables.method("char-retention", CharRetention)
    brands_counted = "brands" in burner.contains
    out = "char_retention_with_brands" if not brands_counted else "char_retention"
    if burner.field_yield is not None and burner.reference is not None:
        _retention_of_field(b, burner_row, burner, curve, row_id)
        reference = "thick" if burner.reference.thickness.mid > row.thick_above.mid else "medium"
    elif burner.char_retention is not None:
        b.cell("retention_by_burner", "burners", burner_row, ("char_retention",))
        reference = "thick"
    else:
        key = burn_key("retention", fineness)
        b.cell(out, "methods", retention_row, (fineness,), key=key)
        reference = ""
    if reference:
        fineness = reference if burner.air == "closed" else fineness
        same = fineness == reference
        b.cell(
            "retention_of_feed",
            "methods",
            retention_row,
            (fineness,),
            key=burn_key("retention", fineness),
            exact=same,
        )
        b.cell("retention_of_reference", "methods", retention_row, (reference,), exact=True)
        b.step(
            out,
            char.retention_of_feed,
            "retention_by_burner",
            "retention_of_feed",
            "retention_of_reference",
        )
    if not brands_counted:
        b.cell("brands", "burners", burner_row, ("brands",))
        b.step("char_retention", char.without_brands, out, "brands")


def _retention_of_field(
    b: Builder, burner_row: str, burner: Burner, curve: YieldCurve, row_id: str
) -> None:
    """The retention behind the published field yield of the burner's reference feed."""
    assert burner.field_yield is not None
    assert burner.reference is not None
    b.cell("field_yield", "burners", burner_row, ("field_yield",))
    b.cell(
        "reference_ash",
        "burners",
        burner_row,
        ("reference", "ash"),
        exact=True,
    )
    group = curve.groups[burner.reference.class_]
    offset = curve.offsets.get(group)
    b.known(
        "reference_offset",
        offset.mid if offset is not None else 0.0,
        "offset of the reference feed",
        kind="assumption",
    )
    lignin = curve.lignin_of.get(group)
    b.known(
        "reference_lignin",
        lignin.mid if lignin is not None else 0.0,
        "lignin of the reference feed",
        kind="assumption",
    )
    b.cell("reference_temperature", "burners", burner_row, ("temperature",), exact=True)
    b.step(
        "reference_curve",
        char.organic_yield,
        "reference_temperature",
        "reference_lignin",
        "curve_floor",
        "curve_amplitude",
        "curve_rate",
        "curve_lignin",
        "reference_offset",
    )
    b.step(
        "retention_by_burner",
        char.retention_behind,
        "field_yield",
        "reference_ash",
        "reference_curve",
        "ash_kept",
    )


def _carbon(b: Builder) -> None:
    row_id, curve = b.tables.method("char-carbon", CarbonCurve)
    group = curve.groups.get(b.row.class_ or "", "wood")
    row = curve.curves[group]
    for name in ("top", "span", "rate"):
        b.cell(
            f"carbon_{name}",
            "methods",
            row_id,
            ("curves", group, name),
            exact=True,
        )
    error = row.error
    origin = b.tables.origin("methods", row_id, ("curves", group, "error"), error)
    along = (
        0.0
        if b.inputs["curve_error_class"].exact or curve.with_yield is None
        else (curve.with_yield.mid)
    )
    own = error.mid * math.sqrt(1.0 - along**2)
    if along:
        # what is off with the yield has its key, and the other sign
        yields, rows = b.tables.method("yield-curve", YieldCurve)
        key = method_key(yields, rows.groups[b.row.class_ or ""])
        b.add(error_input("carbon_error_with_yield", along * error.mid, key, origin))
        b.add(error_input("carbon_error_own", own, method_key(row_id, group), origin))
        b.step(
            "carbon_error",
            char.total_error,
            "carbon_error_with_yield",
            "carbon_error_own",
            scale="linear",
        )
    else:
        b.add(error_input("carbon_error", own, method_key(row_id, group), origin))
    b.step(
        "carbon_of_char",
        char.carbon_in_char,
        "temperature",
        "carbon_top",
        "carbon_span",
        "carbon_rate",
        "carbon_error",
        scale="logit",
    )
    b.step("char_carbon", char.char_carbon, "organic_char", "carbon_of_char")
    b.step("carbon_kept", char.carbon_kept, "char_carbon", "dry_mass", scale="logit")
