"""How a wet lot is laid to dry, how long that takes, and how to know that it is dry."""

from __future__ import annotations

from ...quantities.estimate import Estimate
from ..say import FormattedValues, Sentence

# up to so many weeks a time is told in days
_IN_DAYS = 2.5

_COVER = "Cover the top alone: a cover keeps rain off and does not dry."


def _span(values: FormattedValues, name: str) -> str:
    """A time as a person would say it: short ones in days."""
    value = values[name]
    if isinstance(value, Estimate) and value.high_value <= _IN_DAYS:
        return values.reader.word(value.to("day"))
    return values(name)


def _time(values: FormattedValues) -> str:
    if values["sodden"]:
        return "none: it rots before it dries"
    if values["weeks"] is None:
        return (
            f"it does not get dry enough where it is; it stops at {values('stops', 'mid .2g')} wet"
        )
    if values["loose"] or values["rained"]:
        spell = "in a dry spell" if values["loose"] else "in dry weather"
        winter = f"; in winter {_span(values, 'winter')}" if values["winter"] is not None else ""
        return f"{spell} {_span(values, 'weeks')}{winter}"
    longer = values["weeks"].mid_value > values["summer"]
    more = ", so more than one summer" if longer else ""
    winter = (
        _span(values, "winter") if values["winter"] is not None else "not before the next season"
    )
    return (
        f"in spring and summer {_span(values, 'weeks')}{more}; begun in winter {winter}; outdoors "
        f"it stops at about {values('stops', 'mid .2g')} wet"
    )


def _poles(values: FormattedValues) -> str:
    quicker = ""
    if values["split"] is not None:
        quicker = values.fill(" Cut under {short:.0f} and split, it takes {split:short}.")
    return f"Stack it off the ground in one open row, with wind through it. {_COVER}{quicker}"


def _rounds(values: FormattedValues) -> str:
    quicker = ""
    if values["split"] is not None:
        quicker = values.fill(": then it takes {split:short}")
    return (
        values.fill(
            "Split it to {thickness:.0f} or thinner and cut it under {short:.0f}{more}. ",
            more=quicker,
        )
        + f"Stack it off the ground in one open row. {_COVER}"
    )


def _knows(sign: str, measured: str, unmeasured: str) -> Sentence:
    """By a sign or by weight: of what was measured it is known what it must come down to."""
    return lambda values: sign + (unmeasured if values["left"] is None else values.fill(measured))


SENTENCES: dict[str, Sentence] = {
    "drying.time": _time,
    "drying.lay-brash": "Lay it loose and crosswise, off the ground, with wind through it. In a "
    "heap it takes about {heap:.2g} times as long, at the bottom of a large one {pile:.2g} times.",
    "drying.lay-split": "Stack it off the ground in one open row, pieces apart, with wind through "
    f"it. {_COVER}",
    "drying.lay-poles": _poles,
    "drying.lay-rounds": _rounds,
    "drying.lay-stalks": "Stand it up in loose bundles under a roof, or lay it crosswise off the "
    "ground, with wind through it.",
    "drying.lay-rotted": "Break it into lumps by hand and lay them in one layer under a roof: wood "
    "this soft soaks up every rain. It may be worth more left to rot, or in the compost.",
    "drying.lay-spread": "Spread it a hand deep on a sheet or a dry floor, turn it every day, and "
    "take it in before dew and rain.",
    "drying.lay-bales": "Open the bales, shake them out a hand deep on a sheet or a dry floor, "
    "turn them every day, and take them in before dew and rain. A bale that is wet to its core, "
    "warm or mouldy goes to the compost.",
    "drying.lay-sodden": "It is wet through and rots before it dries: give it to the compost.",
    "drying.lay-at-rest": "It is at rest with the air that you named and gets no drier in it: "
    "bring it where the air is drier, under a roof that the sun warms.",
    "drying.lay-rained-on": "The rain has wetted the outside alone: lay it apart under a roof, "
    "with wind through it.",
    "drying.lay-rained-on-loose": "Shake it out, spread it under a roof or in the sun, and turn "
    "it once or twice.",
    "drying.know-wood": _knows(
        "split a piece and read a meter on the fresh face, or ",
        "weigh one marked piece now: dry, it weighs {left:.0f} % of that",
        "weigh one marked piece every week until it hardly gets lighter",
    ),
    "drying.know-brash": _knows(
        "its twigs snap instead of bending, or ",
        "weigh one marked bundle now: dry, it weighs {left:.0f} % of that",
        "weigh one marked bundle every week until it hardly gets lighter",
    ),
    "drying.know-loose": _knows(
        "",
        "weigh a bag of it now, leave it with the rest and weigh it again: dry, it weighs "
        "{left:.0f} % of that",
        "weigh a bag of it, leave it with the rest and weigh it again until it hardly gets lighter",
    ),
    "drying.know-rained-on": "it feels dry and looks pale outside; a meter on a fresh face shows "
    "whether it was dry inside",
    "drying.measure-wood": "Measure it: split a piece and read a meter on the fresh face, or weigh "
    "a piece before and after drying at {103 degC}.",
    "drying.measure-loose": "Measure it: weigh a handful before and after drying at {103 degC}, or "
    "read a hay probe deep inside.",
    "page.of-drying": "  drying     ",
    "page.dry-when": "    dry when: ",
}
