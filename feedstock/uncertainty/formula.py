"""What a function of the physics computes, by which reference, in which units."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from ..quantities.frozen import frozen

Function = TypeVar("Function", bound=Callable[..., Any])


@frozen
class Formula:
    """What a function of the physics computes, by which reference, and the units of its arguments
    and its result.
    """

    name: str
    reference: str
    units: Mapping[str, str]


def formula(name: str, reference: str, /, **units: str) -> Callable[[Function], Function]:
    """Attach a `Formula` to a function and return the function itself, so that calling it costs
    nothing more.
    """

    def attach(function: Function) -> Function:
        function.formula = Formula(name, reference, units)  # type: ignore[attr-defined]
        return function

    return attach


def formula_of(function: Callable[..., Any]) -> Formula:
    """The formula attached to a function; for one without, its name and nothing else."""
    formula = getattr(function, "formula", None)
    return formula if isinstance(formula, Formula) else Formula(function.__name__, "", {})
