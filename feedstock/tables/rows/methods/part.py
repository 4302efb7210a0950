"""The base of what stands inside a method row."""

from __future__ import annotations

from ..row import Described


class Part(Described):
    """A part of a method row."""
