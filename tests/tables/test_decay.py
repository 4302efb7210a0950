"""Density left by rot: the series never rises, and the cells are the published ones.

Sources: Westfall et al. 2024, GTR WO-104, density and bark proportions of standing dead trees, and
the FIA reference species table with the relative density of downed wood by decay class; both as
carried by the package nsvb.
"""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st
from nsvb.tables import REF_SPECIES, read_wood_density_proportions_table

from feedstock.physics.density import decay_series
from feedstock.tables.loading.load import load_tables
from feedstock.tables.rows.methods.wood import Decay

GROUPS = {"hardwood": "H", "softwood": "S"}


def decay() -> Decay:
    return load_tables().method("decay", Decay)[1]


def published_standing() -> dict[tuple[str, int], dict[str, float]]:
    found: dict[tuple[str, int], dict[str, float]] = read_wood_density_proportions_table(
        "WOOD_DENSITY_PROPORTIONS.csv"
    )
    return found


def downed(group: str) -> list[tuple[float, ...]]:
    """Decay ratios of classes 1 to 5 of every species of a group that has them."""
    names = [f"CWD_DECAY_RATIO{number}" for number in range(1, 6)]
    rows = [row for row in REF_SPECIES.values() if row["SFTWD_HRDWD"] == GROUPS[group]]
    return [
        tuple(float(row[name]) for name in names)
        for row in rows
        if all(row[name] for name in names)
    ]


@pytest.mark.property
@given(st.lists(st.floats(0.0, 1.5, allow_nan=False), max_size=8))
def test_series_never_rises_and_never_exceeds_sound_wood(factors: list[float]) -> None:
    series = decay_series(factors)
    assert len(series) == len(factors)
    assert all(later <= earlier for earlier, later in zip([1.0, *series], series, strict=False))
    assert all(made <= given for made, given in zip(series, factors, strict=True))
    # each is the least of what was seen so far, so a series that never rises is left as it is
    assert series == [min([1.0, *factors[: n + 1]]) for n in range(len(factors))]


@pytest.mark.property
@pytest.mark.parametrize("where", ["lying", "standing"])
@pytest.mark.parametrize("group", list(GROUPS))
def test_every_series_of_the_table_once_made_monotone(where: str, group: str) -> None:
    cells = getattr(decay(), where)[group]
    assert len(cells) == 5
    for series in (
        decay_series([c.low for c in cells]),
        decay_series([c.mid for c in cells]),
        decay_series([c.high for c in cells]),
    ):
        assert series == sorted(series, reverse=True)
        assert 0 < series[-1] <= series[0] <= 1


@pytest.mark.transcribed
@pytest.mark.parametrize("group", list(GROUPS))
def test_standing_dead_trees(group: str) -> None:
    published = [published_standing()[GROUPS[group], number]["DensProp"] for number in range(1, 6)]
    assert [cell.mid for cell in decay().standing[group]] == published


@pytest.mark.worked
def test_softwood_of_class_2_is_not_denser_than_class_1() -> None:
    # published 0.97, 1.00, 0.92: the rise is what the monotone series takes out
    assert decay_series([cell.mid for cell in decay().standing["softwood"]]) == [
        0.97,
        0.97,
        0.92,
        0.55,
        0.55,
    ]


@pytest.mark.transcribed
@pytest.mark.parametrize("group", list(GROUPS))
def test_bark_left(group: str) -> None:
    published = [published_standing()[GROUPS[group], number]["BarkProp"] for number in range(1, 6)]
    # published as none for class 5; a share on its scale cannot be 0, so the table has 1 %
    assert [cell.mid for cell in decay().bark_left] == pytest.approx(published, abs=0.01)
    assert [cell.mid for cell in decay().bark_left[:4]] == pytest.approx(published[:4], abs=1e-12)
    assert decay().bark_left[4].low == 0.0


@pytest.mark.transcribed
@pytest.mark.parametrize("group", list(GROUPS))
def test_downed_wood(group: str) -> None:
    # the series that stands for most species is the generic one; the ends are those of all species
    # of the group
    rows = downed(group)
    generic = Counter(rows).most_common(1)[0][0]
    assert [cell.mid for cell in decay().lying[group]] == list(generic)
    assert [cell.low for cell in decay().lying[group]] == pytest.approx(
        [min(column) for column in zip(*rows, strict=True)], abs=0.0051
    )
    assert [cell.high for cell in decay().lying[group]] == pytest.approx(
        [max(column) for column in zip(*rows, strict=True)], abs=0.0051
    )
