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
    """The burner that is taken where none is named."""
    vessel: Words = ()
    """Words that are known for `burn.vessel`."""
    ground: Words = ()
    """Words that are known for `burn.ground`."""
    lighting: Words = ()
    """Words that are known for `burn.lighting`."""
    use: dict[str, str]
    """The method row that serves a purpose, by purpose."""
    ash_warning: ExactPoints
    """Ash as a share of the dry feed from which it is told as soil."""
    high_over: ExactPoints
    """Points by which the upper end of a moisture may pass the limit of the burner before it is
    told.
    """
