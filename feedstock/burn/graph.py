"""The graph of a plan: figures of a whole heap go in with their doubts, key by key."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from ..lot.char_through import cell_input
from ..physics import firing
from ..quantities.cell import Scale
from ..quantities.estimate import Estimate
from ..quantities.fields import Measured
from ..tables.tables import Tables
from ..uncertainty import sampling as draws
from ..uncertainty.figure import Figure
from ..uncertainty.graph import Chain, Step, run, upstream
from ..uncertainty.inputs import UNIT_OF, Input, Origin
from ..uncertainty.intervals import P95
from ..uncertainty.propagate import from_moves

BENDS = (firing.fuel_by_two, firing.fuel_by_three, firing.loaded, firing.longer, firing.left_over)
"""Steps that take the least or the greatest of what is in doubt."""


SHARES = ("unburnt", "raw")
"""Given figures that no draw may carry past nothing or past all."""


@dataclass(slots=True)
class Graph:
    """The steps of a plan, its own inputs, and the figures of the heap that go in with their
    doubts.
    """

    tables: Tables
    steps: list[Step] = field(default_factory=list)
    inputs: dict[str, Input] = field(default_factory=dict)
    given: dict[str, Figure] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def step(
        self, output: str, function: Callable[..., Any], *inputs: str, scale: Scale = "log"
    ) -> str:
        self.steps.append(Step(output, function, inputs, scale))
        return output

    def cell(
        self,
        name: str,
        kind: str,
        full: str,
        *path: str | int,
        key: str = "",
        certain: bool = False,
    ) -> str:
        """An input that is a cell of a table; its doubt is shared with every other use of the
        cell.
        """
        found = self.tables.cell(kind, full, path)
        assert found is not None, (full, path)
        self.inputs[name] = cell_input(self.tables, name, kind, full, path, found, key, certain)
        return name

    def known(self, name: str, value: float, text: str, unit: str = "1") -> str:
        self.inputs[name] = Input(
            name, value, value, value, "linear", f"exact:{name}", Origin("assumption", text), unit
        )
        return name

    def measured(self, name: str, said: Measured, field_name: str, error: float = 0.0) -> str:
        """An input of the burn: with the user's own range, or with a relative error of
        measuring.
        """
        low, high = (
            (said.low, said.high)
            if said.low is not None and said.high is not None
            else (said.mid * (1 - error), said.mid * (1 + error))
        )
        origin = Origin("field", f"{field_name}: {said.text}", field=field_name)
        self.inputs[name] = Input(
            name,
            low,
            said.mid,
            high,
            "log",
            f"burn:{field_name}",
            origin,
            UNIT_OF.get(said.dimension, "1"),
        )
        return name

    def derive(self, *wanted: str) -> dict[str, Figure]:
        """The wanted figures: every key is moved once in the inputs and in the given figures alike,
        so shared doubt stays shared.
        """
        chain, inputs = tuple(self.steps), list(self.inputs.values())
        scales: dict[str, Scale] = {name: figure.scale for name, figure in self.given.items()} | {
            each.name: each.scale for each in inputs
        }
        scales |= {step.output: step.scale for step in chain}
        keys = dict.fromkeys(
            [
                *(each.key for each in inputs if not each.certain),
                *(key for figure in self.given.values() for key in figure.doubts),
            ]
        )

        def moved(key: str, z: float) -> dict[str, Any]:
            values = {each.name: each.at(z) if each.key == key else each.mid for each in inputs}
            for name, figure in self.given.items():
                change = (
                    (0.0, 0.0)
                    if key not in figure.doubts
                    else figure.doubts[key]
                    if abs(z) == P95
                    else figure.half(key)
                )
                values[name] = figure.mid + change[z > 0]
            return run(chain, values)

        def both(key: str, z: float) -> tuple[dict[str, Any], dict[str, Any]]:
            return moved(key, -z), moved(key, z)

        found = from_moves(
            moved("", 0.0),
            {key: both(key, P95) for key in keys},
            lambda key: both(key, P95 / 2),
            {},
            {name: scales[name] for name in wanted},
        )
        bent = self._bent() & found.keys()
        return (
            found
            if not bent
            else found
            | {
                name: replace(found[name], drawn=ends)
                for name, ends in self._drawn(chain, inputs, bent).items()
            }
        )

    def middle(self, output: str) -> float:
        """An output with every input at its middle."""
        mids = {each.name: each.mid for each in self.inputs.values()} | {
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

    def _drawn(
        self, chain: Chain, inputs: Sequence[Input], wanted: Collection[str]
    ) -> dict[str, tuple[float, float]]:
        needed = set[str]().union(*(upstream(chain, name) for name in wanted))
        steps = [step for step in chain if step.output in needed]
        columns: dict[str, Sequence[float]] = {}
        for each in (each for each in inputs if each.name in needed):
            columns[each.name] = (
                [each.mid] * draws.COUNT
                if each.certain
                else [each.at(z) for z in draws.normals_of(each.key)]
            )
        for name, figure in (
            (name, figure) for name, figure in self.given.items() if name in needed
        ):
            columns[name] = (
                figure.alone([(key, draws.normals_of(key)) for key in figure.doubts])
                if figure.doubts
                else [figure.mid] * draws.COUNT
            )
            if name in SHARES:
                columns[name] = [min(max(each, 0.0), 1.0) for each in columns[name]]
        runs = [
            run(steps, dict(zip(columns, row, strict=True)))
            for row in zip(*columns.values(), strict=True)
        ]
        return {name: draws.ends_of([each[name] for each in runs]) for name in wanted}


def estimate_in(figure: Figure, unit: str, factor: float) -> Estimate:
    """A figure in its public unit, never below nothing."""
    low, high = figure.ends if figure.doubts else (figure.mid, figure.mid)
    mid = max(figure.mid, 0.0)
    return Estimate(max(min(low, mid), 0.0) * factor, mid * factor, max(high, mid) * factor, unit)
