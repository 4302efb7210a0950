"""How long a burn lasts, and what is not through when it ends."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

from ..model.inputs.burn import Burn
from ..physics import charring, feeding, firing, raw_wood
from ..physics.shapes import Shape
from ..tables.rows.methods.fire import Charring
from ..uncertainty.figure import UncertainValue
from ..uncertainty.formula import formula
from ..uncertainty.inputs import FLOAT_WAYS
from ..uncertainty.intervals import Z95
from ..uncertainty.mapped import mapped
from ..uncertainty.sums import add
from .fire import Fire
from .graph import Graph
from .layout import Layout
from .portions import Portion
from .takes import add_burn_down, own_part
from .vessel import Vessel


def add_duration(graph: Graph, vessel: Vessel, burn: Burn, layout: Layout, fire: Fire) -> None:
    """The step `duration`, s; a closed kiln has one only where it was given."""
    if fire.firing == "top-lit":
        graph.step("load_level", _level(vessel.shape), "loaded", "vessel", *vessel.dimensions)
        graph.step("load_depth", firing.load_depth, "load_level", "loaded", "vessel", "rim")
        graph.step("feed_time", charring.front_time, "load_depth", "front")
        add_burn_down(graph, layout, fire)
    if burn.duration is not None and (layout.clamped or fire.firing != "fed"):
        if "most_time" not in graph.inputs:
            graph.measured("most_time", burn.duration, "burn.duration")
        graph.step("duration", _same_time, "most_time")
    elif fire.firing == "top-lit":
        graph.step("duration", feeding.lit_length, "feed_time", "burn_down")
    elif fire.firing == "fed":
        own = own_part(layout)
        if own < 1.0:
            graph.known("with_wood", 1.0 / own, "with the wood that is brought")
            graph.step("burnt", feeding.part_of_heap, "fuel", "with_wood")
        graph.step(
            "duration",
            feeding.fed_length,
            "fuel" if own == 1.0 else "burnt",
            "rate",
            "rim",
            "burning_part",
            "bed",
            "bed_pace",
            "burn_down",
            "quick_there",
            "lighting",
            "mending",
            "finish",
        )


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
def _uncharred(shape: Shape) -> Callable[..., Any]:
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
    def uncharred(
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

    return uncharred


def add_raw(graph: Graph, vessel: Vessel, row: str, layout: Layout, fire: Fire) -> None:
    """The wood that is still raw at the quench: brands for the next fire.

    It takes from the char only in a burn that time ends, and only beyond the share that the burner
    leaves as a rule.
    """
    row_id, _ = graph.tables.method("char-through", Charring)
    if fire.firing == "top-lit" and layout.clamped:
        means = [p.fuel.through.times(p.dry) for p in layout.of("layer")]
        whole = math.fsum(p.dry for p in layout.of("layer"))
        graph.given["mean_through"] = add(means).times(1.0 / whole)
        graph.known("end", layout.end, "length of the burn", "s")
        graph.cell("char_exponent", "methods", row_id, "exponent", exact=True)
        load = ("vessel", "rim", "loaded", "load_depth", "front", "end", "mean_through")
        graph.step(
            "uncharred_fraction",
            _uncharred(vessel.shape),
            *load,
            "char_exponent",
            *vessel.dimensions,
            scale="linear",
        )
    elif fire.firing != "closed":
        # a burn that nobody stops is as long as its fire is slow: only the time in the flame counts
        laid = layout.of("bed", "main", "loose", "with", "layer")
        whole = math.fsum(p.dry for p in layout.portions)
        given = _raw_of_all(laid, whole, layout.end, fire.exponent)
        graph.given["uncharred_fraction"] = given
    graph.cell("usual_brands", "burners", row, "brands", exact=True)
    if layout.clamped and fire.firing != "closed":
        graph.step("counted", _same_share, "uncharred_fraction", scale="linear")
    else:
        graph.known("counted", 0.0, "the burn goes on until the pieces are through")


def _raw_of_all(
    laid: Sequence[Portion], whole: float, end: float, exponent: float
) -> UncertainValue:
    """The raw wood of a load with the doubts of its times in the flame.

    It rises with each of them, and each of them falls or rises with what all have in common: an end
    is what comes of the most likely times by which it is reached.
    """
    if not laid:
        return UncertainValue(0.0)
    times = [portion.fuel.through for portion in laid]
    raws = [_raw_of(portion, end, exponent) for portion in laid]
    shares = [portion.dry / whole for portion in laid]
    parts = [
        mapped(time, raw, "linear").times(share)
        for time, raw, share in zip(times, raws, shares, strict=True)
    ]
    # what a lot is made of is asked of once for all its portions
    lots = {portion.fuel.name: portion.fuel.through for portion in laid}
    known = {name: _loadings(time) for name, time in lots.items()} if len(lots) > 1 else {}
    loadings = [known[portion.fuel.name] for portion in laid] if known else []
    low = math.fsum(
        share * raw(_at(time, -reach))
        for share, raw, time, (reach, _) in zip(
            shares, raws, times, _likely(times, raws, shares, loadings, 0), strict=True
        )
    )
    high = math.fsum(
        share * _mean(raw, time, reach, rest)
        for share, raw, time, (reach, rest) in zip(
            shares, raws, times, _likely(times, raws, shares, loadings, 1), strict=True
        )
    )
    return replace(add(parts), drawn=(low, high))


def _loadings(time: UncertainValue) -> dict[str, float]:
    """What each key brings to the normal of a time, to first order."""
    slopes = [high - low for low, high in time.changes_on(FLOAT_WAYS["log"])]
    length = math.hypot(*slopes)
    pairs = zip(time.sensitivities, slopes, strict=True)
    return {key: slope / length for key, slope in pairs} if length else {}


def _likely(
    times: Sequence[UncertainValue],
    raws: Sequence[Callable[[float], float]],
    shares: Sequence[float],
    loadings: Sequence[Mapping[str, float]],
    side: int,
) -> list[tuple[float, float]]:
    """How far towards its own end each time goes where an end of their raw wood is most likely
    reached, and how far off it may be besides: what a key does to it in sum tells how far the key
    goes. Those of one lot, without `loadings`, all go together.
    """
    if not loadings:
        return [(1.0, 0.0)] * len(times)
    pull: dict[str, float] = {}
    for time, raw, share, own in zip(times, raws, shares, loadings, strict=True):
        weight = share * abs(raw(time.ends[side]) - raw(time.mid))
        for key, part in own.items():
            pull[key] = pull.get(key, 0.0) + weight * part
    length = math.hypot(*pull.values())
    likely = []
    for own in loadings:
        reach = math.fsum(part * pull[key] for key, part in own.items()) / length if length else 1.0
        whole = math.fsum(part * part for part in own.values())
        likely.append((reach, math.sqrt(max(whole - reach * reach, 0.0)) / Z95))
    return likely


def _at(time: UncertainValue, reach: float) -> float:
    """A time that went so far towards its high end, or towards its low one below 0."""
    end = time.ends[1 if reach >= 0 else 0]
    return float(time.mid * (end / time.mid) ** abs(reach))


def _mean(raw: Callable[[float], float], time: UncertainValue, reach: float, rest: float) -> float:
    """The raw wood at a time, on the mean of what the time may be off besides, by three points:
    with longer times it rises by more than it falls with shorter ones.
    """
    if not rest:
        return raw(_at(time, reach))
    off = math.sqrt(3.0) * rest
    ends = raw(_at(time, reach - off)) + raw(_at(time, reach + off))
    return (4.0 * raw(_at(time, reach)) + ends) / 6.0


def _raw_of(portion: Portion, end: float, exponent: float) -> Callable[[float], float]:
    """The raw wood of a portion by its time in the flame."""
    youngest, oldest = max(end - portion.end, 0.0), max(end - portion.begin, 0.0)

    def raw(through: float) -> float:
        time = max(through, 1.0)
        return float(raw_wood.raw_share_of_lot(youngest, oldest, time, exponent))

    return raw


@formula("raw wood that counts", "identity", share="1", result="1")
def _same_share(share: Any) -> Any:
    return share
