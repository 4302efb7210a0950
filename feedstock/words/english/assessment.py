"""What is found about a lot and about its tables."""

from __future__ import annotations

from ..say import FormattedValues, Sentence


def _would_hold(values: FormattedValues) -> str:
    """A share by mass is told in words to a reader of metric units, and by its unit to others."""
    content = values.fill("{screening:bare range plain} (likely {screening:bare mid plain})")
    if values.units == "metric":
        return f"{content} mg of {values('element')} in a kilogram"
    return f"{content} mg/kg of {values('element')}"


def _char_would_hold(values: FormattedValues) -> str:
    return f"Its char would hold {_would_hold(values)} (limit {values('limit')})."


def _limit(values: FormattedValues) -> str:
    memory = ", from memory" if values["memory"] else ""
    return f"{values('limit')} mg/kg, {values('set')}{memory}"


def _brought(values: FormattedValues) -> str:
    share = ""
    if values["share"] is not None:
        share = (
            f"From {values('share', 'range plain')} of the dry mass of a clean heap on it would "
            f"break that limit. {values('why_no_share')}"
        )
    content = f"If it is what it looks like: {values('held', 'lower')}"
    return _joined(content, values("into_air"), share, values("memory"))


def _joined(*parts: str) -> str:
    return " ".join(part for part in parts if part)


def _natural(values: FormattedValues) -> str:
    return _joined(
        values("held"),
        "Nothing was added to it: plants and dung of this kind or from such a place gather it by "
        "themselves.",
        values("memory"),
    )


def _noted(values: FormattedValues) -> str:
    return _joined(
        values("held"),
        "This rests on contents of clean matter of its kind, not on this lot, and is given for "
        "information.",
        values("memory"),
    )


def _ways(values: FormattedValues) -> str:
    return " Or: ".join([*values.each("ways"), values("laboratory")])


def _thin_dressing(values: FormattedValues) -> str:
    allowed = f" ({values('yearly', '.2g')} mg/m^2)" if values.units == "metric" else ""
    return values.fill(
        "A dressing of {dressing:g} in one year would bring {times:.2g} times the {element} that "
        "may reach a bed in a year{allowed}; spread at most {most:.2g} in a year.",
        allowed=allowed,
    )


def _mixed(values: FormattedValues) -> str:
    return _joined(
        f"Thrown together, the char of the whole heap would hold {_would_hold(values)} "
        f"(limit {values('limit')}).",
        values("memory"),
    )


def _keep_apart(values: FormattedValues) -> str:
    if values["lots"] > 1:
        return "Keep the lots apart: one of them spoils what the others give."
    return "Do as is said of the lot."


def _ash_of_char(values: FormattedValues) -> str:
    return values.fill(
        "Its char would be {ash:range plain} ash (likely {ash:bare mid plain}): more lime and "
        "salts than char, which burn roots and shift the soil's pH."
    )


def _known(label: str) -> Sentence:
    return lambda values: f"{label}: {values('what') if values['what'] is not None else 'unknown'}"


def _fits(values: FormattedValues) -> str:
    """`origin: fence`, `signs: [painted]`: the line to write where a word fits."""
    return values.fill("{field}: [{answer}]" if values["field"] == "signs" else "{field}: {answer}")


def _settle_word(values: FormattedValues) -> str:
    if values["field"] is None:
        fits = ""
    else:
        fits = f"If any of it is {values('answer')}, write `{_fits(values)}`. "
    if values["material"]:
        return f"{fits}If not, write a material without that word."
    beside = " beside the `lots` of the heap" if values["heap"] else ""
    return f"{fits}If none is: {values.fill('`dismiss: [{word}]`')}{beside}."


SENTENCES: dict[str, Sentence] = {
    "about.natural": "by nature its char may hold too much {elements}",
    "about.ash": "its char would be mostly ash",
    # evidence
    "evidence.material": "material: {what}",
    "evidence.sign": "sign: {what}",
    "evidence.origin": "origin: {what}",
    "evidence.year": _known("year"),
    "evidence.region": _known("region"),
    "evidence.wrote": "you wrote: {what}",
    "evidence.vessel": "vessel: {what}",
    "evidence.ground": "ground: {what}",
    "evidence.lighting": "lighting: {what}",
    "evidence.lot": "lot: {what}",
    "evidence.against": "{one} against {other}",
    "evidence.no-moisture": "moisture: not given",
    "evidence.decay": "decay: class {decay:.0f}",
    "evidence.ash": "ash and soil: {ash:.2g} % of the dry mass",
    "evidence.element": "{element}: {screening:bare range plain} (likely "
    "{screening:bare mid plain}) mg/kg of char, limit {limit}",
    "evidence.ash-of-char": "ash of the char: {ash:range plain}",
    # words
    "word.in.material": "its material",
    "word.in.name": "its name",
    "word.in.remarks": "its remarks",
    "word.in.heap-name": "the name of the heap",
    "word.in.heap-remarks": "the remarks on the heap",
    "word.thing": "What was built, bought or used is treated, painted or glued as a rule, and that "
    "may not show.",
    "word.on-it": "What is on a piece or soaked into it goes into the char or the smoke.",
    "word.place": "What such a place leaves on wood and plants, or in them, does not show.",
    "word.plant": "Smoke or sap of such a plant can harm, or little is known of it.",
    "word-heard.reason": "You wrote `{word}` in {where}. {about}",
    "word-heard.action": "Look again, or ask who had it before, and answer what you wrote.",
    "word-heard.settle": _settle_word,
    "word-heard.fits": _fits,
    "word-heard.does-not": "dismiss: [{word}]",
    "word-dismissed.reason": "You wrote `{word}` in {where}, and that it does not mean this lot.",
    "word-dismissed.action": "Take `dismiss` away if it turns out otherwise.",
    "words-not-read.reason": lambda values: (
        f"Of its name nothing knows {', '.join(f'`{word}`' for word in values.each('words'))}, so "
        "a danger in it would not be heard."
    ),
    "words-not-read.action": "If it says what it was or what is on it, say that by an origin or a "
    "sign.",
    # suspicions
    "settle": "{step} {proves} {not_proves}",
    "settle.batch": "{step} It shows this batch and no other.",
    "cleared.action": "Keep to what you stated; if any of it turns out otherwise, appraise again.",
    # elements
    "char-would-hold": _char_would_hold,
    "limit": _limit,
    "limit-of": "{element} {limit}",
    "limits": lambda values: f"{values('set')} ({', '.join(values.each('of'))} mg/kg)",
    "limit-from-memory": "This verdict rests on a limit from memory.",
    "content-from-memory": "It rests on contents from memory: {elements}.",
    "both": lambda values: " ".join(values.each("parts")),
    "answer": "{way} Then add the sign `{sign}`.",
    "background-ways": _ways,
    "thin-dressing": _thin_dressing,
    "load-over-limit.reason": _brought,
    "background-over-limit.reason": _natural,
    "background-note.reason": _noted,
    "background-note.action": "If you want to be sure: {laboratory:lower}",
    "mixed-over-limit.reason": _mixed,
    "mixed-over-limit.action": _keep_apart,
    "high-ash-char.reason": _ash_of_char,
    # water and soil
    "far-too-wet.reason": "It is refused for this burn as it is: a {burner} works to {ready:.0f} % "
    "and never above {refused:.0f} %; wetter feed smokes and gives ash.",
    "far-too-wet.action": "Dry it, then measure again.",
    "too-wet.reason": "It is above the {ready:.0f} % wet at which a {burner} burns without heavy "
    "smoke.",
    "too-wet.action": "Dry it, then measure again.",
    "may-be-too-wet.reason": "It may be dry enough, but it may as well have {high:.0f} % wet, well "
    "above the {ready:.0f} % of a {burner}.",
    "may-be-too-wet.action": "Measure it: weigh some of it before and after drying at {103 degC}.",
    "moisture-not-stated.reason": "No moisture was given, so the whole range in which {material} "
    "is met was taken; the figures are wide for it.",
    "moisture-not-stated.action": "Give a meter reading, a weighed sample, the air it lay in, or a "
    "condition such as seasoned.",
    "soil-suspected.reason": "Clean plants rarely bring more than {most:.0f} % ash and grit; what "
    "is above it is soil, which adds weight and no char, and is counted here as sorted out of it.",
    "soil-suspected.action": "Shake, brush or rinse it, and keep it off the ground; sieve the "
    "char.",
    "rotted-wood.reason": "Rotten wood gives little char for its volume, and that falls to crumbs.",
    "rotted-wood.action": "It may be worth more left to rot where animals live in it, or in the "
    "compost; burn it only to clear it away.",
    # tables
    "tables-broken.reason": "A table package could not be loaded: {problem}",
    "tables-broken.action": "Fix or uninstall it; nothing of it was used.",
    "gate-loosened.reason": "The table set '{set}' made {row} easier to pass: {why}",
    "laxer-limits.reason": "You named the limits of {set}. For {elements} they allow more than the "
    "{default}, or say nothing.",
    "laxer-limits.action": "Leave `limits` out to judge by the {default}, all of whose numbers "
    "were read.",
    "gate-loosened.action": "Leave that set out if you do not agree.",
    "word-taken.reason": "A table set calls its row {row} '{word}'. That word is not its own: it "
    "is {owner}.",
    "word-taken.action": lambda values: values.fill(
        "Write {line} where that row is meant; the bare word means the other.",
        line=f"`{values('field')}: {values('row')}`" if values["field"] else values("row"),
    ),
}
