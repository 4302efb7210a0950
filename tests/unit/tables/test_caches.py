"""What stays of tables that nobody uses any more."""

from __future__ import annotations

import gc
import weakref

import pytest

from builders import own_set
from feedstock import Heap, Lot, appraise, load_tables
from feedstock.tables.caches import MOST
from feedstock.tables.tables import Tables

pytestmark = pytest.mark.property

HEAP = Heap(lots=[Lot(material="oak", mass="12 kg", moisture="22 % wet", origin="own trees")])


def test_a_program_that_lays_new_sets_on_all_day_holds_few_of_them() -> None:
    """Each is used, and dropped; what is worked out of it goes with those that came after."""
    made: list[weakref.ref[Tables]] = []
    first = appraise(HEAP, tables=load_tables(plugins=False))
    for number in range(3 * MOST):
        tables = load_tables(own_set(f"set{number}"), plugins=False)
        assert appraise(HEAP, tables=tables).char_mass == first.char_mass
        made.append(weakref.ref(tables))
        del tables
    gc.collect()
    assert sum(each() is not None for each in made) <= MOST + 1
