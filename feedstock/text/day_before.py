"""What is sawn, split, broken and sorted before the day of the fire."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..model.appraisal import Appraisal
from ..model.burn_plan import BurnPlan, FeedingStep, Split
from ..quantities.estimate import Estimate, exact_estimate
from ..quantities.format import as_weighed, in_units
from ..words import Quantity, Reader
from .step_lots import by_thickness, lots_of_step, of_wood

_NO_THICKNESS, _TWIGS = "plan.no-thickness", "thin"
"""The note that a thickness was assumed, and the class of which nobody doubts it."""
_ROUNDED = 0.2
"""Sums of what is weighed out are off by no more than that part for their rounding."""


def day_before(result: Appraisal, plan: BurnPlan, reader: Reader) -> Iterator[str]:
    """What is sawn, split, broken and sorted: hours of work that are not those of the fire."""
    say, loads = reader.say, plan.loads.mid
    cuts = [
        say("sheet.cut", lot=cut.lot, into=cut.into, length=Quantity(cut.length.mid_value, "m"))
        for cut in plan.saw
    ]
    longest = _longest(result, plan, reader)
    if plan.firing == "top-lit":
        yield say("sheet.unsawn")
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
        values = {"assumed": assumed, "loads": plan.loads.mid, "alike": _alike(plan)}
        yield reader.say("sheet.sort", parts="; ".join(parts), **values)


def _alike(plan: BurnPlan) -> bool:
    """Whether all pieces are of one thickness, so that there is nothing to sort."""
    steps = [step for step in plan.feeding if of_wood(step)]
    ends = {each for step in steps for each in (step.thinnest, step.thickest) if each is not None}
    return len({round(each.mid_value, 3) for each in ends}) <= 1


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
    return exact_estimate(as_weighed(to_feed(step), reader.units) - bring, "kg")


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
        by_hand=split.by_hand,
        thickness=Quantity(split.thickness.mid_value, "mm"),
    )


def to_feed(step: FeedingStep) -> Estimate:
    """What a step takes, to be carried as it is told however much of it there may be."""
    return exact_estimate(step.mass.mid_value, "kg")
