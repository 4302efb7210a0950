"""Load: formulas that only checks need, to hold those of the product against."""

from __future__ import annotations

from feedstock.uncertainty.formula import formula
from feedstock.uncertainty.inputs import Number


@formula(
    "most that a feed may hold",
    "the same solved for c: L Y / r",
    limit="1",
    char_yield="1",
    retained="1",
    result="1",
)
def feed_limit(limit: Number, char_yield: Number, retained: Number) -> Number:
    """Share of an element in a dry feed at which its char holds just `limit`; `retained` is above
    0.

    Takes `limit` [1], `char_yield` [1], `retained` [1]; returns [1].

    >>> feed_limit(0.0001, 0.25, 1.0)
    2.5e-05
    """
    return limit * char_yield / retained
