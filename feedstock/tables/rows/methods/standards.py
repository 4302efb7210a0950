"""Classes of char, volatile matter, signs seen on char."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ....words import Texts
from ..cell import ExactPoints, ExactTemperature, Plain, Points
from ..row import Names, Sourced, Words
from .part import Part


class CharClass(Part):
    """What a class of a standard asks that can be forecast; `carbon` is the one that its
    `carbon_least` means, `not_forecast` what only a laboratory can tell.
    """

    name: str
    version: str
    hydrogen_most: Plain | None = None
    oxygen_most: Plain | None = None
    carbon_least: ExactPoints | None = None
    carbon: Literal["organic", "fixed"] = "organic"
    ash_most: ExactPoints | None = None
    volatile_most: ExactPoints | None = None
    not_forecast: Words = ()


class Volatile(Part):
    """Volatile matter of ash-free char at one temperature."""

    temperature: ExactTemperature
    share: Points


class CharStandards(Sourced):
    """Classes of published standards, the least temperature of what is called biochar, volatile
    matter, and what to order.
    """

    kind_: Literal["char-standards"] = Field(alias="kind")
    least_temperature: ExactTemperature
    high_ash: ExactPoints
    room: ExactPoints
    classes: dict[str, CharClass]
    volatile: Annotated[tuple[Volatile, ...], Field(min_length=1)]
    laboratory: dict[str, Texts]


class FieldSign(Part):
    """What is seen on a piece of char, what it means, and where such pieces go."""

    names: Names
    into: Literal["soil char", "re-burn", "cooking charcoal", "quench again", "pick out"]
    meaning: Texts


class FieldSigns(Sourced):
    """All signs; `order` is where a piece with several signs goes, the most cautious first."""

    kind_: Literal["field-signs"] = Field(alias="kind")
    order: Words
    signs: dict[str, FieldSign]
    always: tuple[Texts, ...]
