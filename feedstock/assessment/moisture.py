"""Findings about water and soil."""

from __future__ import annotations

from ..model.findings import Finding, Verdict
from ..quantities.basis import gate_share
from ..quantities.estimate import Estimate
from ..tables.citations import Citation, cited
from ..tables.rows.burner import Burner
from ..tables.tables import Tables


def moisture_finding(
    moisture: Estimate, burner_row: str, tables: Tables, lot: str, high_over: float, water: Estimate
) -> Finding | None:
    """The gate of the burner's working moisture, judged on the middle and on the high end; None
    where it is dry enough.
    """
    burner = tables.row("burners", burner_row, Burner)
    ready, refused = (
        100 * gate_share(burner.moisture_ready),
        100 * gate_share(burner.moisture_refused),
    )
    name = burner.display(burner_row.partition(":")[2])
    if moisture.mid_value <= ready and moisture.high_value <= ready + 100 * high_over:
        return None
    sources = cited(burner.moisture_ready, tables, burner_row.partition(":")[0])
    lose = "the water named above" if water.mid_value >= 0.05 else "some water"
    if moisture.mid_value > refused:
        return Finding(
            code="far-too-wet",
            axis="moisture",
            permits=Verdict.DRY_FIRST,
            sources=sources,
            lot=lot,
            reason=f"It is refused for this burn as it is: a {name} works to {ready:.0f} % "
            f"and never above {refused:.0f} %; wetter feed smokes and gives ash.",
            action="Split it, stack it under cover with air through it until it has lost "
            f"{lose}, then measure again.",
        )
    if moisture.mid_value > ready:
        return Finding(
            code="too-wet",
            axis="moisture",
            permits=Verdict.DRY_FIRST,
            sources=sources,
            lot=lot,
            reason=f"It is above the {ready:.0f} % wet at which a {name} burns without heavy "
            "smoke.",
            action=f"Let it lose {lose} under cover, or split it, then measure again.",
        )
    return Finding(
        code="may-be-too-wet",
        axis="moisture",
        permits=Verdict.DRY_FIRST,
        sources=sources,
        lot=lot,
        reason=f"It may be dry enough, but it may as well have {moisture.high_value:.0f} % "
        f"wet, well above the {ready:.0f} % of a {name}.",
        action="Measure it: split a piece and read a meter on the fresh face, or weigh a "
        "piece before and after drying at 103 degC.",
    )


def unstated_moisture(lot: str, material: str, source: tuple[Citation, ...]) -> Finding:
    """No moisture was given: the widest interval of the material is taken."""
    return Finding(
        code="moisture-not-stated",
        axis="moisture",
        permits=Verdict.READY,
        lot=lot,
        sources=source,
        evidence=("moisture: not given",),
        reason=f"No moisture was given, so the whole range in which {material} is met was "
        "taken; the figures are wide for it.",
        action="Give a meter reading, a weighed sample, the air it lay in, or a condition "
        "such as seasoned.",
    )


def soil_finding(
    lot: str, ash_percent: float, limit_percent: float, source: tuple[Citation, ...]
) -> Finding:
    """More ash than clean wood has."""
    return Finding(
        code="soil-suspected",
        axis="char",
        permits=Verdict.READY,
        lot=lot,
        sources=source,
        evidence=(f"ash and soil: {ash_percent:.2g} % of the dry mass",),
        reason=f"Clean plants rarely bring more than {limit_percent:.0f} % ash and grit; what "
        "is above it is soil, which adds weight and no char, "
        "and is counted here as sorted out of it.",
        action="Shake, brush or rinse it, and keep it off the ground; sieve the char.",
    )
