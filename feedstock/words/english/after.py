"""Heads and lines of what is printed after the burn: quality, carbon, the mix, beds, batches."""

from __future__ import annotations

from ..say import FormattedValues, Sentence

CHAR: dict[str, Sentence] = {
    "char.sort": "By hand and eye: {into} {sources}",
    "char.also-seen": "also seen: {sign}",
    "char.laboratory": "What only a laboratory can tell, and what to order",
    "char.in-short": "{lot}: carbon {carbon:range .0f}, ash {ash:range .2g}, "
    "H/C {ratio:range .2g}, {likely} of {classes} classes likely{cold}",
    "char.check-first": "{lots}: check first. What is said of the char holds if it clears; until "
    "then it is not for food soil.",
    "char.more": "What stands behind each class: --full.",
    "char.made-at": "{lot}: char made at {temperature}{cold}",
    "char.too-cold": "; too cold to be called biochar",
    "char.of-ratios": "  ratios     ",
    "char.ratios": "molar H/C {hydrogen}, O/C {oxygen}",
    "char.of-dry-matter": "  dry matter ",
    "char.dry-matter": "organic carbon {carbon}; ash {ash}",
    "char.volatile": "volatile matter {volatile}; fixed carbon {fixed}",
    "char.high-ash": "rich in ash: it limes and carries salts",
    "char.class": "{name} ({version}): what can be forecast of it is {meets} ({why}) {sources}; "
    "not forecast here: {not_forecast}",
    "char.meets-likely": "likely met",
    "char.meets-may": "perhaps met",
    "char.meets-not-likely": "not likely met",
    "carbon.head": "Carbon {sources}",
    "carbon.of-now": "  now          ",
    "carbon.now": "organic carbon in the char: {mass}",
    "carbon.of-default": "  by default   ",
    "carbon.of-ratio": "  by H/C       ",
    "carbon.later": "still in the soil after {years} years: {left}; the carbon of so much carbon "
    "dioxide: {dioxide}",
    "carbon.of-soil": "  soil         ",
    "carbon.soil": "mean soil temperature {temperature}",
}


def _mix_head(values: FormattedValues) -> str:
    wanted = f", wanted: {values('wanted')}" if values["wanted"] is not None else ""
    return f"Char in compost{wanted} {values('sources')}"


MIX: dict[str, Sentence] = {
    "mix.head": _mix_head,
    "mix.part": "{name}: {volume} (as it lies {mass}; moisture on wet basis {moisture}){ratio}",
    "mix.part-ratio": "; C:N {ratio}",
    "mix.count": "{name} {count:.2g}",
    "mix.in-containers": "In {name}s of {size}, the same one for all: {counts}.",
    "mix.of-char": "  char       ",
    "mix.char": "of the volume {volume}; of the dry mass {mass}",
    "mix.of-gather": "  to gather  ",
    "mix.gather": "compost materials: {volume}",
    "mix.of-moisture": "  moisture   ",
    "mix.moisture": "on wet basis {moisture}",
    "mix.of-water": "  water      ",
    "mix.water": "to add: {water}",
    "mix.of-ratio": "  C:N        ",
    "mix.ratio": "{ratio}, without the char",
    "mix.of-nitrogen": "  nitrogen   ",
    "mix.nitrogen": "tied up at first: {mass}",
    "mix.of-heap": "  heap       ",
    "mix.heap": "{volume}; {shape}, height {height}; width {width}{length}",
    "mix.length": "; length {length}",
    "mix.a-cone": "a cone",
    "mix.a-windrow": "a windrow",
    "mix.of-later": "  later      ",
    "mix.later": "when it is used {volume}; after {time}",
    "mix.of-crush": "  crush      ",
    "mix.crush": "to {size}, wet; that is {volume} of it",
    "mix.of-targets": "  targets    ",
    "mix.addition": "about {volume:rough} of {name} ({mass:rough})",
    "mix.add": "add {additions}. {text}",
    "mix.beds": "Beds, at {dressing} {sources}",
    "mix.treats": "dry char: {char}; it treats {area}",
}


def _by_units(metric: str, us: str) -> Sentence:
    return lambda values: metric if values.units == "metric" else us


def _factor(values: FormattedValues) -> str:
    feed = f" of {values('feed')}" if values["feed"] else ""
    batches = f"{values('batches')} batch{'es' if values['batches'] != 1 else ''}"
    return (
        f"{values('figure')}{feed}, {values('burner')}: {values('factor')} times the tables' "
        f"forecast, from {batches}"
    )


def _in_all(values: FormattedValues) -> str:
    more = "more" if values["more"] else "less"
    return values.fill(
        "{figure}: {within} of {batches} inside the 90 % interval; measured was {bias:.0f} % "
        "{word} than forecast, on the whole",
        word=more,
    )


def _taught(values: FormattedValues) -> str:
    person = f" of {values('person')}" if values["person"] else ""
    return f"What the batches{person} taught"


TAUGHT: dict[str, Sentence] = {
    "figure.volume-per-feed": _by_units(
        "litres of sorted char per kg of dry feed", "US gal of sorted char per lb of dry feed"
    ),
    "figure.mass-per-feed": _by_units(
        "kg of dried char per kg of dry feed", "lb of dried char per lb of dry feed"
    ),
    "figure.burning-rate": _by_units(
        "kg of dry feed per m2 of rim and minute", "lb of dry feed per ft2 of rim and minute"
    ),
    "taught.nothing": "No batch taught anything yet: forecasts are those of the tables alone.",
    "taught.head": _taught,
    "taught.factor": _factor,
    "taught.share": "of what can be learnt, {batch_weight:.0f} % is theirs and {rest:.0f} % still "
    "the tables'; the rest of the width is new in every batch",
    "taught.apart": "{batch} stands apart in {figure}: {measured} where {predicted} was forecast. "
    "It counted for {weight:.0f} % of a record. Look whether it was measured as the others were.",
    "check.batch": "batch",
    "check.figure": "figure",
    "check.forecast": "forecast",
    "check.measured": "measured",
    "check.inside": "inside",
    "check.yes": "yes",
    "check.no": "no",
    "check.in-all": _in_all,
}

SENTENCES: dict[str, Sentence] = {**CHAR, **MIX, **TAUGHT}
