"""How a figure of lots came about: their chains run again, and read."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Mapping, Sequence

from ..model.explanation import Contribution, Explanation, Term
from ..uncertainty.figure import UncertainValue
from ..uncertainty.formula import formula_of
from ..uncertainty.graph import Chain, Step, run, upstream
from ..uncertainty.inputs import Input, Number
from ..uncertainty.keys import stated_heap_key
from ..uncertainty.propagate import propagate
from ..uncertainty.sums import add
from ..words import Message
from .advice import best_measurement
from .model import LotModel


def explain_sum(
    name: str,
    unit: str,
    lots: Sequence[tuple[str, Chain, Sequence[Input]]],
    output: str,
    factor: float = 1.0,
    notes: Iterable[Message] = (),
    models: Iterable[LotModel] = (),
    total: UncertainValue | None = None,
) -> Explanation:
    """Run the chains of the lots again and read the explanation of the sum of `output` off them.

    `factor` turns the chain's SI value into `unit`; `models` are the lots where a measurement of
    them can be advised; `total` is the figure where it is no sum of these chains.
    """
    parts = [propagate(chain, inputs, [output])[output] for _, chain, inputs in lots]
    if total is None:
        total = add(parts) if len(parts) != 1 else parts[0]
    shares, counted = shares_of_inputs(total, (inputs for _, _, inputs in lots)), set[str]()
    sensitivities, terms = list[Contribution](), list[Term]()
    for lot, chain, inputs in lots:
        needed = upstream(chain, output)
        values = run(chain, {entry.name: entry.mid for entry in inputs})
        terms += terms_of(chain, needed, values, lot)
        sensitivities += doubts_of(inputs, needed, shares, counted, lot)
    low, high = total.ends
    return Explanation(
        name,
        unit,
        low * factor,
        total.mid * factor,
        high * factor,
        tuple((lot, part.mid * factor) for (lot, _, _), part in zip(lots, parts, strict=True)),
        tuple(terms),
        tuple(sorted(sensitivities, key=lambda doubt: -doubt.share)),
        tuple(notes),
        best_measurement(models, total),
    )


def terms_of(
    steps: Iterable[Step], needed: Container[str], values: Mapping[str, Number], lot: str
) -> list[Term]:
    """The steps that a figure rests on, with their values and formulas."""
    terms = []
    for step in steps:
        if step.output in needed:
            about = formula_of(step.function)
            terms.append(
                Term(
                    step.output,
                    values[step.output],
                    about.units.get("result", ""),
                    about.name,
                    about.reference,
                    tuple((name, values[name]) for name in step.inputs),
                    lot,
                )
            )
    return terms


def shares_of_inputs(
    figure: UncertainValue, lots: Iterable[Iterable[Input]]
) -> Mapping[str, float]:
    """The shares of a figure by key, with the person's own part in stated ranges told at these."""
    shares = figure.shares()
    person = shares.pop(stated_heap_key(), 0.0)
    stated = {entry.key for inputs in lots for entry in inputs if entry.shared}
    own = {key: share for key, share in shares.items() if key in stated}
    total = math.fsum(own.values())
    if total > 0:
        shares |= {key: share * (1.0 + person / total) for key, share in own.items()}
    return shares


def doubts_of(
    inputs: Iterable[Input],
    needed: Container[str],
    shares: Mapping[str, float],
    counted: set[str],
    lot: str,
) -> list[Contribution]:
    """The inputs that a figure rests on, with the share of its width; the share of a key stands at
    the first of its inputs, and `counted` grows by the keys.
    """
    contributions = []
    for entry in inputs:
        if entry.name in needed:
            share = 0.0 if entry.key in counted else shares.get(entry.key, 0.0)
            counted.add(entry.key)
            contributions.append(
                Contribution(
                    entry.name,
                    entry.low,
                    entry.mid,
                    entry.high,
                    entry.unit,
                    entry.key,
                    max(share, 0.0),
                    entry.origin,
                    lot,
                )
            )
    return contributions
