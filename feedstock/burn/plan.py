"""The plan of a burn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from ..model.burn_plan import BurnPlan, Loads
from ..model.findings import Caution, Finding, Verdict
from ..model.inputs.burn import Burn
from ..quantities.data import trusted
from ..quantities.estimate import Estimate, exact_estimate, scaled_estimate
from ..tables.rows.burner import Burner
from ..tables.rows.methods.fire import BurningRate
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.mapped import key_by_key
from ..words import Message
from . import quench
from .before import cuts_of, pieces_of, splits_of
from .duration import add_duration, add_raw
from .emissions import emissions_of
from .findings import hot_findings, plan_findings, plan_notes, refusals
from .fire import HAIR, Fire, fire_of, middles_of
from .fuel import PURPOSES, Fuel, weighted
from .graph import Graph, estimate_in
from .layout import Layout, laid_out
from .measures import has_measures
from .planned import MINUTE, PLAN_FIGURES, Planned
from .schedule import Ratios, Schedule
from .section import section_of
from .takes import add_fire, add_leaves, add_takes, own_rate
from .timeline import timeline_of
from .vessel import Vessel, add_vessel, what_to_give


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
    if not has_measures(burn):
        return None, [what_to_give(burner, burner.called(burner_row.partition(":")[2]))]
    if not can_plan(tables):
        return None, [Message("plan.no-methods")]
    usable, hot = usable_fuels(fuels, tables)
    planned = plan_graph(usable, burn, tables, burner_row)
    # cautions of store and use stand behind the burn in the appraisal
    kept = tuple(c for c in cautions if c.stage != "after")
    if planned.layout is None or not planned.layout.fuels:
        return _refused(planned, fuels, hot, burn, tables, burner_row, kept), []
    return _filled(planned, burn, tables, burner_row, kept, hot), []


def _refused(
    planned: Planned,
    fuels: Sequence[Fuel],
    hot: Sequence[Fuel],
    burn: Burn,
    tables: Tables,
    row: str,
    cautions: tuple[Caution, ...],
) -> BurnPlan:
    """A burn for which nothing is ready, or nothing gets through."""
    burner = tables.row("burners", row, Burner)
    volume = planned.estimate("vessel_volume")
    assert volume is not None
    out = planned.layout.left_out if planned.layout is not None else ()
    found = (
        plan_findings(planned, burner, row, tables, trusted(Loads)(low=0, mid=0, high=0), burn)
        if out
        else refusals(fuels, hot, tables, row)
    )
    return trusted(BurnPlan)(
        burner=burner.display(row.partition(":")[2]),
        firing=planned.firing,
        refused=True,
        vessel_volume=volume,
        left_out=tuple(fuel.name for fuel in out),
        findings=tuple(found),
        cautions=cautions,
        notes=tuple(dict.fromkeys(planned.graph.notes)),
    )


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


def plan_graph(
    fuels: Sequence[Fuel],
    burn: Burn,
    tables: Tables,
    burner_row: str,
    most_fuel: float = math.inf,
) -> Planned:
    """Steps and inputs of the plan, and every figure of it. With no fuel only the vessel."""
    burner = tables.row("burners", burner_row, Burner)
    how = burn.firing or burner.firing[0]
    graph = Graph(tables)
    vessel = add_vessel(graph, burn, burner, burner_row)
    if not fuels:
        return Planned(graph, vessel, how, graph.derive("vessel"))
    fire, layout = _decided(graph, vessel, burner, burner_row, burn, fuels, how, most_fuel)
    if not layout.fuels:
        return Planned(graph, vessel, how, graph.derive("vessel"), fire, layout)
    add_takes(graph, burn, layout, fire, tables)
    add_duration(graph, vessel, burn, layout, fire)
    add_raw(graph, vessel, burner_row, layout, fire)
    add_leaves(graph, burner, burner_row, burn, layout, fire)
    hosed = _hosed(graph, burn, tables, most_fuel)
    if hosed < most_fuel:
        return plan_graph(fuels, burn, tables, burner_row, hosed)
    made = {step.output for step in graph.steps} | set(graph.inputs) | set(graph.given)
    figures = (*(about.output for about in PLAN_FIGURES.values()), "feed_time")
    wanted = dict.fromkeys(name for name in figures if name in made)
    same = _OF_ONE if layout.loads == 1 else {}
    found = graph.derive(*(name for name in wanted if name not in same))
    found |= {name: found[one] for name, one in same.items()}
    return Planned(graph, vessel, how, found, fire, layout)


_OF_ONE = {"all_water": "quench_water", "all_quick": "hold_back"}
"""What is the same for all loads where there is but one."""


def _decided(
    graph: Graph,
    vessel: Vessel,
    burner: Burner,
    row: str,
    burn: Burn,
    fuels: Sequence[Fuel],
    how: str,
    most_fuel: float,
) -> tuple[Fire, Layout]:
    """The fire and what of the fuel goes into one load, with every doubt at its middle."""
    add_fire(graph, burner, row, burn, how)
    own_rate(graph.inputs, fuels[0].model.rate)
    fire = replace(fire_of(graph, vessel, burner, burn, how), most_fuel=most_fuel)
    return fire, laid_out(fuels, fire)


def _hosed(graph: Graph, burn: Burn, tables: Tables, most_fuel: float) -> float:
    """The fuel, kg dry, that the hose which was told of can quench in time."""
    if burn.hose is None or most_fuel < math.inf:
        return most_fuel
    values = middles_of(graph)
    _, planning = tables.method("planning", Planning)
    ready = planning.hosed.mid / values["hose_time"]
    return values["fuel"] * ready if ready < 1.0 - HAIR else most_fuel


def layout_at_middle(
    fuels: Sequence[Fuel], burn: Burn, tables: Tables, burner_row: str
) -> tuple[Layout, Fire]:
    """What a plan would decide, without its figures."""
    burner = tables.row("burners", burner_row, Burner)
    how = burn.firing or burner.firing[0]
    graph = Graph(tables)
    vessel = add_vessel(graph, burn, burner, burner_row)
    fire, layout = _decided(graph, vessel, burner, burner_row, burn, fuels, how, math.inf)
    if burn.hose is None or not layout.fuels:
        return layout, fire
    add_takes(graph, burn, layout, fire, tables)
    add_duration(graph, vessel, burn, layout, fire)
    add_raw(graph, vessel, burner_row, layout, fire)
    add_leaves(graph, burner, burner_row, burn, layout, fire)
    hosed = _hosed(graph, burn, tables, math.inf)
    if hosed == math.inf:
        return layout, fire
    fire = replace(fire, most_fuel=hosed)
    return laid_out(fuels, fire), fire


def _filled(
    planned: Planned,
    burn: Burn,
    tables: Tables,
    row: str,
    cautions: tuple[Caution, ...],
    hot: Sequence[Fuel],
) -> BurnPlan:
    layout, fire = planned.layout, planned.fire
    assert layout is not None
    assert fire is not None
    planning, burner = fire.planning, tables.row("burners", row, Burner)
    loads = loads_told(planned)
    put_out = quench.quench_of(planned.graph, planned.figures, burner, row, burn, planning)
    figures = {name: planned.estimate(name) for name in _PUBLIC}
    longest = _longest(planned, planning)
    # in a closed kiln long pieces stand
    cuts = cuts_of(layout, fire, longest) if planned.firing != "closed" else ()
    pieces = pieces_of(layout, fire, longest, cuts)
    uncharred, duration = figures["uncharred_fraction"], figures["duration"]
    findings: list[Finding] = plan_findings(planned, burner, row, tables, loads, burn)
    parts: dict[str, Any] = {
        **figures,
        "burner": burner.display(row.partition(":")[2]),
        "firing": planned.firing,
        "loads": loads,
        "have_ready": put_out.have_ready,
        "water_heat": _water_heat(layout.fuels),
        "longest_piece": exact_estimate(longest, "m"),
        "floor_sticks": _floor_sticks(planned, planning, tables) if layout.loads > 1 else None,
        "split": splits_of(layout, fire, longest, cuts),
        "saw": cuts,
        "left_out": tuple(fuel.name for fuel in layout.left_out),
        "feeding": Schedule(layout, fire, *_spans(planned, duration), pieces).steps(),
        "char_through": _through(planned, layout),
        "brands": _brands(layout, uncharred),
        "timeline": timeline_of(planned, duration, put_out.plan.covered),
        "quench": put_out.plan,
        "section": section_of(planned, dug=burner.stands == "earth"),
        "emissions": emissions_of(planned.firing, layout.fuels, tables),
        "findings": (*findings, *hot_findings(hot, tables), *put_out.findings),
        "cautions": cautions,
        "notes": tuple(dict.fromkeys([*planned.graph.notes, *plan_notes(layout, fire, tables)])),
    }
    return trusted(BurnPlan)(**parts)


_PUBLIC = (
    "vessel_volume",
    "char_volume",
    "char_mass",
    "fill",
    "duration",
    "hold_back",
    "quench_water",
    "uncharred_fraction",
    "hours",
    "water",
    "quick_fuel",
)


def _spans(planned: Planned, duration: Estimate | None) -> tuple[Ratios, Ratios | None]:
    """How far off the times of the plan may be; and the amounts, where time ends the burn."""
    layout = planned.layout
    assert layout is not None
    if duration is None or duration.mid_value <= 0:
        return (1.0, 1.0), None
    mid = duration.mid_value
    time = (duration.low_value / mid, duration.high_value / mid)
    if not layout.clamped or planned.firing != "fed":
        return time, None
    rate = planned.graph.inputs["rate"]
    return time, (rate.low / rate.mid, rate.high / rate.mid)


def loads_told(planned: Planned) -> Loads:
    """Whole loads: at the middle those that the plan decided for."""
    layout = planned.layout
    assert layout is not None
    loads = loads_of(planned.figures["loads"])
    return trusted(Loads)(
        low=min(loads.low, layout.loads), mid=layout.loads, high=max(loads.high, layout.loads)
    )


def _longest(planned: Planned, planning: Planning) -> float:
    """The longest piece that lies well inside the rim, or on the part of it that burns, m; in a
    round vessel that narrows half way from there to the width of its floor, where the first lie.
    """
    values, rim = planned.middles, planned.vessel.shape.rim
    small = planned.layout.small if planned.layout is not None else 1.0
    filled_round = planned.firing != "fed" and len(rim) == 1
    share = planning.longest_filled if filled_round else planning.longest_share
    longest = share.mid * max(values[name] for name in rim)
    shape, floor = planned.vessel.shape, longest
    if len(rim) == 1 and "bottom_diameter" in shape.dimensions:
        at = shape.dimensions.index("bottom_diameter")
        floor = values[planned.vessel.dimensions[at]]
    return float((longest + min(floor, longest)) / 2 * math.sqrt(small))


def _floor_sticks(planned: Planned, planning: Planning, tables: Tables) -> Estimate | None:
    """A layer of dry sticks over the floor of a vessel that water was poured into, kg dry."""
    if planned.vessel.heap:
        return None
    values, vessel = planned.middles, planned.vessel
    _, rate = tables.method("burning-rate", BurningRate)
    level = min(planning.floor_layer.mid, values["depth"])
    room = vessel.shape.filled(*(values[name] for name in vessel.dimensions), level)
    return exact_estimate(float(room * rate.load_packing.mid) * planning.brought_density.mid, "kg")


def _brands(layout: Layout, uncharred: Estimate | None) -> Estimate | None:
    """The raw wood that all loads leave, kg dry."""
    if uncharred is None:
        return None
    dry = math.fsum(fuel.dry for fuel in layout.fuels) / 100
    return scaled_estimate(
        uncharred.low_value * dry, uncharred.mid_value * dry, uncharred.high_value * dry, "kg"
    )


_HAIR = 1e-5
"""A load filled to the rim by halving its share may be this much over, and is still one."""


def loads_of(figure: UncertainValue) -> Loads:
    """Whole loads from the real number of them; a hair above a whole one is rounding."""
    low, high = figure.ends
    return trusted(Loads)(
        low=_whole(min(low, figure.mid)), mid=_whole(figure.mid), high=_whole(max(high, figure.mid))
    )


def _whole(real: float) -> int:
    return max(1, math.ceil(real * (1 - _HAIR)))


def _water_heat(fuels: Sequence[Fuel]) -> Estimate | None:
    known = [fuel for fuel in fuels if "water_heat" in fuel.figures]
    if not known:
        return None
    whole = math.fsum(fuel.dry for fuel in known)
    mean = weighted((fuel.dry / whole, fuel.figures["water_heat"]) for fuel in known)
    return estimate_in(key_by_key(mean), "%", 100)


def _through(planned: Planned, layout: Layout) -> tuple[tuple[str, Estimate], ...]:
    """Time in the flame by lot, as it goes in; in a closed kiln no piece is in one."""
    if planned.firing == "closed":
        return ()
    return tuple((fuel.name, estimate_in(fuel.through, "min", 1 / MINUTE)) for fuel in layout.fuels)
