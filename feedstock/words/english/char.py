"""What char is made of, its first sort, and its carbon."""

from __future__ import annotations

from ..say import FormattedValues, Sentence


def _test(values: FormattedValues) -> str:
    """One limit of a class against the interval."""
    unit = " %" if values["percent"] else ""
    word = "below" if values["most"] else "at least"
    memory = " from memory" if values["memory"] else ""
    return values.fill(
        "{name} {low:.2g} to {high:.2g}{unit}, limit {word} {limit:g}{unit}{memory}",
        unit=unit,
        word=word,
        memory=memory,
    )


_COVERS = (
    "The guidelines' appendix covers char that is heated above {350 degC} with limited air and put "
    "on mineral soil of cropland or grassland"
)

SENTENCES: dict[str, Sentence] = {
    "quality.forecast": "A forecast from temperature and feed: it is no analysis, and from a yield "
    "alone the temperature cannot be known.",
    "quality.charred-wood": "{lot}: at about {temperature:.0f} it is charred wood and is not "
    "called biochar, which is made above {least:.0f}.",
    "quality.extrapolated": "Above {fitted:.0f} the H/C curve is extrapolated; measured wood chars "
    "lie somewhat below it.",
    "quality.tests": lambda values: "; ".join(values.each("tests")),
    "quality.test": _test,
    "sort.sign": "{sign}: {meaning}",
    "sort.other": "{sign}: {meaning} ({into})",
    "carbon.soil-range": "The table of soil temperatures runs from {low:bare .0f} to {high:.0f}; "
    "its end was read.",
    "carbon.no-class": "{lot}: no default applies (its class is not among them).",
    "carbon.too-cold": "{lot}: no default applies (below {least:.0f}).",
    "carbon.no-ratio": "{lot}: H/C {ratio:.2f} is above {most:g}, where no lasting share can be "
    "forecast.",
    "carbon.scope-open": f"{_COVERS}. It does not cover char from open fires: a loose pile is "
    "outside it, and for a flame-capped pit or kiln it is open to argument. The figures are shown "
    "to compare, for knowing and not for claiming.",
    "carbon.scope-closed": f"{_COVERS}; it does not cover char from open fires. The figures are "
    "for knowing and not for claiming.",
}
