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
    error: ExactPoints


class WoodWater(Sourced):
    """Shrinkage below fibre saturation and the most water that wood can hold.

    A stated moisture may lie the share `leeway` above that most.
    """

    kind_: Literal["wood-water"] = Field(alias="kind")
    shrinkage: Plain
    saturation: Plain
    cell_wall: Plain
    leeway: ExactPoints


class Decay(Sourced):
    """Density left, by decay class 1 to 5, for wood on the ground (`lying`) and standing dead
    wood.
    """

    kind_: Literal["decay"] = Field(alias="kind")
    lying: dict[str, tuple[Fraction, ...]]
    standing: dict[str, tuple[Fraction, ...]]
    bark_left: tuple[Share, ...]


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
