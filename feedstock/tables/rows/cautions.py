"""Warnings and what triggers them."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

from .row import Sourced, Words


class Caution(Sourced):
    """A plain warning, with what triggers it."""

    text: str
    when: CautionWhen = Field(default_factory=lambda: CautionWhen(always=True))
    order: int = 50


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
