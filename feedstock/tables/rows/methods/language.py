"""How what a person writes is read: plants, forms and states, danger words, and the small words
around them. Rows of all sets in use count.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ....quantities.cell import Known
from ..cell import Length
from ..row import Names, Sourced, Words
from .part import Part

WarnsOf = Literal["thing", "on it", "place", "plant"]


class Plant(Part):
    """A plant: the material row of its wood or stems, or its family where it has none; how it
    grows says which forms it takes, `forms` which it takes besides.
    """

    names: Names
    row: str | None = None
    family: str
    grows: str
    forms: Words = ()


class Plants(Sourced):
    """Plants by key."""

    kind_: Literal["plants"] = Field(alias="kind")
    of: dict[str, Plant]


class Form(Part):
    """What a form of plant matter sets.

    `row` is what it is whatever the plant, `alone` what it is without one, `grows` the ways of
    growing that give it; one that `says_little` leaves the say to another form beside it.
    """

    names: Names
    grows: Words = ()
    row: str | None = None
    alone: str | None = None
    form: str | None = None
    thickness: Length | None = None
    packing: str | None = None
    history: Literal["needed"] | None = None
    says_little: bool = False


class Forms(Sourced):
    """Forms by key."""

    kind_: Literal["forms"] = Field(alias="kind")
    of: dict[str, Form]


class State(Part):
    """What a word of state sets: a class of decay, a condition of moisture, or nothing."""

    names: Names
    decay: int | None = Field(default=None, ge=1, le=5)
    condition: str | None = None


class States(Sourced):
    """States by key."""

    kind_: Literal["states"] = Field(alias="kind")
    of: dict[str, State]


class Family(Part):
    """The row that stands for a plant without one, and for two plants of the family."""

    row: str
    names: Names = Field(default_factory=dict)


class Families(Sourced):
    """Families by key."""

    kind_: Literal["families"] = Field(alias="kind")
    of: dict[str, Family]


AnswerField = Literal["material", "origin", "signs"]


class DangerClass(Sourced):
    """Words of one danger, by language; `weak` ones count in some places of a text only.

    The names of the rows listed belong to the class; `foreign` matter can be picked out. `denied`
    are words that deny it in one (`unpainted`): they raise nothing, save where the text hedges.
    `answer` is the row that says that it is so, by the field of a lot in which it is written.
    """

    warns_of: WarnsOf
    answer: dict[AnswerField, str] = Field(default_factory=dict, max_length=1)
    known: Known = "judgement"
    words: Names = Field(default_factory=dict)
    weak: Names = Field(default_factory=dict)
    denied: Names = Field(default_factory=dict)
    signs: Words = ()
    origins: Words = ()
    contaminants: Words = ()
    materials: Words = ()
    foreign: bool = False
    under_bark: bool = False


class DangerWords(Sourced):
    """Danger classes by key. `clearing` are signs and origins that raise nothing by their name,
    `silent` ones those whose words stand with the classes, `barked` signs that say that the pieces
    are in their bark.
    """

    kind_: Literal["danger-words"] = Field(alias="kind")
    of: dict[str, DangerClass]
    clearing: Words = ()
    silent: Words = ()
    barked: Words = ()


class CleanPhrases(Sourced):
    """Phrases with a danger word in them that mean no danger, and the plain words of a text."""

    kind_: Literal["clean-phrases"] = Field(alias="kind")
    phrases: Names = Field(default_factory=dict)
    plain: Names = Field(default_factory=dict)


class Hedges(Sourced):
    """Words that leave open what a negation says."""

    kind_: Literal["hedges"] = Field(alias="kind")
    words: Names


class Negations(Sourced):
    """Words that deny what follows, and what may stand between."""

    kind_: Literal["negations"] = Field(alias="kind")
    words: Names
    between: Names


class Places(Sourced):
    """Words that set a lot beside a thing; an article and `between` may stand before it, `bare`
    need none.
    """

    kind_: Literal["places"] = Field(alias="kind")
    words: Names
    articles: Names
    between: Names = Field(default_factory=dict)
    bare: Names = Field(default_factory=dict)


class Removals(Sourced):
    """Words that say that foreign matter was picked out, and what may stand between; `last` are
    such words at the end of a clause alone.
    """

    kind_: Literal["removals"] = Field(alias="kind")
    words: Names
    between: Names = Field(default_factory=dict)
    last: Names = Field(default_factory=dict)


class WeakMarks(Sourced):
    """Where a weak word counts: before and after these words, and where a clause ends.

    `homonyms` are words that are asked back where they stand alone as a material; before a word of
    `measures` a thing only says how big a piece is (`pencil thick`), and before one of `tools` what
    is on it or drives it is the tool's (`diesel splitter`).
    """

    kind_: Literal["weak-marks"] = Field(alias="kind")
    before: Names
    after: Names
    ends: Names
    homonyms: Names
    measures: Names = Field(default_factory=dict)
    tools: Names = Field(default_factory=dict)
