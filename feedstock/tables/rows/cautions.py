"""Warnings and what triggers them."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from ...words import Texts
from .row import Sourced, Words

Stage = Literal["before", "burning", "quench", "after"]


class Caution(Sourced):
    """A plain warning, with what triggers it; `stage` is the part of the work that it belongs to,
    `order` its place there. `short` is what of it a person carries to the pit on one page; a row
    without it stands on the whole screen alone.
    """

    text: Texts
    short: Texts = Texts()
    when: CautionWhen = Field(default_factory=lambda: CautionWhen(always=True))
    order: int = 50
    stage: Stage = "before"


class CautionWhen(BaseModel):
    """Any list that is given must match; `always` needs nothing."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    always: bool = False
    burners: Words = ()
    airs: Words = ()
    vessels: Words = ()
    grounds: Words = ()
    materials: Words = ()
    traits: Words = ()
    classes: Words = ()
    firing: Words = ()
    after: str = ""


Caution.model_rebuild()
