"""The grammar of quantities: every unit against an independent library, every habit that is
refused, and any text at all.

Published: factors of pint 0.25 (NIST and CODATA definitions); cord of 128 ft3 and Btu/lb of 2326
J/kg are exact by definition (NIST SP 811) and not taken from pint, which has no cord and a rounded
Btu.
"""

from __future__ import annotations

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from costs import operations
from feedstock.quantities.parse import Reading, read_moisture, read_quantity
from feedstock.quantities.units import DIMENSIONS, UNITS, Refused, Unit, find_unit
from strategies import examples

SI_IN_PINT = {
    "mass": "kilogram",
    "length": "meter",
    "area": "meter**2",
    "volume": "meter**3",
    "density": "kilogram/meter**3",
    "temperature": "degree_Celsius",
    "time": "second",
    "flow": "meter**3/second",
    "share": "dimensionless",
    "number": "dimensionless",
    "specific energy": "joule/kilogram",
    "mass share": "dimensionless",
    "area density": "kilogram/meter**2",
    "volume per area": "meter",
    "area rate": "kilogram/meter**2/second",
    "heat flux": "watt/meter**2",
    "speed": "meter/second",
}
REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()


def in_pint(number: float, name: str, dimension: str) -> float:
    """An expression of ours, never a user's text, in the SI unit of its dimension."""
    # a name that starts with a number is a multiple of a unit, and a scale with an offset cannot be
    # multiplied
    quantity = (
        number * REGISTRY.parse_expression(name)
        if name[0].isdigit()
        else REGISTRY.Quantity(number, name)
    )
    return float(quantity.to(SI_IN_PINT[dimension]).magnitude)


# the search for the nearest unit takes some 25,000 on the longest of texts
MOST_OPERATIONS = 100_000


def outcome(text: str, dimension: str) -> Reading | Refused:
    """What comes of any text: a reading or a refusal; every other error goes through."""
    try:
        return read_quantity(text, dimension)
    except Refused as why:
        return why


def refused(text: str, dimension: str) -> Refused:
    with pytest.raises(Refused) as caught:
        read_quantity(text, dimension)
    return caught.value


# ---- factors


@pytest.mark.regression
def test_every_dimension_has_a_unit_and_a_pint_name() -> None:
    assert set(SI_IN_PINT) == set(DIMENSIONS) == {unit.dimension for unit in UNITS.values()}


@pytest.mark.published
@pytest.mark.parametrize("spelling", [name for name, unit in UNITS.items() if unit.pint])
def test_factor_of_every_spelling(spelling: str) -> None:
    unit = UNITS[spelling]
    for number in (1.0, 37.5):
        assert unit.to_si(number) == pytest.approx(
            in_pint(number, unit.pint, unit.dimension), rel=1e-12
        )
        assert unit.from_si(unit.to_si(number)) == pytest.approx(number, rel=1e-12)


# What a spelling means, in words of pint written down here independently of the whitelist: the name
# that stands beside a factor proves the factor, not that the spelling means that unit.
MEANING = {
    "gal": "US_liquid_gallon",
    "gallon": "US_liquid_gallon",
    "gallons": "US_liquid_gallon",
    "gal/min": "US_liquid_gallon/minute",
    "gpm": "US_liquid_gallon/minute",
    "US gal": "US_liquid_gallon",
    "imp gal": "imperial_gallon",
    "UK gal": "imperial_gallon",
    "US gal/min": "US_liquid_gallon/minute",
    "lb": "pound",
    "oz wt": "ounce",
    "short ton": "short_ton",
    "US ton": "short_ton",
    "long ton": "long_ton",
    "UK ton": "long_ton",
    "t": "metric_ton",
    "st": "stone",
    "UK cwt": "UK_hundredweight",
    "US cwt": "US_hundredweight",
    '"': "inch",
    "'": "foot",
    "yd": "yard",
    "sq ft": "foot**2",
    "cu ft": "foot**3",
    "cu yd": "yard**3",
    "bu": "bushel",
    "fl oz": "US_fluid_ounce",
    "US qt": "US_liquid_quart",
    "L": "liter",
    "ml": "milliliter",
    "pcf": "pound/foot**3",
    "kWh/kg": "kilowatt_hour/kilogram",
    "ppm": "milligram/kilogram",
    "ppb": "microgram/kilogram",
    "h": "hour",
    "min": "minute",
    "d": "day",
    "t/ha": "metric_ton/hectare",
    "degF": "degree_Fahrenheit",
    "K": "kelvin",
    "%": "percent",
    "lpm": "liter/minute",
}


@pytest.mark.published
@pytest.mark.parametrize("spelling", list(MEANING))
def test_meaning_of_a_spelling(spelling: str) -> None:
    unit = UNITS[spelling]
    assert unit.to_si(1.0) == pytest.approx(
        in_pint(1.0, MEANING[spelling], unit.dimension), rel=1e-12
    )


@pytest.mark.published
def test_units_that_pint_has_not() -> None:
    assert {unit.symbol for unit in UNITS.values() if not unit.pint} == {"cord", "Btu/lb"}
    assert UNITS["cord"].factor == pytest.approx(128 * in_pint(1.0, "foot**3", "volume"), rel=1e-12)
    assert UNITS["Btu/lb"].factor == 2326.0
    # pint's Btu is rounded in the seventh digit
    assert UNITS["Btu/lb"].factor == pytest.approx(
        in_pint(1.0, "Btu/pound", "specific energy"), rel=2e-7
    )


@pytest.mark.published
@pytest.mark.parametrize(
    "text, dimension, expected",
    [
        ("1 lb/ft^3", "density", 16.01846),
        ("1 US gal", "volume", 3.785412e-3),
        ("1 imp gal", "volume", 4.54609e-3),
        ("1 bushel", "volume", 35.2391e-3),
        ("1 yd^3", "volume", 0.764555),
        ("1 short ton", "mass", 907.185),
        ("1 acre", "area", 4046.856),
        ("32 degF", "temperature", 0.0),
        ("212 degF", "temperature", 100.0),
        ("0 K", "temperature", -273.15),
        ("1 cord", "volume", 3.624556),
    ],
)
def test_printed_factors(text: str, dimension: str, expected: float) -> None:
    # the acre is the international one, 4046.8564 m2
    assert read_quantity(text, dimension).mid == pytest.approx(expected, rel=2e-6, abs=1e-9)


@pytest.mark.property
@pytest.mark.parametrize("spelling", list(UNITS))
def test_case_never_changes_the_unit(spelling: str) -> None:
    for other in (spelling.upper(), spelling.lower(), spelling.title()):
        found = find_unit(other)
        assert found is None or found == UNITS[spelling]


# ---- grammar


@pytest.mark.regression
@pytest.mark.parametrize(
    "text, dimension, expected",
    [
        ("40 kg", "mass", 40.0),
        ("40kg", "mass", 40.0),
        (" 40  kg ", "mass", 40.0),
        ("+40 kg", "mass", 40.0),
        (".5 kg", "mass", 0.5),
        ("1e3 g", "mass", 1.0),
        ("2e-3 t", "mass", 2.0),
        ("40\u00a0kg", "mass", 40.0),
        ("40 KG", "mass", 40.0),
        ("2 1/2 ft", "length", 0.762),
        ("1/2 in", "length", 0.0127),
        ("3/4 in", "length", 0.01905),
        ("2½ ft", "length", 0.762),
        ("½ in", "length", 0.0127),
        ('27"', "length", 0.6858),
        ("27 in", "length", 0.6858),
        ("5 ft 6 in", "length", 1.6764),
        ("5'6\"", "length", 1.6764),
        ("5' 6\"", "length", 1.6764),
        ("5′ 6″", "length", 1.6764),
        ("5 ft 6 1/2 in", "length", 1.6891),
        ("1 h 30 min", "time", 5400.0),
        ("1 m 20 cm", "length", 1.2),
        ("5 lb 8 oz", "mass", 5.5 * 0.45359237),
        ("\u22125 degC", "temperature", -5.0),
        ("-40 degF", "temperature", -40.0),
        ("650 °C", "temperature", 650.0),
        ("20 %", "share", 0.2),
        ("20%", "share", 0.2),
        ("0.45", "number", 0.45),
        ("45 %", "number", 0.45),
        ("3 cubic feet", "volume", 3 * 0.3048**3),
        ("2 US gal", "volume", 2 * 3.785411784e-3),
        ("1 kg/m^2/min", "area rate", 1 / 60),
    ],
)
def test_one_quantity(text: str, dimension: str, expected: float) -> None:
    found = read_quantity(text, dimension)
    assert found.mid == pytest.approx(expected, rel=1e-12)
    assert (found.low, found.high) == (None, None)


@pytest.mark.regression
@pytest.mark.parametrize(
    "text, dimension, low, mid, high",
    [
        ("35 to 45 kg", "mass", 35, 40, 45),
        ("35 kg to 45 kg", "mass", 35, 40, 45),
        ("900 g to 2 kg", "mass", 0.9, 1.45, 2),
        ("35 to 45 kg, likely 38 kg", "mass", 35, 38, 45),
        ("35 to 45 kg likely 38", "mass", 35, 38, 45),
        ("35 to 45 kg, likely 38000 g", "mass", 35, 38, 45),
        ("-10 to 5 degC", "temperature", -10, -2.5, 5),
        ("-10 to -5 degC", "temperature", -10, -7.5, -5),
        ("2 1/2 to 3 ft", "length", 0.762, 0.8382, 0.9144),
        ("5 ft to 5 ft 6 in", "length", 1.524, 1.6002, 1.6764),
        ("10 to 20 %", "share", 0.1, 0.15, 0.2),
    ],
)
def test_ranges(text: str, dimension: str, low: float, mid: float, high: float) -> None:
    found = read_quantity(text, dimension)
    assert (found.low, found.mid, found.high) == pytest.approx((low, mid, high), rel=1e-12)


@pytest.mark.regression
@pytest.mark.parametrize("text", ["10 gal", "10 gallons", "10 Gallon"])
def test_a_bare_gallon_is_us_and_said_to_be(text: str) -> None:
    found = read_quantity(text, "volume")
    assert found.mid == pytest.approx(10 * 3.785411784e-3, rel=1e-12)
    assert "US gallons" in found.note
    assert "imp gal" in found.note
    assert read_quantity("10 US gal", "volume").note == ""


@pytest.mark.regression
def test_a_bare_gallon_in_a_flow_is_us_too() -> None:
    for text in ("3 gal/min", "3 gpm"):
        found = read_quantity(text, "flow")
        assert found.mid == pytest.approx(3 * 3.785411784e-3 / 60, rel=1e-12)
        assert "US gallons" in found.note
    assert read_quantity("3 imp gal/min", "flow").mid == pytest.approx(
        3 * 4.54609e-3 / 60, rel=1e-12
    )
    assert find_unit("imp") is None


@pytest.mark.regression
@pytest.mark.parametrize(
    "text, dimension, code, expected",
    [
        ("", "mass", "empty", "Write a number and a unit, for instance 40 kg or 90 lb."),
        ("   ", "mass", "empty", "Write a number and a unit, for instance 40 kg or 90 lb."),
        ("0,5 m", "length", "comma", "Write 0.5 m."),
        ("1,000 kg", "mass", "comma", "Write 1000 kg."),
        ("1,234,567 kg", "mass", "comma", "Write 1234567 kg."),
        ("10-20 kg", "mass", "dash-range", "Write a range as 10 to 20 kg."),
        ("10 - 20 kg", "mass", "dash-range", "Write a range as 10 to 20 kg."),
        ("10–20 kg", "mass", "dash-range", "Write a range as 10 to 20 kg."),
        ("10 kg - 20 kg", "mass", "dash-range", "Write a range as 10 to 20 kg."),
        (
            "5 ton",
            "mass",
            "ambiguous-unit",
            "Write tonne (1000 kg), short ton (2000 lb) or long ton (2240 lb).",
        ),
        (
            "5 tons",
            "mass",
            "ambiguous-unit",
            "Write tonnes (1000 kg), short tons (2000 lb) or long tons (2240 lb).",
        ),
        ("2 cwt", "mass", "ambiguous-unit", "Write UK cwt (112 lb) or US cwt (100 lb)."),
        ("600 C", "temperature", "ambiguous-unit", "Write degC for degrees Celsius."),
        ("600 F", "temperature", "ambiguous-unit", "Write degF for degrees Fahrenheit."),
        ("5 oz", "mass", "ambiguous-unit", "Write oz wt for weight or fl oz for liquid."),
        ("5 oz", "volume", "ambiguous-unit", "Write oz wt for weight or fl oz for liquid."),
        (
            "40",
            "mass",
            "no-unit",
            "Write a number and a unit of mass, for instance 40 kg or 90 lb.",
        ),
        (
            "35 to 45",
            "mass",
            "no-unit",
            "Write a number and a unit of mass, for instance 40 kg or 90 lb.",
        ),
        ("40 L", "mass", "wrong-dimension", "Write a mass, for instance 40 kg or 90 lb."),
        ("5 stones", "length", "unknown-unit", "Units of length: cm, ft, in, m, mm, yd."),
        ("nan kg", "mass", "not-finite", "Write a number and a unit, for instance 40 kg or 90 lb."),
        ("inf kg", "mass", "not-finite", "Write a number and a unit, for instance 40 kg or 90 lb."),
        (
            "-Infinity kg",
            "mass",
            "not-finite",
            "Write a number and a unit, for instance 40 kg or 90 lb.",
        ),
        ("1e400 kg", "mass", "not-finite", "Write for instance 40 kg or 90 lb."),
        ("1e308 t", "mass", "not-finite", "Write for instance 40 kg or 90 lb."),
        (
            "45 to 35 kg",
            "mass",
            "inverted-range",
            "Write the lower end first, for instance 35 to 45 kg.",
        ),
        (
            "35 to 35 kg",
            "mass",
            "inverted-range",
            "Write the one value alone, or two different ends.",
        ),
        (
            "40 ± 5 kg",
            "mass",
            "plus-minus",
            "Write the ends between which nine in ten would lie, for instance 35 to 45 kg.",
        ),
        (
            "40 +/- 5 kg",
            "mass",
            "plus-minus",
            "Write the ends between which nine in ten would lie, for instance 35 to 45 kg.",
        ),
        (
            "35 to 45 kg, likely 50 kg",
            "mass",
            "inverted-range",
            "Write a likely value between the two ends.",
        ),
        (
            "38 kg, likely 40 kg",
            "mass",
            "not-a-quantity",
            "Write a number and a unit, for instance 40 kg or 90 lb, or a range such "
            "as 35 to 45 of the unit.",
        ),
        (
            "6 in 5 ft",
            "length",
            "not-a-quantity",
            "Write the larger unit first, for instance 5 ft 6 in.",
        ),
        ("1/0 kg", "mass", "not-a-quantity", "Write a fraction such as 1/2."),
        ("about forty kg", "mass", "not-a-quantity", "Write for instance 40 kg or 90 lb."),
        ("4" * 81, "mass", "too-long", "Write at most 80 characters."),
    ],
)
def test_refused_with_what_to_write(text: str, dimension: str, code: str, expected: str) -> None:
    why = refused(text, dimension)
    assert (why.code, why.expected) == (code, expected)
    assert str(why) == f"{why.what}. {why.expected}"


@pytest.mark.regression
@pytest.mark.parametrize(
    "text",
    [
        "9**9**9 kg",
        "9^9^9 kg",
        "(9)*9 kg",
        "__import__('os') kg",
        "10**100000 kg",
        "1 kg**9**9",
        "1e" + "9" * 70 + " kg",
    ],
)
def test_no_text_is_ever_evaluated(text: str) -> None:
    assert operations(lambda: outcome(text, "mass")) < MOST_OPERATIONS
    why = refused(text, "mass")
    assert why.code in ("unknown-unit", "not-a-quantity", "not-finite", "no-unit")


@pytest.mark.regression
@pytest.mark.parametrize("text", ["5 kgg", "5 kilogramm", "5 lbz"])
def test_a_slip_gets_the_nearest_units(text: str) -> None:
    why = refused(text, "mass")
    assert why.code == "unknown-unit"
    assert 1 <= len(why.nearest) <= 3
    assert all(UNITS[name].dimension == "mass" for name in why.nearest)


# ---- moisture


@pytest.mark.regression
@pytest.mark.parametrize(
    "text, share, basis",
    [
        ("22 % wet", 0.22, "wet"),
        ("28 % dry", 0.28, "dry"),
        ("28% dry", 0.28, "dry"),
        ("22 % wet basis", 0.22, "wet"),
        ("22 % wb", 0.22, "wet"),
        ("22 % w.b.", 0.22, "wet"),
        ("28 % DB", 0.28, "dry"),
        ("28 percent dry basis", 0.28, "dry"),
        ("22 % as received", 0.22, "wet"),
        ("150 % dry", 1.5, "dry"),
        ("22.5 pct wet", 0.225, "wet"),
    ],
)
def test_moisture(text: str, share: float, basis: str) -> None:
    found, said = read_moisture(text)
    assert found.mid == pytest.approx(share, rel=1e-12)
    assert said == basis


@pytest.mark.regression
@pytest.mark.parametrize(
    "text, mid",
    [
        ("18 to 25 % dry", 0.215),
        ("18 % to 25 % dry", 0.215),
        ("18 % dry to 25 % dry", 0.215),
        ("18 to 25 % dry, likely 20 % dry", 0.20),
        ("18 to 25 % dry, likely 20 %", 0.20),
        ("18 to 25 % dry, likely 20", 0.20),
        ("18 to 25 %, likely 20 % db", 0.20),
        ("18 to 25 % dry likely 20 % dry basis", 0.20),
    ],
)
def test_moisture_range(text: str, mid: float) -> None:
    """The basis stands once, or with every number."""
    found, basis = read_moisture(text)
    assert (found.low, found.mid, found.high) == pytest.approx((0.18, mid, 0.25), rel=1e-12)
    assert basis == "dry"


@pytest.mark.regression
@pytest.mark.parametrize(
    "text, code",
    [
        ("22 %", "no-basis"),
        ("22%", "no-basis"),
        ("22 % moist", "no-basis"),
        ("22 % wet or dry", "no-basis"),
        ("22", "no-unit"),
        ("0.22 wet", "no-unit"),
        ("damp", "no-unit"),
        ("", "no-unit"),
        ("22,5 % wet", "comma"),
        ("18-25 % dry", "dash-range"),
        ("wet 22 %", "no-basis"),
        ("nan % wet", "not-finite"),
        ("% wet", "not-a-quantity"),
        ("18 % wet to 25 % dry", "two-bases"),
        ("18 to 25 % wet, likely 20 % dry", "two-bases"),
        ("22 % wet, likely 20 % wet", "not-a-quantity"),
        ("18 to 25 % wet, likely 30 % wet", "inverted-range"),
        ("25 to 18 % wet", "inverted-range"),
        ("18 to 20 to 25 % wet", "not-a-quantity"),
        ("20 ± 3 % wet", "plus-minus"),
    ],
)
def test_moisture_refused(text: str, code: str) -> None:
    with pytest.raises(Refused) as caught:
        read_moisture(text)
    assert caught.value.code == code
    if code in ("no-basis", "no-unit"):
        # says what to write, and which instrument reads which basis
        assert "22 % wet" in caught.value.expected
        assert "22 % dry" in caught.value.expected
        assert "meters" in caught.value.expected


# ---- any input

FINITE = st.floats(-1e12, 1e12, allow_nan=False, allow_infinity=False)


@pytest.mark.property
@examples(4)
@given(
    FINITE, st.sampled_from([name for name, unit in UNITS.items() if unit.dimension != "number"])
)
@example(-0.0, "kg")
@example(5e-324, "mm")
@example(1.5e-07, "degF")
def test_what_is_printed_is_read_back(number: float, spelling: str) -> None:
    unit = UNITS[spelling]
    found = read_quantity(f"{number!r} {spelling}", unit.dimension)
    assert found.mid == pytest.approx((number + unit.offset) * unit.factor, rel=1e-12, abs=1e-300)


@pytest.mark.property
@given(FINITE)
def test_a_pure_number_is_read_back(number: float) -> None:
    assert read_quantity(repr(number), "number").mid == number


@pytest.mark.property
@given(st.integers(0, 999), st.integers(1, 15), st.sampled_from([2, 4, 8, 16]))
def test_fractions(whole: int, top: int, bottom: int) -> None:
    assert read_quantity(f"{whole} {top}/{bottom} in", "length").mid == pytest.approx(
        (whole + top / bottom) * 0.0254, rel=1e-12
    )


@pytest.mark.property
@given(FINITE, FINITE, st.sampled_from(["kg", "g", "lb", "short ton"]))
def test_any_range(one: float, other: float, unit: str) -> None:
    low, high = sorted((one, other))
    text = f"{low!r} to {high!r} {unit}"
    if UNITS[unit].to_si(low) < UNITS[unit].to_si(high):
        found = read_quantity(text, "mass")
        assert found.low is not None
        assert found.high is not None
        assert found.low <= found.mid <= found.high
    else:
        assert refused(text, "mass").code == "inverted-range"


def finite(found: Reading) -> bool:
    return all(
        abs(value) < float("inf")
        for value in (found.low, found.mid, found.high)
        if value is not None
    )


def tells_what_to_write(why: Refused) -> bool:
    return bool(why.code) and why.expected.endswith(".") and "\n" not in str(why)


@pytest.mark.regression
@pytest.mark.parametrize(
    "text", ["1e308 to 1.7e308 kg", "-1.7e308 to -1e308 kg", "-1.7e308 to 1.7e308 kg"]
)
def test_a_huge_range_is_finite_or_refused(text: str) -> None:
    found = outcome(text, "mass")
    assert found.code == "not-finite" if isinstance(found, Refused) else finite(found)


WORDS = st.sampled_from(
    [
        *UNITS,
        "to",
        "likely",
        ",",
        "-",
        "+",
        "/",
        "1/2",
        "½",
        "0",
        "12",
        "1e9",
        "1e999",
        ".",
        "%",
        "wet",
        "dry",
        "nan",
        "inf",
        "\u00a0",
        "\u2212",
        "\x00",
        "٣",
        "²",
    ]
)
ANYTHING = st.one_of(
    st.text(max_size=200),
    st.lists(WORDS, max_size=20).map(" ".join),
    st.lists(WORDS, max_size=20).map("".join),
)


@pytest.mark.property
@examples(6)
@given(ANYTHING, st.sampled_from(sorted(DIMENSIONS)))
def test_any_text_is_read_or_refused(text: str, dimension: str) -> None:
    assert operations(lambda: outcome(text, dimension)) < MOST_OPERATIONS
    found = outcome(text, dimension)
    if isinstance(found, Refused):
        assert tells_what_to_write(found)
    else:
        assert finite(found)
        assert found.low is None or (
            found.high is not None and found.low <= found.mid <= found.high
        )


@pytest.mark.property
@examples(4)
@given(ANYTHING)
def test_any_moisture_text_is_read_or_refused(text: str) -> None:
    try:
        found, basis = read_moisture(text)
    except Refused as refusal:
        why = refusal
    else:
        assert basis in ("wet", "dry")
        assert finite(found)
        return
    assert tells_what_to_write(why)


@pytest.mark.property
@pytest.mark.parametrize("unit", list(dict.fromkeys(UNITS.values())), ids=lambda unit: unit.symbol)
def test_symbols_are_spellings_of_themselves(unit: Unit) -> None:
    assert UNITS[unit.symbol] == unit
