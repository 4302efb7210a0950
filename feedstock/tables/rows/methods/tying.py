"""The words that say what ties a lot to a thing, and what only tells of it."""

from __future__ import annotations

from pydantic import Field

from ..row import Names, Sourced


class Tying(Sourced):
    """Words by which a clause ties a lot to a danger, or tells something else of it."""

    besides: Names = Field(default_factory=dict)
    """Words of place beside, behind, over or under a thing, by language."""
    holders: Names = Field(default_factory=dict)
    """What holds a thing or is a place for it: its name only tells of what (`fuel tank`)."""
    rooms: Names = Field(default_factory=dict)
    """Buildings, vehicles and the like that a lot can lie in or on, by language."""
    shoots: Names = Field(default_factory=dict)
    """What is cut from a plant that grows, by language."""
    trimming: Names = Field(default_factory=dict)
    """What is done to a plant that grows, by language."""
    structural: Names = Field(default_factory=dict)
    """What makes the lot a part or a cause of the thing after all, before it, by language."""
    falling: Names = Field(default_factory=dict)
    """What a tree does that falls, by language."""
    felling: Names = Field(default_factory=dict)
    """What is done to trees that stand in the way, by language."""
    ways_to: Names = Field(default_factory=dict)
    """Words of direction to where somebody lives or works, by language."""
    sellers: Names = Field(default_factory=dict)
    """Places that wood comes from and that lie somewhere, by language."""
    covers: Names = Field(default_factory=dict)
    """What lies over a lot to keep it dry, or under it, by language."""
    atop: Names = Field(default_factory=dict)
    """Words that say that it lies on the lot, by language."""
    respelt: Names = Field(default_factory=dict)
    """Words as some people write them, each with its usual spelling after it."""
    requests: Names = Field(default_factory=dict)
    """What begins a request, a warning or the way to somebody, by language."""
    leavings: Names = Field(default_factory=dict)
    """What people do who leave something, by language."""
    trading: Names = Field(default_factory=dict)
    """What somebody does for a living, by language."""
    traders: Names = Field(default_factory=dict)
    """Words for somebody before what he does for a living, by language."""
    had_been: Names = Field(default_factory=dict)
    """Words of what was there once, by language."""
    roads: Names = Field(default_factory=dict)
    """Roads and the like, by language."""
    sweeping: Names = Field(default_factory=dict)
    """Words of sweeping, by language."""
    found_none: Names = Field(default_factory=dict)
    """What says after that nothing was found, by language."""
    hearsay: Names = Field(default_factory=dict)
    """What makes a word of somebody else of it, by language."""
    nobodies: Names = Field(default_factory=dict)
    """What begins a clause that is true of nobody and nothing, by language."""
    asking_words: Names = Field(default_factory=dict)
    """Words that leave open what something is, by language."""
    mistaken: Names = Field(default_factory=dict)
    """Words for what is not true, by language."""
    afters: Names = Field(default_factory=dict)
    """Words before what came first, by language."""
    liking: Names = Field(default_factory=dict)
    """Words that liken by themselves, by language."""
    coming: Names = Field(default_factory=dict)
    """Verbs of what is still to come, by language."""
    keeping_dry: Names = Field(default_factory=dict)
    """What says that something is there to keep a lot dry, by language."""
    undone: Names = Field(default_factory=dict)
    """What begins a request to pick something out, which nobody did yet, by language."""
    units: Names = Field(default_factory=dict)
    """Measures of a distance, by language."""
    arriving: Names = Field(default_factory=dict)
    """What a thing does that comes to stand somewhere, by language."""
    titles: Names = Field(default_factory=dict)
    """Words before the name of somebody, by language."""
    getting: Names = Field(default_factory=dict)
    """What is done with what somebody has not yet, by language."""
    misses: Names = Field(default_factory=dict)
    """What a tree does that touches nothing, before it, by language."""
    untying: Names = Field(default_factory=dict)
    """Small words behind which a thing is none of what grew, by language."""
    tying: Names = Field(default_factory=dict)
    """Verbs that add their object to a lot, by language."""
    spilt: Names = Field(default_factory=dict)
    """What spreads from a thing, by language."""
    looks: Names = Field(default_factory=dict)
    """Verbs of what something looks like, by language."""
    reports: Names = Field(default_factory=dict)
    """Verbs of what somebody tells of a lot that grew, by language."""
    pitches: Names = Field(default_factory=dict)
    """Words for resin that are those for tar too, by language."""
    lasting_on: Names = Field(default_factory=dict)
    """What says that something is still on a lot or in it, by language."""
    imagined: Names = Field(default_factory=dict)
    """What says that something only looks so, by language."""
    errands: Names = Field(default_factory=dict)
    """Verbs of somebody who goes for something, by language."""
    avoiding: Names = Field(default_factory=dict)
    """What shall not happen to a thing, by language."""
