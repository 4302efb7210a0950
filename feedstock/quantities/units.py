"""The whitelist of units, each with its factor to SI, and the two bases of a moisture; no user text
reaches an expression parser.
"""

from __future__ import annotations

from .frozen import frozen


class Refused(ValueError):
    """A text that is not a quantity of the wanted kind: `code`, `what` is wrong, what is
    `expected`.
    """

    def __init__(self, code: str, what: str, expected: str, nearest: tuple[str, ...] = ()) -> None:
        super().__init__(f"{what}. {expected}")
        self.code, self.what, self.expected, self.nearest = code, what, expected, nearest


@frozen
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


@frozen
class Dimension:
    """A kind of quantity: its SI unit, how to name it, and an example that shows how to write
    it.
    """

    name: str
    si: str
    example: str


DIMENSIONS = {
    item.name: item
    for item in (
        Dimension("mass", "kg", "40 kg or 90 lb"),
        Dimension("length", "m", "60 mm, 1.2 m or 27 in"),
        Dimension("area", "m^2", "4 m^2 or 40 ft^2"),
        Dimension("volume", "m^3", "200 L, 1.5 m^3 or 50 US gal"),
        Dimension("density", "kg/m^3", "570 kg/m^3 or 35 lb/ft^3"),
        Dimension("temperature", "degC", "650 degC or 1200 degF"),
        Dimension("time", "s", "50 min or 1 h 20 min"),
        Dimension("flow", "m^3/s", "12 L/min or 3 US gal/min"),
        Dimension("share", "1", "20 %"),
        Dimension("number", "1", "0.45"),
        Dimension("specific energy", "J/kg", "19.5 MJ/kg"),
        Dimension("mass share", "1", "13 mg/kg"),
        Dimension("area density", "kg/m^2", "2 kg/m^2"),
        Dimension("area rate", "kg/m^2/s", "0.85 kg/m^2/min"),
        Dimension("volume per area", "m", "3 L/m^2"),
        Dimension("heat flux", "W/m^2", "30 kW/m^2"),
        Dimension("speed", "m/s", "20 km/h or 12 mph"),
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
        ("m^3/s, m3/s, m³/s", 1.0, "meter**3/second", 0.0),
        ("US gal/min, gal/min, gpm", _US_GALLON / 60, "US_liquid_gallon/minute", 0.0),
        ("imp gal/min", _IMPERIAL_GALLON / 60, "imperial_gallon/minute", 0.0),
    ),
    "share": (("%, percent, pct", 0.01, "percent", 0.0),),
    "number": (("1", 1.0, "dimensionless", 0.0),),
    "specific energy": (
        ("MJ/kg", 1e6, "megajoule/kilogram", 0.0),
        ("kJ/kg", 1e3, "kilojoule/kilogram", 0.0),
        ("J/g", 1e3, "joule/gram", 0.0),
        ("J/kg", 1.0, "joule/kilogram", 0.0),
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
        ("g/ha", 1e-7, "gram/hectare", 0.0),
        ("lb/ft^2, lb/ft2, lb/ft²", _POUND / _FOOT**2, "pound/foot**2", 0.0),
        ("mg/cm^2, mg/cm2, mg/cm²", 0.01, "milligram/centimeter**2", 0.0),
    ),
    "area rate": (
        ("kg/m^2/min, kg/m2/min, kg/m²/min", 1 / 60, "kilogram/meter**2/minute", 0.0),
        ("g/m^2/s, g/m2/s, g/m²/s", 1e-3, "gram/meter**2/second", 0.0),
        ("kg/m^2/s, kg/m2/s, kg/m²/s", 1.0, "kilogram/meter**2/second", 0.0),
        (
            "lb/ft^2/min, lb/ft2/min, lb/ft²/min",
            _POUND / _FOOT**2 / 60,
            "pound/foot**2/minute",
            0.0,
        ),
    ),
    "volume per area": (
        ("L/m^2, L/m2, L/m²", 1e-3, "liter/meter**2", 0.0),
        ("US gal/ft^2, US gal/ft2", _US_GALLON / _FOOT**2, "US_liquid_gallon/foot**2", 0.0),
    ),
    "heat flux": (("kW/m^2, kW/m2, kW/m²", 1e3, "kilowatt/meter**2", 0.0),),
    "speed": (
        ("km/h", 1 / 3.6, "kilometer/hour", 0.0),
        ("m/s", 1.0, "meter/second", 0.0),
        ("mph", 5280 * _FOOT / 3600, "mile/hour", 0.0),
    ),
}


AMBIGUOUS = {
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


def as_wet(value: float, basis: str) -> float:
    """A moisture on the basis that it was said on, as a share of the wet mass.

    >>> as_wet(0.25, "dry")
    0.2
    """
    return value / (1 + value) if basis == "dry" else value


def as_dry(value: float) -> float:
    """A share of the wet mass as one of the dry mass.

    >>> as_dry(0.2)
    0.25
    """
    return value / (1 - value)
