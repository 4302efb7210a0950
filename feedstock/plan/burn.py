"""The plan of a burn: how much of the ready lots one burn takes, what it leaves, how long it lasts,
and what happens when.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from ..chain import FigureOf
from ..errors import UnknownName
from ..estimate import Estimate
from ..figures import Explanation, Figure, Input, add, formula, run
from ..heap import Burn
from ..percentiles import P95
from ..physics import charring, firing
from ..physics import quench as quench_physics
from ..physics.vessel import Shape
from ..results import Caution, Citation, Finding, Verdict
from ..results_after import Learned
from ..results_burn import BurnPlan, Loads, Remark, TimelineEvent
from ..rules.moisture import cited, gate_share
from ..tables import Tables
from ..tables.methods import Kept, WoodChar
from ..tables.methods_fire import BurningRate, Charring
from ..tables.methods_fire import Quench as QuenchMethod
from ..tables.methods_plan import Emissions, Emitted, Planning
from ..tables.schema import Burner, Cell
from . import feeding, quench
from .fuel import PURPOSES, Fuel, Graph, estimate_in, explained, prepare, weighted
from .vessel import Vessel, add_vessel, has_measures, what_to_give

_MINUTE = 60.0


PLAN_FIGURES: dict[str, FigureOf] = {
    "vessel_volume": FigureOf("vessel", "L", 1000),
    "char_volume": FigureOf("burn_char", "L", 1000),
    "char_mass": FigureOf("burn_char_mass", "kg", 1),
    "fill": FigureOf("fill_share", "%", 100),
    "left_over": FigureOf("left_over", "kg", 1),
    "loads": FigureOf("loads", "1", 1),
    "duration": FigureOf("duration", "min", 1 / _MINUTE),
    "hold_back": FigureOf("hold_back", "kg", 1),
    "unburnt": FigureOf("unburnt", "%", 100),
    "raw": FigureOf("raw", "%", 100),
    "quench_water": FigureOf("quench_water", "L", 1000),
    "have_ready": FigureOf("quench_water", "L", 1000),
    "hose_time": FigureOf("hose_time", "min", 1 / _MINUTE),
}

SUMS = {
    "total_dry": "dry_mass",
    "total_char_mass": "char_mass",
    "total_char": "char_volume",
    "total_wood": "wood_volume",
    "total_loose": "loose_volume",
    "known_char": "char_volume",
    "mass_without_volume": "char_mass",
    "longest": "char_through",
    "mean_through": "char_through",
    "unburnt": "char_through",
    "raw": "char_through",
}
"""Which figure of the lots stands behind a given figure of the plan."""


@dataclass(slots=True)
class Planned:
    """The graph of a plan with all that was decided on the way."""

    graph: Graph
    vessel: Vessel
    fuels: list[Fuel]
    firing: str
    figures: dict[str, Figure]
    end: float
    start: float
    fixed_end: bool

    def estimate(self, name: str) -> Estimate | None:
        about = PLAN_FIGURES[name]
        if name in ("unburnt", "raw") and name in self.figures:
            return feeding.share_in(self.figures[name])
        return (
            estimate_in(self.figures[about.output], about.unit, about.factor)
            if about.output in self.figures
            else None
        )


def can_plan(tables: Tables) -> bool:
    """Whether the tables in use hold the methods of a plan."""
    return all(purpose in {**tables.defaults[1].use, **dict(tables.use)} for purpose in PURPOSES)


def plan_of(
    fuels: Sequence[Fuel],
    burn: Burn | None,
    tables: Tables,
    burner_row: str,
    cautions: Sequence[Caution],
) -> tuple[BurnPlan | None, list[str]]:
    """The plan of a burn, or None and a note that says what to give.

    Raises InputError for measures that do not do.
    """
    if burn is None:
        return None, []
    burner = tables.row("burners", burner_row, Burner)
    name = burner.display(burner_row.partition(":")[2])
    if not has_measures(burn):
        return None, [what_to_give(burner, name)]
    if not can_plan(tables):
        return None, ["there is no plan of the burn: the tables in use hold no methods for it"]
    usable, hot = usable_fuels(fuels, tables)
    planned = plan_graph(usable, burn, tables, burner_row)
    vessel_volume = planned.estimate("vessel_volume")
    assert vessel_volume is not None
    kept = tuple(c for c in cautions if c.order < _AFTER_THE_BURN)
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


# cautions of store and use stand behind the burn in the appraisal
_AFTER_THE_BURN = 80


def usable_fuels(fuels: Sequence[Fuel], tables: Tables) -> tuple[list[Fuel], list[Fuel]]:
    """The ready lots, prepared, and those of them that the heat balance takes out again; a lot of
    no mass counts as neither.
    """
    limit = tables.method("planning", Planning)[1].heat_limit.mid
    ready = [fuel for fuel in fuels if fuel.verdict is Verdict.READY]
    for fuel in ready:
        if not fuel.figures:
            prepare(fuel, tables)
    hot = [
        fuel
        for fuel in ready
        if "water_heat" in fuel.figures and fuel.figures["water_heat"].mid > limit
    ]
    return [fuel for fuel in ready if fuel not in hot and fuel.dry > 0], hot


# --- the graph ------------------------------------------------------------------------------------


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


def _takes(
    graph: Graph,
    vessel: Vessel,
    burner: Burner,
    row: str,
    burn: Burn,
    fuels: Sequence[Fuel],
    tables: Tables,
    how: str,
) -> None:
    """The fuel that there is, the fire, and what of the one the other takes."""
    _totals(graph, fuels, tables)
    _fire(graph, burner, row, how)
    own_rate(graph.inputs, fuels[0].bound.rate)
    if how == "fed":
        _fed_takes(graph, burner, row, burn)
    else:
        _load_takes(graph, vessel, burn, how)


def _totals(graph: Graph, fuels: Sequence[Fuel], tables: Tables) -> None:
    def total(name: str) -> Figure:
        return add(fuel.figures[name] for fuel in fuels if name in fuel.figures)

    graph.given |= {
        "total_dry": total("dry_mass"),
        "total_char_mass": total("char_mass"),
        "total_wood": total("wood_volume"),
        "total_loose": total("loose_volume"),
    }
    graph.given["longest"] = max((fuel.through for fuel in fuels), key=lambda figure: figure.mid)
    whole = sum(fuel.dry for fuel in fuels)
    graph.given["mean_through"] = weighted((fuel.dry / whole, fuel.through) for fuel in fuels)
    unknown = [fuel for fuel in fuels if "char_volume" not in fuel.figures]
    known = add(fuel.figures["char_volume"] for fuel in fuels if "char_volume" in fuel.figures)
    if not unknown:
        graph.given["total_char"] = known
        return
    graph.given["known_char"] = known
    graph.given["mass_without_volume"] = add(fuel.figures["char_mass"] for fuel in unknown)
    graph.cell("char_bulk", "methods", tables.method("planning", Planning)[0], "char_bulk")
    graph.step("total_char", _with_unknown, "known_char", "mass_without_volume", "char_bulk")
    graph.notes.append(
        "no table gives the volume of char of "
        f"{', '.join(fuel.name for fuel in unknown)}; a usual bulk density was taken "
        "for the plan"
    )


@formula(
    "char volume with that of unknown bulk density",
    "identity",
    known="m^3",
    mass="kg",
    bulk="kg/m^3",
    result="m^3",
)
def _with_unknown(known: Any, mass: Any, bulk: Any) -> Any:
    return known + mass / bulk


def _fire(graph: Graph, burner: Burner, row: str, how: str) -> None:
    """Burning rate, the share of the rim in flame, quick fuel."""
    full, _ = graph.tables.method("burning-rate", BurningRate)
    plan, _ = graph.tables.method("planning", Planning)
    if burner.burning is not None:
        graph.cell("rate", "burners", row, "burning")
    else:
        graph.cell("rate", "methods", full, "rate")
    if burner.kept_small:
        graph.cell("alive", "methods", full, "alive")
    else:
        graph.known("alive", 1.0, "fed all over its rim")
    for name in ("lighting", "mending", "finish", "start"):
        graph.cell(name, "methods", plan, name)
    kept, _ = graph.tables.method("kept", Kept)
    graph.cell("kindling", "methods", kept, "kindling", key="burn:kept:kindling")
    if how == "closed":
        graph.known("hold_back", 0.0, "no flame is fed with it", "kg")
    else:
        graph.step(
            "hold_back", firing.quick_fuel, "rate", "rim", "alive", "lighting", "mending", "finish"
        )
    wood, _ = graph.tables.method("wood-char", WoodChar)
    graph.cell("in_vessel", "methods", wood, "in_vessel")
    graph.step("char_per_fuel", firing.per_fuel, "total_char", "total_dry")


def own_rate(inputs: dict[str, Input], learned: Learned | None) -> None:
    """The burning rate as own batches have it: its level learnt, what is new in every batch
    kept.
    """
    if learned is None or "rate" not in inputs:
        return
    rate = inputs["rate"]
    half = P95 * math.sqrt(learned.variance + learned.batch_variance)
    low, mid, high = (rate.mid * math.exp(learned.shift + each) for each in (-half, 0.0, half))
    inputs["rate"] = replace(
        rate,
        low=low,
        mid=mid,
        high=high,
        key=learned.key,
        origin=replace(
            rate.origin,
            text=f"{rate.origin.text}, moved and narrowed by {learned.batches} own batches",
        ),
    )


def _fed_takes(graph: Graph, burner: Burner, row: str, burn: Burn) -> None:
    """Dry fuel of one burn that is fed: the least of what there is, what the vessel holds as char,
    and what the fire eats.
    """
    full, _ = graph.tables.method("burning-rate", BurningRate)
    if burner.filling is not None:
        graph.cell("fill", "burners", row, "filling")
    else:
        graph.cell("fill", "methods", full, "fill")
    graph.step("usable", firing.usable_char, "vessel", "fill", "in_vessel")
    graph.step("vessel_fuel", firing.fuel_for, "usable", "char_per_fuel")
    if burn.duration is not None:
        graph.measured("burn_time", burn.duration, "burn.duration")
        graph.step("eaten", charring.feed_burnt, "rate", "rim", "alive", "burn_time")
        graph.step("one_fuel", firing.fuel_by_two, "vessel_fuel", "eaten")
        graph.step("fuel", firing.fuel_by_three, "total_dry", "vessel_fuel", "eaten")
    else:
        graph.step("one_fuel", _same_fuel, "vessel_fuel")
        graph.step("fuel", firing.fuel_by_two, "total_dry", "vessel_fuel")


@formula("fuel of a full burn", "identity", fuel="kg", result="kg")
def _same_fuel(fuel: Any) -> Any:
    return fuel


@formula(
    "fuel in a load",
    "identity, dry mass of the heap x volume loaded / volume of the heap",
    dry="kg",
    load="m^3",
    gross="m^3",
    result="kg",
)
def _fuel_in_load(dry: Any, load: Any, gross: Any) -> Any:
    return dry * load / gross


def _load_takes(graph: Graph, vessel: Vessel, burn: Burn, how: str) -> None:
    """Dry fuel of one load: vessel x heap factor x packing."""
    full, _ = graph.tables.method("burning-rate", BurningRate)
    if burn.heaped is not None:
        graph.known("heaped", burn.heaped, f"burn.heaped: {burn.heaped:g}")
    elif how == "closed" or vessel.heap:
        graph.known("heaped", 1.0, "filled to the rim and no higher")
    else:
        graph.cell("heaped", "methods", full, "heaped")
    graph.cell("load_packing", "methods", full, "load_packing")
    graph.step("gross", firing.gross_volume, "total_wood", "load_packing", "total_loose")
    graph.step("load", firing.load_volume, "vessel", "heaped")
    graph.step("one_fuel", _fuel_in_load, "total_dry", "load", "gross")
    graph.step("loaded", firing.loaded, "load", "gross")
    graph.step("fuel", _fuel_in_load, "total_dry", "loaded", "gross")


def _duration(graph: Graph, vessel: Vessel, burn: Burn, fuels: Sequence[Fuel], how: str) -> float:
    """The step `duration`, s, and its middle; a closed kiln has one only where it was given."""
    if how == "top-lit":
        full, _ = graph.tables.method("burning-rate", BurningRate)
        graph.cell("front", "methods", full, "front")
        graph.step("load_level", _level(vessel.shape), "loaded", "vessel", *vessel.dimensions)
        graph.step("load_depth", firing.load_depth, "load_level", "loaded", "vessel", "rim")
        graph.step("feed_time", charring.front_time, "load_depth", "front")
    elif how == "fed":
        graph.step("feed_time", charring.time_to_feed, "fuel", "rate", "rim", "alive")
    if burn.duration is not None:
        if "burn_time" not in graph.inputs:
            graph.measured("burn_time", burn.duration, "burn.duration")
        graph.step("duration", _same_time, "burn_time")
        return float(burn.duration.mid)
    if how == "closed":
        return 0.0
    graph.step("duration", firing.longer, "feed_time", "start", "longest")
    return graph.middle("duration")


@formula("length of the burn", "identity", time="s", result="s")
def _same_time(time: Any) -> Any:
    return time


def _level(shape: Shape) -> Callable[..., Any]:
    @formula(
        "level of a load in the vessel",
        "the vessel's own inverse",
        volume="m^3",
        vessel="m^3",
        result="m",
    )
    def level(volume: Any, vessel: Any, *dimensions: Any) -> Any:
        # the share of the vessel counts, since a stated volume need not be that of the measures
        return shape.level(*dimensions, volume / vessel * shape.full(*dimensions))

    return level


def _unreached(shape: Shape) -> Callable[..., Any]:
    @formula(
        "share of a load not charred when the burn ends",
        "identity: what the front had not reached one char-through time before the end",
        vessel="m^3",
        rim="m^2",
        load="m^3",
        height="m",
        speed="mm/min",
        time="s",
        through="s",
        result="1",
    )
    def unreached(
        vessel: Any,
        rim: Any,
        load: Any,
        height: Any,
        speed: Any,
        time: Any,
        through: Any,
        *dimensions: Any,
    ) -> Any:
        depth, full = dimensions[shape.dimensions.index("depth")], shape.full(*dimensions)
        return firing.unreached_share(
            lambda level: shape.filled(*dimensions, level) / full * vessel,
            vessel,
            rim,
            depth,
            load,
            height,
            speed,
            time,
            through,
        )

    return unreached


def _raw(shape: Shape) -> Callable[..., Any]:
    @formula(
        "raw wood of a load when the burn ends",
        "identity: what the front has not reached, and the cores above it",
        vessel="m^3",
        rim="m^2",
        load="m^3",
        height="m",
        speed="mm/min",
        time="s",
        through="s",
        exponent="1",
        result="1",
    )
    def raw(
        vessel: Any,
        rim: Any,
        load: Any,
        height: Any,
        speed: Any,
        time: Any,
        through: Any,
        exponent: Any,
        *dimensions: Any,
    ) -> Any:
        depth, full = dimensions[shape.dimensions.index("depth")], shape.full(*dimensions)
        return firing.raw_share_of_load(
            lambda level: shape.filled(*dimensions, level) / full * vessel,
            depth,
            rim,
            load,
            height,
            speed,
            time,
            through,
            exponent,
        )

    return raw


def _unburnt(
    graph: Graph,
    vessel: Vessel,
    burner_row: str,
    fuels: Sequence[Fuel],
    how: str,
    end: float,
    start: float,
    stopped: bool,
) -> None:
    """Share of half-charred pieces, and the wood that is raw in them.

    Raw wood takes from the char only in a burn of stated length, and only beyond the share that the
    burner leaves as a rule.
    """
    full, method = graph.tables.method("char-through", Charring)
    if how == "closed" or end <= 0:
        graph.known("unburnt", 0.0, "nothing is known of it in a closed kiln")
    elif how == "top-lit":
        graph.known("end", end, "length of the burn", "s")
        graph.cell("char_exponent", "methods", full, "exponent", certain=True)
        load = ("vessel", "rim", "loaded", "load_depth", "front", "end", "mean_through")
        graph.step("unburnt", _unreached(vessel.shape), *load, *vessel.dimensions, scale="linear")
        graph.step(
            "raw", _raw(vessel.shape), *load, "char_exponent", *vessel.dimensions, scale="linear"
        )
    else:
        whole = sum(fuel.dry for fuel in fuels)
        graph.given["unburnt"] = weighted(
            (fuel.dry / whole, feeding.not_through(fuel, end, start)) for fuel in fuels
        )
        graph.given["raw"] = weighted(
            (fuel.dry / whole, feeding.raw(fuel, end, start, method.exponent.mid)) for fuel in fuels
        )
    graph.cell("usual_brands", "burners", burner_row, "brands", certain=True)
    if stopped and how != "closed":
        graph.step("counted", _same_share, "raw", scale="linear")
    else:
        graph.known("counted", 0.0, "the burn goes on until the pieces are through")


@formula("raw wood that counts", "identity", share="1", result="1")
def _same_share(share: Any) -> Any:
    return share


def _leaves(graph: Graph, burner: Burner, row: str, burn: Burn) -> None:
    graph.step(
        "burn_char",
        firing.char_left,
        "fuel",
        "hold_back",
        "kindling",
        "char_per_fuel",
        "counted",
        "usual_brands",
    )
    graph.step("burn_char_mass", firing.char_mass_of, "burn_char", "total_char_mass", "total_char")
    graph.step("fill_share", firing.fill_share, "burn_char", "in_vessel", "vessel")
    graph.step("left_over", firing.left_over, "total_dry", "fuel", scale="linear")
    graph.step("loads", firing.loads, "total_dry", "one_fuel")
    # half-charred pieces and what was lit last are as hot as the char that will be sorted out
    graph.step("hot_char", firing.hot_char, "fuel", "char_per_fuel")
    graph.step("hot_mass", firing.char_mass_of, "hot_char", "total_char_mass", "total_char")
    quench.add_quench(graph, burner, row, burn)


# --- the plan -------------------------------------------------------------------------------------


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
    share = min(1.0, planned.figures["one_fuel"].mid / planned.graph.given["total_dry"].mid)
    order = feeding.Order(
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
    put_out = quench.quench_of(planned.graph, planned.figures, burner, row, burn, planning)
    water = planned.estimate("quench_water")
    assert water is not None
    findings = [
        *order.findings(tables),
        *_findings(planned, burner, row, tables, loads, burn),
        *_hot(hot, tables),
        *put_out.findings,
    ]
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
        quick_fuel=Estimate(quick, quick, quick, "kg"),
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
        findings=tuple(findings),
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
    mids = {each.name: each.mid for each in graph.inputs.values()} | {
        name: each.mid for name, each in graph.given.items()
    }
    return float(graph.given["total_dry"].mid / run(tuple(graph.steps), mids)["one_fuel"])


_HAIR = 1e-5
"""A load filled to the rim by halving its share may be this much over, and is still one."""


def loads_of(figure: Figure) -> Loads:
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


def _minutes(low: float, mid: float, high: float) -> Estimate:
    return Estimate(min(low, mid) / _MINUTE, mid / _MINUTE, max(high, mid) / _MINUTE, "min")


def _timeline(
    planned: Planned, order: feeding.Order, covered: Estimate
) -> tuple[TimelineEvent, ...]:
    duration = planned.estimate("duration")
    events = [TimelineEvent(at=_minutes(0, 0, 0), event=_begin(planned.firing))]
    if duration is None:
        return (
            *events,
            TimelineEvent(
                at=_minutes(0, 0, 0),
                event="How long a closed kiln takes depends on the heat that it gets: quench "
                "or seal it when the smoke has turned thin and clear.",
            ),
        )
    if planned.firing == "fed":
        start = planned.graph.inputs["start"]
        stands = _minutes(*(min(each, planned.end) for each in (start.low, start.mid, start.high)))
        events.append(
            TimelineEvent(
                at=stands,
                event="The fire stands when the embers of the medium pieces glow: the "
                "thickest may go in.",
            )
        )
        events += [_with_end(each, planned, duration) for each in order.events()]
    elif planned.firing == "top-lit":
        events += _stick(planned)
    word = (
        "Quench now: you set this time."
        if planned.fixed_end
        else "Quench when the flames sink, thin and clear, and no thick piece shows wood "
        "when it is broken open."
    )
    events.append(TimelineEvent(at=duration, event=word))
    later = Estimate(
        duration.low_value + covered.low_value,
        duration.mid_value + covered.mid_value,
        duration.high_value + covered.high_value,
        "min",
    )
    return (
        *events,
        TimelineEvent(
            at=later,
            event="If it was covered instead of drowned: not opened before this, then felt "
            "and looked at again.",
        ),
    )


def _with_end(event: TimelineEvent, planned: Planned, duration: Estimate) -> TimelineEvent:
    """A moment that is reckoned back from the quench is as unsure as that, where nobody set it."""
    if planned.fixed_end:
        return event
    low, mid, high = event.at.low_value, event.at.mid_value, event.at.high_value
    early = max(
        duration.low_value - (duration.mid_value - low),
        min(low, planned.graph.inputs["start"].low / _MINUTE),
    )
    return event.model_copy(
        update={
            "at": Estimate(
                min(early, mid),
                mid,
                max(duration.high_value - (duration.mid_value - high), mid),
                "min",
            )
        }
    )


def _begin(firing: str) -> str:
    if firing == "closed":
        return (
            "A retort is closed and heated from outside; a mound or a drum kiln is lit "
            "and, once it has caught, closed step by step."
        )
    return "Light it, on top."


def _stick(planned: Planned) -> list[TimelineEvent]:
    """What a stick set upright along the wall, down to the floor, should show on the way."""
    figure, found = planned.graph.derive("feed_time")["feed_time"], []
    low, high = figure.ends
    for quarter, word in ((1, "a quarter"), (2, "half"), (3, "three quarters"), (4, "all")):
        part = quarter / 4.0
        end = (
            "; then look at the lowest pieces, and quench when they are through"
            if quarter == 4
            else ""
        )
        found.append(
            TimelineEvent(
                at=_minutes(low * part, figure.mid * part, high * part),
                event=f"A test stick set along the wall should be black over {word} of its "
                f"length{end}.",
            )
        )
    return [
        event
        for event in found
        if not planned.fixed_end or event.at.mid_value <= planned.end / _MINUTE
    ]


def _findings(
    planned: Planned, burner: Burner, row: str, tables: Tables, loads: Loads, burn: Burn
) -> list[Finding]:
    found: list[Finding] = []
    set_name = row.partition(":")[0]
    if loads.mid > 1:
        found.append(
            Finding(
                code="more-than-one-load",
                axis="burn",
                permits=Verdict.READY,
                sources=_judged(tables, "the loads follow from the heap and the vessel"),
                reason=f"The ready lots are {loads.low} to {loads.high} loads of this vessel, "
                f"likely {loads.mid}.",
                action="Burn one load to its end, quench and empty it, and only then begin "
                "the next; or take a larger one.",
            )
        )
    if (
        burner.proportion is not None
        and not burner.proportion.low <= planned.vessel.proportion <= burner.proportion.high
    ):
        word = (
            "deep for its width: air reaches the bottom badly and the smoke is heavy"
            if planned.vessel.proportion < burner.proportion.low
            else "flat for its width: the flame does not cover it and more burns to ash"
        )
        found.append(
            Finding(
                code="proportions",
                axis="burn",
                permits=Verdict.READY,
                sources=cited(burner.proportion, tables, set_name),
                reason=f"It is {planned.vessel.proportion:.2g} times as wide as deep, {word}.",
                action=f"About {burner.proportion.mid:.2g} times as wide as deep is common "
                "practice.",
            )
        )
    found += _length_findings(planned, tables)
    unburnt = planned.estimate("unburnt")
    if (
        planned.fixed_end
        and unburnt is not None
        and planned.firing != "closed"
        and unburnt.mid_value > 100 * burner.brands.mid
    ):
        found.append(
            Finding(
                code="stopped-early",
                axis="burn",
                permits=Verdict.READY,
                sources=_judged(tables, "char-through time against the time that is left"),
                reason=f"Stopped after {planned.end / _MINUTE:.0f} minutes, about "
                f"{unburnt.mid_value:.0f} % of the pieces would not be through "
                f"({unburnt.low_value:.0f} to {unburnt.high_value:.0f} %).",
                action="Burn longer, feed less or split it; else sort the half-charred pieces "
                "out and keep them for the next fire.",
            )
        )
    return found


def _length_findings(planned: Planned, tables: Tables) -> list[Finding]:
    """A burn too short to stand, one that goes on when its fuel is gone, and a load whose lowest
    pieces need longer than the front.
    """
    if planned.firing == "closed" or planned.end <= 0:
        return []
    sources = _judged(tables, "the times of the plan")
    start, through = planned.graph.inputs["start"].mid, planned.graph.given["longest"].mid
    feed = planned.graph.middle("feed_time")
    found = []
    if planned.fixed_end and planned.end < start + min(fuel.through.mid for fuel in planned.fuels):
        found.append(
            Finding(
                code="too-short",
                axis="burn",
                permits=Verdict.READY,
                sources=sources,
                reason=f"A fire needs about {start / _MINUTE:.0f} minutes to stand; in "
                f"{planned.end / _MINUTE:.0f} minutes next to nothing is char.",
                action="Plan a longer burn, or wait for a day that has the time.",
            )
        )
    if planned.fixed_end and planned.end > _STRETCHED * (feed + start + through):
        found.append(
            Finding(
                code="too-long",
                axis="burn",
                permits=Verdict.READY,
                sources=sources,
                reason="The fuel of one load is through after about "
                f"{(feed + start + through) / _MINUTE:.0f} minutes; after that the "
                "char itself burns away, which is not in these figures.",
                action="Quench when the flames sink, whatever the clock says.",
            )
        )
    if planned.firing == "top-lit" and not planned.fixed_end:
        mean = planned.graph.given["mean_through"].mid
        unburnt = planned.estimate("unburnt")
        if unburnt is not None and unburnt.mid_value > _LOWEST:
            found.append(
                Finding(
                    code="lowest-need-longer",
                    axis="burn",
                    permits=Verdict.READY,
                    sources=sources,
                    reason="When the fire has reached the floor, about "
                    f"{unburnt.mid_value:.0f} % of the pieces are not through yet "
                    f"({unburnt.low_value:.0f} to {unburnt.high_value:.0f} %): "
                    f"the lowest need up to {mean / _MINUTE:.0f} minutes more.",
                    action="Break one of the lowest pieces open before you quench; sort out "
                    "what is half-charred and keep it for the next fire.",
                )
            )
    return found


_STRETCHED = 2.0
# percent of the pieces: fewer than these half-charred ones are the usual thing
_LOWEST = 10.0


def _judged(tables: Tables, text: str) -> tuple[Citation, ...]:
    return (Citation(text="computed from the plan", at=text, known="derived"),)


def _hot(hot: Sequence[Fuel], tables: Tables) -> list[Finding]:
    _, planning = tables.method("planning", Planning)
    return [
        Finding(
            code="water-takes-the-heat",
            axis="moisture",
            permits=Verdict.DRY_FIRST,
            sources=cited(planning.heat_limit, tables, "reference"),
            lot=fuel.name,
            reason=f"Its own water would take {100 * fuel.figures['water_heat'].mid:.0f} % of "
            "its heat.",
            action="Dry it first; it is left out of this plan.",
        )
        for fuel in hot
    ]


def _refusals(
    fuels: Sequence[Fuel], hot: Sequence[Fuel], tables: Tables, row: str
) -> list[Finding]:
    """Why nothing is fed: too wet, with the moisture that it needs and the water to lose, or kept
    out.
    """
    burner = tables.row("burners", row, Burner)
    ready = 100 * gate_share(burner.moisture_ready)
    sources = cited(burner.moisture_ready, tables, row.partition(":")[0])
    wet = [fuel for fuel in fuels if fuel.verdict is Verdict.DRY_FIRST]
    found = _hot(hot, tables)
    if wet:
        litres = sum(max(_water(fuel), 0.0) for fuel in wet)
        names = ", ".join(fuel.name for fuel in wet)
        found.append(
            Finding(
                code="too-wet-to-burn",
                axis="moisture",
                permits=Verdict.DRY_FIRST,
                sources=sources,
                evidence=tuple(f"lot: {fuel.name}" for fuel in wet),
                reason=f"This burn is refused: {names} would have to come down to {ready:.0f} "
                "% wet basis, and nothing else is ready.",
                action="Dry it under cover until it has lost about "
                f"{quench.whole_litres(litres)} L of water, measure again, and plan "
                "again.",
            )
        )
    else:
        found.append(
            Finding(
                code="nothing-ready",
                axis="burn",
                permits=Verdict.CHECK_FIRST,
                sources=(Citation(text="the verdicts of the lots", known="derived"),),
                reason="This burn is refused: no lot may go in as things stand.",
                action="See what is said of each lot, and of the vessel, the ground and the "
                "lighting.",
            )
        )
    return found


def _water(fuel: Fuel) -> float:
    values = run(fuel.bound.chain, {each.name: each.mid for each in fuel.bound.inputs})
    return float(values.get("water_to_lose", 0.0))


def _through(planned: Planned) -> tuple[tuple[str, Estimate], ...]:
    """Time in the flame by lot; in a closed kiln no piece is in one."""
    return (
        ()
        if planned.firing == "closed"
        else tuple(
            (fuel.name, estimate_in(fuel.through, "min", 1 / _MINUTE)) for fuel in planned.fuels
        )
    )


def _emissions(planned: Planned, tables: Tables) -> Remark | None:
    """What fires of such a kind and moisture gave off, as a reason to burn dry."""
    try:
        full, row = tables.method("emissions", Emissions)
    except (KeyError, UnknownName):
        return None
    share = _mean_moisture(planned.fuels)
    word: Literal["dry", "between", "wet", "closed"] = (
        "dry"
        if share < gate_share(row.dry_below)
        else "wet"
        if share > gate_share(row.wet_above)
        else "between"
    )
    if planned.firing == "closed":
        word = "closed"
    amounts, wettest, set_name = (
        row.classes.get(word),
        row.classes.get("wet"),
        full.partition(":")[0],
    )
    if amounts is None:
        return None
    kind = (
        "Kilns that smoulder closed"
        if word == "closed"
        else f"Fires of this kind fed at about {100 * share:.0f} % moisture"
    )
    text = f"{kind} gave off, per kg of char: {_given_off(amounts)}. "
    if word == "closed":
        text += "Of carbon monoxide and methane an open flame over dry wood gives off less. "
    elif wettest is not None and wettest.methane is not None and word != "wet":
        text += (
            f"Above {100 * gate_share(row.wet_above):.0f} % moisture methane alone passed "
            f"{wettest.methane.mid:.0f} g: the reason to burn dry. "
        )
    keys = dict.fromkeys(key for cell in _cells_of(amounts) for key in cell.source)
    return Remark(
        text=f"{text}This is no inventory.",
        sources=tuple(
            Citation(text=tables.source_title(key, set_name), at=row.at, known=row.known)
            for key in keys or row.source
        ),
    )


def _cells_of(amounts: Emitted) -> list[Cell]:
    return [
        cell
        for cell in (amounts.carbon_monoxide, amounts.methane, amounts.particles)
        if cell is not None
    ]


def _given_off(amounts: Emitted) -> str:
    named = (
        ("carbon monoxide", amounts.carbon_monoxide),
        ("methane", amounts.methane),
        ("particles", amounts.particles),
    )
    return ", ".join(
        f"{label} {max(cell.low, 0):.0f} to {cell.high:.0f} g"
        if cell.low < cell.high
        else f"{label} over {cell.mid:.0f} g"
        for label, cell in named
        if cell is not None
    )


def _mean_moisture(fuels: Sequence[Fuel]) -> float:
    whole = sum(fuel.dry for fuel in fuels)
    return float(sum(fuel.dry * fuel.figures["moisture"].mid for fuel in fuels) / whole)


def explain_plan(
    figure: str,
    fuels: Sequence[Fuel],
    burn: Burn,
    tables: Tables,
    burner_row: str,
    notes: Sequence[str],
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
    more = (
        [
            "have_ready is the high end of this times the reserve of the quench "
            "method, and never less than its least"
        ]
        if name == "have_ready"
        else []
    )
    found = explained(
        figure,
        about.unit,
        about.factor,
        about.output,
        planned.figures[about.output],
        planned.graph,
        usable,
        SUMS,
        [*notes, *planned.graph.notes, *more],
    )
    shown = planned.estimate(name)
    if name != "have_ready":
        return (
            found
            if shown is None
            else replace(found, low=shown.low_value, mid=shown.mid_value, high=shown.high_value)
        )
    _, method = tables.method("quench", QuenchMethod)
    ready = float(
        quench_physics.have_ready(found.high, method.reserve.mid, 1000 * method.least.mid)
    )
    return replace(found, low=ready, mid=ready, high=ready)
