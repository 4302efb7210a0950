"""Columns of draws on plain lists, or on an array library where the host has loaded one.

It is never loaded here. Both ways give the same numbers but for rounding.
"""

from __future__ import annotations

import sys
from array import array
from collections.abc import Sequence
from typing import Any, Protocol

Column = Any
"""A sequence of floats, or an array of them."""


class Vectors(Protocol):
    """How columns are held."""

    def taken(self, column: array[float]) -> Column:
        """A column that is kept, ready for what follows."""

    def ordered(self, column: Column) -> Sequence[float]:
        """The values in rising order."""


class Lists:
    """Columns as lists, in plain Python."""

    def taken(self, column: array[float]) -> Column:
        return column

    def ordered(self, column: Column) -> Sequence[float]:
        return sorted(column)


class Arrays:
    """Columns as arrays of a library that the host has loaded."""

    def __init__(self, library: Any) -> None:
        self.library = library

    def taken(self, column: array[float]) -> Column:
        return self.library.frombuffer(column, dtype=float)

    def ordered(self, column: Column) -> Sequence[float]:
        found: Sequence[float] = self.library.sort(column)
        return found


def vectors() -> Vectors:
    """Arrays where the host has loaded numpy, else lists."""
    library = sys.modules.get("numpy")
    return Lists() if library is None or not hasattr(library, "frombuffer") else Arrays(library)
