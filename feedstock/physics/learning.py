"""What a person's own batches teach: a normal update on the log scale with known batch variance.

A figure of the next batch is exp(theta + e): theta belongs to this person and burner and can be
learnt (prior variance tau squared), e is new in every batch (variance sigma squared) and stays. All
values are natural logs or variances of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..uncertainty.elementwise import exp, sqrt
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number

_ROUNDS = 200
"""The reweighting settles in about ten rounds; this only bounds it."""

_SETTLED = 1e-10


class Belief(NamedTuple):
    """Mean and variance of theta, on the log scale."""

    mean: Number
    variance: Number


@formula(
    "prior split",
    "definition, tau^2 = s V, sigma^2 = (1 - s) V",
    variance="1",
    learnable="1",
    result="1",
)
def split(variance: Number, learnable: Number) -> tuple[Number, Number]:
    """The variance of the log of a figure before any batch, as (tau squared, sigma squared);
    `learnable` is the share that stays with person and burner.

    Takes `variance` [1], `learnable` [1]; returns [1].

    >>> [round(part, 3) for part in split(0.1, 0.6)]
    [0.06, 0.04]
    """
    return learnable * variance, (1.0 - learnable) * variance


@formula(
    "normal update with known variance",
    "Gelman et al., Bayesian Data Analysis, section 2.5: precisions add",
    result="1",
)
def updated(
    prior: Belief, logs: Sequence[Number], batch: Number, weights: Sequence[Number] | None = None
) -> Belief:
    """Belief after batches whose measured figures have these `logs`; `batch` is sigma squared.

    A weight divides the batch variance of its record: 1 counts in full, 0 not at all. The order of
    records does not matter.

    Returns [1].

    >>> round(updated(Belief(0.0, 0.06), [0.2], 0.04).mean, 3)
    0.12
    """
    given: Sequence[Number] = [1.0] * len(logs) if weights is None else weights
    precision, pull = 1.0 / prior.variance, prior.mean / prior.variance
    for value, weight in zip(logs, given, strict=True):
        precision = precision + weight / batch
        pull = pull + weight * value / batch
    return Belief(pull / precision, 1.0 / precision)


@formula(
    "next batch",
    "Gelman et al., Bayesian Data Analysis, section 2.5: posterior predictive N(mean, "
    "variance + sigma^2)",
    batch="1",
    result="1",
)
def predictive(belief: Belief, batch: Number) -> Belief:
    """Mean and variance of the log of the next batch's figure.

    Takes `batch` [1]; returns [1].

    >>> round(predictive(Belief(0.1, 0.02), 0.04).variance, 3)
    0.06
    """
    return Belief(belief.mean, belief.variance + batch)


@formula("ends of an interval", "exp(mean -/+ z sd)", quantile="1", result="1")
def ends(belief: Belief, quantile: float) -> tuple[Number, Number]:
    """Low and high end of the figure itself; `quantile` of the standard normal, 1.645 for 90 %.

    Takes `quantile` [1]; returns [1].

    >>> [round(end, 3) for end in ends(Belief(0.0, 0.01), 1.645)]
    [0.848, 1.179]
    """
    half = quantile * sqrt(belief.variance)
    return exp(belief.mean - half), exp(belief.mean + half)


@formula(
    "weight of a record",
    "Lange, Little and Taylor 1989, JASA 84:881: w = (nu + 1) / (nu + z^2)",
    z="1",
    freedom="1",
    result="1",
)
def student_weight(z: Number, freedom: float) -> Number:
    """Weight of a record that lies `z` standard deviations off, for errors that follow Student's t
    with `freedom` degrees; about 1 for an ordinary one.

    Takes `z` [1], `freedom` [1]; returns [1].

    >>> student_weight(1.0, 4.0)
    1.0
    """
    return (freedom + 1.0) / (freedom + z**2)


@formula(
    "robust update",
    "Lange, Little and Taylor 1989, JASA 84:881: weights and mean in turn until they agree",
    batch="1",
    freedom="1",
    result="1",
)
def robust(
    prior: Belief, logs: Sequence[float], batch: float, freedom: float
) -> tuple[Belief, tuple[float, ...]]:
    """Belief after batches of which one may be wild, and the weight that each was given. On floats.

    A record is judged by its distance from theta, in batch standard deviations, with the doubt of
    theta itself counted, so a person who is unlike the prior is not taken for a wild record.
    Weights above 1 count as 1: no record says more than itself.

    Takes `batch` [1], `freedom` [1]; returns [1].

    >>> round(robust(Belief(0.0, 0.06), [0.2], 0.04, 4.0)[0].mean, 3)
    0.12
    """
    belief = updated(prior, logs, batch)
    weights: tuple[float, ...] = (1.0,) * len(logs)
    for _ in range(_ROUNDS):
        weights = tuple(
            min(
                student_weight(
                    sqrt(((value - belief.mean) ** 2 + belief.variance) / batch), freedom
                ),
                1.0,
            )
            for value in logs
        )
        after = updated(prior, logs, batch, weights)
        if abs(after.mean - belief.mean) <= _SETTLED:
            return after, weights
        belief = after
    return belief, weights
