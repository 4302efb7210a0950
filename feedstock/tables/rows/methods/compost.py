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
    ratio_acceptable: Ratio
    ratio_finished: Ratio
    moisture: MoistureCell
    moisture_acceptable: MoistureCell
    bulk_density_most: Density
    char_by_volume: Share
    char_by_volume_most: ExactPoints
    char_by_dry_mass: Share
    critical_ratio: Ratio
    usable_carbon: Fraction


class Beds(Sourced):
    """Dressings of charged char on beds."""

    kind_: Literal["beds"] = Field(alias="kind")
    yearly: Dressing
    in_all_without_test: Dressing
    depth: Length
    soil_density: Density
    share_in_all: Share
    ph_most: Plain


class CompostMaterial(Part):
    """Nitrogen of dry matter, C:N, moisture and bulk density as it lies."""

    names: Names
    nitrogen: Share
    ratio: Ratio
    moisture: MoistureCell
    density: Density


class CompostMaterials(Sourced):
    """What gardens compost."""

    kind_: Literal["compost-materials"] = Field(alias="kind")
    of: dict[str, CompostMaterial]


class CompostPractice(Sourced):
    """How char is put into a heap and how the heap is kept; a mix is to be mended only outside
    `correct_ratio` and `correct_moisture`.
    """

    kind_: Literal["compost-practice"] = Field(alias="kind")
    correct_ratio: Ratio
    correct_moisture: MoistureCell
    aim_ratio: Ratio
    aim_moisture: MoistureCell
    stated: ExactPoints
    until_used: Minutes
    crushed: Length
    shrinks: Share
    slope: Ratio
    windrow_width: Length
    char_moisture: MoistureCell
