"""The plan of a burn: events, findings, notes, the quench, what to gather."""

from __future__ import annotations

from ..say import FormattedValues, Sentence

_QUARTERS = ("", "a quarter", "half", "three quarters", "all")


def _stick(values: FormattedValues) -> str:
    end = (
        "; then look at the lowest pieces, and quench when they are through"
        if values["quarters"] == 4
        else ""
    )
    return (
        "A test stick set along the wall should be black over "
        f"{_QUARTERS[values['quarters']]} of its length{end}."
    )


def _quench_now(values: FormattedValues) -> str:
    if not values["wood"]:
        return "Quench when the flames sink, before it falls to ash."
    if values["raw"]:
        return (
            "Quench when the flames sink, thin and clear, though thick pieces laid last may still "
            "show wood when they are broken open: those go first into the next fire."
        )
    return (
        "Quench when the flames sink, thin and clear, and no thick piece shows wood when it is "
        "broken open."
    )


EVENTS: dict[str, Sentence] = {
    "event.begin": "Light it, on top.",
    "event.begin-closed": "A retort is closed and heated from outside; a mound or a drum kiln is "
    "lit and, once it has caught, closed step by step.",
    "event.closed": "How long a closed kiln takes depends on the heat that it gets: quench or seal "
    "it when the smoke has turned thin and clear.",
    "event.stands": lambda values: (
        "The fire stands: embers cover the floor, and the thickest may go in."
        if values["wood"]
        else "The fire stands when it flames over the whole floor."
    ),
    "event.quench-set": "Quench now: you set this time.",
    "event.quench": _quench_now,
    "event.open": "If it was covered instead of drowned: not opened before this, then felt and "
    "looked at again.",
    "event.stick": _stick,
}


def _proportions(values: FormattedValues) -> str:
    word = (
        "deep for its width: air reaches the bottom badly and the smoke is heavy"
        if values["deep"]
        else "flat for its width: the flame does not cover it and more burns to ash"
    )
    return f"It is {values('proportion', '.2g')} times as wide as deep, {word}."


def _loads_action(values: FormattedValues) -> str:
    deal = (
        "each with the same share of every lot"
        if values["alike"]
        else "each full one with the same share of every lot, the last one smaller"
    )
    return (
        f"Deal the heap out into {values('mid')} loads, {deal}; burn one to its end, quench and "
        "empty it, and only then begin the next. Or take a larger vessel."
    )


def _no_fire(values: FormattedValues) -> str:
    what = (
        "Most of it is straw, leaves, shells or shavings, and that carries no fire"
        if values["wood"]
        else "There is no wood in it: straw, leaves, shells and shavings carry no fire of their own"
    )
    return f"{what}; it flares, or it smothers and smokes."


FINDINGS: dict[str, Sentence] = {
    "more-than-one-load.reason": "The ready lots are {low} to {high} loads of this vessel, likely "
    "{mid}.",
    "more-than-one-load.action": _loads_action,
    "carries-no-fire.reason": _no_fire,
    "carries-no-fire.action": lambda values: (
        f"Bring about {values('bring', 'hand')} of dry wood, finger thick"
        + (", for each load" if values["loads"] > 1 else "")
        + (f" ({values('all', 'hand')} for all of them)" if values["loads"] > 1 else "")
        + ": the steps below have it. "
        + "Or put all of it into the compost."
    ),
    "split-first.reason": "Whole, it would keep raw wood inside in the {minutes:.0f} minutes of "
    "this burn, or it is too thick for this rim, or soft and wet inside.",
    "split-first.action": lambda values: values.fill(
        "Break every piece by hand, to about {thin:.0f}, before the fire."
        if values["by_hand"]
        else "Split every piece into {into}, to about {thin:.0f}, before the fire."
    ),
    "left-out.reason": "Its pieces of {thickness:.0f} need about {through:.0f} minutes in the "
    "flame, and no splitting by hand makes them thin enough; this burn has {minutes:.0f}.",
    "left-out.action": "It stays out of this fire: keep it for a longer one, for the stove, or "
    "saw and split it thinner.",
    "little-for-its-pit.reason": "There is little to burn for a pit {rim:.2g} wide: lighting and "
    "bed alone would take most of it.",
    "little-for-its-pit.action": "Keep the fire together on about {across:.0f} of the floor, or "
    "take a smaller vessel; the steps below are for the small fire.",
    "as-much-as-the-hose.reason": "More than this a hose of {hose} does not put out in "
    "{minutes:.0f} minutes, and what waits burns away.",
    "as-much-as-the-hose.action": "The load is kept to that. With tubs of water beside it, it "
    "could be larger.",
    "proportions.reason": _proportions,
    "proportions.action": "About {usual:.2g} times as wide as deep is common practice.",
    "stopped-early.reason": "Stopped after {minutes:.0f} minutes, about {share:bare mid .0f} % of "
    "the wood would still be raw ({share:range .0f}).",
    "stopped-early.action": "Burn longer, feed less or split it; else sort the half-charred pieces "
    "out and keep them for the next fire.",
    "too-short.reason": "A fire needs about {start:.0f} minutes to stand; in {minutes:.0f} minutes "
    "next to nothing is char.",
    "too-short.action": "Plan a longer burn, or wait for a day that has the time.",
    "too-long.reason": "The fuel of one load is through after about {minutes:.0f} minutes; after "
    "that the char itself burns away, which is not in these figures.",
    "too-long.action": "Quench when the flames sink, whatever the clock says.",
    "water-takes-the-heat.reason": "Its own water would take {share:.0f} % of its heat.",
    "water-takes-the-heat.action": "Dry it first; it is left out of this plan.",
    "too-wet-to-burn.reason": "This burn is refused: {lots} would have to come down to {ready:.0f} "
    "% wet basis, and nothing else is ready.",
    "too-wet-to-burn.action": "Dry it under cover until it has lost about {water:carried} of "
    "water, measure again, and plan again.",
    "nothing-ready.reason": "This burn is refused: no lot may go in as things stand.",
    "nothing-ready.action": "See what is said of each lot, and of the vessel, the ground and the "
    "lighting.",
    "too-little-quick-fuel.reason": lambda values: (
        f"About {values('needed', 'hand')} of thin dry fuel is needed for lighting, grey spots and "
        "the finish; the ready lots have "
        + (f"{values('there', 'hand')} for one load." if values["some"] else "none.")
    ),
    "too-little-quick-fuel.action": lambda values: (
        f"Bring {values('lacks', 'hand')} more"
        + (" for each load" if values["loads"] > 1 else "")
        + ": dry twigs, or "
        + (f"more {values('wood')}" if values["wood"] is not None else "wood")
        + f" split thinner than {values('thin', '.0f')}."
    ),
    "no-cold-water.reason": "Cold water on this hot vessel can crack it or throw splinters of it.",
    "no-cold-water.action": "Spray the char in short bursts, or smother it under an airtight lid.",
}


def _and_others(values: FormattedValues, name: str) -> str:
    others = " and others" if values["others"] else ""
    return f"{', '.join(values.each(name))}{others}"


def _guessed(values: FormattedValues) -> str:
    return (
        f"no thickness was given of {_and_others(values, 'lots')}; the usual one was taken, and "
        "the times are wide for it"
    )


_NEEDED = {
    "trench": "width, length and depth",
    "prismoid": "width and depth (and length unless it is square)",
    "heap": "width and height (as depth)",
    "none": "width and height (as depth)",
}


def _what_to_give(values: FormattedValues) -> str:
    where = "" if values["open"] else " (inside, at the rim)"
    return (
        "there is no plan of the burn without measures: give "
        f"{_NEEDED.get(values['shape'], 'diameter and depth')} of the {values('burner')}{where}, "
        "or its volume"
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
    "plan.no-volume": lambda values: (
        f"no table gives the volume of char of {', '.join(values.each('lots'))}; a usual bulk "
        "density was taken for the plan"
    ),
    "plan.two-volumes": "burn: the volume that was given ({written}) is not that of the measures "
    "({measures:range .3g}); the volume was taken, and the measures for the rim and the depth only",
    "plan.no-length": "burn: no length was given; it was taken to be as long as wide",
    "plan.no-floor": "burn: no width of the floor was given; a usual slope of the walls was taken",
    "plan.volume-alone": "burn: only a volume was given; the usual proportions were taken for its "
    "width and depth",
    "plan.have-ready": "have_ready is the high end of this times the reserve of the quench method, "
    "at most twice the middle, less what a hose gives in time, and never less than its least",
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
    "quench.look": "Leave nothing hot: stir to the bottom, dig holes into it and feel in them with "
    "the back of the hand, and look again some hours later and the next day.",
}


def _emissions(values: FormattedValues) -> str:
    """Grams a kilogram are pounds a thousand pounds."""
    per = "per kg of char" if values.units == "metric" else "per 1000 lb of char"
    kind = "Kilns that smoulder closed" if values["closed"] else "Published fires of this kind"
    text = f"{kind} gave off, {per}: {', '.join(values.each('amounts'))}. "
    if values["closed"]:
        text += "Of carbon monoxide and methane an open flame over dry wood gives off less. "
    elif values["methane"] is not None:
        text += (
            f"Above {values('wet', '.0f')} % moisture methane alone passed "
            f"{values('methane', '.0f')} {_gram(values)}: the reason to burn dry. "
        )
    return f"{text}This is no inventory."


def _gram(values: FormattedValues) -> str:
    return "g" if values.units == "metric" else "lb"


EMISSIONS: dict[str, Sentence] = {
    "emissions": _emissions,
    "emissions.between": lambda values: values.fill(
        "{what} {low:.0f} to {high:.0f} {unit}", unit=_gram(values)
    ),
    "emissions.over": lambda values: values.fill(
        "{what} over {low:.0f} {unit}", unit=_gram(values)
    ),
}


def _not_enough(values: FormattedValues) -> str:
    more = (
        f" Not ready, and not counted: {_and_others(values, 'not_ready')}."
        if values["not_ready"]
        else ""
    )
    return (
        f"The heap cannot give {values('target')} with a confidence of "
        f"{values('confidence', '.4g')} %: its ready lots give {values('gives', '.3g')} with "
        f"that.{more}"
    )


GATHER: dict[str, Sentence] = {
    "take.all": "all of it",
    "take.part": "{part:.3g}",
    "take.pieces": "{part} of {whole} pieces",
    "take.containers": "{part:.2g} of {whole} x {of}",
    "take.heap": "{part:.0f} % of the heap",
    "take.stack": "{part:.2g} of the {whole:.2g} of the stack",
    "not-enough.reason": _not_enough,
    "not-enough.action": "Gather more, dry or clear what is not ready, ask for less, or accept a "
    "lower confidence.",
    "gather.as-they-lie": "amounts are as the lots lie; char is sorted, dry, heaped and uncrushed",
    "gather.no-burn": "no measures of a burn were given: nothing is taken off for the thin fuel "
    "that lights and finishes the fire and burns to ash",
    "gather.taken-off": "{share:.0f} % of what these lots could give is taken off already: thin "
    "fuel that lights and finishes the fire burns to ash",
    "gather.nothing-off": "nothing is taken off for the thin fuel that lights and finishes the "
    "fire: all of it is brought",
    "gather.filled-up": "filled up to whole loads as far as the ready lots go",
}

SENTENCES: dict[str, Sentence] = {
    **EVENTS,
    **FINDINGS,
    **NOTES,
    **QUENCH,
    **EMISSIONS,
    **GATHER,
}
