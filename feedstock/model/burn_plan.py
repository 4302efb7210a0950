"""A plan of a burn, and what to gather for a wanted amount."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from ..quantities.estimate import Estimate
from ..quantities.frozen import Data
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
    mid: Annotated[int, Field(ge=0)]
    high: Annotated[int, Field(ge=0)]


class FeedingStep(Data):
    """What goes in from `begin` to `end`, in minutes after lighting, as it lies.

    `mass` in all, `portion` of it at a time, `every` so many minutes; None where it goes in at
    once. `thickness` is the class of its pieces (thin, finger, wrist, thick), `lots` their names,
    the thickest first. `part` is light, bed, main, loose or aside of a fed fire, layer or cap of a
    load; `by_hand` says a portion in armfuls, `bring` what of it the heap does not have.
    """

    part: str
    thickness: str
    lots: tuple[str, ...]
    begin: Minutes
    end: Minutes
    mass: Kilograms
    portion: Kilograms
    every: Minutes | None = None
    by_hand: Message | None = None
    bring: Kilograms | None = None
    cue: Message


Step = FeedingStep
"""The name under which the plan's documentation speaks of it."""


class Split(Data):
    """What is split before the fire: so many pieces (None where nobody counted them), of that mass
    as it lies, in all loads together, each into so many parts of that thickness.

    `why` is through (else they keep a raw core) or bed (to make the bed of embers with).
    """

    lot: str
    pieces: Annotated[int, Field(ge=1)] | None
    into: Annotated[int, Field(ge=2)]
    thickness: Millimetres
    mass: Kilograms
    why: str


class TimelineEvent(Data):
    """A minute after lighting, with its interval, and what should then be seen or done."""

    at: Minutes
    event: Message


class Quench(Data):
    """How the char is put out. `ways` in order of preference: water, bursts, lid, soil."""

    ways: tuple[str, ...]
    hose_time: Minutes
    hose_flow: LitresPerMinute
    covered: Minutes
    steps: tuple[Message, ...]
    sources: tuple[Citation, ...] = ()


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


class Remark(Data):
    """A plain remark with its sources."""

    text: Message
    sources: tuple[Citation, ...] = ()


class BurnPlan(Data):
    """The plan of a burn from the lots that are ready, and of nothing else.

    For one load: `char_volume` is sorted, heaped, dry char that it leaves, `fill` how full the
    vessel is then, `feeding` what goes in when, from the lighting fuel to the quick fuel set aside
    (`hold_back`), `quench_water` what puts it out, `have_ready` the water to have beside the fire
    before lighting, `raw` the share of the wood that is still raw at the end.

    For all `loads`, each with the same share of every lot: `hours` with quench, emptying and
    relighting, `water`, `quick_fuel`, and `brands`, the raw wood that goes first into the next
    fire. `split` comes before the fire, `left_out` are lots that no splitting gets through in time.

    A `refused` burn has no feeding and no figures but the vessel's.
    """

    burner: str
    firing: str
    refused: bool = False
    vessel_volume: Litres
    char_volume: Litres | None = None
    char_mass: Kilograms | None = None
    fill: Percent | None = None
    loads: Loads = Loads(low=0, mid=0, high=0)
    duration: Minutes | None = None
    hold_back: Kilograms | None = None
    quench_water: Litres | None = None
    have_ready: Litres | None = None
    raw: Percent | None = None
    water_heat: Percent | None = None
    longest_piece: Metres | None = None
    split: tuple[Split, ...] = ()
    left_out: tuple[str, ...] = ()
    feeding: tuple[FeedingStep, ...] = ()
    char_through: tuple[tuple[str, Minutes], ...] = ()
    hours: Hours | None = None
    water: Litres | None = None
    quick_fuel: Kilograms | None = None
    brands: Kilograms | None = None
    timeline: tuple[TimelineEvent, ...] = ()
    quench: Quench | None = None
    section: VesselSection | None = None
    emissions: Remark | None = None
    findings: tuple[Finding, ...] = ()
    cautions: tuple[Caution, ...] = ()
    notes: tuple[Message, ...] = ()


class Sizing(Data):
    """How wide and deep a vessel is to be for a heap in so many loads: `burn` with its measures,
    and what all loads take.
    """

    burn: Burn
    loads: Annotated[int, Field(ge=1)]
    hours: Hours | None
    water: Litres
    quick_fuel: Kilograms
    plan: BurnPlan


class GatheredLot(Data):
    """What to take of a lot: `share` of it in percent, `amount` in the way the lot was described,
    and its mass as it lies.
    """

    lot: str
    share: Annotated[float, Field(ge=0, le=100)]
    amount: Message
    mass: Kilograms
    char: Estimate


class Gathering(Data):
    """The lots and amounts that give the wanted char; `enough` is False where the ready lots
    cannot, and then `heap` is all of them.

    `gives` is the char that the burn leaves of `heap`, in the unit of the target, `could_give` that
    of every ready lot; `bring` the thin dry fuel, for all loads, that the chosen lots do not have.
    `heap` is what to take, as a heap that can be appraised; None where nothing is ready.
    """

    target: str
    confidence: Annotated[float, Field(gt=0, lt=1)]
    enough: bool
    lots: tuple[GatheredLot, ...] = ()
    gives: Estimate
    could_give: Estimate
    loads: Loads | None = None
    whole_loads: bool = False
    hold_back: Kilograms | None = None
    bring: Kilograms | None = None
    heap: Heap | None = None
    findings: tuple[Finding, ...] = ()
    notes: tuple[Message, ...] = ()
