"""What brings an element is left out for a year or a region only where these are stated."""

from __future__ import annotations

import pytest

from builders import tables
from feedstock.lot.evidence import Evidence, surely_holds
from feedstock.tables.rows.contaminant import Condition

pytestmark = pytest.mark.worked

SINCE_2006_IN_THE_EU = Condition(after=2006, regions=("EU",))


def evidence(year: int | None, region: str | None) -> Evidence:
    said = {"signs": frozenset(), "traits": frozenset(), "carries": (), "history_needed": False}
    return Evidence(
        **said,  # type: ignore[arg-type]
        origin="reference:deck",
        material="reference:sawn-softwood",
        class_="softwood",
        form="sawn",
        year=year,
        region=region,
    )


@pytest.mark.parametrize(
    ("year", "region", "surely"),
    [
        (2015, "EU", True),
        (1990, "EU", False),
        (2015, "NZ", False),
        (None, "EU", False),
        (2015, None, False),
        (None, None, False),
    ],
)
def test_both_must_be_stated_and_hold(year: int | None, region: str | None, surely: bool) -> None:
    found = surely_holds(SINCE_2006_IN_THE_EU, evidence(year, region), tables())
    assert found is surely


@pytest.mark.parametrize(
    ("condition", "year", "region", "surely"),
    [
        (Condition(regions=("EU",)), None, "EU", True),
        (Condition(regions=("EU",)), 2015, None, False),
        (Condition(before=1950), 1930, None, True),
        (Condition(before=1950), None, "EU", False),
    ],
)
def test_what_is_not_asked_need_not_be_stated(
    condition: Condition, year: int | None, region: str | None, surely: bool
) -> None:
    assert surely_holds(condition, evidence(year, region), tables()) is surely
