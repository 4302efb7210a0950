"""How long the carbon of char lasts."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from ..cell import ExactTemperature, Plain, Points
from ..row import Sourced
from .part import Part


class PermanenceLine(Part):
    """F = intercept + slope H/C at one mean soil temperature, and the standard deviation of its
    residual.
    """

    soil: ExactTemperature
    intercept: Plain
    slope: Plain
    residual: Plain


class Permanence(Sourced):
    """Share of organic carbon left after `years`, by molar H/C and soil temperature; linear between
    the lines.
    """

    kind_: Literal["permanence"] = Field(alias="kind")
    years: Plain
    lines: Annotated[tuple[PermanenceLine, ...], Field(min_length=1)]
    not_above: Plain


class InventoryBand(Part):
    """The share of carbon left after 100 years for char made above a temperature."""

    above: ExactTemperature
    left: Points


class InventoryDefaults(Sourced):
    """Default organic carbon of char by feed and process, and default permanence by temperature."""

    kind_: Literal["inventory-defaults"] = Field(alias="kind")
    carbon: dict[str, dict[Literal["pyrolysis", "gasification"], Points]]
    groups: dict[str, str]
    materials: dict[str, str] = Field(default_factory=dict)
    permanence: Annotated[tuple[InventoryBand, ...], Field(min_length=1)]
    years: Plain
