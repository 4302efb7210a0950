"""Ways past a gate that were once open, and the question that each of them now meets.

The verdicts were judged beforehand: sawn wood is suspect by default (waste-wood law classes only
natural or merely mechanically worked wood as untreated, and asks for proof), a claim that was
heard clears nothing that a mark that was read clears, and a plant that is poisonous to eat and
whose smoke is little studied is asked about, never silent.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from pydantic import ValidationError

from builders import own_set, tables
from feedstock import Heap, InputError, Lot, Verdict, appraise, blend, load_tables
from feedstock.compost.beds import beds
from feedstock.model.appraisal import LotAppraisal
from feedstock.model.findings import Finding
from feedstock.tables.tables import Tables

pytestmark = pytest.mark.property


def judged(found: Tables | None = None, /, **fields: Any) -> LotAppraisal:
    given = {"mass": "10 kg", "moisture": "12 % wet", **fields}
    if "pieces" in fields:
        del given["mass"]
    return appraise(Heap(lots=[Lot.model_validate(given)]), tables=found or tables()).lots[0]


def finding(lot: LotAppraisal, code: str) -> Finding:
    return next(f for f in lot.findings if f.code == code)


# ---- sawn wood


SAWN_ORIGINS = (
    "own trees",
    "own garden",
    "farm",
    "tree surgeon",
    "bought firewood",
    "orchard",
    "roadside",
    "workshop",
    "furniture",
    "shore",
    "unknown",
)


@pytest.mark.parametrize("origin", SAWN_ORIGINS)
def test_sawn_wood_needs_a_sign_from_wherever_it_comes(origin: str) -> None:
    assert judged(material="sawn offcuts", origin=origin).verdict >= Verdict.CHECK_FIRST
    assert judged(material="oak boards", origin=origin).verdict >= Verdict.CHECK_FIRST


@pytest.mark.parametrize("origin", ["own trees", "tree surgeon", "workshop"])
def test_bare_wood_clears_what_was_sawn_from_a_known_log(origin: str) -> None:
    lot = judged(material="sawn offcuts", origin=origin, signs=["bare wood"])
    assert lot.verdict is Verdict.READY
    assert finding(lot, "sawn-unproven").cleared


def test_sawn_wood_of_an_origin_that_no_rule_names_is_suspect() -> None:
    """A set may name an origin that the rules here do not know."""
    loaded = load_tables(
        own_set(
            "mill",
            origins={
                "mill": {
                    "names": {"en": ["zzmill"]},
                    "meaning": "A mill.",
                    "known_history": "true",
                    "loosens": {"reason": "a mill that I know"},
                }
            },
        ),
        plugins=False,
    )
    lot = judged(loaded, material="sawn offcuts", origin="zzmill", signs=["bare wood"])
    assert lot.verdict is Verdict.CHECK_FIRST
    assert finding(lot, "sawn-unproven").permits is Verdict.CHECK_FIRST


def test_bare_wood_does_not_clear_a_board_with_a_bad_sign() -> None:
    for sign in ("green tint", "glue line", "old fence post", "cable drum", "outdoor timber"):
        lot = judged(material="sawn offcuts", origin="own trees", signs=["bare wood", sign])
        assert lot.verdict >= Verdict.CHECK_FIRST, sign


# ---- furniture, drums, brands, paper


@pytest.mark.parametrize("material", ["oak", "beech", "twigs", "pine", "bamboo", "walnut shell"])
def test_furniture_stays_to_be_checked_when_bare_and_solid(material: str) -> None:
    lot = judged(material=material, origin="furniture", signs=["bare wood", "solid wood"])
    assert lot.verdict is Verdict.CHECK_FIRST


@pytest.mark.parametrize("origin", ["own trees", "workshop", "own garden", "farm"])
@pytest.mark.parametrize("signs", [[], ["bare wood"]])
def test_a_cable_drum_is_asked_about_as_material_too(origin: str, signs: list[str]) -> None:
    lot = judged(material="cable drum", origin=origin, signs=signs)
    assert lot.verdict is Verdict.KEEP_OUT
    assert finding(lot, "wood-preservative").permits is Verdict.KEEP_OUT
    newer = judged(material="cable drum", origin=origin, signs=signs, year=2005)
    assert newer.verdict is Verdict.CHECK_FIRST


@pytest.mark.parametrize("name", ["brands", "half-burnt wood", "half-charred pieces"])
def test_brands_of_unknown_origin_are_asked_about(name: str) -> None:
    assert judged(material=name).verdict is Verdict.CHECK_FIRST
    assert judged(material=name, origin="own garden").verdict is Verdict.READY


def test_waste_paper_is_no_plain_paper() -> None:
    for origin in ("own garden", "unknown"):
        assert judged(material="waste paper", origin=origin).verdict is Verdict.CHECK_FIRST
    assert judged(material="plain paper", origin="own garden").verdict is Verdict.READY


# ---- hearsay


def test_a_heat_treatment_that_was_told_is_not_the_mark_that_was_read() -> None:
    told = judged(material="pallet wood", origin="pallet", signs=["heat treated", "bare wood"])
    assert told.verdict is Verdict.CHECK_FIRST
    assert not any(f.code == "heat-treatment-mark" for f in told.findings)
    read = judged(material="pallet wood", origin="pallet", signs=["mark HT", "bare wood"])
    assert read.verdict is Verdict.READY


def test_organic_is_not_unsprayed() -> None:
    """Copper is allowed in organic orchards, and a label says nothing of what came by the cart."""
    old: dict[str, Any] = {"material": "apple", "origin": "orchard"}
    assert judged(**old, signs=["no old orchard", "organic"]).verdict is Verdict.CHECK_FIRST
    unsprayed = judged(**old, signs=["no old orchard", "not sprayed two seasons"])
    assert unsprayed.verdict is Verdict.READY
    assert judged(material="hay", origin="farm", signs=["organic"]).verdict is Verdict.CHECK_FIRST


# ---- poisonous plants


POISONOUS = ("yew", "laburnum", "rhododendron", "cherry laurel")


@pytest.mark.parametrize("plant", POISONOUS)
def test_a_poisonous_plant_is_asked_about_as_sign_and_as_material(plant: str) -> None:
    as_material = judged(material=plant, origin="own garden")
    as_sign = judged(material="twigs", origin="own garden", signs=[plant])
    for lot in (as_material, as_sign):
        assert lot.verdict is Verdict.CHECK_FIRST
        found = finding(lot, "toxic-shrub")
        assert not found.cleared
        assert found.settle
    assert plant.split()[-1] in as_material.material
    titles = " ".join(c.text for c in finding(as_material, "toxic-shrub").sources)
    assert "ivy" not in titles
    assert "oleander" not in titles.lower()


@pytest.mark.parametrize("plant", POISONOUS)
def test_dry_wood_without_leaves_is_the_answer_that_clears(plant: str) -> None:
    lot = judged(material=plant, origin="own garden", signs=["dry wood without leaves"])
    assert lot.verdict is Verdict.READY
    assert finding(lot, "toxic-shrub").cleared
    both = ["dry wood without leaves", "oleander"]
    assert judged(material=plant, origin="own garden", signs=both).verdict is Verdict.KEEP_OUT


@pytest.mark.parametrize("sign", ["box", "black locust"])
def test_box_and_locust_stay_to_be_seen(sign: str) -> None:
    lot = judged(material="twigs", origin="own garden", signs=[sign])
    assert lot.verdict is Verdict.READY
    assert finding(lot, "toxic-shrub").action


# ---- weedkiller: own ground


@pytest.mark.parametrize("material", ["hay", "reed", "grass clippings", "bean haulm"])
@pytest.mark.parametrize("origin", ["own garden", "own trees"])
def test_what_grew_on_own_ground_is_asked_the_right_question(material: str, origin: str) -> None:
    asked = judged(material=material, origin=origin)
    assert asked.verdict is Verdict.CHECK_FIRST
    found = finding(asked, "persistent-herbicide")
    for word in ("lawn or field weedkiller", "manure or straw from elsewhere"):
        assert word in f"{found.action} {found.settle}"
    assert "Ask the grower" not in f"{found.action} {found.settle}"
    cleared = judged(material=material, origin=origin, signs=["no weedkiller"])
    assert finding(cleared, "persistent-herbicide").cleared
    if material != "grass clippings":  # whose char is mostly ash, another question
        assert cleared.verdict is Verdict.READY


def test_the_answer_of_own_ground_clears_nothing_of_others() -> None:
    for origin in ("farm", "unknown", "orchard", "roadside"):
        lot = judged(material="hay", origin=origin, signs=["no weedkiller"])
        assert lot.verdict is Verdict.CHECK_FIRST, origin
    for bad in ("sprayed", "spray history unknown"):
        lot = judged(material="hay", origin="own garden", signs=["no weedkiller", bad])
        assert lot.verdict >= Verdict.CHECK_FIRST


# ---- boards by their measures


def boards(material: str, **more: Any) -> dict[str, Any]:
    pieces = {"count": 10, "width": "140 mm", "thickness": "28 mm", "length": "2 m"}
    return {"material": material, "pieces": pieces, **more}


@pytest.mark.parametrize("material", ["oak", "pine", "beech", "hardwood", "twigs", "brands"])
def test_a_width_and_a_thickness_make_any_wood_sawn(material: str) -> None:
    own = judged(**boards(material, origin="own trees"))
    assert own.verdict is Verdict.CHECK_FIRST
    assert finding(own, "sawn-unproven").settle
    assert any("counts as sawn wood" in str(note) for note in own.notes)
    assert finding(judged(**boards(material)), "unknown-history").permits is Verdict.CHECK_FIRST
    bare = judged(**boards(material, origin="own trees", signs=["bare wood"]))
    assert bare.verdict is Verdict.READY


def test_a_round_log_and_a_sawn_row_stay_what_they_are() -> None:
    log = {"count": 10, "diameter": "140 mm", "length": "2 m"}
    assert judged(material="oak", pieces=log, origin="own trees").verdict is Verdict.READY
    offcuts = judged(**boards("sawn offcuts", origin="workshop", signs=["bare wood"]))
    assert offcuts.verdict is Verdict.READY
    assert not any("counts as sawn wood" in str(note) for note in offcuts.notes)
    assert judged(**boards("plywood", origin="workshop")).verdict is Verdict.KEEP_OUT


def test_boards_are_kept_apart_from_rounds_that_say_the_same() -> None:
    """Both go through what is kept of lots that say the same but for their amount."""
    log = {"count": 10, "diameter": "140 mm", "length": "2 m"}
    lots = [
        Lot.model_validate({**fields, "name": name, "moisture": "12 % wet", "origin": "own trees"})
        for name, fields in (
            ("boards", boards("oak")),
            ("rounds", {"material": "oak", "pieces": log}),
            ("more boards", boards("oak")),
        )
    ]
    result = appraise(Heap(lots=lots), tables=tables())
    assert [lot.verdict.value for lot in result.lots] == ["check first", "ready", "check first"]


# ---- a year that has not come


def test_a_deck_of_the_year_2200_is_refused() -> None:
    with pytest.raises(ValidationError) as why:
        Lot(material="treated timber", mass="1 kg", origin="deck", year=2200)
    assert "has not come yet" in str(why.value)
    assert "at most" in str(why.value)
    assert Lot(material="oak", mass="1 kg", year=date.today().year).year


# ---- char of what is not ready


def test_a_mix_and_beds_take_the_char_that_is_ready() -> None:
    ready = {"material": "oak", "mass": "10 kg", "moisture": "12 % wet", "origin": "own trees"}
    doubtful = {**ready, "material": "sawn offcuts", "mass": "90 kg", "name": "boards"}
    both = appraise(Heap(lots=[ready, doubtful]), tables=tables())
    mixed = blend(both, [("straw", "200 L")], tables=tables())
    assert mixed.char.volume.mid_value == pytest.approx(both.char_volume_ready.mid_value)
    assert mixed.char.volume.mid_value < 0.3 * both.char_volume.mid_value
    assert beds(both, tables=tables()).char.mid_value < 0.3 * both.char_mass.mid_value
    for nothing in (appraise(Heap(lots=[doubtful]), tables=tables()), both.lots[1]):
        with pytest.raises(InputError, match="nothing of it is ready"):
            blend(nothing, tables=tables())
