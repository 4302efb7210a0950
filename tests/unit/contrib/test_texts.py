"""The checker asks for quantities in braces in what a row says to a reader."""

from __future__ import annotations

from typing import Any

import pytest

from builders import own_set, tables
from feedstock import load_tables
from feedstock.contrib.check import check
from feedstock.contrib.texts import bare_quantities
from feedstock.errors import Problem
from feedstock.tables.loading.source import TableSource

pytestmark = pytest.mark.property


def own(text: Any) -> dict[str, Any]:
    caution = {"text": text, "when": {"always": "true"}, "order": "1", "known": "practice"}
    return own_set("own", cautions={"mine": caution})


def checked(text: Any) -> list[tuple[str, str]]:
    found: list[Problem] = []
    bare_quantities(load_tables(own(text), plugins=False), "own", found)
    return [(each.code, each.field) for each in found]


@pytest.mark.parametrize(
    "text",
    [
        "Keep {3 m} off.",
        "Keep {20 to 30 cm} off, at {350 degC}.",
        "Two loads in 30 minutes at 25 % moisture, 13 mg/kg.",
        {"en": "Keep {3 m} off.", "de": "{3 m} Abstand."},
    ],
)
def test_quantities_in_braces_and_ratios_pass(text: Any) -> None:
    assert checked(text) == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Keep 3 m off.", ("bare-quantity", "cautions.mine.text")),
        ("Have 20 litres ready.", ("bare-quantity", "cautions.mine.text")),
        ("Below 350 degC it is wood.", ("bare-quantity", "cautions.mine.text")),
        (
            {"en": "Keep {3 m} off.", "de": "3 m Abstand."},
            ("bare-quantity", "cautions.mine.text.de"),
        ),
        ("Keep {3 ells} off.", ("not-a-quantity", "cautions.mine.text")),
        ("Keep {far} off.", ("not-a-quantity", "cautions.mine.text")),
        ("Keep {3 m off.", ("not-a-quantity", "cautions.mine.text")),
    ],
)
def test_a_bare_quantity_is_an_error(text: Any, found: tuple[str, str]) -> None:
    assert found in checked(text)


def test_the_check_tells_it() -> None:
    report = check(TableSource.of(own("Keep 3 m off.")), with_panel=False)
    assert [(error.code, error.field) for error in report.errors] == [
        ("bare-quantity", "cautions.mine.text")
    ]


def test_the_reference_texts_have_no_bare_quantity() -> None:
    found: list[Problem] = []
    bare_quantities(tables(), "reference", found)
    assert found == []
