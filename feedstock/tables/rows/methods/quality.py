"""What char is made of."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import ExactTemperature, Plain, Ratio
from ..row import Sourced
from .part import Part


class RatioCurve(Part):
    """Molar H/C = start exp(-rate T)."""

    start: Plain
    """Molar hydrogen over carbon that the curve begins with."""
    rate: Plain
    """How fast it falls, per degree Celsius."""
    doubt: Ratio
    """Factor by which chars of other laboratories differ."""
    doubt_hot: Ratio
    """The same of hot chars."""


class ShareCurve(Part):
    """Mass share = rest + span exp(-rate T)."""

    rest: Plain
    """Mass share of the ash-free char that the curve nears when it gets hot."""
    span: Plain
    """How far from it the curve begins."""
    rate: Plain
    """How fast it nears it, per degree Celsius."""


class AtomicWeights(Part):
    """Atomic weights, g/mol."""

    hydrogen: Plain
    """Atomic weight of hydrogen, g/mol."""
    carbon: Plain
    """Atomic weight of carbon, g/mol."""
    oxygen: Plain
    """Atomic weight of oxygen, g/mol."""


class CharQuality(Sourced):
    """Molar H/C by temperature and group of classes, and carbon, hydrogen and oxygen of ash-free
    char.
    """

    kind_: Literal["char-quality"] = Field(alias="kind")
    groups: dict[str, str]
    """The group to which each class belongs."""
    curves: dict[str, RatioCurve]
    """The curves, by group."""
    doubt_to: ExactTemperature
    """Temperature up to which the plain doubt holds."""
    doubt_hot_from: ExactTemperature
    """Temperature from which the doubt of hot chars holds."""
    carbon: ShareCurve
    """Carbon of ash-free char."""
    hydrogen: ShareCurve
    """Hydrogen of ash-free char."""
    oxygen: ShareCurve
    """Oxygen of ash-free char."""
    atomic: AtomicWeights
    """Atomic weights."""
    lowest: ExactTemperature
    """Temperature below which it says nothing."""
    highest: ExactTemperature
    """Temperature above which it says nothing."""
    fitted_to: ExactTemperature
    """Temperature up to which there were chars to fit."""
