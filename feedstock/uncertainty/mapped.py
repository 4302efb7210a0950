"""Figures that are a function of one other figure."""

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
        return {key: self.changes(self.of.half(key)) for key in figure.lopsided()}

    @property
    def can_run(self) -> bool:
        return True

    def evaluate(self, normals: Mapping[str, float]) -> float:
        return self.function(self.of.at(normals))
