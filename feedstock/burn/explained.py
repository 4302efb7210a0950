"""How a figure of the plan came about: its graph and the chains of its lots run again, and read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from ..lot.explained import doubts_of, shares_of_inputs, terms_of
from ..lot.model import FigureSpec
from ..model.explanation import Contribution, Explanation, Term
from ..model.inputs.burn import Burn
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import run, upstream
from ..words import Message
from .fuel import Fuel
from .graph import Graph, estimate_in
from .plan import plan_graph, usable_fuels
from .planned import PLAN_FIGURES, SUMS
from .quench import ready_litres


def _explained(
    figure_name: str,
    about: FigureSpec,
    figure: UncertainValue,
    graph: Graph,
    fuels: Sequence[Fuel],
    notes: Iterable[Message],
) -> Explanation:
    """How a figure of the plan came about; `SUMS` says which figure of the lots stands behind each
    given one.
    """
    shares = shares_of_inputs(figure, (fuel.model.inputs for fuel in fuels))
    counted = set[str]()
    needed = upstream(graph.steps, about.output)
    sensitivities, terms = list[Contribution](), list[Term]()
    behind = {SUMS[name] for name in graph.given if name in needed and name in SUMS}
    for fuel in fuels:
        model = fuel.model
        wanted = set[str]().union(*(upstream(model.chain, name) for name in behind))
        terms += terms_of(model.chain, wanted, run(model.chain, model.middles), fuel.name)
        sensitivities += doubts_of(model.inputs, wanted, shares, counted, fuel.name)
    middles: Mapping[str, float] = {entry.name: entry.mid for entry in graph.inputs.values()} | {
        name: item.mid for name, item in graph.given.items()
    }
    terms += terms_of(graph.steps, needed, run(tuple(graph.steps), middles), "the burn")
    sensitivities += doubts_of(graph.inputs.values(), needed, shares, counted, "")
    shown = estimate_in(figure, about.unit, about.factor)
    return Explanation(
        figure_name,
        about.unit,
        shown.low_value,
        shown.mid_value,
        shown.high_value,
        (),
        tuple(terms),
        tuple(sorted(sensitivities, key=lambda doubt: -doubt.share)),
        tuple(notes),
    )


def explain_plan(
    figure: str,
    fuels: Sequence[Fuel],
    burn: Burn,
    tables: Tables,
    burner_row: str,
    notes: Sequence[Message],
) -> Explanation:
    """How a figure of the plan came about.

    Raises KeyError where there is no such figure in this plan.
    """
    name = figure.partition(".")[2]
    about = PLAN_FIGURES[name]
    usable, _ = usable_fuels(fuels, tables)
    planned = plan_graph(usable, burn, tables, burner_row)
    if about.output not in planned.figures:
        raise KeyError(figure)
    burnt = list(planned.layout.fuels) if planned.layout is not None else []
    more = [Message("plan.have-ready")] if name == "have_ready" else []
    explanation = _explained(
        figure,
        about,
        planned.figures[about.output],
        planned.graph,
        burnt,
        [*notes, *planned.graph.notes, *more],
    )
    shown = planned.estimate(name)
    if name != "have_ready":
        return (
            explanation
            if shown is None
            else replace(
                explanation, low=shown.low_value, mid=shown.mid_value, high=shown.high_value
            )
        )
    water = planned.estimate("quench_water")
    assert water is not None
    ready = ready_litres(water, burn, tables)
    return replace(explanation, low=ready, mid=ready, high=ready)
