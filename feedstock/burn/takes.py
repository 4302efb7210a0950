"""What one burn takes of the fuel, and what it leaves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from ..model.experience import Learned
from ..model.inputs.burn import Burn
from ..physics import charring, firing
from ..tables.rows.burner import Burner
from ..tables.rows.methods.char import Kept, WoodChar
from ..tables.rows.methods.fire import BurningRate
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Input
from ..uncertainty.intervals import Z95
from ..uncertainty.keys import burn_key
from ..uncertainty.sums import add
from ..words import Message
from . import quench
from .fuel import Fuel, weighted
from .graph import Graph
from .vessel import Vessel


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
    own_rate(graph.inputs, fuels[0].model.rate)
    if how == "fed":
        _fed_takes(graph, burner, row, burn)
    else:
        _load_takes(graph, vessel, burn, how)


def _totals(graph: Graph, fuels: Sequence[Fuel], tables: Tables) -> None:
    def total(name: str) -> UncertainValue:
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


def _fire(graph: Graph, burner: Burner, row: str, how: str) -> None:
    """Burning rate, the share of the rim in flame, quick fuel."""
    row_id, _ = graph.tables.method("burning-rate", BurningRate)
    plan, _ = graph.tables.method("planning", Planning)
    if burner.burning is not None:
        graph.cell("rate", "burners", row, "burning")
    else:
        graph.cell("rate", "methods", row_id, "rate")
    if burner.kept_small:
        graph.cell("alive", "methods", row_id, "alive")
    else:
        graph.known("alive", 1.0, "fed all over its rim")
    for name in ("lighting", "mending", "finish", "start"):
        graph.cell(name, "methods", plan, name)
    kept, _ = graph.tables.method("kept", Kept)
    graph.cell("kindling", "methods", kept, "kindling", key=burn_key("kept", "kindling"))
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


def _fed_takes(graph: Graph, burner: Burner, row: str, burn: Burn) -> None:
    """Dry fuel of one burn that is fed: the least of what there is, what the vessel holds as char,
    and what the fire eats.
    """
    row_id, _ = graph.tables.method("burning-rate", BurningRate)
    if burner.filling is not None:
        graph.cell("fill", "burners", row, "filling")
    else:
        graph.cell("fill", "methods", row_id, "fill")
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
    row_id, _ = graph.tables.method("burning-rate", BurningRate)
    if burn.heaped is not None:
        graph.known("heaped", burn.heaped, f"burn.heaped: {burn.heaped:g}")
    elif how == "closed" or vessel.heap:
        graph.known("heaped", 1.0, "filled to the rim and no higher")
    else:
        graph.cell("heaped", "methods", row_id, "heaped")
    graph.cell("load_packing", "methods", row_id, "load_packing")
    graph.step("gross", firing.gross_volume, "total_wood", "load_packing", "total_loose")
    graph.step("load", firing.load_volume, "vessel", "heaped")
    graph.step("one_fuel", _fuel_in_load, "total_dry", "load", "gross")
    graph.step("loaded", firing.loaded, "load", "gross")
    graph.step("fuel", _fuel_in_load, "total_dry", "loaded", "gross")


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
