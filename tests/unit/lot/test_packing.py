"""What a word for how a lot lies says of its pieces."""

from __future__ import annotations

from typing import Any

import pytest

from builders import plan
from feedstock import Heap, Lot

PIT: dict[str, Any] = {"diameter": "1 m", "depth": "50 cm"}


def through(**lot: Any) -> tuple[float, float, float]:
    """Minutes in the flame until a piece is char."""
    made = Lot(**{"moisture": "15 % wet", "origin": "own trees", "name": "it", **lot})
    ((_, time),) = plan(Heap(lots=[made]), **PIT).char_through
    return time.low_value, time.mid_value, time.high_value


@pytest.mark.regression
@pytest.mark.parametrize("material", ["oak", "oak branches"])
@pytest.mark.parametrize("packing", ["brush", "packed brush"])
def test_brush_is_no_heap_of_limbs(material: str, packing: str) -> None:
    # a judgement made beforehand: about 15 mm (5 to 35); limbs of oak are several times as thick
    brush = through(material=material, volume="1 m^3", packing=packing)
    stated = through(material=material, volume="1 m^3", packing=packing, thickness="15 mm")
    assert brush[1] == pytest.approx(stated[1])
    assert brush[0] > 1
    assert brush[2] > 2 * brush[1]
    assert through(material=material, volume="1 m^3", packing="stacked")[1] > 1.5 * brush[1]


@pytest.mark.property
def test_a_thickness_that_was_told_stands() -> None:
    told = through(material="oak", volume="1 m^3", packing="brush", thickness="40 mm")
    assert told[1] == pytest.approx(through(material="oak", mass="40 kg", thickness="40 mm")[1])
    # and what is thinner anyway stays so
    assert through(material="twigs", volume="1 m^3", packing="brush")[1] == pytest.approx(
        through(material="twigs", mass="20 kg")[1]
    )
