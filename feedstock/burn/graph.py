"""The graph of a plan: figures of a whole heap go in with their doubts, key by key."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from ..physics import firing
from ..quantities.cell import Scale
from ..quantities.estimate import Estimate, bounded_estimate
from ..quantities.fields import Measured
from ..quantities.frozen import frozen
from ..tables.inputs import cell_input
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import Chain, Step, outputs_function, run
from ..uncertainty.inputs import Input, Origin, assumed_input, stated_input
from ..uncertainty.intervals import Z95
from ..uncertainty.keys import Key, burn_key
from ..uncertainty.propagate import from_perturbations
from ..uncertainty.sampling import drawn_ends
from ..words import Message

BENDS = (firing.fuel_by_two, firing.fuel_by_three, firing.loaded)
"""Steps that take the least or the greatest of what is in doubt."""


SHARES = ("uncharred_fraction",)
"""Given figures that no draw may carry past nothing or past all."""


@dataclass(slots=True)
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
        chain, inputs = tuple(self.steps), list(self.inputs.values())
        scales: dict[str, Scale] = {name: figure.scale for name, figure in self.given.items()}
        scales |= {entry.name: entry.scale for entry in inputs}
        scales |= {step.output: step.scale for step in chain}
        perturbations = _Moves.of(chain, inputs, self.given, wanted)
        found = from_perturbations(
            perturbations.values("", 0.0),
            {
                key: (perturbations.values(key, -Z95), perturbations.values(key, Z95))
                for key in perturbations.keys
            },
            lambda key: (perturbations.values(key, -Z95 / 2), perturbations.values(key, Z95 / 2)),
            {},
            {name: scales[name] for name in wanted},
        )
        # what goes in as it is has its own ends
        found |= {name: self.given[name] for name in wanted if name in self.given}
        bent = [name for name in wanted if name in self._bent()]
        if not bent:
            return found
        drawn = drawn_ends(chain, inputs, self.given, bent, SHARES)
        return found | {name: replace(found[name], drawn=ends) for name, ends in drawn.items()}

    def middle(self, output: str) -> float:
        """An output with every input at its middle."""
        mids = {entry.name: entry.mid for entry in self.inputs.values()} | {
            name: figure.mid for name, figure in self.given.items()
        }
        return float(run(tuple(self.steps), mids)[output])

    def _bent(self) -> set[str]:
        """What the least or the greatest of several things goes into."""
        bent: set[str] = set()
        for step in self.steps:
            if step.function in BENDS or bent.intersection(step.inputs):
                bent.add(step.output)
        return bent


def estimate_in(figure: UncertainValue, unit: str, factor: float) -> Estimate:
    """A figure in its public unit, never below nothing."""
    ends = figure.ends if figure.sensitivities else (figure.mid, figure.mid)
    return bounded_estimate(ends, figure.mid, unit, factor)


@frozen
class _Moves:
    """The wanted outputs of a plan's chain with one key away from its middle."""

    wanted: tuple[str, ...]
    run: Callable[[Sequence[Any]], tuple[Any, ...]]
    mids: list[float]
    inputs: Mapping[str, list[tuple[int, Input]]]
    given: Mapping[str, list[tuple[int, UncertainValue]]]

    @classmethod
    def of(
        cls,
        chain: Chain,
        inputs: Sequence[Input],
        given: Mapping[str, UncertainValue],
        wanted: tuple[str, ...],
    ) -> _Moves:
        names = (*(entry.name for entry in inputs), *given)
        mids = [*(entry.mid for entry in inputs), *(figure.mid for figure in given.values())]
        by_input: dict[str, list[tuple[int, Input]]] = {}
        by_given: dict[str, list[tuple[int, UncertainValue]]] = {}
        for n, entry in enumerate(inputs):
            if not entry.exact:
                by_input.setdefault(entry.key, []).append((n, entry))
        for n, figure in enumerate(given.values(), len(inputs)):
            for key in figure.sensitivities:
                by_given.setdefault(key, []).append((n, figure))
        return cls(wanted, outputs_function(chain, names, wanted), mids, by_input, by_given)

    @property
    def keys(self) -> list[str]:
        """Every key, in the order in which it occurs."""
        return list(dict.fromkeys([*self.inputs, *self.given]))

    def values(self, key: str, z: float) -> dict[str, Any]:
        """All wanted outputs with a key at z."""
        values = list(self.mids)
        for n, item in self.inputs.get(key, ()):
            values[n] = item.at(z)
        for n, figure in self.given.get(key, ()):
            change = figure.sensitivities[key] if abs(z) == Z95 else figure.half(key)
            values[n] = figure.mid + change[z > 0]
        return dict(zip(self.wanted, self.run(values), strict=True))
