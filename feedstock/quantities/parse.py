"""The grammar of a quantity: number and unit, ranges, a moisture with its basis."""

from __future__ import annotations

import math
import re
from functools import lru_cache

from ..errors import nearest_names, shown
from .frozen import frozen
from .units import AMBIGUOUS, BARE_GALLONS, DIMENSIONS, UNITS, Refused, Unit, find_unit

MOST_TEXT = 80
"""Longest quantity text that is read; no honest quantity needs more."""


_NUMBER = (
    r"[+-]?(?:[0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+"
    r"|(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?)"
)


_NUMBER_RE = re.compile(_NUMBER)


# a unit is a foot or inch mark, or words of which none starts like a number
_UNIT = r"""['"′″]|[^\s0-9.+\-'"][^\s]*(?:\s+[^\s0-9.+\-][^\s]*)*"""


_PART_RE = re.compile(rf"\s*({_NUMBER})\s*({_UNIT})?\s*")


_RANGE_RE = re.compile(r"\s+to\s+")


_LIKELY_RE = re.compile(r"\s*,?\s+likely\s+")


_COMMA_RE = re.compile(r"[0-9]+(?:,[0-9]+)+")


_DASH_RE = re.compile(r"([0-9][0-9.]*)\s*(?!to\b)[a-zA-Z%]*\s*[-–—]\s*([0-9][0-9.]*)")


_VULGAR = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "⅛": " 1/8"}


@frozen
class Reading:
    """What a text says, in SI: `mid`, and `low`, `high` where it gave a range.

    `note` tells how it was read.
    """

    low: float | None
    mid: float
    high: float | None
    note: str = ""


@lru_cache(maxsize=4096)
def read_quantity(text: str, dimension: str) -> Reading:
    """Read `40 kg`, `27"`, `2 1/2 ft`, `5 ft 6 in`, `35 to 45 kg` or `35 to 45 kg, likely 38 kg`.

    Returns SI values (temperatures in degC). Raises `Refused`, which says what to write.
    """
    clean = _cleaned(text)
    example = DIMENSIONS[dimension].example
    if not clean:
        raise Refused("empty", "it is empty", f"Write a number and a unit, for instance {example}.")
    _refuse_habits(clean, example)
    if re.fullmatch(r"[+-]?(nan|inf|infinity)\b.*", clean, re.IGNORECASE):
        raise Refused(
            "not-finite",
            f"'{shown(text)}' is not a number",
            f"Write a number and a unit, for instance {example}.",
        )
    body, *likely = _LIKELY_RE.split(clean)
    ends = _RANGE_RE.split(body)
    if len(ends) > 2 or len(likely) > 1 or (likely and len(ends) != 2):
        raise Refused(
            "not-a-quantity",
            f"'{shown(text)}' is not one quantity",
            f"Write a number and a unit, for instance {example}, or a range such as 35 "
            "to 45 of the unit.",
        )
    if len(ends) == 1:
        value, note = _read_one(ends[0], dimension, text)
        return Reading(None, value, None, note)
    return _read_range(ends, likely, dimension, text)


def _read_range(ends: list[str], likely: list[str], dimension: str, text: str) -> Reading:
    high, note = _read_one(ends[1], dimension, text)
    bare = _NUMBER_RE.fullmatch(ends[0].strip())
    # "35 to 45 kg": the first number has the unit of the second
    first = f"{ends[0]} {_unit_text(ends[1])}" if bare else ends[0]
    low, _ = _read_one(first, dimension, text)
    if not low < high:
        raise Refused(
            "inverted-range",
            f"the range '{shown(text)}' "
            + ("has no width" if low == high else "runs from the higher to the lower end"),
            "Write the one value alone, or two different ends."
            if low == high
            else "Write the lower end first, for instance 35 to 45 kg.",
        )
    mid = low / 2 + high / 2
    if likely:
        bare = _NUMBER_RE.fullmatch(likely[0].strip())
        mid, _ = _read_one(
            f"{likely[0]} {_unit_text(ends[1])}" if bare else likely[0], dimension, text
        )
        if not low <= mid <= high:
            raise Refused(
                "inverted-range",
                f"the likely value of '{shown(text)}' lies outside its range",
                "Write a likely value between the two ends.",
            )
    return Reading(low, mid, high, note)


def _cleaned(text: str) -> str:
    if len(text) > MOST_TEXT:
        raise Refused(
            "too-long",
            f"'{shown(text)}' is too long for a quantity",
            f"Write at most {MOST_TEXT} characters.",
        )
    for sign, words in _VULGAR.items():
        text = text.replace(sign, words)
    return " ".join(
        text.replace("\u00a0", " ").replace("\u202f", " ").replace("\u2212", "-").split()
    )


_COUNTED = {
    "volume": " What is counted in barrows, bags or bales is written containers: {count: 3, of: "
    "wheelbarrow}."
}
"""What a person may have meant who writes what is no unit."""


def without_comma(text: str) -> str:
    """A text whose first number has no comma: behind one, three digits are thousands, one or two a
    decimal comma.

    >>> without_comma("2,5 %"), without_comma("1,200 kg"), without_comma("3 kg")
    ('2.5 %', '1200 kg', '3 kg')
    """
    comma = _COMMA_RE.search(text)
    if comma is None:
        return text
    parts = comma.group().split(",")
    number = "".join(parts) if all(len(part) == 3 for part in parts[1:]) else ".".join(parts[:2])
    return text[: comma.start()] + number + text[comma.end() :]


def _refuse_habits(text: str, example: str) -> None:
    if "±" in text or "+/-" in text or "+-" in text:
        raise Refused(
            "plus-minus",
            f"'{shown(text)}' does not say how sure its spread is",
            "Write the ends between which nine in ten would lie, for instance 35 to 45 kg.",
        )
    plain = without_comma(text)
    if plain != text:
        raise Refused("comma", f"'{shown(text)}' has a comma in its number", f"Write {plain}.")
    dash = _DASH_RE.search(text)
    if dash and "/" not in text[: dash.end()] and "e-" not in text.lower():
        unit = _unit_text(text[dash.start(2) :]) or example.split()[1]
        raise Refused(
            "dash-range",
            f"'{shown(text)}' joins two numbers with a dash",
            f"Write a range as {dash.group(1)} to {dash.group(2)} {unit}.",
        )


def _unit_text(text: str) -> str:
    match = _NUMBER_RE.match(text.strip())
    return text.strip()[match.end() :].strip() if match else ""


def _read_one(text: str, dimension: str, whole: str) -> tuple[float, str]:
    """One quantity, possibly of several parts (`5 ft 6 in`), in SI; and a note where a unit needed
    interpreting.
    """
    parts = _split_parts(text, dimension, whole)
    if dimension == "number" and len(parts) == 1 and parts[0][1] in ("", "%"):
        return _finite(
            _number(parts[0][0], whole) * (0.01 if parts[0][1] else 1.0), dimension, whole
        ), ""
    total, note, smallest = 0.0, "", math.inf
    for index, (number, unit_text) in enumerate(parts):
        if (
            index
            and unit_text in {"oz", "ounces"}
            and parts[0][1] in {"lb", "lbs", "pound", "pounds"}
        ):
            unit_text = "oz wt"
        unit = _known_unit(number, unit_text, dimension, whole)
        if len(parts) > 1 and (unit.factor >= smallest or unit.offset):
            raise Refused(
                "not-a-quantity",
                f"'{shown(whole)}' has several parts that do not belong together",
                "Write the larger unit first, for instance 5 ft 6 in.",
            )
        smallest = unit.factor
        total += unit.to_si(_number(number, whole))
        if unit_text.casefold() in BARE_GALLONS:
            note = f"'{shown(whole)}' was read in US gallons; write imp gal for the imperial gallon"
    return _finite(total, dimension, whole), note


def _finite(value: float, dimension: str, whole: str) -> float:
    if not math.isfinite(value):
        raise Refused(
            "not-finite",
            f"'{shown(whole)}' is too large a number",
            f"Write for instance {DIMENSIONS[dimension].example}.",
        )
    return value


def _split_parts(text: str, dimension: str, whole: str) -> list[tuple[str, str]]:
    parts: list[tuple[str, str]] = []
    at = 0
    while at < len(text):
        match = _PART_RE.match(text, at)
        if not match or match.end() == at:
            raise Refused(
                "not-a-quantity",
                f"'{shown(whole)}' is not a number and a unit",
                f"Write for instance {DIMENSIONS[dimension].example}.",
            )
        parts.append((match.group(1), (match.group(2) or "").strip()))
        at = match.end()
    return parts


def _number(text: str, whole: str) -> float:
    """`2 1/2`, `3/4`, `1e3`, `0.5`."""
    sign = -1.0 if text.startswith("-") else 1.0
    body = text.lstrip("+-")
    if "/" not in body:
        return sign * float(body)
    ahead, _, fraction = body.rpartition(" ")
    top, bottom = fraction.split("/")
    if float(bottom) == 0:
        raise Refused(
            "not-a-quantity",
            f"'{shown(whole)}' divides by nothing",
            "Write a fraction such as 1/2.",
        )
    return sign * (float(ahead or 0) + float(top) / float(bottom))


def _known_unit(number: str, unit_text: str, dimension: str, whole: str) -> Unit:
    wanted = DIMENSIONS[dimension]
    if not unit_text:
        raise Refused(
            "no-unit",
            f"'{shown(whole)}' has no unit",
            f"Write a number and a unit of {wanted.name}, for instance {wanted.example}.",
        )
    if unit_text.casefold() in AMBIGUOUS and unit_text not in {"C", "F"} or unit_text in {"C", "F"}:
        raise Refused(
            "ambiguous-unit",
            f"the unit '{unit_text}' can mean several things",
            AMBIGUOUS[unit_text.casefold()],
        )
    unit = find_unit(unit_text)
    if unit is None:
        names = sorted({item.symbol for item in UNITS.values() if item.dimension == dimension})
        near = nearest_names(unit_text, [n for n, u in UNITS.items() if u.dimension == dimension])
        raise Refused(
            "unknown-unit",
            f"'{shown(unit_text, 30)}' is not a unit that is known here",
            f"Units of {wanted.name}: {', '.join(names)}.{_COUNTED.get(dimension, '')}",
            near,
        )
    if unit.dimension != dimension:
        raise Refused(
            "wrong-dimension",
            f"'{shown(whole)}' is {_a(unit.dimension)}, not {_a(wanted.name)}",
            f"Write {_a(wanted.name)}, for instance {wanted.example}.",
        )
    return unit


def _a(name: str) -> str:
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"


_BASIS_RE = re.compile(r"^(.*?)(%|percent|pct)\s*(.*)$", re.IGNORECASE | re.DOTALL)


_BASES = {
    "wet": "wet",
    "wet basis": "wet",
    "wb": "wet",
    "w.b.": "wet",
    "as received": "wet",
    "dry": "dry",
    "dry basis": "dry",
    "db": "dry",
    "d.b.": "dry",
}


NO_BASIS = (
    "Write 22 % wet (water as a share of the whole) or 22 % dry (water as a share of "
    "the dry matter). "
    "Wood meters read dry basis; hay, chip and compost testers and fuel labels give wet basis."
)


@lru_cache(maxsize=4096)
def read_moisture(text: str) -> tuple[Reading, str]:
    """Read `22 % wet`, `18 to 25 % dry` or `18 to 25 % dry, likely 20 % dry`; returns shares on the
    stated basis and the basis, `wet` or `dry`.

    The basis stands once, or with every number.
    """
    clean = _cleaned(text)
    _refuse_habits(clean, "22 % wet")
    body, *likely = _LIKELY_RE.split(clean)
    parts = [_split_basis(part) for part in (*_RANGE_RE.split(body), *likely)]
    if all(word is None for _, word in parts):
        state = "What was not measured is told by its state: {condition: seasoned}."
        raise Refused("no-unit", f"'{shown(text)}' is not a moisture", f"{NO_BASIS} {state}")
    words = [word for _, word in parts if word]
    if not words:
        raise Refused("no-basis", f"'{shown(text)}' does not say on which basis", NO_BASIS)
    unknown = next((word for word in words if word.casefold() not in _BASES), None)
    if unknown is not None:
        raise Refused("no-basis", f"'{shown(unknown)}' is not a basis of moisture", NO_BASIS)
    bases = {_BASES[word.casefold()] for word in words}
    if len(bases) > 1:
        raise Refused(
            "two-bases",
            f"'{shown(text)}' stands on two bases",
            "Write all of it on one, for instance 18 to 25 % dry.",
        )
    numbers = [number if word is None else f"{number} %" for number, word in parts]
    ends, rest = numbers[: len(numbers) - len(likely)], numbers[len(numbers) - len(likely) :]
    return read_quantity(", likely ".join([" to ".join(ends), *rest]), "share"), bases.pop()


def _split_basis(part: str) -> tuple[str, str | None]:
    """What stands before the per cent sign and the basis behind it (maybe none); None where there
    is no such sign.
    """
    match = _BASIS_RE.match(part)
    return (match.group(1).strip(), match.group(3).strip()) if match else (part, None)
