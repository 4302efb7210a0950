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
    """Dry matter that rain has wetted outside."""

    up_to: ExactLength | None = None
    """Thickness up to which it holds; left out, for all that is thicker."""
    moisture: MoistureCell
    """Moisture of the whole piece when its outside is wet."""
    takes: Minutes
    """Time in dry weather until it is as dry as before."""


class Drying(Sourced):
    """How fast matter dries outdoors by how it lies, and where the air lets it stop."""

    kind_: Literal["drying"] = Field(alias="kind")
    rest: MoistureCell
    """Moisture at which outdoor drying stops in the season."""
    rest_winter: MoistureCell
    """Moisture at which it stops in winter."""
    nearest: ExactPoints
    """How near to that rest is as good as there, in points."""
    winter: Ratio
    """How many times longer it takes in winter."""
    winter_lasts: ExactTime
    """How long winter lasts."""
    longest: ExactTime
    """The longest time that is told; beyond it, it does not dry outdoors."""
    heap: Ratio
    """How many times longer a heap takes than an airy stack."""
    large_pile: Plain
    """How many times longer the bottom of a large pile takes."""
    brash_to: ExactLength
    """Thickness up to which wood dries as brash."""
    poles_to: ExactLength
    """Thickness up to which wood dries as poles."""
    split_to: ExactLength
    """Thickness to which thick wood is split to dry."""
    short: ExactLength
    """Length under which split wood counts as short."""
    without_bark: Words = ()
    """Signs of pieces that have no bark."""
    rotted_from: int
    """Class of decay, 1 to 5, from which wood dries as rotted."""
    baled: Words = ()
    """Words of packing that are bales."""
    paces: dict[Lie, Minutes]
    """Time in which the way to rest shrinks to 1/e in an airy stack in the season, by how it lies.
    """
    spread: Minutes
    """Time that loose matter takes, spread out and turned."""
    spread_wettest: Gate
    """Moisture up to which spreading is enough."""
    rained_on: tuple[RainedOn, ...]
    """What rain does to dry wood, by thickness, thinnest first."""
    rained_on_loose: RainedOn
    """What rain does to dry loose matter."""
