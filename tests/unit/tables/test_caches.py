"""What stays of tables that nobody uses any more."""

from __future__ import annotations

import gc
import weakref
from pathlib import Path

import pytest

from builders import own_set
from feedstock import Heap, Lot, appraise, load_tables
from feedstock.tables.caches import MOST
from feedstock.tables.loading.load import _cache
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


def test_of_sets_from_files_the_last_few_are_kept(tmp_path: Path) -> None:
    """The reference alone, and as many sets as leave something in what is worked out of tables; one
    that is asked for again counts as the last, and a file that was changed is kept once.
    """
    load_tables.refresh()
    alone = load_tables(plugins=False)
    paths = [tmp_path / f"{number}.yaml" for number in range(MOST + 1)]
    for path in paths:
        path.write_text(f"set: {{name: own-{path.stem}, version: '1', schema: 2}}\n")
    first, *rest = (load_tables(path, plugins=False) for path in paths[:MOST])
    assert load_tables(paths[0], plugins=False) is first
    load_tables(paths[MOST], plugins=False)
    assert load_tables(paths[0], plugins=False) is first
    assert load_tables(plugins=False) is alone
    assert load_tables(paths[1], plugins=False) is not rest[0]
    for version in ("2", "3", "4"):
        paths[1].write_text(f"set: {{name: own-1, version: '{version}', schema: 2}}\n# {version}\n")
        assert load_tables(paths[1], plugins=False).version_of("own-1") == version
    assert load_tables(paths[0], plugins=False) is first
    assert len(_cache) <= MOST + 1
