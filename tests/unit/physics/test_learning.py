"""What batches teach: the update by hand, and 2,000 simulated users whose intervals must cover what
they promise.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from feedstock.physics.learning import Belief, robust, split, student_weight, updated
from reference.learning import ends, predictive

USERS = 2000
Z90 = 1.6448536269514722
# a figure whose 90 % interval runs from half to about twice its middle, and six tenths of whose
# doubt can be learnt
VARIANCE, LEARNABLE, FREEDOM = 0.40**2, 0.6, 4.0
TAU2, SIGMA2 = split(VARIANCE, LEARNABLE)
PRIOR = Belief(math.log(5.0), TAU2)
BATCHES = (0, 1, 3, 10, 30)

Update = Callable[[list[float]], Belief]


def plain(logs: list[float]) -> Belief:
    return updated(PRIOR, logs, SIGMA2)


def careful(logs: list[float]) -> Belief:
    return robust(PRIOR, logs, SIGMA2, FREEDOM)[0]


def coverage(
    update: Update, shift: float = 0.0, wild: float = 0.0, seed: int = 1
) -> dict[int, tuple[float, float]]:
    """By number of batches: share of users whose next ordinary batch falls into the 90 % interval,
    and mean width on the log scale.
    """
    chance = np.random.default_rng(seed)
    theta = PRIOR.mean + shift + chance.normal(0, math.sqrt(TAU2), USERS)
    records = theta[:, None] + chance.normal(0, math.sqrt(SIGMA2), (USERS, max(BATCHES)))
    # an outlier: a bucket not counted, a sack weighed wet: three times too much or too little
    wrong = chance.random(records.shape) < wild
    records = np.where(
        wrong, records + math.log(3) * chance.choice([-1, 1], records.shape), records
    )
    following = theta + chance.normal(0, math.sqrt(SIGMA2), USERS)
    return {n: _covered(update, records[:, :n], following) for n in BATCHES}


def _covered(
    update: Update, records: NDArray[np.float64], following: NDArray[np.float64]
) -> tuple[float, float]:
    inside, width = 0, 0.0
    for logs, value in zip(records.tolist(), following.tolist(), strict=True):
        low, high = ends(predictive(update(logs), SIGMA2), Z90)
        inside += low <= math.exp(value) <= high
        width += math.log(high / low)
    return inside / len(following), width / len(following)


@pytest.fixture(scope="module")
def usual() -> dict[str, dict[int, tuple[float, float]]]:
    return {"plain": coverage(plain), "careful": coverage(careful)}


# ---- by hand


@pytest.mark.worked
def test_update_by_hand() -> None:
    # Gelman et al., Bayesian Data Analysis, eq. 2.12: mean 0, tau2 4; two records 2 and 4 of
    # variance 1: precision 1/4 + 2 = 2.25, mean (2 + 4) / 2.25
    belief = updated(Belief(0.0, 4.0), [2.0, 4.0], 1.0)
    assert belief == pytest.approx((6 / 2.25, 1 / 2.25))
    assert predictive(belief, 1.0) == pytest.approx((6 / 2.25, 1 + 1 / 2.25))


@pytest.mark.worked
@pytest.mark.parametrize("z, weight", [(0, 1.25), (1, 1.0), (2, 0.625), (4, 0.25), (10, 5 / 104)])
def test_weights_of_student(z: float, weight: float) -> None:
    # Lange, Little and Taylor 1989: (nu + 1) / (nu + z^2) with nu = 4
    assert student_weight(z, 4.0) == pytest.approx(weight)


# ---- what must hold

logs_ = st.lists(st.floats(-3, 3), max_size=12)


@pytest.mark.property
@given(logs_)
def test_one_by_one_is_all_at_once_in_any_order(logs: list[float]) -> None:
    belief = PRIOR
    for value in reversed(logs):
        belief = updated(belief, [value], SIGMA2)
    assert belief == pytest.approx(plain(logs), abs=1e-9)


@pytest.mark.property
@given(st.lists(st.floats(-3, 3), min_size=1, max_size=12))
def test_belief_moves_towards_the_records_and_never_widens(logs: list[float]) -> None:
    for belief in (plain(logs), careful(logs)):
        assert min(PRIOR.mean, *logs) - 1e-9 <= belief.mean <= max(PRIOR.mean, *logs) + 1e-9
        assert 0 < belief.variance < PRIOR.variance
        assert predictive(belief, SIGMA2).variance > SIGMA2


@pytest.mark.property
@given(logs_)
def test_weights_lie_between_nothing_and_one(logs: list[float]) -> None:
    _, weights = robust(PRIOR, logs, SIGMA2, FREEDOM)
    assert len(weights) == len(logs)
    assert all(0 < weight <= 1 for weight in weights)


@pytest.mark.property
@given(st.floats(0.01, 4), st.floats(0, 1))
def test_split_loses_nothing(variance: float, learnable: float) -> None:
    assert sum(split(variance, learnable)) == pytest.approx(variance)


@pytest.mark.property
def test_weight_nothing_is_no_record() -> None:
    assert updated(PRIOR, [1.0, 9.0], SIGMA2, [1.0, 0.0]) == updated(PRIOR, [1.0], SIGMA2)
    assert robust(PRIOR, [], SIGMA2, FREEDOM) == (PRIOR, ())


@pytest.mark.property
def test_one_wild_record_among_ten_moves_the_robust_mean_less() -> None:
    good = [PRIOR.mean + 0.2 * math.sin(k) for k in range(9)]
    without, wild = plain(good).mean, [*good, PRIOR.mean + math.log(10)]
    assert abs(careful(wild).mean - without) < 0.35 * abs(plain(wild).mean - without)
    _, weights = robust(PRIOR, wild, SIGMA2, FREEDOM)
    assert weights[-1] < 0.1 < 0.7 < min(weights[:-1])


@pytest.mark.property
def test_arrays_as_floats() -> None:
    many = updated(Belief(np.array([0.0, 1.0]), 0.1), [np.array([0.5, 2.0])], 0.05)
    for index, (mean, value) in enumerate(((0.0, 0.5), (1.0, 2.0))):
        assert many.mean[index] == pytest.approx(updated(Belief(mean, 0.1), [value], 0.05).mean)


# ---- 2,000 simulated users; the binomial standard error of a coverage of 90 % is 0.7 points


@pytest.mark.property
@pytest.mark.parametrize("update", ["plain", "careful"])
@pytest.mark.parametrize("batches", BATCHES)
def test_intervals_cover_what_they_promise(
    usual: dict[str, dict[int, tuple[float, float]]], update: str, batches: int
) -> None:
    assert 0.87 <= usual[update][batches][0] <= 0.93


@pytest.mark.property
@pytest.mark.parametrize("update", ["plain", "careful"])
def test_intervals_narrow(usual: dict[str, dict[int, tuple[float, float]]], update: str) -> None:
    widths = [usual[update][n][1] for n in BATCHES]
    assert all(a > b for a, b in pairwise(widths))
    # what stays is the batch's own part: 2 z sigma
    assert 2 * Z90 * math.sqrt(SIGMA2) < widths[-1] < 1.05 * 2 * Z90 * math.sqrt(SIGMA2)


@pytest.mark.property
@pytest.mark.parametrize("update", [careful, pytest.param(plain, marks=pytest.mark.deep)])
@pytest.mark.parametrize("sign", [-1, 1])
def test_users_unlike_the_prior_are_met_by_the_tenth_batch(update: Update, sign: int) -> None:
    # everybody lies one whole prior standard deviation (0.40 on the log scale, a factor 1.5) off
    # the middle
    found = coverage(update, shift=sign * math.sqrt(VARIANCE))
    assert found[0][0] < 0.85
    assert found[10][0] >= 0.85
    assert found[30][0] >= 0.87


@pytest.mark.property
@pytest.mark.parametrize("seed", [1, pytest.param(2, marks=pytest.mark.deep)])
def test_one_wild_record_in_ten_costs_little(seed: int) -> None:
    # Of ordinary next batches, with every tenth record wrong by a factor of 3. The plain update
    # falls from 90 % to 85 or 86 % at one to three batches and is back at 87 to 89 % later; the
    # robust one loses at most two points anywhere. A next batch that is itself wild falls outside
    # either interval; no update can mend that.
    clean = {"plain": coverage(plain, seed=seed), "careful": coverage(careful, seed=seed)}
    wild = {
        "plain": coverage(plain, wild=0.1, seed=seed),
        "careful": coverage(careful, wild=0.1, seed=seed),
    }
    loss = {
        update: {n: clean[update][n][0] - wild[update][n][0] for n in BATCHES[1:]}
        for update in clean
    }
    assert 0.03 < max(loss["plain"].values()) < 0.07
    assert max(loss["careful"].values()) < 0.03
    assert all(loss["careful"][n] < loss["plain"][n] for n in (1, 3, 10))
    assert all(0.87 <= wild["careful"][n][0] <= 0.93 for n in BATCHES)
