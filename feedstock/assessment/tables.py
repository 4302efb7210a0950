"""What is to be said of the tables themselves."""

from __future__ import annotations

from ..model.findings import Finding, Verdict
from ..tables.citations import Citation
from ..tables.tables import Tables
from ..words import Values


def table_findings(tables: Tables) -> tuple[Finding, ...]:
    """Packages that did not load, and gates that a set made easier."""
    found = [
        Finding(
            code="tables-broken",
            axis="tables",
            permits=Verdict.READY,
            sources=(Citation(text=problem.file or "installed packages"),),
            values=Values({"problem": str(problem)}),
        )
        for problem in tables.broken
    ]
    found += [
        Finding(
            code="gate-loosened",
            axis="tables",
            permits=Verdict.READY,
            sources=(Citation(text=f"table set {loosening.set}"),),
            values=Values({"set": loosening.set, "row": loosening.row, "why": loosening.reason}),
        )
        for loosening in tables.loosened
    ]
    return tuple(found)
