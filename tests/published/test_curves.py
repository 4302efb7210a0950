"""Yield and carbon of char against published curves, and against the measured means by class and
temperature.

Sources: Neves et al. 2011, Prog. Energy Combust. Sci. 37:611 (yield and carbon of dry ash-free
char); Woolf et al. 2014, Environ. Sci. Technol. 48:6492 (yield with lignin); measured yields: data
of Cheng et al. 2020 (538 slow runs) and the 1,602 slow runs of Cheng 2020, Li 2022, Kristanto 2025,
Wood 2023 and a public compilation; carbon of wood char: Wood, Masek and Erastova 2023; Enders et
al. 2012, Bioresour. Technol. 114:644. The exponential curve is a fit to these data: what is checked
against the means is that it describes them, not that it foresees them.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest

from feedstock.physics.char import carbon_in_char, char_yield, organic_yield
from feedstock.tables.loading.load import load_tables
from feedstock.tables.rows.methods.char import CarbonCurve, YieldCurve


def curve(name: str = "exponential") -> YieldCurve:
    return load_tables().using(yield_curve=name).method("yield-curve", YieldCurve)[1]


def organic(
    temperature: float, name: str = "exponential", lignin: float = 0.0, group: str = ""
) -> float:
    """Dry ash-free char per dry ash-free feed by a row of the tables."""
    row = curve(name)
    offset = row.offsets[group].mid if group in row.offsets else 0.0
    return float(
        organic_yield(
            temperature,
            lignin,
            row.floor.mid,
            row.amplitude.mid,
            row.rate.mid,
            row.lignin.mid,
            offset,
        )
    )


def dry(
    temperature: float, ash: float, name: str = "exponential", lignin: float = 0.0, group: str = ""
) -> float:
    """Char per dry feed with all ash kept and nothing burnt: what a closed laboratory vessel
    gives.
    """
    return float(char_yield(ash, organic(temperature, name, lignin, group), 1.0, 1.0))


def carbon(temperature: float, group: str = "wood") -> float:
    row = load_tables().method("char-carbon", CarbonCurve)[1].curves[group]
    return float(carbon_in_char(temperature, row.top.mid, row.span.mid, row.rate.mid, 0.0))


def half_width(temperature: float, group: str, name: str = "exponential") -> float:
    bands = curve(name).error[group]
    return next(band.error.mid for band in bands if band.to is None or temperature < band.to.mid)


@pytest.mark.worked
@pytest.mark.parametrize(
    "temperature, printed",
    [
        (350, 0.387),
        (400, 0.325),
        (450, 0.286),
        (500, 0.260),
        (550, 0.244),
        (600, 0.234),
        (650, 0.228),
        (700, 0.223),
        (800, 0.219),
    ],
)
def test_exponential_curve(temperature: int, printed: float) -> None:
    assert organic(temperature) == pytest.approx(printed, abs=0.00051)


# Neves et al. 2011: yield and carbon of dry ash-free char, from the printed equations
@pytest.mark.worked
@pytest.mark.parametrize(
    "temperature, char, share",
    [
        (300, 0.442, 0.669),
        (350, 0.347, 0.718),
        (400, 0.279, 0.759),
        (450, 0.231, 0.791),
        (500, 0.196, 0.817),
        (550, 0.170, 0.839),
        (600, 0.152, 0.856),
        (650, 0.139, 0.870),
        (700, 0.130, 0.881),
        (750, 0.123, 0.891),
    ],
)
def test_neves(temperature: int, char: float, share: float) -> None:
    assert organic(temperature, "neves-2011") == pytest.approx(char, abs=0.00051)
    assert carbon(temperature) == pytest.approx(share, abs=0.00051)
    assert carbon(temperature, "manure") == pytest.approx(share, abs=0.00051)


@pytest.mark.worked
@pytest.mark.parametrize("temperature", [300, 400, 500, 600, 700, 800])
def test_carbon_of_straw_char_is_the_mean_of_two_curves(temperature: int) -> None:
    # Woolf et al.: 0.99 - 0.78 exp(-0.0042 T), as printed in a public script of the author
    decay = (0.93 - carbon(temperature)) / 0.92
    assert carbon(temperature, "straw") == pytest.approx(
        (carbon(temperature) + 0.99 - 0.78 * decay) / 2, abs=1e-12
    )


# Woolf et al. with all ash kept: lignin, ash, then yield and carbon (Neves) of dry char at 450,
# 550, 600, 650, 700 degC
WOOLF = {
    "hardwood": (
        0.22,
        0.008,
        ((0.281, 0.77), (0.252, 0.81), (0.241, 0.83), (0.232, 0.84), (0.225, 0.85)),
    ),
    "softwood": (
        0.28,
        0.005,
        ((0.295, 0.78), (0.266, 0.82), (0.255, 0.84), (0.246, 0.85), (0.239, 0.86)),
    ),
    "straw": (
        0.17,
        0.06,
        ((0.306, 0.64), (0.278, 0.66), (0.268, 0.66), (0.260, 0.67), (0.253, 0.67)),
    ),
    "leaves": (
        0.25,
        0.07,
        ((0.334, 0.63), (0.306, 0.65), (0.296, 0.65), (0.288, 0.66), (0.281, 0.66)),
    ),
}


@pytest.mark.worked
@pytest.mark.parametrize("feed", list(WOOLF))
def test_woolf(feed: str) -> None:
    lignin, ash, rows = WOOLF[feed]
    for temperature, (char, share) in zip((450, 550, 600, 650, 700), rows, strict=True):
        found = dry(temperature, ash, "woolf-2014", lignin)
        assert found == pytest.approx(char, abs=0.00051)
        assert carbon(temperature) * (1 - ash / found) == pytest.approx(share, abs=0.0051)


# measured yield per dry feed, mean and standard deviation, runs within 25 degC of the temperature;
# n runs
BY_TEMPERATURE = {
    "hardwood": {
        350: (0.356, 0.055, 17),
        400: (0.293, 0.033, 17),
        450: (0.277, 0.040, 15),
        500: (0.253, 0.041, 15),
        550: (0.219, 0.053, 7),
        600: (0.216, 0.053, 7),
        700: (0.224, 0.041, 6),
    },
    "straw": {
        350: (0.433, 0.051, 29),
        400: (0.368, 0.040, 11),
        450: (0.344, 0.025, 20),
        500: (0.313, 0.041, 25),
        550: (0.295, 0.012, 12),
        600: (0.282, 0.030, 13),
        700: (0.234, 0.057, 5),
    },
    "manure": {
        350: (0.482, 0.058, 21),
        400: (0.391, 0.109, 31),
        450: (0.389, 0.085, 17),
        500: (0.320, 0.098, 29),
        550: (0.240, 0.083, 11),
        600: (0.297, 0.097, 24),
        700: (0.255, 0.073, 15),
    },
}
GROUP = {
    "hardwood": "wood",
    "straw": "straw",
    "manure": "manure",
    "leaves": "leaf",
    "nut-shell": "shell",
}

# Where the curve lies more than one standard deviation off, and why. None was tuned away.
BEYOND = {
    # +3.9 points on 3.3: this file alone; the larger compilation has 34.6 +- 10 % around 400 degC,
    # the curve 33.2 %
    ("hardwood", 400),
    # +15.5 points on 8.3 and +12.4 on 7.3: the class is every feed rich in nitrogen, sludge and
    # algae with the manures. 25.5 % at 700 degC means about 4 % ash, where the row for manure has
    # 20 % (7 to 38): another feed, not another curve; with the row's least ash both lie inside. 550
    # degC is also below the same file's 600 degC (11 runs).
    ("manure", 550),
    ("manure", 700),
}
POINTS = [(feed, temperature) for feed, rows in BY_TEMPERATURE.items() for temperature in rows]


def ash_of(feed: str) -> tuple[float, float, float]:
    cell = load_tables().material(f"reference:{feed}").ash
    assert cell is not None
    return cell.low, cell.mid, cell.high


@pytest.mark.transcribed
@pytest.mark.parametrize("feed, temperature", POINTS)
def test_measured_means_by_temperature(feed: str, temperature: int) -> None:
    mean, deviation, _ = BY_TEMPERATURE[feed][temperature]
    off = dry(temperature, ash_of(feed)[1]) - mean
    assert (abs(off) <= deviation) == ((feed, temperature) not in BEYOND), (
        f"{off:+.3f} on {deviation}"
    )


@pytest.mark.transcribed
@pytest.mark.parametrize("feed, temperature", sorted(BEYOND))
def test_those_beyond_are_within_the_stated_error_at_the_least_ash(
    feed: str, temperature: int
) -> None:
    mean, deviation, _ = BY_TEMPERATURE[feed][temperature]
    off = dry(temperature, ash_of(feed)[0]) - mean
    assert abs(off) <= half_width(temperature, GROUP[feed])
    assert feed != "manure" or abs(off) <= deviation


# measured yield per dry feed, mean and standard deviation, bands 350 to 450, 450 to 600 and 600 to
# 800 degC
BY_BAND = {
    "hardwood": ((0.346, 0.10), (0.262, 0.07), (0.234, 0.06)),
    "straw": ((0.372, 0.08), (0.311, 0.07), (0.284, 0.06)),
    "nut-shell": ((0.404, 0.11), (0.320, 0.05), (0.313, 0.08)),
    "leaves": ((0.387, 0.09), (0.289, 0.07), (0.300, 0.05)),
    "manure": ((0.443, 0.12), (0.356, 0.15), (0.309, 0.14)),
}


@pytest.mark.transcribed
@pytest.mark.parametrize("feed", list(BY_BAND))
def test_measured_means_by_band(feed: str) -> None:
    for temperature, (mean, deviation) in zip((400, 525, 700), BY_BAND[feed], strict=True):
        assert dry(temperature, ash_of(feed)[1], group=GROUP[feed]) == pytest.approx(
            mean, abs=deviation
        ), temperature


# 90th percentile of the error with whole studies left out: by band for wood and straw, else for all
# temperatures; points
LEAST_HALF_WIDTH = {
    ("wood", 400): 10.8,
    ("wood", 525): 8.5,
    ("wood", 700): 7.0,
    ("straw", 400): 11.6,
    # with the ash of the sample; that of the class adds its own error
    ("straw", 525): 9.5,
    ("straw", 700): 9.5,
    ("shell", 400): 10,
    ("shell", 525): 10,
    ("shell", 700): 10,
    ("leaf", 400): 15,
    ("leaf", 525): 15,
    ("leaf", 700): 15,
    ("manure", 400): 12,
    ("manure", 525): 12,
    ("manure", 700): 12,
    ("seed", 400): 15,
    ("seed", 525): 15,
    ("seed", 700): 15,
}


@pytest.mark.transcribed
@pytest.mark.parametrize("group, temperature", list(LEAST_HALF_WIDTH))
def test_half_widths_are_not_narrower_than_measured(group: str, temperature: int) -> None:
    least = LEAST_HALF_WIDTH[group, temperature] / 100
    assert half_width(temperature, group) >= least - 1e-9
    # both older curves did worse on the same runs (7.5 and 9.6 points root mean square against 7.1)
    for name in ("woolf-2014", "neves-2011"):
        assert half_width(temperature, group, name) >= half_width(temperature, group) - 1e-9


def off_the_band_means(shells: float | None = None) -> float:
    """Root mean square of curve less measured mean over the fifteen class means by band, points;
    with another offset for shells if given.
    """
    squares = []
    for feed, means in BY_BAND.items():
        ash = ash_of(feed)[1]
        for temperature, (mean, _) in zip((400, 525, 700), means, strict=True):
            found = dry(temperature, ash, group=GROUP[feed])
            if feed == "nut-shell" and shells is not None:
                found += (1 - ash) * (shells - curve().offsets["shell"].mid)
            squares.append((found - mean) ** 2)
    return 100 * math.sqrt(sum(squares) / len(squares))


@pytest.mark.transcribed
def test_the_curve_meets_the_class_means_no_worse_than_before_shells_were_raised() -> None:
    # shells were at 0.035; between laboratories one feed scatters by 6.0 points, so that 3 for a
    # mean of many is as near as the data can say
    now, before = off_the_band_means(), off_the_band_means(shells=0.035)
    print(f"root mean square off the class means: {now:.2f} points, {before:.2f} before")
    assert now <= before
    assert now < 3


def held(mean: float, deviation: float, low: float, high: float) -> float:
    """Share of a normal scatter of measured values that lies between two ends."""
    scatter = NormalDist(mean, deviation)
    return scatter.cdf(high) - scatter.cdf(low)


@pytest.mark.transcribed
@pytest.mark.parametrize("feed", ["hardwood", "straw"])
def test_the_interval_holds_nine_in_ten_of_the_runs(feed: str) -> None:
    """Coverage over the runs of 538 slow ones, with the class's ash and its error. By study it was
    0.904 when the widths were set. The class rich in nitrogen is left out: its feeds are others
    than manure, see above.
    """
    errors = curve().ash_error
    inside = runs = 0.0
    for temperature, (mean, deviation, count) in BY_TEMPERATURE[feed].items():
        group = GROUP[feed]
        width = half_width(temperature, group)
        if group in errors:
            width = math.hypot(width, errors[group].mid)
        middle = dry(temperature, ash_of(feed)[1], group=group)
        inside += count * held(mean, deviation, middle - width, middle + width)
        runs += count
    print(f"{feed}: {inside / runs:.3f} of {runs:.0f} runs")
    assert inside / runs >= 0.90


@pytest.mark.published
def test_flame_curtain_mean() -> None:
    # Cornelissen et al. 2016, PLoS ONE 11:e0154617: 22 +- 5 (sd) % of dry feed; the laboratory
    # curve at 700 degC and 1 % ash gives 23.1 %
    found = dry(700, 0.01)
    assert found == pytest.approx(0.231, abs=0.0005)
    assert found == pytest.approx(0.22, abs=0.05)


# carbon of wood char, %, runs within 50 degC: mean and standard deviation (Wood, Masek and Erastova
# 2023)
@pytest.mark.published
@pytest.mark.parametrize(
    "temperature, mean, deviation",
    [(350, 70.1, 7), (450, 77.2, 7), (550, 81.8, 7), (650, 87.5, 6), (750, 89.0, 6)],
)
def test_carbon_of_wood_char(temperature: int, mean: float, deviation: float) -> None:
    ash = ash_of("hardwood")[1]
    for share in (carbon(temperature), carbon(temperature) * (1 - ash / dry(temperature, ash))):
        assert 100 * share == pytest.approx(mean, abs=deviation)


# Enders et al. 2012: organic carbon of oak, pine and hazelnut shell chars, mean, % of dry char
@pytest.mark.published
@pytest.mark.parametrize(
    "temperature, mean",
    [(350, 72.9), (400, 76.3), (450, 81.2), (500, 82.6), (550, 86.4), (600, 88.2)],
)
def test_carbon_of_oak_pine_and_shell_char(temperature: int, mean: float) -> None:
    row = load_tables().method("char-carbon", CarbonCurve)[1].curves["wood"]
    assert carbon(temperature) == pytest.approx(mean / 100, abs=row.error.mid)
