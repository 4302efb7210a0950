"""Published limits."""

from __future__ import annotations

from typing import Annotated, Literal

from ...quantities.cell import Cell
from .cell import CellOf
from .row import Sourced


class LimitSet(Sourced):
    """Published limits, mg/kg dry, of one regulation or standard in one version."""

    title: str
    """The regulation or standard as it is called."""
    version: str = ""
    """Its version or edition."""
    date: str = ""
    """The day from which it holds, or on which it was read."""
    scope: Literal["char", "feed"] = "char"
    """Whether the limits are for the char or for the feed."""
    basis: str = ""
    """What the limits are counted on, such as dry matter."""
    default: bool = False
    """Whether it judges where no other set is named; the first of them does."""
    reason: str = ""
    """Why this set was chosen, or what is to be known of it."""
    elements: dict[str, Annotated[Cell, CellOf("mass share", "log", 0, 1, exact=True)]]
    """The most that is allowed of an element in the dry matter, by chemical sign."""
