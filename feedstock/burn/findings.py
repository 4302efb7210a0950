"""What is to be said of a plan."""

from __future__ import annotations

from collections.abc import Sequence

from ..model.burn_plan import Loads
from ..model.findings import Finding, Verdict
from ..model.inputs.burn import Burn
from ..quantities.basis import gate_share
from ..tables.citations import Citation, cited
from ..tables.rows.burner import Burner
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.graph import run
from . import quench
from .fuel import Fuel
from .planned import _MINUTE, Planned


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
                reason=f"A fire needs about {start / _MINUTE:.0f} minutes to stand; in "
                f"{planned.end / _MINUTE:.0f} minutes next to nothing is char.",
                action="Plan a longer burn, or wait for a day that has the time.",
            )
        )
    if planned.fixed_end and planned.end > planning.stretched.mid * (feed + start + through):
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
        if unburnt is not None and unburnt.mid_value > 100 * planning.half_charred.mid:
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
    values = run(fuel.model.chain, fuel.model.middles)
    return float(values.get("water_to_lose", 0.0))
