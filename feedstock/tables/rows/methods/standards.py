"""Classes of char, volatile matter, signs seen on char."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ....words import Texts
from ..cell import ExactPoints, ExactTemperature, Plain, Points
from ..row import Names, Sourced, Words
from .part import Part


class CharClass(Part):
    """What a class of a standard asks that can be forecast."""

    name: str
    """The class as the standard calls it."""
    version: str
    """The version of the standard."""
    hydrogen_most: Plain | None = None
    """Most molar hydrogen over organic carbon."""
    oxygen_most: Plain | None = None
    """Most molar oxygen over organic carbon."""
    carbon_least: ExactPoints | None = None
    """Least carbon as a share of the dry char."""
    carbon: Literal["organic", "fixed"] = "organic"
    """Which carbon that means."""
    ash_most: ExactPoints | None = None
    """Most ash as a share of the dry char."""
    volatile_most: ExactPoints | None = None
    """Most volatile matter as a share of the dry char."""
    not_forecast: Words = ()
    """What it asks besides, which only a laboratory can tell."""


class Volatile(Part):
    """Volatile matter of ash-free char at one temperature."""

    temperature: ExactTemperature
    """Temperature of charring."""
    share: Points
    """Volatile matter as a share of the ash-free char."""


class CharStandards(Sourced):
    """Classes of published standards, the least temperature of what is called biochar, volatile
    matter, and what to order.
    """

    kind_: Literal["char-standards"] = Field(alias="kind")
    least_temperature: ExactTemperature
    """Least temperature of what is called biochar."""
    high_ash: ExactPoints
    """Ash as a share of the dry char from which it counts as high."""
    room: ExactPoints
    """How far inside a limit a forecast must lie to be called likely, as a share of the limit."""
    classes: dict[str, CharClass]
    """The classes, by key."""
    volatile: Annotated[tuple[Volatile, ...], Field(min_length=1)]
    """Volatile matter by temperature, rising."""
    laboratory: dict[str, Texts]
    """What to order of a laboratory, by subject."""


class FieldSign(Part):
    """What is seen on a piece of char, what it means, and where such pieces go."""

    names: Names
    """What it is called."""
    into: Literal["soil char", "re-burn", "cooking charcoal", "quench again", "pick out"]
    """Where pieces with this sign go."""
    meaning: Texts
    """What it tells of the char."""


class FieldSigns(Sourced):
    """All signs that are seen on char."""

    kind_: Literal["field-signs"] = Field(alias="kind")
    order: Words
    """Where a piece with several signs goes, the most cautious first."""
    signs: dict[str, FieldSign]
    """What is seen on char, by key."""
    always: tuple[Texts, ...]
    """What holds whatever is seen."""
