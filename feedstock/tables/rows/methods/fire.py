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
    """Time t = m x^exponent (min, mm) of the half thickness, m linear in density, moisture and char
    contraction.

    `contraction` by class, with `other` for a class that is not named; `lightest` to `wettest`
    bound the data behind m, `deep_from` is the depth from which a piece counts as thick; `density`
    is taken where the tables hold none.
    """

    kind_: Literal["charring"] = Field(alias="kind")
    constant: Plain
    per_density: Plain
    per_moisture: Plain
    per_contraction: Plain
    exponent: Plain
    contraction: dict[str, Fraction]
    factor: Ratio
    thin: Minutes
    thin_below: ExactLength
    deep_from: ExactLength
    lightest: ExactDensity
    densest: ExactDensity
    wettest: ExactPoints
    density: ExactDensity


class Charred(Part):
    """Rates in mm/min: `plain` for one face, `notional` with corners and fissures; from a
    characteristic density up.
    """

    density: ExactDensity
    plain: Plain
    notional: Plain | None = None


class CharringRates(Sourced):
    """Constant rates by material, as a design code gives them."""

    kind_: Literal["charring-rates"] = Field(alias="kind")
    rates: dict[str, Charred]


class CharringByDensity(Sourced):
    """Rate constant + (scale/density)^2, mm/min."""

    kind_: Literal["charring-by-density"] = Field(alias="kind")
    constant: Plain
    scale: Plain


class Slow(Part):
    """Slowness of charring of one species, linear in density and moisture."""

    per_density: Plain
    per_both: Plain
    constant: Plain


class CharringSlowness(Sourced):
    """Minutes per mm, linear in density and moisture, by species."""

    kind_: Literal["charring-slowness"] = Field(alias="kind")
    species: dict[str, Slow]


class BurningRate(Sourced):
    """What a fire eats per rim area and time, how much of it is alive, and how full a vessel or a
    load may be.

    `front` is the way down of a fire that was lit on top, mm/min; `heaped` the load over the
    vessel's volume.
    """

    kind_: Literal["burning-rate"] = Field(alias="kind")
    rate: Rate
    alive: Share
    face_loss: Rate
    exposed: Ratio
    fill: Share
    heaped: Ratio
    load_packing: Fraction
    load_density: Density
    front: Ratio


class Quench(Sourced):
    """Heat of hot char, properties of water, and where the water goes.

    `lost` by ground: `earth`, `vessel`. What stands ready is `reserve` times the high end, at most
    `most` times the middle.
    """

    kind_: Literal["quench"] = Field(alias="kind")
    low_a: Plain
    low_b: Plain
    low_c: Plain
    high_a: Plain
    high_b: Plain
    change: ExactTemperature
    boiling: ExactTemperature
    capacity: Plain
    latent: ExactHeat
    water_density: ExactDensity
    water_temperature: Temperature
    boil_factor: Ratio
    uptake: Ratio
    flooded: Fraction
    lost: dict[str, Share]
    reserve: Plain
    most: Plain
    least: ExactVolume
    covered: Minutes
