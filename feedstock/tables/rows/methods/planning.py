"""Planning of a burn and its emissions."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ....quantities.cell import Cell
from ..cell import CellOf, ExactLength, ExactPoints, Gate, Minutes, Plain
from ..row import Sourced, Words
from .part import Part

Flow = Annotated[Cell, CellOf("flow", "log", 0)]


class Planning(Sourced):
    """What a small burn needs besides the physics of the fire.

    `lighting`, `mending` and `finish` are amounts of thin fuel, as times at the fire's burning
    rate; `start` is how long it takes until thick pieces may go in; `no_shock` are words of
    `Burn.vessel` that must not be met with cold water.

    When a plan says a word: `cores_told` and `cores_at_slow_end` are the shares of a lot's pieces
    with a core from which it is told to be split, by the middle and by the slow end; up to
    `half_charred` of a load's pieces are the usual thing; a burn of `stretched` times what its fuel
    needs is too long; a burn that leaves at least `leaves_most` of its char needs none.
    """

    kind_: Literal["planning"] = Field(alias="kind")
    lighting: Minutes
    mending: Minutes
    finish: Minutes
    start: Minutes
    quick_below: ExactLength
    medium_below: ExactLength
    split_step: ExactLength
    hose: Flow
    heat_limit: ExactPoints
    cores_told: ExactPoints
    cores_at_slow_end: ExactPoints
    half_charred: ExactPoints
    stretched: Plain
    leaves_most: ExactPoints
    no_shock: Words = ()


class Emitted(Part):
    """Grams per kilogram of char."""

    carbon_monoxide: Plain | None = None
    methane: Plain | None = None
    particles: Plain | None = None


class Emissions(Sourced):
    """A reason to burn dry, by moisture of the feed, and what closed kilns give off; no
    inventory.
    """

    kind_: Literal["emissions"] = Field(alias="kind")
    dry_below: Gate
    wet_above: Gate
    classes: dict[Literal["dry", "between", "wet", "closed"], Emitted]
