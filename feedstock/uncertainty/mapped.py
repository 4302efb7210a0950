"""Figures made of one other figure: a function of it, and the same where a key is known or where
each stands alone.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ..quantities.cell import Scale
from ..quantities.frozen import frozen
from .figure import UncertainValue
from .inputs import Number

Changes = Mapping[str, tuple[Number, Number]]
Function = Callable[[float], float]


def mapped(figure: UncertainValue, function: Function, scale: Scale) -> UncertainValue:
    """A function of one figure, on a scale of its own.

    >>> weight = UncertainValue(40.0, {"scale:heap": (-10.0, 10.0)}, "linear")
    >>> mapped(weight, lambda value: min(value, 45.0), "linear").sensitivities
    {'scale:heap': (-10.0, 5.0)}
    """
    source = _Mapped(figure, function)
    changes = {key: source.changes(pair) for key, pair in figure.sensitivities.items()}
    return UncertainValue(function(figure.mid), changes, scale, source)


def seen_at(figure: UncertainValue, normals: Mapping[str, float]) -> UncertainValue:
    """A figure where some keys stand at these normals and are in doubt no longer.

    >>> from .intervals import Z95
    >>> effects = {"scale:heap": (-10.0, 10.0), "meter:pin": (-20.0, 20.0)}
    >>> seen_at(UncertainValue(40.0, effects, "linear"), {"scale:heap": Z95}).ends
    (30.0, 70.0)
    """
    if not any(key in figure.sensitivities for key in normals):
        return figure
    if figure.guessed is not None and figure.guessed.person in normals:
        return figure.guessed.seen(normals[figure.guessed.person])
    if isinstance(figure.source, _Mapped):
        of = seen_at(figure.source.of, normals)
        return mapped(of, figure.source.function, figure.scale)
    mid = figure.at(normals)
    factor = mid / figure.mid if figure.usable == "log" else 1.0
    left = {
        other: (factor * low, factor * high)
        for other, (low, high) in figure.sensitivities.items()
        if other not in normals
    }
    half = {key: (factor * a, factor * b) for key, (a, b) in figure.half_step_changes.items()}
    return UncertainValue(mid, left, figure.scale, _Known(figure, normals, half))


def key_by_key(figure: UncertainValue) -> UncertainValue:
    """The same figure told by what each key does alone: for a product of a few factors, which adds
    up on its own scale, and for a mean of such over lots, which adds up as it is.

    >>> effects = {"scale:heap": (-10.0, 10.0), "meter:pin": (-20.0, 20.0)}
    >>> key_by_key(UncertainValue(40.0, effects, "linear")).ends == (
    ...     UncertainValue(40.0, effects, "linear").ends
    ... )
    True
    """
    scale: Scale = "linear" if figure.summed else figure.scale
    return UncertainValue(figure.mid, figure.sensitivities, scale, _KeyByKey(figure))


@frozen
class _KeyByKey:
    """The source of a figure that is run with one key away from its middle alone."""

    of: UncertainValue

    def half_step_changes(self, figure: UncertainValue) -> Changes:
        return self.of.half_step_changes

    @property
    def can_run(self) -> bool:
        return False

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return self.of.at(normals)


@frozen
class _Mapped:
    """The source of a function of one figure."""

    of: UncertainValue
    function: Function

    def changes(self, pair: tuple[Number, Number]) -> tuple[float, float]:
        """What the changes of the figure come to."""
        function, mid = self.function, self.of.mid
        return function(mid + pair[0]) - function(mid), function(mid + pair[1]) - function(mid)

    def half_step_changes(self, figure: UncertainValue) -> Changes:
        return {key: self.changes(self.of.half(key)) for key in figure.lopsided}

    @property
    def can_run(self) -> bool:
        return True

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return self.function(self.of.at(normals))


@frozen
class _Known:
    """The source of a figure of which some keys are known."""

    of: UncertainValue
    known: Mapping[str, float]
    half: Changes

    def half_step_changes(self, figure: UncertainValue) -> Changes:
        return {key: pair for key, pair in self.half.items() if key in figure.sensitivities}

    @property
    def can_run(self) -> bool:
        return self.of.source is not None and self.of.source.can_run

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return self.of.at({**self.known, **normals})
