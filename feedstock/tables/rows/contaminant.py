"""Hypotheses of contamination and the evidence for and against them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from ...quantities.cell import Known
from ...words import Texts
from .cell import MassShare
from .row import Sourced, Words


class Condition(BaseModel):
    """What must hold together; a list means any of its words, except `signs`, which must all be
    present.

    `words` are looked for in the name and the remarks of a lot: what a person calls a thing can
    raise a suspicion.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    signs: Words = ()
    origins: Words = ()
    not_origins: Words = ()
    materials: Words = ()
    classes: Words = ()
    forms: Words = ()
    traits: Words = ()
    history: Literal["needed"] | None = None
    before: int | None = None
    after: int | None = None
    regions: Words = ()
    vessel: Words = ()
    ground: Words = ()
    lighting: Words = ()
    words: Words = ()


Permits = Literal["ready", "dry first", "check first", "keep out"]


class Settles(BaseModel):
    """A step that would settle a suspicion: what to do, what it can prove and what it cannot.

    The cheapest stands first.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    by: Literal["mark", "question", "look", "cut face", "kit", "growing test", "laboratory"]
    step: Texts
    proves: Texts
    not_proves: Texts
    source: Words = ()


class Rule(Condition):
    """One way in which a hypothesis is raised; its texts, its gate and its steps stand before
    those of the hypothesis.
    """

    permits: Permits | None = None
    reason: Texts = Texts()
    action: Texts = Texts()
    settles: tuple[Settles, ...] = ()


class Load(BaseModel):
    """How much of an element a hypothesis brings: computed `by` a method row, or a `content` of the
    dry feed.

    `by: retention` takes `of` (a preservative) and `use`; `by: film` and `by: agent` take `of` (a
    film, a resin). It is not brought where one of `unless` holds for sure, as a year and a region
    that exclude an element do.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    by: Literal["retention", "film", "agent", "content"]
    of: str = ""
    use: str = ""
    content: MassShare | None = None
    unless: tuple[Condition, ...] = ()


class Contaminant(Sourced):
    """A hypothesis of contamination: what raises it, what it permits at best, why, and what to
    do.
    """

    axis: Literal["contamination", "handling"] = "contamination"
    reason: Texts
    action: Texts
    permits: Permits
    raised_by: tuple[Rule, ...] = ()
    loads: dict[str, Load] = Field(default_factory=dict)
    settles: tuple[Settles, ...] = ()
    background_decides: bool = False

    def steps(self) -> Iterator[tuple[tuple[str | int, ...], Settles]]:
        """Every step that would settle it, its own and those of its rules, each with its place."""
        for number, step in enumerate(self.settles):
            yield ("settles", number), step
        for at, rule in enumerate(self.raised_by):
            for number, step in enumerate(rule.settles):
                yield ("raised_by", at, "settles", number), step


class Loosens(BaseModel):
    """Why a set makes a gate of another set easier to pass."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    reason: Annotated[str, Field(min_length=1)]


class Clears(Sourced):
    """Evidence that lowers one hypothesis, and only that one, to a finding that stays visible."""

    hypothesis: str
    when: Condition
    unless: Condition | None = None
    reason: Texts
    loosens: Loosens | None = None


class Sign(Sourced):
    """One observation with one meaning; its effects stand with the hypotheses.

    `without_bark`: pieces on which it was seen have no bark, so that they are measured bare.
    """

    meaning: Texts
    asks: Texts = Texts()
    excludes: Words = ()
    without_bark: bool = False


class OriginRow(Sourced):
    """Where a lot comes from."""

    meaning: Texts
    known_history: bool = True
    # a word of the vocabulary, not a claim about the world
    known: Known = "judgement"
