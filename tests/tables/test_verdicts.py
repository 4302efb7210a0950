"""The verdict of every material with every origin and sign is what it was in version 1.0, save what
was changed on purpose.

verdicts.yaml holds the verdicts of then. Here stand the changes since, each with its reason; a
verdict that differs otherwise, and so any permission of a row that was loosened, is a failure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any

import pytest

from builders import tables, yaml_data
from feedstock import Heap, Lot, Verdict, appraise
from feedstock.model.appraisal import LotAppraisal
from feedstock.tables.rows.contaminant import Contaminant

pytestmark = pytest.mark.regression

ORDER = (Verdict.READY, Verdict.DRY_FIRST, Verdict.CHECK_FIRST, Verdict.KEEP_OUT)
YEARS = (1935, 1962, 1985, 2003, 2007, 2024)
REGIONS = (None, "US", "CA", "EU", "UK", "AU")
Cell = tuple[str, str, str]
"""A material, an origin and a sign."""


CHANGED = (("yew", "own-trees"), ("cable-drum", "workshop"), ("brands", "unknown"))


class Table:
    """The verdicts of version 1.0."""

    def __init__(self, told: dict[str, Any]) -> None:
        self.signs: list[str] = told["signs"]
        self.classes: list[list[str]] = [part["materials"] for part in told["classes"]]
        self.permits: dict[str, Any] = told["permits"]
        self.dated: list[tuple[str, str, str, int]] = [tuple(row) for row in told["dated"]]
        self.rows: dict[tuple[str, str], str] = {}
        self.origins: list[str] = []
        for part in told["classes"]:
            for (row, origins), material in product(part["rows"].items(), part["materials"]):
                for origin in origins:
                    self.rows[material, origin] = told["rows"][row]
        self.origins = list(dict.fromkeys(origin for _, origin in self.rows))

    def verdict(self, material: str, origin: str, sign: str) -> Verdict:
        return ORDER[int(self.rows[material, origin][self.signs.index(sign)])]


@cache
def table() -> Table:
    return Table(yaml_data(Path(__file__).parent / "verdicts.yaml"))


def expected(cell: Cell) -> Verdict:
    """The verdict of version 1.0 with what was changed since."""
    material, origin, sign = cell
    verdict = table().verdict(*cell)
    if material == "cable-drum":
        return (
            Verdict.KEEP_OUT
        )  # what it was built of is to be looked up, and was treated as a rule
    asked = {
        # nobody has looked at its smoke: as any softwood, and asked about
        material == "yew",
        # poisonous to eat, smoke little studied: never silent
        sign == "toxic-shrub",
        # ink on wood, straw or leaves is a coating; plain paper may be printed black
        sign == "printed" and material not in ("paper", "glossy-paper"),
        # sawn wood of own trees and tree surgeons needs a look
        material in ("sawn-offcuts", "hardwood-offcuts")
        and origin in ("own-trees", "tree-surgeon")
        and sign != "bare-wood",
        # half-burnt wood of a fire that nobody knows
        material == "brands" and origin == "unknown",
    }
    if material == "yew":
        verdict = table().verdict("softwood", origin, sign)
    return max(verdict, Verdict.CHECK_FIRST) if any(asked) else verdict


def lot(cell: Cell, **more: Any) -> Lot:
    material, origin, sign = cell
    return Lot(
        material=f"reference:{material}",
        mass="20 kg",
        moisture="15 % wet",
        origin=f"reference:{origin}",
        signs=[] if sign == "none" else [f"reference:{sign}"],
        **more,
    )


def lots_of(cells: Iterable[Cell]) -> Iterator[tuple[Cell, LotAppraisal]]:
    """Appraised by hundreds, since lots of a heap share what is worked out."""
    every = list(cells)
    for first in range(0, len(every), 200):
        some = every[first : first + 200]
        # without names of their own, in which a word could be heard
        found = appraise(Heap(lots=[lot(cell) for cell in some]), tables=tables())
        yield from zip(some, found.lots, strict=True)


def quick_cells() -> list[Cell]:
    """One material of each class from an origin of every kind, and every sign."""
    told = table()
    places: dict[tuple[str, str], Cell] = {}
    for materials in told.classes:
        for origin in told.origins:
            first, last = (materials[0], origin, "none"), (materials[-1], origin, "bare-wood")
            places.setdefault((materials[0], told.rows[materials[0], origin]), first)
            places.setdefault((materials[-1], ""), last)
    signs = told.signs
    return list(
        dict.fromkeys(
            [
                *places.values(),
                *product(["oak"], told.origins, ["none"]),
                *(("oak", "own-trees", sign) for sign in signs),
                *(("sawn-offcuts", "workshop", sign) for sign in signs[::2]),
                *(("straw", "own-garden", sign) for sign in signs[1::2]),
                *((place[0], place[1], sign) for place in CHANGED for sign in signs[::9]),
            ]
        )
    )


@pytest.fixture(scope="module")
def quick() -> list[tuple[Cell, LotAppraisal]]:
    return list(lots_of(quick_cells()))


def test_the_table_holds_every_lot_of_then() -> None:
    told = table()
    materials = [material for part in told.classes for material in part]
    assert len(set(materials)) == len(materials) == 168
    assert len(told.origins) == 16
    assert len(told.signs) == 58
    assert len(told.rows) == 168 * 16
    assert {len(row) for row in told.rows.values()} == {58}
    changed = sum(
        expected(cell) is not table().verdict(*cell)
        for cell in product(materials, told.origins, told.signs)
    )
    print(f"{changed:,} of {168 * 16 * 58:,} are to differ")
    assert changed == 2_054


def test_verdicts_are_those_of_then(quick: list[tuple[Cell, LotAppraisal]]) -> None:
    wrong = [(cell, str(found.verdict)) for cell, found in quick if found.verdict != expected(cell)]
    assert wrong == []
    assert len(quick) > 200


def test_each_suspicion_permits_what_it_did() -> None:
    """A gate that is looser shows here even where another one stands behind it."""
    permits: dict[str, Any] = {}
    for name, row in tables().rows["contaminants"].items():
        assert isinstance(row, Contaminant)
        parts: dict[str | int, str] = {"all": str(row.permits)}
        parts.update((n, str(rule.permits)) for n, rule in enumerate(row.raised_by) if rule.permits)
        permits[name.partition(":")[2]] = parts if len(parts) > 1 else parts["all"]
    assert permits == table().permits


@pytest.mark.deep
def test_every_verdict_is_that_of_then() -> None:
    told = table()
    firsts = [materials[0] for materials in told.classes]
    cells = [
        *product(firsts, told.origins, told.signs),
        *product([m for part in told.classes for m in part], told.origins, ["none"]),
    ]
    wrong = [
        (cell, str(found.verdict))
        for cell, found in lots_of(cells)
        if found.verdict != expected(cell)
    ]
    assert wrong == []


def dated(
    material: str, origin: str, sign: str, when: Iterable[tuple[int, str | None]]
) -> set[int]:
    lots = [
        lot((material, origin, sign), year=year, **({"region": region} if region else {}))
        for year, region in when
    ]
    found = appraise(Heap(lots=lots), tables=tables())
    return {ORDER.index(each.verdict) for each in found.lots}


def test_year_and_region_move_no_verdict() -> None:
    """The oldest and the newest of every region by turns; all of them in the deep run."""
    for number, (material, origin, sign, verdict) in enumerate(table().dated):
        region = REGIONS[number % len(REGIONS)]
        when = [(YEARS[0], region), (YEARS[-1], region)]
        assert dated(material, origin, sign, when) == {verdict}, (material, origin, sign)


@pytest.mark.deep
def test_no_year_and_region_moves_a_verdict() -> None:
    for material, origin, sign, verdict in table().dated:
        assert dated(material, origin, sign, product(YEARS, REGIONS)) == {verdict}
