"""What is to be said of the tables themselves."""

from __future__ import annotations

from ..lot.evidence import Evidence
from ..model.findings import Finding, Verdict
from ..quantities.data import trusted
from ..tables.citations import plain_citation
from ..tables.limits import Limits, laxer_than_default, limits_in_use
from ..tables.names.taken import Taken
from ..tables.tables import Tables
from ..words import Values


def table_findings(tables: Tables) -> tuple[Finding, ...]:
    """Packages that did not load, and gates that a set made easier."""
    findings = [
        trusted(Finding)(
            code="tables-broken",
            axis="tables",
            permits=Verdict.READY,
            sources=(plain_citation(problem.file or "installed packages"),),
            values=Values({"problem": str(problem)}),
        )
        for problem in tables.broken
    ]
    findings += [
        trusted(Finding)(
            code="gate-loosened",
            axis="tables",
            permits=Verdict.READY,
            sources=(plain_citation(f"table set {loosening.set}"),),
            values=Values({"set": loosening.set, "row": loosening.row, "why": loosening.reason}),
        )
        for loosening in tables.loosened
    ]
    return tuple(findings)


_FIELDS = {"materials": "material", "origins": "origin", "signs": "signs"}
"""The field of a lot in which a person writes a name of the kind."""


def taken_words(evidence: Evidence, tables: Tables, lot: str) -> tuple[Finding, ...]:
    """The rows of a lot of which another set uses a word too, each pair told once."""
    used = {
        ("materials", evidence.material),
        ("origins", evidence.origin),
        *(("signs", sign) for sign in evidence.signs),
    }
    pairs: dict[tuple[str, str], Taken] = {}
    for taken in tables.taken:
        owner = (taken.owner.kind, taken.owner.row)
        if (taken.kind, taken.row) in used or owner in used:
            pairs.setdefault((taken.row, taken.owner.row), taken)
    return tuple(
        trusted(Finding)(
            code="word-taken",
            axis="tables",
            permits=Verdict.READY,
            sources=(plain_citation(f"table set {taken.row.partition(':')[0]}"),),
            lot=lot,
            values=Values(
                {
                    "word": taken.word,
                    "row": taken.row,
                    "owner": str(taken.owner),
                    "field": _FIELDS.get(taken.kind, ""),
                    "bare": (taken.kind, taken.row) not in used,
                }
            ),
        )
        for taken in pairs.values()
    )


def limit_findings(limits: Limits | None, tables: Tables) -> tuple[Finding, ...]:
    """A set of limits that the person named and that allows more than the default says so."""
    default = limits_in_use(tables, None)
    if limits is None or default is None:
        return ()
    elements = laxer_than_default(limits, tables)
    if not elements:
        return ()
    laxer = [default.of[element] for element in elements]
    return (
        trusted(Finding)(
            code="laxer-limits",
            axis="tables",
            permits=Verdict.READY,
            sources=tuple(dict.fromkeys(cite for limit in laxer for cite in limit.sources)),
            values=Values({"set": limits.name, "default": default.name, "elements": elements}),
        ),
    )
