"""What comes after the burn as plain text: quality, carbon, the mix, the beds, and what batches
taught.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.char import Carbon, Qualities, Quality
from ..model.compost import BedPlan, Blend
from ..model.experience import BatchFigure, Experience, ForecastCheck, Learned
from ..quantities.format import Units, amount, in_units, rounded
from .layout import listed, wrapped
from .sources import Sources

FIGURES = {
    "volume-per-feed": "litres of sorted char per kg of dry feed",
    "mass-per-feed": "kg of dried char per kg of dry feed",
    "burning-rate": "kg of dry feed per m2 of rim and minute",
}


def quality_text(found: Qualities, carbon: Carbon | None = None, units: Units = "metric") -> str:
    """The forecast of the char, lot by lot, the classes, the first sort, what to order, and its
    carbon.
    """
    sources = Sources()
    lines: list[str] = []
    for lot in found.lots:
        lines += [*_quality(lot, sources), ""]
    if found.sort is not None:
        lines.append(
            wrapped(f"By hand and eye: {found.sort.into} {sources.cite(found.sort.sources)}")
        )
        lines += [
            wrapped(each, "  - ")
            for each in (
                *found.sort.because,
                *(f"also seen: {other}" for other in found.sort.others),
                *found.sort.always,
            )
        ] + [""]
    lines.append("What only a laboratory can tell, and what to order")
    lines += [wrapped(f"{name}: {text}", "  - ") for name, text in found.laboratory.items()]
    lines += [wrapped(note, "  - ") for note in found.notes]
    if carbon is not None:
        lines += ["", *_carbon(carbon, units, sources)]
    return "\n".join([*lines, "", "Sources", *sources.lines()]) + "\n"


def _quality(lot: Quality, sources: Sources) -> Iterator[str]:
    yield wrapped(
        f"{lot.lot}: char made at {amount(lot.temperature)}"
        + ("" if lot.biochar else "; too cold to be called biochar")
    )
    yield wrapped(
        f"molar H/C {_plain(lot.hydrogen_to_carbon)}, O/C {_plain(lot.oxygen_to_carbon)}",
        "  ratios     ",
    )
    yield wrapped(
        f"organic carbon {amount(lot.organic_carbon)}; ash {amount(lot.ash)}", "  dry matter "
    )
    yield wrapped(
        f"volatile matter {amount(lot.volatile_matter)}; fixed carbon {amount(lot.fixed_carbon)}",
        "             ",
    )
    if lot.high_ash:
        yield wrapped("rich in ash: it limes and carries salts", "  - ")
    for each in lot.classes:
        yield wrapped(
            f"{each.name} ({each.version}): what can be forecast of it is "
            f"{_MEETS[each.meets]} ({each.why}) {sources.cite(each.sources)}; not told "
            f"here: {listed(each.not_forecast)}",
            "  - ",
        )


_MEETS = {"likely": "likely met", "may": "perhaps met", "not likely": "not likely met"}


def _plain(estimate: object) -> str:
    low, mid, high = (getattr(estimate, f"{name}_value") for name in ("low", "mid", "high"))
    return (
        f"{rounded(low, high - low)} to {rounded(high, high - low)}, likely about "
        f"{rounded(mid, high - low)}"
    )


def _carbon(found: Carbon, units: Units, sources: Sources) -> Iterator[str]:
    yield wrapped(f"Carbon {sources.cite(found.sources)}")
    yield wrapped(
        f"organic carbon in the char: {amount(found.organic_carbon, units)}", "  now          "
    )
    for name, left, dioxide in (
        ("by default   ", found.by_default, found.by_default_dioxide),
        ("by H/C       ", found.by_ratio, found.by_ratio_dioxide),
    ):
        if left is not None and dioxide is not None:
            yield wrapped(
                f"still in the soil after {found.years} years: {amount(left, units)}; "
                f"the carbon of so much carbon dioxide: {amount(dioxide, units)}",
                f"  {name}",
            )
    yield wrapped(f"mean soil temperature {amount(found.soil_temperature)}", "  soil         ")
    yield wrapped(found.scope, "  ")
    yield from (wrapped(note, "  - ") for note in found.notes)


def blend_text(found: Blend, bed: BedPlan | None = None, units: Units = "metric") -> str:
    """The mix: what to gather, water, C:N, the heap, the time; and the beds."""
    sources = Sources()
    lines = [
        wrapped(
            f"Char in compost{f', wanted: {found.wanted}' if found.wanted else ''} "
            f"{sources.cite(found.sources)}"
        ),
        "",
    ]
    for part in (found.char, *found.parts):
        ratio = (
            f"; C:N {_plain(part.carbon_to_nitrogen)}"
            if part.carbon_to_nitrogen is not None
            else ""
        )
        lines.append(
            wrapped(
                f"{part.name}: {amount(part.volume, units)} (as it lies "
                f"{amount(part.mass, units)}; moisture on wet basis "
                f"{amount(part.moisture)}){ratio}",
                "  - ",
            )
        )
    lines += [
        "",
        wrapped(
            f"of the volume {amount(found.char_share)}; of the dry mass "
            f"{amount(found.char_share_mass)}",
            "  char       ",
        ),
        wrapped(f"compost materials: {amount(found.compost_needed, units)}", "  to gather  "),
        wrapped(f"on wet basis {amount(found.moisture)}", "  moisture   "),
        wrapped(f"to add: {amount(found.water_to_add, units)}", "  water      "),
    ]
    if found.carbon_to_nitrogen is not None:
        lines.append(
            wrapped(f"{_plain(found.carbon_to_nitrogen)}, without the char", "  C:N        ")
        )
    if found.nitrogen_tied_up.high_value > 0:
        lines.append(
            wrapped(f"tied up at first: {amount(found.nitrogen_tied_up, units)}", "  nitrogen   ")
        )
    lines += [
        wrapped(
            f"{amount(found.volume, units)}; a {found.shape}, height "
            f"{amount(found.height, units)}; width {amount(found.width, units)}"
            + (f"; length {amount(found.length, units)}" if found.length is not None else ""),
            "  heap       ",
        ),
        wrapped(
            f"when it is used {amount(found.volume_when_used, units)}; after "
            f"{amount(found.until_used)}",
            "  later      ",
        ),
        wrapped(f"to {amount(found.crush_to, units)}, wet", "  crush      "),
    ]
    if found.suggestion is not None:
        added = listed(
            f"about {rounded(litres, litres)} L of {name} ({rounded(mass, mass)} kg)"
            for name, mass, litres in found.suggestion.add
        )
        lines.append(
            wrapped(
                (f"add {added}. " if found.suggestion.add else "") + found.suggestion.text,
                "  targets    ",
            )
        )
    lines += ["", *(wrapped(each, "  - ") for each in (*found.remarks, *found.notes))]
    if bed is not None:
        lines += ["", *_beds(bed, units, sources)]
    return "\n".join([*lines, "", "Sources", *sources.lines()]) + "\n"


def _beds(found: BedPlan, units: Units, sources: Sources) -> Iterator[str]:
    yield wrapped(f"Beds, at {found.dressing} {sources.cite(found.sources)}")
    yield wrapped(
        f"dry char: {amount(found.char, units)}; it treats {amount(found.area, units)}", "  "
    )
    yield from (wrapped(each, "  - ") for each in found.remarks)


def experience_text(
    found: Experience, check: ForecastCheck | None = None, units: Units = "metric"
) -> str:
    """What was learnt, how much of the forecast is theirs, which records stood apart, and the check
    batch by batch.
    """
    if not found.learned:
        return (
            "\n".join(
                [
                    "No batch taught anything yet: forecasts are those of the tables alone.",
                    *(wrapped(note, "  - ") for note in found.notes),
                ]
            )
            + "\n"
        )
    head = f"What the batches{f' of {found.person}' if found.person else ''} taught"
    lines = [head, *(line for each in found.learned for line in _learned(each))]
    for row in found.wild:
        lines.append(
            wrapped(
                f"{row.batch} stands apart in {FIGURES[row.figure]}: "
                f"{amount(row.measured, units)} where {amount(row.predicted, units)} "
                "was forecast. It counted for "
                f"{100 * row.weight:.0f} % of a record. Look whether it was measured "
                "as the others were.",
                "  ! ",
            )
        )
    lines += [wrapped(note, "  - ") for note in found.notes]
    if check is not None:
        lines += ["", *check_lines(check, units)]
    return "\n".join(lines) + "\n"


def _learned(each: Learned) -> Iterator[str]:
    of = f" of {each.feed}" if each.feed else ""
    yield wrapped(
        f"{FIGURES[each.figure]}{of}, "
        f"{each.burner.partition(':')[2].replace('-', ' ')}: {_plain(each.factor)} "
        f"times the tables' forecast, from {each.batches} "
        f"batch{'es' if each.batches != 1 else ''}",
        "  - ",
    )
    yield wrapped(
        f"of what can be learnt, {each.theirs:.0f} % is theirs and "
        f"{100 - each.theirs:.0f} % still the tables'; the rest of the width is new in "
        "every batch",
        "    ",
    )


def check_lines(found: ForecastCheck, units: Units = "metric") -> Iterator[str]:
    """The table of predicted against measured, and what it comes to."""
    yield f"{'batch':<14}{'figure':<17}{'forecast':<29}{'measured':<11}inside"
    for row in found.rows:
        yield _row(row, units)
    yield ""
    for each in found.figures:
        yield wrapped(
            f"{each.figure}: {each.within} of {each.batches} inside the 90 % interval; "
            f"measured was {abs(each.bias):.0f} % "
            f"{'more' if each.bias >= 0 else 'less'} than forecast, on the whole",
            "  - ",
        )
    yield from (wrapped(note, "  - ") for note in found.notes)


def _row(row: BatchFigure, units: Units) -> str:
    predicted, measured = in_units(row.predicted, units), in_units(row.measured, units)
    width = predicted.high_value - predicted.low_value
    low, mid, high = (
        rounded(v, width) for v in (predicted.low_value, predicted.mid_value, predicted.high_value)
    )
    unit = predicted.unit.replace("kg/m^2/min", "kg/m2 min")
    inside = (
        "yes"
        if row.predicted.low_value <= row.measured.mid_value <= row.predicted.high_value
        else "no"
    )
    forecast = f"{low} to {high} ({mid}) {unit}"
    line = f"{row.batch[:13]:<14}{row.figure:<17}{forecast:<29}{measured.mid_value:<11.3g}{inside}"
    return line.rstrip()
