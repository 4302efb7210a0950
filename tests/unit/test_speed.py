"""What loading and appraising cost, counted in operations of the interpreter or in calls: times say
more of the machine than of the code, so they are printed and not asserted.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
import yaml

from builders import TABLE_FILES, own_set, tables
from costs import calls, compile_at_once, hand_chain, operations, seconds
from feedstock import Burn, Heap, Lot, appraise, appraise_lot, load_tables
from feedstock.contrib.check import check
from feedstock.tables.loading.build import build
from feedstock.tables.loading.kept import kept_reference
from feedstock.tables.loading.reader import read_set
from feedstock.tables.loading.source import TableSource, reference_source
from feedstock.tables.rows import cell

pytestmark = pytest.mark.regression

WOOD = {"my-wood": {"names": {"en": ["my wood"]}, "like": "hardwood"}}


def test_reading_the_files_costs_at_most_twice_their_parsing() -> None:
    """And that is paid once: what is kept of it costs next to nothing."""
    texts = [path.read_text(encoding="utf-8") for path in TABLE_FILES]

    def parse() -> None:
        for text in texts:
            yaml.load(text, Loader=yaml.CSafeLoader)

    def load() -> None:
        cell._read.cache_clear()
        build([read_set(reference_source())])

    def load_kept() -> None:
        load_tables.refresh()
        load_tables(plugins=False)

    def load_own() -> None:
        load_tables.refresh()
        load_tables(own_set("mine", materials=WOOD), plugins=False)

    load_kept()
    parsing, loading, kept, own = map(calls, (parse, load, load_kept, load_own))
    print(
        f"parsing {parsing:,} calls, loading and validating {loading:,}, ratio "
        f"{loading / parsing:.2f}; {1000 * seconds(parse, 1):.0f} and "
        f"{1000 * seconds(load, 1):.0f} ms"
    )
    print(f"what is kept of an earlier load {kept:,} calls, with a set of one row {own:,}")
    assert loading <= 2.0 * parsing
    if kept_reference() is not None:
        assert kept <= 0.05 * parsing
        assert own <= 0.1 * parsing


def test_a_second_load_is_a_look_into_the_cache() -> None:
    load_tables()
    taken = operations(load_tables)
    print(f"second load {taken} operations")
    assert taken < 200


def test_own_sets_are_laid_over_a_reference_that_is_read_once() -> None:
    """And a set that changes it leaves no trace in what was read."""
    bare = load_tables(plugins=False).digest
    load_tables.refresh()
    first, second = (
        calls(partial(load_tables, own_set(name, materials=WOOD), plugins=False))
        for name in ("mine", "yours")
    )
    print(f"first own set {first:,} calls, second {second:,}")
    assert second < first
    ash = {"value": "1 %", "low": "0.5 %", "high": "2 %", "known": "judgement", "note": "a test"}
    amended = own_set("amended", amend={"materials": {"reference:apple": {"ash": ash}}})
    changed = load_tables(amended, plugins=False).cell("materials", "reference:apple", ("ash",))
    assert changed is not None
    assert changed.mid == pytest.approx(0.01)
    assert load_tables(plugins=False).digest == bare


def written(folder: Path, rows: int) -> TableSource:
    """A set of so many woods."""
    density = "{value: 620 kg/m^3, low: 560 kg/m^3, high: 690 kg/m^3, source: s, at: row}"
    ash = "{value: 1.2 %, low: 0.6 %, high: 2.4 %, known: judgement, note: made up to measure}"
    lines = [
        "set: {name: many, version: '1', schema: 1}",
        "sources: {s: {title: many}}",
        f"materials: {'{}' if rows == 0 else ''}",
    ]
    for number in range(rows):
        lines += [
            # a name that is read as no plant and no form
            f"  xylon-{number}:",
            f"    names: {{en: [xylon number {number}]}}",
            "    like: hardwood",
            f"    basic_density: {density}",
            f"    ash: {ash}",
        ]
    path = folder / f"{rows}.yaml"
    path.write_text("\n".join(lines) + "\n")
    return TableSource.of(path)


def test_a_larger_set_is_checked_in_calls_that_grow_with_its_rows(tmp_path: Path) -> None:
    """Ten times the rows cost no more than twelve times as much, what the reference costs apart;
    loading is a part of it.
    """
    check(written(tmp_path, 1), with_panel=False)
    counted = {}
    for rows in (0, 10, 100):
        source = written(tmp_path, rows)
        counted[rows] = calls(partial(check, source, with_panel=False))
    few, many = (counted[rows] - counted[0] for rows in (10, 100))
    print(f"checking: {few / 10:,.0f} calls a row of 10, {many / 100:,.0f} of 100")
    assert many <= 12 * few


@pytest.mark.deep
def test_fifty_thousand_rows_cost_no_more_a_row_than_five_thousand(tmp_path: Path) -> None:
    per_row = {}
    for rows in (500, 5_000, 50_000):
        source = written(tmp_path, rows)
        load_tables.refresh()
        base = seconds(lambda: load_tables(plugins=False), 1)
        load_tables.refresh()
        loaded = seconds(partial(load_tables, source, plugins=False), 1)
        assert len(load_tables(source, plugins=False).rows["materials"]) > rows
        checked = seconds(partial(check, source, with_panel=False), 1)
        assert check(source, with_panel=False).passed
        per_row[rows] = ((loaded - base) / rows, checked / rows)
        print(f"{rows} rows: loaded in {loaded:.2f} s, checked in {checked:.2f} s")
    assert per_row[50_000][0] < 3 * per_row[5_000][0]
    assert per_row[50_000][1] < 3 * per_row[5_000][1]


def test_a_heap_costs_what_its_lots_cost(monkeypatch: pytest.MonkeyPatch) -> None:
    compile_at_once(monkeypatch)
    found, burn = tables(), Burn(burner="cone pit")

    def heap(count: int) -> Heap:
        return Heap(
            lots=[
                Lot(
                    name=f"lot {n}",
                    material="oak",
                    pieces={"count": n + 1, "diameter": "60 mm", "length": "1 m"},
                    moisture="18 % dry",
                    origin="own trees",
                )
                for n in range(count)
            ]
        )

    # a lot of a known kind costs less than the sums over several, so that several are compared
    few, more = heap(4), heap(32)
    appraise(more, burn, found)
    small, large = (operations(partial(appraise, each, burn, found)) for each in (few, more))
    print(
        f"4 lots {small:,} operations, 32 lots {large:,}; 32 lots in "
        f"{1000 * seconds(lambda: appraise(more, burn, found), 1):.0f} ms"
    )
    assert large <= 10 * small


def test_a_lot_costs_so_many_chains_written_by_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    """A kind of lot that is new, and one of a kind that was there, with another name and amount."""
    compile_at_once(monkeypatch)
    found, burn = tables(), Burn(burner="cone pit", width="1 m", depth="0.5 m")
    made = iter(range(1, 10_000))

    def known() -> Lot:
        number = next(made)
        return Lot(
            name=f"lot {number}",
            material="oak",
            mass=f"{20 + number} kg",
            moisture="18 % dry",
            origin="own trees",
        )

    def new() -> Lot:
        number = next(made)
        return Lot(
            name=f"lot {number}",
            material="oak",
            mass="20 kg",
            moisture=f"{12 + number / 1000:.3f} % dry",
            origin="own trees",
        )

    def ratio(lot: Callable[[], Lot], burn: Burn | None) -> tuple[float, float]:
        """By operations of the interpreter, and by time."""
        lots = [lot() for _ in range(24)]
        for each in lots[:3]:
            appraise_lot(each, burn, found)
        by_hand = partial(hand_chain, 20.0, 0.18, 0.01, 570.0, 0.01, 0.86, 0.22)
        count = operations(partial(appraise_lot, lots[3], burn, found)) / operations(by_hand)

        def many() -> None:
            for each in lots[4:]:
                appraise_lot(each, burn, found)

        chain = seconds(lambda: [by_hand() for _ in range(2000)], 5) / 2000
        return count, seconds(many, 1) / 20 / chain

    # what is asked: 900, 250 and 7,000; 4,000 where numpy is loaded, which nothing here asks for
    for words, lot, fire, most in (
        ("of a new kind", new, None, 600),
        ("of a known kind", known, None, 200),
        ("of a known kind, with its burn", known, burn, 4_000),
    ):
        count, time = ratio(lot, fire)
        print(f"a lot {words}: {count:,.0f} chains by operations, {time:,.0f} by time")
        assert count <= most
