"""Percentiles by draws, for figures that are the least or the greatest of several things that are
all in doubt.

Where such a figure bends, the changes at the ends of single keys tell too little. The draws are
spread evenly over each key (a Latin hypercube, McKay, Beckman and Conover 1979) and shuffled by the
key's own name, so that the same keys always meet the same draws, whatever else is in the heap and
in whatever order.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import lru_cache
from statistics import NormalDist

COUNT = 1000


@lru_cache(maxsize=256)
def normals_of(key: str) -> tuple[float, ...]:
    """The standard normals of a key, one for each draw."""
    normal = NormalDist()
    found = [normal.inv_cdf((n + 0.5) / COUNT) for n in range(COUNT)]
    random.Random(key).shuffle(found)
    return tuple(found)


def ends_of(values: Sequence[float]) -> tuple[float, float]:
    """The 5th and the 95th percentile of drawn values, straight between neighbours."""
    ordered = sorted(values)
    return _at(ordered, 0.05), _at(ordered, 0.95)


def _at(ordered: Sequence[float], share: float) -> float:
    place = share * len(ordered) - 0.5
    index = min(max(int(place), 0), len(ordered) - 2)
    return ordered[index] + (place - index) * (ordered[index + 1] - ordered[index])
