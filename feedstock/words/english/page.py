"""Heads and lines of what is printed: the appraisal, the plan of its burn, what to gather."""

from __future__ import annotations

from ..say import FormattedValues, Sentence
from .cues import hands_told, often_told, parts_told, with_each


def _head(values: FormattedValues) -> str:
    lots = f"{values('count')} lot{'s' if values['count'] != 1 else ''}"
    return f"{values('name')}{lots}, for a {values('burner')}"


def _in_hands(values: FormattedValues, name: str) -> str:
    """How many in all and how many at a time, which together are the mass of the step."""
    at_once = values["at_once"]
    return f"in {values('all')} {name}, {'one' if at_once == 1 else at_once}"


def _split(text: str) -> Sentence:
    """In halves or quarters; in more of them by how thick they are to be."""

    def sentence(values: FormattedValues) -> str:
        into = PARTS.get(values["into"], "into pieces")
        return values.fill(text, parts=values.fill(f"{into} about {{thickness:mid .0f}} thick"))

    return sentence


PARTS = {2: "in halves", 4: "in quarters"}
"""How a piece is split in so many."""


def _armfuls(halves: int) -> str:
    return {1: "half an armful", 2: "an armful"}.get(halves, f"{halves / 2:g} armfuls")


def _of_volume(values: FormattedValues) -> str:
    """So many portions of a volume, to the litre where it is several."""
    whole = values.units == "metric" and values["volume"].value >= _LITRES
    volume = values("volume", ".0f" if whole else ".2g")
    return values.fill("in {all} portions of {volume}, one", volume=volume)


_LITRES = 4.0
"""From so many litres on nobody scoops by the half."""


VERDICTS: dict[str, Sentence] = {
    "verdict.READY": "ready",
    "verdict.DRY_FIRST": "dry first",
    "verdict.CHECK_FIRST": "check first",
    "verdict.KEEP_OUT": "keep out",
}

APPRAISAL: dict[str, Sentence] = {
    "page.head": _head,
    "page.nothing-yet": "Now: nothing can go in yet.",
    "page.now": "Now",
    "page.if-dried": "If dried first",
    "page.if-checked": "If checked and cleared (and dry)",
    "page.total": "{head}: {lots}, {mass}, dry",
    "page.gives": "gives {volume} ({mass}) of char, sorted, dry and heaped, uncrushed",
    "page.gives-mass": "gives {mass} of char, sorted, dry and heaped, uncrushed",
    "page.stays-out": "Stays out: {lots} ({mass}, dry). No share of it, however small, belongs in "
    "char for food soil.",
    "page.mixed": "Thrown together the whole heap would be: {verdict}. Keep the lots apart.",
    "page.of-moisture": "  moisture   ",
    "page.of-density": "  density    ",
    "page.of-dry-mass": "  dry mass   ",
    "page.of-char": "  char       ",
    "page.of-carbon": "  carbon     ",
    "page.of-water": "  water      ",
    "page.of-heat": "  heat       ",
    "page.scores": "  scores     ",
    "page.moisture": "{wet} wet basis ({dry} % dry basis)",
    "page.density": "{density}, oven-dry",
    "page.water": "{water} of water to lose before it is dry enough",
    "page.heat": "its water takes {share} of its heat",
    "page.suitability": "{scores}; suitability {score:.0f} of 100",
    "score.moisture": "moisture",
    "score.density": "density",
    "score.contamination": "contamination",
    "score.char": "char",
    "page.nothing-flagged": "nothing was flagged for contamination, by the origin and signs that "
    "you gave; that is no test.",
    "page.cleared": "cleared, and kept in view",
    "page.note": "note",
    "page.do": "    do: ",
    "page.settle": "    what would settle it: ",
    "page.see-words": "check first: you wrote `{word}` (see What you wrote)",
    "page.of-words": "What you wrote",
    "page.if-fits": "      if it fits, write  ",
    "page.if-not": "      if not, write      ",
    "page.if-not-heap": "      if not, beside `lots` of the heap  ",
    "page.without-word": "      if not, write a material without that word",
    "page.of-tables": "The tables",
    "page.assumed": "Read and assumed",
    "page.cautions": "Before you light, and after",
    "page.local-codes": "Local codes and licensed practice come before anything that stands here.",
    "page.sources": "Sources",
    "page.tables": "Tables: ",
    "page.ranges": "Ranges hold nine times in ten if what you stated is right; see README for what "
    "they cannot know.",
}

BURN: dict[str, Sentence] = {
    "burn.head": "The burn: {burner}, {firing}",
    "burn.holds": "it holds {volume}",
    "burn.leaves": "one load leaves {volume} of char ({mass}), sorted",
    "burn.full": "full at the end: {share}{over}",
    "burn.over-the-rim": "; above 100 % it stands higher than the rim",
    "burn.loads": "loads: {mid}",
    "burn.loads-between": "loads: {low} to {high}, likely {mid}",
    "burn.takes": "takes {time} from lighting to quench",
    "burn.hours": "all {loads} loads: {time}, each with quench, emptying and lighting anew",
    "burn.of-all": "water for all of them {water}, quick fuel {quick}",
    "burn.before": "Before you light",
    "burn.water-ready": "Have {water:at-least} of water ready beside it, and a shovel and a rake. "
    "No water, no fire.",
    "burn.saw": "Saw every piece of {lot} into {into}, of {length:mid .2g}: longer ones do not lie "
    "flat in it, or do not split.",
    "burn.break": "Break {lot}, about {mass:mid .2g}, by hand to lumps of "
    "{thickness:mid .0f} at most{why}: an axe only crushes it.",
    "burn.split-one": _split("Split the piece of {lot} {parts}{why}."),
    "burn.split-pieces": _split("Split {pieces} pieces of {lot} {parts}{why}."),
    "burn.split-mass": _split("Split {lot}, about {mass:mid .2g}, {sawn}every piece {parts}{why}."),
    "burn.sawn": "sawn to {length:mid .2g} first, ",
    "burn.for-the-bed": ", for the first bed of embers; or bring as much that is finger-thick",
    "burn.for-both": ", for the first bed of embers and to feed beside what sinks the flame; or "
    "bring as much that is finger-thick",
    "burn.to-go-with": ", to feed beside what sinks the flame",
    "burn.for-time": "; whole, it would be raw inside at the end, or it is too thick for this rim, "
    "or soft and wet inside",
    "burn.cut": "Cut everything shorter than {length:mid .2g}, so that it lies inside the rim.",
    "burn.sort": lambda values: (
        "Lay out within reach, a heap for each thickness: "
        + "; ".join(values.each("lots"))
        + ". What is not named here stays away from the fire."
    ),
    "burn.aside": "Put about {mass:mid .2g} of thin, dry fuel away for the end, before anything is "
    "fed.",
    "burn.cap": "Put about {mass:mid .2g} of thin, dry fuel by for the cap, before anything is "
    "laid.",
    "burn.floor": "Have dry sticks for the wet floor before each load but the first, about "
    "{mass:mid .2g} each time.",
    "burn.set-a-stick": "Set a straight, dry stick upright along the wall, down to the floor: "
    "hooked out with a poker or a rake, it shows how deep the fire stands.",
    "burn.one-load": "one load",
    "burn.each-load": "each load",
    "burn.feeding": "Feeding, {each}, in minutes after lighting (the cue counts, not the clock)",
    "burn.filling": "Filling, {each}, from the floor up",
    "burn.step": "{when}{lots}, {how}{lacks}: {cue}",
    "burn.at": "{begin:.0f}: ",
    "burn.from-to": "{begin:.0f} to {end:.0f}: ",
    "burn.kind": "{kind}: {lots}",
    "burn.more": "{count} more",
    "hand.armfuls": lambda values: _in_hands(values, "armfuls"),
    "hand.half-armfuls": lambda values: _in_hands(values, "half armfuls"),
    "hand.handfuls": lambda values: _in_hands(values, "handfuls"),
    "hand.of-volume": _of_volume,
    "hand.pieces": lambda values: _in_hands(values, "pieces"),
    "hand.logs": lambda values: _in_hands(values, "logs or armfuls"),
    "hand.sticks": "a few sticks",
    "hand.beside": lambda values: f"{with_each(values)} with each portion",
    "hand.beside-armfuls": lambda values: f"{_armfuls(values['halves'])} with each portion",
    "hand.portions": lambda values: _in_hands(values, "portions"),
    "burn.brought": "thin dry fuel from elsewhere",
    "burn.brought-wood": "dry wood from elsewhere, finger thick",
    "burn.at-once": "about {mass:mid .2g}",
    "burn.in-parts": lambda values: values.fill(
        "about {mass:mid .2g}{hands}", hands=parts_told(values)
    ),
    "burn.beside": "about {mass:mid .2g}, {by_hand}",
    "burn.portions": lambda values: values.fill(
        "about {mass:mid .2g}{hands} every {often} (about {portion:mid .2g} at a time)",
        hands=hands_told(values),
        often=often_told(values),
    ),
    "burn.bring": " ({mass:mid .2g} of it to be brought)",
    "burn.few-brands": "Sort out by ring and weight what is not char, at most about "
    "{mass:high .2g}. It goes first into the next fire.",
    "burn.brands": "Sort out by ring and weight what is not char: about {mass:mid .2g} of dry wood "
    "({mass:range .2g}). It goes first into the next fire.",
    "burn.minutes": "Minutes after lighting",
    "burn.putting-out": "Putting it out",
    "burn.have-ready": "have ready: {water:at-least}",
    "burn.not-with-water": "it is not put out with water as a rule; if it breaks open or must be "
    "drowned,",
    "burn.will-take": "it will take {water}: {time} of a hose at {flow:mid .3g} {sources}",
    "burn.under-a-minute": "less than a minute",
    "burn.through": "Time in the flame until a piece is char to its centre",
    "size.one": "A {burner} for all that is ready in one load: {measures}, inside.",
    "size.head": "A {burner} for all that is ready in {loads} loads: {measures}, inside.",
    "size.measure": "{length:.3g} {what}",
    "size.diameter": "wide at the rim",
    "size.width": "wide at the rim",
    "size.length": "long",
    "size.depth": "deep",
    "size.hours": "That takes {time} in all, with quench, emptying and lighting anew.",
    "size.needs": "Water {water}; thin dry fuel to light and to finish with {quick}.",
    "size.left-out": "Not in it, since no splitting gets it through in that time: {lots}.",
    "gather.of-char": "{target} of char",
    "gather.head": "For {target}, with a confidence of {confidence:.4g} %:",
    "gather.lot": "{lot}: {amount} ({mass:likely})",
    "gather.nothing-ready": "nothing is ready to be taken",
    "gather.gives": "That gives {gives}; all ready lots would give {could}.",
    "gather.on-top": "On top of it, thin dry fuel to light and to finish with: {mass}.",
}

WHY: dict[str, Sentence] = {
    "why.head": "{figure}: {value}",
    "why.of-lots": "made of {parts}",
    "why.short-part": "{name} {value:rough}",
    "why.more-lots": "{count} more",
    "why.widest": "What makes it uncertain, widest first (share of the width)",
    "why.doubt": "{share} % {name}{lot}: {between}{value}; {whence}",
    "why.more-doubts": "  and {count} more of less",
    "why.more": "The whole chain with its sources: --full, or .full() in Python.",
    "why.made-of": "Made of",
    "why.part": "{name}: likely about {value:.3g}",
    "why.uncertain": "What makes it uncertain (share of the width)",
    "why.given": "Taken as given, or with little doubt",
    "why.steps": "Steps",
    "why.step": "{lot}{output} = {value}: {formula} ({reference}) from {given}",
    "why.between": "{low} to {high}, middle ",
    "why.input": "{share}{name}{lot}: {between}{value}; {whence}",
}

SENTENCES: dict[str, Sentence] = {**VERDICTS, **APPRAISAL, **BURN, **WHY}
