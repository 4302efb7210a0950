"""The graph of a plan: figures of a whole heap go in with their doubts, key by key."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field
from typing import Any

from ..physics import feeding, firing, quench
from ..quantities.cell import Scale
from ..quantities.estimate import Estimate, bounded_estimate
from ..quantities.fields import Measured
from ..quantities.frozen import record
from ..tables.inputs import cell_input
from ..tables.tables import Tables
from ..uncertainty.bends import figures_of
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import Step
from ..uncertainty.inputs import Input, Origin, assumed_input, stated_input
from ..uncertainty.joined import Joined
from ..uncertainty.keys import Key, burn_key
from ..words import Message

BENDS = (firing.fuel_by_two, firing.fuel_by_three, firing.loaded)
"""Steps that take the least of what is in doubt."""
QUOTIENTS = (quench.hose_time,)
"""Steps that divide a figure by an input."""
SUMS = (
    feeding.fed_length,
    feeding.of_all,
    feeding.all_hours,
    quench.total_water,
    quench.hose_time,
)
"""Steps that add several parts in doubt, or hang on one that does."""
TIMES = ("burn_down", "mean_through")
"""Times in the flame, on which both what is fed and what stays raw hang."""


@record
class Graph:
    """The steps of a plan, its own inputs, and the figures of the heap that go in with their
    doubts.
    """

    tables: Tables
    steps: list[Step] = field(default_factory=list)
    inputs: dict[str, Input] = field(default_factory=dict)
    given: dict[str, UncertainValue] = field(default_factory=dict)
    notes: list[Message] = field(default_factory=list)

    def step(
        self, output: str, function: Callable[..., Any], *inputs: str, scale: Scale = "log"
    ) -> str:
        self.steps.append(Step(output, function, inputs, scale))
        return output

    def cell(
        self,
        name: str,
        kind: str,
        row_id: str,
        *path: str | int,
        key: Key | None = None,
        exact: bool = False,
    ) -> str:
        """An input that is a cell of a table; its doubt is shared with every other use of the
        cell.
        """
        self.inputs[name] = cell_input(self.tables, name, kind, row_id, path, key, exact)
        return name

    def known(self, name: str, value: float, text: str, unit: str = "1") -> str:
        self.inputs[name] = assumed_input(name, value, text, unit)
        return name

    def measured(self, name: str, stated: Measured, field_name: str, error: float = 0.0) -> str:
        """An input of the burn: with the user's own range, or with a relative error of
        measuring.
        """
        origin = Origin("field", f"{field_name}: {stated.text}", field=field_name)
        self.inputs[name] = stated_input(name, stated, burn_key(field_name), origin, error=error)
        return name

    def derive(self, *wanted: str) -> dict[str, UncertainValue]:
        """The wanted figures: every key is moved once in the inputs and in the given figures alike,
        so shared doubt stays shared.
        """
        joined = Joined(tuple(self.steps), list(self.inputs.values()), self.given)
        sums = [step.output for step in self.steps if step.function in SUMS]
        return figures_of(joined, wanted, BENDS, sums, TIMES, QUOTIENTS)


def estimate_in(figure: UncertainValue, unit: str, factor: float) -> Estimate:
    """A figure in its public unit, never below nothing."""
    ends = figure.ends if figure.sensitivities else (figure.mid, figure.mid)
    return bounded_estimate(ends, figure.mid, unit, factor)
