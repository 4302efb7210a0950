"""The checker asks for quantities in braces in what a row says to a reader."""

from __future__ import annotations

from typing import Any

import pytest

from feedstock.contrib.check import check
from feedstock.tables.loading.source import TableSource, reference_source

pytestmark = pytest.mark.property


def checked(text: Any) -> list[tuple[str, str]]:
    caution = {"text": text, "when": {"always": "true"}, "order": "1", "known": "practice"}
    own = {
        "set": {"name": "own", "version": "1", "schema": "1"},
        "cautions": {"mine": caution},
    }
    report = check(TableSource.of(own), with_panel=False)
    return [(each.code, each.field) for each in report.errors]


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


def test_the_reference_texts_have_no_bare_quantity() -> None:
    report = check(reference_source(), with_panel=False)
    assert [
        each for each in report.errors if each.code in ("bare-quantity", "not-a-quantity")
    ] == []
