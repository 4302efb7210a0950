"""Rules that make the ends of intervals where many cells share one reason."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import Plain
from ..row import Sourced


class IntervalRule(Sourced):
    """What makes a 90 % interval of the lowest and the highest value that were read.

    A cell names it with `ends: rule NAME`; its `low` and `high` are then the lowest and the
    highest value that were read, and the value itself where they are left out.
    """

    kind_: Literal["interval-rule"] = Field(alias="kind")
    below: Plain
    """What the lowest value that was read is multiplied by."""
    above: Plain
    """What the highest value that was read is multiplied by."""
    derivation: str
    """How both were found, so that another can check it."""
