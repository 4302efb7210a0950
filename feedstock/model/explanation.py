"""How a figure came about, as data and in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..quantities.cell import BY_RULE
from ..quantities.estimate import Estimate, scaled_estimate
from ..quantities.frozen import frozen
from ..quantities.units import find_unit
from ..uncertainty.inputs import Origin
from ..words import Message, Quantity, Reader
from ..words.layout import wrapped


@frozen
class Term:
    """One step of an explanation: what was computed, by which formula, from which values."""

    output: str
    value: float
    unit: str
    formula: str
    reference: str
    inputs: tuple[tuple[str, float], ...]
    lot: str = ""


@frozen
class Contribution:
    """One input of an explanation: its three values, where it comes from, and its share of the
    figure's width.
    """

    name: str
    low: float
    mid: float
    high: float
    unit: str
    key: str
    share: float
    origin: Origin
    lot: str = ""

    @property
    def shows(self) -> bool:
        """Whether its share is more than nothing when it is told in whole per cents."""
        return self.share >= 0.005


@frozen
class Explanation:
    """How a figure came about: its parts (one per lot), the steps in order, and the inputs, widest
    doubt first.

    The shares of the inputs add to 1. Inputs of one key share that key's part of the width; it
    stands at the first. `advice` is the one measurement that would narrow the figure most, None
    where none would. `str()` is one screen in English and metric.
    """

    figure: str
    unit: str
    low: float
    mid: float
    high: float
    parts: tuple[tuple[str, float], ...]
    steps: tuple[Term, ...]
    inputs: tuple[Contribution, ...]
    notes: tuple[Message, ...] = ()
    advice: Message | None = None

    @property
    def value(self) -> Estimate:
        """The figure with its interval."""
        return scaled_estimate(self.low, self.mid, self.high, self.unit)

    @property
    def contributions(self) -> tuple[Contribution, ...]:
        """The inputs that make its width, widest doubt first; the others are given or without
        much doubt.
        """
        return tuple(entry for entry in self.inputs if entry.shows)

    @property
    def sources(self) -> tuple[str, ...]:
        """Every source that a value of it comes from, once each, in the order of the inputs."""
        named = (source for entry in self.inputs for source in entry.origin.sources)
        return tuple(dict.fromkeys(named))

    def __str__(self) -> str:
        return one_screen(self, Reader())

    def full(self) -> str:
        """The whole chain down to the last cell, in English and metric."""
        return whole_chain(self, Reader())


_WRITTEN_OUT = ".4g"


_FEW_LOTS, _FEW_DOUBTS = 6, 5


def one_screen(explanation: Explanation, reader: Reader) -> str:
    """A figure on one screen: its value, the lots that it is made of, its widest doubts with where
    they come from, and what to measure.
    """
    say = reader.say
    lines = [wrapped(say("why.head", figure=explanation.figure, value=explanation.value))]
    if len(explanation.parts) > 1:
        most = sorted(explanation.parts, key=lambda part: -part[1])
        named = [
            say("why.short-part", name=name, value=Quantity(value, explanation.unit))
            for name, value in most[:_FEW_LOTS]
        ]
        left = len(most) - len(named)
        more = [say("why.more-lots", count=left)] if left else []
        lines.append(wrapped(say("why.of-lots", parts=(*named, *more)), "  ", "    "))
    lines += ["", say("why.widest")]
    lines += [_short_doubt(entry, reader) for entry in explanation.contributions[:_FEW_DOUBTS]]
    left = len(explanation.contributions) - _FEW_DOUBTS
    if left > 0:
        lines.append(say("why.more-doubts", count=left))
    if explanation.advice is not None:
        lines += ["", wrapped(say("sheet.advice", advice=reader.word(explanation.advice, "lower")))]
    lines += ["", say("why.more")]
    return "\n".join(lines) + "\n"


def _short_doubt(entry: Contribution, reader: Reader) -> str:
    """One line, or two where the source is long."""
    low, high = (_amount(v, entry.unit, reader, bare=True) for v in (entry.low, entry.high))
    text = reader.say(
        "why.doubt",
        share=reader.word(100 * entry.share, ".0f"),
        name=entry.name.replace("_", " "),
        lot=f" ({entry.lot})" if entry.lot else "",
        between=reader.say("why.between", low=low, high=high),
        value=_amount(entry.mid, entry.unit, reader),
        whence=_short_origin(entry),
    )
    return wrapped(text, "  - ")


def _short_origin(entry: Contribution) -> str:
    """Where a value comes from, its sources by their keys: `feedstock tables show KEY` has them."""
    origin = entry.origin
    if origin.kind != "table":
        return origin.text
    known = _known(origin.known)
    return ", ".join(part for part in (origin.text, *origin.keys, known) if part)


def whole_chain(explanation: Explanation, reader: Reader) -> str:
    """How a figure came about, for a person: the figure, its parts, the widest doubts first, then
    every step.
    """
    say = reader.say
    lines = [wrapped(say("why.head", figure=explanation.figure, value=explanation.value)), ""]
    if len(explanation.parts) > 1:
        lines.append(say("why.made-of"))
        for name, value in explanation.parts:
            part = say("why.part", name=name, value=Quantity(value, explanation.unit))
            lines.append(wrapped(part, "  - "))
        lines.append("")
    lines.append(say("why.uncertain"))
    lines += [text for entry in explanation.inputs if entry.shows for text in _doubt(entry, reader)]
    lines += ["", say("why.given")]
    lines += [
        text for entry in explanation.inputs if not entry.shows for text in _doubt(entry, reader)
    ]
    lines += ["", say("why.steps")]
    unit_of = {step.output: step.unit for step in explanation.steps}
    unit_of |= {entry.name: entry.unit for entry in explanation.inputs}
    named = len(explanation.parts) > 1
    lines += [wrapped(_step(step, unit_of, named, reader), "  - ") for step in explanation.steps]
    if explanation.notes:
        lines += ["", *(wrapped(reader.word(note), "  - ") for note in explanation.notes)]
    return "\n".join(lines) + "\n"


def _step(step: Term, unit_of: Mapping[str, str], named: bool, reader: Reader) -> str:
    inputs = ", ".join(
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
        given=inputs,
    )


def _amount(value: float, unit: str, reader: Reader, bare: bool = False) -> str:
    """A value of a chain with its unit, in the reader's units where they are known."""
    lead = "bare " if bare else ""
    if unit not in ("", "1") and find_unit(unit) is not None:
        return reader.word(Quantity(float(value), unit), f"{lead}{_WRITTEN_OUT}")
    plain = reader.word(float(value), _WRITTEN_OUT)
    return plain if bare or unit in ("", "1") else f"{plain} {unit}"


def _doubt(entry: Contribution, reader: Reader) -> Iterator[str]:
    between = ""
    if entry.low != entry.high:
        low, high = (_amount(v, entry.unit, reader, bare=True) for v in (entry.low, entry.high))
        between = reader.say("why.between", low=low, high=high)
    yield wrapped(
        reader.say(
            "why.input",
            share=f"{reader.word(100 * entry.share, '3.0f')} % " if entry.shows else "",
            name=entry.name.replace("_", " "),
            lot=f" ({entry.lot})" if entry.lot else "",
            between=between,
            value=_amount(entry.mid, entry.unit, reader),
            whence=_whence(entry),
        ),
        "  - ",
    )


def _whence(entry: Contribution) -> str:
    origin = entry.origin
    if origin.kind != "table" or not origin.file:
        return origin.text
    place = f"{origin.file}:{origin.line}" if origin.line else origin.file
    known = _known(origin.known)
    kind = f", {known}" if known and known not in origin.locator else ""
    inherited = f", from the row {origin.inherited_from}" if origin.inherited_from else ""
    source = "; ".join(origin.sources) or origin.note
    ends = f"; {_ends(origin.ends)}" if origin.ends and entry.low != entry.high else ""
    return (
        f"{origin.text} of {origin.set} {origin.version}{inherited} at {place}: "
        f"{source}{', ' + origin.locator if origin.locator else ''}{kind}{ends}"
    )


def _ends(ends: str) -> str:
    """Where low and high come from, which is seldom where the middle does."""
    if ends.startswith(BY_RULE):
        return f"ends by the rule {ends.removeprefix(BY_RULE)}"
    return {"read": "ends read", "derived": "ends derived"}.get(ends, "ends judged")


def _known(known: str) -> str:
    return {
        "memory": "from memory",
        "practice": "common practice",
        "judgement": "judgement",
        "derived": "derived",
    }.get(known, "")
