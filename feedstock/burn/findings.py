"""What is to be said of a plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..model.burn_plan import Loads
from ..model.findings import Finding, Verdict
from ..model.inputs.burn import Burn
from ..quantities.basis import gate_share
from ..tables.citations import Citation, cited
from ..tables.rows.burner import Burner
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.graph import run
from ..words import Message, Quantity, Values
from .fuel import Fuel
from .planned import _MINUTE, Planned


def _findings(
    planned: Planned, burner: Burner, row: str, tables: Tables, loads: Loads, burn: Burn
) -> list[Finding]:
    found: list[Finding] = []
    if loads.mid > 1:
        sources = _judged(tables, "the loads follow from the heap and the vessel")
        counts = {"low": loads.low, "mid": loads.mid, "high": loads.high}
        found.append(_of_the_burn("more-than-one-load", sources, counts))
    found += _of_proportions(planned, burner, row, tables)
    found += _length_findings(planned, tables)
    unburnt = planned.estimate("unburnt")
    if (
        planned.fixed_end
        and unburnt is not None
        and planned.firing != "closed"
        and unburnt.mid_value > 100 * burner.brands.mid
    ):
        sources = _judged(tables, "char-through time against the time that is left")
        values = {"minutes": planned.end / _MINUTE, "share": unburnt}
        found.append(_of_the_burn("stopped-early", sources, values))
    return found


def _of_the_burn(code: str, sources: tuple[Citation, ...], values: Mapping[str, object]) -> Finding:
    return Finding(
        code=code, axis="burn", permits=Verdict.READY, sources=sources, values=Values(values)
    )


def _of_proportions(planned: Planned, burner: Burner, row: str, tables: Tables) -> list[Finding]:
    """A vessel much deeper or flatter than is usual."""
    usual, proportion = burner.proportion, planned.vessel.proportion
    if usual is None or usual.low <= proportion <= usual.high:
        return []
    values = {"proportion": proportion, "deep": proportion < usual.low, "usual": usual.mid}
    sources = cited(usual, tables, row.partition(":")[0])
    return [_of_the_burn("proportions", sources, values)]


def _length_findings(planned: Planned, tables: Tables) -> list[Finding]:
    """A burn too short to stand, one that goes on when its fuel is gone, and a load whose lowest
    pieces need longer than the front.
    """
    if planned.firing == "closed" or planned.end <= 0:
        return []
    sources = _judged(tables, "the times of the plan")
    _, planning = tables.method("planning", Planning)
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
                values=Values({"start": start / _MINUTE, "minutes": planned.end / _MINUTE}),
            )
        )
    if planned.fixed_end and planned.end > planning.stretched.mid * (feed + start + through):
        found.append(
            Finding(
                code="too-long",
                axis="burn",
                permits=Verdict.READY,
                sources=sources,
                values=Values({"minutes": (feed + start + through) / _MINUTE}),
            )
        )
    if planned.firing == "top-lit" and not planned.fixed_end:
        mean = planned.graph.given["mean_through"].mid
        unburnt = planned.estimate("unburnt")
        if unburnt is not None and unburnt.mid_value > 100 * planning.half_charred.mid:
            found.append(
                Finding(
                    code="lowest-need-longer",
                    axis="burn",
                    permits=Verdict.READY,
                    sources=sources,
                    values=Values({"share": unburnt, "minutes": mean / _MINUTE}),
                )
            )
    return found


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
            values=Values({"share": 100 * fuel.figures["water_heat"].mid}),
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
        found.append(
            Finding(
                code="too-wet-to-burn",
                axis="moisture",
                permits=Verdict.DRY_FIRST,
                sources=sources,
                evidence=tuple(Message("evidence.lot", what=fuel.name) for fuel in wet),
                values=Values(
                    {
                        "lots": tuple(fuel.name for fuel in wet),
                        "ready": ready,
                        "water": Quantity(litres, "L"),
                    }
                ),
            )
        )
    else:
        found.append(
            Finding(
                code="nothing-ready",
                axis="burn",
                permits=Verdict.CHECK_FIRST,
                sources=(Citation(text="the verdicts of the lots", known="derived"),),
            )
        )
    return found


def _water(fuel: Fuel) -> float:
    values = run(fuel.model.chain, fuel.model.middles)
    return float(values.get("water_to_lose", 0.0))
