"""A number of a table as a plain value: its interval, its source, and how its width was widened."""

from __future__ import annotations

import math
from typing import Literal

from .frozen import frozen

Scale = Literal["linear", "log", "logit"]


Known = Literal["read", "memory", "derived", "practice", "judgement"]


KNOWN: tuple[str, ...] = ("read", "memory", "derived", "practice", "judgement")


COVERS: tuple[str, ...] = ("p90", "p95", "sd", "range")


ENDS: tuple[str, ...] = ("read", "derived", "judgement")
"""Where the ends of an interval come from; else `rule NAME`."""


BY_RULE = "rule "


UNSOURCED = frozenset({"practice", "judgement"})


# what turns half a width into half the width of a 90 % interval, by what the cell says that it
# covers
_TO_P90 = {"p90": 1.0, "sd": 1.645, "p95": 0.839, "range": 1.0}


# from memory, or the range of fewer than five sources: wider by half
_WIDER = 1.5


_ENOUGH_SOURCES = 5


@frozen
class Cell:
    """One number about the world: SI values at the 5th percentile, the middle and the 95th, and
    where they come from.

    `text` holds the three values as they stand in the table. `ends` says where the interval comes
    from: `read`, `derived`, `judgement` or `rule NAME`; it is empty where there is none.
    """

    low: float
    mid: float
    high: float
    dimension: str
    scale: Scale
    text: tuple[str, str, str]
    basis: str = ""
    known: str = "read"
    covers: str = "p90"
    source: tuple[str, ...] = ()
    at: str = ""
    note: str = ""
    ends: str = ""


def widened(
    low: float, mid: float, high: float, covers: str, known: str, n: int, scale: Scale
) -> tuple[float, float, float]:
    """The ends as 5th and 95th percentiles: sd x 1.645, p95 x 0.839; from memory or a range of few
    sources wider by half.

    Widths are changed on the cell's scale, so that an amount stays above nothing and a share below
    one.
    """
    factor = _TO_P90[covers]
    if known == "memory" or (covers == "range" and n < _ENOUGH_SOURCES):
        factor *= _WIDER
    if factor == 1.0:
        return low, mid, high
    return _moved(mid, low, factor, scale), mid, _moved(mid, high, factor, scale)


def _moved(mid: float, end: float, factor: float, scale: Scale) -> float:
    straight = mid + (end - mid) * factor
    if scale == "linear" or end == mid:
        return straight
    if scale == "log":
        # near the middle both ways agree; far out only the log keeps an amount above nothing
        return (
            straight
            if straight > 0.2 * mid
            else mid * (end / mid) ** factor
            if end > 0 and mid > 0
            else max(straight, 0.0)
        )
    if not 0 < mid < 1 or not 0 < end < 1:
        return min(max(straight, 0.0), 1.0)
    if 0.1 * mid < straight < 1 - 0.1 * (1 - mid):
        return straight
    x, m = math.log(end / (1 - end)), math.log(mid / (1 - mid))
    return 1 / (1 + math.exp(-(m + (x - m) * factor)))
