"""What preservatives, paint and glue bring, and what stays in char."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ....quantities.cell import Cell
from ....words import Texts
from ..cell import (
    CellOf,
    Density,
    Dressing,
    ExactPoints,
    ExactTemperature,
    Fraction,
    Length,
    Ratio,
    Share,
)
from ..row import Sourced, Words
from .part import Part

Retention = Annotated[Cell, CellOf("density", "log", 0)]


ExactFraction = Annotated[Cell, CellOf("number", "logit", 0, 1, exact=True)]


FilmDensity = Annotated[Cell, CellOf("density", "log", 500, 8000)]


YearlyAddition = Annotated[Cell, CellOf("area density", "log", 0, exact=True)]


Loading = Annotated[Cell, CellOf("area density", "log", 0)]


class Preservative(Part):
    """What a preservative is made of, which share of it each element is, and how much of it wood
    holds, by use.

    `composition` is in the terms in which retentions are expressed (oxides, metal, active).
    """

    names: Words = ()
    """What it is called."""
    composition: dict[str, ExactPoints] = Field(default_factory=dict)
    """Parts of it as retentions are expressed (oxide, metal, active), as shares."""
    elements: dict[str, ExactFraction]
    """Mass of an element as a share of the preservative, by chemical sign."""
    retention: dict[str, Retention]
    """Preservative in the treated wood, mass over its volume, by use."""


class Preservatives(Sourced):
    """Wood preservatives; `density` is that of dry wood where the lot has none of its own."""

    kind_: Literal["preservatives"] = Field(alias="kind")
    density: Density
    """Oven-dry density that is taken for treated wood without one of its own."""
    of: dict[str, Preservative]
    """Preservatives, by key."""


class Film(Part):
    """A paint film: what lies on one face, given as it is or by coats, thickness, density and
    shares.
    """

    names: Words = ()
    """What it is called."""
    loading: dict[str, Loading] = Field(default_factory=dict)
    """Mass of an element over the area of one face, by chemical sign."""
    coats: Ratio | None = None
    """How many coats lie on a face."""
    thickness: Length | None = None
    """Thickness of one dry coat."""
    density: FilmDensity | None = None
    """Density of the dry film."""
    share: dict[str, Share] = Field(default_factory=dict)
    """Mass of an element as a share of the dry film, by chemical sign."""


class Paint(Sourced):
    """Paint films on boards."""

    kind_: Literal["paint"] = Field(alias="kind")
    faces: Ratio
    """Faces of a board that bear it, of two."""
    thickness: Length
    """Thickness of a board where the lot has none."""
    of: dict[str, Film]
    """Films, by key."""


class Binder(Part):
    """A resin: its share of the dry product, and the share of each element in it."""

    names: Words = ()
    """What it is called."""
    resin: dict[str, Share]
    """Dry resin as a share of the dry product, by product; `usual` where it is not known."""
    elements: dict[str, Share]
    """Mass of an element as a share of the resin, by chemical sign."""


class Binders(Sourced):
    """Resins, foils and salts in or on a feed."""

    kind_: Literal["binders"] = Field(alias="kind")
    wood_nitrogen: Share
    """Nitrogen of plain wood as a share of the dry matter."""
    of: dict[str, Binder]
    """Resins, foils and salts, by key."""


class FateBand(Part):
    """What stays in the char below a temperature; the last band has none."""

    to: ExactTemperature | None = None
    """Temperature up to which it holds; the last band has none."""
    kept: Fraction
    """What stays in the char, as a share of what was in the feed."""


class ElementFate(Part):
    """Share of an element that stays in the char."""

    name: str
    """The element as it is called."""
    conservative: ExactFraction
    """What is taken to stay in the char for judging, as a share of what was in the feed."""
    central: Annotated[tuple[FateBand, ...], Field(min_length=1)]
    """What stays in the char for reporting, by temperature."""


class Fate(Sourced):
    """What stays in the char, by element and highest temperature."""

    kind_: Literal["fate"] = Field(alias="kind")
    elements: dict[str, ElementFate]
    """What stays, by chemical sign."""


class SoilAddition(Sourced):
    """The dressing and the soil for which an addition to the bed is told."""

    kind_: Literal["soil-addition"] = Field(alias="kind")
    dressing: Dressing
    """Dry char on a bed at which the addition is told."""
    depth: Length
    """Depth to which it is worked in."""
    soil_density: Density
    """Dry mass over the volume of the soil."""


class Answer(Part):
    """What a person can say instead of asking a laboratory: a sign by which they bind themselves to
    a use, and what that use is.
    """

    sign: str
    """The sign by which a person binds themselves to a use."""
    to: Literal["background", "ash"]
    """What it answers: what clean matter holds, or high ash."""
    action: Texts
    """What to do then."""
    by_load: bool = False
    """Whether it is a dressing so thin that the yearly loads are kept."""


class ElementScreening(Sourced):
    """When a char is to be measured before use, and what can be answered without that."""

    kind_: Literal["element-screening"] = Field(alias="kind")
    ash_in_char: ExactPoints
    """Ash of the char, as a share, from which it is to be measured before use."""
    laboratory: Texts
    """What to ask of a laboratory."""
    salts: Texts
    """What is told of salts."""
    into_air: Texts
    """What is told of what goes into the air."""
    why_no_share: Texts
    """Why no share of a dirty lot is small enough."""
    yearly: dict[str, YearlyAddition] = Field(default_factory=dict)
    """What may come on a bed in a year by all ways, by chemical sign."""
    answers: tuple[Answer, ...] = ()
    """What a person can say instead of asking a laboratory."""
