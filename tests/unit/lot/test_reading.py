"""A material as a gardener writes it is read as plant, form and state, and the result says how."""

from __future__ import annotations

import pytest

from builders import tables
from feedstock import Estimate, Heap, Lot, UnknownName, Verdict, appraise, appraise_lot

pytestmark = pytest.mark.regression


@pytest.mark.parametrize(
    "written, row, told",
    [
        ("oak branches", "reference:oak", "read as: oak, branches, about 30 mm"),
        ("branches of oak", "reference:oak", "read as: oak, branches, about 30 mm"),
        ("apple logs", "reference:apple", "read as: apple wood, logs, about 150 mm"),
        ("rotten beech log", "reference:beech", "read as: beech, logs, about 150 mm; rotten"),
    ],
)
def test_plant_form_and_state_are_understood(written: str, row: str, told: str) -> None:
    result = appraise_lot(
        Lot(material=written, mass="20 kg", moisture="15 % wet", origin="own trees"),
        tables=tables(),
    )
    assert result.row == row
    assert str(result.read_as) == told
    assert result.name == written
    assert any(str(note) == told for note in result.notes)


def test_a_rows_own_name_is_not_read_anew() -> None:
    result = appraise_lot(Lot(material="oak", mass="20 kg", origin="own trees"), tables=tables())
    assert result.read_as is None


def test_what_the_words_set_is_what_a_person_would_state() -> None:
    """Rotten is class 4, branches are 10 to 80 mm: said in fields it is the same char."""
    read = appraise_lot(
        Lot(material="rotten beech branches", volume="200 L", moisture="15 % wet"), tables=tables()
    )
    stated = appraise_lot(
        Lot(
            material="beech",
            volume="200 L",
            packing="loose",
            thickness="10 to 80 mm, likely 30 mm",
            decay=4,
            moisture="15 % wet",
        ),
        tables=tables(),
    )
    assert read.char_mass == stated.char_mass
    assert read.dry_mass == stated.dry_mass


def test_what_a_person_states_stands_before_the_words() -> None:
    lot = Lot(material="rotten oak", mass="20 kg", decay=2, moisture="15 % wet", origin="own trees")
    same = Lot(material="oak", mass="20 kg", decay=2, moisture="15 % wet", origin="own trees")
    read, stated = (appraise_lot(each, tables=tables()) for each in (lot, same))
    assert read.char_mass == stated.char_mass


def test_boards_of_a_clean_tree_ask_for_their_history() -> None:
    """Sawn wood whose past is unknown is checked first, whatever tree it came from."""
    result = appraise_lot(
        Lot(material="oak boards", mass="20 kg", moisture="15 % wet"), tables=tables()
    )
    assert result.verdict >= Verdict.CHECK_FIRST
    whole = appraise_lot(Lot(material="oak", mass="20 kg", moisture="15 % wet"), tables=tables())
    assert whole.verdict < result.verdict


@pytest.mark.parametrize(
    "written", ["creosoted fence boards", "treated pine", "willow baskets", "ash", "apple shells"]
)
def test_what_is_not_wholly_understood_is_refused(written: str) -> None:
    with pytest.raises(UnknownName) as raised:
        appraise(Heap(lots=[Lot(material=written, mass="20 kg")]), tables=tables())
    assert raised.value.problems[0].field == "lots[0].material"


@pytest.mark.parametrize(
    "measured",
    [
        {"pieces": {"count": 6, "diameter": "350 mm", "length": "1.2 m"}},
        {"mass": "20 kg", "thickness": "350 mm"},
    ],
)
def test_a_thickness_that_was_measured_is_not_told_as_another(measured: dict[str, object]) -> None:
    lot = Lot.model_validate({"material": "spruce logs", "origin": "own trees", **measured})
    read = appraise_lot(lot, tables=tables()).read_as
    assert read is not None
    assert "about" not in str(read)


@pytest.mark.parametrize("written", ["log ends", "firewood offcuts", "oak log offcuts"])
def test_ends_of_logs_are_round_wood_and_no_boards(written: str) -> None:
    result = appraise_lot(
        Lot(material=written, mass="20 kg", moisture="15 % wet", origin="own trees"),
        tables=tables(),
    )
    assert result.verdict is Verdict.READY


def test_a_word_of_two_meanings_is_asked_back_with_an_example() -> None:
    with pytest.raises(UnknownName, match="'ash' has two meanings: add what it is, as in 'ash br"):
        appraise_lot(Lot(material="ash", mass="20 kg"), tables=tables())


def codes(material: str, remarks: str, origin: str, *signs: str) -> set[str]:
    lot = Lot(material=material, mass="20 kg", remarks=remarks, origin=origin, signs=signs)
    return {finding.code for finding in appraise_lot(lot, tables=tables()).findings}


@pytest.mark.parametrize("material", ["newspaper", "plane tree", "office paper"])
def test_a_material_is_not_asked_for_its_own_words(material: str) -> None:
    """Plane boards and printed paper are warned of by these words elsewhere."""
    assert "word-heard" not in codes(material, material, "own garden")


def test_a_sign_answers_the_words_of_its_name_and_one_that_clears_only_the_whole() -> None:
    assert "word-heard" not in codes("oak", "paint", "own trees", "flaking paint")
    assert "word-heard" not in codes("wheat straw", "was sprayed", "farm", "spray history unknown")
    assert "word-heard" in codes("wheat straw", "sprayed", "farm", "not sprayed two seasons")


def test_rotted_wood_of_no_class_may_be_of_any_but_the_first() -> None:
    """So it is known less well, to both sides, than wood of the class in the middle, and lies
    between the second class and the fourth.
    """

    def dry_mass(decay: int | None) -> Estimate:
        heaped = {"volume": "200 L", "packing": "loose", "moisture": "18 % wet"}
        lot = Lot.model_validate({"material": "rotted wood", **heaped, "decay": decay})
        return appraise_lot(lot, tables=tables()).dry_mass

    unknown, third = dry_mass(None), dry_mass(3)
    assert unknown.low_value < third.low_value
    assert unknown.high_value > third.high_value
    assert dry_mass(4).mid_value < unknown.mid_value < dry_mass(2).mid_value
