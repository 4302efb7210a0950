"""What of a row can decide a verdict, so that a change of it by another set says in which direction
it goes.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...errors import Problem, shown
from ..names.index import folded
from .raw import Change, RawRow, names_of

Rows = Mapping[str, Mapping[str, RawRow]]

GATES = frozenset({"contaminants", "clears", "signs", "origins", "limits", "scales", "cautions"})
"""Kinds whose every field can decide a verdict, or keeps a person from harm."""

LIMIT_METHODS = frozenset(
    {"preservatives", "paint", "binders", "fate", "soil-addition", "element-screening"}
)
"""Kinds, and purposes, of methods whose figures a limit is judged by."""

WORD_METHODS = frozenset(
    {
        "families",
        "plants",
        "forms",
        "states",
        "danger-words",
        "clean-phrases",
        "hedges",
        "negations",
        "places",
        "removals",
        "scopes",
        "weak-marks",
    }
)
"""Kinds of methods by which words are understood: with them a danger is heard or not."""

GATE_METHODS = LIMIT_METHODS | WORD_METHODS | {"feed-classes", "feed-forms", "containers"}

MATERIAL_GATES = frozenset(
    {"class", "form", "history", "carries", "like", "accumulates", "elements"}
)
BURNER_GATES = frozenset({"moisture_ready", "moisture_refused", "over"})
DEFAULT_GATES = frozenset({"burner", "high_over", "ash_warning"})


def is_gate(change: Change, row: RawRow, data: dict[str, Any], rows: Rows) -> bool:
    """Whether a change touches what can decide a verdict; `rows` are those of all kinds."""
    if change.kind in GATES:
        named = set(data) == {"names"} and only_adds(data["names"])
        return not (named and raises(row, rows))
    touched = {name for name, value in data.items() if name != "names" or not only_adds(value)}
    if change.kind == "materials":
        lost = isinstance(data.get("traits"), list) or _removes(data.get("traits"))
        return change.replaces or lost or bool(touched & (MATERIAL_GATES | {"names"}))
    if change.kind == "burners":
        return change.replaces or bool(touched & BURNER_GATES)
    return change.kind == "methods" and _decides(row, data)


def raises(row: RawRow, rows: Rows) -> bool:
    """Whether a row leaves a question wherever it is named, and clears none: a suspicion; a sign or
    an origin by which one is raised; a material that carries one.
    """
    if row.kind == "contaminants":
        return True
    if row.kind == "materials":
        return bool(row.data.get("carries"))
    if row.kind not in ("signs", "origins"):
        return False
    words = {folded(row.key), folded(row.row_id), *map(folded, names_of(row))}
    for clears in rows["clears"].values():
        if words & _named(clears.data.get("when"), row.kind):
            return False
    return any(
        words & _named(rule, row.kind)
        for suspicion in rows["contaminants"].values()
        for rule in suspicion.data.get("raised_by") or ()
        if isinstance(rule, dict)
        and rule.get("permits", suspicion.data.get("permits")) in ("check first", "keep out")
    )


def _named(condition: Any, part: str) -> set[str]:
    words = condition.get(part) if isinstance(condition, dict) else None
    return {folded(w) for w in ([words] if isinstance(words, str) else words or ())}


def _decides(row: RawRow, data: dict[str, Any]) -> bool:
    """Whether a change of a method touches what a limit is judged by, or how words are read."""
    if row.data.get("kind") in GATE_METHODS:
        return True
    use, use_before = data.get("use"), row.data.get("use")
    before = use_before if isinstance(use_before, dict) else {}
    return (
        isinstance(use, dict)
        and any(use.get(p) != before.get(p) for p in GATE_METHODS)
        or (
            row.data.get("kind") == "defaults"
            and any(name in data and data[name] != row.data.get(name) for name in DEFAULT_GATES)
        )
    )


def _removes(value: Any) -> bool:
    return isinstance(value, dict) and bool(value.get("remove"))


def only_adds(value: Any) -> bool:
    """Whether a change of names adds some and does nothing else: `{add: [...]}`, with languages
    inside or around it.
    """
    if not isinstance(value, dict) or not value:
        return False
    if set(value) <= {"add", "remove"}:
        return "remove" not in value
    return all(isinstance(v, dict) and set(v) == {"add"} for v in value.values())


def declaration(change: Change, problems: list[Problem]) -> tuple[str, bool]:
    """The reason of a `loosens` (empty for none) and whether the change says that it tightens; what
    is wrong with either goes into `problems`.
    """
    loosens, tightens = change.data.get("loosens"), change.data.get("tightens")
    reason = reason_of(loosens)
    if loosens is not None and not reason:
        remedy = "Write loosens: {reason: why this is right}."
        problems.append(
            change.problem("no-reason", "`loosens` gives no reason", remedy, ("loosens",))
        )
    if tightens is not None and str(tightens).lower() != "true":
        what = f"tightens: '{shown(tightens)}' is not true"
        remedy = "Write tightens: true, or leave it out."
        problems.append(change.problem("unknown-word", what, remedy, ("tightens",)))
    return reason, tightens is not None


def reason_of(loosens: Any) -> str:
    """The reason that a `loosens` gives; empty where it gives none."""
    reason = loosens.get("reason") if isinstance(loosens, dict) else None
    return reason if isinstance(reason, str) and reason.strip() else ""


def undeclared(change: Change, row: RawRow) -> Problem:
    """A change of a gate that does not say in which direction it goes."""
    what = (
        f"this changes what decides a verdict ({change.kind} {row.row_id}) and "
        "does not say in which direction"
    )
    remedy = "Write tightens: true, or loosens: {reason: ...}."
    return change.problem("undeclared-gate", what, remedy)
