"""Rows of an own set that say little: what cannot be known of a lot is asked for in one message
that names the field, and what its composition or a measurement says is used.
"""

from __future__ import annotations

from typing import Any

import pytest

from builders import own_set, tables
from feedstock import FeedstockError, Lot, appraise_lot, load_tables
from feedstock.tables.tables import Tables


def cell(number: float, unit: str) -> dict[str, Any]:
    ends = {"low": f"{0.9 * number:g} {unit}", "high": f"{1.1 * number:g} {unit}"}
    return {"value": f"{number:g} {unit}", **ends, "known": "judgement", "note": "ours"}


def with_row(**fields: Any) -> Tables:
    """The tables with a wood of our own that has these fields and no more."""
    row = {
        "names": {"en": ["tervil"]},
        "class": "hardwood",
        "form": "round",
        "ash": cell(0.7, "%"),
        **fields,
    }
    return load_tables(own_set(materials={"tervil": row}))


def lot(**words: Any) -> Lot:
    return Lot(**{"material": "tervil", "origin": "own trees", "moisture": "20 % wet", **words})


POLES = {"count": 3, "diameter": "60 mm", "length": "1 m"}


@pytest.mark.property
@pytest.mark.parametrize(
    ("row", "words", "code", "field", "remedy"),
    [
        (
            {},
            {"mass": "9 kg", "moisture": None, "thickness": "4 cm"},
            "no-moisture",
            "moisture",
            "22 % wet",
        ),
        ({}, {"mass": "9 kg"}, "no-thickness", "thickness", "thickness: 40 mm"),
        ({}, {"pieces": POLES}, "no-density", "material", "Weigh it"),
        (
            {"basic_density": cell(500, "kg/m^3")},
            {"volume": "1 m^3", "thickness": "40 mm"},
            "no-packing",
            "packing",
            "one of",
        ),
    ],
)
def test_what_a_row_does_not_say_is_asked_for(
    row: dict[str, Any], words: dict[str, Any], code: str, field: str, remedy: str
) -> None:
    with pytest.raises(FeedstockError) as error:
        appraise_lot(lot(**words), tables=with_row(**row))
    problem = next(problem for problem in error.value.problems if problem.code == code)
    assert problem.field.endswith(field)
    assert remedy in problem.expected


@pytest.mark.worked
def test_heat_follows_from_the_composition() -> None:
    """C 50, H 6, O 43, N 0.3, ash 0.7 % by the unified correlation: 0.3491 x 50 + 1.1783 x 6
    - 0.1034 x 43 - 0.0151 x 0.3 - 0.0211 x 0.7 = 20.06 MJ/kg dry, net 20.06 - 0.212 x 6
    - 0.0008 x 43 = 18.75. With 20 % water a kilogram has 0.8 x 18.75 = 15.00 MJ, of which
    0.2 x 2.443 = 0.489 MJ boil it: 3.26 %.
    """
    composition = {
        "carbon": cell(50, "%"),
        "hydrogen": cell(6, "%"),
        "oxygen": cell(43, "%"),
        "nitrogen": cell(0.3, "%"),
        "basic_density": cell(500, "kg/m^3"),
        "thickness": cell(40, "mm"),
    }
    result = appraise_lot(lot(mass="9 kg"), tables=with_row(**composition))
    assert result.water_heat is not None
    assert result.water_heat.mid_value == pytest.approx(3.26, abs=0.02)


@pytest.mark.worked
def test_a_measured_bulk_density_is_dry_mass_per_heaped_volume() -> None:
    """Half a cubic metre of straw at 80 kg/m3 without soil is 40 kg dry, however wet it
    lies."""
    words = {
        "material": "wheat straw",
        "volume": "500 L",
        "packing": "loose",
        "origin": "farm",
        "soil": "0 %",
    }
    for moisture in ("10 % wet", "18 % wet"):
        result = appraise_lot(
            lot(**words, moisture=moisture, measured={"bulk_density": "80 kg/m^3"}),
            tables=tables(),
        )
        assert result.dry_mass.mid_value == pytest.approx(40.0, rel=1e-9)
        assert result.density is not None
        assert result.density.mid_value == pytest.approx(80.0, rel=1e-9)
