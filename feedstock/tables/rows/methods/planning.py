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


ExactDensity = Annotated[Cell, CellOf("density", "log", 0, exact=True)]


ExactMinutes = Annotated[Cell, CellOf("time", "log", 0, exact=True)]


class ThicknessClass(Part):
    """Pieces of one thickness class."""

    to: ExactLength | None = None
    """Thickness of its thickest pieces; left out, all that is thicker."""
    every: ExactMinutes
    """How often a layer of them goes on."""


class ThicknessClasses(Part):
    """The classes by which fuel is sorted and fed."""

    thin: ThicknessClass
    """What snaps in the fingers, and lights."""
    finger: ThicknessClass
    """What is up to a finger thick."""
    wrist: ThicknessClass
    """What is up to a wrist thick."""
    thick: ThicknessClass
    """What is thicker."""


class Planning(Sourced):
    """What a small burn needs besides the physics of the fire: thin fuel, the bed of embers, the
    time of one person, and how thick pieces may go in.
    """

    kind_: Literal["planning"] = Field(alias="kind")
    classes: ThicknessClasses
    """The classes by which fuel is sorted."""
    lighting: Minutes
    """Thin fuel to light with, as time at the burning rate of the fire."""
    mending: Minutes
    """Thin fuel for grey spots, as time at that rate."""
    finish: Minutes
    """Thin fuel to finish with, as time at that rate."""
    bed: Minutes
    """Time until embers carry thick pieces."""
    bed_pace: ExactPoints
    """Pace until then, as a part of the full one."""
    burn_down_least: ExactMinutes
    """Least time from what was laid last to the quench."""
    burn_down_most: ExactMinutes
    """Most time from what was laid last to the quench."""
    tended: Minutes
    """How long one person tends a fire."""
    turn: Minutes
    """Time between two loads, for quenching, emptying and lighting again."""
    quick_below: ExactLength
    """Thickness below which fuel is thin enough to light with."""
    thickest: ExactLength
    """Thickness above which nothing goes in unsplit."""
    thickest_share: ExactPoints
    """Thickness above which nothing goes in unsplit, as a share of the rim."""
    longest_share: ExactPoints
    """Length of the longest pieces, as a share of the rim."""
    longest_filled: ExactPoints
    """The same in a round vessel that is filled before it is lit."""
    sawn_to_split: ExactLength
    """Length to which longer pieces are sawn before they are split."""
    lit_apart: ExactLength
    """How far apart a vessel longer than wide is lit along its length."""
    floor_layer: ExactLength
    """Height of a layer of dry sticks on a wet floor."""
    thinnest_split: ExactLength
    """Thickness below which nobody splits."""
    loose_every: ExactMinutes
    """How often a portion of what lies fine and loose goes on."""
    loose_with_wood: ExactMinutes
    """The same where wood is fed beside it."""
    soft_from: Plain
    """Class of decay, 1 to 5, from which wood goes in after all that is sound."""
    main_least: ExactPoints
    """Least share of a load that must be more than lighting and bed."""
    wood_least: ExactPoints
    """Least share of a load that must be wood."""
    below_rim: ExactLength
    """How far below the rim the char of a fed vessel stands at most."""
    below_rim_share: ExactPoints
    """The same at most, as a share of the depth."""
    brought_density: ExactDensity
    """Oven-dry density of wood that is brought."""
    hose: Flow
    """Flow of a garden hose."""
    hosed: ExactMinutes
    """Longest time of a quench with a hose."""
    armful: Mass
    """Dry wood that a person carries at a time."""
    handful: Mass
    """Dry wood that a hand takes at a time."""
    heat_limit: ExactPoints
    """Share of its own heat that its water may take."""
    stretched: Plain
    """Time of a burn over the time that its fuel needs, from which it is too long."""
    no_shock: Words = ()
    """Words of `burn.vessel` that must not meet cold water."""


class Emitted(Part):
    """Grams per kilogram of char."""

    carbon_monoxide: Plain | None = None
    """Carbon monoxide, g per kg of char."""
    methane: Plain | None = None
    """Methane, g per kg of char."""
    particles: Plain | None = None
    """Fine particles, g per kg of char."""


class Emissions(Sourced):
    """A reason to burn dry, by moisture of the feed, and what closed kilns give off; no
    inventory.
    """

    kind_: Literal["emissions"] = Field(alias="kind")
    dry_below: Gate
    """Moisture below which feed counts as dry here."""
    wet_above: Gate
    """Moisture above which it counts as wet here."""
    classes: dict[Literal["dry", "between", "wet", "closed"], Emitted]
    """What was given off, by class."""
