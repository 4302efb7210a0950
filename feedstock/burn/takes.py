"""What one burn takes of the fuel, and what it leaves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from ..model.experience import Learned
from ..model.inputs.burn import Burn
from ..physics import feeding, firing
from ..tables.rows.burner import Burner
from ..tables.rows.methods.char import CharRetention, WoodChar
from ..tables.rows.methods.fire import BurningRate
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Input
from ..uncertainty.intervals import Z95
from ..uncertainty.keys import burn_key
from ..uncertainty.mapped import mapped
from ..uncertainty.sums import add
from ..words import Message
from . import quench
from .fire import Fire
from .fuel import Fuel
from .graph import Graph
from .layout import Layout, last_load


def add_fire(graph: Graph, burner: Burner, row: str, burn: Burn, how: str) -> None:
    """Burning rate, the share of the rim in flame, times of the fire, and what vessel and load
    hold, as inputs.
    """
    row_id, _ = graph.tables.method("burning-rate", BurningRate)
    plan, _ = graph.tables.method("planning", Planning)
    wood, _ = graph.tables.method("wood-char", WoodChar)
    if burner.burning is not None:
        graph.cell("rate", "burners", row, "burning")
    else:
        graph.cell("rate", "methods", row_id, "rate")
    if burner.kept_small:
        graph.cell("burning_fraction", "methods", row_id, "burning_fraction")
    else:
        graph.known("burning_fraction", 1.0, "fed all over its rim")
    for name in ("lighting", "mending", "finish", "turn"):
        graph.cell(name, "methods", plan, name)
    graph.cell("in_vessel", "methods", wood, "in_vessel")
    if how == "fed":
        graph.cell("bed", "methods", plan, "bed")
        graph.cell("bed_pace", "methods", plan, "bed_pace", exact=True)
        if burner.filling is not None:
            graph.cell("fill", "burners", row, "filling")
        else:
            graph.cell("fill", "methods", row_id, "fill")
        return
    if burn.heaped is not None:
        graph.known("heaped", burn.heaped, f"burn.heaped: {burn.heaped:g}")
    elif how == "closed" or burner.shape == "heap":
        graph.known("heaped", 1.0, "filled to the rim and no higher")
    else:
        graph.cell("heaped", "methods", row_id, "heaped")
    graph.cell("load_packing", "methods", row_id, "load_packing")
    if how == "top-lit":
        graph.cell("front", "methods", row_id, "front")


def add_takes(graph: Graph, burn: Burn, layout: Layout, fire: Fire, tables: Tables) -> None:
    """The fuel that there is, and what of it one load takes."""
    _totals(graph, layout.fuels, tables)
    if layout.small < 1.0:
        graph.known("kept_to", layout.small, "little to burn: a fire on a part of the rim")
        graph.step("burning_part", feeding.of_all, "burning_fraction", "kept_to")
    else:
        graph.step("burning_part", _as_it_is, "burning_fraction")
    _quick(graph, layout, fire.firing)
    graph.step("char_per_fuel", firing.per_fuel, "total_char", "total_dry")
    graph.known("share", layout.share, f"one of {layout.loads} loads")
    graph.step("there", feeding.part_of_heap, "total_dry", "share")
    if fire.firing == "fed":
        _fed_takes(graph, burn, layout, fire)
    else:
        _load_takes(graph, layout)


def _quick(graph: Graph, layout: Layout, how: str) -> None:
    """The quick fuel of a load, and the part of it that the heap itself has."""
    retention, _ = graph.tables.method("char-retention", CharRetention)
    graph.cell("kindling", "methods", retention, "kindling", key=burn_key("retention", "kindling"))
    graph.known("quick_there", layout.quick, "quick fuel that the heap has itself")
    if how == "closed":
        graph.known("hold_back", 0.0, "no flame is fed with it", "kg")
    else:
        graph.step(
            "hold_back",
            firing.quick_fuel,
            "rate",
            "rim",
            "burning_part",
            "lighting",
            "mending",
            "finish",
        )
    graph.step("quick", feeding.part_of_heap, "hold_back", "quick_there")


@formula("share of the rim in flame", "identity", share="1", result="1")
def _as_it_is(share: Any) -> Any:
    return share


def _totals(graph: Graph, fuels: Sequence[Fuel], tables: Tables) -> None:
    def total(name: str) -> UncertainValue:
        return add(fuel.figures[name] for fuel in fuels if name in fuel.figures)

    graph.given |= {
        "total_dry": total("dry_mass"),
        "total_char_mass": total("char_mass"),
        "total_wood": total("wood_volume"),
        "total_loose": total("loose_volume"),
    }
    unknown = [fuel for fuel in fuels if "char_volume" not in fuel.figures]
    known = add(fuel.figures["char_volume"] for fuel in fuels if "char_volume" in fuel.figures)
    if not unknown:
        graph.given["total_char"] = known
        return
    graph.given["known_char"] = known
    graph.given["mass_without_volume"] = add(fuel.figures["char_mass"] for fuel in unknown)
    wood, _ = tables.method("wood-char", WoodChar)
    graph.cell("unknown_density", "methods", wood, "unknown")
    graph.step("total_char", _with_unknown, "known_char", "mass_without_volume", "unknown_density")
    graph.notes.append(Message("plan.no-volume", lots=tuple(fuel.name for fuel in unknown)))


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


def own_rate(inputs: dict[str, Input], learned: Learned | None) -> None:
    """The burning rate as own batches have it: its level learnt, what is new in every batch
    kept.
    """
    if learned is None or "rate" not in inputs:
        return
    rate = inputs["rate"]
    half = Z95 * math.sqrt(learned.variance + learned.batch_variance)
    low, mid, high = (rate.mid * math.exp(learned.shift + item) for item in (-half, 0.0, half))
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


def _fed_takes(graph: Graph, burn: Burn, layout: Layout, fire: Fire) -> None:
    """Dry fuel of one burn that is fed: the least of what is meant for it, what the vessel holds as
    char, and what the fire eats in its time.
    """
    graph.step("usable", firing.usable_char, "vessel", "fill", "in_vessel")
    own = own_part(layout)
    name = "vessel_fuel" if own == 1.0 else "vessel_fuel_in_all"
    graph.step(name, firing.fuel_for, "usable", "char_per_fuel")
    if own < 1.0:
        graph.known("own_part", own, "the rest of what is burnt is wood that is brought")
        graph.step("vessel_fuel", feeding.part_of_heap, name, "own_part")
    if fire.most_fuel < float("inf"):
        graph.known("hosed_fuel", fire.most_fuel, "what the hose can put out in time", "kg")
        graph.step("held", firing.fuel_by_two, "vessel_fuel", "hosed_fuel")
    else:
        graph.step("held", _same_fuel, "vessel_fuel")
    if burn.duration is not None:
        graph.measured("most_time", burn.duration, "burn.duration")
    else:
        plan, _ = graph.tables.method("planning", Planning)
        graph.cell("most_time", "methods", plan, "tended", exact=True)
    add_burn_down(graph, layout, fire)
    graph.step(
        "eaten" if own == 1.0 else "eaten_in_all",
        feeding.fed_in_time,
        "rate",
        "rim",
        "burning_fraction",
        "most_time",
        "bed",
        "bed_pace",
        "burn_down",
        "quick_there",
        "lighting",
        "mending",
        "finish",
    )
    if own < 1.0:
        graph.step("eaten", feeding.part_of_heap, "eaten_in_all", "own_part")
    graph.step("one_fuel", firing.fuel_by_two, *_LIMITS)
    graph.step("fuel", firing.fuel_by_three, "total_dry" if layout.clamped else "there", *_LIMITS)


def own_part(layout: Layout) -> float:
    """What a load has of its own, as a share of it with the wood that is brought for it."""
    own = layout.share * math.fsum(fuel.dry for fuel in layout.fuels)
    brought = math.fsum(layout.brought)
    return float(own / (own + brought)) if brought else 1.0


_LIMITS = ("held", "eaten")


def add_burn_down(graph: Graph, layout: Layout, fire: Fire) -> None:
    """The time from the last feeding to the quench, with the doubt of what is through last."""
    last = layout.last
    if last is None:
        graph.known("burn_down", layout.burn_down, "nothing was laid last", "s")
        return
    # a fire that is slow to get through it is slow to eat what is fed after it
    late = max(last.through.mid - layout.since, 0.0) / last.through.mid
    graph.given["burn_down"] = mapped(
        last.through, lambda through: fire.burn_down(late * through), "linear"
    )


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


def _load_takes(graph: Graph, layout: Layout) -> None:
    """Dry fuel of one load: vessel x heap factor x packing, or the load's share of the heap."""
    own = "gross" if layout.room == 0.0 else "own_gross"
    graph.step(own, firing.gross_volume, "total_wood", "load_packing", "total_loose")
    if layout.room > 0.0:
        graph.known("with_room", 1.0 / (1.0 - layout.room), "with the room of wood that is brought")
        graph.step("gross", feeding.of_all, "own_gross", "with_room")
    graph.step("load", firing.load_volume, "vessel", "heaped")
    graph.step("one_fuel", _fuel_in_load, "total_dry", "load", "gross")
    graph.step("meant", feeding.of_all, "gross", "share")
    graph.step("loaded", firing.loaded, "load", "meant")
    graph.step("fuel", _fuel_in_load, "total_dry", "loaded", "gross")


def add_leaves(
    graph: Graph, burner: Burner, row: str, burn: Burn, layout: Layout, fire: Fire
) -> None:
    """What one load leaves, and what all loads take together."""
    graph.step(
        "burn_char",
        firing.char_left,
        "fuel",
        "quick",
        "kindling",
        "char_per_fuel",
        "counted",
        "usual_brands",
    )
    graph.step("burn_char_mass", firing.char_mass_of, "burn_char", "total_char_mass", "total_char")
    graph.step("fill_share", firing.fill_share, "burn_char", "in_vessel", "vessel")
    one = "one_fuel"
    if layout.rim < 1.0:
        graph.known("rim_part", layout.rim, "char no higher than a hand below the rim")
        one = graph.step("planned_fuel", feeding.part_of_heap, "one_fuel", "rim_part")
    graph.step("loads", firing.loads, "total_dry", one)
    # half-charred pieces, what was lit last and the char of what is brought are as hot as the char
    # that will be sorted out
    hot, besides = "fuel", math.fsum((*layout.brought, layout.kindling))
    if besides > 0:
        own = layout.share * math.fsum(fuel.dry for fuel in layout.fuels)
        graph.known("with_brought", 1.0 + besides / own, "with the wood that is brought")
        hot = graph.step("hot_fuel", feeding.part_of_heap, "fuel", "with_brought")
    graph.step("hot_char", firing.hot_char, hot, "char_per_fuel")
    graph.step("hot_mass", firing.char_mass_of, "hot_char", "total_char_mass", "total_char")
    quench.add_quench(graph, burner, row, burn)
    if layout.loads == 1:
        graph.known("passes", 1.0, "all in one load")
    else:
        graph.step("passes", firing.loads, "total_dry", "fuel")
    graph.step("all_water", feeding.of_all, "passes", "quench_water")
    graph.step("all_quick", feeding.of_all, "passes", "hold_back")
    lasts = next((step for step in graph.steps if step.output == "duration"), None)
    if lasts is not None:
        told, fires = lasts.scale if layout.loads == 1 else "log", "passes"
        if not layout.alike:
            graph.known("as_long", _longer(layout, fire), "a smaller last load needs its bed too")
            fires = graph.step("fires", feeding.of_all, "passes", "as_long")
        graph.step("hours", feeding.all_hours, fires, "duration", "turn", scale=told)


def _longer(layout: Layout, fire: Fire) -> float:
    """The time of all loads, the last one smaller, over that of as many parts of a full one."""
    turn = fire.planning.turn.mid
    full, last = layout.end + turn, last_load(layout, fire).end + turn
    return ((layout.loads - 1) * full + last) * layout.share / full
