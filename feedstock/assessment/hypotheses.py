"""Hypotheses of contamination: raised by what a lot carries and by rules, lowered only by named
evidence."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field

from ..lot.evidence import Evidence, Resolved, any_holds, holds, parts_of, resolved
from ..model.findings import Finding, Verdict
from ..quantities.data import trusted
from ..quantities.frozen import record
from ..tables.caches import kept_of_tables
from ..tables.citations import citations
from ..tables.rows.contaminant import Clears, Contaminant, Rule, Settles, Sign
from ..tables.tables import Tables
from ..words import Message, Texts, Values


@record
class _Raised:
    """A hypothesis with the worst gate of all that raised it."""

    row: str
    permits: Verdict
    reason: Texts
    action: Texts
    settles: tuple[Settles, ...]
    specific: bool
    evidence: list[Message] = field(default_factory=list)


CONFLICT = "conflicting-signs"


def contamination_findings(
    evidence: Evidence, tables: Tables, lot: str | None
) -> tuple[Finding, ...]:
    """Every finding of the contamination and handling axes, worst first."""
    return tuple(finding.model_copy(update={"lot": lot}) for finding in _findings(evidence, tables))


@kept_of_tables(4096)
def _findings(evidence: Evidence, tables: Tables) -> tuple[Finding, ...]:
    """The same of no lot in particular."""
    findings = []
    for row_id, item, cleared in _judged(evidence, tables):
        row = tables.row("contaminants", row_id, Contaminant)
        findings.append(_finding(row_id, row, item, cleared, tables, None))
    conflict = _conflict(evidence, tables, None)
    if conflict is not None:
        findings.append(conflict)
    return tuple(sorted(findings, key=lambda f: (-f.permits.position, f.cleared, f.code)))


@kept_of_tables(4096)
def _judged(
    evidence: Evidence, tables: Tables
) -> tuple[tuple[str, _Raised, tuple[str, Clears] | None], ...]:
    """Every hypothesis that is raised, with what clears it."""
    return tuple(
        (row_id, item, _cleared(row_id, evidence, tables))
        for row_id, item in _raise(evidence, tables).items()
    )


def suspected(evidence: Evidence, tables: Tables) -> tuple[tuple[str, Verdict], ...]:
    """The hypotheses that are raised and not cleared, each with the best verdict that it leaves."""
    return tuple(
        (row_id, item.permits)
        for row_id, item, cleared in _judged(evidence, tables)
        if cleared is None
    )


def _raise(evidence: Evidence, tables: Tables) -> dict[str, _Raised]:
    raised: dict[str, _Raised] = {}
    for row_id in evidence.carries:
        row = tables.row("contaminants", row_id, Contaminant)
        _note(
            raised,
            row_id,
            row,
            None,
            (_of_material(evidence.material, tables),),
        )
    for row_id, row, rule, need in _rules(tables):
        if need.met(evidence):
            _note(raised, row_id, row, rule, parts_of(rule, evidence, tables))
    return raised


@kept_of_tables(4)
def _rules(tables: Tables) -> tuple[tuple[str, Contaminant, Rule, Resolved], ...]:
    """Every rule that raises a hypothesis, with its names looked up: every lot asks them all."""
    return tuple(
        (row_id, row, rule, resolved(rule, tables))
        for row_id, row in tables.rows["contaminants"].items()
        if isinstance(row, Contaminant)
        for rule in row.raised_by
    )


def _of_material(row_id: str, tables: Tables) -> Message:
    name = tables.material(row_id).called(row_id.partition(":")[2])
    return Message("evidence.material", what=name)


def _note(
    raised: dict[str, _Raised],
    row_id: str,
    row: Contaminant,
    rule: Rule | None,
    stated: Iterable[Message],
) -> None:
    permits = Verdict((rule.permits if rule and rule.permits else None) or row.permits)
    reason = (rule.reason if rule else None) or row.reason
    action = (rule.action if rule else None) or row.action
    settles = (rule.settles if rule else None) or row.settles
    # what a rule says of this very case stands before what the hypothesis says of all
    specific = bool(rule and rule.reason)
    suspicion = raised.setdefault(
        row_id, _Raised(row_id, permits, reason, action, settles, specific)
    )
    if (permits, specific) > (suspicion.permits, suspicion.specific):
        suspicion.permits, suspicion.reason, suspicion.action = permits, reason, action
        suspicion.settles, suspicion.specific = settles, specific
    suspicion.evidence += [word for word in stated if word not in suspicion.evidence]


def _cleared(row_id: str, evidence: Evidence, tables: Tables) -> tuple[str, Clears] | None:
    """The clearing row that holds for a hypothesis, if any."""
    for name, row in _clearing(tables).get(row_id, ()):
        if holds(row.when, evidence, tables) and not (
            row.unless is not None and any_holds(row.unless, evidence, tables)
        ):
            return name, row
    return None


@kept_of_tables(4)
def _clearing(tables: Tables) -> Mapping[str, list[tuple[str, Clears]]]:
    """The clearing rows by what they clear."""
    found: dict[str, list[tuple[str, Clears]]] = {}
    for name, row in tables.rows["clears"].items():
        if isinstance(row, Clears):
            of = tables.find("contaminants", row.hypothesis)
            found.setdefault(of, []).append((name, row))
    return found


def _finding(
    row_id: str,
    row: Contaminant,
    raised: _Raised,
    cleared: tuple[str, Clears] | None,
    tables: Tables,
    lot: str | None,
) -> Finding:
    code = row_id.partition(":")[2]
    sources = citations("contaminants", row_id, row, tables)
    if cleared is None:
        settle = settling(raised.settles) if raised.permits is Verdict.CHECK_FIRST else {}
        return trusted(Finding)(
            code=code,
            axis=row.axis,
            permits=raised.permits,
            evidence=tuple(raised.evidence),
            sources=sources,
            lot=lot,
            values=Values(
                {
                    "about": row.called(code),
                    "reason": raised.reason,
                    "action": raised.action,
                    **settle,
                }
            ),
        )
    name, by = cleared
    return trusted(Finding)(
        code=code,
        axis=row.axis,
        permits=Verdict.READY,
        evidence=tuple(raised.evidence),
        sources=(*citations("clears", name, by, tables), *sources),
        lot=lot,
        cleared=True,
        values=Values({"reason": by.reason, "action": Message("cleared.action")}),
    )


def _conflict(evidence: Evidence, tables: Tables, lot: str | None) -> Finding | None:
    """A finding where two of the signs exclude each other."""
    pairs = []
    for row_id in sorted(evidence.signs):
        sign = tables.row("signs", row_id, Sign)
        for other in sign.excludes:
            against = tables.find("signs", other)
            if against in evidence.signs and (against, row_id) not in pairs:
                pairs.append((row_id, against))
    if not pairs:
        return None
    row_ids = tables.index("contaminants").find(CONFLICT)
    row = tables.row("contaminants", row_ids[0], Contaminant)
    return trusted(Finding)(
        code=CONFLICT,
        axis=row.axis,
        permits=Verdict(row.permits),
        evidence=tuple(
            Message("evidence.against", one=_sign(tables, a), other=_sign(tables, b))
            for a, b in pairs
        ),
        sources=citations("contaminants", row_ids[0], row, tables),
        lot=lot,
        values=Values({"reason": row.reason, "action": row.action, **settling(row.settles)}),
    )


def settling(steps: Sequence[Settles]) -> dict[str, Message]:
    """The cheapest step that would settle a suspicion, with what it can and cannot prove, as a
    value of a finding; nothing where none is known.
    """
    if not steps:
        return {}
    first = steps[0]
    stated = Message("settle", step=first.step, proves=first.proves, not_proves=first.not_proves)
    return {"settle": stated}


def _sign(tables: Tables, row_id: str) -> Texts:
    return tables.rows["signs"][row_id].called(row_id.partition(":")[2])
