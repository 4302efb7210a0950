"""What is to be said of the tables themselves."""

from __future__ import annotations

from ..model.findings import Finding, Verdict
from ..tables.citations import Citation
from ..tables.tables import Tables


def table_findings(tables: Tables) -> tuple[Finding, ...]:
    """Packages that did not load, and gates that a set made easier."""
    found = [
        Finding(
            code="tables-broken",
            axis="tables",
            reason=f"A table package could not be loaded: {problem}",
            action="Mend or uninstall it; nothing of it was used.",
            permits=Verdict.READY,
            sources=(Citation(text=problem.file or "installed packages"),),
        )
        for problem in tables.broken
    ]
    found += [
        Finding(
            code="gate-loosened",
            axis="tables",
            reason=f"The table set '{each.set}' made {each.row} easier to pass: {each.reason}",
            action="Leave that set out if you do not agree.",
            permits=Verdict.READY,
            sources=(Citation(text=f"table set {each.set}"),),
        )
        for each in tables.loosened
    ]
    return tuple(found)
