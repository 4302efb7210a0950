"""A class says by its row which carbon it asks for, and carbon is reckoned as carbon."""

from __future__ import annotations

from typing import Any

import pytest

from builders import own_set, tables
from feedstock import Burn, Heap, Lot, appraise, load_tables
from feedstock.char.composition import chars_of
from feedstock.char.quality import quality
from feedstock.tables.rows.methods.standards import CharStandards
from feedstock.tables.tables import Tables
from feedstock.uncertainty.formula import formula_of


def of_class(key: str, **fields: Any) -> str:
    """What is said of the carbon of oak char by a class of that key."""
    asked = {"value": "60 %", "known": "judgement", "note": "made up for the test"}
    standards = tables().method("char-standards", CharStandards)[0]
    own = own_set(
        amend={
            "methods": {
                standards: {
                    "classes": {
                        key: {"name": "Own", "version": "1", "carbon_least": asked, **fields}
                    }
                }
            }
        }
    )
    used = load_tables(own, plugins=False)
    qualities = quality(appraised(used), tables=used)
    return next(str(class_.why) for class_ in qualities.lots[0].classes if class_.name == "Own")


def appraised(used: Tables) -> Any:
    heap = Heap(lots=[Lot(material="oak", mass="20 kg", moisture="15 % wet", origin="own trees")])
    return appraise(heap, Burn(burner="kettle", temperature="600 degC"), used)


@pytest.mark.regression
def test_the_row_says_which_carbon_it_asks_for() -> None:
    assert "fixed carbon" in of_class("barbecue", carbon="fixed")
    assert "organic carbon" in of_class("soil")


@pytest.mark.regression
def test_the_spelling_of_its_key_says_nothing() -> None:
    assert "organic carbon" in of_class("en-example")


@pytest.mark.published
def test_carbon_of_ash_free_char_is_carbon() -> None:
    # Neves et al. 2011: C = 0.93 - 0.92 exp(-0.0042 T); at 600 degC 0.93 - 0.92 x 0.080460 = 0.8560
    (char,) = chars_of(appraised(tables()), tables())
    (step,) = [each for each in char.steps if each.output == "plain_carbon"]
    assert formula_of(step.function).name == "carbon in ash-free char"
    assert char.figures("plain_carbon")["plain_carbon"].mid == pytest.approx(0.8560, abs=5e-5)
