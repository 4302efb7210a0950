"""What of its char a fire leaves, by how it is lit."""

from __future__ import annotations

import pytest

from builders import tables
from feedstock import Burn, Lot, appraise_lot

pytestmark = pytest.mark.worked


def char_yield(material: str, firing: str) -> float:
    """The char of a feed without ash, in a kettle."""
    lot = Lot(material=material, mass="100 kg", moisture="12 % wet", measured={"ash": "0 %"})
    found = appraise_lot(lot, Burn(burner="kettle", firing=firing), tables()).char_yield
    assert found is not None
    return found.mid_value


def test_fine_feed_that_is_lit_from_the_top_keeps_more_of_its_char() -> None:
    """60 % of it instead of 25 %; thick feed keeps the same."""
    kept = char_yield("wheat straw", "top-lit") / char_yield("wheat straw", "fed")
    assert kept == pytest.approx(0.60 / 0.25)
    assert char_yield("oak", "top-lit") == char_yield("oak", "fed")
