"""Findings about water and soil."""

from __future__ import annotations

from ..model.findings import Finding, Verdict
from ..quantities.basis import gate_share
from ..quantities.estimate import Estimate
from ..tables.citations import Citation, cited
from ..tables.rows.burner import Burner
from ..tables.tables import Tables
from ..words import Message, Texts, Values

# litres of water; less than this is nothing that anybody names
_SOME_WATER = 0.05


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
    name = burner_row.partition(":")[2]
    if moisture.mid_value <= ready and moisture.high_value <= ready + 100 * high_over:
        return None
    sources = cited(burner.moisture_ready, tables, burner_row.partition(":")[0])
    lose = water.mid_value >= _SOME_WATER
    values = {"burner": burner.called(name), "ready": ready, "refused": refused, "named": lose}
    if moisture.mid_value > refused:
        code = "far-too-wet"
    elif moisture.mid_value > ready:
        code = "too-wet"
    else:
        code = "may-be-too-wet"
        values = {"burner": values["burner"], "ready": ready, "high": moisture.high_value}
    return Finding(
        code=code,
        axis="moisture",
        permits=Verdict.DRY_FIRST,
        sources=sources,
        lot=lot,
        values=Values(values),
    )


def unstated_moisture(lot: str, material: Texts, source: tuple[Citation, ...]) -> Finding:
    """No moisture was given: the widest interval of the material is taken."""
    return Finding(
        code="moisture-not-stated",
        axis="moisture",
        permits=Verdict.READY,
        lot=lot,
        sources=source,
        evidence=(Message("evidence.no-moisture"),),
        values=Values({"material": material}),
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
        evidence=(Message("evidence.ash", ash=ash_percent),),
        values=Values({"most": limit_percent}),
    )
