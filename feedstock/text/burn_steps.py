"""The burn as steps that one person follows at the pit."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..model.appraisal import Appraisal
from ..model.burn_plan import BurnPlan, FeedingStep, Split
from ..model.findings import Caution
from ..quantities.estimate import Estimate, exact_estimate
from ..quantities.format import as_weighed
from ..quantities.frozen import frozen
from ..words import Quantity, Reader
from ..words.say import known
from .contents import MANY

_DAY, _AT_HAND, _BURNING = 1, 5, 6
"""The tens of the order of the day before, of what is made ready, and of what is heeded while it
burns.
"""
_A_DAY = 8.0
"""Hours at a fire that one person has in a day, from morning to an hour before dusk."""
_USE = 90
"""The order from which cautions are of the char's use, days after the burn."""
_QUENCH = 7
"""The tens of the order of putting it out."""
_QUICK = ("light", "aside", "cap")
"""Parts of the feeding that are thin fuel."""
_BY_WATER = frozenset(("water", "bursts"))
_OF_WATER = ("steam", "stir-and-feel")
"""Cautions of putting it out with water, by code."""
_STEPS = {1: 1, 2: 1, 9: 8}
"""Tens of the order that are one step: day and weather; the char and its use."""
_NOTHING_READY = "nothing-ready"
"""The finding that the lots above have said already."""
_BROUGHT = ("carries-no-fire", "too-little-quick-fuel")
"""Findings by which something is brought."""
_SAID_ELSEWHERE = ("split-first", "left-out", "more-than-one-load", "proportions")
"""Findings of a plan that its steps say, or that change nothing at the pit."""


@frozen
class BurnStep:
    """What to do, and in the step of the feeding what goes in with its minutes."""

    text: str
    feeding: tuple[tuple[str, str], ...] = ()


def burn_head(result: Appraisal, reader: Reader) -> list[str]:
    """The burner, its loads and its time; then what is to be done about the plan, and all loads."""
    plan, say = result.burn, reader.say
    if plan is None:
        return [say("sheet.plan-head", burner=result.burner, firing="")]
    head = [say("sheet.plan-head", burner=plan.burner, firing=plan.firing)]
    if not plan.refused:
        loads = plan.loads
        alike = all(f.values.get("alike", True) for f in plan.findings)
        counts = {"low": loads.low, "mid": loads.mid, "high": loads.high, "alike": alike}
        head.append(say("sheet.loads", **counts))
        if plan.duration is not None:
            head.append(say("sheet.takes", time=plan.duration, loads=loads.mid, alike=alike))
    lines = ["; ".join(head)]
    brought = next((f for f in reversed(plan.findings) if f.code in _BROUGHT), None)
    for finding in plan.findings:
        if finding.code == _NOTHING_READY or (finding.code in _SAID_ELSEWHERE and not plan.refused):
            continue
        lot = f"{finding.lot}: " if finding.lot is not None else ""
        if plan.refused:
            lines.append(f"{lot}{reader.word(finding.message('reason'))}")
        lines.append(f"{lot}{reader.word(finding.message('action'))}")
        if finding is brought:
            lines[-1] += f" {say('sheet.brought')}"
    return lines if plan.refused else [*lines, *_of_all(plan, reader)]


def _of_all(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """The last load where it is another, and what all loads come to."""
    say = reader.say
    hours = plan.hours
    for finding in plan.findings:
        if "last_minutes" in finding.values:
            yield say("sheet.last-load", **finding.values)
            hours = finding.values["hours"]
    if plan.loads.mid > 1 and hours is not None and plan.water is not None:
        yield say(
            "sheet.all-loads",
            all=say("sheet.both" if plan.loads.mid == 2 else "sheet.all", loads=plan.loads.mid),
            hours=hours,
            water=plan.water,
            fuel=_thin_fuel(plan, reader),
            days=_days(plan.loads.mid, hours.mid_value),
        )


def _days(loads: int, hours: float) -> dict[str, int] | None:
    """How many loads one person burns in a day, and on how many days; None where a day is
    enough.
    """
    if hours <= _A_DAY:
        return None
    days = math.ceil(loads / max(1, math.floor(_A_DAY / (hours / loads))))
    return {"loads": math.ceil(loads / days), "days": days}


def burn_steps(result: Appraisal, reader: Reader, short: bool = False) -> Iterator[BurnStep]:
    """The burn in steps, from the day before to the char in its bin; without a plan the cautions
    alone. Cautions whose order has the same tens are one step; cues are told in `short` where lines
    are dear.
    """
    if result.burn is not None and result.burn.refused:
        return
    plan = result.burn
    ways = plan.quench.ways if plan is not None and plan.quench is not None else ()
    texts = _in_short(result.cautions, ways, reader, _USE if short else math.inf)
    for order in sorted({*texts, *((_DAY, _AT_HAND, _BURNING) if plan is not None else ())}):
        text = " ".join(texts.get(order, ()))
        if plan is not None and order == _BURNING:
            yield _feeding(plan, reader, short)
        if plan is not None and order == _DAY:
            text = " ".join((text, *_day_before(plan, reader)))
        if plan is not None and order == _AT_HAND:
            hose = result.inputs.burn is not None and result.inputs.burn.hose is not None
            text = " ".join((*_ready(plan, hose, reader), text))
        if text:
            yield BurnStep(text)


def _in_short(
    cautions: tuple[Caution, ...], ways: tuple[str, ...], reader: Reader, before: float
) -> dict[int, list[str]]:
    """The cautions of each step; of the ways to put it out those that fit the vessel."""
    texts: dict[int, list[str]] = {}
    wet = not ways or not _BY_WATER.isdisjoint(ways)
    for caution in cautions:
        if "short" not in caution.values or caution.order >= before:
            continue
        if not wet and caution.code in _OF_WATER:
            continue
        text = reader.word(caution.values["short"])
        tens = caution.order // 10
        texts.setdefault(_STEPS.get(tens, tens), []).append(text)
    if ways:
        quench = texts.setdefault(_QUENCH, [])
        at = len(quench) - 1 if quench else 0
        quench[at:at] = _other_ways(ways, wet, reader)
    return texts


def _other_ways(ways: tuple[str, ...], wet: bool, reader: Reader) -> Iterator[str]:
    if "bursts" in ways:
        yield reader.say("sheet.bursts")
    names = [reader.say(f"sheet.{way}") for way in ways if way in ("lid", "soil")]
    if names:
        listed = names[0]
        if len(names) > 1:
            listed = reader.say("sheet.or", first=names[0], last=names[1])
        yield reader.say("sheet.covered" if wet else "sheet.covered-only", ways=listed)


def _ready(plan: BurnPlan, hose: bool, reader: Reader) -> Iterator[str]:
    """What is made ready before anything is lit."""
    say = reader.say
    if plan.have_ready is not None:
        yield say("sheet.water", water=plan.have_ready, loads=plan.loads.mid, hose=hose)


def _day_before(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """What is sawn, split and broken: hours of work that are not those of the fire."""
    say, loads = reader.say, plan.loads.mid
    cuts = [
        say("sheet.cut", lot=cut.lot, into=cut.into, length=Quantity(cut.length.mid_value, "m"))
        for cut in plan.saw
    ]
    if cuts:
        yield say("sheet.saw", parts="; ".join(cuts))
    for code, by_hand in (("sheet.split", False), ("sheet.break", True)):
        lots = list[str]()
        splits = [split for split in plan.split if split.by_hand is by_hand]
        for lot in dict.fromkeys(split.lot for split in splits):
            parts = [_split_part(split, reader) for split in splits if split.lot == lot]
            lots.append(say("sheet.split-lot", lot=lot, parts=reader.listed(parts)))
        if lots:
            yield say(code, parts="; ".join(lots), loads=loads)


def _split_part(split: Split, reader: Reader) -> str:
    return reader.say(
        "sheet.split-part",
        pieces=split.pieces,
        mass=split.mass,
        into=split.into,
        thickness=Quantity(split.thickness.mid_value, "mm"),
    )


def _cue(step: FeedingStep, reader: Reader, short: bool) -> str:
    code = f"{step.cue.code}.short"
    return (
        reader.sentence(code, step.cue.values) if short and known(code) else reader.word(step.cue)
    )


def _lots(step: FeedingStep, reader: Reader) -> str:
    """The lots of a step; many of them by how thick they are, as they lie sorted."""
    thin, thick = step.thinnest, step.thickest
    if len(step.lots) <= MANY or thin is None or thick is None:
        return reader.word(step.lots) if step.lots else ""
    return reader.say(
        "sheet.so-thick",
        count=len(step.lots),
        thin=Quantity(thin.mid_value, "mm"),
        thick=Quantity(thick.mid_value, "mm"),
    )


def _feeding(plan: BurnPlan, reader: Reader, short: bool) -> BurnStep:
    """The steps of the feeding with their minutes; a cue is said once."""
    say, cues, steps = reader.say, set[str](), list[tuple[str, str]]()
    for step in plan.feeding:
        when = ""
        if plan.firing == "fed":
            when = say("sheet.minutes", begin=step.begin, end=step.end)
        fed = say(
            "sheet.step",
            lots=_lots(step, reader),
            mass=_to_feed(step),
            every=step.every,
            by_hand=step.by_hand,
            bring=step.bring,
            part=step.part,
        )
        cue = _cue(step, reader, short)
        steps.append((when, fed if cue in cues else f"{fed}; {cue}"))
        cues.add(cue)
    if plan.firing == "top-lit" and plan.duration is not None:
        steps.append(("", say("sheet.top-lit-end", time=plan.duration)))
    head = "sheet.feed" if plan.firing == "fed" else "sheet.fill"
    return BurnStep(say(head, more=plan.loads.high > 1), tuple(steps))


def _to_feed(step: FeedingStep) -> Estimate:
    """What a step takes, to be carried as it is told however much of it there may be."""
    return exact_estimate(step.mass.mid_value, "kg")


def _thin_fuel(plan: BurnPlan, reader: Reader) -> Quantity:
    """What the steps take to light and to finish, as they say it, for all loads, kg."""
    quick = (
        as_weighed(_to_feed(step), reader.units) for step in plan.feeding if step.part in _QUICK
    )
    return Quantity(plan.loads.mid * math.fsum(quick), "kg")
