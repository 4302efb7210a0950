"""What loading and appraising cost, as ratios within one run: absolute times say more of the
machine than of the code.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml

from builders import TABLE_FILES
from feedstock import Burn, Heap, Lot, appraise, load_tables
from feedstock.contrib.check import check
from feedstock.tables.loading.source import TableSource
from feedstock.tables.rows import cell

pytestmark = pytest.mark.regression


def best(run: Callable[[], object], times: int = 5) -> float:
    """The quickest of several runs, which is the one least disturbed; what other tests left is kept
    from the collector.
    """
    found = []
    gc.collect()
    gc.freeze()
    try:
        for _ in range(times):
            start = time.process_time()
            run()
            found.append(time.process_time() - start)
    finally:
        gc.unfreeze()
    return min(found)


def test_loading_costs_at_most_three_times_what_parsing_does() -> None:
    texts = [path.read_text(encoding="utf-8") for path in TABLE_FILES]

    def parse() -> None:
        for text in texts:
            yaml.load(text, Loader=yaml.CSafeLoader)

    def load() -> None:
        load_tables.refresh()
        cell._read.cache_clear()
        load_tables(plugins=False)

    parsing, loading = best(parse), best(load)
    print(
        f"parsing {1000 * parsing:.0f} ms, loading and validating {1000 * loading:.0f} "
        f"ms, ratio {loading / parsing:.2f}"
    )
    assert loading <= 3 * parsing


def test_a_second_load_is_a_look_into_the_cache() -> None:
    load_tables()
    taken = best(load_tables, 200)
    print(f"second load {1e6 * taken:.1f} us")
    assert taken < 50e-6


def _many(folder: Path, rows: int) -> Path:
    cell = "{value: 620 kg/m^3, low: 560 kg/m^3, high: 690 kg/m^3, source: s, at: row}"
    lines = [
        "set: {name: many, version: '1', schema: 1}",
        "sources: {s: {title: many}}",
        "materials:",
    ]
    for number in range(rows):
        lines += [
            f"  wood-{number}:",
            f"    names: {{en: [wood number {number}]}}",
            "    like: hardwood",
            f"    basic_density: {cell}",
            "    ash: {value: 1.2 %, low: 0.6 %, high: 2.4 %, known: judgement, note: "
            "made up for a measurement}",
        ]
    path = folder / f"{rows}.yaml"
    path.write_text("\n".join(lines) + "\n")
    return path


@pytest.mark.slow
def test_large_sets_load_and_check_in_time_that_grows_with_their_rows(tmp_path: Path) -> None:
    per_row = {}
    for rows in (500, 5_000, 50_000):
        source = TableSource.of(_many(tmp_path, rows))
        start = time.process_time()
        tables = load_tables(source, plugins=False)
        loaded = time.process_time() - start
        assert len(tables.rows["materials"]) > rows
        start = time.process_time()
        assert check(source, with_panel=False).passed
        checked = time.process_time() - start
        base = best(lambda: load_tables.refresh() or load_tables(plugins=False), 2)
        per_row[rows] = ((loaded - base) / rows, checked / rows)
        print(f"{rows} rows: loaded in {loaded:.2f} s, checked in {checked:.2f} s")
    assert per_row[50_000][0] < 3 * per_row[5_000][0]
    assert per_row[50_000][1] < 3 * per_row[5_000][1]


def test_a_heap_is_appraised_while_one_waits() -> None:
    tables = load_tables(plugins=False)
    lots = [
        Lot(
            name=f"lot {n}",
            material="oak",
            pieces={"count": n + 1, "diameter": "60 mm", "length": "1 m"},
            moisture="18 % dry",
            origin="own trees",
        )
        for n in range(50)
    ]
    heap = Heap(lots=lots)
    taken = best(lambda: appraise(heap, Burn(burner="cone pit"), tables), 3)
    print(f"50 lots appraised in {1000 * taken:.0f} ms")
    assert taken < 5
