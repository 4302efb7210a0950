"""How long a burn lasts, and what is not through when it ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any

from ..model.inputs.burn import Burn
from ..physics import charring, firing, raw_wood
from ..physics.shapes import Shape
from ..tables.rows.methods.fire import BurningRate, Charring
from ..uncertainty.formula import formula
from . import schedule as feeding
from .fuel import Fuel, weighted
from .graph import Graph
from .vessel import Vessel


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


@lru_cache(maxsize=16)
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


@lru_cache(maxsize=16)
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
        return raw_wood.unreached_share(
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


@lru_cache(maxsize=16)
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
        return raw_wood.raw_share_of_load(
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
        graph.cell("char_exponent", "methods", full, "exponent", exact=True)
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
    graph.cell("usual_brands", "burners", burner_row, "brands", exact=True)
    if stopped and how != "closed":
        graph.step("counted", _same_share, "raw", scale="linear")
    else:
        graph.known("counted", 0.0, "the burn goes on until the pieces are through")


@formula("raw wood that counts", "identity", share="1", result="1")
def _same_share(share: Any) -> Any:
    return share
