"""The one maker of estimates from figures: unit, order of the ends, the bounds of its kind."""

from __future__ import annotations

from ..quantities.estimate import Estimate
from .figure import UncertainValue


def figure_estimate(figure: UncertainValue, unit: str, factor: float = 1.0) -> Estimate:
    """A figure in its public unit; `factor` turns the SI value into it.

    What is told on the log scale is an amount and never below nothing, what is told on the logit
    scale a share and never above the whole. The middle lies between the ends.

    >>> share = UncertainValue(0.25, {"a": (-0.3, 0.1)}, "linear")
    >>> round(figure_estimate(share, "%", 100.0).low_value, 6)
    -5.0
    """
    return bounded_estimate(figure.ends, figure.mid, unit, factor, figure.scale)


def bounded_estimate(
    ends: tuple[float, float], mid: float, unit: str, factor: float = 1.0, scale: str = "log"
) -> Estimate:
    """Three values as an estimate, kept within the bounds of the scale."""
    least = float("-inf") if scale == "linear" else 0.0
    most = 1.0 if scale == "logit" else float("inf")
    low, middle, high = (min(max(value, least), most) for value in (ends[0], mid, ends[1]))
    return Estimate(min(low, middle) * factor, middle * factor, max(high, middle) * factor, unit)


def exact_estimate(value: float, unit: str) -> Estimate:
    """A value without doubt."""
    return Estimate(value, value, value, unit)


def scaled_estimate(
    low: float, mid: float, high: float, unit: str, factor: float = 1.0
) -> Estimate:
    """Three values that are not from a chain (cells of a table), brought into order."""
    return bounded_estimate((low, high), mid, unit, factor, "linear")
