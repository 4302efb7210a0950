"""Whether round wood is counted in its bark follows the sign, by any of its names."""

from __future__ import annotations

import math

import pytest

from feedstock import Heap, Lot, appraise, load_tables

pytestmark = pytest.mark.worked

TABLES = load_tables(plugins=False)


def dry_mass(*signs: str) -> float:
    lot = Lot(
        material="oak",
        pieces={"count": 10, "diameter": "60 mm", "length": "1 m"},
        moisture="30 % dry",
        origin="own trees",
        signs=signs,
    )
    return appraise(Heap(lots=[lot]), tables=TABLES).lots[0].dry_mass.mid_value


@pytest.mark.parametrize(
    "word", ["bare wood", "Bare-Wood", "bare", "uncoated", "reference:bare-wood"]
)
def test_every_name_of_the_sign_takes_the_bark_off(word: str) -> None:
    oak = TABLES.material("reference:oak").basic_density
    assert oak is not None
    # 10 x pi/4 x (0.06 m)^2 x 1 m of wood and nothing else; at fibre saturation it has its green
    # volume, so that basic density gives the dry mass
    volume = 10 * math.pi / 4 * 0.06**2
    assert dry_mass(word) == pytest.approx(volume * oak.mid, rel=1e-9)


def test_round_wood_is_in_its_bark_without_that_sign() -> None:
    row = TABLES.material("reference:oak")
    assert row.basic_density and row.bark_density and row.bark_volume
    volume, share = 10 * math.pi / 4 * 0.06**2, row.bark_volume.mid
    expected = volume * (row.basic_density.mid + share * row.bark_density.mid) / (1 + share)
    assert dry_mass() == dry_mass("bark on") == pytest.approx(expected, rel=1e-9)


def test_an_own_set_may_say_the_same_of_a_sign_of_its_own() -> None:
    peeled = {
        "set": {"name": "peeled", "version": "1", "schema": 1},
        "signs": {
            "peeled": {
                "names": {"en": ["peeled"]},
                "meaning": "The bark was taken off.",
                "without_bark": "true",
                "known": "judgement",
            }
        },
    }
    lot = Lot(
        material="oak",
        pieces={"count": 10, "diameter": "60 mm", "length": "1 m"},
        moisture="30 % dry",
        origin="own trees",
        signs=["peeled"],
    )
    result = appraise(Heap(lots=[lot]), tables=load_tables(peeled, plugins=False))
    assert result.lots[0].dry_mass.mid_value == pytest.approx(dry_mass("bare wood"), rel=1e-12)
