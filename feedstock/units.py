"""The one grammar for a quantity that a person writes, and the units it may have.

Text is split by our own patterns; a unit is looked up in the whitelist below and nowhere else, so
no user text ever reaches an expression parser. Factors are exact by definition (international yard
and pound 1959, US and imperial gallon, cord of 128 cubic feet); the tests compare each with an
independent units library.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache

from .errors import nearest_names, shown

MOST_TEXT = 80
"""Longest quantity text that is read; no honest quantity needs more."""


class Refused(ValueError):
    """A text that is not a quantity of the wanted kind: `code`, `what` is wrong, what is
    `expected`.
    """

    def __init__(self, code: str, what: str, expected: str, nearest: tuple[str, ...] = ()) -> None:
        super().__init__(f"{what}. {expected}")
        self.code, self.what, self.expected, self.nearest = code, what, expected, nearest


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: SI value = (number + offset) * factor.

    `pint` is its name in the pint library, "" if it has none.
    """

    symbol: str
    dimension: str
    factor: float
    pint: str
    offset: float = 0.0

    def to_si(self, number: float) -> float:
        return (number + self.offset) * self.factor

    def from_si(self, value: float) -> float:
        return value / self.factor - self.offset


@dataclass(frozen=True, slots=True)
class Dimension:
    """A kind of quantity: its SI unit, how to name it, and an example that shows how to write
    it.
    """

    name: str
    si: str
    example: str


DIMENSIONS = {
    each.name: each
    for each in (
        Dimension("mass", "kg", "40 kg or 90 lb"),
        Dimension("length", "m", "60 mm, 1.2 m or 27 in"),
        Dimension("area", "m^2", "4 m^2 or 40 ft^2"),
        Dimension("volume", "m^3", "200 L, 1.5 m^3 or 50 US gal"),
        Dimension("density", "kg/m^3", "570 kg/m^3 or 35 lb/ft^3"),
        Dimension("temperature", "degC", "650 degC or 1200 degF"),
        Dimension("time", "s", "35 min or 1 h 30 min"),
        Dimension("flow", "m^3/s", "12 L/min or 3 US gal/min"),
        Dimension("share", "1", "20 %"),
        Dimension("number", "1", "0.45"),
        Dimension("specific energy", "J/kg", "19.5 MJ/kg"),
        Dimension("mass share", "1", "13 mg/kg"),
        Dimension("area density", "kg/m^2", "2 kg/m^2"),
        Dimension("area rate", "kg/m^2/s", "0.85 kg/m^2/min"),
        Dimension("heat flux", "W/m^2", "30 kW/m^2"),
    )
}

_FOOT = 0.3048
_INCH = 0.0254
_YARD = 0.9144
_POUND = 0.45359237
_US_GALLON = 3.785411784e-3
_IMPERIAL_GALLON = 4.54609e-3

# dimension: ((spellings, factor to SI, name in pint, offset), ...); the first spelling is the one
# we print.
_WHITELIST: dict[str, tuple[tuple[str, float, str, float], ...]] = {
    "mass": (
        ("kg, kgs, kilogram, kilograms, kilo, kilos", 1.0, "kilogram", 0.0),
        ("g, gram, grams", 1e-3, "gram", 0.0),
        ("t, tonne, tonnes, metric ton, metric tons", 1000.0, "metric_ton", 0.0),
        ("lb, lbs, pound, pounds", _POUND, "pound", 0.0),
        ("oz wt, ounce wt, ounces wt, oz av", _POUND / 16, "ounce", 0.0),
        ("short ton, short tons, US ton, US tons", 2000 * _POUND, "short_ton", 0.0),
        ("long ton, long tons, UK ton, UK tons", 2240 * _POUND, "long_ton", 0.0),
        ("UK cwt, long cwt, imp cwt", 112 * _POUND, "UK_hundredweight", 0.0),
        ("US cwt, short cwt", 100 * _POUND, "US_hundredweight", 0.0),
        ("st, stone", 14 * _POUND, "stone", 0.0),
    ),
    "length": (
        ("m, metre, metres, meter, meters", 1.0, "meter", 0.0),
        ("cm, centimetre, centimetres, centimeter, centimeters", 0.01, "centimeter", 0.0),
        ("mm, millimetre, millimetres, millimeter, millimeters", 0.001, "millimeter", 0.0),
        ('in, inch, inches, ", ″', _INCH, "inch", 0.0),
        ("ft, foot, feet, ', ′", _FOOT, "foot", 0.0),
        ("yd, yard, yards", _YARD, "yard", 0.0),
    ),
    "area": (
        ("m^2, m2, m², sq m, square metres, square meters", 1.0, "meter**2", 0.0),
        ("ft^2, ft2, ft², sq ft, square feet", _FOOT**2, "foot**2", 0.0),
        ("yd^2, yd2, yd², sq yd, square yards", _YARD**2, "yard**2", 0.0),
        ("ha, hectare, hectares", 1e4, "hectare", 0.0),
        ("acre, acres", 43560 * _FOOT**2, "43560 * foot**2", 0.0),
    ),
    "volume": (
        ("m^3, m3, m³, cu m, cubic metres, cubic meters", 1.0, "meter**3", 0.0),
        ("L, l, litre, litres, liter, liters", 1e-3, "liter", 0.0),
        ("mL, ml, millilitre, millilitres, milliliter, milliliters", 1e-6, "milliliter", 0.0),
        ("cm^3, cm3, cm³", 1e-6, "centimeter**3", 0.0),
        ("ft^3, ft3, ft³, cu ft, cubic feet", _FOOT**3, "foot**3", 0.0),
        ("yd^3, yd3, yd³, cu yd, cubic yards, cubic yard", _YARD**3, "yard**3", 0.0),
        (
            "US gal, US gallon, US gallons, gal, gallon, gallons",
            _US_GALLON,
            "US_liquid_gallon",
            0.0,
        ),
        (
            "imp gal, imp gallon, imp gallons, imperial gallon, imperial gallons, UK "
            "gal, UK gallon, UK gallons",
            _IMPERIAL_GALLON,
            "imperial_gallon",
            0.0,
        ),
        ("US qt, US quart, US quarts", _US_GALLON / 4, "US_liquid_quart", 0.0),
        ("fl oz, US fl oz", _US_GALLON / 128, "US_fluid_ounce", 0.0),
        ("US bushel, US bushels, bushel, bushels, bu", 2150.42 * _INCH**3, "bushel", 0.0),
        ("cord, cords", 128 * _FOOT**3, "", 0.0),
        ("stere, steres", 1.0, "stere", 0.0),
    ),
    "density": (
        ("kg/m^3, kg/m3, kg/m³", 1.0, "kilogram/meter**3", 0.0),
        ("g/cm^3, g/cm3, g/cm³, g/cc", 1000.0, "gram/centimeter**3", 0.0),
        ("kg/L, kg/l", 1000.0, "kilogram/liter", 0.0),
        ("g/L, g/l", 1.0, "gram/liter", 0.0),
        ("t/m^3, t/m3, t/m³", 1000.0, "metric_ton/meter**3", 0.0),
        ("lb/ft^3, lb/ft3, lb/ft³, lb/cuft, pcf", _POUND / _FOOT**3, "pound/foot**3", 0.0),
        ("lb/yd^3, lb/yd3, lb/yd³", _POUND / _YARD**3, "pound/yard**3", 0.0),
    ),
    "temperature": (
        ("degC, °C, ℃, celsius", 1.0, "degree_Celsius", 0.0),
        ("degF, °F, ℉, fahrenheit", 5 / 9, "degree_Fahrenheit", -32.0),
        ("K, kelvin", 1.0, "kelvin", -273.15),
    ),
    "time": (
        ("s, sec, second, seconds", 1.0, "second", 0.0),
        ("min, minute, minutes, mins", 60.0, "minute", 0.0),
        ("h, hr, hrs, hour, hours", 3600.0, "hour", 0.0),
        ("d, day, days", 86400.0, "day", 0.0),
        ("week, weeks", 604800.0, "week", 0.0),
    ),
    "flow": (
        ("L/min, l/min, lpm", 1e-3 / 60, "liter/minute", 0.0),
        ("L/s, l/s", 1e-3, "liter/second", 0.0),
        ("m^3/h, m3/h, m³/h", 1 / 3600, "meter**3/hour", 0.0),
        ("US gal/min, gal/min, gpm", _US_GALLON / 60, "US_liquid_gallon/minute", 0.0),
        ("imp gal/min", _IMPERIAL_GALLON / 60, "imperial_gallon/minute", 0.0),
    ),
    "share": (("%, percent, pct", 0.01, "percent", 0.0),),
    "number": (("1", 1.0, "dimensionless", 0.0),),
    "specific energy": (
        ("MJ/kg", 1e6, "megajoule/kilogram", 0.0),
        ("kJ/kg", 1e3, "kilojoule/kilogram", 0.0),
        ("J/g", 1e3, "joule/gram", 0.0),
        ("kWh/kg", 3.6e6, "kilowatt_hour/kilogram", 0.0),
        # 5/9 K per degF and the International Table calorie: 2326 J/kg exactly
        ("Btu/lb, BTU/lb", 2326.0, "", 0.0),
    ),
    "mass share": (
        ("mg/kg, ppm", 1e-6, "milligram/kilogram", 0.0),
        ("g/kg", 1e-3, "gram/kilogram", 0.0),
        ("ug/kg, µg/kg, ppb", 1e-9, "microgram/kilogram", 0.0),
        ("ng/kg", 1e-12, "nanogram/kilogram", 0.0),
    ),
    "area density": (
        ("kg/m^2, kg/m2, kg/m²", 1.0, "kilogram/meter**2", 0.0),
        ("t/ha", 0.1, "metric_ton/hectare", 0.0),
        ("lb/ft^2, lb/ft2, lb/ft²", _POUND / _FOOT**2, "pound/foot**2", 0.0),
        ("mg/cm^2, mg/cm2, mg/cm²", 0.01, "milligram/centimeter**2", 0.0),
    ),
    "area rate": (
        ("kg/m^2/min, kg/m2/min, kg/m²/min", 1 / 60, "kilogram/meter**2/minute", 0.0),
        ("g/m^2/s, g/m2/s, g/m²/s", 1e-3, "gram/meter**2/second", 0.0),
    ),
    "heat flux": (("kW/m^2, kW/m2, kW/m²", 1e3, "kilowatt/meter**2", 0.0),),
}

_AMBIGUOUS = {
    "ton": "Write tonne (1000 kg), short ton (2000 lb) or long ton (2240 lb).",
    "tons": "Write tonnes (1000 kg), short tons (2000 lb) or long tons (2240 lb).",
    "cwt": "Write UK cwt (112 lb) or US cwt (100 lb).",
    "hundredweight": "Write UK cwt (112 lb) or US cwt (100 lb).",
    "c": "Write degC for degrees Celsius.",
    "f": "Write degF for degrees Fahrenheit.",
    "oz": "Write oz wt for weight or fl oz for liquid.",
    "ounce": "Write oz wt for weight or fl oz for liquid.",
    "ounces": "Write oz wt for weight or fl oz for liquid.",
    "pint": "Write the amount in US gal, imp gal or L.",
    "pints": "Write the amount in US gal, imp gal or L.",
    "quart": "Write US qt or L.",
    "quarts": "Write US qt or L.",
    "qt": "Write US qt or L.",
}


def _index() -> dict[str, Unit]:
    units: dict[str, Unit] = {}
    for dimension, rows in _WHITELIST.items():
        for spellings, factor, pint_name, offset in rows:
            names = spellings.split(", ")
            unit = Unit(names[0], dimension, factor, pint_name, offset)
            units.update(dict.fromkeys(names, unit))
    return units


UNITS = _index()
"""Every accepted spelling of every unit."""

BARE_GALLONS = frozenset({"gal", "gallon", "gallons", "gal/min", "gpm"})

_FOLDED = {name.casefold(): unit for name, unit in UNITS.items() if name not in {"K"}}


def find_unit(text: str) -> Unit | None:
    """The unit of a spelling; case counts only where it must (mg, MJ and the like are in the
    whitelist as written).
    """
    return UNITS.get(text) or _FOLDED.get(text.casefold())


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


@dataclass(frozen=True, slots=True)
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


def _refuse_habits(text: str, example: str) -> None:
    if "±" in text or "+/-" in text or "+-" in text:
        raise Refused(
            "plus-minus",
            f"'{shown(text)}' does not say how sure its spread is",
            "Write the ends between which nine in ten would lie, for instance 35 to 45 kg.",
        )
    comma = _COMMA_RE.search(text)
    if comma:
        # behind a comma three digits are thousands, one or two a decimal comma
        parts = comma.group().split(",")
        number = (
            "".join(parts) if all(len(part) == 3 for part in parts[1:]) else ".".join(parts[:2])
        )
        plain = text[: comma.start()] + number + text[comma.end() :]
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
    if (
        unit_text.casefold() in _AMBIGUOUS
        and unit_text not in {"C", "F"}
        or unit_text in {"C", "F"}
    ):
        raise Refused(
            "ambiguous-unit",
            f"the unit '{unit_text}' can mean several things",
            _AMBIGUOUS[unit_text.casefold()],
        )
    unit = find_unit(unit_text)
    if unit is None:
        names = sorted({each.symbol for each in UNITS.values() if each.dimension == dimension})
        near = nearest_names(unit_text, [n for n, u in UNITS.items() if u.dimension == dimension])
        raise Refused(
            "unknown-unit",
            f"'{shown(unit_text, 30)}' is not a unit that is known here",
            f"Units of {wanted.name}: {', '.join(names)}.",
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
        raise Refused("no-unit", f"'{shown(text)}' is not a moisture", NO_BASIS)
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
