"""What reading words costs, counted in operations of the interpreter."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import pytest

from builders import own_set, tables
from costs import calls, operations
from feedstock import FeedstockError, Heap, Lot, appraise, load_tables
from feedstock.errors import MOST_PROBLEMS
from feedstock.lot.words import hits_in
from feedstock.tables.names.danger import scan
from feedstock.tables.tables import Tables

pytestmark = pytest.mark.regression


NEW_TEXTS = (
    "felled last winter beside the hedge",
    "stacked dry on the east side of the hedge",
    "the big branch that came down in the gale, sawn up in march",
)
"""Remarks of six, nine and twelve words that nothing has read before in this order."""


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
    known = bare // 20
    for text in NEW_TEXTS:
        scan(found, " ".join(reversed(text.split())))  # a process reads what a word means once
        fresh = operations(partial(scan, found, text))
        print(f"a new text of {len(text.split())} words: {fresh:,} of {known:,} operations")
        assert fresh <= 0.1 * known


def test_a_text_is_read_once() -> None:
    found = tables()
    text = "stacked dry on the east side of the hedge"
    first = operations(partial(hits_in, text, "remarks", found, "any"))
    again = operations(partial(hits_in, text, "remarks", found, "any"))
    print(f"a text of nine words: {first:,} operations, again {again:,}")
    assert again < 50 < first


FAULTS: dict[str, Callable[[int], dict[str, Any]]] = {
    "like": lambda i: {"materials": {f"w{i}": {"names": {"en": [f"qq{i}"]}, "like": "hardwod"}}},
    "carries": lambda i: {
        "materials": {f"w{i}": {"names": {"en": [f"qq{i}"]}, "like": "oak", "carries": ["pant"]}}
    },
    "amend": lambda i: {
        "amend": {"materials": {f"hardwod{i}": {"names": {"add": {"en": [f"qq{i}"]}}}}}
    },
    "replace": lambda i: {"replace": {"materials": {f"hardwod{i}": {"like": "oak"}}}},
    "raised_by": lambda i: {"contaminants": {f"c{i}": {"raised_by": {"signs": ["pantd"]}}}},
}


def faulty(fault: str, count: int) -> dict[str, Any]:
    """A set with so many wrong names."""
    whole: dict[str, Any] = {}
    for number in range(count):
        for part, rows in FAULTS[fault](number).items():
            held = whole.setdefault(part, {})
            if part in ("amend", "replace"):
                for kind, changes in rows.items():
                    held.setdefault(kind, {}).update(changes)
            else:
                held.update(rows)
    return own_set("faults", **whole)


QUICK = ("like", "raised_by")


@pytest.mark.parametrize(
    "fault", [*QUICK, *(pytest.param(f, marks=pytest.mark.deep) for f in FAULTS if f not in QUICK)]
)
def test_a_wrong_name_costs_no_more_than_its_row(fault: str) -> None:
    """What a wrong name looks like is said of as many as are shown, and not worked out for more.

    5,000 may take 2 s: at three and a half million calls a second of Python 3.11 that is 1,400
    calls for each.
    """
    counted = []
    for count in (MOST_PROBLEMS, MOST_PROBLEMS * 20, MOST_PROBLEMS * 30):
        given = faulty(fault, count)

        def load(given: dict[str, Any] = given) -> None:
            with pytest.raises(FeedstockError):
                load_tables(given, plugins=False)

        counted.append(calls(load))
    _, few, many = counted  # the first pays for what a process does once
    each = (many - few) / (MOST_PROBLEMS * 10)
    print(f"{fault}: {each:,.0f} calls for each wrong name more, {few:,} for 1,000")
    assert each <= 1_400


def test_an_unknown_name_is_answered_by_looking_at_few_of_many() -> None:
    """Of 5,000 more names no more operations than a hundred each would take, the first included."""
    rows = {
        f"w{i}": {"names": {"en": [f"wood{i % 97} tree{i}"]}, "like": "oak"} for i in range(5000)
    }
    load_tables(plugins=False)
    load_tables.refresh()  # from here on the reference is the kept one, in a fresh checkout too
    many = load_tables(own_set("many", materials=rows), plugins=False)

    def ask(name: str, of: Tables = many) -> None:
        with pytest.raises(FeedstockError):
            appraise(Heap(lots=[Lot(material=name, mass="5 kg")]), tables=of)

    ask(
        "wodo11 treee6", load_tables(plugins=False)
    )  # what a process does once, whatever the tables
    for name in ("wodo12 treee7", "wodo13 treee8"):
        taken = operations(partial(ask, name))
        print(f"an unknown name among 5,000: {taken:,} operations")
        assert taken < 100_000


def test_a_name_of_a_large_set_costs_few_calls_to_load() -> None:
    """50,000 names in some seconds: at three and a half million calls a second of Python 3.11 six
    hundred calls for each name, with its fifth of a row, are nine.
    """
    counted = []
    for count in (100, 100, 200):
        rows = {
            f"w{i}": {
                "names": {
                    "en": [
                        f"wood{i % 97} tree{i}",
                        f"gork{i}",
                        f"plim{i} wood",
                        f"zun{i}",
                        f"tar{i}",
                    ]
                },
                "like": "oak",
            }
            for i in range(count)
        }
        given = own_set("many", materials=rows)
        counted.append(calls(partial(load_tables, given, plugins=False)))
    _, few, many = counted  # the first pays for what a process does once
    each = (many - few) / 500
    print(f"{each:,.0f} calls for each name more, {few:,} for 500")
    assert each <= 600
