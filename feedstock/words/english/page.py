"""Heads and lines of what is printed: the appraisal, the plan of its burn, what to gather."""

from __future__ import annotations

from ..say import Said, Sentence


def _head(said: Said) -> str:
    lots = f"{said('count')} lot{'s' if said['count'] != 1 else ''}"
    return f"{said('name')}{lots}, for a {said('burner')}"


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
    "burn.left-over": "left over after the first load: {mass} of dry fuel",
    "burn.takes": "takes {time} from lighting to quench",
    "burn.before": "Before you light",
    "burn.water-ready": "Have {water:at-least} of water ready beside it, and a shovel and a rake. "
    "No water, no fire.",
    "burn.aside": "Put thin, dry fuel aside: {mass}, for lighting, for ashy spots and for the "
    "finish.",
    "burn.split": "Split {lot} to {thickness:.0f} or thinner.",
    "burn.lay-out": "Lay out within reach, in this order: {lots}. What is not named here stays "
    "away from the fire.",
    "burn.set-a-stick": "Set a straight, dry stick upright along the wall, down to the floor: "
    "drawn out, it shows how deep the fire stands.",
    "burn.feeding": "Feeding, one load",
    "burn.filling": "Filling, one load, from the floor up",
    "burn.step": "{lot}, {mass:likely}{latest}: {cue}",
    "burn.by-minute": ", by minute {minute:.0f} at the latest{careful}",
    "burn.better-by": ", better by {minute:.0f}",
    "burn.minutes": "Minutes after lighting",
    "burn.putting-out": "Putting it out",
    "burn.have-ready": "have ready: {water:at-least}",
    "burn.not-with-water": "it is not put out with water as a rule; if it breaks open or must be "
    "drowned,",
    "burn.will-take": "it will take {water}: {time} of a hose at {flow:mid .3g} {sources}",
    "burn.under-a-minute": "less than a minute",
    "burn.through": "Time in the flame until a piece is char to its centre",
    "gather.of-char": "{target} of char",
    "gather.head": "For {target}, with a confidence of {confidence:.4g} %:",
    "gather.lot": "{lot}: {amount} ({mass:likely})",
    "gather.nothing-ready": "nothing is ready to be taken",
    "gather.gives": "That gives {gives}; all ready lots would give {could}.",
    "gather.on-top": "On top of it, thin dry fuel for each load: {mass}.",
}

WHY: dict[str, Sentence] = {
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
