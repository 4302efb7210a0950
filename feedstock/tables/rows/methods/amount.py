"""Packings, containers and instruments."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import ExactPoints, Fraction, Length, Plain, Share, Volume
from ..row import Sourced, Words
from .part import Part


class PackingRow(Part):
    """The solid share of one way of lying, and how thick the pieces are that lie so, where the
    word says it.
    """

    names: Words = ()
    solid: Fraction
    thickness: Length | None = None


class Packing(Sourced):
    """Solid share of stacked, heaped and chipped wood."""

    kind_: Literal["packing"] = Field(alias="kind")
    ways: dict[str, PackingRow]
    by_form: dict[str, str]


class Container(Part):
    """What one container holds, and how its content lies in it."""

    names: Words = ()
    volume: Volume
    packing: str = ""


class Containers(Sourced):
    """What a wheelbarrow and the like hold, heaped as usual."""

    kind_: Literal["containers"] = Field(alias="kind")
    of: dict[str, Container]


class Instrument(Part):
    """How far a moisture instrument is out, in points of its own basis, below and above
    `wet_above`.
    """

    names: Words = ()
    basis: Literal["wet", "dry"]
    error: ExactPoints
    error_wet: ExactPoints
    wet_above: Share
    note: str = ""


class Instruments(Sourced):
    """How far readings lie from the truth: moisture meters, scales, tapes, and what a person
    measures or judges without a range.

    Of the reading; of the odds for `ash`, `soil` and `hollow`; `temperature` and
    `soil_temperature` in kelvin.

    No moisture is read as more than `wettest` (wet basis), the end of its interval lies no higher
    than `wettest_end` and no lower than `driest_part` of the reading.

    `dug` is for the measures of a pit in the earth.

    `stated_shared` is the part of the variance of a range stated for an amount that is the person's
    and shared by all such ranges of a heap.
    """

    kind_: Literal["instruments"] = Field(alias="kind")
    moisture: dict[str, Instrument]
    scale: ExactPoints
    length: ExactPoints
    dug: ExactPoints
    volume: ExactPoints
    density: ExactPoints
    sample: ExactPoints
    ash: ExactPoints
    soil: ExactPoints
    hollow: ExactPoints
    flow: ExactPoints
    temperature: Plain
    soil_temperature: Plain
    wettest: ExactPoints
    wettest_end: ExactPoints
    driest_part: ExactPoints
    stated_shared: ExactPoints
