"""The shapes of `methods` rows: coefficients of published formulas and the judgements that go with
them.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from .schema import (
    ExactLength,
    ExactPoints,
    ExactTemperature,
    Fraction,
    Plain,
    Ratio,
    Row,
    Share,
    Sourced,
    Volume,
    Words,
)


class Part(BaseModel):
    """A part of a method row: frozen, without unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")


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


class Equilibrium(Sourced):
    """Twelve coefficients of the sorption isotherm."""

    kind_: Literal["equilibrium"] = Field(alias="kind")
    coefficients: dict[str, Plain]
    error: ExactPoints


class WoodWater(Sourced):
    """Shrinkage below fibre saturation and the most water that wood can hold."""

    kind_: Literal["wood-water"] = Field(alias="kind")
    shrinkage: Plain
    saturation: Plain
    cell_wall: Plain


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


class Decay(Sourced):
    """Density left, by decay class 1 to 5, for wood on the ground (`lying`) and standing dead
    wood.
    """

    kind_: Literal["decay"] = Field(alias="kind")
    lying: dict[str, tuple[Fraction, ...]]
    standing: dict[str, tuple[Fraction, ...]]
    bark_left: tuple[Share, ...]


class PackingRow(Part):
    """The solid share of one way of lying."""

    names: Words = ()
    solid: Fraction


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

    Of the reading; of the odds for `ash`, `soil` and `hollow`; `temperature` in kelvin.
    """

    kind_: Literal["instruments"] = Field(alias="kind")
    moisture: dict[str, Instrument]
    scale: ExactPoints
    length: ExactPoints
    volume: ExactPoints
    density: ExactPoints
    sample: ExactPoints
    ash: ExactPoints
    soil: ExactPoints
    hollow: ExactPoints
    flow: ExactPoints
    temperature: Plain


class HeatCoefficients(Sourced):
    """Channiwala and Parikh, and the standard's net value at constant pressure."""

    kind_: Literal["heating"] = Field(alias="kind")
    carbon: Plain
    hydrogen: Plain
    oxygen: Plain
    nitrogen: Plain
    sulphur: Plain
    ash: Plain
    net_hydrogen: Plain
    net_oxygen: Plain
    water: Plain


class Defaults(Row):
    """Which row serves which purpose, the burner that is assumed when none is named, and the words
    for a burn's surroundings.
    """

    kind_: Literal["defaults"] = Field(alias="kind")
    burner: str
    vessel: Words = ()
    ground: Words = ()
    lighting: Words = ()
    use: dict[str, str]
    ash_warning: ExactPoints
    high_over: ExactPoints


KINDS: dict[str, type[Row]] = {
    "yield-curve": YieldCurve,
    "carbon-curve": CarbonCurve,
    "equilibrium": Equilibrium,
    "wood-water": WoodWater,
    "kept": Kept,
    "wood-char": WoodChar,
    "decay": Decay,
    "packing": Packing,
    "containers": Containers,
    "instruments": Instruments,
    "heating": HeatCoefficients,
    "defaults": Defaults,
}
