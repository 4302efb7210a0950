"""Verdicts, findings and cautions."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import Annotated, Literal

from pydantic import Field, computed_field

from ..quantities.data import Data
from ..tables.citations import Citation
from ..words import Message, Texts, Values, known


class Verdict(Enum):
    """What may be done with a lot, from best to worst; ordered by position."""

    READY = "ready"
    DRY_FIRST = "dry first"
    CHECK_FIRST = "check first"
    KEEP_OUT = "keep out"

    @property
    def position(self) -> int:
        """0 for ready to 3 for keep out."""
        return _POSITIONS[self]

    def __lt__(self, other: object) -> bool:
        return self.position < other.position if isinstance(other, Verdict) else NotImplemented

    def __le__(self, other: object) -> bool:
        return self.position <= other.position if isinstance(other, Verdict) else NotImplemented

    def __gt__(self, other: object) -> bool:
        return self.position > other.position if isinstance(other, Verdict) else NotImplemented

    def __ge__(self, other: object) -> bool:
        return self.position >= other.position if isinstance(other, Verdict) else NotImplemented

    def __str__(self) -> str:
        return str(self.value)


_POSITIONS = {verdict: position for position, verdict in enumerate(Verdict)}


Part = Literal["reason", "action", "settle"]


class Finding(Data):
    """One thing that was found about a lot: why, what to do, and the best verdict that it leaves.

    `cleared` marks a suspicion that named evidence has lowered; it stays visible. `reason`,
    `action` and `settle` (the cheapest step that would settle a `check first`, with what it can and
    cannot prove) are said in English and metric; `message` gives them for any reader. They are made
    of the code and the values; a sentence that a row of the tables gives stands in the values.
    """

    code: str
    """Which finding it is; codes are kept."""
    axis: str
    """What it is about: contamination, handling, moisture ..."""
    permits: Verdict
    """The best verdict that it leaves."""
    evidence: tuple[Message, ...] = ()
    """What it rests on."""
    sources: Annotated[tuple[Citation, ...], Field(min_length=1)]
    """Where it comes from."""
    lot: str | None = None
    """The lot's name; none for the whole."""
    cleared: bool = False
    """Whether named evidence has lowered it."""
    values: Values = Values()
    """What its sentences are made of."""

    def message(self, part: Part) -> Message | None:
        """A sentence of the finding; None where it has none."""
        value = self.values.get(part)
        if isinstance(value, Message):
            return value
        if isinstance(value, Texts):
            return Message("text", text=value) if value else None
        code = f"{self.code}.{part}"
        return Message.of(code, self.values) if known(code) else None

    @computed_field  # type: ignore[prop-decorator]
    @property
    def reason(self) -> str:
        """Why, in English and metric."""
        return _text(self.message("reason"))

    @computed_field  # type: ignore[prop-decorator]
    @property
    def action(self) -> str:
        """What to do, in English and metric."""
        return _text(self.message("action"))

    @computed_field  # type: ignore[prop-decorator]
    @property
    def settle(self) -> str:
        """The cheapest step that settles a `check first`, in English and metric; else empty."""
        return _text(self.message("settle"))


def _text(message: Message | None) -> str:
    return "" if message is None else str(message)


def worst(findings: Iterable[Finding]) -> Verdict:
    """The worst `permits`; ready where nothing was found. Nothing else makes a verdict of a lot."""
    return max((finding.permits for finding in findings), default=Verdict.READY)


class Caution(Data):
    """A warning that applies to this burn; `stage` is the part of the work in which it is heeded:
    before, burning, quench or after. `text` is in English and metric.
    """

    code: str
    """Which warning it is."""
    order: int
    """Its place in printing."""
    stage: str = "before"
    """When it is heeded: before, burning, quench or after."""
    sources: tuple[Citation, ...]
    """Where it comes from."""
    values: Values = Values()
    """What its sentence is made of."""

    @property
    def message(self) -> Message:
        """The warning for any reader."""
        return Message("text", text=self.values.get("text", Texts()))

    @computed_field  # type: ignore[prop-decorator]
    @property
    def text(self) -> str:
        """The warning in English and metric."""
        return str(self.message)
