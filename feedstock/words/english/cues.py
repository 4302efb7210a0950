"""By what one sees that the next may follow, and how it is laid; in short for the page."""

from __future__ import annotations

import math

from ..say import FormattedValues, Sentence

_SLOW, _HAIR = 5.0, 1e-6
"""From so many minutes on half ones are not told."""
_PART = 0.25
"""Less than this part of a handful is not told."""
_STICKS = "hand.sticks"
"""Portions that are not counted."""
_FEW_LOTS = 2
"""So many lots are named in a cue."""


def laid_last(values: FormattedValues) -> str:
    """What of the wood was laid last, by name where it is of few lots."""
    lots = values["lots"]
    return f"the last {values('lots')}" if len(lots) <= _FEW_LOTS else "the thick pieces laid last"


def _raw(text: str) -> Sentence:
    return lambda values: (
        f"{text}; quench when its flame has gone. Inside {laid_last(values)} may still be wood: "
        "sort such pieces out, they go first into the next fire."
    )


def often_told(values: FormattedValues) -> str:
    """Minutes from one portion to the next: the nearest ones by which the last portion is in when
    the step ends.
    """
    every = max(values["every"].mid_value, 1.0) + _HAIR
    turns: float = values["by_hand"].values["all"] / values["by_hand"].values["at_once"]
    unit = 0.5 if every < _SLOW else 1.0
    told = round(every / unit) * unit
    if (turns - 1) * told >= turns * every:
        told = math.floor(every / unit) * unit
    return "minute" if told == 1 else f"{told:g} min"


def hands_told(values: FormattedValues) -> str:
    """In how many portions, behind the mass of the step."""
    return f"{',' if values['by_hand'].code == _STICKS else ''} {values('by_hand')}"


def parts_told(values: FormattedValues) -> str:
    """The same where no clock tells when, but what is seen."""
    if values["by_hand"].code == _STICKS:
        return f"{hands_told(values)} at a time"
    return hands_told(values).rpartition(", ")[0]


def with_each(values: FormattedValues) -> str:
    """How much of the wood goes in with a portion of what carries no fire."""
    handfuls = values["handfuls"] or 0
    few, part = int(handfuls), handfuls - int(handfuls)
    if _PART < part < 1 - _PART:
        return f"{few} or {few + 1} handfuls" if few else "half a handful"
    whole = round(handfuls)
    return f"{whole} handfuls" if whole > 1 else "a handful" if whole else "a piece"


def _way(values: FormattedValues) -> str:
    return "along it" if values["along"] else "crosswise"


def _lying(text: str) -> Sentence:
    """How a layer lies; in what is long and narrow no stick lies across."""
    return lambda values: values.fill(text, lie=_way(values))


def _bed(text: str) -> Sentence:
    """How the bed is laid; before thick wood, how long that may take."""

    def sentence(values: FormattedValues) -> str:
        until = "until embers cover the floor"
        if values["to"] is not None:
            until += values.fill(", {from} to {to} min")
        return values.fill(text, lie=_way(values), until=until)

    return sentence


def _with_it(text: str, end: str) -> Sentence:
    return lambda values: f"{text}, {with_each(values)} of it with every portion; {end}."


CUES: dict[str, Sentence] = {
    "cue.light": "loose on the floor, with air in it, and dry enough to snap; light it on top.",
    "cue.light-along": "loose all along the floor, with air in it, and dry enough to snap; light "
    "it on top at {places} places along it.",
    "cue.light-loose-along": "loose and airy all along the floor, a double armful at most at a "
    "time; light it on top at {places} places along it.",
    "cue.light-loose": "loose and airy, a double armful at most at a time; light it on top.",
    "cue.bed": _bed("{lie} as soon as the kindling burns all over, {until}."),
    "cue.bed-loose": "onto the flames little by little as soon as it burns all over.",
    "cue.loose-alone": "onto flames, thinly and loosely, never as a blanket and never in wind; "
    "it leaves little.",
    "cue.loose-alone-with": _with_it(
        "thinly and loosely onto the flames of the wood", "never as a blanket and never in wind"
    ),
    "cue.loose-with": _with_it("thinly onto the flames of the wood", "never in wind"),
    "cue.other-with": _with_it(
        "in thin layers onto the flames of the wood", "the next when it burns through"
    ),
    "cue.first": "when embers cover the floor: side by side in one layer; the next when the flame "
    "stands over all of it.",
    "cue.main": "the next layer when the one before is white with ash; flame over all of it.",
    "cue.other": "in thin layers onto flames, never as a blanket; the next when it burns through.",
    "cue.loose-lumps": "last, laid onto flames lump by lump, crumbs strewn, never in wind: it "
    "leaves little, and every lump holds fire.",
    "cue.loose": "last, strewn thinly onto flames and never in wind: it flares and leaves little.",
    "cue.with": "kept back for that, so that flame stands over all of it.",
    "cue.aside": "on spots that turn grey, and the rest as a last thin layer when the flames sink; "
    "quench when its flame has gone.",
    "cue.aside-loose": "by handfuls on spots that turn grey, and the rest as the flames sink; "
    "quench when its flame has gone.",
    "cue.aside-raw": _raw(
        "on spots that turn grey, and the rest as a last thin layer when the flames sink"
    ),
    "cue.aside-loose-raw": _raw(
        "by handfuls on spots that turn grey, and the rest as the flames sink"
    ),
    "cue.lowest": "on the floor, the thickest lowest, lengthwise and close, no chimney.",
    "cue.layer-wood": _lying("half of it on the floor, the rest {lie} between what follows."),
    "cue.middle": _lying("then this, {lie}, small gaps."),
    "cue.upper": "then this, the thinnest highest.",
    "cue.cap": "as a lighting cap over all of it: light it all round at once, on top.",
    "cue.cap-loose": "as a lighting cap, airy over all of it: light it all round at once.",
    "cue.closed": "stand or lay it close, thin pieces into the gaps.",
}


def _with_each(text: str, end: str) -> Sentence:
    return lambda values: f"{text}, {with_each(values)} of wood with each portion{end}"


def _raw_short(values: FormattedValues) -> str:
    return (
        "on grey spots, the rest as flames sink; then quench. Wood inside of "
        f"{laid_last(values)}: dry it for the next fire"
    )


SHORT: dict[str, Sentence] = {
    "cue.light.short": "loose; light it on top",
    "cue.light-along.short": "loose, all along; light on top at {places} places",
    "cue.light-loose-along.short": "loose and airy, all along; light on top at {places} places",
    "cue.light-loose.short": "loose and airy; light it on top",
    "cue.bed.short": _bed("{lie}, {until}"),
    "cue.first.short": "one layer, thickest first; the next when flame covers it",
    "cue.loose-alone-with.short": _with_each("loosely onto the wood's flames", ", never in wind"),
    "cue.layer-wood.short": _lying("half on the floor, half {lie} between what follows"),
    "cue.loose-with.short": _with_each("strewn onto the wood's flames", ", never in wind"),
    "cue.other-with.short": _with_each("thin layers onto the wood's flames", ""),
    "cue.main.short": "the next layer when the last is white with ash",
    "cue.other.short": "thin layers onto flame, the next when it burns through",
    "cue.loose-lumps.short": "laid lump by lump onto flame, crumbs strewn, never in wind",
    "cue.loose.short": "strewn onto flame, never in wind",
    "cue.with.short": "kept back for that: flame over all of it",
    "cue.aside.short": "on grey spots, the rest as flames sink; quench once wood breaks black",
    "cue.aside-loose.short": "on grey spots, the rest as flames sink; quench once wood breaks "
    "black",
    "cue.aside-raw.short": _raw_short,
    "cue.aside-loose-raw.short": _raw_short,
    "cue.lowest.short": "on the floor, thickest lowest, close",
    "cue.middle.short": _lying("{lie}, small gaps"),
    "cue.upper.short": "the thinnest highest",
    "cue.cap.short": "on top; light it all round at once",
    "cue.cap-loose.short": "loose and airy, on top; light it all round at once",
}

SENTENCES: dict[str, Sentence] = {**CUES, **SHORT}
