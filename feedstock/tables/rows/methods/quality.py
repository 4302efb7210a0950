"""What char is made of."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import ExactTemperature, Plain, Ratio
from ..row import Sourced
from .part import Part


class RatioCurve(Part):
    """Molar H/C = start exp(-rate T); `doubt` is the factor by which other laboratories' chars
    differ, `doubt_hot` that of hot ones.
    """

    start: Plain
    rate: Plain
    doubt: Ratio
    doubt_hot: Ratio


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
    doubt_to: ExactTemperature
    doubt_hot_from: ExactTemperature
    carbon: ShareCurve
    hydrogen: ShareCurve
    oxygen: ShareCurve
    atomic: AtomicWeights
    lowest: ExactTemperature
    highest: ExactTemperature
    fitted_to: ExactTemperature
