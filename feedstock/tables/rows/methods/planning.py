"""Planning of a burn and its emissions."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ....quantities.cell import Cell
from ..cell import CellOf, ExactLength, ExactPoints, Gate, Minutes, Plain
from ..row import Sourced, Words
from .part import Part

Flow = Annotated[Cell, CellOf("flow", "log", 0)]


Mass = Annotated[Cell, CellOf("mass", "log", 0)]


ExactMinutes = Annotated[Cell, CellOf("time", "log", 0, exact=True)]


class ThicknessClass(Part):
    """Pieces up to so thick, all thicker ones where it is not said, and how often a layer of them
    goes on.
    """

    to: ExactLength | None = None
    every: ExactMinutes


class ThicknessClasses(Part):
    """The classes by which fuel is sorted and fed."""

    thin: ThicknessClass
    finger: ThicknessClass
    wrist: ThicknessClass
    thick: ThicknessClass


class Planning(Sourced):
    """What a small burn needs besides the physics of the fire.

    `lighting`, `mending` and `finish` are amounts of thin fuel (up to `quick_below`), as times at
    the fire's burning rate; `bed` is how long it takes until embers carry thick pieces, and
    `bed_pace` the part of the pace at which it is fed till then. From what was laid last to the
    quench it takes its char-through time, at least `burn_down_least` and at most `burn_down_most`;
    in all not longer than one person tends a fire, `tended`. `turn` is what lies between two loads.

    Nothing thicker than `thickest_share` of the rim, nor than `thickest`, goes in unsplit, and
    nothing is split to less than `thinnest_split`. At least `main_least` of a load is more than
    what lights it and makes its bed, else the fire is kept smaller than the pit; at least
    `wood_least` of it is wood, else nothing carries the fire. Where a hose is there a quench takes
    no longer than `hosed`.

    `armful` and `handful` are what a person carries of dry wood at a time.

    A burn of `stretched` times what its fuel needs is too long; `no_shock` are words of
    `Burn.vessel` that must not be met with cold water.
    """

    kind_: Literal["planning"] = Field(alias="kind")
    classes: ThicknessClasses
    lighting: Minutes
    mending: Minutes
    finish: Minutes
    bed: Minutes
    bed_pace: ExactPoints
    burn_down_least: ExactMinutes
    burn_down_most: ExactMinutes
    tended: Minutes
    turn: Minutes
    quick_below: ExactLength
    thickest: ExactLength
    thickest_share: ExactPoints
    thinnest_split: ExactLength
    main_least: ExactPoints
    wood_least: ExactPoints
    hose: Flow
    hosed: ExactMinutes
    armful: Mass
    handful: Mass
    heat_limit: ExactPoints
    stretched: Plain
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
