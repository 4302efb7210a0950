"""The least and the greatest of figures in doubt, against probabilities that are known: of
independent ones by their product, of what shares a doubt by a sum over that.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest

from feedstock.uncertainty.branches import Branch
from feedstock.uncertainty.figure import UncertainValue
from feedstock.uncertainty.intervals import Z95
from feedstock.uncertainty.least import percentiles_of

NORMAL = NormalDist()
SHARED = "scale:heap"


def figure(mid: float, **spreads: float) -> UncertainValue:
    """A log-normal figure; `spreads` are those of its logarithm, by key."""
    return UncertainValue(
        mid,
        {
            key: (mid * math.expm1(-spread * Z95), mid * math.expm1(spread * Z95))
            for key, spread in spreads.items()
        },
    )


def ends(figures: list[UncertainValue], least: bool) -> tuple[float, float]:
    low, high = percentiles_of([(1.0, [Branch.of(each) for each in figures])], least)
    return low, high


def share_below(x: float, parts: list[tuple[float, float, float]], least: bool) -> float:
    """The probability that the least (the greatest) of log-normals lies below x. A part is its
    middle, the spread of what is its own and that of what all share.
    """
    nodes = [n / 50 for n in range(-400, 401)]
    weights = [math.exp(-z * z / 2) for z in nodes]
    total = 0.0
    for z, weight in zip(nodes, weights, strict=True):
        below = [NORMAL.cdf((math.log(x / mid) - common * z) / own) for mid, own, common in parts]
        some = 1 - math.prod(1 - p for p in below) if least else math.prod(below)
        total += weight * some
    return total / math.fsum(weights)


def place(share: float, parts: list[tuple[float, float, float]], least: bool) -> float:
    """Where so much lies below, by halving."""
    low, high = 1e-3, 1e5
    for _ in range(60):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if share_below(middle, parts, least) < share else (low, middle)
    return low


CASES = [
    # middle, own spread, shared spread
    [(10.0, 0.3, 0.0), (10.0, 0.3, 0.0)],
    [(10.0, 0.3, 0.0), (12.0, 0.6, 0.0)],
    [(10.0, 0.3, 0.4), (12.0, 0.2, 0.4)],
    [(10.0, 0.3, 0.8), (11.0, 0.25, 0.8), (14.0, 0.4, 0.8)],
    [(10.0, 0.2, 0.1), (11.0, 0.5, 0.1), (9.0, 0.3, 0.1)],
]


@pytest.mark.worked
@pytest.mark.parametrize("least", [True, False])
@pytest.mark.parametrize("parts", CASES)
def test_ends_of_the_least_and_the_greatest(
    parts: list[tuple[float, float, float]], least: bool
) -> None:
    """Within a fiftieth of the half-width, on the logarithm."""
    figures = [
        figure(mid, **{f"own{n}": own, **({SHARED: common} if common else {})})
        for n, (mid, own, common) in enumerate(parts)
    ]
    low, high = (math.log(place(share, parts, least)) for share in (0.05, 0.95))
    half = (high - low) / 2
    for end, expected in zip(ends(figures, least), (low, high), strict=True):
        assert abs(math.log(end) - expected) <= half / 50


@pytest.mark.worked
def test_one_figure_has_its_own_ends() -> None:
    alone = figure(10.0, own=0.3, other=0.4)
    spread = math.hypot(0.3, 0.4) * Z95
    expected = 10 * math.exp(-spread), 10 * math.exp(spread)
    assert ends([alone], True) == pytest.approx(expected, rel=1e-4)


@pytest.mark.worked
def test_where_all_doubt_is_shared_the_lower_one_is_the_least() -> None:
    lower, upper = figure(10.0, heap=0.5), figure(13.0, heap=0.5)
    spread = 0.5 * Z95
    for least, mid in ((True, 10.0), (False, 13.0)):
        assert ends([lower, upper], least) == pytest.approx(
            (mid * math.exp(-spread), mid * math.exp(spread)), rel=0.01
        )


@pytest.mark.worked
def test_looks_are_mixed_by_their_weights() -> None:
    """Half the weight at 1 and half at 100: each end is the one below or above which a tenth of
    its half lies.
    """
    looks = [(0.5, [Branch.of(figure(mid, own=0.1))]) for mid in (1.0, 100.0)]
    tenth = math.exp(0.1 * NORMAL.inv_cdf(0.1))
    assert percentiles_of(looks, True) == pytest.approx((tenth, 100 / tenth), rel=0.01)
