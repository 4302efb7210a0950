"""A person's own batches as a correction of a figure: its learnable doubt is taken out, what was
learnt is put in.
"""

from __future__ import annotations

from ..uncertainty.elementwise import minimum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "usual amount", "definition, base x usual amount per base", base="kg", middle="1", result="1"
)
def usual(base: Number, middle: Number) -> Number:
    """The figure that tables alone give at their middle for this much of the base (dry feed, kg, or
    solid wood, m3).

    Takes `base` [kg], `middle` [1]; returns [1].

    >>> usual(40.0, 0.25)
    10.0
    """
    return base * middle


@formula(
    "figure with own batches",
    "usual (x / usual)^r own: the log's deviation keeps the part r of its width that "
    "batches cannot teach",
    figure="1",
    usual="1",
    irreducible_fraction="1",
    own="1",
    result="1",
)
def with_experience(
    figure: Number, usual: Number, irreducible_fraction: float, own: Number
) -> Number:
    """A figure above or at 0 whose deviation from `usual` is drawn in to `irreducible_fraction` (0
    to 1) on the log scale, times `own`, the learnt factor.

    With `irreducible_fraction` the root of the batch's share of the prior variance and `own` as it
    is before any batch, the variance of the log is that of the figure itself: nothing is counted
    twice, and nothing is lost.

    Takes `figure` [1], `usual` [1], `irreducible_fraction` [1], `own` [1]; returns [1].

    >>> round(with_experience(12.0, 10.0, 0.5, 1.0), 2)
    10.95
    """
    return usual * (figure / usual) ** irreducible_fraction * own


@formula(
    "yield with own batches",
    "the same, at most 1",
    figure="1",
    usual="1",
    irreducible_fraction="1",
    own="1",
    result="1",
)
def yield_with_experience(
    figure: Number, usual: Number, irreducible_fraction: float, own: Number
) -> Number:
    """As `with_experience` for char per dry feed: no feed gives more char than it weighs.

    Takes `figure` [1], `usual` [1], `irreducible_fraction` [1], `own` [1]; returns [1].

    >>> round(yield_with_experience(0.3, 0.25, 0.5, 1.1), 3)
    0.301
    """
    return minimum(with_experience(figure, usual, irreducible_fraction, own), 1.0)


@formula(
    "carbon with own batches",
    "definition, in step with the yield",
    carbon="kg",
    after="1",
    before="1",
    result="kg",
)
def in_step(carbon: Number, after: Number, before: Number) -> Number:
    """Carbon with own batches.

    Takes `carbon` [kg], `after` [1], `before` [1]; returns [kg].

    >>> round(in_step(6.4, 0.3, 0.25), 2)
    7.68
    """
    return carbon * after / before
