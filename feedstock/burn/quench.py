"""Putting it out: heat to take out, water boiled off and taken up, litres and minutes of a hose, or
smothering.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ..model.burn_plan import Quench
from ..model.findings import Finding, Verdict
from ..model.inputs.burn import Burn
from ..physics import quench
from ..quantities.data import trusted
from ..quantities.estimate import Estimate, exact_estimate, scaled_estimate
from ..quantities.frozen import record
from ..tables.citations import citation, plain_citation
from ..tables.names.index import folded
from ..tables.rows.burner import Burner
from ..tables.rows.methods.amount import Instruments
from ..tables.rows.methods.char import WoodChar
from ..tables.rows.methods.fire import Quench as QuenchMethod
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.formula import formula
from ..uncertainty.inputs import Origin, interval_input
from ..uncertainty.keys import burn_key
from ..words import Message
from .graph import Graph, estimate_in

_COEFFICIENTS = (
    "low_a",
    "low_b",
    "low_c",
    "high_a",
    "high_b",
    "change",
    "boiling",
    "capacity",
    "latent",
    "water_density",
)


@record
class PutOut:
    """The quench of a plan, with what to have ready and what is to be said of the vessel."""

    plan: Quench
    have_ready: Estimate
    findings: tuple[Finding, ...]


@formula("char in the vessel", "identity", char="m^3", in_vessel="1", result="m^3")
def _in_vessel(char: Any, in_vessel: Any) -> Any:
    return char * in_vessel


def add_quench(graph: Graph, burner: Burner, row: str, burn: Burn) -> None:
    """Steps from all that is hot at the end of one burn to `quench_water`, m3, and `hose_time`,
    s.
    """
    row_id, _ = graph.tables.method("quench", QuenchMethod)
    plan, _ = graph.tables.method("planning", Planning)
    wood, _ = graph.tables.method("wood-char", WoodChar)
    for name in _COEFFICIENTS:
        graph.cell(f"quench_{name}", "methods", row_id, name, exact=True)
    for name in ("water_temperature", "boil_factor", "uptake", "flooded", "covered"):
        graph.cell(name, "methods", row_id, name)
    graph.cell("lost", "methods", row_id, "lost", burner.stands)
    _hot(graph, burner, row, burn)
    graph.cell("char_packing", "methods", wood, "packing", key=burn_key("packing"))
    _water_steps(graph)
    if burn.hose is not None:
        flow = graph.tables.method("instruments", Instruments)[1].flow.mid
        graph.measured("hose", burn.hose, "burn.hose", flow)
    else:
        graph.cell("hose", "methods", plan, "hose")
    graph.step("hose_time", quench.hose_time, "quench_water", "hose")


def _water_steps(graph: Graph) -> None:
    """From the heat of the char to all the water: boiled off, taken up, between pieces, lost."""
    heat = [f"quench_{name}" for name in ("low_a", "low_b", "low_c", "high_a", "high_b", "change")]
    graph.step("char_heat", quench.char_heat, "char_temperature", "quench_boiling", *heat)
    graph.step(
        "steam_heat",
        quench.heat_to_steam,
        "water_temperature",
        "quench_boiling",
        "quench_capacity",
        "quench_latent",
    )
    graph.step("boiled", quench.boiled_off, "hot_mass", "char_heat", "steam_heat", "boil_factor")
    graph.step("taken_up", quench.taken_up, "hot_mass", "uptake")
    graph.step("pit_char", _in_vessel, "hot_char", "in_vessel")
    graph.step(
        "between",
        quench.between_pieces,
        "pit_char",
        "char_packing",
        "flooded",
        "quench_water_density",
    )
    graph.step(
        "quench_water",
        quench.total_water,
        "boiled",
        "taken_up",
        "between",
        "lost",
        "quench_water_density",
    )


def _hot(graph: Graph, burner: Burner, row: str, burn: Burn) -> None:
    """The temperature of the char when it is put out, the same draw as that of the yields."""
    if burn.temperature is not None:
        stated = burn.temperature
        error = graph.tables.method("instruments", Instruments)[1].temperature.mid
        low, high = (
            (stated.low, stated.high)
            if stated.low is not None and stated.high is not None
            else (stated.mid - error, stated.mid + error)
        )
        origin = Origin("field", f"burn.temperature: {stated.text}", field="burn.temperature")
        graph.inputs["char_temperature"] = interval_input(
            "char_temperature",
            (low, stated.mid, high),
            "linear",
            burn_key("temperature"),
            origin,
            "degC",
        )
    else:
        graph.cell("char_temperature", "burners", row, "temperature", key=burn_key("temperature"))


def quench_of(
    graph: Graph,
    figures: Mapping[str, UncertainValue],
    burner: Burner,
    row: str,
    burn: Burn,
    planning: Planning,
) -> PutOut:
    """The quench in words and litres, from the figures of the plan."""
    row_id, method = graph.tables.method("quench", QuenchMethod)
    water = estimate_in(figures["quench_water"], "L", 1000)
    ready = ready_litres(water, burn, graph.tables)
    shocked = sorted(
        {folded(word) for word in planning.no_shock} & {folded(word) for word in burn.vessel}
    )
    ways = _ways(burner, bool(shocked))
    flow = graph.inputs["hose"]
    covered = scaled_estimate(
        method.covered.low / 60, method.covered.mid / 60, method.covered.high / 60, "min"
    )
    citations = tuple(
        citation(graph.tables, key, row_id.partition(":")[0], method.at, method.known)
        for key in method.source
    )
    plan = trusted(Quench)(
        ways=ways,
        hose_time=estimate_in(figures["hose_time"], "min", 1 / 60),
        hose_flow=scaled_estimate(flow.low, flow.mid, flow.high, "L/min", 60000),
        covered=covered,
        steps=tuple(_steps(ways, method)),
        sources=citations,
    )
    return PutOut(plan, exact_estimate(ready, "L"), tuple(_shock(shocked, planning)))


def ready_litres(water: Estimate, burn: Burn, tables: Tables) -> float:
    """Litres to have in vessels beside the fire; what a hose gives in the time for which hot char
    may wait counts as water.
    """
    _, method = tables.method("quench", QuenchMethod)
    _, planning = tables.method("planning", Planning)
    flow = burn.hose.low or burn.hose.mid if burn.hose is not None else 0.0
    return float(
        quench.have_ready(
            water.high_value,
            water.mid_value,
            method.reserve.mid,
            method.most.mid,
            1000 * flow * planning.hosed.mid,
            1000 * method.minimum.mid,
        )
    )


def _ways(burner: Burner, shocked: bool) -> tuple[str, ...]:
    """Ways in order of preference; where cold water would crack the vessel, short bursts or
    smothering only.
    """
    ways = list(burner.quenching or ("water",))
    if shocked:
        ways = ["bursts", *(way for way in ways if way not in ("water", "bursts"))]
        ways += [way for way in ("lid",) if way not in ways and burner.stands == "vessel"]
    return tuple(ways)


def _steps(ways: Sequence[str], method: QuenchMethod) -> list[Message]:
    hours = {"low": method.covered.low / 3600, "high": method.covered.high / 3600}
    stated = [
        Message.of(f"quench.{way}", hours if way in ("lid", "soil") else {})
        for way in ("water", "bursts", "lid", "soil")
        if way in ways
    ]
    others = [Message("quench.or", step=step) for step in stated[1:]]
    return [*stated[:1], *others, Message("quench.look")]


def _shock(words: Sequence[str], planning: Planning) -> list[Finding]:
    if not words:
        return []
    return [
        trusted(Finding)(
            code="no-cold-water",
            axis="burn",
            permits=Verdict.READY,
            evidence=tuple(Message("evidence.vessel", what=word) for word in words),
            sources=(
                plain_citation("common practice, no source", at=planning.note, known="practice"),
            ),
        )
    ]
