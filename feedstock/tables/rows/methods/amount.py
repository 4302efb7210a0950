"""Packings, containers and instruments."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import ExactLength, ExactMass, ExactPoints, Fraction, Length, Plain, Share, Volume
from ..row import Sourced, Words
from .part import Part


class PackingRow(Part):
    """How matter lies in one way of lying."""

    names: Words = ()
    """What such a way of lying is called."""
    solid: Fraction
    """Volume of the solid matter as a share of that of the heap."""
    thickness: Length | None = None
    """Thickness of pieces that lie so, where the word tells it."""


class Packing(Sourced):
    """Solid share of stacked, heaped and chipped wood."""

    kind_: Literal["packing"] = Field(alias="kind")
    ways: dict[str, PackingRow]
    """Ways of lying, by word."""
    by_form: dict[str, str]
    """The way in which a form lies where nothing is said."""


class Container(Part):
    """What one container holds, and how its content lies in it."""

    names: Words = ()
    """What it is called."""
    volume: Volume
    """What it holds as people fill it."""
    packing: str = ""
    """How its content lies, as a word of packing."""


class Containers(Sourced):
    """What a wheelbarrow and the like hold, heaped as usual."""

    kind_: Literal["containers"] = Field(alias="kind")
    of: dict[str, Container]
    """Containers, by word."""


class Instrument(Part):
    """How far a moisture instrument is out."""

    names: Words = ()
    """What it is called."""
    basis: Literal["wet", "dry"]
    """What its readings are a share of: `wet` (the whole) or `dry` (the dry matter)."""
    error: ExactPoints
    """Half of the 90 % interval of a reading, in points of its own basis."""
    error_wet: ExactPoints
    """The same above `wet_above`."""
    wet_above: Share
    """Reading from which it errs more, as a share on its own basis."""
    note: str = ""
    """What to know of it."""


class Instruments(Sourced):
    """How far readings lie from the truth: moisture meters, scales, tapes, and what a person
    measures or judges without a range.
    """

    kind_: Literal["instruments"] = Field(alias="kind")
    moisture: dict[str, Instrument]
    """Instruments that read moisture, by word."""
    scale: ExactPoints
    """Half of the 90 % interval of a weighing, as a share of the reading."""
    length: ExactPoints
    """The same of a length that was taped."""
    dug: ExactPoints
    """The same of a measure of a hole in the earth."""
    volume: ExactPoints
    """The same of a volume."""
    density: ExactPoints
    """The same of a density that somebody measured."""
    sample: ExactPoints
    """The same of a sample that was weighed wet and dry."""
    ash: ExactPoints
    """The same of a stated ash, as a share of its odds."""
    soil: ExactPoints
    """The same of a stated share of soil, as a share of its odds."""
    hollow: ExactPoints
    """The same of a stated hollow, as a share of its odds."""
    flow: ExactPoints
    """The same of a flow of water."""
    temperature: Plain
    """Half of the 90 % interval of a stated temperature of the char, kelvin."""
    soil_temperature: Plain
    """The same of the soil, kelvin."""
    wettest: ExactPoints
    """The most that any moisture is read as, as a share of the whole."""
    wettest_end: ExactPoints
    """The most that the upper end of a moisture can be, as a share of the whole."""
    driest_part: ExactPoints
    """The least that the lower end of a moisture can be, as a share of the reading."""
    least_weighed: ExactMass
    """The least mass that a scale shows; less was not meant."""
    thickest: ExactLength
    """The most that the least dimension of a piece can be; more was not meant."""
    stated_shared: ExactPoints
    """Part of the variance of stated amounts that a heap shares, because one person stated them."""
