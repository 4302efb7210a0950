"""The char of all lots together, if they were thrown on one heap."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from ..physics import load
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import Chain, Step
from ..uncertainty.inputs import Input
from ..uncertainty.intervals import Z95
from ..uncertainty.propagate import from_moves
from ..uncertainty.sums import add
from .elements import LotElements


def mixed_figure(lots: Sequence[LotElements], symbol: str) -> UncertainValue:
    """The share of an element in the char of all lots together; a lot whose tables do not know it
    brings none.

    Doubts of one key move in all lots at once, as they do in a sum.
    """
    if len(lots) == 1 and f"screening_{symbol}" in lots[0].figures:
        return lots[0].figures[f"screening_{symbol}"]
    chars = add(lot.figures["char_mass"] for lot in lots)
    masses = add(lot.figures[f"mass_{symbol}"] for lot in lots if f"mass_{symbol}" in lot.figures)
    if not chars.mid > 0:
        return UncertainValue(0.0)

    def at(normals: Mapping[str, float]) -> dict[str, float]:
        return {"mixed": load.in_mixed_char([masses.at(normals)], [chars.at(normals)])}

    def both(key: str, z: float) -> tuple[dict[str, float], dict[str, float]]:
        return at({key: -z}), at({key: z})

    return from_moves(
        at({}),
        {key: both(key, Z95) for key in {**chars.sensitivities, **masses.sensitivities}},
        lambda key: both(key, Z95 / 2),
        {"mixed": lambda normals: at(normals)["mixed"]},
        {"mixed": "log"},
    )["mixed"]


def mixed_chain(
    lots: Sequence[tuple[str, LotElements]], symbol: str
) -> tuple[Chain, tuple[Input, ...]]:
    """The chains of all lots as one, each name led by its lot's, with the mixed share as the last
    step `mixed`.
    """
    steps: list[Step] = []
    inputs: list[Input] = []
    elements, chars = [], []
    for lot, item in lots:

        def named(name: str, lot: str = lot) -> str:
            return f"{lot}: {name}"

        steps += [
            Step(named(s.output), s.function, tuple(map(named, s.inputs)), s.scale)
            for s in item.chain
        ]
        inputs += [replace(given, name=named(given.name)) for given in item.inputs]
        chars.append(named("char_mass"))
        if any(s.output == f"mass_{symbol}" for s in item.chain):
            elements.append(named(f"mass_{symbol}"))
    count = len(elements)

    def mixed(*values: Any) -> Any:
        return load.in_mixed_char(values[:count], values[count:])

    mixed.formula = load.in_mixed_char.formula  # type: ignore[attr-defined]
    steps.append(Step("mixed", mixed, (*elements, *chars)))
    return tuple(steps), tuple(inputs)
