"""Findings about water and soil."""

from __future__ import annotations

from ..lot.drying import LOOSE
from ..model.drying import Drying
from ..model.findings import Finding, Verdict
from ..quantities.estimate import Estimate
from ..quantities.units import as_wet
from ..tables.citations import Citation, cited
from ..tables.rows.burner import Burner
from ..tables.tables import Tables
from ..words import Message, Texts, Values


def too_wet(moisture: Estimate, burner_row: str, tables: Tables) -> bool:
    """Whether the middle is above the burner's working moisture."""
    burner = tables.row("burners", burner_row, Burner)
    return moisture.mid_value > 100 * as_wet(burner.moisture_ready.mid, burner.moisture_ready.basis)


def moisture_finding(
    moisture: Estimate, burner_row: str, tables: Tables, lot: str, drying: Drying | None, lies: str
) -> Finding | None:
    """The gate of the burner's working moisture, judged on the middle and on the high end, with how
    to dry the lot as far as that is known; None where it is dry enough.
    """
    burner = tables.row("burners", burner_row, Burner)
    ready, refused = (
        100 * as_wet(burner.moisture_ready.mid, burner.moisture_ready.basis),
        100 * as_wet(burner.moisture_refused.mid, burner.moisture_refused.basis),
    )
    name = burner_row.partition(":")[2]
    high_over = 100 * tables.defaults[1].high_over.mid
    if moisture.mid_value <= ready and moisture.high_value <= ready + high_over:
        return None
    sources = cited(burner.moisture_ready, tables, burner_row.partition(":")[0])
    values = {"burner": burner.called(name), "ready": ready, "refused": refused}
    if moisture.mid_value > refused:
        code = "far-too-wet"
    elif moisture.mid_value > ready:
        code = "too-wet"
    else:
        code = "may-be-too-wet"
        values = {"burner": values["burner"], "ready": ready, "high": moisture.high_value}
        if lies:
            wood = lies not in (*LOOSE, "stalks")
            values["action"] = Message("drying.measure-wood" if wood else "drying.measure-loose")
    if drying is not None:
        values["action"] = drying.how
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
