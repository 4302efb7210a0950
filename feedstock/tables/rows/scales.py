"""Scales of scores."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from ...quantities.cell import Known
from .row import Sourced


class ScalePoint(BaseModel):
    """One point of a scale: a value of the figure, and the score there."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: float
    score: Annotated[float, Field(ge=0, le=100)]


class ScaleRow(Sourced):
    """A score of 0 to 100, piecewise linear between points in rising order, flat outside them."""

    of: str
    unit: str = ""
    points: Annotated[tuple[ScalePoint, ...], Field(min_length=1)]
    weight: float = 1.0
    reason: str
    known: Known = "judgement"
