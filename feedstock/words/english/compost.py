"""Char in compost and on beds."""

from __future__ import annotations

from ..say import FormattedValues, Sentence


def _aim(values: FormattedValues) -> str:
    return values.fill(
        "C:N {ratio_low:.0f} to {ratio_high:.0f} and {wet_low:.0f} to {wet_high:.0f} % moisture"
    )


def _wanted(values: FormattedValues) -> str:
    by = {"volume": "by volume", "mass": "by mass"}[values["by"]]
    return f"{values('share')} {by}{' (default)' if values['default'] else ''}"


BLEND: dict[str, Sentence] = {
    "blend.wanted": _wanted,
    "blend.share": "{share:.0f} %",
    "blend.share-range": "{low:.0f} to {high:.0f} %",
    "blend.outside": "More than {most:.0f} % char by volume is outside the trials that were read",
    "blend.no-food": "Char is no food for microbes: its carbon is not in the C:N.",
    "blend.charge-it": "Raw char does not go straight into a bed; it is charged in compost first, "
    "since it takes up nitrogen and water before it gives any.",
    "blend.more-needed": "At hand are about {there:.0f} of compost materials; about {more:.0f} "
    "more are needed for this share.",
    "blend.less-needed": "At hand are about {there:.0f} of compost materials; about {needed:.0f} "
    "of them are needed for this share.",
    "blend.dense": "The mix lies at about {density:.0f}, denser than the {most:.0f} at which air "
    "still gets in: add coarse, dry stuff.",
    "blend.ties-up": "It may tie up nitrogen at first: urine, manure or fresh grass give it back, "
    "or let it lie longer.",
    "blend.wet": "Wetter than {most:.0f} %: it will lack air; mix in something dry, or let the "
    "char drain.",
    "suggest.aim": _aim,
    "suggest.finished": "At a C:N of about {ratio:.0f} this is finished compost: it charges the "
    "char by lying with it, moist, and does not heat. To compost anew add something rich in "
    "carbon.",
    "suggest.there": "It is at {aim} as it is.",
    "suggest.water": "Water alone brings it to {aim}.",
    "suggest.least": "This is the least that brings it to {aim}; the share of char falls with it.",
    "suggest.none": "No two of the materials bring it to {aim}: {why}.",
}

BEDS: dict[str, Sentence] = {
    "dressing.yearly": "{dressing:g} of dry char in a year",
    "dressing.mass": "{written} of dry char",
    "dressing.volume": "{written} of char",
    "dressing.share": "{written} of the volume of the top {depth:.0f}",
    "beds.crush": "Crush it wet: dry char dust is black, light and bad for lungs; wear a "
    "respirator for fine dust where it is dry.",
    "beds.charged": "Spread it charged (with compost), and work it in or cover it: raw char takes "
    "up nitrogen first and blows away.",
    "beds.acid": "Not for acid-loving plants (blueberry, heather, azalea) without a pH test of the "
    "bed.",
    "beds.most": "Without a pH test not more than about {most:g} in all; stop when the soil nears "
    "pH {ph:g}.",
    "beds.ash": "This char is rich in ash: it limes, and it carries salts. Rinse or weather it, "
    "give less, test pH and conductivity, and keep it from seedlings and pots.",
    "beds.over-all": "This dressing alone passes what is advised without a pH test.",
    "beds.over-year": "This is more than the {yearly:g} of a year: spread it over several.",
}

SENTENCES: dict[str, Sentence] = {**BLEND, **BEDS}
