"""Day and place: dry spell, wind, time of day, distances and what ends the burn are told once each,
where they apply, in the reader's units, with a public page as the source.
"""

from __future__ import annotations

import re

import pytest

from builders import heap, tables
from feedstock import Burn, appraise
from feedstock.words import say

pytestmark = pytest.mark.regression

ALWAYS = {"weather", "wind", "time-of-day", "end-of-the-burn"}


def codes(burner: str) -> list[str]:
    return [item.code for item in appraise(heap(), Burn(burner=burner), tables()).cautions]


@pytest.mark.parametrize(
    ("burner", "more"),
    [
        ("cone pit", {"distances", "neighbours"}),
        ("trench", {"distances", "neighbours"}),
        ("kettle", {"distances", "neighbours"}),
        ("barbecue", {"neighbours"}),
        ("retort", set()),
    ],
)
def test_what_applies(burner: str, more: set[str]) -> None:
    found = codes(burner)
    assert len(found) == len(set(found))
    asked = {*ALWAYS, "distances", "neighbours"}
    assert asked & set(found) == ALWAYS | more


def test_wind_and_distance_are_told_once_and_in_the_readers_units() -> None:
    result = appraise(heap(), Burn(burner="cone pit"), tables())
    # 18 m / 0.3048 is 59.06 ft, which fire services call 60; 20 km/h / 1.609344 is 12.4 mph
    for units, speed, distance in (("metric", "20 km/h", "18 m"), ("us", "12 mph", "60 ft")):
        text = " ".join(say(item.message, units) for item in result.cautions)  # type: ignore[arg-type]
        assert text.count(speed) == 1
        assert text.count(distance) == 1
    told = [say(item.message) for item in result.cautions]
    assert sum(bool(re.search(r"\bdrought\b", text)) for text in told) == 1
    assert sum(bool(re.search(r"\bwind gets up\b", text)) for text in told) == 1
    assert sum(bool(re.search(r"\bbefore dusk\b", text)) for text in told) == 1


def test_what_comes_first_stands_first() -> None:
    """Whether to burn today, then where, then what ends it."""
    found = codes("cone pit")
    order = ["permit", "weather", "wind", "time-of-day", "distances", "end-of-the-burn"]
    assert [code for code in found if code in order] == order


def test_each_has_a_public_source() -> None:
    for item in appraise(heap(), Burn(burner="cone pit"), tables()).cautions:
        if item.code in {*ALWAYS, "distances", "neighbours"}:
            assert all("judgement" not in source.text for source in item.sources)
            assert {source.known for source in item.sources} == {"read"}
