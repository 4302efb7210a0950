"""Verdicts, findings and cautions."""

from __future__ import annotations

from enum import Enum
from functools import total_ordering
from typing import Annotated

from pydantic import Field

from ..quantities.frozen import Data
from ..tables.citations import Citation


@total_ordering
class Verdict(Enum):
    """What may be done with a lot, from best to worst; ordered by position."""

    READY = "ready"
    DRY_FIRST = "dry first"
    CHECK_FIRST = "check first"
    KEEP_OUT = "keep out"

    @property
    def position(self) -> int:
        """0 for ready to 3 for keep out."""
        return list(Verdict).index(self)

    def __lt__(self, other: object) -> bool:
        return self.position < other.position if isinstance(other, Verdict) else NotImplemented

    def __str__(self) -> str:
        return str(self.value)


class Finding(Data):
    """One thing that was found about a lot: why, what to do, and the best verdict that it leaves.

    `cleared` marks a suspicion that named evidence has lowered; it stays visible. `settle` is the
    cheapest step that would settle a `check first`, with what it can and cannot prove.
    """

    code: str
    axis: str
    reason: str
    action: str
    permits: Verdict
    evidence: tuple[str, ...] = ()
    sources: Annotated[tuple[Citation, ...], Field(min_length=1)]
    lot: str | None = None
    cleared: bool = False
    settle: str = ""


class Caution(Data):
    """A warning that applies to this burn; `stage` is the part of the work in which it is heeded:
    before, burning, quench or after.
    """

    code: str
    text: str
    order: int
    stage: str = "before"
    sources: tuple[Citation, ...]
