"""An explanation in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..model.explanation import Contribution, Explanation, Term
from ..quantities.estimate import Estimate
from ..quantities.format import Units
from ..quantities.units import find_unit
from ..words import Quantity, Reader
from .layout import wrapped
from .sources import KNOWN

_WRITTEN_OUT = ".4g"


def explanation_text(found: Explanation, units: Units = "metric", language: str = "en") -> str:
    """How a figure came about, for a person: the figure, its parts, the widest doubts first, then
    every step.
    """
    reader = Reader(units, language)
    say = reader.say
    figure = Estimate(found.low, found.mid, found.high, found.unit)
    lines = [wrapped(f"{found.figure}: {reader.word(figure)}"), ""]
    if len(found.parts) > 1:
        lines.append(say("why.made-of"))
        for name, value in found.parts:
            part = say("why.part", name=name, value=Quantity(value, found.unit))
            lines.append(wrapped(part, "  - "))
        lines.append("")
    lines.append(say("why.uncertain"))
    lines += [text for entry in found.inputs if entry.shows for text in _doubt(entry, reader)]
    lines += ["", say("why.given")]
    lines += [text for entry in found.inputs if not entry.shows for text in _doubt(entry, reader)]
    lines += ["", say("why.steps")]
    unit_of = {step.output: step.unit for step in found.steps}
    unit_of |= {entry.name: entry.unit for entry in found.inputs}
    named = len(found.parts) > 1
    lines += [wrapped(_step(step, unit_of, named, reader), "  - ") for step in found.steps]
    if found.notes:
        lines += ["", *(wrapped(reader.word(note), "  - ") for note in found.notes)]
    return "\n".join(lines) + "\n"


def _step(step: Term, unit_of: Mapping[str, str], named: bool, reader: Reader) -> str:
    given = ", ".join(
        f"{name} {_amount(value, unit_of.get(name, ''), reader, bare=True)}"
        for name, value in step.inputs
    )
    return reader.say(
        "why.step",
        lot=f"{step.lot}: " if step.lot and named else "",
        output=step.output,
        value=_amount(step.value, step.unit, reader),
        formula=step.formula,
        reference=step.reference,
        given=given,
    )


def _amount(value: float, unit: str, reader: Reader, bare: bool = False) -> str:
    """A value of a chain with its unit, in the reader's units where they are known."""
    lead = "bare " if bare else ""
    if unit not in ("", "1") and find_unit(unit) is not None:
        return reader.word(Quantity(float(value), unit), f"{lead}{_WRITTEN_OUT}")
    plain = reader.word(float(value), _WRITTEN_OUT)
    return plain if bare or unit in ("", "1") else f"{plain} {unit}"


def _doubt(each: Contribution, reader: Reader) -> Iterator[str]:
    between = ""
    if each.low != each.high:
        low, high = (_amount(v, each.unit, reader, bare=True) for v in (each.low, each.high))
        between = reader.say("why.between", low=low, high=high)
    yield wrapped(
        reader.say(
            "why.input",
            share=f"{reader.word(100 * each.share, '3.0f')} % " if each.shows else "",
            name=each.name.replace("_", " "),
            lot=f" ({each.lot})" if each.lot else "",
            between=between,
            value=_amount(each.mid, each.unit, reader),
            whence=_whence(each),
        ),
        "  - ",
    )


def _whence(each: Contribution) -> str:
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
