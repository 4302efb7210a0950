"""The panel on which a set is tried: what it holds, and that nothing gets easier or lost unsaid."""

from __future__ import annotations

from typing import Any

import pytest

from builders import own_set, tables
from feedstock.contrib.check import check
from feedstock.contrib.panel import judged
from feedstock.contrib.report import report_text
from feedstock.contrib.subjects import subjects
from feedstock.model.findings import Verdict
from feedstock.tables.loading.source import TableSource
from feedstock.tables.rows.contaminant import Contaminant
from feedstock.tables.rows.material import Material

pytestmark = pytest.mark.property

CELL = {"known": "judgement", "note": "for the test"}
GREEN = {"green": {"value": "10 % wet", "low": "9 % wet", "high": "11 % wet", **CELL}}


def codes(**contents: Any) -> set[str]:
    report = check(TableSource.of(own_set(**contents)))
    assert report.passed == (not report.errors)
    assert report.passed == ("Nothing to fix." in report_text(report))
    return {problem.code for problem in report.errors}


def test_the_panel_holds_a_lot_for_every_row_that_can_decide() -> None:
    held = tables()
    made = subjects(held)
    lots = [lot for heap, _ in made.values() for lot in heap.lots]
    found = {
        "signs": {held.find("signs", sign) for lot in lots for sign in lot.signs},
        "origins": {held.find("origins", lot.origin) for lot in lots},
        "materials": {held.find("materials", lot.material) for lot in lots},
    }
    assert found["signs"] == set(held.rows["signs"])
    assert found["origins"] == set(held.rows["origins"])
    for row_id, row in held.rows["materials"].items():
        if isinstance(row, Material) and (row.carries or row.history == "needed"):
            assert row_id in found["materials"], row_id
    names = {(lot.name or "").rpartition(" ")[0] for lot in lots}
    for row_id, row in held.rows["contaminants"].items():
        if isinstance(row, Contaminant) and row.raised_by:
            assert row_id.partition(":")[2] in names, row_id


def test_every_lot_of_the_panel_can_be_appraised_and_every_verdict_is_there() -> None:
    held = tables()
    found = [v for heap, burn in subjects(held).values() for v in judged(heap, burn, held)]
    assert not [each for each in found if isinstance(each, str)]
    assert {Verdict.READY, Verdict.CHECK_FIRST, Verdict.KEEP_OUT} <= set(found)


def test_a_number_that_lets_wet_wood_in_is_an_error() -> None:
    """Green alder stands in no named heap; the lots of what changed are made for it."""
    assert codes(amend={"materials": {"alder": {"moisture": GREEN}}}) == {"looser"}


def test_one_thing_said_does_not_cover_another_unsaid() -> None:
    said = {"permits": "ready", "loosens": {"reason": "a test"}}
    assert not codes(amend={"contaminants": {"street-tree": said}})
    both = {"contaminants": {"street-tree": said}, "materials": {"alder": {"moisture": GREEN}}}
    assert codes(amend=both) == {"looser"}


def test_a_lot_that_is_lost_is_an_error_even_where_it_is_said() -> None:
    """A row that is replaced by one without moisture or density can be appraised no longer."""
    bare = {"names": {"en": ["alder"]}, "class": "hardwood", "form": "round"}
    said = {**bare, "loosens": {"reason": "a test"}}
    assert "lost" in codes(replace={"materials": {"alder": said}})
