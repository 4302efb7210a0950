"""The lots of a step of the feeding, as a person finds them at the pit."""

from __future__ import annotations

from ..model.burn_plan import BurnPlan, FeedingStep
from ..words import Quantity, Reader
from .contents import MANY

_LOOSE = ("cue.loose", "cue.other", "cue.light-loose", "cue.aside-loose", "cue.bed-loose")
"""Cues of what lies fine and loose."""


def of_wood(step: FeedingStep) -> bool:
    """Whether it is pieces, and not what lies fine and loose."""
    return not step.cue.code.startswith(_LOOSE)


def lots_of_step(step: FeedingStep, plan: BurnPlan, reader: Reader) -> str:
    """The lots of a step; those of a heap of many by how thick they are, as they lie sorted, and
    one that goes in at two thicknesses with that which is meant.
    """
    thin, thick = step.thinnest, step.thickest
    if not step.lots or thin is None or thick is None:
        return reader.word(step.lots) if step.lots else ""
    ends = {"thin": Quantity(thin.mid_value, "mm"), "thick": Quantity(thick.mid_value, "mm")}
    whole = {name for other in plan.feeding for name in other.lots}
    if len(step.lots) > MANY or (len(whole) > MANY and of_wood(step)):
        return reader.say("sheet.so-thick", **ends)
    alone = [other.thickest for other in plan.feeding if other.lots == step.lots]
    if len({round(other.mid_value, 3) for other in alone if other is not None}) > 1:
        return reader.say("sheet.lot-so-thick", lot=step.lots[0], **ends)
    return reader.word(step.lots)
