"""The shapes of `methods` rows for what comes after the burn: quality, permanence, compost, beds,
learning.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .methods import Part
from .schema import (
    Density,
    Dressing,
    ExactPoints,
    ExactTemperature,
    Fraction,
    Length,
    MoistureCell,
    Plain,
    Points,
    Ratio,
    Row,
    Share,
    Sourced,
)


class RatioCurve(Part):
    """Molar H/C = start exp(-rate T); `doubt` is the factor by which other laboratories' chars
    differ.
    """

    start: Plain
    rate: Plain
    doubt: Ratio


class ShareCurve(Part):
    """Mass share = rest + span exp(-rate T)."""

    rest: Plain
    span: Plain
    rate: Plain


class AtomicWeights(Part):
    """Atomic weights, g/mol."""

    hydrogen: Plain
    carbon: Plain
    oxygen: Plain


class CharQuality(Sourced):
    """Molar H/C by temperature and group of classes, and carbon, hydrogen and oxygen of ash-free
    char.
    """

    kind_: Literal["char-quality"] = Field(alias="kind")
    groups: dict[str, str]
    curves: dict[str, RatioCurve]
    carbon: ShareCurve
    hydrogen: ShareCurve
    oxygen: ShareCurve
    atomic: AtomicWeights
    lowest: ExactTemperature
    highest: ExactTemperature
    fitted_to: ExactTemperature


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


class Learnable(Part):
    """The share of a figure's prior variance, on the log scale, that stays with person and
    burner.
    """

    share: Fraction


class Learning(Sourced):
    """How a figure's doubt splits into what batches can teach and what is new in each, and how a
    wild record counts.
    """

    kind_: Literal["learning"] = Field(alias="kind")
    figures: dict[Literal["volume-per-feed", "mass-per-feed", "burning-rate"], Learnable]
    freedom: Plain


KINDS_AFTER: dict[str, type[Row]] = {
    "char-quality": CharQuality,
    "permanence": Permanence,
    "inventory-defaults": InventoryDefaults,
    "compost": Compost,
    "beds": Beds,
    "learning": Learning,
}
