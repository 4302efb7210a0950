"""Yield, carbon, char retention and volume of char."""

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
    """The temperature up to which it holds; the last band has none."""
    error: ExactPoints
    """Half of the 90 % interval, in points of the dry mass."""


class YieldCurve(Sourced):
    """Organic yield by temperature, and how far an unseen study lies from it."""

    kind_: Literal["yield-curve"] = Field(alias="kind")
    floor: Plain
    """The organic yield that the curve nears when it gets hot, as a share of the ash-free feed."""
    amplitude: Plain
    """How much more there is at nothing, before it falls."""
    rate: Plain
    """How fast it falls, per kelvin."""
    lignin: Plain
    """How much more is left for each share of lignin."""
    offsets: dict[str, Plain] = Field(default_factory=dict)
    """What is added for a group of classes, as a share of the ash-free feed."""
    groups: dict[str, str]
    """The group to which each class belongs."""
    lignin_of: dict[str, Share] = Field(default_factory=dict)
    """Lignin as a share of the dry matter that is taken for a group where a row has none."""
    error: dict[str, tuple[Band, ...]]
    """How far a study that was not seen lies off, by group and temperature."""
    ash_error: dict[str, ExactPoints] = Field(default_factory=dict)
    """What the ash of a table instead of a measured one adds to that, in points, by group."""
    ash_high: ExactPoints | None = None
    """Ash of the dry matter from which a little more is added."""
    ash_high_more: ExactPoints | None = None
    """What is then added, in points."""
    common: ExactPoints
    """Part of the squared error that all classes share."""
    lowest: ExactTemperature
    """Temperature below which the curve says nothing."""
    highest: ExactTemperature
    """Temperature above which the curve says nothing."""


class CarbonGroup(Part):
    """Coefficients of C = top - span exp(-rate T) for a group of classes, and the half-width of its
    error.
    """

    top: Plain
    """Carbon of ash-free char that the curve nears when it gets hot, as a share."""
    span: Plain
    """How far below it begins."""
    rate: Plain
    """How fast it rises, per kelvin."""
    error: ExactPoints
    """Half of the 90 % interval, in points of the ash-free char."""


class CarbonCurve(Sourced):
    """Carbon of ash-free char by temperature."""

    kind_: Literal["carbon-curve"] = Field(alias="kind")
    groups: dict[str, str]
    """The group to which each class belongs."""
    with_yield: Plain | None = None
    """Correlation of its error with that of the yield curve, -1 to 1."""
    curves: dict[str, CarbonGroup]
    """The coefficients, by group."""


class CharRetention(Sourced):
    """Share of the organic char that an open fire leaves, by the least dimension of the feed."""

    kind_: Literal["char-retention"] = Field(alias="kind")
    thick_above: ExactLength
    """Thickness above which feed counts as thick."""
    fine_below: ExactLength
    """Thickness below which feed counts as fine."""
    thick: Share
    """What an open fire leaves of thick feed, as a share of what a laboratory would leave."""
    medium: Share
    """The same of what is between thick and fine."""
    fine: Share
    """The same of fine feed."""
    fine_top_lit: Share | None = None
    """The same of fine feed that is packed and lit from the top."""
    kindling: Share
    """The same of what lights and finishes the fire."""
    most_of_class: dict[str, Literal["medium", "fine"]] = Field(default_factory=dict)
    """Classes whose thick pieces count as medium or fine."""


class WoodChar(Sourced):
    """From the density of a feed to that of its char, heaped, sorted, uncrushed and dry."""

    kind_: Literal["wood-char"] = Field(alias="kind")
    lump_cool: Fraction
    """Density of a lump of char over that of the oven-dry piece, up to `lump_cool_at`."""
    lump_hot: Fraction
    """The same from `lump_hot_at` on."""
    lump_cool_at: ExactTemperature
    """Temperature up to which the cool ratio holds."""
    lump_hot_at: ExactTemperature
    """Temperature from which the hot ratio holds."""
    lump_of_class: dict[str, Fraction]
    """The same ratio of a class of its own, whatever the temperature."""
    lump_crumbled: Fraction
    """The same ratio of wood that crumbles."""
    crumbles_from: Plain
    """Class of decay, 1 to 5, from which wood crumbles."""
    part: ExactPoints
    """How much of the doubt of the yield curve is doubt of the density."""
    packing: Fraction
    """Density of the heap over that of its lumps."""
    packing_thin: Fraction
    """The same of char from thin pieces."""
    packing_crumbled: Fraction
    """The same of char from wood that crumbles."""
    packing_of_form: dict[str, Fraction] = Field(default_factory=dict)
    """The same by form."""
    thin_below: ExactLength
    """Thickness of the feed below which its char packs as thin."""
    heap_lost: Fraction
    """Volume that a heap of loose matter loses in charring, as a share of it."""
    heap_lost_most: ExactPoints
    """The most that such a heap loses, as a share."""
    unknown: Density
    """Bulk density of char of which only the volume is known."""
    crushed: Fraction
    """Volume of crushed char as a share of the volume before."""
    in_vessel: Ratio
    """Volume in the vessel over that after sorting."""
