"""Drying outdoors, and rain on dry matter."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ....quantities.cell import Cell
from ..cell import CellOf, ExactLength, ExactPoints, Gate, Minutes, MoistureCell, Plain, Ratio
from ..row import Sourced, Words
from .part import Part

ExactTime = Annotated[Cell, CellOf("time", "log", 0, exact=True)]


Lie = Literal["brash", "split", "poles", "rounds", "stalks", "rotted"]
"""How wood and stalks lie to dry, each with a pace of its own."""


class RainedOn(Part):
    """Dry matter that rain has wetted outside: its moisture as a whole, and how long it takes to
    dry again; `up_to` is the thickness to which that holds, none for all that is thicker.
    """

    up_to: ExactLength | None = None
    moisture: MoistureCell
    takes: Minutes


class Drying(Sourced):
    """How fast matter dries outdoors by how it lies, and where the air lets it stop.

    `paces` are the times in which the way to rest shrinks to 1/e in an airy stack in the season;
    `winter` and `heap` say how many times longer it takes. `spread` is the time that loose matter
    takes, spread out, up to the moisture `spread_wettest`. `without_bark` are signs of pieces that
    have no bark, `baled` packings of bales; from the decay class `rotted_from` wood counts as
    rotted.
    """

    kind_: Literal["drying"] = Field(alias="kind")
    rest: MoistureCell
    rest_winter: MoistureCell
    nearest: ExactPoints
    winter: Ratio
    winter_lasts: ExactTime
    longest: ExactTime
    heap: Ratio
    large_pile: Plain
    brash_to: ExactLength
    poles_to: ExactLength
    split_to: ExactLength
    short: ExactLength
    without_bark: Words = ()
    rotted_from: int
    baled: Words = ()
    paces: dict[Lie, Minutes]
    spread: Minutes
    spread_wettest: Gate
    rained_on: tuple[RainedOn, ...]
    rained_on_loose: RainedOn
