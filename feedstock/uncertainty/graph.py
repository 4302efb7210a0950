"""Steps and chains: pure functions with named inputs and one named output."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from ..quantities.cell import Scale
from .inputs import Number


@dataclass(frozen=True, slots=True)
class Step:
    """`output = function(*inputs)`; `scale` is the one on which the output's doubts are
    combined.
    """

    output: str
    function: Callable[..., Any]
    inputs: tuple[str, ...]
    scale: Scale = "log"


Chain = tuple[Step, ...]


@lru_cache(maxsize=512)
def downstream(chain: Chain) -> dict[str, tuple[int, ...]]:
    """For every name, the steps that depend on it, in order."""
    found: dict[str, set[int]] = {}
    for index in range(len(chain) - 1, -1, -1):
        step = chain[index]
        behind = {index} | found.get(step.output, set())
        for name in step.inputs:
            found.setdefault(name, set()).update(behind)
    return {name: tuple(sorted(steps)) for name, steps in found.items()}


def run(chain: Sequence[Step], values: Mapping[str, Number]) -> dict[str, Number]:
    """All values of a chain for given values of its inputs.

    Raises KeyError for an input that is missing.
    """
    found = dict(values)
    for step in chain:
        found[step.output] = step.function(*[found[name] for name in step.inputs])
    return found


def upstream(chain: Sequence[Step], output: str) -> set[str]:
    """Every name that an output is made of, itself included."""
    needed = {output}
    for step in reversed(chain):
        if step.output in needed:
            needed.update(step.inputs)
    return needed
