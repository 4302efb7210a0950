"""Published limits."""

from __future__ import annotations

from typing import Annotated, Literal

from ...quantities.cell import Cell
from .cell import CellOf
from .row import Sourced


class LimitSet(Sourced):
    """Published limits, mg/kg dry, of one regulation or standard in one version."""

    title: str
    version: str = ""
    date: str = ""
    scope: Literal["char", "feed"] = "char"
    basis: str = ""
    default: bool = False
    reason: str = ""
    elements: dict[str, Annotated[Cell, CellOf("mass share", "log", 0, 1, exact=True)]]
