"""The base of what stands inside a method row."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Part(BaseModel):
    """A part of a method row: frozen, without unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")
