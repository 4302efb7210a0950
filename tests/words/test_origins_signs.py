"""Origins and signs as people write them: each is known, and none leads to a better verdict than
the published lists leave, in round wood and in sawn. The judgements stand beside each word in
origins_signs.yaml.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from builders import tables, yaml_data
from feedstock import Lot, Verdict, appraise_lot

pytestmark = pytest.mark.published

WORDS = yaml_data(Path(__file__).parent / "origins_signs.yaml")
# judged stricter than the tables: card asks nothing of its print where none is seen, and what
# copper an organic orchard may take is asked by its origin
LENIENT = {"unprinted", "plain brown", "organic"}
# what lay in a cellar is asked about like all else out of a house
STRICTER = {"cellar"}


def verdict(**lot: Any) -> Verdict:
    given = Lot.model_validate({"mass": "20 kg", "moisture": "15 % wet", **lot})
    return appraise_lot(given, tables=tables()).verdict


def test_every_origin_is_known_and_none_is_lenient() -> None:
    stricter = set()
    for origin in WORDS["origins"]:
        text = origin["text"]
        round_wood = verdict(material="oak", signs=["bark on"], origin=text)
        sawn = verdict(material="sawn offcuts", origin=text)
        assert round_wood >= Verdict(origin["round wood"]), text
        assert sawn >= Verdict(origin["sawn"]), text
        if origin["round wood"] == "ready" and round_wood is not Verdict.READY:
            stricter.add(text)
    assert stricter == STRICTER


def test_every_sign_is_known_and_none_is_lenient() -> None:
    lenient, blocked = set(), []
    for sign in WORDS["signs"]:
        lot = WORDS["lots"][sign["lot"]]
        others = [lot["sign"]] if "sign" in lot else []
        found = verdict(
            material=lot["material"], origin=lot["origin"], signs=[*others, sign["text"]]
        )
        if found < Verdict(sign["at best"]):
            lenient.add(sign["text"])
        if sign["at best"] == "ready" and found is not Verdict.READY:
            blocked.append(sign["text"])
    assert lenient == LENIENT
    assert blocked == []


def test_hearsay_clears_nothing_that_a_read_mark_clears() -> None:
    pallet: dict[str, Any] = {"material": "pallet wood", "origin": "pallet"}
    assert verdict(**pallet, signs=["mark HT", "bare wood"]) is Verdict.READY
    for sign in WORDS["signs"]:
        if sign["effect"] == "hearsay":
            found = verdict(**pallet, signs=[sign["text"], "bare wood"])
            assert found is Verdict.CHECK_FIRST, sign["text"]
