"""What is offered for a refused word: never first a name that would make a danger look clean."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from builders import tables, yaml_data
from feedstock import FeedstockError, Heap, Lot, UnknownName, Verdict, appraise
from feedstock.tables.rows.contaminant import Clears

pytestmark = pytest.mark.published

HERE = Path(__file__).parent


def phrases() -> list[str]:
    """Every dangerous phrase of the corpora, wherever it stood."""
    found: list[str] = []
    for half in ("a", "b", "c", "d"):
        given: dict[str, Any] = yaml_data(HERE / f"corpus_{half}.yaml")
        found += [each["text"] for each in given["phrases"] if each["judgement"] == "dangerous"]
    return found


def asked(**words: Any) -> Heap:
    lot = {"material": "oak", "mass": "20 kg", "moisture": "15 % wet", "origin": "own trees"}
    return Heap(lots=(Lot.model_validate(lot | words),))


@cache
def clean(name: str) -> bool:
    """Whether a lot of that material would be ready at its best."""
    try:
        found = appraise(asked(material=name), tables=tables()).lots[0]
    except FeedstockError:
        return False
    return found.verdict is Verdict.READY


@pytest.mark.parametrize("field", ["material", "origin", "signs"])
def test_no_clean_name_is_offered_first_for_a_danger(field: str) -> None:
    """A sign or an origin that clears is offered as little as a clean material."""
    index = tables().index({"material": "materials", "origin": "origins"}.get(field, "signs"))
    clearing = {
        row_id
        for row in tables().rows["clears"].values()
        if isinstance(row, Clears)
        for name in getattr(row.when, field if field == "signs" else f"{field}s")
        for row_id in index.find(name)
    }
    wrong, refused = [], 0
    for phrase in phrases():
        try:
            given = (phrase,) if field == "signs" else phrase
            appraise(asked(**{field: given}), tables=tables())
        except UnknownName as why:
            refused += 1
            nearest = why.problems[0].nearest[:1]
            if field == "material":
                wrong += [(phrase, name) for name in nearest if clean(name)]
            else:
                wrong += [(phrase, name) for name in nearest if set(index.find(name)) & clearing]
        except FeedstockError:
            continue
    assert refused > 20
    assert wrong == []
