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
    """A plant, with the row of its wood or stems."""

    names: Names
    """What it is called."""
    row: str | None = None
    """The material row of its wood or stems; left out, that of its family."""
    family: str
    """The family it belongs to, a key of `families`."""
    grows: str
    """How it grows (`tree`, `shrub` ...): it says which forms it can take."""
    forms: Words = ()
    """Forms that it takes besides."""


class Plants(Sourced):
    """Plants by key."""

    kind_: Literal["plants"] = Field(alias="kind")
    of: dict[str, Plant]
    """Plants, by key."""


class Form(Part):
    """What a form of plant matter sets."""

    names: Names
    """What it is called."""
    grows: Words = ()
    """Ways of growing that give this form."""
    row: str | None = None
    """The material that it is, whatever the plant."""
    alone: str | None = None
    """The material that it is where no plant is named."""
    form: str | None = None
    """The form that it makes of the material."""
    thickness: Length | None = None
    """Thickness of its pieces."""
    packing: str | None = None
    """How it lies."""
    history: Literal["needed"] | None = None
    """`needed`: its past must be known, whatever the plant."""
    says_little: bool = False
    """Another form beside it has the say."""
    grown: bool = False
    """Wood grows so and is not made so: branches and prunings, as pieces in their bark, are no part
    of a building; a pole or a log may be.
    """


class Forms(Sourced):
    """Forms by key."""

    kind_: Literal["forms"] = Field(alias="kind")
    of: dict[str, Form]
    """Forms, by key."""


class State(Part):
    """What a word of state sets: a class of decay, a condition of moisture, or nothing."""

    names: Names
    """What it is called."""
    decay: int | None = Field(default=None, ge=1, le=5)
    """The class of decay that it means, 1 sound to 5 powder."""
    condition: str | None = None
    """The condition of moisture that it means."""


class States(Sourced):
    """States by key."""

    kind_: Literal["states"] = Field(alias="kind")
    of: dict[str, State]
    """States, by key."""


class Family(Part):
    """The row that stands for a plant without one, and for two plants of the family."""

    row: str
    """The material row for a plant of it that has none, and for two plants of it."""
    names: Names = Field(default_factory=dict)
    """What it is called."""


class Families(Sourced):
    """Families by key."""

    kind_: Literal["families"] = Field(alias="kind")
    of: dict[str, Family]
    """Families, by key."""


AnswerField = Literal["material", "origin", "signs"]


class DangerClass(Sourced):
    """Words of one danger, by language."""

    warns_of: WarnsOf
    """What the words tell: the thing it was, what is on it, a place, or a plant."""
    answer: dict[AnswerField, str] = Field(default_factory=dict, max_length=1)
    """The row that says that it is so, by the field of the lot in which it is written."""
    known: Known = "judgement"
    """How the words are known; a word list is a judgement."""
    words: Names = Field(default_factory=dict)
    """Words that warn wherever they stand, by language."""
    weak: Names = Field(default_factory=dict)
    """Words that warn only in some places of a text, by language."""
    denied: Names = Field(default_factory=dict)
    """Words that deny it in one (`unpainted`), by language; they raise nothing."""
    signs: Words = ()
    """Sign rows whose names warn of it."""
    origins: Words = ()
    """Origin rows whose names warn of it."""
    contaminants: Words = ()
    """Contaminant rows whose names warn of it."""
    materials: Words = ()
    """Material rows whose names warn of it."""
    foreign: bool = False
    """Whether it can be picked out of a heap, so that saying so takes it away."""
    under_bark: bool = False
    """Whether bark on the piece says that it is not so."""
    fetched: bool = False
    """Whether it is a place that lots are fetched from, so that lying in it says where from."""
    missing: bool = False
    """Whether its lack warns as well."""
    spreads: bool = False
    """Whether it gets from the thing that it was put on to what lies or grows beside it."""


class DangerWords(Sourced):
    """Danger classes by key."""

    kind_: Literal["danger-words"] = Field(alias="kind")
    of: dict[str, DangerClass]
    """Classes of danger, by key."""
    clearing: Words = ()
    """Signs and origins that raise nothing by their name."""
    silent: Words = ()
    """Signs and origins whose words stand with the classes."""
    barked: Words = ()
    """Signs that say that pieces are in their bark."""


class CleanPhrases(Sourced):
    """Phrases with a danger word in them that mean no danger, and the plain words of a text."""

    kind_: Literal["clean-phrases"] = Field(alias="kind")
    phrases: Names = Field(default_factory=dict)
    """Phrases with a danger word in them that mean no danger, by language."""
    plain: Names = Field(default_factory=dict)
    """Plain words of a text that are known to mean nothing here, by language."""


class Hedges(Sourced):
    """Words that leave open what a negation says."""

    kind_: Literal["hedges"] = Field(alias="kind")
    words: Names
    """Words that leave open what a negation says, by language."""


class Negations(Sourced):
    """Words that deny what follows, and what may stand between."""

    kind_: Literal["negations"] = Field(alias="kind")
    words: Names
    """Words that deny what follows, by language."""
    between: Names
    """Words that may stand between, by language."""


class Places(Sourced):
    """Words that set a lot beside a thing."""

    kind_: Literal["places"] = Field(alias="kind")
    words: Names
    """Words that set a lot beside a thing, by language."""
    articles: Names
    """Articles and possessives that may follow, by language."""
    between: Names = Field(default_factory=dict)
    """Other words that may follow, by language."""
    bare: Names = Field(default_factory=dict)
    """Words of place that need no article, by language."""
    staying: Names = Field(default_factory=dict)
    """Words after which a lot only lay in a thing (`kept dry in the barn`), by language."""
    within: Names = Field(default_factory=dict)
    """Words of place between `staying`, or a thing beside the lot, and a thing, by language."""


class Removals(Sourced):
    """Words that say that foreign matter was picked out."""

    kind_: Literal["removals"] = Field(alias="kind")
    words: Names
    """Words that say that foreign matter was picked out, by language."""
    between: Names = Field(default_factory=dict)
    """Words that may stand between, by language."""
    last: Names = Field(default_factory=dict)
    """Such words at the end of a clause alone, by language."""


class WeakMarks(Sourced):
    """Where a weak word counts, and words of size and of tools that make a danger word mean
    nothing.
    """

    kind_: Literal["weak-marks"] = Field(alias="kind")
    before: Names
    """Words before which a weak word counts, by language."""
    after: Names
    """Words after which a weak word counts, by language."""
    ends: Names
    """Words and signs that end a clause, by language."""
    homonyms: Names
    """Words that are asked back where they stand alone as a material, by language."""
    measures: Names = Field(default_factory=dict)
    """Words of size, before which a thing is only a measure (`pencil thick`), by language."""
    tools: Names = Field(default_factory=dict)
    """Words of tools, before which what drives them is theirs (`diesel splitter`), by language."""
