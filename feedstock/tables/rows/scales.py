"""Scales of scores."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from ...quantities.cell import Known
from .light import Light
from .row import Sourced


class ScalePoint(Light):
    """One point of a scale: a value of the figure, and the score there."""

    at: float
    """A value of the figure, in the unit of the scale."""
    score: Annotated[float, Field(ge=0, le=100)]
    """The score there."""


class ScaleRow(Sourced):
    """A score of 0 to 100, piecewise linear between points in rising order, flat outside them."""

    of: str
    """The figure that is scored."""
    unit: str = ""
    """The unit of its points."""
    points: Annotated[tuple[ScalePoint, ...], Field(min_length=1)]
    """The points in rising order; between them the score runs straight, outside it stays."""
    weight: float = 1.0
    """How much the score counts in the suitability, besides the others."""
    reason: str
    """Why the scale runs as it does."""
    known: Known = "judgement"
    """How the scale is known; nearly always a judgement."""
