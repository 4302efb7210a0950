"""Learning: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.physics.learning import Belief
from feedstock.uncertainty.elementwise import exp, sqrt
from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


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
