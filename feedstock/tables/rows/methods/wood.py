"""Water in wood, decay, heating value."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import ExactPoints, Fraction, Plain, Share
from ..row import Sourced


class Equilibrium(Sourced):
    """Twelve coefficients of the sorption isotherm."""

    kind_: Literal["equilibrium"] = Field(alias="kind")
    coefficients: dict[str, Plain]
    """The coefficients of the isotherm, by name."""
    error: ExactPoints
    """Half of the 90 % interval, in points of the dry mass."""


class WoodWater(Sourced):
    """Shrinkage below fibre saturation and the most water that wood can hold.

    A stated moisture may lie the share `leeway` above that most.
    """

    kind_: Literal["wood-water"] = Field(alias="kind")
    shrinkage: Plain
    """How much basic density lowers the volume on drying: the factor before a Gb in G = Gb / (1 -
    factor a Gb).
    """
    saturation: Plain
    """Moisture below which wood shrinks, as a share of the dry mass."""
    cell_wall: Plain
    """Density of dry cell wall, g/cm^3."""
    leeway: ExactPoints
    """How far above the most that wood can hold a stated moisture may lie, as a share of it."""


class Decay(Sourced):
    """Density left, by decay class 1 to 5, for wood on the ground (`lying`) and standing dead
    wood.
    """

    kind_: Literal["decay"] = Field(alias="kind")
    lying: dict[str, tuple[Fraction, ...]]
    """Density left over that of sound wood, by series, classes 1 to 5, on the ground."""
    standing: dict[str, tuple[Fraction, ...]]
    """The same of dead wood that stands."""
    bark_left: tuple[Share, ...]
    """Bark that is left, as a share of that of a sound piece, classes 1 to 5."""


class HeatCoefficients(Sourced):
    """Channiwala and Parikh, and the standard's net value at constant pressure."""

    kind_: Literal["heating"] = Field(alias="kind")
    carbon: Plain
    """Heat that a percent of carbon adds, MJ/kg."""
    hydrogen: Plain
    """Heat that a percent of hydrogen adds, MJ/kg."""
    oxygen: Plain
    """Heat that a percent of oxygen adds, MJ/kg; below nothing, for it takes some."""
    nitrogen: Plain
    """Heat that a percent of nitrogen adds, MJ/kg."""
    sulphur: Plain
    """Heat that a percent of sulphur adds, MJ/kg."""
    ash: Plain
    """Heat that a percent of ash adds, MJ/kg."""
    net_hydrogen: Plain
    """What a percent of hydrogen takes from the net value, kJ/kg."""
    net_oxygen: Plain
    """What a percent of oxygen or nitrogen takes from the net value, kJ/kg."""
    water: Plain
    """What a percent of water takes from the net value, kJ/kg."""
