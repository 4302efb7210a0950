"""The plan of a burn: cues, events, findings, notes, the quench, what to gather."""

from __future__ import annotations

from ..say import Said, Sentence

CUES: dict[str, Sentence] = {
    "cue.kindling": "to light with, on top: loose enough for air, dry enough to snap.",
    "cue.establish": "when the kindling burns all over: crosswise, until a bed of embers glows.",
    "cue.main": "when the layer before shows a white film of ash on its upper side; one layer at a "
    "time, flame over all of it.",
    "cue.thin": "when the thick pieces have caught and the flame stays over the bed; little by "
    "little.",
    "cue.loose": "last, in small handfuls and never in wind: it flares and leaves little.",
    "cue.finish": "on spots that turn ashy, and the rest as a last layer when the flames sink; "
    "quench when its flame has gone.",
    "cue.bottom": "first, on the floor: fines and the thinnest.",
    "cue.body": "then this, lengthwise and close, small gaps and no chimney.",
    "cue.top": "at and near the top: the thickest have the longest time in the flame there.",
    "cue.cap": "as a lighting cap over all of it: light it all round at once, on top.",
    "cue.closed": "stand or lay it close; the thickest where the vessel gets hottest.",
    "cue.closed-thin": "into the gaps between.",
}

_QUARTERS = ("", "a quarter", "half", "three quarters", "all")


def _stick(said: Said) -> str:
    end = (
        "; then look at the lowest pieces, and quench when they are through"
        if said["quarters"] == 4
        else ""
    )
    return (
        "A test stick set along the wall should be black over "
        f"{_QUARTERS[said['quarters']]} of its length{end}."
    )


EVENTS: dict[str, Sentence] = {
    "event.slowest": "Last moment for {lot}, the slowest; what is thick and late leaves cores.",
    "event.last-thick": "Last moment for {lot}; after this only thin fuel.",
    "event.last-thin": "Last feeding of {lot}; after this only what was put aside for the finish.",
    "event.begin": "Light it, on top.",
    "event.begin-closed": "A retort is closed and heated from outside; a mound or a drum kiln is "
    "lit and, once it has caught, closed step by step.",
    "event.closed": "How long a closed kiln takes depends on the heat that it gets: quench or seal "
    "it when the smoke has turned thin and clear.",
    "event.stands": "The fire stands when the embers of the medium pieces glow: the thickest may "
    "go in.",
    "event.quench-set": "Quench now: you set this time.",
    "event.quench": "Quench when the flames sink, thin and clear, and no thick piece shows wood "
    "when it is broken open.",
    "event.open": "If it was covered instead of drowned: not opened before this, then felt and "
    "looked at again.",
    "event.stick": _stick,
}


def _proportions(said: Said) -> str:
    word = (
        "deep for its width: air reaches the bottom badly and the smoke is heavy"
        if said["deep"]
        else "flat for its width: the flame does not cover it and more burns to ash"
    )
    return f"It is {said('proportion', '.2g')} times as wide as deep, {word}."


FINDINGS: dict[str, Sentence] = {
    "more-than-one-load.reason": "The ready lots are {low} to {high} loads of this vessel, likely "
    "{mid}.",
    "more-than-one-load.action": "Burn one load to its end, quench and empty it, and only then "
    "begin the next; or take a larger one.",
    "proportions.reason": _proportions,
    "proportions.action": "About {usual:.2g} times as wide as deep is common practice.",
    "stopped-early.reason": "Stopped after {minutes:.0f} minutes, about {share:bare mid .0f} % of "
    "the pieces would not be through ({share:range .0f}).",
    "stopped-early.action": "Burn longer, feed less or split it; else sort the half-charred pieces "
    "out and keep them for the next fire.",
    "too-short.reason": "A fire needs about {start:.0f} minutes to stand; in {minutes:.0f} minutes "
    "next to nothing is char.",
    "too-short.action": "Plan a longer burn, or wait for a day that has the time.",
    "too-long.reason": "The fuel of one load is through after about {minutes:.0f} minutes; after "
    "that the char itself burns away, which is not in these figures.",
    "too-long.action": "Quench when the flames sink, whatever the clock says.",
    "lowest-need-longer.reason": "When the fire has reached the floor, about "
    "{share:bare mid .0f} % of the pieces are not through yet ({share:range .0f}): the lowest need "
    "up to {minutes:.0f} minutes more.",
    "lowest-need-longer.action": "Break one of the lowest pieces open before you quench; sort out "
    "what is half-charred and keep it for the next fire.",
    "water-takes-the-heat.reason": "Its own water would take {share:.0f} % of its heat.",
    "water-takes-the-heat.action": "Dry it first; it is left out of this plan.",
    "too-wet-to-burn.reason": "This burn is refused: {lots} would have to come down to {ready:.0f} "
    "% wet basis, and nothing else is ready.",
    "too-wet-to-burn.action": "Dry it under cover until it has lost about {water:carried} of "
    "water, measure again, and plan again.",
    "nothing-ready.reason": "This burn is refused: no lot may go in as things stand.",
    "nothing-ready.action": "See what is said of each lot, and of the vessel, the ground and the "
    "lighting.",
    "too-little-quick-fuel.reason": "About {needed:.2g} of thin dry fuel is needed for lighting, "
    "ashy spots and the finish; the ready lots have {there:.2g} for one load.",
    "too-little-quick-fuel.action": "Split some of it to less than {thin:.0f}, or gather dry "
    "twigs.",
    "cores-left.reason": "In a burn of {minutes:.0f} minutes about {share:.0f} % of its pieces "
    "would keep a raw core.",
    "cores-left.action": "Split it to {thin:.0f} or thinner, or burn longer.",
    "no-cold-water.reason": "Cold water on this hot vessel can crack it or throw splinters of it.",
    "no-cold-water.action": "Spray the char in short bursts, or smother it under an airtight lid.",
}


def _and_others(said: Said, name: str) -> str:
    others = " and others" if said["others"] else ""
    return f"{', '.join(said.each(name))}{others}"


def _guessed(said: Said) -> str:
    return (
        f"no thickness was given of {_and_others(said, 'lots')}; the usual one was taken, and the "
        "times are wide for it"
    )


_NEEDED = {
    "trench": "width, length and depth",
    "prismoid": "width and depth (and length unless it is square)",
    "heap": "width and height (as depth)",
    "none": "width and height (as depth)",
}


def _what_to_give(said: Said) -> str:
    where = "" if said["open"] else " (inside, at the rim)"
    return (
        "there is no plan of the burn without measures: give "
        f"{_NEEDED.get(said['shape'], 'diameter and depth')} of the {said('burner')}{where}, or "
        "its volume"
    )


NOTES: dict[str, Sentence] = {
    "plan.no-methods": "there is no plan of the burn: the tables in use hold no methods for it",
    "plan.what-to-give": _what_to_give,
    "plan.standard-fire": "char-through times come from a standard fire on thick wood of "
    "{lightest:bare .0f} to {densest:.0f} and hold best above {deep:.0f} thickness; thinner pieces "
    "lie towards the low end",
    "plan.wetter": "{lot} is wetter than the tests behind its char-through time: it may take "
    "longer",
    "plan.no-thickness": _guessed,
    "plan.thickest": "the thickest pieces ({lot}) set the length of this burn; split them and it "
    "is shorter",
    "plan.no-volume": lambda said: (
        f"no table gives the volume of char of {', '.join(said.each('lots'))}; a usual bulk "
        "density was taken for the plan"
    ),
    "plan.two-volumes": "burn: the volume that was given ({written}) is not that of the measures "
    "({measures:range .3g}); the volume was taken, and the measures for the rim and the depth only",
    "plan.no-length": "burn: no length was given; it was taken to be as long as wide",
    "plan.no-floor": "burn: no width of the floor was given; a usual slope of the walls was taken",
    "plan.volume-alone": "burn: only a volume was given; the usual proportions were taken for its "
    "width and depth",
    "plan.have-ready": "have_ready is the high end of this times the reserve of the quench method, "
    "and never less than its least",
}

QUENCH: dict[str, Sentence] = {
    "quench.or": "Or {step:lower}",
    "quench.water": "Water, gently at first, from the edge inwards with a rose or a spray; then "
    "turn the char over and water again until nothing steams or hisses.",
    "quench.bursts": "Spray in short bursts on the char and never on the hot vessel, with a pause "
    "after each: cold water cracks hot cast iron, ceramic and enamel.",
    "quench.lid": "Close it airtight with a lid sealed with wet soil, and leave it shut: cold "
    "after {low:.0f} to {high:.0f} hours, overnight at least.",
    "quench.soil": "Cover it with damp soil without gaps: cold after {low:.0f} to {high:.0f} "
    "hours; grit stays in the char.",
    "quench.look": "Leave nothing hot: stir to the bottom, feel with the back of the hand near it, "
    "and look again some hours later and the next day.",
}


def _emissions(said: Said) -> str:
    """Grams a kilogram are pounds a thousand pounds."""
    per = "per kg of char" if said.units == "metric" else "per 1000 lb of char"
    kind = (
        "Kilns that smoulder closed"
        if said["closed"]
        else f"Fires of this kind fed at about {said('moisture', '.0f')} % moisture"
    )
    text = f"{kind} gave off, {per}: {', '.join(said.each('amounts'))}. "
    if said["closed"]:
        text += "Of carbon monoxide and methane an open flame over dry wood gives off less. "
    elif said["methane"] is not None:
        text += (
            f"Above {said('wet', '.0f')} % moisture methane alone passed "
            f"{said('methane', '.0f')} {_gram(said)}: the reason to burn dry. "
        )
    return f"{text}This is no inventory."


def _gram(said: Said) -> str:
    return "g" if said.units == "metric" else "lb"


EMISSIONS: dict[str, Sentence] = {
    "emissions": _emissions,
    "emissions.between": lambda said: said.fill(
        "{what} {low:.0f} to {high:.0f} {unit}", unit=_gram(said)
    ),
    "emissions.over": lambda said: said.fill("{what} over {low:.0f} {unit}", unit=_gram(said)),
}


def _not_enough(said: Said) -> str:
    more = (
        f" Not ready, and not counted: {_and_others(said, 'not_ready')}."
        if said["not_ready"]
        else ""
    )
    return (
        f"The heap cannot give {said('target')} with a confidence of {said('confidence', '.4g')} "
        f"%: its ready lots give {said('gives', '.3g')} with that.{more}"
    )


def _leaves_less(said: Said) -> str:
    stop = f", and what is still raw after {said('duration')}" if said["duration"] else ""
    return said.fill(
        "Burnt as given, these lots leave about {left:.3g} of sorted char, {share:.0f} % of what "
        "they could: thin fuel that burns to ash for lighting and finish{stop}, is not in the "
        "amounts above.",
        stop=stop,
    )


def _gather_more(said: Said) -> str:
    rest = ", or burn longer." if said["duration"] else ", or bring the thin fuel from elsewhere."
    return f"Gather about {said('times', '.2g')} times as much{rest}"


GATHER: dict[str, Sentence] = {
    "take.all": "all of it",
    "take.part": "{part:.3g}",
    "take.pieces": "{part} of {whole} pieces",
    "take.containers": "{part:.2g} of {whole} x {of}",
    "take.stack": "{part:.2g} of the {whole:.2g} of the stack",
    "not-enough.reason": _not_enough,
    "not-enough.action": "Gather more, dry or clear what is not ready, ask for less, or accept a "
    "lower confidence.",
    "burn-leaves-less.reason": _leaves_less,
    "burn-leaves-less.action": _gather_more,
    "gather.as-they-lie": "amounts are as the lots lie; char is sorted, dry, heaped and uncrushed",
    "gather.quick-fuel": "thin quick fuel burns mostly to ash: bring it on top of this, or take it "
    "from the thin lots named here and count them out",
    "gather.filled-up": "filled up to whole loads as far as the ready lots go",
}

SENTENCES: dict[str, Sentence] = {
    **CUES,
    **EVENTS,
    **FINDINGS,
    **NOTES,
    **QUENCH,
    **EMISSIONS,
    **GATHER,
}
