"""Burners in their order, fine feed by the way it is lit, and what an ash that was measured pays.

Written before the first run; no value here set a table, save where a line says so.
"""

from __future__ import annotations

from typing import Any

import pytest

from feedstock import Burn, Heap, Lot, LotAppraisal, appraise, load_tables
from feedstock.char.quality import quality
from feedstock.model.char import Quality

TABLES = load_tables(plugins=False)
pytestmark = pytest.mark.property


def lot_of(material: str, burn: Burn, **more: Any) -> LotAppraisal:
    words: dict[str, Any] = {"moisture": "12 % wet", "mass": "50 kg", "origin": "own garden"}
    return appraise(Heap(lots=[Lot(material=material, **{**words, **more})]), burn, TABLES).lots[0]


def yield_of(material: str, burn: Burn, **more: Any) -> tuple[float, float, float]:
    found = lot_of(material, burn, **more).char_yield
    assert found is not None
    return found.low_value, found.mid_value, found.high_value


@pytest.mark.parametrize("temperature", ["430 degC", "480 degC", "520 degC"])
@pytest.mark.parametrize("wood", ["oak", "pine", "willow"])
def test_a_retort_keeps_at_least_what_smouldering_keeps(wood: str, temperature: str) -> None:
    retort, drum, mound = (
        yield_of(wood, Burn(burner=burner, temperature=temperature), thickness="60 mm")[1]
        for burner in ("retort", "drum kiln", "mound")
    )
    assert retort >= drum
    assert retort >= mound


@pytest.mark.parametrize("feed", ["wheat straw", "leaves", "rice husk"])
def test_fine_feed_lit_from_the_top_keeps_more(feed: str) -> None:
    def carbon(firing: str) -> float:
        found = lot_of(feed, Burn(burner="pit", firing=firing)).char_carbon
        assert found is not None
        return found.mid_value

    # 0.60 over 0.25 of what the curve gives; the rest of the chain is the same
    assert carbon("top-lit") == pytest.approx(carbon("fed") * 0.60 / 0.25, rel=1e-9)


@pytest.mark.parametrize("stalk", ["maize stover", "sunflower stalks", "garden stalks"])
@pytest.mark.parametrize("thickness", [None, "25 mm"])
def test_no_stalk_leaves_more_carbon_than_oak(stalk: str, thickness: str | None) -> None:
    for burner in ("pit", "kettle", "campfire", "barbecue"):
        oak = lot_of("oak", Burn(burner=burner), thickness="60 mm")
        other = lot_of(stalk, Burn(burner=burner), thickness=thickness)
        assert oak.char_carbon is not None
        assert other.char_carbon is not None
        assert other.char_carbon.mid_value < oak.char_carbon.mid_value


def test_a_measured_ash_pays() -> None:
    # a table's ash adds 3.8 points in quadrature to the half-width of the curve
    burn = Burn(burner="retort")
    low, mid, high = yield_of("wheat straw", burn)
    ash = TABLES.material("reference:wheat-straw").ash
    assert ash is not None
    own = yield_of("wheat straw", burn, measured={"ash": f"{100 * ash.mid:.4g} %"})
    assert own[1] == pytest.approx(mid, rel=1e-3)
    assert own[2] - own[0] < 0.97 * (high - low)


def test_the_last_classes_of_decay_burn_away() -> None:
    burn = Burn(burner="pit")
    shares = [yield_of("oak", burn, thickness="60 mm", decay=each)[1] for each in (3, 4, 5)]
    assert shares[0] > shares[1] > shares[2]


def char_at(temperature: str, material: str = "oak") -> Quality:
    burn = Burn(burner="retort", temperature=temperature)
    lot = Lot(material=material, mass="50 kg", moisture="12 % wet", origin="own garden")
    return quality(appraise(Heap(lots=[lot]), burn, TABLES), tables=TABLES).lots[0]


@pytest.mark.parametrize("temperature", ["400 degC", "550 degC", "700 degC"])
@pytest.mark.parametrize("material", ["oak", "wheat straw", "walnut shells"])
def test_volatiles_hold_all_that_is_no_carbon(material: str, temperature: str) -> None:
    found = char_at(temperature, material)
    ash = found.ash.mid_value / 100
    carbon_most = found.organic_carbon.high_value / 100 / (1 - ash)
    assert found.volatile_matter.mid_value / 100 / (1 - ash) >= 1 - carbon_most - 0.02


def test_a_class_is_likely_with_room_alone() -> None:
    for temperature in ("400 degC", "500 degC", "600 degC", "650 degC", "700 degC", "750 degC"):
        found = char_at(temperature)
        agro = next(class_ for class_ in found.classes if class_.name.startswith("EBC-Agro"))
        # the limit of H/C is 0.7: the high end must be at 0.63 at most
        if found.hydrogen_to_carbon.high_value > 0.63:
            assert agro.meets != "likely", temperature
    assert agro.meets == "likely"
