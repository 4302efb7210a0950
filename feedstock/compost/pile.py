"""The shape of a compost heap."""

from __future__ import annotations

import math

from ..quantities.estimate import Estimate, scaled_estimate
from ..tables.rows.methods.compost import CompostPractice


def pile(
    volume: float, practice: CompostPractice
) -> tuple[str, Estimate, Estimate, Estimate | None]:
    """Shape, height, width and length of a heap that stands by itself: a cone, or a windrow where
    there is enough for one as long as it is wide.
    """
    slope, width = practice.slope, practice.windrow_width
    if 2 * volume / (width.mid * slope.mid * width.mid / 2) < width.mid:
        low, mid, high = (
            2 * (3 * volume / (math.pi * item)) ** (1 / 3)
            for item in (slope.high, slope.mid, slope.low)
        )
        return (
            "cone",
            scaled_estimate(slope.low * high / 2, slope.mid * mid / 2, slope.high * low / 2, "m"),
            scaled_estimate(low, mid, high, "m"),
            None,
        )
    # a wide heap may be low, a narrow one steep: the height is that of the slopes, the length
    # follows from both
    sections = [
        slope.low * width.low**2 / 4,
        slope.mid * width.mid**2 / 4,
        slope.high * width.high**2 / 4,
    ]
    return (
        "windrow",
        scaled_estimate(
            slope.low * width.low / 2, slope.mid * width.mid / 2, slope.high * width.high / 2, "m"
        ),
        scaled_estimate(width.low, width.mid, width.high, "m"),
        scaled_estimate(volume / sections[2], volume / sections[1], volume / sections[0], "m"),
    )
