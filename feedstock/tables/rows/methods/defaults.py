"""Which method serves which purpose, and thresholds of the appraisal."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import ExactPoints
from ..row import Row, Words


class Defaults(Row):
    """Which row serves which purpose, the burner that is assumed when none is named, and the words
    for a burn's surroundings.
    """

    kind_: Literal["defaults"] = Field(alias="kind")
    burner: str
    vessel: Words = ()
    ground: Words = ()
    lighting: Words = ()
    use: dict[str, str]
    ash_warning: ExactPoints
    high_over: ExactPoints
