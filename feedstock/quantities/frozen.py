"""The frozen base of all results."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Data(BaseModel):
    """Frozen, without unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")
