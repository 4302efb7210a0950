"""Char-through, burning rate and quench."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ....quantities.cell import Cell
from ..cell import (
    CellOf,
    Density,
    ExactLength,
    ExactPoints,
    ExactTemperature,
    Fraction,
    Minutes,
    Plain,
    Rate,
    Ratio,
    Share,
    Temperature,
)
from ..row import Sourced
from .part import Part

ExactDensity = Annotated[Cell, CellOf("density", "log", 1, 2500, exact=True)]


ExactVolume = Annotated[Cell, CellOf("volume", "log", 0, exact=True)]


ExactHeat = Annotated[Cell, CellOf("specific energy", "log", 0, 60e6, exact=True)]


class Charring(Sourced):
    """Time t = m x^exponent (min, mm) of the half thickness, m linear in density, moisture and
    char contraction.
    """

    kind_: Literal["charring"] = Field(alias="kind")
    constant: Plain
    """The constant of m, min/mm to the exponent."""
    per_density: Plain
    """What m grows by per kg/m^3."""
    per_moisture: Plain
    """What m grows by per point of moisture."""
    per_contraction: Plain
    """What m grows by with the contraction of the char."""
    exponent: Plain
    """Exponent of the half thickness."""
    contraction: dict[str, Fraction]
    """Thickness of the char layer over that of the wood that it was, by class."""
    factor: Ratio
    """Time in a garden fire over time in the standard fire."""
    thin: Minutes
    """Time that thin pieces take, whatever their thickness."""
    thin_below: ExactLength
    """Thickness below which a piece is thin."""
    deep_from: ExactLength
    """Depth from which a piece counts as thick."""
    lightest: ExactDensity
    """Oven-dry density of the lightest wood tested."""
    densest: ExactDensity
    """Oven-dry density of the densest wood tested."""
    wettest: ExactPoints
    """Moisture of the wettest wood tested, as a share of the dry mass."""
    density: ExactDensity
    """Oven-dry density that is taken where the tables hold none."""


class Charred(Part):
    """Rates in mm/min: `plain` for one face, `notional` with corners and fissures; from a
    characteristic density up.
    """

    density: ExactDensity
    """Characteristic density from which the rates hold."""
    plain: Plain
    """Rate from one flat face, mm/min."""
    notional: Plain | None = None
    """Rate with corners and fissures in it, mm/min."""


class CharringRates(Sourced):
    """Constant rates by material, as a design code gives them."""

    kind_: Literal["charring-rates"] = Field(alias="kind")
    rates: dict[str, Charred]
    """The rates, by kind of material."""


class CharringByDensity(Sourced):
    """Rate constant + (scale/density)^2, mm/min."""

    kind_: Literal["charring-by-density"] = Field(alias="kind")
    constant: Plain
    """Rate that very dense wood nears, mm/min."""
    scale: Plain
    """Density by which it gets faster, kg/m^3."""


class Slow(Part):
    """Slowness of charring of one species, linear in density and moisture."""

    per_density: Plain
    """Minutes per mm for each kg/m^3."""
    per_both: Plain
    """Minutes per mm for each kg/m^3 and point of moisture."""
    constant: Plain
    """Minutes per mm at nothing."""


class CharringSlowness(Sourced):
    """Minutes per mm, linear in density and moisture, by species."""

    kind_: Literal["charring-slowness"] = Field(alias="kind")
    species: dict[str, Slow]
    """The coefficients, by species."""


class BurningRate(Sourced):
    """What a fire eats per rim area and time, and how full a vessel or a load may be."""

    kind_: Literal["burning-rate"] = Field(alias="kind")
    rate: Rate
    """Dry feed for rim area and time, from lighting to quench, of a well fed fire."""
    burning_fraction: Share
    """Part of the rim area that is in flame, where the fire is kept small."""
    face_loss: Rate
    """Mass that a wood face in flame loses."""
    exposed: Ratio
    """Area of wood faces in flame over the rim area."""
    fill: Share
    """How full of char a fed vessel gets, as a share of its volume."""
    heaped: Ratio
    """Volume of a load that is lit on top over that of the vessel."""
    load_packing: Fraction
    """Volume of solid wood as a share of that of a load."""
    load_density: Density
    """Dry mass of a load over its volume."""
    front: Ratio
    """Way down of a fire lit on top, mm/min."""


class Quench(Sourced):
    """Heat of hot char, properties of water, and where the water goes."""

    kind_: Literal["quench"] = Field(alias="kind")
    low_a: Plain
    """First coefficient of the heat capacity of char below `change`, kJ/(kg K)."""
    low_b: Plain
    """Its second coefficient, kJ/(kg K^2)."""
    low_c: Plain
    """Its third coefficient, kJ/(kg K^3)."""
    high_a: Plain
    """First coefficient above `change`, kJ/(kg K)."""
    high_b: Plain
    """Its second coefficient, kJ/(kg K^2)."""
    change: ExactTemperature
    """Temperature at which the one formula gives way to the other."""
    boiling: ExactTemperature
    """Temperature at which water boils."""
    capacity: Plain
    """Heat capacity of water, kJ/(kg K)."""
    latent: ExactHeat
    """Heat that turns boiling water to steam."""
    water_density: ExactDensity
    """Density of water."""
    water_temperature: Temperature
    """Temperature of the water that is at hand."""
    boil_factor: Ratio
    """Water that boils off over what the heat of the char alone would take."""
    uptake: Ratio
    """Water that a char soaks up over its dry mass."""
    flooded: Fraction
    """Gaps of the char that fill with water, as a share of them."""
    lost: dict[str, Share]
    """Water that is lost, as a share of what is poured, by ground (`earth`, `vessel`)."""
    reserve: Plain
    """What stands ready over the high end of what is needed."""
    most: Plain
    """The most that stands ready over the middle of what is needed."""
    minimum: ExactVolume
    """The least that stands ready at any fire."""
    covered: Minutes
    """Time under lid or soil until it is cold."""
