"""The base of what stands inside a method row."""

from __future__ import annotations

from ..light import Light


class Part(Light):
    """A part of a method row."""
