"""What reading words costs, counted in operations of the interpreter."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest

from builders import own_set, tables
from costs import calls, operations
from feedstock import FeedstockError, Heap, Lot, appraise, load_tables
from feedstock.errors import MOST_PROBLEMS
from feedstock.lot.words import hits_in
from feedstock.tables.names.danger import scan

pytestmark = pytest.mark.regression


def lots(count: int, **more: Any) -> Heap:
    return Heap.model_validate(
        {
            "lots": [
                {"material": "oak", "mass": f"{20 + i} kg", "moisture": "15 % wet", **more}
                for i in range(count)
            ]
        }
    )


def test_reading_words_adds_at_most_a_tenth_to_a_lot() -> None:
    """Lots with remarks of their own against the same lots without; each text is kept once read."""
    found = tables()
    plain = lots(20, origin="own trees")
    told = lots(20, origin="own trees", remarks="cut in february behind the shed")
    for heap in (plain, told):
        appraise(heap, tables=found)
    bare, read = (operations(partial(appraise, heap, tables=found)) for heap in (plain, told))
    print(f"20 lots: {bare:,} operations without remarks, {read:,} with")
    assert read <= 1.1 * bare
    fresh = operations(partial(scan, found, "felled last winter beside the hedge"))
    print(f"a text of six words that is new: {fresh:,} operations, a known lot {bare // 20:,}")
    assert fresh <= 0.1 * bare / 20


def test_a_text_is_read_once() -> None:
    found = tables()
    text = "stacked dry on the east side of the hedge"
    first = operations(partial(hits_in, text, "remarks", found, False))
    again = operations(partial(hits_in, text, "remarks", found, False))
    print(f"a text of nine words: {first:,} operations, again {again:,}")
    assert again < 50 < first


@pytest.mark.parametrize("fault", ["like", "carries"])
def test_wrong_names_cost_no_more_each_than_the_rows(fault: str) -> None:
    """What a wrong name looks like is said of as many as are shown, and not worked out for more:
    ten times the faults cost at most twelve times the calls.
    """
    load_tables(plugins=False)
    counted = {}
    for count in (MOST_PROBLEMS * 2, MOST_PROBLEMS * 20):
        wrong = {"like": "hardwod"} if fault == "like" else {"like": "oak", "carries": ["pant"]}
        rows = {f"w{i}": {"names": {"en": [f"qq{i}"]}, **wrong} for i in range(count)}

        def load(rows: dict[str, Any] = rows) -> None:
            with pytest.raises(FeedstockError):
                load_tables(own_set("faults", materials=rows), plugins=False)

        counted[count] = calls(load)
    few, many = counted.values()
    print(f"{fault}: {few:,} calls for 100 wrong names, {many:,} for 1,000")
    assert many <= 12 * few


def test_an_unknown_name_is_answered_by_looking_at_few_of_many() -> None:
    """Of 5,000 more names no more operations than a hundred each would take, after the first."""
    rows = {
        f"w{i}": {"names": {"en": [f"wood{i % 97} tree{i}"]}, "like": "oak"} for i in range(5000)
    }
    many = load_tables(own_set("many", materials=rows), plugins=False)

    def ask(name: str) -> None:
        with pytest.raises(FeedstockError):
            appraise(Heap(lots=[Lot(material=name, mass="5 kg")]), tables=many)

    ask("wodo12 treee7")
    taken = operations(partial(ask, "wodo13 treee8"))
    print(f"an unknown name among 5,000: {taken:,} operations")
    assert taken < 100_000
