"""Yield, carbon, kept share and volume of char."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import ExactLength, ExactPoints, ExactTemperature, Fraction, Plain, Ratio, Share
from ..row import Sourced
from .part import Part


class Band(Part):
    """The half-width of a 90 % interval up to a temperature."""

    to: ExactTemperature | None = None
    error: ExactPoints


class YieldCurve(Sourced):
    """Organic yield by temperature, and how far an unseen study lies from it, by group of classes
    and temperature.
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
    """Carbon of ash-free char by temperature, by group of classes."""

    kind_: Literal["carbon-curve"] = Field(alias="kind")
    groups: dict[str, str]
    curves: dict[str, CarbonGroup]


class Kept(Sourced):
    """Share of the organic char that an open fire leaves, by the least dimension of the feed."""

    kind_: Literal["kept"] = Field(alias="kind")
    thick_above: ExactLength
    fine_below: ExactLength
    thick: Share
    medium: Share
    fine: Share
    kindling: Share


class WoodChar(Sourced):
    """From the solid volume of wood to the heaped volume of its char."""

    kind_: Literal["wood-char"] = Field(alias="kind")
    shrinkage: Fraction
    packing: Fraction
    packing_thin: Fraction
    thin_below: ExactLength
    crushed: Fraction
    in_vessel: Ratio
