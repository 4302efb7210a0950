"""The plan of a burn as plain text, and what to gather: what a person carries to the pit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from ..model.burn_plan import BurnPlan, FeedingStep, Gathering, Loads, Sizing, Split
from ..model.findings import Caution, Finding
from ..quantities.estimate import Estimate
from ..quantities.format import Units
from ..tables.citations import Citation
from ..words import Message, Quantity, Reader
from ..words.layout import wrapped
from .step_lots import lots_of_step


class Cites(Protocol):
    """Numbers sources as they are cited."""

    def cite(self, citations: tuple[Citation, ...]) -> str: ...

    def lines(self) -> Iterator[str]: ...


_BROUGHT = dict.fromkeys(("bed", "layer"), "burn.brought-wood")
"""How what is brought is called by the part that it makes; thin fuel else."""


def plan_text(plan: BurnPlan, units: Units = "metric", language: str = "en") -> str:
    """The whole sheet, with its cautions and sources."""
    from .sources import Sources

    sources, reader = Sources(), Reader(units, language)
    lines = plan_lines(plan, reader, sources, alone=True)
    return "\n".join([*lines, reader.say("page.sources"), *sources.lines()]) + "\n"


_PORTIONS = {"with": "burn.beside", "aside": "burn.in-parts"}
"""How the portions of a part are told that no clock tells apart."""
_WHY = {
    "through": "burn.for-time",
    "bed": "burn.for-the-bed",
    "with": "burn.to-go-with",
    "both": "burn.for-both",
}
"""What is said of a split by why it is done."""
_FULL = 101.0
# so many lots are named in one line
_NAMED = 7
# kg; less raw wood is not worth a line
_SOME_BRANDS = 0.1


def plan_lines(
    plan: BurnPlan | None, reader: Reader, sources: Cites, alone: bool = False
) -> list[str]:
    """The plan as a part of a screen; with `alone` its cautions stand in it, else the screen has
    them.
    """
    if plan is None:
        return []
    lines = [
        reader.say("burn.head", burner=plan.burner, firing=plan.firing),
        wrapped(reader.say("burn.holds", volume=plan.vessel_volume), "  "),
    ]
    notes = _notes(plan.notes, reader)
    if plan.refused:
        return [*lines, "", *_findings(plan.findings, reader, sources), *notes, ""]
    # what is wrong with the plan comes before the plan
    lines += [
        *_figures(plan, reader),
        *_findings(plan.findings, reader, sources),
        "",
        *_before(plan, reader, sources, alone),
        "",
        *_feeding(plan, reader),
        "",
    ]
    lines += [*_timeline(plan, reader), "", *_quench(plan, reader, sources)]
    if alone:
        later = [c for c in plan.cautions if c.stage != "before"]
        lines += _cautions(later, reader, sources, 1)
    lines += ["", *_through(plan, reader)]
    if plan.emissions is not None:
        emissions = f"{reader.word(plan.emissions.text)} {sources.cite(plan.emissions.sources)}"
        lines.append(wrapped(emissions, "  - "))
    return [*lines, *notes, ""]


def _figures(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    say = reader.say
    if plan.char_volume is not None and plan.char_mass is not None:
        yield wrapped(say("burn.leaves", volume=plan.char_volume, mass=plan.char_mass), "  ")
    if plan.fill is not None:
        over = say("burn.over-the-rim") if plan.fill.high_value > _FULL else ""
        yield wrapped(say("burn.full", share=plan.fill, over=over), "  ")
    yield wrapped(_loads(plan.loads, reader), "  ")
    if plan.duration is not None:
        yield wrapped(say("burn.takes", time=plan.duration), "  ")
    if plan.loads.mid > 1 and plan.water is not None and plan.quick_fuel is not None:
        if plan.hours is not None:
            yield wrapped(say("burn.hours", loads=plan.loads.mid, time=plan.hours), "  ")
        yield wrapped(say("burn.of-all", water=plan.water, quick=plan.quick_fuel), "  ")
    if plan.water_heat is not None:
        yield wrapped(say("page.heat", share=plan.water_heat), "  ")


def _loads(loads: Loads, reader: Reader) -> str:
    code = "burn.loads" if loads.low == loads.high else "burn.loads-between"
    return reader.say(code, low=loads.low, mid=loads.mid, high=loads.high)


def _before(plan: BurnPlan, reader: Reader, sources: Cites, alone: bool) -> Iterator[str]:
    say = reader.say
    yield say("burn.before")
    steps = []
    if plan.have_ready is not None:
        steps.append(say("burn.water-ready", water=plan.have_ready))
    steps += [
        reader.say("burn.saw", lot=cut.lot, into=cut.into, length=cut.length) for cut in plan.saw
    ]
    steps += [_split(split, reader) for split in plan.split]
    if plan.longest_piece is not None:
        steps.append(say("burn.cut", length=plan.longest_piece))
    steps.append(say("burn.sort", lots=tuple(_sorted_lots(plan, reader))))
    if plan.hold_back is not None and plan.hold_back.mid_value > 0:
        code = "burn.aside" if plan.firing == "fed" else "burn.cap"
        steps.append(say(code, mass=_aside(plan)))
    if plan.floor_sticks is not None:
        steps.append(say("burn.floor", mass=plan.floor_sticks))
    if plan.firing == "top-lit":
        steps.append(say("burn.set-a-stick"))
    for number, step in enumerate(steps, 1):
        yield wrapped(step, f"  {number:2}. ")
    if alone:
        early = [c for c in plan.cautions if c.stage == "before"]
        yield from _cautions(early, reader, sources, len(steps) + 1)


def _cautions(cautions: list[Caution], reader: Reader, sources: Cites, first: int) -> Iterator[str]:
    for number, caution in enumerate(cautions, first):
        text = f"{reader.word(caution.message)} {sources.cite(caution.sources)}"
        yield wrapped(text, f"  {number:2}. ")


def _sorted_lots(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """What is laid out, a heap for each class of thickness."""
    kinds: dict[str, dict[str, None]] = {}
    for step in plan.feeding:
        kinds.setdefault(step.thickness, {}).update(dict.fromkeys(step.lots))
    for kind in ("thin", "finger", "wrist", "thick"):
        if kinds.get(kind):
            yield reader.say("burn.kind", kind=kind, lots=_few(tuple(kinds[kind]), reader))


def _few(lots: tuple[str, ...], reader: Reader) -> str:
    """The first of many lots, and how many more there are."""
    if len(lots) <= _NAMED:
        return reader.word(lots)
    rest = reader.say("burn.more", count=len(lots) - _NAMED + 1)
    return reader.word((*lots[: _NAMED - 1], rest))


def _aside(plan: BurnPlan) -> Estimate:
    """The quick fuel that is put away before anything is fed."""
    return plan.feeding[-1].mass


def _split(split: Split, reader: Reader) -> str:
    pieces = {1: "burn.split-one"}.get(split.pieces or 0, "burn.split-pieces")
    code = "burn.split-mass" if split.pieces is None else pieces
    code = "burn.break" if split.by_hand else code
    return reader.say(
        code,
        lot=split.lot,
        pieces=split.pieces,
        into=split.into,
        mass=split.mass,
        thickness=split.thickness,
        why=reader.say(_WHY[split.why]),
        sawn=reader.say("burn.sawn", length=split.sawn) if split.sawn is not None else "",
    )


def _feeding(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    many = plan.loads.mid > 1
    head = "burn.feeding" if plan.firing == "fed" else "burn.filling"
    yield reader.say(head, each=reader.say("burn.each-load" if many else "burn.one-load"))
    for number, step in enumerate(plan.feeding, 1):
        yield wrapped(_step(step, plan, reader), f"  {number:2}. ")


def _step(step: FeedingStep, plan: BurnPlan, reader: Reader) -> str:
    say = reader.say
    when = ""
    if plan.firing == "fed":
        spans = step.end.mid_value - step.begin.mid_value
        when = say(
            "burn.from-to" if spans >= 1 else "burn.at",
            begin=step.begin.mid_value,
            end=step.end.mid_value,
        )
    lots = lots_of_step(step, plan, reader) or say(_BROUGHT.get(step.part, "burn.brought"))
    how = say("burn.at-once", mass=step.mass)
    if step.every is not None:
        how = say(
            _PORTIONS.get(step.part, "burn.portions"),
            portion=step.portion,
            every=step.every,
            mass=step.mass,
            by_hand=step.by_hand,
        )
    lacks = say("burn.bring", mass=step.bring) if step.bring is not None and step.lots else ""
    return say("burn.step", when=when, lots=lots, how=how, lacks=lacks, cue=step.cue)


def _timeline(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    yield reader.say("burn.minutes")
    for item in plan.timeline:
        hours = item.at.mid_value >= 300
        ends = (item.at.low_value, item.at.mid_value, item.at.high_value)
        low, mid, high = (_clock(value, hours, reader) for value in ends)
        between = reader.wording.range.format(low=low, high=high)
        when = mid if low == high else f"{mid} ({between})"
        yield wrapped(f"{when}: {reader.word(item.event)}", "  - ")


def _clock(minutes: float, hours: bool, reader: Reader) -> str:
    """Minutes, or hours where minutes would pretend to know too much."""
    return f"{reader.word(minutes / 60, '.0f')} h" if hours else reader.word(minutes, ".0f")


def _quench(plan: BurnPlan, reader: Reader, sources: Cites) -> Iterator[str]:
    say = reader.say
    yield say("burn.putting-out")
    if plan.have_ready is not None:
        yield wrapped(say("burn.have-ready", water=plan.have_ready), "  ")
    if plan.quench_water is not None and plan.quench is not None:
        if not {"water", "bursts"} & set(plan.quench.ways):
            yield wrapped(say("burn.not-with-water"), "  ")
        yield wrapped(
            say(
                "burn.will-take",
                water=plan.quench_water,
                time=_hose(plan.quench.hose_time, reader),
                flow=plan.quench.hose_flow,
                sources=sources.cite(plan.quench.sources),
            ),
            "  ",
        )
        steps = [reader.word(step) for step in plan.quench.steps]
        if plan.brands is not None and plan.brands.high_value >= _SOME_BRANDS:
            some = plan.brands.mid_value >= _SOME_BRANDS
            steps.append(say("burn.brands" if some else "burn.few-brands", mass=plan.brands))
        for number, text in enumerate(steps, 1):
            yield wrapped(text, f"  {number:2}. ")


def _hose(time: Estimate, reader: Reader) -> str:
    return reader.word(time) if time.high_value > 1 else reader.say("burn.under-a-minute")


def _through(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    if plan.char_through:
        yield reader.say("burn.through")
    for lot, time in plan.char_through:
        yield wrapped(f"{lot}: {reader.word(time)}", "  - ")


def _findings(findings: tuple[Finding, ...], reader: Reader, sources: Cites) -> Iterator[str]:
    for finding in findings:
        if finding.code == "split-first":
            continue  # it is one of the steps before the fire
        lot = f"{finding.lot}: " if finding.lot is not None else ""
        reason = reader.word(finding.message("reason"))
        yield wrapped(f"{lot}{reason} {sources.cite(finding.sources)}", "  - ")
        yield wrapped(reader.word(finding.message("action")), reader.say("page.do"))


def _notes(notes: tuple[Message, ...], reader: Reader) -> list[str]:
    return [wrapped(reader.word(note), "  - ") for note in notes]


def _of_char(target: str, reader: Reader) -> str:
    named = "char" in target.casefold() or "carbon" in target.casefold()
    return target if named else reader.say("gather.of-char", target=target)


def gathering_text(gathering: Gathering, units: Units = "metric", language: str = "en") -> str:
    """What to take from the heap, as plain text."""
    from .sources import Sources

    sources, reader = Sources(), Reader(units, language)
    say = reader.say
    target = _of_char(gathering.target, reader)
    lines = [wrapped(say("gather.head", target=target, confidence=100 * gathering.confidence)), ""]
    for number, lot in enumerate(gathering.lots, 1):
        text = say("gather.lot", lot=lot.lot, amount=lot.amount, mass=lot.mass)
        lines.append(wrapped(text, f"  {number:2}. "))
    if not gathering.lots:
        lines.append(f"  {say('gather.nothing-ready')}")
    gives = say("gather.gives", gives=gathering.gives, could=gathering.could_give)
    lines += ["", wrapped(gives)]
    if gathering.loads is not None:
        loads = _loads(gathering.loads, reader)
        lines.append(wrapped(f"{loads[:1].upper()}{loads[1:]}."))
    if gathering.bring is not None:
        lines.append(wrapped(say("gather.on-top", mass=gathering.bring)))
    lines += [*_findings(gathering.findings, reader, sources), *_notes(gathering.notes, reader)]
    return "\n".join(lines) + "\n"


def sizing_text(sizing: Sizing, units: Units = "metric", language: str = "en") -> str:
    """How wide and deep, and what all loads take, as plain text."""
    reader = Reader(units, language)
    say, burn = reader.say, sizing.burn
    measures = [
        say("size.measure", what=say(f"size.{name}"), length=Quantity(stated.mid, "m"))
        for name in ("diameter", "width", "length", "depth")
        if (stated := getattr(burn, name)) is not None
    ]
    code = "size.one" if sizing.loads == 1 else "size.head"
    head = say(code, burner=sizing.plan.burner, loads=sizing.loads, measures=tuple(measures))
    lines = [wrapped(head)]
    if sizing.hours is not None:
        lines.append(wrapped(say("size.hours", time=sizing.hours)))
    lines.append(wrapped(say("size.needs", water=sizing.water, quick=sizing.quick_fuel)))
    if sizing.plan.left_out:
        lines.append(wrapped(say("size.left-out", lots=sizing.plan.left_out)))
    return "\n".join(lines) + "\n"
