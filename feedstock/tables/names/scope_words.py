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
    "affirming",
    "helping",
    "kept_apart",
    "handing",
    "unused",
    "measuring",
    "others_lots",
    "explaining",
    "unreal",
    "resuming",
    "no_part",
    "wanted_back",
    "underlays",
    "paces",
    "belonging",
    "speaking",
    "will_go",
    "went_away",
    "after_all",
    "never_used",
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
    "chars",
    "char_goes",
    "sources",
    "disposals",
    "leaving_for",
    "passives",
    "keeping",
    "pyres",
    "owners",
    "habits",
    "ours",
    "stories",
    "tops",
    "by_means_of",
    "bringing",
    "passing",
    "small",
    "looking",
    "later",
    "edges",
    "plots_grown",
    "knocks",
    "char_waits",
    "whose",
    "tool_parts",
    "held_before",
    "emptied",
    "advising",
    "along_with",
    "existing",
    "obliged",
    "wreckers",
    "so",
    "growing",
    "afters",
    "merely",
    "fixtures",
    "bare_starts",
    "nothings",
    "others_own",
    "firsts",
    "bits",
    "gathering",
    "wrecking",
    "apart_words",
    "adverbs",
    "own_objects",
    "planning",
    "departed",
    "goes_off",
    "towards",
    "self_owned",
    "none_of_it",
    "wheres",
    "declining",
    "ladders",
    "treework",
    "standing",
    "pronouns",
    "acts",
    "when",
    "months",
    "dating",
    "doers",
    "linking",
    "saying",
    "carriers",
    "fields",
    "clause_heads",
    "joining_as",
    "ashes",
    "ash_goes",
    "fire_work",
    "grades",
    "corners",
    "houses",
    "driven_off",
    "vehicles",
    "seeing",
    "services",
    "spots",
    "knowing",
    "ways",
    "worn",
    "certain",
    "whatevers",
    "woulds",
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
    affirming: set[Phrase] = field(default_factory=set)
    helping: set[Phrase] = field(default_factory=set)
    chars: set[str] = field(default_factory=set)
    char_goes: set[str] = field(default_factory=set)
    sources: set[str] = field(default_factory=set)
    disposals: set[str] = field(default_factory=set)
    leaving_for: set[str] = field(default_factory=set)
    passives: set[str] = field(default_factory=set)
    keeping: set[str] = field(default_factory=set)
    pyres: set[str] = field(default_factory=set)
    owners: set[str] = field(default_factory=set)
    habits: set[str] = field(default_factory=set)
    ours: set[str] = field(default_factory=set)
    stories: set[str] = field(default_factory=set)
    tops: set[str] = field(default_factory=set)
    by_means_of: set[str] = field(default_factory=set)
    bringing: set[str] = field(default_factory=set)
    passing: set[str] = field(default_factory=set)
    small: set[str] = field(default_factory=set)
    joining_as: set[str] = field(default_factory=set)
    clause_heads: set[str] = field(default_factory=set)
    carriers: set[str] = field(default_factory=set)
    fields: set[str] = field(default_factory=set)
    doers: set[str] = field(default_factory=set)
    linking: set[str] = field(default_factory=set)
    saying: set[str] = field(default_factory=set)
    resuming: set[Phrase] = field(default_factory=set)
    pronouns: set[str] = field(default_factory=set)
    acts: set[str] = field(default_factory=set)
    when: set[str] = field(default_factory=set)
    months: set[str] = field(default_factory=set)
    dating: set[str] = field(default_factory=set)
    declining: set[str] = field(default_factory=set)
    ladders: set[str] = field(default_factory=set)
    treework: set[str] = field(default_factory=set)
    standing: set[str] = field(default_factory=set)
    unreal: set[Phrase] = field(default_factory=set)
    none_of_it: set[str] = field(default_factory=set)
    wheres: set[str] = field(default_factory=set)
    measuring: set[Phrase] = field(default_factory=set)
    others_lots: set[Phrase] = field(default_factory=set)
    explaining: set[Phrase] = field(default_factory=set)
    departed: set[str] = field(default_factory=set)
    goes_off: set[str] = field(default_factory=set)
    towards: set[str] = field(default_factory=set)
    self_owned: set[str] = field(default_factory=set)
    unused: set[Phrase] = field(default_factory=set)
    planning: set[str] = field(default_factory=set)
    own_objects: set[str] = field(default_factory=set)
    adverbs: set[str] = field(default_factory=set)
    gathering: set[str] = field(default_factory=set)
    wrecking: set[str] = field(default_factory=set)
    apart_words: set[str] = field(default_factory=set)
    handing: set[Phrase] = field(default_factory=set)
    kept_apart: set[Phrase] = field(default_factory=set)
    bits: set[str] = field(default_factory=set)
    firsts: set[str] = field(default_factory=set)
    fixtures: set[str] = field(default_factory=set)
    bare_starts: set[str] = field(default_factory=set)
    nothings: set[str] = field(default_factory=set)
    others_own: set[str] = field(default_factory=set)
    merely: set[str] = field(default_factory=set)
    so: set[str] = field(default_factory=set)
    growing: set[str] = field(default_factory=set)
    afters: set[str] = field(default_factory=set)
    wreckers: set[str] = field(default_factory=set)
    along_with: set[str] = field(default_factory=set)
    existing: set[str] = field(default_factory=set)
    obliged: set[str] = field(default_factory=set)
    whose: set[str] = field(default_factory=set)
    tool_parts: set[str] = field(default_factory=set)
    held_before: set[str] = field(default_factory=set)
    emptied: set[str] = field(default_factory=set)
    advising: set[str] = field(default_factory=set)
    char_waits: set[str] = field(default_factory=set)
    knocks: set[str] = field(default_factory=set)
    edges: set[str] = field(default_factory=set)
    plots_grown: set[str] = field(default_factory=set)
    later: set[str] = field(default_factory=set)
    looking: set[str] = field(default_factory=set)
    ashes: set[str] = field(default_factory=set)
    ash_goes: set[str] = field(default_factory=set)
    fire_work: set[str] = field(default_factory=set)
    grades: set[str] = field(default_factory=set)
    corners: set[str] = field(default_factory=set)
    houses: set[str] = field(default_factory=set)
    driven_off: set[str] = field(default_factory=set)
    vehicles: set[str] = field(default_factory=set)
    seeing: set[str] = field(default_factory=set)
    services: set[str] = field(default_factory=set)
    no_part: set[Phrase] = field(default_factory=set)
    wanted_back: set[Phrase] = field(default_factory=set)
    underlays: set[Phrase] = field(default_factory=set)
    spots: set[str] = field(default_factory=set)
    paces: set[Phrase] = field(default_factory=set)
    belonging: set[Phrase] = field(default_factory=set)
    speaking: set[Phrase] = field(default_factory=set)
    knowing: set[str] = field(default_factory=set)
    ways: set[str] = field(default_factory=set)
    worn: set[str] = field(default_factory=set)
    will_go: set[Phrase] = field(default_factory=set)
    went_away: set[Phrase] = field(default_factory=set)
    after_all: set[Phrase] = field(default_factory=set)
    certain: set[str] = field(default_factory=set)
    whatevers: set[str] = field(default_factory=set)
    woulds: set[str] = field(default_factory=set)
    never_used: set[Phrase] = field(default_factory=set)
