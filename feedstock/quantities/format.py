"""Numbers as a person would say them: in the reader's units, no digit that the interval lacks."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import field
from typing import Literal

from .estimate import Estimate
from .frozen import frozen
from .units import find_unit

Units = Literal["metric", "us"]

_US = {
    "kg": "lb",
    "g": "oz wt",
    "t": "short ton",
    "L": "US gal",
    "mL": "fl oz",
    "m^3": "ft^3",
    "m": "ft",
    "cm": "in",
    "mm": "in",
    "m^2": "ft^2",
    "ha": "acre",
    "kg/m^3": "lb/ft^3",
    "degC": "degF",
    "L/min": "US gal/min",
    "kg/m^2": "lb/ft^2",
    "L/m^2": "US gal/ft^2",
    "kg/m^2/min": "lb/ft^2/min",
    "kg/m^2/s": "lb/ft^2/min",
    "m^3/s": "US gal/min",
    "MJ/kg": "Btu/lb",
    "J/kg": "Btu/lb",
    "km/h": "mph",
}
"""What a reader of US units reads instead of a metric unit.

Shares by mass (mg/kg) and shares in percent are ratios, and the same for every reader.
"""


@frozen
class Wording:
    """How a language says an amount; every part is a template of `low`, `mid`, `high`, `unit`."""

    between: str = "{low} to {high} {unit}, likely about {mid}"
    about: str = "about {mid} {unit}"
    none: str = "no {unit}"
    range: str = "{low} to {high}"
    both: str = "{first} and {last}"
    one: Mapping[str, str] = field(
        default_factory=lambda: {
            "litres": "litre",
            "minutes": "minute",
            "weeks": "week",
            "days": "day",
        }
    )
    """The names of units after a one."""
    little: str = "a handful"
    """Less of a mass than anybody weighs."""
    units: Mapping[str, str] = field(
        default_factory=lambda: {
            "L": "litres",
            "min": "minutes",
            "week": "weeks",
            "day": "days",
            "oz wt": "oz",
            "kg/m^2/min": "kg/m2 min",
            "lb/ft^2/min": "lb/ft2 min",
        }
    )
    """The names of units after an amount; a unit that is not named goes by its symbol."""

    def symbol(self, unit: str) -> str:
        """The short name of a unit after a plain number."""
        return _SHORT.get(unit) or self.units.get(unit, unit)

    def after(self, number: str, name: str) -> str:
        """The name of a unit after a number."""
        return self.one.get(name, name) if number == "1" else name


_SHORT = {"oz wt": "oz", "L": "L", "min": "min"}


ENGLISH = Wording()


def in_units(estimate: Estimate, units: Units) -> Estimate:
    """The estimate in the units that the reader wants."""
    return estimate.to(_US[estimate.unit]) if units == "us" and estimate.unit in _US else estimate


def amount(estimate: Estimate, units: Units = "metric", wording: Wording = ENGLISH) -> str:
    """`3 to 15 litres, likely about 7`: no digit that the interval does not bear."""
    shown = in_units(estimate, units)
    name = wording.units.get(shown.unit, shown.unit)
    if shown.high_value <= 0 and shown.unit not in ("degC", "degF"):
        return wording.none.format(unit=name) if name != "%" else "0 %"
    low, mid, high = (
        rounded(v, shown.high_value - shown.low_value)
        for v in (shown.low_value, shown.mid_value, shown.high_value)
    )
    template = wording.about if low == high else wording.between
    name = wording.after(mid, name) if low == high else name
    if shown.unit == "1":
        return template.replace(" {unit}", "").format(low=low, mid=mid, high=high)
    return template.format(low=low, mid=mid, high=high, unit=name)


def likely(estimate: Estimate, units: Units = "metric", wording: Wording = ENGLISH) -> str:
    """`about 7 kg`: the middle alone, to no more than some hundredths of it."""
    shown = in_units(estimate, units)
    width = max(shown.high_value - shown.low_value, 0.08 * shown.mid_value)
    mid = rounded(shown.mid_value, width)
    return wording.about.format(mid=mid, unit=wording.after(mid, wording.symbol(shown.unit)))


def short_time(estimate: Estimate, units: Units = "metric", wording: Wording = ENGLISH) -> str:
    """As `likely`, weeks in days where there are few."""
    few = estimate.unit == "week" and (
        estimate.high_value <= _IN_DAYS or estimate.mid_value < _IN_DAYS / 2
    )
    return likely(estimate.to("day") if few else estimate, units, wording)


_IN_DAYS = 2.5
"""Up to so many weeks a time is told in days."""


def in_hand(estimate: Estimate, units: Units = "metric", wording: Wording = ENGLISH) -> str:
    """`about 2.5 kg`: the middle as a person weighs or carries it, and no digit that the interval
    does not bear.
    """
    text = bare_in_hand(estimate, units, wording)
    number_, _, unit = text.partition(" ")
    return text if text == wording.little else wording.about.format(mid=number_, unit=unit)


def bare_in_hand(estimate: Estimate, units: Units = "metric", wording: Wording = ENGLISH) -> str:
    """The same without `about`."""
    shown = in_units(estimate, units)
    text = _weighed(shown)
    return f"{text} {wording.after(text, wording.symbol(shown.unit))}" if text else wording.little


def _weighed(shown: Estimate) -> str:
    """The middle as a person weighs it; nothing for less than a hand and a balance tell."""
    mid, width = shown.mid_value, shown.high_value - shown.low_value
    step = next(step for below, step in _HAND if mid < below)
    if mid < step / 2:
        return ""
    return rounded(mid, width) if width / 8 > step else f"{round(mid / step) * step:g}"


def as_weighed(estimate: Estimate, units: Units = "metric") -> float:
    """What `in_hand` says of it, in the estimate's own unit, so that sums of what is said add up.

    >>> from feedstock.quantities.estimate import exact_estimate
    >>> as_weighed(exact_estimate(3.9, "kg"))
    4.0
    """
    shown = in_units(estimate, units)
    text = _weighed(shown)
    value = float(text.replace(",", "")) if text else shown.mid_value
    return estimate.mid_value * value / shown.mid_value if shown.mid_value else 0.0


def filled(litres: float, one: float, up: bool = False) -> str:
    """How many vessels it fills: halves up to three, whole ones above; `up` never one too few.

    >>> filled(62, 10), filled(14, 10), filled(66, 10, up=True)
    ('6', '1.5', '7')
    """
    count = litres / one
    if up:
        return f"{math.ceil(count - 1e-9)}"
    return f"{max(round(2 * count) / 2, 0.5) if count < _FEW_VESSELS else round(count):g}"


_FEW_VESSELS = 3


_HAND = ((10.0, 0.5), (100.0, 1.0), (200.0, 5.0), (math.inf, 10.0))
"""Below what amount which step is near enough for a hand and a spring balance."""


def at_least(estimate: Estimate, units: Units = "metric", wording: Wording = ENGLISH) -> str:
    """The high end rounded up to what a person would carry: for what must not fall short."""
    shown = in_units(estimate, units)
    number_ = int(carried(shown.high_value))
    name = wording.units.get(shown.unit, shown.unit)
    return f"{number_} {name.removesuffix('s') if number_ == 1 and shown.unit == 'L' else name}"


def quantity(
    value: float, unit: str, units: Units = "metric", spec: str = ".3g", wording: Wording = ENGLISH
) -> str:
    """A number with its unit, `12 kg`, the number by a format of Python's."""
    (text,), name = quantities((value,), unit, units, spec, wording)
    return f"{text} {name}"


def quantities(
    values: tuple[float, ...],
    unit: str,
    units: Units = "metric",
    spec: str = ".3g",
    wording: Wording = ENGLISH,
) -> tuple[tuple[str, ...], str]:
    """Several numbers of one unit, and the symbol of the unit that the reader wants.

    A number that was converted has two digits where it would have been printed to the unit.
    """
    there = _US.get(unit, unit) if units == "us" else unit
    if there != unit:
        values = tuple(_converted(item, unit, there) for item in values)
        spec = "inch" if there == "in" else "plain" if spec.endswith("f") else spec
    texts = tuple(_number_text(value, spec) for value in values)
    return texts, wording.symbol(there)


def _number_text(value: float, spec: str) -> str:
    if spec == "carried":
        return carried(value)
    if spec == "inch":
        return inches(value)
    if spec == "hand":
        step = next(step for below, step in _HAND if value < below)
        return f"{max(round(value / step), 1) * step:g}"
    return rounded(value, value) if spec == "rough" else number(value, spec)


def inches(value: float) -> str:
    """Inches as a tape shows them: eighths up to one, quarters up to a foot, whole ones above.

    >>> inches(0.787), inches(3.3), inches(9.06), inches(39.4)
    ('3/4', '3 1/4', '9', '39')
    """
    parts = next(parts for below, parts in _TAPE if value < below)
    whole, part = divmod(max(round(value * parts), 1), parts)
    if not part:
        return f"{whole}"
    common = math.gcd(part, parts)
    fraction = f"{part // common}/{parts // common}"
    return f"{whole} {fraction}" if whole else fraction


_TAPE = ((1.0, 8), (12.0, 4), (math.inf, 1))
"""Below how many inches an inch has how many parts."""


def carried(value: float) -> str:
    """Rounded up to what a person would carry: to 1 below 20, to 5 below 100, to 10 above."""
    step = 1 if value < 20 else 5 if value < 100 else 10
    return str(int(math.ceil(value / step - 1e-9) * step))


def _converted(value: float, unit: str, there: str) -> float:
    here, target = find_unit(unit), find_unit(there)
    assert here is not None
    assert target is not None
    return target.from_si(here.to_si(value))


WRITTEN = re.compile(r"\{\s*(\d+(?:\.\d+)?)(?:\s*to\s*(\d+(?:\.\d+)?))?\s*([^\d\s{}][^{}]*?)\s*\}")
"""A quantity in the text of a row: `{3 m}`, `{20 to 30 cm}`, `{350 degC}`."""


def written(text: str, units: Units = "metric", wording: Wording = ENGLISH) -> str:
    """The text of a row with its quantities in the reader's units, each with about as many digits
    as it was written with.
    """

    def replacement(found: re.Match[str]) -> str:
        low, high, unit = found.groups()
        known = find_unit(unit)
        if known is None:
            return found[0]
        name = known.symbol
        there = _US.get(name, name) if units == "us" else name
        numbers = [
            item if there == name else _as_precise(item, _converted(float(item), name, there), name)
            for item in (low, high)
            if item is not None
        ]
        return f"{' to '.join(numbers)} {wording.symbol(there)}"

    return WRITTEN.sub(replacement, text)


# a converted number may be off by this much of itself before it gets one more digit
_OFF = 0.05
_ROUND = 0.02


def _as_precise(as_written: str, value: float, unit: str) -> str:
    """A converted number to as many digits as the written one has, one more where that would be
    too far off; a temperature to the degree, or to ten where it was a round number.
    """
    if unit == "degC":
        return f"{round(value, -1 if float(as_written) % 50 == 0 else 0):.0f}"
    digits = max(1, len(as_written.replace(".", "").strip("0")))
    # what was written to two digits was often a round number in other units
    fewer = max(1, digits - 1)
    if abs(float(f"{value:.{fewer}g}") - value) <= _ROUND * abs(value):
        digits = fewer
    while abs(float(f"{value:.{digits}g}") - value) > _OFF * abs(value):
        digits += 1
    return f"{float(f'{value:.{digits}g}'):.12g}"


def bare_quantity(text: str) -> str | None:
    """A quantity with a unit of amount, length, area, volume, flow or temperature that stands in a
    text without braces; None where there is none.
    """
    for match in _BARE.finditer(WRITTEN.sub(" ", text)):
        return match[0]
    return None


_BARE = re.compile(
    r"(?<![\w.])\d+(?:[.,]\d+)?\s?-?(?:"
    + "|".join(
        sorted(
            (
                re.escape(item)
                for item in (
                    *("kg", "g", "t", "tonnes", "tonne", "lb", "lbs", "pounds"),
                    *("km", "m", "cm", "mm", "metres", "metre", "meters", "inch", "inches"),
                    *("ft", "feet", "foot", "yd", "yards"),
                    *("m^2", "m2", "m²", "ha", "hectares", "ft^2", "sq ft", "acres"),
                    *("m^3", "m3", "m³", "L", "l", "litres", "litre", "liters", "mL", "ml"),
                    *("gal", "gallons", "US gal", "ft^3", "cu ft", "L/min", "l/min", "km/h", "mph"),
                    *("degC", "°C", "degF", "°F", "kg/m^3", "kg/m3", "lb/ft^3", "kg/m^2", "L/m^2"),
                )
            ),
            key=len,
            reverse=True,
        )
    )
    + r")(?![\w/^²³])(?! dry| wet)"
)


def number(value: float, spec: str = "g") -> str:
    """A bare number by a format of Python's; `plain` is two significant digits. No exponents."""
    if spec == "plain":
        return f"-{plain(-value)}" if value < 0 else plain(value)
    text = format(value, spec)
    return f"{float(text):.12f}".rstrip("0").rstrip(".") if "e" in text else text


def plain(value: float) -> str:
    """Two significant digits without an exponent."""
    if value <= 0:
        return "0"
    digits = 1 - math.floor(math.log10(value))
    return f"{round(value, digits):.{max(digits, 0)}f}"


_WHOLE = 1000.0
"""From here on a number without a width is written out to the unit."""


def rounded(value: float, width: float) -> str:
    """To a step of 1, 2 or 5 times a power of ten, near an eighth of the width; to three digits
    where there is no width.
    """
    if value == 0:
        return "0"
    if width <= 0:
        return f"{value:.3g}" if abs(value) < _WHOLE else f"{value:.0f}"
    power = 10.0 ** math.floor(math.log10(width / 8))
    step = next(s * power for s in (5, 2, 1) if s * power <= width / 8 * (1 + 1e-9))
    digits = max(0, -math.floor(math.log10(step)))
    text = f"{round(value / step) * step:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
