"""What comes into a mix goes through the same gates as a lot: manure, hay, straw and the like."""

from __future__ import annotations

from collections.abc import Sequence

from ..assessment.hypotheses import contamination_findings
from ..lot.evidence import evidence_of
from ..model.findings import Finding, Verdict
from ..model.inputs.lot import Lot
from ..tables.tables import Tables
from .inputs import CompostGiven


def part_findings(parts: Sequence[CompostGiven], tables: Tables) -> tuple[Finding, ...]:
    """What was found about the parts that are kinds of feedstock too, by their origin and signs,
    the worst first. Raises UnknownName for an origin or a sign that is in no table.
    """
    findings: list[Finding] = []
    for index, part in enumerate(parts):
        if len(tables.index("materials").find(part.material)) != 1:
            continue
        lot = Lot.model_validate(
            {
                "material": part.material,
                "mass": "1 kg",
                "origin": part.origin,
                "signs": part.signs,
            }
        )
        evidence = evidence_of(lot, None, tables, f"parts[{index}]")
        findings += [
            finding
            for finding in contamination_findings(evidence, tables, part.material)
            if finding.axis == "contamination"
            and (finding.cleared or finding.permits > Verdict.READY)
        ]
    return tuple(sorted(findings, key=lambda finding: (-finding.permits.position, finding.cleared)))
