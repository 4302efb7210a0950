"""Hypotheses of contamination and the evidence for and against them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from ...quantities.cell import Known
from ...words import Texts
from .cell import MassShare
from .light import Light
from .row import Sourced, Words


class Condition(Light):
    """What must hold together; a list means any of its words, except `signs`, which must all be
    present.
    """

    signs: Words = ()
    """Signs that must all be there."""
    origins: Words = ()
    """Origins of which one must be the lot's."""
    not_origins: Words = ()
    """Origins of which none may be the lot's."""
    materials: Words = ()
    """Material rows of which one must be the lot's, or that it is like."""
    classes: Words = ()
    """Classes of which one must be the lot's."""
    forms: Words = ()
    """Forms of which one must be the lot's."""
    traits: Words = ()
    """Traits of which the material must have one."""
    history: Literal["needed"] | None = None
    """`needed`: it holds for what must have a known past."""
    before: int | None = None
    """It holds for what was made or felled before this year; unknown years count."""
    after: int | None = None
    """It holds for what was made or felled in this year or after it; unknown years count."""
    regions: Words = ()
    """Regions of which one must be the lot's."""
    vessel: Words = ()
    """Words of the burner's past of which one must be given."""
    ground: Words = ()
    """Words of the ground under the fire of which one must be given."""
    lighting: Words = ()
    """Words of how it is lit of which one must be given."""
    words: Words = ()
    """Words of which one must stand in the name or the remarks of the lot."""


Permits = Literal["ready", "dry first", "check first", "keep out"]


class Settles(Light):
    """A step that would settle a suspicion: what to do, what it can prove and what it cannot.

    The cheapest stands first.
    """

    by: Literal["mark", "question", "look", "cut face", "kit", "growing test", "laboratory"]
    """The kind of step, from looking to the laboratory."""
    step: Texts
    """What to do, as it is told to the person with the heap."""
    proves: Texts
    """What it can prove."""
    not_proves: Texts
    """What it cannot prove."""
    source: Words = ()
    """Keys of the sources of the step."""


class Rule(Condition):
    """One way in which a hypothesis is raised; its texts, its gate and its steps stand before
    those of the hypothesis.
    """

    permits: Permits | None = None
    """The best verdict where this rule raises it; left out, that of the hypothesis."""
    reason: Texts = Texts()
    """Why, where this rule raises it."""
    action: Texts = Texts()
    """What to do, where this rule raises it."""
    settles: tuple[Settles, ...] = ()
    """The steps that settle it, where this rule raises it."""


class AddedContent(Light):
    """How much of an element a hypothesis brings: computed `by` a method row, or a content of the
    dry feed.
    """

    by: Literal["retention", "film", "agent", "content"]
    """How the amount is found: retention of a preservative, a paint film, a binding agent, or a
    content of the dry feed.
    """
    of: str = ""
    """The preservative, film or resin of the method row."""
    use: str = ""
    """The use class of the retention, such as `ground`."""
    content: MassShare | None = None
    """What the dry feed holds of the element, with `by: content`."""
    unless: tuple[Condition, ...] = ()
    """What must hold for sure that the element is not brought, such as a year and a region."""


class Contaminant(Sourced):
    """A hypothesis of contamination: what raises it, what it permits at best, why, and what to
    do.
    """

    axis: Literal["contamination", "handling"] = "contamination"
    """Whether it spoils the char or makes it harmful to handle or burn."""
    reason: Texts
    """Why it is suspected, in one sentence."""
    action: Texts
    """What to do with the lot."""
    permits: Permits
    """The best verdict that it leaves until it is cleared."""
    raised_by: tuple[Rule, ...] = ()
    """The ways in which it is raised; any one is enough."""
    element_content: dict[str, AddedContent] = Field(default_factory=dict)
    """Which elements it brings and how much, by chemical sign."""
    settles: tuple[Settles, ...] = ()
    """Steps that would settle it, the cheapest first."""
    background_decides: bool = False
    """Whether what clean matter holds of its elements is judged too."""

    def steps(self) -> Iterator[tuple[tuple[str | int, ...], Settles]]:
        """Every step that would settle it, its own and those of its rules, each with its place."""
        for number, step in enumerate(self.settles):
            yield ("settles", number), step
        for at, rule in enumerate(self.raised_by):
            for number, step in enumerate(rule.settles):
                yield ("raised_by", at, "settles", number), step


class Loosens(Light):
    """Why a set makes a gate of another set easier to pass."""

    reason: Annotated[str, Field(min_length=1)]
    """Why it is right to make this easier to pass; every result that uses it repeats this."""


class Clears(Sourced):
    """Evidence that lowers one hypothesis, and only that one, to a finding that stays visible."""

    hypothesis: str
    """The one contaminant that it lowers."""
    when: Condition
    """The evidence that must be there, all of it."""
    unless: Condition | None = None
    """Evidence that makes it void."""
    reason: Texts
    """Why this evidence is good enough."""
    loosens: Loosens | None = None
    """Why, where the suspicion belongs to another set."""


class Sign(Sourced):
    """One observation with one meaning; its effects stand with the hypotheses."""

    meaning: Texts
    """What the sign is, so that a person can decide whether they see it."""
    asks: Texts = Texts()
    """The question that a form puts to a person."""
    excludes: Words = ()
    """Signs that cannot be there together with it."""
    without_bark: bool = False
    """Pieces on which it is seen have no bark, so that they were measured bare."""


class OriginRow(Sourced):
    """Where a lot comes from."""

    meaning: Texts
    """What counts as this origin."""
    known_history: bool = True
    """Whether somebody can know what was done to the matter; a new origin starts with `false`."""
    # a word of the vocabulary, not a claim about the world
    known: Known = "judgement"
    """How the row is known; a word of the vocabulary is a judgement."""
