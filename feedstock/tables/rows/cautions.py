"""Warnings and what triggers them."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ...words import Texts
from .light import Light
from .row import Sourced, Words

Stage = Literal["before", "burning", "quench", "after"]


class Caution(Sourced):
    """A plain warning, with what triggers it."""

    text: Texts
    """The warning whole, with its reason."""
    short: Texts = Texts()
    """What of it a person carries to the pit; left out, it stands in the whole account alone."""
    when: CautionWhen = Field(default_factory=lambda: CautionWhen(always=True))
    """What must hold for it to be shown."""
    instead_of: Words = ()
    """Cautions of the same set in whose place its short text stands where both hold: of two
    distances a person at the pit reads the one that counts.
    """
    order: int = 50
    """Its place among the steps: tens are one step, from the day before to the char in its bin."""
    stage: Stage = "before"
    """The part of the work that it belongs to."""


class CautionWhen(Light):
    """Any list that is given must match; `always` needs nothing."""

    always: bool = False
    """It is always shown."""
    burners: Words = ()
    """Burners of which one must be used."""
    airs: Words = ()
    """`open` or `closed`, as the burner is."""
    vessels: Words = ()
    """Words of `burn.vessel` of which one must be given."""
    grounds: Words = ()
    """Words of `burn.ground` of which one must be given."""
    materials: Words = ()
    """Material rows of which one must be in the heap."""
    traits: Words = ()
    """Traits of which a material of the heap must have one; `fine` is all that lies and burns as
    straw or shavings do.
    """
    classes: Words = ()
    """Classes of which a lot of the heap must be."""
    firing: Words = ()
    """Ways of firing of which one must be used."""
    after: str = ""
    """The work after which it holds (`quench`, `store`, `crush` ...)."""
