"""Compost and beds."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import (
    Density,
    Dressing,
    ExactPoints,
    Fraction,
    Length,
    Minutes,
    MoistureCell,
    Plain,
    Ratio,
    Share,
)
from ..row import Names, Sourced
from .part import Part


class Compost(Sourced):
    """What a mix should be at the start, and how much char goes into it."""

    kind_: Literal["compost"] = Field(alias="kind")
    ratio: Ratio
    """Carbon over nitrogen, by mass, to aim at when a heap is begun."""
    ratio_acceptable: Ratio
    """Carbon over nitrogen at which a heap still works."""
    ratio_finished: Ratio
    """Carbon over nitrogen of finished compost."""
    moisture: MoistureCell
    """Moisture to aim at when a heap is begun."""
    moisture_acceptable: MoistureCell
    """Moisture at which a heap still works."""
    bulk_density_most: Density
    """Mass as it lies over the volume of the heap, above which air lacks."""
    char_by_volume: Share
    """Char as a share of the volume of the mix."""
    char_by_volume_most: ExactPoints
    """The highest share of the volume that a trial that was read has used."""
    char_by_dry_mass: Share
    """Char as a share of the dry mass of the mix."""
    critical_ratio: Ratio
    """Carbon over nitrogen above which microbes take nitrogen from the soil."""
    usable_carbon: Fraction
    """Part of the carbon that is used up in a season."""


class Beds(Sourced):
    """Dressings of charged char on beds."""

    kind_: Literal["beds"] = Field(alias="kind")
    yearly: Dressing
    """Dry char that a bed may get in a year."""
    in_all_without_test: Dressing
    """Dry char that a bed may get in all before its pH is tested."""
    depth: Length
    """Depth to which it is worked in."""
    soil_density: Density
    """Dry mass over the volume of the soil of a bed."""
    share_in_all: Share
    """Char as a share of the dry mass of the soil, in all years together."""
    ph_most: Plain
    """PH of a bed above which no char is advised."""


class CompostMaterial(Part):
    """Nitrogen of dry matter, C:N, moisture and bulk density as it lies."""

    names: Names
    """What it is called."""
    nitrogen: Share
    """Nitrogen as a share of the dry matter."""
    ratio: Ratio
    """Carbon over nitrogen, by mass."""
    moisture: MoistureCell
    """Moisture as it comes."""
    density: Density
    """Mass as it lies, with its water, over its volume."""


class CompostMaterials(Sourced):
    """What gardens compost."""

    kind_: Literal["compost-materials"] = Field(alias="kind")
    of: dict[str, CompostMaterial]
    """What gardens compost, by key."""


class CompostPractice(Sourced):
    """How char is put into a heap and how the heap is kept."""

    kind_: Literal["compost-practice"] = Field(alias="kind")
    correct_ratio: Ratio
    """Carbon over nitrogen inside which nothing is mended."""
    correct_moisture: MoistureCell
    """Moisture inside which nothing is mended."""
    aim_ratio: Ratio
    """Carbon over nitrogen to which a mix outside is brought."""
    aim_moisture: MoistureCell
    """Moisture to which a mix outside is brought."""
    stated: ExactPoints
    """Half of the 90 % interval of a volume that a person states, as a share of it."""
    until_used: Minutes
    """Time from charging to the bed."""
    crushed: Length
    """Size to which char is crushed."""
    shrinks: Share
    """Volume that a heap loses, as a share of it."""
    slope: Ratio
    """Height over half the width of a heap that is thrown up."""
    windrow_width: Length
    """Width of a windrow at its foot."""
    char_moisture: MoistureCell
    """Moisture of quenched char that drained."""
