"""The plan of a burn as plain text, and what to gather: what a person carries to the pit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from ..model.burn_plan import BurnPlan, FeedingStep, Gathering, Loads
from ..model.findings import Caution, Finding
from ..quantities.estimate import Estimate
from ..quantities.format import Units
from ..tables.citations import Citation
from ..words import Message, Quantity, Reader
from .layout import wrapped

# a lot is told to be split where more than this share of its pieces would keep a core, %
_SOME = 5.0


class Cites(Protocol):
    """Numbers sources as they are cited."""

    def cite(self, citations: tuple[Citation, ...]) -> str: ...

    def lines(self) -> Iterator[str]: ...


def plan_text(plan: BurnPlan, units: Units = "metric", language: str = "en") -> str:
    """The whole sheet, with its cautions and sources."""
    from .sources import Sources

    sources, reader = Sources(), Reader(units, language)
    lines = plan_lines(plan, reader, sources, alone=True)
    return "\n".join([*lines, reader.say("page.sources"), *sources.lines()]) + "\n"


_FULL = 101.0
_CRUMB = 0.05  # kg; less is nothing to speak of


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
        said = f"{reader.word(plan.emissions.text)} {sources.cite(plan.emissions.sources)}"
        lines.append(wrapped(said, "  - "))
    return [*lines, *notes, ""]


def _figures(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    say = reader.say
    if plan.char_volume is not None and plan.char_mass is not None:
        yield wrapped(say("burn.leaves", volume=plan.char_volume, mass=plan.char_mass), "  ")
    if plan.fill is not None:
        over = say("burn.over-the-rim") if plan.fill.high_value > _FULL else ""
        yield wrapped(say("burn.full", share=plan.fill, over=over), "  ")
    yield wrapped(_loads(plan.loads, reader), "  ")
    if plan.left_over is not None and plan.left_over.mid_value > _CRUMB:
        yield wrapped(say("burn.left-over", mass=plan.left_over), "  ")
    if plan.duration is not None:
        yield wrapped(say("burn.takes", time=plan.duration), "  ")
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
    if plan.hold_back is not None and plan.hold_back.mid_value > 0:
        steps.append(say("burn.aside", mass=plan.hold_back))
    steps += [
        say("burn.split", lot=core.lot, thickness=Quantity(core.split_to.mid_value, "mm"))
        for core in plan.cores
        if core.share.mid_value > _SOME
    ]
    steps.append(say("burn.lay-out", lots=tuple(dict.fromkeys(s.lot for s in plan.feeding))))
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


def _feeding(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    yield reader.say("burn.feeding" if plan.firing == "fed" else "burn.filling")
    for number, step in enumerate(plan.feeding, 1):
        text = reader.say(
            "burn.step", lot=step.lot, mass=step.mass, latest=_latest(step, reader), cue=step.cue
        )
        yield wrapped(text, f"  {number:2}. ")


def _latest(step: FeedingStep, reader: Reader) -> str:
    if step.latest is None or step.part == "kindling":
        return ""
    early, mid = step.latest.low_value, step.latest.mid_value
    careful = reader.say("burn.better-by", minute=early) if mid - early >= 1 else ""
    return reader.say("burn.by-minute", minute=mid, careful=careful)


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
        for number, step in enumerate(plan.quench.steps, 1):
            yield wrapped(reader.word(step), f"  {number:2}. ")


def _hose(time: Estimate, reader: Reader) -> str:
    return reader.word(time) if time.high_value > 1 else reader.say("burn.under-a-minute")


def _through(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    if plan.char_through:
        yield reader.say("burn.through")
    for lot, time in plan.char_through:
        yield wrapped(f"{lot}: {reader.word(time)}", "  - ")


def _findings(findings: tuple[Finding, ...], reader: Reader, sources: Cites) -> Iterator[str]:
    for finding in findings:
        lot = f"{finding.lot}: " if finding.lot is not None else ""
        reason = reader.word(finding.message("reason"))
        yield wrapped(f"{lot}{reason} {sources.cite(finding.sources)}", "  - ")
        yield wrapped(reader.word(finding.message("action")), reader.say("page.do"))


def _notes(notes: tuple[Message, ...], reader: Reader) -> list[str]:
    return [wrapped(reader.word(note), "  - ") for note in notes]


def _of_char(target: str, reader: Reader) -> str:
    told = "char" in target.casefold() or "carbon" in target.casefold()
    return target if told else reader.say("gather.of-char", target=target)


def gathering_text(found: Gathering, units: Units = "metric", language: str = "en") -> str:
    """What to take from the heap, as plain text."""
    from .sources import Sources

    sources, reader = Sources(), Reader(units, language)
    say = reader.say
    target = _of_char(found.target, reader)
    lines = [wrapped(say("gather.head", target=target, confidence=100 * found.confidence)), ""]
    for number, lot in enumerate(found.lots, 1):
        text = say("gather.lot", lot=lot.lot, amount=lot.amount, mass=lot.mass)
        lines.append(wrapped(text, f"  {number:2}. "))
    if not found.lots:
        lines.append(f"  {say('gather.nothing-ready')}")
    gives = say("gather.gives", gives=found.gives, could=found.could_give)
    lines += ["", wrapped(gives)]
    if found.loads is not None:
        loads = _loads(found.loads, reader)
        lines.append(wrapped(f"{loads[:1].upper()}{loads[1:]}."))
    if found.hold_back is not None and found.hold_back.mid_value > 0:
        lines.append(wrapped(say("gather.on-top", mass=found.hold_back)))
    lines += [*_findings(found.findings, reader, sources), *_notes(found.notes, reader)]
    return "\n".join(lines) + "\n"
