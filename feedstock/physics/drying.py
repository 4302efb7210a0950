"""Drying outdoors: an approach on dry basis to what the air lets stay in a piece."""

from __future__ import annotations

from ..uncertainty.elementwise import log, maximum
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Number


@formula(
    "time until dry",
    "first-order approach to the air, t = tau s ln((M0 - Me) / (Mt - Me)) on dry basis",
    moisture="1",
    target="1",
    rest="1",
    pace="s",
    slower="1",
    nearest="1",
    result="s",
)
def drying_time(
    moisture: Number, target: Number, rest: Number, pace: Number, slower: Number, nearest: Number
) -> Number:
    """Time, s, from `moisture` to `target`, both water per dry matter, in air in which the piece
    comes to rest at `rest`; `pace` is the time in which the way to rest shrinks to 1/e, `slower`
    how many times longer that takes where it lies.

    A target nearer to rest than `nearest` counts as that near, so that the time stays finite; what
    is dry already takes none.

    Takes `moisture` [1], `target` [1], `rest` [1], `pace` [s], `slower` [1], `nearest` [1]; returns
    [s]. Fitted to piles and stacks in the open from 140 % to 25 % of the dry matter.

    >>> week = 604800.0
    >>> round(drying_time(0.45 / 0.55, 0.25, 0.16, 11 * week, 1.0, 0.005) / week, 2)
    21.89
    """
    way = maximum(moisture - rest, nearest)
    left = maximum(target - rest, nearest)
    return pace * slower * maximum(log(way / left), 0.0)


@formula("time in slower air", "t = t0 s", time="s", slower="1", result="s")
def slowed(time: Number, slower: Number) -> Number:
    """A time, s, `slower` times over.

    Takes `time` [s], `slower` [1]; returns [s].

    >>> slowed(86400.0, 4.0)
    345600.0
    """
    return time * slower


@formula(
    "weight at which a dried piece is dry enough",
    "mass balance, (1 + u_t) / (1 + u_0)",
    moisture="1",
    target="1",
    result="1",
)
def weight_left(moisture: Number, target: Number) -> Number:
    """The part of its weight that a piece has left when it has dried from `moisture` to `target`,
    both water per dry matter (0 and up).

    Takes `moisture` [1], `target` [1]; returns [1].

    >>> weight_left(0.60, 0.25)
    0.78125
    """
    return (1.0 + target) / (1.0 + moisture)
