"""The lots of a step of the feeding, as a person finds them at the pit."""

from __future__ import annotations

from ..model.burn_plan import BurnPlan, FeedingStep
from ..words import Quantity, Reader
from .contents import MANY

_LOOSE = ("cue.loose", "cue.other", "cue.light-loose", "cue.aside-loose", "cue.bed-loose")
"""Cues of what lies fine and loose."""

_LAID_APART = ("light", "with", "aside", "cap")
"""Parts that are laid apart when all is sorted, by their weight."""
_THINNEST_FIRST = ("light", "bed", "aside", "cap")
"""Parts that are taken from the thinnest on."""
_SPLIT = ("bed", "with")
"""Parts for which some of a lot is split finer than the rest of it."""


def of_wood(step: FeedingStep) -> bool:
    """Whether it is pieces, and not what lies fine and loose."""
    return not step.cue.code.startswith(_LOOSE)


def by_thickness(step: FeedingStep, plan: BurnPlan) -> bool:
    """Whether the lots of a step are told by how thick they are, being of too many."""
    whole = {name for other in plan.feeding for name in other.lots}
    return len(step.lots) > MANY or (len(whole) > MANY and of_wood(step))


def lots_of_step(step: FeedingStep, plan: BurnPlan, reader: Reader) -> str:
    """The lots of a step; those of a heap of many by how thick they are, as they lie sorted, and
    one that goes in at two thicknesses with that which is meant. Where a lot of several is in other
    steps too, what is meant is the rest of it, or the thinnest of all.
    """
    thin, thick = step.thinnest, step.thickest
    if not step.lots or thin is None or thick is None:
        return reader.word(step.lots) if step.lots else ""
    ends = {"thin": Quantity(thin.mid_value, "mm"), "thick": Quantity(thick.mid_value, "mm")}
    begun = _begun(step, plan)
    if by_thickness(step, plan):
        code = "sheet.so-thick"
        if len(step.lots) > 1 and begun.intersection(step.lots):
            code = "sheet.thinnest-left" if step.part == "bed" else "sheet.rest-so-thick"
        return reader.say(code, **ends)
    if len(step.lots) > 1:
        names = [_of_several(name, step, plan, begun, reader) for name in step.lots]
        if step.part in _THINNEST_FIRST:
            return reader.say("sheet.in-turn", lots=tuple(reversed(names)))
        return reader.listed(names)
    if _of_two_thicknesses(step, plan):
        return reader.say("sheet.lot-so-thick", lot=step.lots[0], **ends)
    return reader.word(step.lots)


def _of_several(
    name: str, step: FeedingStep, plan: BurnPlan, begun: set[str], reader: Reader
) -> str:
    """One of the lots of a step: what was split for it, or the rest of a lot."""
    finer = _finer(name, plan) if step.part in _SPLIT else ()
    if finer:
        thick = Quantity(finer[0], "mm")
        return reader.say("sheet.lot-so-thick", lot=name, thin=thick, thick=thick)
    return reader.say("sheet.rest", lot=name) if name in begun else name


def _begun(step: FeedingStep, plan: BurnPlan) -> set[str]:
    """Lots of which a part was taken or laid apart before what is left of them goes in so; what was
    split finer lies apart as it is, and they are whole without it.
    """
    if step.part in _LAID_APART:
        return set()
    before = plan.feeding[: plan.feeding.index(step)]
    apart = [other for other in plan.feeding if other.part in _LAID_APART]
    return {
        name
        for other in (*before, *apart)
        for name in other.lots
        if other.part not in _SPLIT or not _finer(name, plan)
    }


def _of_two_thicknesses(step: FeedingStep, plan: BurnPlan) -> bool:
    """Whether the lot of a step of one goes in at another thickness too."""
    name = step.lots[0]
    alone = {other.thickest for other in plan.feeding if other.lots == step.lots}
    if len({round(other.mid_value, 3) for other in alone if other is not None}) > 1:
        return True
    elsewhere = any(name in p.lots for p in plan.feeding if p.part not in _SPLIT)
    return elsewhere and step.part in _SPLIT and bool(_finer(name, plan))


def _finer(name: str, plan: BurnPlan) -> tuple[float, ...]:
    """How thick the parts of a lot are, mm, that are split finer than the rest of it."""
    splits = [split for split in plan.split if split.lot == name and split.why != "through"]
    return tuple(split.thickness.mid_value for split in splits)
