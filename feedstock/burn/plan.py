"""The plan of a burn."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..model.burn_plan import BurnPlan, Loads
from ..model.findings import Caution, Verdict
from ..model.inputs.burn import Burn
from ..quantities.estimate import Estimate
from ..tables.rows.burner import Burner
from ..tables.rows.methods.fire import Charring
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.estimates import exact_estimate
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import run
from ..words import Message
from . import quench
from . import schedule as feeding
from .duration import _duration, _unburnt
from .emissions import _emissions
from .findings import _findings, _hot, _refusals
from .fuel import PURPOSES, Fuel, weighted
from .graph import Graph, estimate_in
from .planned import _MINUTE, PLAN_FIGURES, Planned
from .takes import _leaves, _takes
from .timeline import _timeline
from .vessel import add_vessel, has_measures, what_to_give


def can_plan(tables: Tables) -> bool:
    """Whether the tables in use hold the methods of a plan."""
    return all(tables.has_method(purpose) for purpose in PURPOSES)


def plan_of(
    fuels: Sequence[Fuel],
    burn: Burn | None,
    tables: Tables,
    burner_row: str,
    cautions: Sequence[Caution],
) -> tuple[BurnPlan | None, list[Message]]:
    """The plan of a burn, or None and a note that says what to give.

    Raises InputError for measures that do not do.
    """
    if burn is None:
        return None, []
    burner = tables.row("burners", burner_row, Burner)
    name = burner.display(burner_row.partition(":")[2])
    if not has_measures(burn):
        return None, [what_to_give(burner, burner.called(burner_row.partition(":")[2]))]
    if not can_plan(tables):
        return None, [Message("plan.no-methods")]
    usable, hot = usable_fuels(fuels, tables)
    planned = plan_graph(usable, burn, tables, burner_row)
    vessel_volume = planned.estimate("vessel_volume")
    assert vessel_volume is not None
    # cautions of store and use stand behind the burn in the appraisal
    kept = tuple(c for c in cautions if c.stage != "after")
    if not usable:
        return BurnPlan(
            burner=name,
            firing=planned.firing,
            refused=True,
            vessel_volume=vessel_volume,
            findings=tuple(_refusals(fuels, hot, tables, burner_row)),
            cautions=kept,
            notes=tuple(dict.fromkeys(planned.graph.notes)),
        ), []
    return _filled(planned, burn, tables, burner_row, name, vessel_volume, kept, hot), []


def usable_fuels(fuels: Sequence[Fuel], tables: Tables) -> tuple[list[Fuel], list[Fuel]]:
    """The ready lots, and those of them that the heat balance takes out again; a lot of
    no mass counts as neither.
    """
    limit = tables.method("planning", Planning)[1].heat_limit.mid
    ready = [fuel for fuel in fuels if fuel.verdict is Verdict.READY]
    hot = [
        fuel
        for fuel in ready
        if "water_heat" in fuel.figures and fuel.figures["water_heat"].mid > limit
    ]
    return [fuel for fuel in ready if fuel not in hot and fuel.dry > 0], hot


def plan_graph(fuels: list[Fuel], burn: Burn, tables: Tables, burner_row: str) -> Planned:
    """Steps and inputs of the plan, and every figure of it. With no fuel only the vessel."""
    burner = tables.row("burners", burner_row, Burner)
    graph = Graph(tables)
    vessel = add_vessel(graph, burn, burner, burner_row)
    how = burn.firing or burner.firing[0]
    if not fuels:
        return Planned(graph, vessel, fuels, how, graph.derive("vessel"), 0.0, 0.0, False)
    _takes(graph, vessel, burner, burner_row, burn, fuels, tables, how)
    end = _duration(graph, vessel, burn, fuels, how)
    start = graph.inputs["start"].mid
    _unburnt(graph, vessel, burner_row, fuels, how, end, start, burn.duration is not None)
    _leaves(graph, burner, burner_row, burn)
    wanted = [about.output for about in PLAN_FIGURES.values()] + [
        "one_fuel",
        "boiled",
        "taken_up",
        "rim",
        "covered",
    ]
    made = {step.output for step in graph.steps} | set(graph.inputs) | set(graph.given)
    return Planned(
        graph,
        vessel,
        fuels,
        how,
        graph.derive(*dict.fromkeys(name for name in wanted if name in made)),
        end,
        start,
        burn.duration is not None,
    )


def _order(planned: Planned, planning: Planning, tables: Tables) -> feeding.Order:
    """In which order the fuel of one load goes in."""
    share = min(1.0, planned.figures["one_fuel"].mid / planned.graph.given["total_dry"].mid)
    return feeding.Order(
        planned.fuels,
        planned.firing,
        planned.end,
        planned.start,
        planned.figures["hold_back"].mid,
        share,
        planning,
        planned.fixed_end,
        tables.method("char-through", Charring)[1].exponent.mid,
        planned.graph.middle("feed_time") if planned.firing == "top-lit" else 0.0,
    )


def _filled(
    planned: Planned,
    burn: Burn,
    tables: Tables,
    row: str,
    name: str,
    vessel_volume: Estimate,
    cautions: tuple[Caution, ...],
    hot: Sequence[Fuel],
) -> BurnPlan:
    _, planning = tables.method("planning", Planning)
    burner = tables.row("burners", row, Burner)
    loads = loads_of(planned.figures["loads"])
    order = _order(planned, planning, tables)
    put_out = quench.quench_of(planned.graph, planned.figures, burner, row, burn, planning)
    water = planned.estimate("quench_water")
    assert water is not None
    of_plan = _findings(planned, burner, row, tables, loads, burn)
    findings = (*order.findings(tables), *of_plan, *_hot(hot, tables), *put_out.findings)
    quick = sum(fuel.dry for fuel in planned.fuels if fuel.thickness <= planning.quick_below.mid)
    return BurnPlan(
        burner=name,
        firing=planned.firing,
        vessel_volume=vessel_volume,
        char_volume=planned.estimate("char_volume"),
        char_mass=planned.estimate("char_mass"),
        fill=planned.estimate("fill"),
        left_over=planned.estimate("left_over"),
        loads=loads,
        duration=planned.estimate("duration"),
        hold_back=planned.estimate("hold_back"),
        quick_fuel=exact_estimate(quick, "kg"),
        quench_water=water,
        have_ready=put_out.have_ready,
        unburnt=planned.estimate("unburnt"),
        raw=planned.estimate("raw"),
        water_heat=_water_heat(planned.fuels),
        feeding=order.steps(),
        char_through=_through(planned),
        cores=order.cores(),
        timeline=_timeline(planned, order, put_out.plan.covered),
        quench=put_out.plan,
        emissions=_emissions(planned, tables),
        findings=findings,
        cautions=cautions,
        notes=tuple(dict.fromkeys([*planned.graph.notes, *order.notes(tables)])),
    )


def loads_at_middle(fuels: Sequence[Fuel], burn: Burn, tables: Tables, burner_row: str) -> float:
    """The loads of some fuel as a real number, with every input at its middle; 0 for no fuel."""
    if not fuels:
        return 0.0
    burner = tables.row("burners", burner_row, Burner)
    graph = Graph(tables)
    vessel = add_vessel(graph, burn, burner, burner_row)
    how = burn.firing or burner.firing[0]
    _takes(graph, vessel, burner, burner_row, burn, fuels, tables, how)
    mids = {entry.name: entry.mid for entry in graph.inputs.values()} | {
        name: item.mid for name, item in graph.given.items()
    }
    return float(graph.given["total_dry"].mid / run(tuple(graph.steps), mids)["one_fuel"])


_HAIR = 1e-5
"""A load filled to the rim by halving its share may be this much over, and is still one."""


def loads_of(figure: UncertainValue) -> Loads:
    """Whole loads from the real number of them; a hair above a whole one is rounding."""
    low, high = figure.ends
    return Loads(
        low=_whole(min(low, figure.mid)), mid=_whole(figure.mid), high=_whole(max(high, figure.mid))
    )


def _whole(real: float) -> int:
    return max(1, math.ceil(real * (1 - _HAIR)))


def _water_heat(fuels: Sequence[Fuel]) -> Estimate | None:
    known = [fuel for fuel in fuels if "water_heat" in fuel.figures]
    whole = sum(fuel.dry for fuel in known)
    return (
        estimate_in(
            weighted((fuel.dry / whole, fuel.figures["water_heat"]) for fuel in known), "%", 100
        )
        if known
        else None
    )


def _through(planned: Planned) -> tuple[tuple[str, Estimate], ...]:
    """Time in the flame by lot; in a closed kiln no piece is in one."""
    return (
        ()
        if planned.firing == "closed"
        else tuple(
            (fuel.name, estimate_in(fuel.through, "min", 1 / _MINUTE)) for fuel in planned.fuels
        )
    )
