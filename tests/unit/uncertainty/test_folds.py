"""Percentiles of sums against the sum's own distribution, convolved on a fine grid."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import partial
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest

from costs import operations
from feedstock.uncertainty import folds
from feedstock.uncertainty.intervals import Shape, parabola, percentiles, two_parabolas

POINTS = 20_000
Z = np.array([NormalDist().inv_cdf((n + 0.5) / POINTS) for n in range(POINTS)])
CELLS = 1 << 14


def values(shape: Shape) -> Any:
    """A shape at evenly likely places of its normal."""
    above = (shape.above + shape.bend_above * Z) * Z
    return np.where(Z > 0, above, (shape.below + shape.bend_below * Z) * Z)


def convolved(shapes: Sequence[Shape]) -> tuple[float, float]:
    """Both percentiles of a sum: the distribution of each shape on a grid, folded by Fourier."""
    columns = [values(shape) for shape in shapes]
    start, end = (sum(side(column) for column in columns) for side in (np.min, np.max))
    width = 1.02 * (end - start) / CELLS
    product: Any = 1.0
    for column in columns:
        place = (column - column.min()) / width
        cell = np.floor(place).astype(int)
        part = place - cell
        lower = np.bincount(cell, 1 - part, CELLS + 1)
        share = (lower + np.bincount(cell + 1, part, CELLS + 1)) / POINTS
        product = product * np.fft.rfft(share, 2 * CELLS)
    density = np.fft.irfft(product, 2 * CELLS)
    below = np.cumsum(density) - density / 2
    places = start + width * np.arange(2 * CELLS)
    low, high = np.interp([0.05, 0.95], below, places)
    return float(low), float(high)


def random_sum(r: random.Random) -> list[Shape]:
    """Two to twelve shapes as lots have them: some even, some lopsided, some with a kink."""
    shapes = []
    for _ in range(r.randint(2, 12)):
        high = r.lognormvariate(-2.5, 1)
        low = -high * (r.uniform(0.8, 1.2) if r.random() < 0.4 else r.uniform(0.5, 2.0))
        half_step_changes = low * r.uniform(0.4, 0.6), high * r.uniform(0.4, 0.6)
        kinked = r.random() < 0.3
        shapes.append(
            two_parabolas(low, *half_step_changes, high) if kinked else parabola(low, high)
        )
    return shapes


@pytest.mark.worked
def test_percentiles_of_sums_lie_near_their_convolution() -> None:
    """Of 300 sums, within the twentieth of the half-width that is promised for every figure."""
    r = random.Random(20261130)
    worst = 0.0
    for _ in range(300):
        shapes = random_sum(r)
        low, high = convolved(shapes)
        found, half = percentiles(shapes), (high - low) / 2
        worst = max(worst, abs(found[0] - low) / half, abs(found[1] - high) / half)
    print(f"worst end off by {worst:.4f} of the half-width")
    assert worst <= 0.05


@pytest.mark.worked
def test_what_turns_is_folded_too() -> None:
    """One doubt that only ever adds (nothing below its middle) beside an even one, as a share that
    stands at its edge has it; and one that turns at 1.25.
    """
    for own in (Shape(0.0, 0.0, 0.4, 0.1), Shape(0.5, -0.2, 0.5, -0.2)):
        shapes = [own, parabola(-0.2, 0.2), parabola(-0.1, 0.12)]
        assert not folds.rises(*own)
        low, high = convolved(shapes)
        found, half = percentiles(shapes), (high - low) / 2
        assert max(abs(found[0] - low), abs(found[1] - high)) <= 0.05 * half


@pytest.mark.property
def test_order_does_not_matter() -> None:
    r = random.Random(3)
    for _ in range(50):
        shapes = random_sum(r)
        assert percentiles(shapes) == percentiles(shapes[::-1])


@pytest.mark.regression
def test_most_sums_need_no_search(monkeypatch: pytest.MonkeyPatch) -> None:
    searched = []
    search = folds.search

    def counted(*arguments: object) -> float:
        searched.append(1)
        return search(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(folds, "search", counted)
    r = random.Random(5)
    for _ in range(300):
        percentiles([parabola(-w, w) for w in (r.uniform(0.01, 0.3) for _ in range(8))])
    assert not searched


@pytest.mark.worked
@pytest.mark.parametrize("count", [3, 5, 7, 9])
def test_nodes_give_the_moments_of_a_normal(count: int) -> None:
    """1, 0, 1, 0, 3, 0, 15 ... up to twice their number, less one."""
    expected = 1.0
    for power in range(2 * count):
        found = sum(w * z**power for z, w in folds.gauss_nodes(count))
        assert found == pytest.approx(0.0 if power % 2 else expected, abs=1e-9 * expected)
        expected *= power + 1 if power % 2 == 0 else 1


@pytest.mark.regression
def test_a_narrow_part_costs_less_than_a_wide_one() -> None:
    wide = [parabola(-0.3, 0.33), parabola(-0.3, 0.3), parabola(-0.3, 0.3)]
    narrow = [wide[0], parabola(-0.03, 0.03), parabola(-0.03, 0.03)]
    few, many = (operations(partial(percentiles, shapes)) for shapes in (narrow, wide))
    assert few < 0.8 * many
