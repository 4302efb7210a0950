"""Newton's steps arrive where the search by secants does."""

from __future__ import annotations

import random

import pytest

from feedstock.uncertainty import intervals
from feedstock.uncertainty.intervals import Shape, parabola, percentiles, two_parabolas


def random_sum(r: random.Random) -> list[Shape]:
    """Two to twelve shapes, some even, some lopsided, some with a kink."""
    shapes = []
    for _ in range(r.randint(2, 12)):
        low, high = -r.lognormvariate(-2.5, 1), r.lognormvariate(-2.5, 1)
        if r.random() < 0.4:
            low = -high * r.uniform(0.8, 1.2)
        half_step_changes = low * r.uniform(0.3, 0.7), high * r.uniform(0.3, 0.7)
        kinked = r.random() < 0.3
        shapes.append(
            two_parabolas(low, *half_step_changes, high) if kinked else parabola(low, high)
        )
    return shapes


@pytest.mark.property
def test_both_ways_end_at_the_same_percentiles(monkeypatch: pytest.MonkeyPatch) -> None:
    """Over 3,000 sums the ends differ by less than 2e-5 of the half-width."""
    r = random.Random(20261127)
    sums = [random_sum(r) for _ in range(3000)]
    quick = [percentiles(shapes) for shapes in sums]
    monkeypatch.setattr(intervals, "_smooth_fold", lambda ordered, others: None)
    for (low, high), (searched_low, searched_high) in zip(
        quick, (percentiles(shapes) for shapes in sums), strict=True
    ):
        half = (searched_high - searched_low) / 2
        assert abs(low - searched_low) <= 2e-5 * half
        assert abs(high - searched_high) <= 2e-5 * half


@pytest.mark.property
def test_most_sums_need_no_search(monkeypatch: pytest.MonkeyPatch) -> None:
    searched = []
    search = intervals._root

    def counted(*arguments: object) -> float:
        searched.append(1)
        return search(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(intervals, "_root", counted)
    r = random.Random(5)
    for _ in range(300):
        percentiles([parabola(-w, w) for w in (r.uniform(0.01, 0.3) for _ in range(8))])
    assert not searched
