"""The words by which a clause sets the lot apart from a danger, as they are looked up."""

from __future__ import annotations

from dataclasses import field

from ...quantities.frozen import record
from .trie import Phrase

PHRASES = (
    "contacts",
    "sooner",
    "distant",
    "covering",
    "giving",
    "excluded",
    "staying_there",
    "told",
    "telling",
    "lending",
    "filling",
    "carrying",
    "nowhere",
)
"""Groups that are looked up as phrases."""

STEMS = (
    "breaks",
    "links",
    "likens",
    "likened",
    "purposes",
    "lasting",
    "relatives",
    "subjects",
    "lying",
    "holding",
    "streets",
    "homes",
    "people",
    "creatures",
    "vessels",
    "counts",
    "filled",
    "denied_and",
    "torn",
    "amounts",
    "growths",
    "denied_or",
    "denied_verbs",
    "hung",
    "sensing",
    "agents",
    "natural",
    "excepting",
    "joining",
    "being",
    "plots",
    "leftovers",
    "leaving",
    "wholes",
    "asking",
    "going_to",
    "fixing",
    "doing",
    "ellipses",
    "limits",
    "makers",
    "parting",
    "parted",
    "growing_at",
    "nature",
)
"""Groups that are looked up word by word."""


@record
class ScopeWords:
    """The groups of the rows of kind `scopes`, of every set in use."""

    contacts: set[Phrase] = field(default_factory=set)
    sooner: set[Phrase] = field(default_factory=set)
    distant: set[Phrase] = field(default_factory=set)
    covering: set[Phrase] = field(default_factory=set)
    giving: set[Phrase] = field(default_factory=set)
    excluded: set[Phrase] = field(default_factory=set)
    staying_there: set[Phrase] = field(default_factory=set)
    told: set[Phrase] = field(default_factory=set)
    telling: set[Phrase] = field(default_factory=set)
    lending: set[Phrase] = field(default_factory=set)
    filling: set[Phrase] = field(default_factory=set)
    breaks: set[str] = field(default_factory=set)
    links: set[str] = field(default_factory=set)
    likens: set[str] = field(default_factory=set)
    likened: set[str] = field(default_factory=set)
    purposes: set[str] = field(default_factory=set)
    lasting: set[str] = field(default_factory=set)
    relatives: set[str] = field(default_factory=set)
    subjects: set[str] = field(default_factory=set)
    lying: set[str] = field(default_factory=set)
    holding: set[str] = field(default_factory=set)
    streets: set[str] = field(default_factory=set)
    homes: set[str] = field(default_factory=set)
    people: set[str] = field(default_factory=set)
    creatures: set[str] = field(default_factory=set)
    vessels: set[str] = field(default_factory=set)
    counts: set[str] = field(default_factory=set)
    filled: set[str] = field(default_factory=set)
    denied_and: set[str] = field(default_factory=set)
    torn: set[str] = field(default_factory=set)
    amounts: set[str] = field(default_factory=set)
    growths: set[str] = field(default_factory=set)
    denied_or: set[str] = field(default_factory=set)
    denied_verbs: set[str] = field(default_factory=set)
    hung: set[str] = field(default_factory=set)
    sensing: set[str] = field(default_factory=set)
    agents: set[str] = field(default_factory=set)
    natural: set[str] = field(default_factory=set)
    nature: set[str] = field(default_factory=set)
    ellipses: set[str] = field(default_factory=set)
    limits: set[str] = field(default_factory=set)
    makers: set[str] = field(default_factory=set)
    parting: set[str] = field(default_factory=set)
    parted: set[str] = field(default_factory=set)
    growing_at: set[str] = field(default_factory=set)
    nowhere: set[Phrase] = field(default_factory=set)
    going_to: set[str] = field(default_factory=set)
    fixing: set[str] = field(default_factory=set)
    doing: set[str] = field(default_factory=set)
    leftovers: set[str] = field(default_factory=set)
    leaving: set[str] = field(default_factory=set)
    wholes: set[str] = field(default_factory=set)
    asking: set[str] = field(default_factory=set)
    plots: set[str] = field(default_factory=set)
    being: set[str] = field(default_factory=set)
    carrying: set[Phrase] = field(default_factory=set)
    joining: set[str] = field(default_factory=set)
    excepting: set[str] = field(default_factory=set)
