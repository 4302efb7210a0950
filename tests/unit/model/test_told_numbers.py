"""Numbers of a result as JSON: what was round when it was given is round when it is told, and
reading gives back what was written.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from builders import tables
from feedstock import Appraisal, Burn, Heap, Lot, appraise


@pytest.fixture(scope="module")
def result() -> Appraisal:
    lots = [
        Lot(
            material="plum",
            mass="48 lb",
            moisture="14 to 19 % wet, likely 16 % wet",
            thickness="18 mm",
            origin="own trees",
        ),
        Lot(material="oak", volume="0.3 m^3", packing="stacked", moisture="25 % dry"),
    ]
    burn = Burn(burner="cone pit", diameter="3 ft", depth="17 in")
    return appraise(Heap(lots=lots), burn, tables())


def floats(value: Any) -> Iterator[float]:
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from floats(each)
    elif isinstance(value, float):
        yield value


@pytest.mark.worked
def test_what_was_given_is_told_to_the_digit(result: Appraisal) -> None:
    """3 ft are 0.9144 m and 17 in 0.4318 m, both exactly; 25 % of the dry matter are a fifth of the
    whole.
    """
    told = json.loads(result.model_dump_json())
    first, second = (lot["moisture"] for lot in told["lots"])
    assert (first["low"], first["mid"], first["high"]) == (14.0, 16.0, 19.0)
    assert second["mid"] == 20.0
    section = told["burn"]["section"]
    assert (section["rim"]["mid"], section["depth"]["mid"]) == (0.9144, 0.4318)
    assert section["widths"][-1] == 0.9144


@pytest.mark.property
def test_no_number_has_more_digits_than_are_told(result: Appraisal) -> None:
    text = result.model_dump_json()
    numbers = list(floats(json.loads(text)))
    assert len(numbers) > 200
    assert [number for number in numbers if float(f"{number:.14g}") != number] == []
    again = Appraisal.model_validate_json(text)
    assert again == result and again.model_dump_json() == text
