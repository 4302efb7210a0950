"""Yield, carbon, kept share and volume of char."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import (
    Density,
    ExactLength,
    ExactPoints,
    ExactTemperature,
    Fraction,
    Plain,
    Ratio,
    Share,
)
from ..row import Sourced
from .part import Part


class Band(Part):
    """The half-width of a 90 % interval up to a temperature."""

    to: ExactTemperature | None = None
    error: ExactPoints


class YieldCurve(Sourced):
    """Organic yield by temperature, and how far an unseen study lies from it, by group of classes
    and temperature.

    `ash_error` is what a table's ash instead of a measured one adds, in quadrature, by group;
    `ash_high_more` what an ash above `ash_high` adds.
    """

    kind_: Literal["yield-curve"] = Field(alias="kind")
    floor: Plain
    amplitude: Plain
    rate: Plain
    lignin: Plain
    offsets: dict[str, Plain] = Field(default_factory=dict)
    groups: dict[str, str]
    lignin_of: dict[str, Share] = Field(default_factory=dict)
    error: dict[str, tuple[Band, ...]]
    ash_error: dict[str, ExactPoints] = Field(default_factory=dict)
    ash_high: ExactPoints | None = None
    ash_high_more: ExactPoints | None = None
    common: ExactPoints
    lowest: ExactTemperature
    highest: ExactTemperature


class CarbonGroup(Part):
    """Coefficients of C = top - span exp(-rate T) for a group of classes, and the half-width of its
    error.
    """

    top: Plain
    span: Plain
    rate: Plain
    error: ExactPoints


class CarbonCurve(Sourced):
    """Carbon of ash-free char by temperature, by group of classes; `with_yield` is the correlation
    of its error with that of the yield curve.
    """

    kind_: Literal["carbon-curve"] = Field(alias="kind")
    groups: dict[str, str]
    with_yield: Plain | None = None
    curves: dict[str, CarbonGroup]


class Kept(Sourced):
    """Share of the organic char that an open fire leaves, by the least dimension of the feed.

    `fine_top_lit`: of fine feed that is packed and lit from the top. `most_of_class`: classes whose
    thick pieces count as finer ones.
    """

    kind_: Literal["kept"] = Field(alias="kind")
    thick_above: ExactLength
    fine_below: ExactLength
    thick: Share
    medium: Share
    fine: Share
    fine_top_lit: Share | None = None
    kindling: Share
    most_of_class: dict[str, Literal["medium", "fine"]] = Field(default_factory=dict)


class WoodChar(Sourced):
    """From the density of a feed to that of its char, heaped, sorted, uncrushed and dry.

    `lump_*`: apparent density of a piece of char over the oven-dry density of the piece of wood, to
    the temperature `lump_cool_at`, from `lump_hot_at` on, of single classes (`bark` also of that on
    wood), and of wood that crumbles.
    `packing_*`: density of the heap over that of its pieces. `part`: how much of the yield curve's
    doubt (in the log) is in the density. `heap_lost`: what a heap of loose matter loses of its
    volume, `heap_lost_most` what it loses at most. `unknown`: density of char of which only the
    volume is known.
    """

    kind_: Literal["wood-char"] = Field(alias="kind")
    lump_cool: Fraction
    lump_hot: Fraction
    lump_cool_at: ExactTemperature
    lump_hot_at: ExactTemperature
    lump_of_class: dict[str, Fraction]
    lump_crumbled: Fraction
    crumbles_from: Plain
    part: ExactPoints
    packing: Fraction
    packing_thin: Fraction
    packing_crumbled: Fraction
    packing_of_form: dict[str, Fraction] = Field(default_factory=dict)
    thin_below: ExactLength
    heap_lost: Fraction
    heap_lost_most: ExactPoints
    unknown: Density
    crushed: Fraction
    in_vessel: Ratio
