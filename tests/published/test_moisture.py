"""Equilibrium moisture, the two bases and the ceiling, against the Wood Handbook.

Sources: Forest Products Laboratory 2010, Wood Handbook, FPL-GTR-190, Table 4-2 (equilibrium
moisture), eq. 4-1 (dry basis), eq. 4-3 (highest moisture, specific gravity of the cell wall 1.54).
"""

from __future__ import annotations

import pytest

from feedstock.physics.moisture import (
    dry_basis,
    equilibrium_moisture,
    highest_moisture,
    oven_dry_mass,
    water_to_lose,
    wet_basis,
    wet_from_weighing,
)
from feedstock.tables.loading.load import load_tables
from feedstock.tables.rows.methods.wood import Equilibrium, WoodWater
from reference.moisture import water

# Wood Handbook 2010, Table 4-2: % dry basis; temperature in degC, then 5 to 95 % relative humidity
# by 5.
TABLE_4_2 = """
-1.1  1.4 2.6 3.7 4.6 5.5 6.3 7.1 7.9 8.7 9.5 10.4 11.3 12.4 13.5 14.9 16.5 18.5 21.0 24.3
 4.4  1.4 2.6 3.7 4.6 5.5 6.3 7.1 7.9 8.7 9.5 10.4 11.3 12.3 13.5 14.9 16.5 18.5 21.0 24.3
10.0  1.4 2.6 3.6 4.6 5.5 6.3 7.1 7.9 8.7 9.5 10.3 11.2 12.3 13.4 14.8 16.4 18.4 20.9 24.3
15.6  1.3 2.5 3.6 4.6 5.4 6.2 7.0 7.8 8.6 9.4 10.2 11.1 12.1 13.3 14.6 16.2 18.2 20.7 24.1
21.1  1.3 2.5 3.5 4.5 5.4 6.2 6.9 7.7 8.5 9.2 10.1 11.0 12.0 13.1 14.4 16.0 17.9 20.5 23.9
26.7  1.3 2.4 3.5 4.4 5.3 6.1 6.8 7.6 8.3 9.1  9.9 10.8 11.7 12.9 14.2 15.7 17.7 20.2 23.6
32.2  1.2 2.3 3.4 4.3 5.1 5.9 6.7 7.4 8.1 8.9  9.7 10.5 11.5 12.6 13.9 15.4 17.3 19.8 23.3
37.8  1.2 2.3 3.3 4.2 5.0 5.8 6.5 7.2 7.9 8.7  9.5 10.3 11.2 12.3 13.6 15.1 17.0 19.5 22.9
43.3  1.1 2.2 3.2 4.0 4.9 5.6 6.3 7.0 7.7 8.4  9.2 10.0 11.0 12.0 13.2 14.7 16.6 19.1 22.4
48.9  1.1 2.1 3.0 3.9 4.7 5.4 6.1 6.8 7.5 8.2  8.9  9.7 10.6 11.7 12.9 14.4 16.2 18.6 22.0
"""
CELLS = [
    (float(temperature), percent / 100, float(value))
    for temperature, *values in (line.split() for line in TABLE_4_2.split("\n") if line)
    for percent, value in zip(range(5, 100, 5), values, strict=True)
]


def equilibrium(temperature: float, humidity: float) -> float:
    """% dry basis, with the coefficients of the reference tables."""
    _, row = load_tables().method("equilibrium", Equilibrium)
    return 100 * float(
        equilibrium_moisture(
            temperature, humidity, **{name: cell.mid for name, cell in row.coefficients.items()}
        )
    )


@pytest.mark.published
def test_the_table_was_copied_whole() -> None:
    assert len(CELLS) == 190


@pytest.mark.published
@pytest.mark.parametrize("temperature, humidity, printed", CELLS)
def test_every_cell_of_table_4_2(temperature: float, humidity: float, printed: float) -> None:
    # half a digit of rounding in the table, and its temperatures are rounded from degF
    assert equilibrium(temperature, humidity) == pytest.approx(printed, abs=0.1)


@pytest.mark.worked
def test_worked_example() -> None:
    # W, K, K1, K2 at 20 degC and 65 %, worked by hand from the coefficients
    moisture = equilibrium(20.0, 0.65)
    assert moisture == pytest.approx(11.996, abs=0.0005)
    assert 100 * wet_basis(moisture / 100) == pytest.approx(10.71, abs=0.005)


@pytest.mark.worked
@pytest.mark.parametrize(
    "humidity, dry, wet",
    [
        (40, 7.7, 7.2),
        (50, 9.3, 8.5),
        (60, 11.0, 9.9),
        (70, 13.1, 11.6),
        (75, 14.5, 12.6),
        (80, 16.0, 13.8),
        (85, 18.0, 15.3),
        (90, 20.5, 17.0),
    ],
)
def test_air_of_20_degc(humidity: int, dry: float, wet: float) -> None:
    moisture = equilibrium(20.0, humidity / 100)
    assert moisture == pytest.approx(dry, abs=0.0501)
    assert 100 * wet_basis(moisture / 100) == pytest.approx(wet, abs=0.0501)


# Wood Handbook eq. 4-1 and its rearrangement; one digit behind the point as tables of both bases
# print it
@pytest.mark.worked
@pytest.mark.parametrize(
    "wet, dry",
    [
        (5, 5.3),
        (10, 11.1),
        (15, 17.6),
        (16.7, 20.0),
        (20, 25.0),
        (25, 33.3),
        (30, 42.9),
        (33.3, 50.0),
        (40, 66.7),
        (50, 100.0),
        (60, 150.0),
    ],
)
def test_wet_and_dry_basis(wet: float, dry: float) -> None:
    # 16.7 and 33.3 are themselves rounded: 0.05 wet is up to 0.12 dry there
    allowed = 0.0501 if float(wet).is_integer() else 0.12
    assert 100 * dry_basis(wet / 100) == pytest.approx(dry, abs=allowed)
    assert 100 * wet_basis(dry / 100) == pytest.approx(wet, abs=0.0501)


@pytest.mark.worked
def test_twenty_per_cent_dry_is_one_sixth_wet() -> None:
    assert wet_basis(0.20) == pytest.approx(1 / 6, rel=1e-12)
    assert round(100 * wet_basis(0.20), 1) == 16.7


@pytest.mark.worked
def test_piece_dried_in_the_oven() -> None:
    # a piece of 250.0 g dries to 178.6 g at 103 degC (ASTM D4442): 71.4 g water, 28.6 % wet, 40.0 %
    # dry
    wet = wet_from_weighing(0.2500, 0.1786)
    assert 100 * wet == pytest.approx(28.6, abs=0.05)
    assert 100 * dry_basis(wet) == pytest.approx(40.0, abs=0.05)
    assert oven_dry_mass(100.0, wet) == pytest.approx(71.4, abs=0.05)
    assert water(0.1786, dry_basis(wet)) == pytest.approx(0.0714, abs=5e-7)


@pytest.mark.worked
def test_water_to_lose_on_the_way_to_firewood() -> None:
    # red oak, 80 to 20 % dry: 33 % of the green weight goes, beech, 60 to 20 %: 25 %; loggers'
    # tables print 31 and 24
    for green, printed in ((0.80, 0.33), (0.60, 0.25)):
        assert water_to_lose(1 / (1 + green), green, wet_basis(0.20)) == pytest.approx(
            printed, abs=0.005
        )


@pytest.mark.worked
@pytest.mark.parametrize(
    "specific_gravity, percent", [(0.3, 268), (0.4, 185), (0.5, 135), (0.6, 102), (0.7, 78)]
)
def test_highest_moisture(specific_gravity: float, percent: int) -> None:
    # Wood Handbook eq. 4-3: 100 (1.54 - G)/(1.54 G)
    _, row = load_tables().method("wood-water", WoodWater)
    assert round(100 * highest_moisture(specific_gravity, row.cell_wall.mid)) == percent
