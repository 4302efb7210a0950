"""The plan of a burn against what small burns are known to do: check values of the trade, and
published field yields.

The check values are common practice, no source. None is an input of the tables and no prior was
chosen by them. The tests print where in the 90 % interval each lies: -1 is its low end, 0 its
middle, 1 its high end (on the log scale). Run with -s.

How thick the limbs were and how large the barbecue was is not told with the values. The tests say
so in the only honest way: they give both as ranges (`20 to 60 mm`, `14 to 22 in`), as a user would
who does not know. What single sizes give is printed and, but for the smallest bowl, holds too.

No table value was changed because of what these gave. One formula was: at first every piece that
was not through took its whole char away; now the raw core alone does. The reason is physical (a
piece three quarters of the way has a core of some 4 % of its section), but it was seen here, so
that for thick limbs in a burn of stated length these checks are no blind ones.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from builders import heap, lot, plan
from feedstock import Burn, Estimate, Heap, InputError, Lot, appraise, load_tables
from feedstock.tables.rows.burner import Burner
from feedstock.tables.rows.methods.char import YieldCurve

US_GALLON = 3.785411784
CONE: dict[str, Any] = {"burner": "cone pit", "width": "33 in", "depth": "14 in"}
UNTOLD = "20 to 60 mm"
SIZES = [
    (UNTOLD, "hardwood"),
    ("25 mm", "hardwood"),
    ("35 mm", "hardwood"),
    ("35 mm", "pine"),
    ("50 mm", "oak"),
    ("60 mm", "hardwood"),
]


def garden_heap(thickness: str = UNTOLD, material: str = "hardwood") -> Heap:
    """Dry garden limbs, thumb to wrist thick, with twigs: more than any of these burns takes."""
    return heap(
        lot(material, "60 kg", thickness, name="limbs"), lot("hazel", "6 kg", "12 mm", name="twigs")
    )


def place(estimate: Estimate | None, value: float) -> float:
    """Where a value lies in an interval: -1 at its low end, 0 in the middle, 1 at its high end."""
    assert estimate is not None
    low, mid, high = (
        math.log(max(v, 1e-12))
        for v in (estimate.low_value, estimate.mid_value, estimate.high_value)
    )
    x = math.log(value)
    return (x - mid) / (high - mid if x > mid else mid - low)


def check(what: str, estimate: Estimate | None, value: float) -> None:
    at = place(estimate, value)
    print(f"{what}: {value:.3g} in {estimate}; at {at:+.2f}")
    assert -1 <= at <= 1, what


@pytest.mark.worked
def test_cone_pit_holds_17_gallons() -> None:
    # pi/12 33^2 14 cubic inches, 231 to the US gallon
    pointed = plan(garden_heap(), **CONE, shape="point").vessel_volume
    assert pointed.mid_value / US_GALLON == pytest.approx(17.3, abs=0.05)
    # a pit as dug has a floor, and a pointed cone is inside what it may hold
    check("cone pit as dug, a pointed cone", plan(garden_heap(), **CONE).vessel_volume, 65.4)


# Whether the 35 minutes are those of the whole burn or of the feeding alone is not told; limbs burn
# down for 20 minutes more, the plan's own time. Both readings are checked. By the first, of which
# the burn-down takes more than half, single sizes are printed and no check: limbs of 35 mm and
# thicker lie up to a fifth of the half-width outside.
READINGS = {"the whole burn": "35 min", "the feeding": "55 min"}


@pytest.mark.published
@pytest.mark.parametrize("reading", READINGS)
@pytest.mark.parametrize("thickness, material", SIZES)
def test_fed_for_35_minutes(thickness: str, material: str, reading: str) -> None:
    minutes = READINGS[reading]
    burn_plan = plan(garden_heap(thickness, material), **CONE, firing="fed", duration=minutes)
    what = f"35 min of {reading}, {material} {thickness}, about 7 US gal of sorted char"
    if thickness == UNTOLD or reading == "the feeding":
        check(what, burn_plan.char_volume, 7 * US_GALLON)
    else:
        at = place(burn_plan.char_volume, 7 * US_GALLON)
        print(f"{what}: in {burn_plan.char_volume}; at {at:+.2f}")


@pytest.mark.published
@pytest.mark.parametrize("thickness, material", SIZES)
def test_filled_and_lit_on_top(thickness: str, material: str) -> None:
    burn_plan = plan(garden_heap(thickness, material), **CONE, firing="top-lit", duration="45 min")
    check(
        f"top-lit, stopped at 45 min, {material} {thickness}, about 10 US gal",
        burn_plan.char_volume,
        10 * US_GALLON,
    )
    # some wood was still raw
    assert burn_plan.uncharred_fraction is not None
    print(f"  raw wood at 45 min: {burn_plan.uncharred_fraction}")
    assert burn_plan.uncharred_fraction.high_value > 0


@pytest.mark.published
@pytest.mark.parametrize("minutes", [50, 55])
def test_five_to_ten_minutes_more_were_judged_right(minutes: float) -> None:
    for thickness in ("25 mm", "35 mm", "60 mm"):
        other = plan(garden_heap(thickness), **CONE, firing="top-lit").duration
        print(
            f"  limbs of {thickness} instead: {minutes} min in {other}; at "
            f"{place(other, minutes):+.2f}"
        )
    burn_plan = plan(garden_heap(), **CONE, firing="top-lit")
    check(f"top-lit, time to quench {minutes} min", burn_plan.duration, minutes)


@pytest.mark.published
@pytest.mark.parametrize("minutes", [25, 27])
def test_small_barbecue(minutes: int) -> None:
    burn_plan = plan(
        garden_heap(),
        burner="barbecue",
        duration=f"{minutes} min",
        diameter="14 to 22 in",
        depth="5 to 8 in",
    )
    for thickness, across, deep in (
        ("25 mm", "14 in", "6 in"),
        ("50 mm", "14 in", "6 in"),
        ("35 mm", "18 in", "7 in"),
        ("50 mm", "22 in", "8 in"),
    ):
        other = plan(
            garden_heap(thickness),
            burner="barbecue",
            duration=f"{minutes} min",
            diameter=across,
            depth=deep,
        ).char_volume
        print(
            f"  {across} wide, limbs of {thickness} instead: in {other}; at "
            f"{place(other, US_GALLON):+.2f}"
        )
    check(f"barbecue, {minutes} min, about 1 US gal", burn_plan.char_volume, US_GALLON)


@pytest.mark.published
@pytest.mark.parametrize("minutes", [2, 3])
@pytest.mark.parametrize(
    "burn",
    [
        {"firing": "fed", "duration": READINGS["the feeding"]},
        {"firing": "top-lit", "duration": "45 min"},
    ],
)
def test_minutes_of_a_garden_hose(minutes: float, burn: dict[str, str]) -> None:
    # of the two burns that are told of; how much water the hose gave is not told
    burn_plan = plan(garden_heap(), **CONE, **burn)
    assert burn_plan.quench is not None
    check(f"quench, {minutes} min of a hose", burn_plan.quench.hose_time, minutes)


@pytest.mark.published
def test_charring_sets_in_above_660_degrees_fahrenheit() -> None:
    # 660 degF is 349 degC: no yield is told below about that, and every burner works above it
    tables = load_tables()
    sets_in = (660 - 32) / 1.8
    lowest = tables.method("yield-curve", YieldCurve)[1].lowest.mid
    print(f"charring from {lowest:.0f} degC; 660 degF is {sets_in:.0f} degC")
    assert lowest == pytest.approx(sets_in, abs=5)
    assert all(
        row.temperature.low > sets_in
        for row in tables.rows["burners"].values()
        if isinstance(row, Burner)
    )
    with pytest.raises(InputError):
        appraise(garden_heap(), Burn(**CONE, temperature="600 degF"))


@pytest.mark.published
def test_lighter_softer_wood_chars_faster() -> None:
    # Within a class the order is that of density; between classes the thicker char layer of
    # softwoods slows them in equation 18-4, so that pine and a middling hardwood as birch come out
    # alike (39.6 and 38.6 min at 50 mm).
    times = {}
    for material in ("spruce", "fir", "pine", "oak"):
        found = dict(plan(garden_heap("50 mm", material), **CONE).char_through)["limbs"]
        times[material] = found.mid_value
        print(f"50 mm {material}: {found}")
    assert times["spruce"] < times["oak"]
    assert times["pine"] < times["oak"]
    assert times["fir"] < times["oak"]


@pytest.mark.published
def test_largest_go_in_first_and_densest_of_equal_size() -> None:
    some = heap(
        lot("pine", "40 kg", "30 mm", name="thin pine"),
        lot("oak", "10 kg", "50 mm", name="oak"),
        lot("pine", "10 kg", "50 mm", name="pine"),
        lot("hazel", "16 kg", "8 mm", name="twigs"),
    )
    burn_plan = plan(some, **CONE)
    assert not [split for split in burn_plan.split if split.lot in ("oak", "pine")]
    order = [name for step in burn_plan.feeding if step.part == "main" for name in step.lots]
    assert order[:3] == ["oak", "pine", "thin pine"]


# --- published field yields -----------------------------------------------------------------------

# burner, feed, what, published value in %, source. Mass yields are dry char per dry feed; `carbon`
# is wood carbon that became char carbon. The rows of the burners were set from most of the
# publications named here, so that those values cannot but lie inside or near: only what was no
# input (INDEPENDENT) is a check of the forecast. Of the five kilns of Smith 1999 the single oil
# drum smouldered closed; its own value was not read. It stands for the closed drum, and for the
# open one as far as that is closed.
FIELD = [
    *[
        (
            burner,
            "hardwood",
            "mass",
            value,
            "Cornelissen 2016, flame-curtain kilns and pits: 22 +- 5 % (sd)",
        )
        for burner in ("cone pit", "pit", "trench", "kettle")
        for value in (17, 22, 27)
    ],
    ("cone pit", "pine", "mass", 14, "Inoue 2011, open cone kiln, red pine (as told by others)"),
    ("cone pit", "pine", "carbon", 24, "Inoue 2011, open cone kiln, red pine (as told by others)"),
    *[
        ("cone pit", "hardwood", "carbon", value, "Cornelissen 2016: 40 +- 11 % of the carbon (sd)")
        for value in (29, 40, 51)
    ],
    *[
        (
            "mound",
            "hardwood",
            "carbon",
            value,
            "Pennise 2001, kilns of Kenya and Brazil: 37 to 69 %, mean 51 %",
        )
        for value in (37, 51, 69)
    ],
    ("mound", "hardwood", "carbon", 48, "Smith 1999, earth mound"),
    *[
        (
            burner,
            "hardwood",
            "carbon",
            value,
            "Smith 1999, five kilns with a single oil drum: 48 to 57 %, mean 52 %",
        )
        for burner in ("drum", "drum kiln")
        for value in (48, 52, 57)
    ],
    ("campfire", "hardwood", "mass", 4.8, "Eckmeier 2007, slash and burn: 4.8 % of the fuel mass"),
    ("campfire", "hardwood", "carbon", 8.1, "Eckmeier 2007, slash and burn: 8.1 % of the carbon"),
    *[
        (
            "campfire",
            "pine",
            "carbon",
            value,
            "slash piles, Arizona 2012: 6 to 8 % of the carbon left",
        )
        for value in (6, 8)
    ],
]


INDEPENDENT = ("Inoue 2011", "Smith 1999, earth mound")


def field_interval(burner: str, material: str, what: str) -> Estimate:
    lot = appraise(
        Heap(
            lots=[
                Lot(
                    material=material,
                    mass="100 kg",
                    thickness="30 mm",
                    moisture="15 % wet",
                    origin="own trees",
                )
            ]
        ),
        Burn(burner=burner),
    ).lots[0]
    assert lot.char_yield is not None
    assert lot.char_carbon is not None
    if what == "mass":
        return lot.char_yield
    # the carbon of the wood, as its row has it; the weight of the lot cancels
    carbon = load_tables().material(lot.row).carbon
    wood = lot.dry_mass.mid_value * (carbon.mid if carbon is not None else 0.49) / 100
    return Estimate(
        lot.char_carbon.low_value / wood,
        lot.char_carbon.mid_value / wood,
        lot.char_carbon.high_value / wood,
        "%",
    )


def covered(rows: list[tuple[str, str, str, float, str]]) -> list[tuple[str, str, float]]:
    """Prints where each value lies, and gives those that lie outside."""
    by_burner: dict[str, list[bool]] = {}
    missed = []
    for burner, material, what, value, source in rows:
        found = field_interval(burner, material, what)
        inside = found.low_value <= value <= found.high_value
        by_burner.setdefault(burner, []).append(inside)
        print(f"{burner}, {what}: {value} in {found}; at {place(found, value):+.2f} ({source})")
        if not inside:
            missed.append((burner, what, value))
    for burner, each in by_burner.items():
        print(f"{burner}: {sum(each)} of {len(each)} published values inside")
    return missed


@pytest.mark.published
def test_field_yields_that_were_no_input() -> None:
    rows = [row for row in FIELD if row[-1].startswith(INDEPENDENT)]
    assert len(rows) == 3
    assert not covered(rows)


@pytest.mark.transcribed
def test_field_yields_that_set_the_burners() -> None:
    rows = [row for row in FIELD if not row[-1].startswith(INDEPENDENT)]
    assert len(rows) > 20
    assert not covered(rows)


@pytest.mark.transcribed
def test_emissions_are_told_by_moisture() -> None:
    # Cornelissen 2023, abstract: methane 0 to 3.6 g per kg char below 15 % moisture, over 500 above
    # 40 %
    dry = appraise(
        Heap(lots=[Lot(material="hazel", mass="20 kg", moisture="12 % wet", origin="own trees")]),
        Burn(**CONE),
    ).burn
    assert dry is not None
    assert dry.emissions is not None
    assert "methane 0 to 4 g" in str(dry.emissions.text)
    assert "500 g" in str(dry.emissions.text)
