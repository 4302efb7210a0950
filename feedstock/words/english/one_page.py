"""What stands on the one page: a heap and its burn, as a person carries it to the pit."""

from __future__ import annotations

from ..say import FormattedValues, Sentence
from .cues import hands_told, often_told, parts_told
from .page import PARTS

_LITTLE = 0.25
"""Below so many kilograms a balance at a fire tells nothing."""


def _head(values: FormattedValues) -> str:
    count = values["count"]
    lots = "1 lot" if count == 1 else f"{count} lots"
    name = f"{values('name')}: " if values["name"] else ""
    return f"{name}{lots}, for a {values('burner')}"


def _plan_head(values: FormattedValues) -> str:
    fired = {"fed": "fed", "top-lit": "filled and lit from the top", "closed": "closed"}
    how = fired.get(str(values["firing"]), "")
    return f"The burn: {values('burner')}{', ' if how else ''}{how}"


def _loads(values: FormattedValues) -> str:
    low, mid, high = (values[name] for name in ("low", "mid", "high"))
    if mid == 1:
        if high <= 1:
            return "1 load"
        return f"1 load ({'2' if high == 2 else f'up to {high}'} if not all fits)"
    count = f"{mid} loads" if low == high else f"{mid} loads ({low} to {high})"
    alike = "equal shares of every lot" if values["alike"] else "the last one smaller"
    if values["one"] and values["alike"]:
        alike = "all alike"
    return f"{count}, {alike}"


def _all_loads(values: FormattedValues) -> str:
    """Hours and what else all loads take; how many a day where one is not enough."""
    days = ""
    if values["days"] is not None:
        a_day, count = values["days"]["loads"], values["days"]["days"]
        days = f", {a_day} a day on {count} days"
    return values.fill(
        "{all} loads: {hours:likely}{days}; in them {fuel:hand} of thin fuel, {water:poured} of "
        "water{more}. Between: char spread damp outside the ring; bail; "
        "lay {sticks}dry sticks.",
        days=days,
        sticks="" if values["sticks"] is None else f"{values('sticks', 'bare-hand')} of ",
        more=" used (more is ready)" if values["less"] else " used",
    )


def _step(values: FormattedValues) -> str:
    """One step of the feeding: what, how much, how much at a time."""
    often = ""
    if values["part"] == "with" and values["by_hand"] is not None:
        often = f", {values('by_hand')}"
    elif values["part"] == "aside" and values["every"] is not None:
        often = parts_told(values)
    elif values["every"] is not None:
        often = f"{hands_told(values)} every {often_told(values)}"
        if values["turns"]:
            often += ", two people by turns"
    thin = values["part"] in ("light", "aside", "cap")
    bring = "thin dry wood" if thin else "dry wood, finger thick,"
    if not values["lots"]:
        return values.fill("{bring} that you bring: {mass:hand}", bring=bring) + often
    if values["bring"] is None:
        return values.fill("{lots}: {mass:hand}") + often
    what = "thin wood" if thin else "wood"
    template = "{lots} and {what} that you bring: {mass:hand} ({bring:bare-hand} of it {what})"
    return values.fill(template, what=what) + often


def _span(values: FormattedValues) -> str:
    """From the thinnest to the thickest, with the unit once."""
    thin, thick = values("thin", ".0f"), values("thick", ".0f")
    return thick if thin == thick else f"{thin.partition(' ')[0]} to {thick}"


def _so_thick(values: FormattedValues) -> str:
    span = _span(values)
    return f"{values('lot')} of {span}" if values["lot"] else f"what is {span} thick"


def _sort(values: FormattedValues) -> str:
    """What is laid apart, with the thickness that was assumed of a lot."""
    assumed = f" (assumed: {', '.join(values['assumed'])})" if values["assumed"] else ""
    sort = f"Sort by thickness{assumed}" if assumed or not values["alike"] else ""
    each = ", for each load," if values["loads"] > 1 else ""
    keep = f"keep back{each} {values['parts']}" if values["parts"] else ""
    if not sort:
        return f"{keep[:1].upper()}{keep[1:]}." if keep else ""
    return f"{'; '.join(filter(None, (sort, keep)))}."


def _kept_for(what: str) -> Sentence:
    """What is kept back, and for what; of several lots how much in all."""
    return lambda values: values.fill(
        "{lots}, {mass:hand}{all}, " + what, all=" in all" if values["several"] else ""
    )


def _saw(values: FormattedValues) -> str:
    """What is sawn: lots of which the length is known, and whatever else is too long."""
    longest = values["longest"]
    if longest is None:
        return values.fill("Saw before that day: {parts}.")
    if not values["parts"]:
        return values.fill("Saw what is longer than {longest:.2g}.")
    return values.fill("Saw before that day: {parts}; all else longer than {longest:.2g}.")


def _last_load(values: FormattedValues) -> str:
    """The last load where it is smaller, with the thin fuel that the heap then lacks."""
    told = values.fill(
        "The last load is {last:hand} in all, {last_minutes:.0f} minutes: the same steps with less "
        "of every lot"
    )
    if values["last_lacks"] is not None:
        told += values.fill(" and {last_lacks:hand} more of thin wood, brought or split")
    return told + ("; or all loads alike and shorter." if values["small"] else ".")


def _dig(values: FormattedValues) -> str:
    """How a pit is dug; what has no floor ends in a point, or is a bowl."""
    bare = {
        name: values(name, ".0f").partition(" ")[0]
        for name in ("rim", "depth", "floor", "floor_length")
    }
    rim, end = "{rim:.0f} wide", "floor {floor}"
    if values["length"] is not None:
        rim, end = f"{bare['rim']} by {{length:.0f}}", f"{end} by {{floor_length}}"
    if values["bowl"]:
        end = "round as a bowl"
    elif not values["floor"].value:
        end = "straight to a point"
    template = f"dug {rim}, {{depth}} deep, {end}"
    return values.fill(template, **{name: text for name, text in bare.items() if name != "rim"})


def _bring_both(values: FormattedValues) -> str:
    several = values["loads"] > 1
    wood, thin = values("bring", "hand"), values("lacks", "hand").removeprefix("about ")
    each = ", for each load" if several else ""
    if several:
        each += values.fill(" ({all_bring:bare-hand} and {all_lacks:bare-hand} for all)")
    return values.fill(
        "Bring {wood} of dry wood, finger thick, and {thin} of twigs or wood split thinner than "
        "{edge}{each}: the steps have both. Or put all of it into the compost.",
        wood=wood,
        thin=thin,
        edge=values("thin", ".0f"),
        each=each,
    )


def _heard(values: FormattedValues) -> str:
    """What a person wrote; of a word that stands with the heap, where: no lot shows it."""
    where = f" in {values('where')}, not of a lot" if values["heap"] else ""
    return values.fill("you wrote `{word}`{place}. {settle}", place=where)


def _now(values: FormattedValues) -> str:
    """What goes in and what it gives; less char than a balance tells is told so."""
    char = values["char"]
    if char.mid_value < _LITTLE:
        little = "under 0.5 kg" if values.units == "metric" else "under 1 lb"
    else:
        little = values("char", "hand")
    return values.fill(
        "{lots}: {mass:hand} dry, which gives {volume} of char ({char})", char=little
    )


def _wet(values: FormattedValues) -> str:
    """How wet, and how long it dries in the season; a short time in days."""
    wet, weeks = values("moisture", "mid .0f"), values["weeks"]
    if values["assumed"]:
        wet = f"not measured, taken as {wet}"
    if weeks is None:
        return f"{wet} wet"
    return f"{wet} wet, {values('weeks', 'short')} of dry season"


def _record_short(values: FormattedValues) -> str:
    volume = "litres" if values.units == "metric" else "US gallons"
    return (
        f"Write down: minutes to quench, {volume} and weight of sorted char, half-burnt pieces, "
        "water (`feedstock record`)."
    )


def _record(values: FormattedValues) -> str:
    volume = "litres" if values.units == "metric" else "US gallons"
    return (
        f"Write down: minutes from lighting to quench, {volume} of sorted char, its weight and "
        "moisture, half-burnt pieces, water (`feedstock record`)."
    )


def _water(values: FormattedValues) -> str:
    """What stands ready before lighting, with its reserve; a hose that is counted in runs."""
    each = " for each load" if values["loads"] > 1 else ""
    if values["hose"]:
        return values.fill(
            "The hose laid, open and tried; beside the fire {water:at-least} in cans, should it "
            "fail."
        )
    return values.fill("Water beside the fire{each}: {water:at-least}.", each=each)


def _takes(values: FormattedValues) -> str:
    each = "" if values["loads"] == 1 else " each" if values["alike"] else " for a full one"
    return values.fill("about {time:mid .0f}") + each


def _split(values: FormattedValues) -> str:
    count = values["pieces"]
    many = (
        values("mass", "hand") if count is None else "1 piece" if count == 1 else f"{count} pieces"
    )
    into, template = PARTS.get(values["into"]), "{many}, {into}"
    if into is None:
        into, template = f"each in {values('into')}", "{many}, {into}, {thickness:.0f} thick"
    if values["by_hand"]:
        template = "{many}, to lumps of {thickness:.0f} at most"
    return values.fill(template, many=many, into=into)


def _fill(values: FormattedValues) -> str:
    """What is thin lights a load: it is never what has no room in it."""
    if values["more"] and values["cap"]:
        return "Fill, from the floor up; what has no room waits, but never what is for the top"
    return "Fill, from the floor up"


def _split_before(values: FormattedValues) -> str:
    """What is split; what is too long for that is sawn before."""
    all_loads = ", for all loads" if values["loads"] > 1 else ""
    sawn = f", sawn to {values('sawn', '.2g')}" if values["sawn"] is not None else ""
    return values.fill("Split before that day{which}: {parts}.", which=all_loads + sawn)


def _through(values: FormattedValues) -> str:
    begin, end = values("begin", "bare mid .0f"), values("end", "bare mid .0f")
    return begin if begin == end else f"{begin} to {end}"


def _box(label: str, metric: str, us: str) -> Sentence:
    return lambda values: f"{label}, {metric if values.units == 'metric' else us}"


SHEET: dict[str, Sentence] = {
    "sheet.bar": "{volume}",
    "sheet.fed-bar": "{lots}, {mass:hand}",
    "sheet.char-picture": "Char expected of each lot: the bar is its 90 % interval, the line its "
    "middle; grey goes in now, hatched once dried or cleared",
    "sheet.char-foot": "{unit} of char, heaped",
    "sheet.feeding-picture": "What goes in when, by thickness",
    "sheet.minutes-foot": "minutes from lighting",
    "sheet.section-picture": "The {burner} cut through its middle, to scale",
    "sheet.rim-text": "{rim:mid .2g} wide",
    "sheet.depth-text": "{depth:mid .2g} deep",
    "sheet.fill-text": "full to {fill:mid .0f} after one load",
    "sheet.record-head": "Write down",
    "sheet.box-minutes": "Lighting to quench, minutes",
    "sheet.box-litres": _box("Sorted char, heaped", "litres", "US gal"),
    "sheet.box-kilograms": _box("Its weight, dry or with its moisture", "kg", "lb"),
    "sheet.box-brands": _box("Half-burnt pieces", "kg", "lb"),
    "sheet.box-water": _box("Water", "litres", "US gal"),
    "thickness.thin": "thin",
    "thickness.finger": "finger",
    "thickness.wrist": "wrist",
    "thickness.thick": "thick",
}

ADVICE: dict[str, Sentence] = {
    "advice.moisture": "Split a piece of {lot} and read a meter on the fresh face, or weigh a "
    "slice before and after drying: its moisture makes {share:.0f} % of the doubt.",
    "advice.weigh": "Weigh {lot}, or one armful of it and count the armfuls: how much there is "
    "makes {share:.0f} % of the doubt.",
    "advice.density": "Weigh a dry piece of {lot} and measure it: its density makes "
    "{share:.0f} % of the doubt.",
    "advice.bulk": "Fill a bucket of known size with dry {lot} and weigh it: how loosely it lies "
    "makes {share:.0f} % of the doubt.",
    "advice.thickness": "Measure the thickness of {lot}: it makes {share:.0f} % of the doubt.",
    "advice.record": "Measure what this burn leaves and keep a record of it: how your fire does "
    "makes {share:.0f} % of the doubt.",
}

SENTENCES: dict[str, Sentence] = {
    **ADVICE,
    **SHEET,
    "sheet.head": _head,
    "sheet.now": "Goes in now",
    "sheet.fit": "Clean and dry enough",
    "sheet.every-lot": "all {count} lots",
    "sheet.other-lots": "{count} lots, all but those that are named below",
    "sheet.so-thick": _so_thick,
    "sheet.lot-so-thick": _so_thick,
    "sheet.rest-so-thick": lambda values: f"the rest of {_so_thick(values)}",
    "sheet.thinnest-left": lambda values: f"the thinnest that is left, {_span(values)}",
    "sheet.rest": "the rest of {lot}",
    "sheet.in-turn": lambda values: ", then ".join(values.each("lots")),
    "sheet.now-lots": _now,
    "sheet.now-mass": "{lots}: {mass:hand} dry, which gives {char} of char",
    "sheet.nothing-now": "Nothing can go in yet.",
    "sheet.dry-first": "Dry first, for {volume:likely} of char more",
    "sheet.dry-first-mass": "Dry first",
    "sheet.check-first": "Check first, for {volume:likely} of char more if it clears",
    "sheet.check-first-mass": "Check first",
    "sheet.stays-out": "Stays out: no share of it, however small, belongs in char for food soil",
    "sheet.heard": _heard,
    "sheet.rotted": "{lots}: may be worth more left to rot, or in the compost.",
    "sheet.not-read": lambda values: (
        f"Not read in names: {', '.join(f'`{word}`' for word in values.each('words'))}."
    ),
    "sheet.take-away": "Never burn, saw or scrape it; to the collection for treated, painted or "
    "hazardous wood (`--lot`).",
    "sheet.lots": "{lots}: {text}",
    "sheet.lot-about": "{lot} ({about})",
    "sheet.and-dry": "{moisture:mid .0f} wet, dry it too",
    "sheet.wet": _wet,
    "sheet.drying": "{how} Time: {time}.",
    "sheet.dry-when": "Dry when: {know}.",
    "sheet.was-read": "{lot}, {text}",
    "sheet.taken": "Taken: {items}",
    "sheet.container": "a {container} holds {volume}",
    "sheet.containers": "By usual containers, give `volume` for yours: {items}.",
    "sheet.note": "Note: {note}.",
    "sheet.word-taken": "'{word}' was not taken as the row of that name in your table set, for the "
    "word has a meaning already. {action}",
    "sheet.not-a-test": "Nothing flagged is no test: it goes by the origins and signs that you "
    "gave.",
    "sheet.plan-head": _plan_head,
    "sheet.loads": _loads,
    "sheet.takes": _takes,
    "sheet.water": _water,
    "sheet.split": _split_before,
    "sheet.saw": _saw,
    "sheet.unsawn": "Lay 4 straight dry sticks aside, unsawn.",
    "sheet.sort": _sort,
    "sheet.taken-as": "{lot} {thick:.0f}",
    "sheet.for-with": _kept_for("to go with {beside}"),
    "sheet.for-aside": _kept_for("for the end"),
    "sheet.for-cap": _kept_for("for the top"),
    "sheet.cut": "{lot}, each in {into}, to {length:.2g}",
    "sheet.break": "Break by hand: {parts}.",
    "sheet.split-lot": "{lot}, {parts}",
    "sheet.split-part": _split,
    "sheet.covered": "Or under {ways}: no gap, overnight at least, water beside it when opened.",
    "sheet.covered-only": "Put it out under {ways}: no gap, overnight at least, water beside it "
    "when opened. No water into a hot closed vessel: its steam scalds.",
    "sheet.lid": "an airtight lid",
    "sheet.soil": "damp soil",
    "sheet.or": "{first} or {last}",
    "sheet.bursts": "In short bursts on the char, not on the hot vessel: it cracks or warps.",
    "sheet.left-out": "Not in this fire, too thick to char through in its time: {lots}. Saw and "
    "split it thinner, or keep it for the stove.",
    "sheet.feed": lambda values: (
        "By cue; minutes from lighting. Last row when full to a hand below the rim"
        if values["more"]
        else "Feed, in minutes from lighting; the cue counts, not the clock"
    ),
    "sheet.stick": "first the 4 straight dry sticks, unsawn, upright along the wall, from the "
    "floor to a hand above the top",
    "sheet.top-lit-end": "from minute {time:bare low .0f} on hook a stick out now and then with a "
    "poker or a rake; usually by {time:bare mid .0f} one is black to its foot and no yellow flame "
    "stands over the char: quench. Still yellow flame an hour before dusk: quench all the "
    "same. Lowest pieces with wood inside go dried into the next fire",
    "sheet.fill": _fill,
    "sheet.step": _step,
    "sheet.minutes": _through,
    "in.buckets": lambda values: (
        f" ({values('count')} bucket{'' if values['count'] == '1' else 's'})"
    ),
    "in.barrows": lambda values: (
        f" ({values('count')} barrow{'' if values['count'] == '1' else 's'})"
    ),
    "sheet.both": "Both",
    "sheet.all": "All {loads}",
    "sheet.all-loads": _all_loads,
    "sheet.last-load": _last_load,
    "sheet.dig": _dig,
    "sheet.bring-both": _bring_both,
    "sheet.keep-for-wet": "Best kept as kindling for {wet}, once that is dry. To burn {dry} alone "
    "all the same:",
    "sheet.brought": "Counted in time and water, not in char.",
    "sheet.advice": "Would help most: {advice}",
    "sheet.record": _record,
    "sheet.record-short": _record_short,
    "sheet.more": lambda values: (
        f"More: {'--lot NAME, ' if values['lots'] > 1 else ''}--why {values['figure']}, --full."
    ),
}
