"""Char-through time takes the oven-dry density of the piece, whatever way the amount was given."""

from __future__ import annotations

from typing import Any

import pytest

from feedstock import Burn, Heap, Lot, appraise, load_tables

pytestmark = pytest.mark.worked

# a load that is stopped by the clock: nothing of it is split first
BURN = Burn(burner="cone pit", width="1 m", depth="0.5 m", firing="top-lit", duration="2 h")
# measured basic density 600 kg/m3, shrinkage 0.265 (Simpson 1993): 600 / (1 - 0.265 x 0.6) = 713.4;
# Wood Handbook 2010, eq. 18-4 with u = 0.18 and fc = 0.62 (hardwood):
# m = -0.147 + 0.000564 x 713.4 + 1.21 x 0.18 + 0.532 x 0.62 = 0.80301; 18-3 on 30 mm:
# t = 0.80301 x 30^1.23 = 0.80301 x 65.593 = 52.67 min
MINUTES = 52.67

WAYS: dict[str, dict[str, Any]] = {
    "weighed": {"mass": "30 kg"},
    "counted": {"pieces": {"count": 10, "diameter": "60 mm", "length": "1 m"}},
    "stacked": {"stack": {"shape": "box", "width": "1 m", "length": "0.5 m", "height": "0.5 m"}},
    "heaped": {"volume": "200 L", "packing": "loose"},
    "contained": {"containers": {"count": 2, "of": "wheelbarrow"}},
}


def minutes(lot: Lot) -> float:
    plan = appraise(Heap(lots=[lot]), BURN, load_tables(plugins=False)).burn
    assert plan is not None
    (found,) = plan.char_through
    return found[1].mid_value


@pytest.mark.parametrize("way", WAYS)
def test_oven_dry_density_whatever_way_the_amount_is_given(way: str) -> None:
    lot = Lot(
        material="oak",
        thickness="60 mm",
        moisture="18 % dry",
        origin="own trees",
        measured={"basic_density": "600 kg/m^3"},
        **WAYS[way],
    )
    assert minutes(lot) == pytest.approx(MINUTES, rel=1e-4)


def test_a_counted_and_a_weighed_lot_of_one_row_take_as_long() -> None:
    """The row's own density (oak) goes the same way."""
    words: dict[str, Any] = {"material": "oak", "moisture": "18 % dry", "origin": "own trees"}
    counted = Lot(**words, pieces={"count": 10, "diameter": "60 mm", "length": "1 m"})
    weighed = Lot(**words, mass="20 kg", thickness="60 mm")
    assert minutes(counted) == pytest.approx(minutes(weighed), rel=1e-12)
