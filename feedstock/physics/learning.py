"""What a person's own batches teach: a normal update on the log scale with known batch variance.

A figure of the next batch is exp(theta + e): theta belongs to this person and burner and can be
learnt (prior variance tau squared), e is new in every batch (variance sigma squared) and stays. All
values are natural logs or variances of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..uncertainty.elementwise import sqrt
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
    weight_of_each: Sequence[Number] = [1.0] * len(logs) if weights is None else weights
    precision, pull = 1.0 / prior.variance, prior.mean / prior.variance
    for value, weight in zip(logs, weight_of_each, strict=True):
        precision = precision + weight / batch
        pull = pull + weight * value / batch
    return Belief(pull / precision, 1.0 / precision)


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
    prior: Belief, logs: Sequence[float], batch: float | Sequence[float], freedom: float
) -> tuple[Belief, tuple[float, ...]]:
    """Belief after batches of which one may be wild, and the weight that each was given. On floats.

    A record is judged by its distance from theta, in batch standard deviations, with the doubt of
    theta itself counted, so a person who is unlike the prior is not taken for a wild record.
    Weights above 1 count as 1: no record says more than itself. `batch` is the variance of a record
    (above 0), one for all or one for each. The sums run in a fixed order, so the order of records
    does not matter.

    Takes `batch` [1], `freedom` [1]; returns [1].

    >>> round(robust(Belief(0.0, 0.06), [0.2], 0.04, 4.0)[0].mean, 3)
    0.12
    """
    noises = [batch] * len(logs) if isinstance(batch, (int, float)) else list(batch)
    if not noises:
        return prior, ()
    order = sorted(range(len(logs)), key=lambda i: (logs[i], noises[i]))
    values, unit = [logs[i] for i in order], min(noises)
    precise = [unit / noises[i] for i in order]
    belief, weights = updated(prior, values, unit, precise), [1.0] * len(values)
    for _ in range(_ROUNDS):
        off = [
            sqrt(((value - belief.mean) ** 2 + belief.variance) * share / unit)
            for value, share in zip(values, precise, strict=True)
        ]
        weights = [min(student_weight(z, freedom), 1.0) for z in off]
        counted = [weight * share for weight, share in zip(weights, precise, strict=True)]
        after = updated(prior, values, unit, counted)
        settled = abs(after.mean - belief.mean) <= _SETTLED
        belief = after
        if settled:
            break
    by_record = dict(zip(order, weights, strict=True))
    return belief, tuple(by_record[i] for i in range(len(logs)))
