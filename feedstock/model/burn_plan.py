"""A plan of a burn, and what to gather for a wanted amount."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from ..quantities.estimate import Estimate
from ..quantities.frozen import Data
from ..tables.citations import Citation
from ..words import Message
from .fields import Kilograms, Litres, LitresPerMinute, Millimetres, Minutes, Percent
from .findings import Caution, Finding
from .inputs.heap import Heap


class Loads(Data):
    """Whole loads at the low end, the middle and the high end."""

    low: Annotated[int, Field(ge=0)]
    mid: Annotated[int, Field(ge=0)]
    high: Annotated[int, Field(ge=0)]


class FeedingStep(Data):
    """What goes in next.

    `mass` is as the lot lies, for one load; `latest` counts from lighting, None where time sets no
    limit.

    `part` is kindling, establish, main, thin, finish for a fed fire; bottom, body, top, cap for a
    load that is lit on top.
    """

    lot: str
    part: str
    mass: Kilograms
    latest: Minutes | None = None
    cue: Message


Step = FeedingStep
"""The name under which the plan's documentation speaks of it."""


class TimelineEvent(Data):
    """A minute after lighting, with its interval, and what should then be seen or done."""

    at: Minutes
    event: Message


class Core(Data):
    """A lot of which some pieces keep a raw core: the expected share of its pieces, and how thin to
    split them.
    """

    lot: str
    share: Percent
    split_to: Millimetres


class Quench(Data):
    """How the char is put out. `ways` in order of preference: water, bursts, lid, soil."""

    ways: tuple[str, ...]
    boiled: Litres
    taken_up: Litres
    hose_time: Minutes
    hose_flow: LitresPerMinute
    covered: Minutes
    steps: tuple[Message, ...]
    sources: tuple[Citation, ...] = ()


class Remark(Data):
    """A plain remark with its sources."""

    text: Message
    sources: tuple[Citation, ...] = ()


class BurnPlan(Data):
    """The plan of a burn from the lots that are ready, and of nothing else; figures are for one
    load.

    `char_volume` is sorted, heaped, dry char that one burn leaves, `fill` how full the vessel is
    then, `left_over` the dry fuel that is not burnt in it. `have_ready` is the water to have beside
    the fire before lighting, `unburnt` the share of pieces with a core at the end and `raw` the
    share of their wood that is core. A `refused` burn has no feeding and no figures but the
    vessel's.
    """

    burner: str
    firing: str
    refused: bool = False
    vessel_volume: Litres
    char_volume: Litres | None = None
    char_mass: Kilograms | None = None
    fill: Percent | None = None
    left_over: Kilograms | None = None
    loads: Loads = Loads(low=0, mid=0, high=0)
    duration: Minutes | None = None
    hold_back: Kilograms | None = None
    quick_fuel: Kilograms | None = None
    quench_water: Litres | None = None
    have_ready: Litres | None = None
    unburnt: Percent | None = None
    raw: Percent | None = None
    water_heat: Percent | None = None
    feeding: tuple[FeedingStep, ...] = ()
    char_through: tuple[tuple[str, Minutes], ...] = ()
    cores: tuple[Core, ...] = ()
    timeline: tuple[TimelineEvent, ...] = ()
    quench: Quench | None = None
    emissions: Remark | None = None
    findings: tuple[Finding, ...] = ()
    cautions: tuple[Caution, ...] = ()
    notes: tuple[Message, ...] = ()


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

    `gives` is the char of `heap` in the unit of the target, `could_give` that of every ready lot.
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
    heap: Heap | None = None
    findings: tuple[Finding, ...] = ()
    notes: tuple[Message, ...] = ()
