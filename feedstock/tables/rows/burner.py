"""Ways of making char."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from ...quantities.cell import Cell
from .cell import CellOf, Gate, KeptAsh, Length, Rate, Ratio, RetainedShare, Share, Temperature
from .light import Light
from .row import Sourced, Words, as_tuple

# a share of the rim that may be nothing: on a straight scale, where nothing is as near as any other
FloorShare = Annotated[Cell, CellOf("number", "linear", 0, 1)]


class Reference(Light):
    """The feed with which a published field yield was measured."""

    by_either_name = True

    class_: str = Field(alias="class")
    """The class of that feed."""
    ash: Share
    """Its ash as a share of the dry matter."""
    thickness: Length
    """The thickness of its pieces."""


class Burner(Sourced):
    """A way of making char: its shape, its fire and what it keeps."""

    shape: Literal["cone", "frustum", "cylinder", "cap", "trench", "prismoid", "heap", "none"]
    """The body by which its volume is reckoned."""
    firing: Annotated[tuple[Literal["fed", "top-lit", "closed"], ...], BeforeValidator(as_tuple)]
    """The ways in which it can be fired; the first is the usual one."""
    air: Literal["open", "closed"]
    """Whether the flame has free air or the vessel is closed."""
    temperature: Temperature
    """Highest temperature that the char has seen."""
    field_yield: Share | None = None
    """Char as a share of the dry feed, as weighed after real burns; where there is none, the
    laboratory curve and the char retention are used.
    """
    reference: Reference | None = None
    """The feed with which that yield was measured."""
    contains: Words = ()
    """Doubts that the scatter of the field yield holds already."""
    brands: Share
    """Half-charred wood that is sorted out, as a share of the dry feed."""
    ash_kept: KeptAsh
    """Share of the ash of the feed that stays in the char."""
    char_retention: RetainedShare | None = None
    """Share of what a laboratory would leave that this burner leaves; left out, by the fineness of
    the feed.
    """
    moisture_ready: Gate
    """Moisture up to which feed is ready for it."""
    moisture_refused: Gate
    """Moisture from which nothing is burnt in it."""
    # for the plan of a burn; a row without them gives yields and no plan beyond its own measures
    stands: Literal["earth", "vessel"] = "vessel"
    """Whether its walls are earth, which drains and cannot crack, or a vessel."""
    past: Words = ()
    """Words that say what such a vessel held before; where there are any, it is asked."""
    floor: FloorShare | None = None
    """Width of the floor over the width of the rim, where nobody measured it."""
    usual: dict[str, Length] = Field(default_factory=dict)
    """Measures that are usual, by name of the measure, for a heap that gives none."""
    proportion: Ratio | None = None
    """Usual width over depth."""
    filling: Share | None = None
    """How full of char it gets, as a share of its volume; left out, as other fed vessels."""
    burning: Rate | None = None
    """Dry feed that it takes for its rim and time; left out, that of any open fire."""
    kept_small: bool = False
    """Whether the fire is kept smaller than the vessel on purpose."""
    quenching: Words = ()
    """Ways in which its char may be put out, best first: water, bursts, lid, soil."""
