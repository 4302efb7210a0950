"""The scales on which doubts add: linear, logarithm for amounts, log odds for shares, powers."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from itertools import chain

from ..quantities.cell import Scale
from .elementwise import exp, log
from .inputs import EDGE, Number

Way = tuple[Callable[[Number], Number], Callable[[Number], Number]]
"""To the scale on which doubts are added, and back."""


def _same(x: Number) -> Number:
    return x


WAYS: dict[Scale, Way] = {
    "linear": (_same, _same),
    "log": (log, exp),
    "logit": (lambda x: log(x / (1 - x)), lambda x: 1 / (1 + exp(-x))),
}
FLOAT_WAYS: dict[Scale, Way] = {
    "linear": (_same, _same),
    "log": (math.log, math.exp),
    "logit": (lambda x: math.log(x / (1 - x)), lambda x: 1 / (1 + math.exp(-x))),
}
"""The same for floats alone, without a look at what the value is."""


def usable_scale(mid: Number, changes: Iterable[tuple[Number, Number]], scale: Scale) -> Scale:
    """The scale itself, or the linear one for a figure at its very edge (an amount of nothing, a
    share of 1).
    """
    if scale == "linear" or not isinstance(mid, (int, float)):
        return scale
    every = [0.0, *chain.from_iterable(changes)]
    top = 1.0 - EDGE if scale == "logit" else math.inf
    return scale if mid + min(every) > EDGE and mid + max(every) < top else "linear"


_LEAST_POWER = 1e-4


def power(mid: float, exponent: float) -> Way:
    """The scale of Box and Cox 1964: the logarithm at power 0, the amount at power 1, both as parts
    of the middle.
    """
    if exponent < _LEAST_POWER:
        return (lambda x: math.log(max(x / mid, EDGE))), (lambda y: mid * math.exp(y))
    return (
        lambda x: (max(x / mid, 0.0) ** exponent - 1.0) / exponent,
        lambda y: mid * max(1.0 + exponent * y, 0.0) ** (1.0 / exponent),
    )
