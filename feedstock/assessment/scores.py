"""Scores of 0 to 100 from table scales: monotone, continuous, never able to lift a gate."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from ..model.appraisal import Scores
from ..model.findings import Finding, Verdict
from ..tables.rows.scales import ScaleRow
from ..tables.tables import Tables

STEP = 5


def on_scale(row: ScaleRow, value: float) -> float:
    """Piecewise linear between the points, flat outside them."""
    points = row.points
    if value <= points[0].at:
        return points[0].score
    for left, right in pairwise(points):
        if value <= right.at:
            return left.score + (right.score - left.score) * (value - left.at) / (
                right.at - left.at
            )
    return points[-1].score


def scale(tables: Tables, name: str) -> ScaleRow:
    """The scale of that name. Raises UnknownName where no table has it."""
    return tables.row("scales", tables.find("scales", name), ScaleRow)


def rounded(score: float) -> float:
    """To the nearest 5, the finest step that such a score bears."""
    return float(STEP * round(score / STEP))


def scores(
    tables: Tables,
    moisture: float,
    density: float | None,
    carbon_kept: float,
    findings: Iterable[Finding],
    verdict: Verdict,
) -> Scores:
    """Scores of a lot from moisture (% wet), density (kg/m3), carbon kept (% of dry feed), its
    findings and its verdict.

    `suitability` is the weighted geometric mean of the others, cut off at the ceiling of the gate.
    """
    doubt = 1.0
    for finding in findings:
        if finding.axis in ("contamination", "handling") and not finding.cleared:
            doubt *= 1 - on_scale(scale(tables, "suspicion"), finding.permits.position) / 100
    parts = {
        "moisture": on_scale(scale(tables, "moisture"), moisture),
        "density": None if density is None else on_scale(scale(tables, "density"), density),
        "contamination": on_scale(scale(tables, "contamination"), 100 * (1 - doubt)),
        "char": on_scale(scale(tables, "char"), carbon_kept),
    }
    total = weight = 0.0
    product = 1.0
    for name, score in parts.items():
        if score is not None:
            weight = scale(tables, name).weight
            total += weight
            product *= (score / 100) ** weight
    mean = 100 * product ** (1 / total) if total else 0.0
    ceiling = on_scale(scale(tables, "gate"), verdict.position)
    # rounded down at the ceiling, so that a rounded score cannot pass its gate either
    suitability = min(rounded(mean), STEP * (ceiling // STEP))
    return Scores(
        moisture=rounded(parts["moisture"] or 0.0),
        density=None if parts["density"] is None else rounded(parts["density"]),
        contamination=rounded(parts["contamination"] or 0.0),
        char=rounded(parts["char"] or 0.0),
        suitability=suitability,
    )
