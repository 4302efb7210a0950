"""The burn as steps that one person follows at the pit."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..model.appraisal import Appraisal
from ..model.burn_plan import BurnPlan, FeedingStep
from ..model.findings import Caution, Finding, Verdict
from ..quantities.estimate import Estimate, exact_estimate
from ..quantities.format import as_weighed
from ..quantities.frozen import frozen
from ..words import Message, Quantity, Reader
from ..words.say import known
from .day_before import day_before, to_feed
from .step_lots import lots_of_step, of_wood

_DAY, _AT_HAND, _BURNING = 1, 5, 6
"""The tens of the order of the day before, of what is made ready, and of what is heeded while it
burns.
"""
_A_DAY = 8.0
"""Hours at a fire that one person has in a day, from morning to an hour before dusk."""
_MORE = 1.2
"""What is so many times as much is clearly more."""
_NO_PAUSE, _ALONE = 2.5, 60.0
"""Portions fewer minutes apart leave no rest, and for so many one person feeds like that."""
_USE = 90
"""The order from which cautions are of the char's use, days after the burn."""
_CM = 100.0
"""A pit is dug by the centimetre or inch."""
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
_KINDLING = ("thin", "finger")
"""Classes of pieces that kindle a fire."""
_BOTH = "sheet.bring-both"
"""What is brought of both thicknesses, in one line."""
_THIN = "too-little-quick-fuel"
_BROUGHT = {"carries-no-fire": "bring", _THIN: "lacks"}
"""Findings by which something is brought, and by what name they tell how much."""
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
    dug = ", ".join(("", *_dug(plan, reader)))
    head = [say("sheet.plan-head", burner=f"{plan.burner}{dug}", firing=plan.firing)]
    if not plan.refused:
        loads = plan.loads
        alike = all(f.values.get("alike", True) for f in plan.findings)
        counts = {"low": loads.low, "mid": loads.mid, "high": loads.high, "alike": alike}
        counts["one"] = len(result.lots) == 1
        head.append(say("sheet.loads", **counts))
        if plan.duration is not None:
            head.append(say("sheet.takes", time=plan.duration, loads=loads.mid, alike=alike))
    lines = ["; ".join(head)]
    if plan.refused:
        return [*lines, *_refused(plan, reader)]
    lines += [] if (kept := _kept_for_wet(result, plan)) is None else [reader.word(kept)]
    brings = {f.code: _as_in_steps(f, plan, reader) for f in plan.findings if f.code in _BROUGHT}
    for finding in plan.findings:
        if finding.code in (_NOTHING_READY, *_SAID_ELSEWHERE, *_BROUGHT):
            continue
        lot = f"{finding.lot}: " if finding.lot is not None else ""
        lines.append(f"{lot}{reader.word(finding.message('action'))}")
    if brings:
        both = {name: value for told in brings.values() for name, value in told.values.items()}
        told = Message.of(_BOTH, both) if len(brings) > 1 else next(iter(brings.values()))
        lines.append(f"{reader.word(told)} {say('sheet.brought')}")
    return [*lines, *_of_all(plan, reader)]


def _refused(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """Why nothing is burnt, and what is to be done about it."""
    for finding in plan.findings:
        if finding.code != _NOTHING_READY:
            lot = f"{finding.lot}: " if finding.lot is not None else ""
            yield f"{lot}{reader.word(finding.message('reason'))}"
            yield f"{lot}{reader.word(finding.message('action'))}"


def _kept_for_wet(result: Appraisal, plan: BurnPlan) -> Message | None:
    """Thin dry wood is what a larger heap that still dries is lit with."""
    dry, wet = (result.by_verdict.get(each) for each in (Verdict.READY, Verdict.DRY_FIRST))
    if dry is None or wet is None or dry.dry_mass.mid_value >= wet.dry_mass.mid_value:
        return None
    if not all(of_wood(step) and step.thickness in _KINDLING for step in plan.feeding):
        return None
    return Message("sheet.keep-for-wet", dry=dry.lots, wet=wet.lots)


def _as_in_steps(finding: Finding, plan: BurnPlan, reader: Reader) -> Message:
    """What is to be brought, in the numbers of the steps."""
    thin = finding.code == _THIN
    brought = math.fsum(
        as_weighed(step.bring, reader.units)
        for step in plan.feeding
        if step.bring is not None and (step.part in _QUICK) is thin
    )
    amount = _BROUGHT[finding.code]
    one, whole = Quantity(brought, "kg"), Quantity(plan.loads.mid * brought, "kg")
    values = {**finding.values, amount: one, f"all_{amount}": whole}
    return Message.of(f"{finding.code}.action", {**values, "all": whole})


def _of_all(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """The last load where it is another, and what all loads come to."""
    say = reader.say
    hours = plan.hours
    for finding in plan.findings:
        if "last_minutes" in finding.values:
            yield say("sheet.last-load", **finding.values)
    if plan.loads.mid > 1 and hours is not None and plan.water is not None:
        yield say(
            "sheet.all-loads",
            all=say("sheet.both" if plan.loads.mid == 2 else "sheet.all", loads=plan.loads.mid),
            hours=hours,
            water=plan.water,
            less=_less(plan),
            fuel=_thin_fuel(plan, reader),
            days=_days(plan.loads.mid, hours.mid_value),
            sticks=plan.floor_sticks,
        )


def _less(plan: BurnPlan) -> bool:
    """Whether a quench uses clearly less than what stands ready for it; a hose that runs besides
    leaves no more than a reserve to stand there.
    """
    ready, used = plan.have_ready, plan.quench_water
    return ready is not None and used is not None and ready.high_value > _MORE * used.mid_value


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
            text = " ".join((text, *day_before(result, plan, reader)))
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


def _dug(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """How a pit is dug that is one: to the rim, the depth and the floor of the plan."""
    cut = plan.section
    if cut is not None and cut.dug:
        floor = exact_estimate(cut.widths[0], "m")
        values = {"rim": cut.rim, "depth": cut.depth, "floor": floor}
        longs = {"length": cut.length, "floor_length": cut.floor_length}
        lengths = {name: _in_cm(each) for name, each in (values | longs).items() if each}
        yield reader.say("sheet.dig", bowl=cut.bowl, **lengths)


def _in_cm(length: Estimate) -> Quantity:
    return Quantity(_CM * length.mid_value, "cm")


def _ready(plan: BurnPlan, hose: bool, reader: Reader) -> Iterator[str]:
    """What is made ready before anything is lit."""
    say = reader.say
    if plan.have_ready is not None:
        yield say("sheet.water", water=plan.have_ready, loads=plan.loads.mid, hose=hose)


def _cue(step: FeedingStep, reader: Reader, short: bool) -> str:
    code = f"{step.cue.code}.short"
    return (
        reader.sentence(code, step.cue.values) if short and known(code) else reader.word(step.cue)
    )


def _feeding(plan: BurnPlan, reader: Reader, short: bool) -> BurnStep:
    """The steps of the feeding with their minutes; a cue is said once."""
    say, cues, steps = reader.say, set[str](), list[tuple[str, str]]()
    if plan.firing == "top-lit":
        steps.append(("", say("sheet.stick")))
    for step in plan.feeding:
        when = ""
        if plan.firing == "fed":
            when = say("sheet.minutes", begin=step.begin, end=step.end)
        fed = say(
            "sheet.step",
            lots=lots_of_step(step, plan, reader),
            mass=to_feed(step),
            every=step.every,
            by_hand=step.by_hand,
            bring=step.bring,
            part=step.part,
            turns=_tiring(step),
        )
        cue = _cue(step, reader, short)
        steps.append((when, fed if cue in cues else f"{fed}; {cue}"))
        cues.add(cue)
    if plan.firing == "top-lit" and plan.duration is not None:
        steps.append(("", say("sheet.top-lit-end", time=plan.duration)))
    head = "sheet.feed" if plan.firing == "fed" else "sheet.fill"
    cap = any(step.part == "cap" for step in plan.feeding)
    return BurnStep(say(head, more=plan.loads.high > 1, cap=cap), tuple(steps))


def _tiring(step: FeedingStep) -> bool:
    """Whether it is fed without a pause for longer than one person does that."""
    often = step.every is not None and step.every.mid_value < _NO_PAUSE
    return often and step.end.mid_value - step.begin.mid_value > _ALONE


def _thin_fuel(plan: BurnPlan, reader: Reader) -> Quantity:
    """What the steps take to light and to finish, as they say it, for all loads, kg."""
    quick = (
        as_weighed(to_feed(step), reader.units) for step in plan.feeding if step.part in _QUICK
    )
    loads, last = plan.loads.mid, 0.0
    for finding in plan.findings:
        if "last_thin" in finding.values:
            loads, last = loads - 1, finding.values["last_thin"].value
    return Quantity(loads * math.fsum(quick) + last, "kg")
