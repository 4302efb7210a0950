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
    """Mean temperature of the soil."""
    intercept: Plain
    """Share left where hydrogen over carbon is nothing."""
    slope: Plain
    """What the share changes by for one of molar hydrogen over carbon."""
    residual: Plain
    """Standard deviation of what the line does not explain, as a share."""


class Permanence(Sourced):
    """Share of organic carbon left after `years`, by molar H/C and soil temperature; linear between
    the lines.
    """

    kind_: Literal["permanence"] = Field(alias="kind")
    years: Plain
    """Years for which the share is told."""
    lines: Annotated[tuple[PermanenceLine, ...], Field(min_length=1)]
    """The lines, by rising temperature of the soil."""
    not_above: Plain
    """Molar hydrogen over carbon above which it says nothing."""


class InventoryBand(Part):
    """The share of carbon left after 100 years for char made above a temperature."""

    above: ExactTemperature
    """Temperature of charring above which it holds."""
    left: Points
    """Share of the carbon that is left after a hundred years."""


class InventoryDefaults(Sourced):
    """Default organic carbon of char by feed and process, and default permanence by temperature."""

    kind_: Literal["inventory-defaults"] = Field(alias="kind")
    carbon: dict[str, dict[Literal["pyrolysis", "gasification"], Points]]
    """Organic carbon as a share of the dry char, by feed and process."""
    groups: dict[str, str]
    """The feed group to which each class belongs."""
    materials: dict[str, str] = Field(default_factory=dict)
    """The feed group of single materials."""
    permanence: Annotated[tuple[InventoryBand, ...], Field(min_length=1)]
    """What is left after a hundred years, by temperature."""
    years: Plain
    """Years for which that holds."""
