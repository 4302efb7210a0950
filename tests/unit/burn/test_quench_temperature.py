"""The stated temperature of the char bed has one error: that of the table of instruments."""

from __future__ import annotations

import pytest

from feedstock import Burn, Heap, Lot, appraise, load_tables

pytestmark = pytest.mark.worked

# a probe that is 20 K out instead of the 50 K of a judged colour: 550 degC is 530 to 570
SET = {
    "set": {"name": "probe", "version": "1", "schema": 1},
    "amend": {
        "methods": {
            "usual-instruments": {
                "temperature": {"value": "20", "known": "judgement", "note": "for the test"}
            }
        }
    },
}


@pytest.mark.parametrize(("tables", "ends"), [((), (500, 600)), ((SET,), (530, 570))])
def test_water_and_carbon_take_the_error_of_the_table(
    tables: tuple[dict[str, object], ...], ends: tuple[float, float]
) -> None:
    heap = Heap(lots=[Lot(material="oak", mass="30 kg", moisture="18 % dry", origin="own trees")])
    burn = Burn(burner="cone pit", width="1 m", depth="0.5 m", temperature="550 degC")
    result = appraise(heap, burn, load_tables(*tables, plugins=False))
    of_water = {each.name: each for each in result.explain("burn.quench_water").inputs}
    of_carbon = {each.name: each for each in result.explain("lots[0].char_carbon").inputs}
    for each in (of_water["char_temperature"], of_carbon["temperature"]):
        assert (each.low, each.mid, each.high) == (ends[0], 550, ends[1])
        assert each.key == "burn:temperature"
