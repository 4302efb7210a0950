"""A plan of a burn, and what to gather for a wanted amount."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from ..quantities.data import Data, trusted
from ..quantities.estimate import Estimate
from ..tables.citations import Citation
from ..words import Message
from .fields import (
    Finite,
    Hours,
    Kilograms,
    Litres,
    LitresPerMinute,
    Metres,
    Millimetres,
    Minutes,
    Percent,
)
from .findings import Caution, Finding
from .inputs.burn import Burn
from .inputs.heap import Heap


class Loads(Data):
    """Whole loads at the low end, the middle and the high end."""

    low: Annotated[int, Field(ge=0)]
    """Whole loads at the low end."""
    mid: Annotated[int, Field(ge=0)]
    """Whole loads at the middle; the steps are for one of so many."""
    high: Annotated[int, Field(ge=0)]
    """Whole loads at the high end."""


class FeedingStep(Data):
    """What goes in from `begin` to `end`."""

    part: str
    """Its part: light, bed, main, loose, with (wood beside what sinks the flame) or aside of a fed
    fire, layer or cap of a load laid before lighting.
    """
    thickness: str
    """The class of its pieces: thin, finger, wrist or thick."""
    lots: tuple[str, ...]
    """The names of the lots, the thickest first; empty where all of it is brought."""
    thinnest: Millimetres | None = None
    """How thick its thinnest pieces are, mm; None where all of it is brought."""
    thickest: Millimetres | None = None
    """How thick its thickest pieces are, mm."""
    begin: Minutes
    """When it begins, minutes after lighting."""
    end: Minutes
    """When it ends, minutes after lighting."""
    mass: Kilograms
    """All of it as it lies, kg, with what is brought."""
    portion: Kilograms
    """So much of it at a time, kg."""
    every: Minutes | None = None
    """A portion every so many minutes; None where it goes in at once."""
    by_hand: Message | None = None
    """How many armfuls, handfuls or portions it is in all, and how many at a time."""
    bring: Kilograms | None = None
    """What of it the heap does not have, kg dry."""
    cue: Message
    """How it is laid, and by what one sees that the next may follow."""


Step = FeedingStep
"""The name under which the plan's documentation speaks of it."""


class Split(Data):
    """What is split before the fire."""

    lot: str
    """The name of the lot."""
    pieces: Annotated[int, Field(ge=1)] | None
    """How many of its pieces, as they are sawn; None where nobody counted them."""
    into: Annotated[int, Field(ge=2)]
    """Into how many parts each piece is split."""
    thickness: Millimetres
    """How thick the parts then are, mm."""
    mass: Kilograms
    """How much of the lot that is, as it lies, kg, for all loads together."""
    why: str
    """through (else they keep a raw core), bed (to make the bed of embers with), with (to go in
    beside what sinks the flame) or both of these.
    """
    by_hand: bool = False
    """Whether it is broken by hand, being rotten, and not split with an axe."""
    sawn: Metres | None = None
    """To what length its pieces are sawn first where they are longer, m; None where they are not,
    or where what of them is too long stands under what is sawn.
    """


class Cut(Data):
    """What is sawn before the fire, being too long to lie flat in the vessel or to be split."""

    lot: str
    """The name of the lot."""
    into: Annotated[int, Field(ge=2)]
    """Into how many lengths each piece is sawn."""
    length: Metres
    """How long those are, m."""


class TimelineEvent(Data):
    """A minute after lighting, with its interval, and what should then be seen or done."""

    at: Minutes
    """When, minutes after lighting."""
    event: Message
    """What should then be seen or done."""


class Quench(Data):
    """How the char is put out."""

    ways: tuple[str, ...]
    """Ways to put it out, the best first: water, bursts, lid, soil."""
    hose_time: Minutes
    """How long a hose takes, minutes."""
    hose_flow: LitresPerMinute
    """What that hose gives, L a minute."""
    covered: Minutes
    """How long it stays hot under lid or soil, minutes."""
    steps: tuple[Message, ...]
    """What to do, in order."""
    sources: tuple[Citation, ...] = ()
    """What this rests on."""


class VesselSection(Data):
    """The vessel cut through its middle, for a drawing."""

    rim: Metres
    """How wide it is at the rim, m."""
    depth: Metres
    """How deep it is, m."""
    widths: Annotated[tuple[Finite, ...], Field(min_length=2, max_length=100)]
    """How wide it is at equal heights from the floor to the rim, m."""
    level: Annotated[float, Field(ge=0, le=1)]
    """How high the char of one load stands, as a share of the depth."""
    length: Metres | None = None
    """How long it is at the rim, m; None where it is round."""
    floor_length: Metres | None = None
    """How long its floor is, m."""
    bowl: bool = False
    """Whether its sides are those of a bowl, without a floor."""
    dug: bool = False
    """Whether it is a hole in the ground."""


class Remark(Data):
    """A plain remark with its sources."""

    text: Message
    """The remark."""
    sources: tuple[Citation, ...] = ()
    """What it rests on."""


class BurnPlan(Data):
    """The plan of a burn from the lots that are ready, and of nothing else: one load, and what all
    loads take.
    """

    burner: str
    """The burner, as it is called."""
    firing: str
    """How it is fired: fed, top-lit or closed."""
    refused: bool = False
    """Whether nothing may be burnt as things stand; then there are no figures but the vessel's."""
    vessel_volume: Litres
    """What the vessel holds to its rim, L."""
    char_volume: Litres | None = None
    """Sorted dry char that one load leaves, heaped, L."""
    char_mass: Kilograms | None = None
    """Sorted dry char that one load leaves, kg."""
    fill: Percent | None = None
    """How full of char the vessel is after one load, % of its volume."""
    loads: Loads = trusted(Loads)(low=0, mid=0, high=0)
    """How many loads the ready lots are, each with the same share of every lot."""
    duration: Minutes | None = None
    """From lighting to quench of one load, minutes."""
    hold_back: Kilograms | None = None
    """Quick fuel of one load, from lighting to finish, kg dry."""
    quench_water: Litres | None = None
    """Water that putting out one load takes, L."""
    have_ready: Litres | None = None
    """Water to have beside the fire before lighting, L."""
    uncharred_fraction: Percent | None = None
    """Wood that is still raw at the end, % of the wood."""
    water_heat: Percent | None = None
    """Heat that the fuel's own water takes, % of its heat."""
    longest_piece: Metres | None = None
    """The longest piece that lies well inside the rim, m."""
    floor_sticks: Kilograms | None = None
    """Dry sticks that cover the wet floor before each load but the first, kg dry; they count in no
    other figure.
    """
    split: tuple[Split, ...] = ()
    """What is split before the fire."""
    saw: tuple[Cut, ...] = ()
    """What is sawn to length before the fire, where lengths were told."""
    left_out: tuple[str, ...] = ()
    """Lots that no splitting gets through in time."""
    feeding: tuple[FeedingStep, ...] = ()
    """What goes in when, of one load."""
    char_through: tuple[tuple[str, Minutes], ...] = ()
    """How long the pieces of each lot need in the flame, minutes."""
    hours: Hours | None = None
    """All loads with quenching, emptying and relighting, h."""
    water: Litres | None = None
    """Water that putting out all loads takes, L."""
    quick_fuel: Kilograms | None = None
    """Quick fuel of all loads, kg dry."""
    brands: Kilograms | None = None
    """Half-charred wood of all loads, which goes first into the next fire, kg dry."""
    timeline: tuple[TimelineEvent, ...] = ()
    """What should be seen or done when."""
    quench: Quench | None = None
    """How the char is put out."""
    section: VesselSection | None = None
    """The vessel cut through its middle; None where it has no walls."""
    emissions: Remark | None = None
    """What fires of this kind gave off."""
    findings: tuple[Finding, ...] = ()
    """What is to be said of the plan before it is followed."""
    cautions: tuple[Caution, ...] = ()
    """The cautions that apply."""
    notes: tuple[Message, ...] = ()
    """What was assumed."""


class Sizing(Data):
    """How wide and deep a vessel is to be for a heap in so many loads."""

    burn: Burn
    """The burn with its measures."""
    loads: Annotated[int, Field(ge=1)]
    """How many loads."""
    hours: Hours | None
    """All loads with quenching, emptying and relighting, h."""
    water: Litres
    """Water that putting out all loads takes, L."""
    quick_fuel: Kilograms
    """Quick fuel of all loads, kg dry."""
    plan: BurnPlan
    """The plan of one load in it."""


class GatheredLot(Data):
    """What to take of a lot."""

    lot: str
    """The name of the lot."""
    share: Annotated[float, Field(ge=0, le=100)]
    """What of the lot to take, %."""
    amount: Message
    """The same in the way in which the lot was described."""
    mass: Kilograms
    """The same as it lies, kg."""
    char: Estimate
    """The char that it gives, in the unit of the target."""


class Gathering(Data):
    """The lots and amounts that give the wanted char; where the ready lots cannot, all of them."""

    target: str
    """What was wanted, as it was written."""
    confidence: Annotated[float, Field(gt=0, lt=1)]
    """How sure it is to be that there is enough, 0 to 1."""
    enough: bool
    """Whether the ready lots give it with that confidence."""
    lots: tuple[GatheredLot, ...] = ()
    """What to take of each lot."""
    gives: Estimate
    """The char that the burn leaves of what is taken, in the unit of the target."""
    could_give: Estimate
    """The char that all ready lots would give."""
    loads: Loads | None = None
    """How many loads that is; None without a burn's measures."""
    whole_loads: bool = False
    """Whether it was filled up to whole loads."""
    hold_back: Kilograms | None = None
    """Quick fuel of one load, kg dry."""
    bring: Kilograms | None = None
    """Thin dry fuel for all loads that the chosen lots do not have, kg."""
    heap: Heap | None = None
    """What to take, as a heap that can be appraised; None where nothing is ready."""
    findings: tuple[Finding, ...] = ()
    """What is to be said of it."""
    notes: tuple[Message, ...] = ()
    """What was assumed."""
