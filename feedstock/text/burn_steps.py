"""The burn as steps that one person follows at the pit."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..model.appraisal import Appraisal
from ..model.burn_plan import BurnPlan, FeedingStep, Split
from ..model.findings import Caution, Finding
from ..quantities.estimate import Estimate, exact_estimate
from ..quantities.format import as_weighed, in_units
from ..quantities.frozen import frozen
from ..words import Message, Quantity, Reader
from ..words.say import known
from .step_lots import by_thickness, lots_of_step, of_wood

_DAY, _AT_HAND, _BURNING = 1, 5, 6
"""The tens of the order of the day before, of what is made ready, and of what is heeded while it
burns.
"""
_A_DAY = 8.0
"""Hours at a fire that one person has in a day, from morning to an hour before dusk."""
_NO_THICKNESS, _TWIGS = "plan.no-thickness", "thin"
"""The note that a thickness was assumed, and the class of which nobody doubts it."""
_MORE = 1.2
"""What is so many times as much is clearly more."""
_ROUNDED = 0.2
"""Sums of what is weighed out are off by no more than that part for their rounding."""
_NO_PAUSE, _ALONE = 2.5, 60.0
"""Portions fewer minutes apart leave no rest, and for so many one person feeds like that."""
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
        lines.append(f"{lot}{reader.word(_as_in_steps(finding, plan, reader))}")
        if finding is brought:
            lines[-1] += f" {say('sheet.brought')}"
    return lines if plan.refused else [*lines, *_of_all(plan, reader)]


def _as_in_steps(finding: Finding, plan: BurnPlan, reader: Reader) -> Message | None:
    """What is to be done, with what is brought in the numbers of the steps."""
    message, amount = finding.message("action"), _BROUGHT.get(finding.code)
    if message is None or amount is None:
        return message
    thin = finding.code == _THIN
    brought = math.fsum(
        as_weighed(step.bring, reader.units)
        for step in plan.feeding
        if step.bring is not None and (step.part in _QUICK) is thin
    )
    one, whole = Quantity(brought, "kg"), Quantity(plan.loads.mid * brought, "kg")
    return Message.of(message.code, {**message.values, amount: one, "all": whole})


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
            text = " ".join((text, *_day_before(result, plan, reader)))
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


def _day_before(result: Appraisal, plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """What is sawn, split, broken and sorted: hours of work that are not those of the fire."""
    say, loads = reader.say, plan.loads.mid
    cuts = [
        say("sheet.cut", lot=cut.lot, into=cut.into, length=Quantity(cut.length.mid_value, "m"))
        for cut in plan.saw
    ]
    longest = _longest(result, plan, reader)
    if cuts or longest is not None:
        yield say("sheet.saw", parts="; ".join(cuts), longest=longest)
    for code, by_hand in (("sheet.split", False), ("sheet.break", True)):
        lots = list[str]()
        splits = [split for split in plan.split if split.by_hand is by_hand]
        for lot in dict.fromkeys(split.lot for split in splits):
            parts = [_split_part(split, plan, reader) for split in splits if split.lot == lot]
            lots.append(say("sheet.split-lot", lot=lot, parts=reader.listed(parts)))
        if lots:
            sawn = next((split.sawn for split in splits if split.sawn is not None), None)
            long = None if sawn is None else _measured(sawn, reader)
            if long is not None and longest is not None and longest.value <= long.value:
                long = None
            yield say(code, parts="; ".join(lots), loads=loads, sawn=long)
    yield from _set_apart(plan, reader)


def _longest(result: Appraisal, plan: BurnPlan, reader: Reader) -> Quantity | None:
    """How long pieces may be, where wood goes in of which nobody told the length."""
    if plan.longest_piece is None or plan.firing == "closed":
        return None
    told = {
        lot.name
        for lot, stated in zip(result.lots, result.inputs.heap.lots, strict=False)
        if stated.pieces is not None
    }
    wood = {name for step in plan.feeding if of_wood(step) for name in step.lots}
    if not wood - told:
        return None
    return _measured(plan.longest_piece, reader)


def _measured(length: Estimate, reader: Reader) -> Quantity:
    """A length in steps that a person measures: 5 cm, from a metre on 10 cm, or half a foot."""
    shown = in_units(length, reader.units).mid_value
    step = 0.5 if reader.units == "us" else 0.05 if shown < 1.0 else 0.1
    told = step * max(round(shown / step), 1)
    return Quantity(length.mid_value * told / shown, "m")


def _set_apart(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """What is kept for later when all is sorted, before anything is lit."""
    assumed = tuple(_assumed(plan, reader))
    parts = [
        reader.say(
            f"sheet.for-{step.part}",
            lots=lots_of_step(step, plan, reader),
            mass=_own(step, reader),
            beside=_beside(step, plan),
            several=len(step.lots) > 1 and not by_thickness(step, plan),
        )
        for step in plan.feeding
        if step.part in ("with", "aside", "cap") and step.lots
    ]
    if parts or assumed:
        loads = plan.loads.mid
        yield reader.say("sheet.sort", parts="; ".join(parts), assumed=assumed, loads=loads)


def _assumed(plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """Lots of which nobody told the thickness, with the one that was taken; twigs are twigs."""
    thin = {n for step in plan.feeding if step.thickness == _TWIGS for n in step.lots}
    wood = {n for step in plan.feeding if of_wood(step) for n in step.lots} - thin
    for note in plan.notes:
        if note.code == _NO_THICKNESS:
            for lot, thick in zip(note.values["lots"], note.values["thick"], strict=True):
                if lot in wood:
                    yield reader.say("sheet.taken-as", lot=lot, thick=thick)


def _beside(step: FeedingStep, plan: BurnPlan) -> tuple[str, ...]:
    """The lots that are fed in the same minutes."""
    begin, end = step.begin.mid_value, step.end.mid_value
    names = [
        name
        for other in plan.feeding
        if other.part in ("main", "loose")
        and begin <= other.begin.mid_value * (1 + 1e-9)
        and other.begin.mid_value < end
        for name in other.lots
    ]
    return tuple(dict.fromkeys(names))


def _own(step: FeedingStep, reader: Reader) -> Estimate:
    """What of a step the heap has, as it is told."""
    bring = 0.0 if step.bring is None else as_weighed(step.bring, reader.units)
    return exact_estimate(as_weighed(_to_feed(step), reader.units) - bring, "kg")


def _split_part(split: Split, plan: BurnPlan, reader: Reader) -> str:
    """What of a lot is split, in the numbers of the steps where they take just that."""
    steps = [
        step
        for step in plan.feeding
        if step.part in ("bed", "with")
        and step.lots == (split.lot,)
        and step.thickest is not None
        and math.isclose(step.thickest.mid_value, split.thickness.mid_value, rel_tol=1e-6)
    ]
    told = plan.loads.mid * math.fsum(_own(step, reader).mid_value for step in steps)
    same = math.isclose(told, split.mass.mid_value, rel_tol=_ROUNDED)
    return reader.say(
        "sheet.split-part",
        pieces=split.pieces,
        mass=exact_estimate(told, "kg") if same else split.mass,
        into=split.into,
        thickness=Quantity(split.thickness.mid_value, "mm"),
    )


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
            mass=_to_feed(step),
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


def _to_feed(step: FeedingStep) -> Estimate:
    """What a step takes, to be carried as it is told however much of it there may be."""
    return exact_estimate(step.mass.mid_value, "kg")


def _thin_fuel(plan: BurnPlan, reader: Reader) -> Quantity:
    """What the steps take to light and to finish, as they say it, for all loads, kg."""
    quick = (
        as_weighed(_to_feed(step), reader.units) for step in plan.feeding if step.part in _QUICK
    )
    return Quantity(plan.loads.mid * math.fsum(quick), "kg")
