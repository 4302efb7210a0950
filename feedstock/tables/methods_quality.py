"""The shapes of `methods` rows for judging char and working with it: standards, field signs,
compost materials and practice, records.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .methods import Part
from .schema import (
    Density,
    ExactPoints,
    ExactTemperature,
    Length,
    Minutes,
    MoistureCell,
    Names,
    Plain,
    Points,
    Ratio,
    Row,
    Share,
    Sourced,
    Words,
)


class CharClass(Part):
    """What a class of a standard asks that can be forecast; `not_forecast` is what only a
    laboratory can tell.
    """

    name: str
    version: str
    hydrogen_most: Plain | None = None
    oxygen_most: Plain | None = None
    carbon_least: ExactPoints | None = None
    ash_most: ExactPoints | None = None
    volatile_most: ExactPoints | None = None
    not_forecast: Words = ()


class Volatile(Part):
    """Volatile matter of ash-free char at one temperature."""

    temperature: ExactTemperature
    share: Points


class CharStandards(Sourced):
    """Classes of published standards, the least temperature of what is called biochar, volatile
    matter, and what to order.
    """

    kind_: Literal["char-standards"] = Field(alias="kind")
    least_temperature: ExactTemperature
    high_ash: ExactPoints
    classes: dict[str, CharClass]
    volatile: Annotated[tuple[Volatile, ...], Field(min_length=1)]
    laboratory: dict[str, str]


class FieldSign(Part):
    """What is seen on a piece of char, what it means, and where such pieces go."""

    names: Names
    into: Literal["soil char", "re-burn", "cooking charcoal", "quench again", "pick out"]
    meaning: str


class FieldSigns(Sourced):
    """All signs; `order` is where a piece with several signs goes, the most cautious first."""

    kind_: Literal["field-signs"] = Field(alias="kind")
    order: Words
    signs: dict[str, FieldSign]
    always: Words


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
    """How char is put into a heap and how the heap is kept."""

    kind_: Literal["compost-practice"] = Field(alias="kind")
    asked_least: ExactPoints
    asked_usual: ExactPoints
    aim_ratio: Ratio
    aim_moisture: MoistureCell
    stated: ExactPoints
    bulk_of_forecast: Ratio
    until_used: Minutes
    crushed: Length
    shrinks: Share
    slope: Ratio
    windrow_width: Length
    char_density: Density
    char_moisture: MoistureCell


class BatchRecords(Sourced):
    """How a record of a batch is taken: the share of one class that makes it a batch of that class,
    and when a record counts as wild.
    """

    kind_: Literal["batch-records"] = Field(alias="kind")
    main_share: ExactPoints
    wild_below: Plain
    minutes_error: ExactPoints


KINDS_QUALITY: dict[str, type[Row]] = {
    "char-standards": CharStandards,
    "field-signs": FieldSigns,
    "compost-materials": CompostMaterials,
    "compost-practice": CompostPractice,
    "batch-records": BatchRecords,
}
