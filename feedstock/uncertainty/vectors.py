"""The few operations on columns of draws, on plain lists or on an array library.

An array library is used where the host has loaded one, and never loaded here. Both ways give the
same numbers but for rounding.
"""

from __future__ import annotations

import sys
from array import array
from collections.abc import Callable, Sequence
from itertools import repeat
from typing import Any, Protocol

from ..quantities.cell import Scale
from .intervals import Shape
from .scales import FLOAT_WAYS, WAYS

Column = Any
"""A sequence of floats, or an array of them."""


class Vectors(Protocol):
    """Operations on columns."""

    def taken(self, column: array[float]) -> Column:
        """A column that is kept, ready for what follows."""

    def weighted(self, terms: Sequence[tuple[float, Column]]) -> Column:
        """The weighted sum of at least one column."""

    def parabola(self, start: float, tilt: float, bend: float, normals: Column) -> Column:
        """start + tilt z + bend z^2."""

    def shaped(self, total: Column | float, shape: Shape, normals: Column) -> Column:
        """The total and what a key does."""

    def back(self, scale: Scale, total: Column) -> Column:
        """From a scale on which doubts add to the figure."""

    def clipped(self, column: Column) -> Column:
        """Kept between 0 and 1."""

    def ordered(self, column: Column) -> Sequence[float]:
        """The values in rising order."""


class Lists:
    """Columns as lists, in plain Python."""

    def taken(self, column: array[float]) -> Column:
        return column

    def weighted(self, terms: Sequence[tuple[float, Column]]) -> Column:
        (weight, column), *others = terms
        totals = [weight * z for z in column]
        for (one, a), (two, b) in zip(others[::2], others[1::2], strict=False):
            totals = [t + one * x + two * y for t, x, y in zip(totals, a, b, strict=True)]
        if len(others) % 2:
            weight, column = others[-1]
            totals = [t + weight * z for t, z in zip(totals, column, strict=True)]
        return totals

    def parabola(self, start: float, tilt: float, bend: float, normals: Column) -> Column:
        return [start + (tilt + bend * z) * z for z in normals]

    def shaped(self, total: Column | float, shape: Shape, normals: Column) -> Column:
        b, bb, a, ba = shape
        if isinstance(total, float):
            total = repeat(total, len(normals))
        return [
            t + ((a + ba * z) * z if z > 0 else (b + bb * z) * z)
            for t, z in zip(total, normals, strict=True)
        ]

    def back(self, scale: Scale, total: Column) -> Column:
        back: Callable[[float], float] = FLOAT_WAYS[scale][1]
        return total if scale == "linear" else [back(value) for value in total]

    def clipped(self, column: Column) -> Column:
        return [min(max(value, 0.0), 1.0) for value in column]

    def ordered(self, column: Column) -> Sequence[float]:
        return sorted(column)


class Arrays:
    """Columns as arrays of a library that the host has loaded."""

    def __init__(self, library: Any) -> None:
        self.library = library

    def taken(self, column: array[float]) -> Column:
        return self.library.frombuffer(column, dtype=float)

    def weighted(self, terms: Sequence[tuple[float, Column]]) -> Column:
        return sum(weight * column for weight, column in terms)

    def parabola(self, start: float, tilt: float, bend: float, normals: Column) -> Column:
        return start + (tilt + bend * normals) * normals

    def shaped(self, total: Column | float, shape: Shape, normals: Column) -> Column:
        above = (shape.above + shape.bend_above * normals) * normals
        below = (shape.below + shape.bend_below * normals) * normals
        return total + self.library.where(normals > 0, above, below)

    def back(self, scale: Scale, total: Column) -> Column:
        return WAYS[scale][1](total)

    def clipped(self, column: Column) -> Column:
        return self.library.clip(column, 0.0, 1.0)

    def ordered(self, column: Column) -> Sequence[float]:
        found: Sequence[float] = self.library.sort(column)
        return found


def vectors() -> Vectors:
    """Arrays where the host has loaded numpy, else lists."""
    library = sys.modules.get("numpy")
    return Lists() if library is None or not hasattr(library, "frombuffer") else Arrays(library)
