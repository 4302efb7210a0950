"""Ways of making char."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from ...quantities.cell import Cell
from .cell import CellOf, Gate, KeptAsh, KeptShare, Length, Rate, Ratio, Share, Temperature
from .row import Sourced, Words, _as_tuple

# a share of the rim that may be nothing: on a straight scale, where nothing is as near as any other
FloorShare = Annotated[Cell, CellOf("number", "linear", 0, 1)]


class Reference(BaseModel):
    """The feed with which a published field yield was measured."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    class_: str = Field(alias="class")
    ash: Share
    thickness: Length


class Burner(Sourced):
    """A way of making char: its shape, its fire and what it keeps."""

    shape: Literal["cone", "frustum", "cylinder", "cap", "trench", "prismoid", "heap", "none"]
    firing: Annotated[tuple[Literal["fed", "top-lit", "closed"], ...], BeforeValidator(_as_tuple)]
    air: Literal["open", "closed"]
    temperature: Temperature
    field_yield: Share | None = None
    reference: Reference | None = None
    contains: Words = ()
    brands: Share
    ash_kept: KeptAsh
    kept: KeptShare | None = None
    moisture_ready: Gate
    moisture_refused: Gate
    # for the plan of a burn; a row without them gives yields and no plan beyond its own measures
    stands: Literal["earth", "vessel"] = "vessel"
    # the words for a vessel that say what it held before; without any of them it is asked
    past: Words = ()
    floor: FloorShare | None = None
    usual: dict[str, Length] = Field(default_factory=dict)
    proportion: Ratio | None = None
    filling: Share | None = None
    burning: Rate | None = None
    kept_small: bool = False
    quenching: Words = ()
