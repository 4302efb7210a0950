"""The words by which the clause around a danger word sets the lot apart from it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..row import Names
from .tying import Tying


class Scopes(Tying):
    """Words by which the clause around a danger word sets the lot apart from it."""

    kind_: Literal["scopes"] = Field(alias="kind")
    breaks: Names = Field(default_factory=dict)
    """Words that stand in no name of a thing: prepositions, pronouns, verbs, by language."""
    links: Names = Field(default_factory=dict)
    """Words that join two names of things (`the wall of the barn`), by language."""
    contacts: Names = Field(default_factory=dict)
    """What a tree does to a thing that it is not (`shading the`), by language."""
    sooner: Names = Field(default_factory=dict)
    """Words of a time at which the thing was not there yet, by language."""
    distant: Names = Field(default_factory=dict)
    """Words of a great distance, by language."""
    likens: Names = Field(default_factory=dict)
    """Words that liken (`as`, `like`), by language."""
    likened: Names = Field(default_factory=dict)
    """How a piece can be, before a word that likens, by language."""
    covering: Names = Field(default_factory=dict)
    """Words of place before a cover that lay over the lot, by language."""
    purposes: Names = Field(default_factory=dict)
    """Words before what something is for, by language."""
    giving: Names = Field(default_factory=dict)
    """Words that give or keep something for a purpose, by language."""
    excluded: Names = Field(default_factory=dict)
    """What says that something is not in the lot, by language."""
    staying_there: Names = Field(default_factory=dict)
    """What says that a thing or a plant stays where it is, by language."""
    lasting: Names = Field(default_factory=dict)
    """Words after which it did not stay there, by language."""
    relatives: Names = Field(default_factory=dict)
    """Words that may stand between a thing and what is said of it (`that`), by language."""
    subjects: Names = Field(default_factory=dict)
    """Words for the lot in a clause about a thing (`the crate it came in`), by language."""
    lying: Names = Field(default_factory=dict)
    """What a lot only does in or on a thing, by language."""
    holding: Names = Field(default_factory=dict)
    """Words of place at the end of such a clause, by language."""
    streets: Names = Field(default_factory=dict)
    """Words at the end of the name of a road, by language."""
    homes: Names = Field(default_factory=dict)
    """Words beside which the name of a road is an address, by language."""
    people: Names = Field(default_factory=dict)
    """People whose name warns of what they leave, by language."""
    told: Names = Field(default_factory=dict)
    """What people do who leave nothing, by language."""
    telling: Names = Field(default_factory=dict)
    """What is done with people who leave nothing, by language."""
    lending: Names = Field(default_factory=dict)
    """Words of what was only lent, by language."""
    vessels: Names = Field(default_factory=dict)
    """Vessels in which a lot is counted, by language."""
    counts: Names = Field(default_factory=dict)
    """Numbers before vessels, by language."""
    filled: Names = Field(default_factory=dict)
    """Words after vessels that are full, by language."""
    filling: Names = Field(default_factory=dict)
    """Words before vessels that are filled, by language."""
    denied_and: Names = Field(default_factory=dict)
    """Words that join two things that are denied in one, by language."""
    torn: Names = Field(default_factory=dict)
    """What is done to a thing that is taken from under another, by language."""
    amounts: Names = Field(default_factory=dict)
    """Words of amount that leave nothing open before `growths`, by language."""
    growths: Names = Field(default_factory=dict)
    """What grows or lies on wood by nature, by language."""
    denied_or: Names = Field(default_factory=dict)
    """Words that join what is denied in a list, by language."""
    denied_verbs: Names = Field(default_factory=dict)
    """Verbs that may stand between a negation and what it denies, by language."""
    hung: Names = Field(default_factory=dict)
    """Things that hang on a tree and can be taken down, by language."""
    sensing: Names = Field(default_factory=dict)
    """Words of smell and touch, after which what is likened is a hint, by language."""
    agents: Names = Field(default_factory=dict)
    """Words before what did something (`by`), by language."""
    natural: Names = Field(default_factory=dict)
    """Words that may stand before wind and weather, by language."""
    nature: Names = Field(default_factory=dict)
    """Wind, weather and growth, by language."""
    ellipses: Names = Field(default_factory=dict)
    """Words at the end of a clause that leave open what a denial says (`the foot was`)."""
    limits: Names = Field(default_factory=dict)
    """Words that leave nothing open after a plant or a form (`branches only`), by language."""
    makers: Names = Field(default_factory=dict)
    """Words after a thing that name people (`furniture maker`), by language."""
    nowhere: Names = Field(default_factory=dict)
    """What says in a clause of its own that the lot has none, by language."""
    parting: Names = Field(default_factory=dict)
    """Verbs that part something from the lot together with `parted`, by language."""
    parted: Names = Field(default_factory=dict)
    """Words after what was parted (`left the painted ones out`), by language."""
    growing_at: Names = Field(default_factory=dict)
    """Words before a thing that tells where pieces in bark grew, by language."""
    going_to: Names = Field(default_factory=dict)
    """Words of place before a thing in which or on which something is only done, by language."""
    fixing: Names = Field(default_factory=dict)
    """Words that make the lot a part of the thing all the same, by language."""
    doing: Names = Field(default_factory=dict)
    """What only happens in, on or at a thing, by language."""
    leftovers: Names = Field(default_factory=dict)
    """Words before a phrase of place after which it is none (`what is left of`), by language."""
    leaving: Names = Field(default_factory=dict)
    """Words of place from which something was torn (`from under`), by language."""
    wholes: Names = Field(default_factory=dict)
    """Words for all pieces of a kind, which can be sorted out (`anything painted`), by language."""
    asking: Names = Field(default_factory=dict)
    """Words that begin a request to whoever helps, by language."""
    plots: Names = Field(default_factory=dict)
    """Parts of house and garden where leaves and stalks are gathered, by language."""
    being: Names = Field(default_factory=dict)
    """Auxiliary verbs before what only happens (`was rubbing on`), by language."""
    carrying: Names = Field(default_factory=dict)
    """What is only done in vessels, before them, by language."""
    joining: Names = Field(default_factory=dict)
    """Words later in a clause after which what was set apart is in the lot all the same."""
    excepting: Names = Field(default_factory=dict)
    """Words that except something from what went elsewhere, by language."""
    affirming: Names = Field(default_factory=dict)
    """Beginnings of a clause that tells what the lot is (`this is`, `these are`), by language."""
    helping: Names = Field(default_factory=dict)
    """What people do who fell a tree or lend a hand, by language."""
    chars: Names = Field(default_factory=dict)
    """Words for the char that will be made, by language."""
    char_goes: Names = Field(default_factory=dict)
    """Words after the char that tell where it will go, by language."""
    sources: Names = Field(default_factory=dict)
    """Words of where something comes from, after which a clause is about the lot, by language."""
    disposals: Names = Field(default_factory=dict)
    """Places where waste is brought, by language."""
    leaving_for: Names = Field(default_factory=dict)
    """Verbs of what will be brought there, by language."""
    passives: Names = Field(default_factory=dict)
    """Verbs before what is done to a thing, by language."""
    keeping: Names = Field(default_factory=dict)
    """Verbs of keeping something for somebody, by language."""
    pyres: Names = Field(default_factory=dict)
    """Words for the fire and what is burnt in it, by language."""
    owners: Names = Field(default_factory=dict)
    """Other people, whose things are not the lot, by language."""
    habits: Names = Field(default_factory=dict)
    """What others do or have at home, by language."""
    ours: Names = Field(default_factory=dict)
    """Words for those who write and for their lot, by language."""
    stories: Names = Field(default_factory=dict)
    """Verbs of what became of a thing, by language."""
    tops: Names = Field(default_factory=dict)
    """Parts of plants that no thing is made of, by language."""
    by_means_of: Names = Field(default_factory=dict)
    """Words before a vessel or a tool (`in`, `with`), by language."""
    bringing: Names = Field(default_factory=dict)
    """Verbs of what is done with a vessel, a vehicle or a tool, by language."""
    passing: Names = Field(default_factory=dict)
    """Words of amount and time that leave nothing open in a clause of their own, by language."""
    joining_as: Names = Field(default_factory=dict)
    """Words between `as` and `as` that liken nothing (`as well as`), by language."""
    clause_heads: Names = Field(default_factory=dict)
    """Words that may begin a clause before what it tells (`but`), by language."""
    carriers: Names = Field(default_factory=dict)
    """Vessels and vehicles that count nothing, by language."""
    fields: Names = Field(default_factory=dict)
    """Words at the end of the name of a field or a farm, by language."""
    doers: Names = Field(default_factory=dict)
    """Beginnings of a clause that tells what people do, by language."""
    linking: Names = Field(default_factory=dict)
    """Words in such a clause that may make it one about the lot, by language."""
    saying: Names = Field(default_factory=dict)
    """Words after a thing of which something is told, by language."""
    resuming: Names = Field(default_factory=dict)
    """What anywhere in a text takes up a thing again as the lot (`the old one`), by language."""
    pronouns: Names = Field(default_factory=dict)
    """Words for people that need no verb to be one who does something, by language."""
    acts: Names = Field(default_factory=dict)
    """Verbs of what people and animals do, by language."""
    when: Names = Field(default_factory=dict)
    """Words that join another clause (`when`), by language."""
    months: Names = Field(default_factory=dict)
    """Names of months that are other words too, by language."""
    dating: Names = Field(default_factory=dict)
    """Words before the name of a month, by language."""
    declining: Names = Field(default_factory=dict)
    """Verbs of what was not taken, by language."""
    ladders: Names = Field(default_factory=dict)
    """What people stand on who work in a tree, by language."""
    treework: Names = Field(default_factory=dict)
    """Verbs of work in a tree, by language."""
    standing: Names = Field(default_factory=dict)
    """Verbs of a thing that stood somewhere, by language."""
    unreal: Names = Field(default_factory=dict)
    """Words of what a thing was to become and has not, by language."""
    none_of_it: Names = Field(default_factory=dict)
    """Words at the end of a clause that takes none of something, by language."""
    wheres: Names = Field(default_factory=dict)
    """Words before what stood in a place, by language."""
    measuring: Names = Field(default_factory=dict)
    """What a thing is likened to (`the colour of`), by language."""
    others_lots: Names = Field(default_factory=dict)
    """Beginnings of a clause about another lot, by language."""
    explaining: Names = Field(default_factory=dict)
    """Beginnings of a clause that says what something only is, by language."""
    departed: Names = Field(default_factory=dict)
    """Verbs of a thing that was taken away, by language."""
    goes_off: Names = Field(default_factory=dict)
    """Verbs of a thing that goes elsewhere, by language."""
    towards: Names = Field(default_factory=dict)
    """Words of place after them, by language."""
    self_owned: Names = Field(default_factory=dict)
    """Words for what is one's own, by language."""
    unused: Names = Field(default_factory=dict)
    """Words of what was never put to its purpose, by language."""
    planning: Names = Field(default_factory=dict)
    """Verbs of what somebody means to do, by language."""
    own_objects: Names = Field(default_factory=dict)
    """Words for the lot as what something was done to, by language."""
    adverbs: Names = Field(default_factory=dict)
    """Words between how a piece is and a word that likens (`curls up like`), by language."""
    gathering: Names = Field(default_factory=dict)
    """Verbs of cutting and gathering what grew, by language."""
    wrecking: Names = Field(default_factory=dict)
    """Verbs that take a thing apart with `down` or `up`, by language."""
    apart_words: Names = Field(default_factory=dict)
    """Such words after them, by language."""
    handing: Names = Field(default_factory=dict)
    """What people do who leave or bring parts of plants, by language."""
    kept_apart: Names = Field(default_factory=dict)
    """What keeps the lot apart from what follows, by language."""
    bits: Names = Field(default_factory=dict)
    """Words for parts of a thing, by language."""
    firsts: Names = Field(default_factory=dict)
    """Words after what was done before all else (`moved out first`), by language."""
    fixtures: Names = Field(default_factory=dict)
    """Things at a house that are no place a lot is fetched from, by language."""
    bare_starts: Names = Field(default_factory=dict)
    """Words that begin a clause about the lot itself, unnamed (`used to be`), by language."""
    nothings: Names = Field(default_factory=dict)
    """Words after a verb that deny it (`we spray nothing`), by language."""
    others_own: Names = Field(default_factory=dict)
    """Words for what is another's, by language."""
    merely: Names = Field(default_factory=dict)
    """Words that say that something is no more than that, by language."""
    so: Names = Field(default_factory=dict)
    """Words before what something was done for (`so`), by language."""
    growing: Names = Field(default_factory=dict)
    """Verbs of growing, by language."""
    wreckers: Names = Field(default_factory=dict)
    """People and machines that take a thing down, by language."""
    along_with: Names = Field(default_factory=dict)
    """Words before what only came with the lot, by language."""
    existing: Names = Field(default_factory=dict)
    """Words before what was there, by language."""
    obliged: Names = Field(default_factory=dict)
    """Words between an auxiliary verb and what had to be done, by language."""
    whose: Names = Field(default_factory=dict)
    """Words that say whose part something is, by language."""
    tool_parts: Names = Field(default_factory=dict)
    """Parts of tools, by language."""
    held_before: Names = Field(default_factory=dict)
    """Verbs of what a place held before, by language."""
    emptied: Names = Field(default_factory=dict)
    """Verbs of a place that was emptied, by language."""
    advising: Names = Field(default_factory=dict)
    """Words before a colon that give advice (`tip:`), by language."""
    char_waits: Names = Field(default_factory=dict)
    """Words of a vessel that stands ready for the char, by language."""
    knocks: Names = Field(default_factory=dict)
    """What a tree does to a thing (`the shed it hit`), by language."""
    edges: Names = Field(default_factory=dict)
    """Words for a side of a place (`at the gate end`), by language."""
    plots_grown: Names = Field(default_factory=dict)
    """Where a lot grew, by language."""
    ashes: Names = Field(default_factory=dict)
    """Words for what the fire leaves, by language."""
    ash_goes: Names = Field(default_factory=dict)
    """Words of where that will go (`can`, `will`), by language."""
    fire_work: Names = Field(default_factory=dict)
    """What is done in a vessel (`to make it in`), by language."""
    grades: Names = Field(default_factory=dict)
    """Words of how good wood is (`furniture grade`), by language."""
    corners: Names = Field(default_factory=dict)
    """Parts of a thing that a lot can lie in (`a corner of the barn`), by language."""
    driven_off: Names = Field(default_factory=dict)
    """Verbs of what went away on a vehicle, by language."""
    vehicles: Names = Field(default_factory=dict)
    """What drives away, by language."""
    seeing: Names = Field(default_factory=dict)
    """Words of sight that leave nothing open, by language."""
    services: Names = Field(default_factory=dict)
    """What a wire or pipe of a house is for, by language."""
    no_part: Names = Field(default_factory=dict)
    """What says that a thing is no part of the lot, by language."""
    wanted_back: Names = Field(default_factory=dict)
    """What says that a thing is only lent, by language."""
    underlays: Names = Field(default_factory=dict)
    """What a thing under a lot is only for, by language."""
    spots: Names = Field(default_factory=dict)
    """Words for a place, which name no lot (`on this spot`), by language."""
    belonging: Names = Field(default_factory=dict)
    """What begins a clause that tells whose a thing is, by language."""
    speaking: Names = Field(default_factory=dict)
    """What is said before a danger that is only spoken of (`ask about`), by language."""
    knowing: Names = Field(default_factory=dict)
    """Words of what one knows well, by language."""
    worn: Names = Field(default_factory=dict)
    """Parts of the body and clothes, by language."""
    will_go: Names = Field(default_factory=dict)
    """Words of where the char will go, by language."""
    went_away: Names = Field(default_factory=dict)
    """What begins a clause about a thing that went, by language."""
    after_all: Names = Field(default_factory=dict)
    """What says that a likeness is none, by language."""
    certain: Names = Field(default_factory=dict)
    """Words of certainty (`for certain`), by language."""
    whatevers: Names = Field(default_factory=dict)
    """What begins a clause that changes nothing (`whatever she says`), by language."""
    woulds: Names = Field(default_factory=dict)
    """Words before what one would not do, by language."""
    never_used: Names = Field(default_factory=dict)
    """What says that something was not used, by language."""
