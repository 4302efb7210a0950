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


YearlyLoad = Annotated[Cell, CellOf("area density", "log", 0, exact=True)]


Loading = Annotated[Cell, CellOf("area density", "log", 0)]


class Preservative(Part):
    """What a preservative is made of, which share of it each element is, and how much of it wood
    holds, by use.

    `composition` is in the terms in which retentions are expressed (oxides, metal, active).
    """

    names: Words = ()
    composition: dict[str, ExactPoints] = Field(default_factory=dict)
    elements: dict[str, ExactFraction]
    retention: dict[str, Retention]


class Preservatives(Sourced):
    """Wood preservatives; `density` is that of dry wood where the lot has none of its own."""

    kind_: Literal["preservatives"] = Field(alias="kind")
    density: Density
    of: dict[str, Preservative]


class Film(Part):
    """A paint film: what lies on one face, given as it is or by coats, thickness, density and
    shares.
    """

    names: Words = ()
    loading: dict[str, Loading] = Field(default_factory=dict)
    coats: Ratio | None = None
    thickness: Length | None = None
    density: FilmDensity | None = None
    share: dict[str, Share] = Field(default_factory=dict)


class Paint(Sourced):
    """Paint films on boards; `faces` is how many of a board's two faces bear it."""

    kind_: Literal["paint"] = Field(alias="kind")
    faces: Ratio
    thickness: Length
    of: dict[str, Film]


class Binder(Part):
    """A resin: its share of the dry product, and the share of each element in it."""

    names: Words = ()
    resin: dict[str, Share]
    elements: dict[str, Share]


class Binders(Sourced):
    """Resins, foils and salts in or on a feed; `resin` is by product, `usual` where the product is
    not known.
    """

    kind_: Literal["binders"] = Field(alias="kind")
    wood_nitrogen: Share
    of: dict[str, Binder]


class FateBand(Part):
    """What stays in the char below a temperature; the last band has none."""

    to: ExactTemperature | None = None
    kept: Fraction


class ElementFate(Part):
    """Share of an element that stays in the char: `conservative` for judging, the bands for
    reporting.
    """

    name: str
    conservative: ExactFraction
    central: Annotated[tuple[FateBand, ...], Field(min_length=1)]


class Fate(Sourced):
    """What stays in the char, by element and highest temperature."""

    kind_: Literal["fate"] = Field(alias="kind")
    elements: dict[str, ElementFate]


class SoilAddition(Sourced):
    """The dressing and the soil for which an addition to the bed is told."""

    kind_: Literal["soil-addition"] = Field(alias="kind")
    dressing: Dressing
    depth: Length
    soil_density: Density


class Answer(Part):
    """What a person can say instead of asking a laboratory: a sign by which they bind themselves to
    a use, and what that use is. With `by_load` it is a dressing that keeps the yearly loads.
    """

    sign: str
    to: Literal["background", "ash"]
    action: Texts
    by_load: bool = False


class LoadScreening(Sourced):
    """From which share of ash on a char is to be measured before use, what to ask of a laboratory,
    and what can be answered without one.

    `yearly` is what may be added to a bed in a year by all ways together.
    """

    kind_: Literal["load-screening"] = Field(alias="kind")
    ash_in_char: ExactPoints
    laboratory: Texts
    salts: Texts
    into_air: Texts
    why_no_share: Texts
    yearly: dict[str, YearlyLoad] = Field(default_factory=dict)
    answers: tuple[Answer, ...] = ()
