"""An explanation in words."""

from __future__ import annotations

from collections.abc import Iterator

from ..model.explanation import Doubt, Explanation
from ..quantities.format import Units, amount, in_units, rounded
from .layout import wrapped
from .sources import KNOWN


def explanation_text(found: Explanation, units: Units = "metric") -> str:
    """How a figure came about, for a person: the figure, its parts, the widest doubts first, then
    every step.
    """
    from ..quantities.estimate import Estimate

    figure = Estimate(found.low, found.mid, found.high, found.unit)
    lines = [wrapped(f"{found.figure}: {amount(figure, units)}"), ""]
    if len(found.parts) > 1:
        lines.append("Made of")
        lines += [
            wrapped(
                f"{name}: likely about "
                f"{rounded(in_units(Estimate(v, v, v, found.unit), units).mid_value, 0)} "
                f"{in_units(figure, units).unit}",
                "  - ",
            )
            for name, v in found.parts
        ]
        lines.append("")
    lines.append("What makes it uncertain (share of the width)")
    lines += [text for each in found.inputs if each.shows for text in _doubt(each)]
    lines += ["", "Taken as given, or with little doubt"]
    lines += [text for each in found.inputs if not each.shows for text in _doubt(each)]
    lines += ["", "Steps"]
    for step in found.steps:
        given = ", ".join(f"{name} {value:.4g}" for name, value in step.inputs)
        lot = f"{step.lot}: " if step.lot and len(found.parts) > 1 else ""
        unit = f" {step.unit}" if step.unit not in ("", "1") else ""
        lines.append(
            wrapped(
                f"{lot}{step.output} = {step.value:.4g}{unit}: {step.formula} "
                f"({step.reference}) from {given}",
                "  - ",
            )
        )
    lines += ["", *(wrapped(note, "  - ") for note in found.notes)] if found.notes else []
    return "\n".join(lines) + "\n"


def _doubt(each: Doubt) -> Iterator[str]:
    unit = f" {each.unit}" if each.unit not in ("", "1") else ""
    width = f"{each.low:.4g} to {each.high:.4g}, middle " if each.low != each.high else ""
    lot = f" ({each.lot})" if each.lot else ""
    share = f"{100 * each.share:3.0f} % " if each.shows else ""
    yield wrapped(
        f"{share}{each.name.replace('_', ' ')}{lot}: {width}{each.mid:.4g}{unit}; {_whence(each)}",
        "  - ",
    )


def _whence(each: Doubt) -> str:
    origin = each.origin
    if origin.kind != "table" or not origin.file:
        return origin.text
    place = f"{origin.file}:{origin.line}" if origin.line else origin.file
    kind = (
        f", {KNOWN[origin.known]}"
        if KNOWN.get(origin.known) and KNOWN[origin.known] not in origin.locator
        else ""
    )
    inherited = f", from the row {origin.inherited_from}" if origin.inherited_from else ""
    source = "; ".join(origin.sources) or origin.note
    return (
        f"{origin.text} of {origin.set} {origin.version}{inherited} at {place}: "
        f"{source}{', ' + origin.locator if origin.locator else ''}{kind}"
    )
