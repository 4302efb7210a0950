"""Hydrogen, volatile matter and carbon of chars against means by laboratory that set none of the
curves but manure's, and against what the curves were before.

Source: supporting workbook of Woolf et al. 2021, Environ. Sci. Technol. 55:14795, which gathers the
chars of incubations; own means by laboratory, class and band of temperature of the different chars
in it, 350 to 700 degC: Budai 2016, Dharmakeerthi 2015, Herath 2014, Liu 2020, Major 2010, Singh
2012 and Fang 2014 (one group), Wu 2016, Zimmerman 2010 and 2013. Its volatile matter is taken as of
the dry char, and brought to ash-free with the ash beside it. Wood chars by temperature: Wood, Masek
and Erastova 2023; Li, Gupta and You 2022.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest

from feedstock import load_tables
from feedstock.tables.rows.burner import Burner
from feedstock.tables.rows.methods.char import CarbonCurve
from feedstock.tables.rows.methods.quality import CharQuality
from feedstock.tables.rows.methods.standards import CharStandards

# laboratory, class, degC, chars, then molar H/C
HYDROGEN = (
    ("Budai", "plant", 392, 4, 0.667),
    ("Budai", "plant", 561, 4, 0.362),
    ("Budai", "plant", 682, 1, 0.236),
    ("Dharmakeerthi", "wood", 500, 1, 0.260),
    ("Herath", "plant", 350, 1, 0.680),
    ("Herath", "plant", 550, 1, 0.470),
    ("Liu", "plant", 500, 2, 0.511),
    ("Major", "wood", 500, 1, 0.288),
    ("Singh", "manure", 400, 2, 1.000),
    ("Singh", "manure", 550, 2, 0.635),
    ("Singh", "plant", 400, 1, 0.662),
    ("Singh", "plant", 550, 1, 0.491),
    ("Singh", "wood", 425, 4, 0.588),
    ("Singh", "wood", 550, 3, 0.409),
    ("Wu", "plant", 500, 1, 0.359),
    ("Zimmerman", "plant", 400, 2, 0.915),
    ("Zimmerman", "plant", 525, 2, 0.609),
    ("Zimmerman", "plant", 650, 2, 0.524),
    ("Zimmerman", "wood", 400, 4, 0.703),
    ("Zimmerman", "wood", 525, 3, 0.601),
    ("Zimmerman", "wood", 650, 6, 0.455),
)
# the same with ash-free volatile matter and ash-free carbon, shares
VOLATILE = (
    ("Budai", "plant", 392, 4, 0.323, 0.783),
    ("Budai", "plant", 561, 4, 0.142, 0.843),
    ("Budai", "plant", 682, 1, 0.076, 0.899),
    ("Herath", "plant", 350, 1, 0.346, 0.704),
    ("Herath", "plant", 550, 1, 0.209, 0.810),
    ("Zimmerman", "plant", 400, 2, 0.624, 0.651),
    ("Zimmerman", "plant", 525, 2, 0.546, 0.725),
    ("Zimmerman", "plant", 650, 2, 0.458, 0.766),
    ("Zimmerman", "wood", 400, 4, 0.516, 0.746),
    ("Zimmerman", "wood", 525, 3, 0.349, 0.829),
    ("Zimmerman", "wood", 650, 6, 0.231, 0.836),
)
CARBON = (*VOLATILE, ("Liu", "plant", 500, 2, 0, 0.789), ("Major", "wood", 500, 1, 0, 0.754))
# wood chars within 25 degC of the temperature: mean molar H/C
WOOD = {350: 0.73, 400: 0.68, 500: 0.41, 600: 0.29, 700: 0.19}

# the curves that one laboratory had set: start and rate, with 0.66 to 1.51 at every temperature
BEFORE = {"wood": (1.7933, 0.002949), "plant": (1.8501, 0.002984), "manure": (3.3815, 0.004168)}
VOLATILE_BEFORE = (
    (350, 450, 550, 650, 750),
    (0.28, 0.17, 0.10, 0.05, 0.03),
    (0.58, 0.42, 0.30, 0.20, 0.14),
)


def straight(at: float, points: list[float], values: list[float]) -> float:
    """Straight between points, level beyond them."""
    if at <= points[0]:
        return values[0]
    for low, high, one, two in zip(points, points[1:], values, values[1:], strict=False):
        if at <= high:
            return one + (two - one) * (at - low) / (high - low)
    return values[-1]


def hydrogen(group: str, temperature: float) -> tuple[float, float, float]:
    """Low, middle and high of molar H/C as the tables have it."""
    rows = load_tables().method("char-quality", CharQuality)[1]
    curve = rows.curves[group]
    mid = curve.start.mid * math.exp(-curve.rate.mid * temperature)
    points = [rows.doubt_to.mid, rows.doubt_hot_from.mid]
    low, high = (
        math.exp(straight(temperature, points, [math.log(one), math.log(two)]))
        for one, two in (
            (curve.doubt.low, curve.doubt_hot.low),
            (curve.doubt.high, curve.doubt_hot.high),
        )
    )
    return low * mid, mid, high * mid


def hydrogen_before(group: str, temperature: float) -> tuple[float, float, float]:
    start, rate = BEFORE[group]
    mid = start * math.exp(-rate * temperature)
    return 0.66 * mid, mid, 1.51 * mid


def volatile(temperature: float) -> tuple[float, float]:
    points = load_tables().method("char-standards", CharStandards)[1].volatile
    at = [point.temperature.mid for point in points]
    low = straight(temperature, at, [point.share.low for point in points])
    return low, straight(temperature, at, [point.share.high for point in points])


def coverage(inside: list[tuple[bool, int]]) -> float:
    """Share of the chars whose laboratory's mean lies inside."""
    return sum(count for found, count in inside if found) / sum(count for _, count in inside)


@pytest.mark.published
def test_hydrogen_of_chars_of_eight_laboratories() -> None:
    """Nine in ten inside, the middle within 0.06, both better than before; manure's four, which
    have set half of its curve, inside too.
    """
    rows = [(group, t, n, h) for _, group, t, n, h in HYDROGEN]
    figures = {}
    for name, forecast in (("now", hydrogen), ("before", hydrogen_before)):
        ends = [(forecast(group, t), n, h) for group, t, n, h in rows]
        held = coverage([(low <= h <= high, n) for (low, _, high), n, h in ends])
        bias = sum(n * (mid - h) for (_, mid, _), n, h in ends) / sum(n for _, _, n, _ in rows)
        figures[name] = held, bias
        print(f"H/C {name}: {held:.2f} of the chars inside, bias {bias:+.3f}")
    assert figures["now"][0] >= max(0.90, figures["before"][0])
    assert abs(figures["now"][1]) <= min(0.06, abs(figures["before"][1]))
    for group, t, _, h in rows:
        low, _, high = hydrogen(group, t)
        assert group != "manure" or low <= h <= high


@pytest.mark.published
@pytest.mark.parametrize("limit", [0.4, 0.7])
def test_no_mean_that_is_likely_below_a_limit_lies_above_it(limit: float) -> None:
    """A class is likely where the whole interval lies a tenth inside: that is the unsafe side."""
    room = load_tables().method("char-standards", CharStandards)[1].room.mid
    rows = [(group, t, h) for _, group, t, _, h in HYDROGEN]
    rows += [("wood", t, h) for t, h in WOOD.items()]
    likely = [(t, h) for group, t, h in rows if hydrogen(group, t)[2] <= (1 - room) * limit]
    assert [each for each in likely if each[1] > limit] == []
    assert limit == 0.4 or len(likely) > 5


@pytest.mark.published
@pytest.mark.parametrize("temperature, measured", WOOD.items())
def test_hydrogen_of_wood_chars_by_temperature(temperature: int, measured: float) -> None:
    low, _, high = hydrogen("wood", temperature)
    assert low <= measured <= high


@pytest.mark.published
def test_volatile_matter_of_chars_of_three_laboratories() -> None:
    """Means of 30 chars: eight in ten inside, where four in ten were. Grass and bagasse of one
    laboratory hold half as much again as the most of the table at every temperature; its wood lies
    inside.
    """
    now = coverage([(volatile(t)[0] <= v <= volatile(t)[1], n) for _, _, t, n, v, _ in VOLATILE])
    points, low, high = (list(each) for each in VOLATILE_BEFORE)
    before = coverage(
        [
            (straight(t, points, low) <= v <= straight(t, points, high), n)
            for _, _, t, n, v, _ in VOLATILE
        ]
    )
    print(f"volatile matter: {now:.2f} of the chars inside, {before:.2f} before")
    assert now >= 0.8
    assert now > before
    outside = {(lab, group) for lab, group, t, _, v, _ in VOLATILE if not inside(t, v)}
    assert outside == {("Zimmerman", "plant")}


def inside(temperature: float, share: float) -> bool:
    low, high = volatile(temperature)
    return low <= share <= high


@pytest.mark.published
def test_ash_kept_of_a_hundred_chars() -> None:
    """Char ash times yield over feed ash of 102 chars in Li, Gupta and You 2022: median 0.85, 5th
    and 95th percentile 0.45 and 1.47. A closed vessel's interval holds three quarters of them where
    that of an open fire, which all burners had, holds less than half; what is above 1 is soil or
    analysis, and an open fire adds none.
    """
    scatter = NormalDist(math.log(0.85), math.log(1.47 / 0.45) / (2 * 1.645))
    held = {}
    for name in ("retort", "cone-pit"):
        row = load_tables().row("burners", f"reference:{name}", Burner)
        low, high = (math.log(end) for end in (row.ash_kept.low, row.ash_kept.high))
        held[name] = scatter.cdf(high) - scatter.cdf(low)
        print(f"ash kept, {name}: {held[name]:.2f} of the chars inside")
        assert row.ash_kept.mid == pytest.approx(0.85, abs=0.03)
    assert held["retort"] >= 0.75
    assert held["retort"] > held["cone-pit"]


@pytest.mark.published
def test_carbon_of_chars_of_five_laboratories() -> None:
    """Ash-free carbon: all means of wood inside 7 points, of plants all but those of the laboratory
    whose chars hold so much volatile matter.
    """
    curves = load_tables().method("char-carbon", CarbonCurve)[1].curves
    outside = set()
    for laboratory, group, temperature, _, _, share in CARBON:
        curve = curves["wood" if group == "wood" else "straw"]
        mid = curve.top.mid - curve.span.mid * math.exp(-curve.rate.mid * temperature)
        print(f"{laboratory}, {group}, {temperature} degC: {share:.3f}, curve {mid:.3f}")
        if abs(share - mid) > curve.error.mid:
            outside.add((laboratory, group))
    assert outside == {("Zimmerman", "plant")}
