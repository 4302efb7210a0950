"""Laying sets over each other: rows are added freely, rows of another set change only under `amend`
or `replace`.

Everything here works on text rows; what comes out is one row per full name (`set:key`), each field
with its origin.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from ...errors import Problem, nearest_names, shown
from .raw import KINDS, Change, RawRow, RawSet

GATES = frozenset({"contaminants", "clears", "signs", "limits"})
"""Kinds whose every field can decide a verdict."""
GATE_METHODS = frozenset(
    {
        "preservatives",
        "paint",
        "binders",
        "fate",
        "soil-addition",
        "load-screening",
        "feed-classes",
        "feed-forms",
    }
)
"""Kinds, and purposes, of methods whose figures a limit is judged by."""
GATE_FIELDS = frozenset({"class", "form", "history", "carries", "like", "accumulates", "elements"})
"""Fields of a material that can decide a verdict."""


@dataclass(slots=True)
class Loosened:
    """A set made a gate of another set easier to pass, and said why."""

    set: str
    row: str
    reason: str


@dataclass(slots=True)
class MergedSets:
    """All rows of all sets after all changes."""

    sets: list[RawSet]
    rows: dict[str, dict[str, RawRow]] = field(default_factory=lambda: {kind: {} for kind in KINDS})
    loosened: list[Loosened] = field(default_factory=list)
    tightened: list[tuple[str, str]] = field(default_factory=list)


def merge_sets(sets: Sequence[RawSet], problems: list[Problem]) -> MergedSets:
    """Lay the sets over each other in order; every conflict goes into `problems`."""
    ordered = _ordered(sets, problems)
    laid = MergedSets(ordered)
    for item in ordered:
        for kind, rows in item.rows.items():
            for row in rows.values():
                laid.rows[kind][row.row_id] = row
        for clears in item.rows.get("clears", {}).values():
            loosens = clears.data.get("loosens")
            if isinstance(loosens, dict) and loosens.get("reason"):
                laid.loosened.append(
                    Loosened(item.name, str(clears.data.get("hypothesis")), str(loosens["reason"]))
                )
    changed: dict[tuple[str, str, str], Change] = {}
    for item in ordered:
        for change in item.changes:
            _change(laid, item, change, changed, problems)
    return laid


def _ordered(sets: Sequence[RawSet], problems: list[Problem]) -> list[RawSet]:
    """In the given order, a set behind those that its `after` names."""
    names: dict[str, RawSet] = {}
    for table_set in sets:
        if table_set.name in names:
            first = names[table_set.name]
            problems.append(
                Problem(
                    "duplicate-set",
                    f"two sets go by the name '{table_set.name}' ({_whence(first)} and "
                    f"{_whence(table_set)})",
                    "Rename one, or load only one.",
                    file=_whence(table_set),
                )
            )
        names.setdefault(table_set.name, table_set)
    out: list[RawSet] = []
    waiting = list(names.values())
    while waiting:
        ready = next(
            (s for s in waiting if not any(a in names and names[a] in waiting for a in s.after)),
            None,
        )
        if ready is None:
            problems.append(
                Problem(
                    "circle",
                    f"the sets {', '.join(s.name for s in waiting)} each want to come "
                    "after another",
                    "Take one `after` away.",
                )
            )
            ready = waiting[0]
        waiting.remove(ready)
        out.append(ready)
    return out


def _whence(each: RawSet) -> str:
    row = next((r for rows in each.rows.values() for r in rows.values()), None)
    return each.distribution or (row.located.file if row else each.name)


def _change(
    laid: MergedSets,
    by: RawSet,
    change: Change,
    changed: dict[tuple[str, str, str], Change],
    problems: list[Problem],
) -> None:
    row = _target(laid, change, problems)
    if row is None:
        return
    if row.set == by.name:
        problems.append(
            change.problem(
                "own-row", f"'{row.key}' is a row of this very set", "Change the row itself."
            )
        )
        return
    data = {k: v for k, v in change.data.items() if k not in ("loosens", "tightens")}
    _check_gate(laid, by, change, row, data, problems)
    fields = set(data) | (set(row.data) if change.replaces else set())
    for name in sorted(fields):
        before = changed.get((row.kind, row.row_id, name))
        if before is not None and before.set not in by.after and before.set != by.name:
            place = before.located.place((*before.path, name), key=True)
            problems.append(
                change.problem(
                    "conflict",
                    f"'{row.row_id}' {name} is changed by two sets: here and in "
                    f"{before.located.file}:{place[0] if place else '?'} (set "
                    f"{before.set})",
                    f"Write after: [{before.set}] in the `set` of the one that is to come last.",
                    (name,),
                )
            )
        changed[row.kind, row.row_id, name] = change
    laid.rows[row.kind][row.row_id] = (
        _replaced(row, change, data) if change.replaces else _amended(row, change, data, problems)
    )


def _target(laid: MergedSets, change: Change, problems: list[Problem]) -> RawRow | None:
    rows = laid.rows[change.kind]
    if ":" in change.target:
        found = [change.target] if change.target in rows else []
    else:
        found = [row_id for row_id in rows if row_id.partition(":")[2] == change.target]
    if len(found) == 1:
        return rows[found[0]]
    if found:
        problems.append(
            change.problem(
                "ambiguous",
                f"'{change.target}' stands in several sets: {', '.join(sorted(found))}",
                "Write the full name.",
            )
        )
    else:
        problems.append(
            change.problem(
                "unknown-row",
                f"there is no row '{shown(change.target)}' to change",
                "Name a row of another set, for instance reference:oak.",
                nearest=nearest_names(change.target, [*rows, *(f.partition(":")[2] for f in rows)]),
            )
        )
    return None


_BURNER_GATES = frozenset({"moisture_ready", "moisture_refused", "over"})


def _check_gate(
    laid: MergedSets,
    by: RawSet,
    change: Change,
    row: RawRow,
    data: dict[str, Any],
    problems: list[Problem],
) -> None:
    """A change of what can decide a verdict says in which direction it goes."""
    loosens, tightens = change.data.get("loosens"), change.data.get("tightens")
    if loosens is not None:
        reason = loosens.get("reason") if isinstance(loosens, dict) else None
        if isinstance(reason, str) and reason.strip():
            laid.loosened.append(Loosened(by.name, row.row_id, reason))
        else:
            what, remedy = (
                "`loosens` gives no reason",
                "Write loosens: {reason: why this is right}.",
            )
            problems.append(change.problem("no-reason", what, remedy, ("loosens",)))
    if tightens is not None and str(tightens).lower() != "true":
        what = f"tightens: '{shown(tightens)}' is not true"
        remedy = "Write tightens: true, or leave it out."
        problems.append(change.problem("unknown-word", what, remedy, ("tightens",)))
    elif tightens is not None:
        laid.tightened.append((by.name, row.row_id))
    if loosens is None and tightens is None and _is_gate(change, row, data):
        what = (
            f"this changes what decides a verdict ({change.kind} {row.row_id}) and "
            "does not say in which direction"
        )
        remedy = "Write tightens: true, or loosens: {reason: ...}."
        problems.append(change.problem("undeclared-gate", what, remedy))


def _is_gate(change: Change, row: RawRow, data: dict[str, Any]) -> bool:
    """Whether a change touches what can decide a verdict."""
    touched = {"materials": GATE_FIELDS, "burners": _BURNER_GATES}.get(change.kind)
    if touched is not None:
        return bool(touched & set(data)) or change.replaces
    return change.kind in GATES or change.kind == "scales" or _decides(change, row, data)


def _decides(change: Change, row: RawRow, data: dict[str, Any]) -> bool:
    """Whether a change of a method touches what a limit is judged by."""
    if change.kind != "methods":
        return False
    use = data.get("use")
    return row.data.get("kind") in GATE_METHODS or (
        isinstance(use, dict)
        and any(use.get(p) != row.data.get("use", {}).get(p) for p in GATE_METHODS)
    )


def _replaced(row: RawRow, change: Change, data: dict[str, Any]) -> RawRow:
    origins = {name: (change.set, change.located, (*change.path, name)) for name in data}
    return RawRow(row.set, row.kind, row.key, data, row.located, row.path, origins)


def _amended(row: RawRow, change: Change, data: dict[str, Any], problems: list[Problem]) -> RawRow:
    merged, origins = dict(row.data), dict(row.origins)
    for name, value in data.items():
        merged[name] = _merged(merged.get(name), value, change, name, problems)
        origins[name] = (change.set, change.located, (*change.path, name))
    return RawRow(row.set, row.kind, row.key, merged, row.located, row.path, origins)


def _merged(before: Any, value: Any, change: Change, name: str, problems: list[Problem]) -> Any:
    """A whole field, or a list changed by `add` and `remove`."""
    if not (isinstance(value, dict) and value and set(value) <= {"add", "remove"}):
        return value
    held = (
        [before]
        if isinstance(before, str)
        else list(before)
        if isinstance(before, (list, tuple))
        else []
        if before is None
        else None
    )
    if held is None:
        problems.append(
            change.problem(
                "not-a-list",
                f"`{name}` is not a list, so nothing can be added to it",
                "Give the whole field.",
                (name,),
            )
        )
        return before
    for gone in _listed(value.get("remove")):
        if gone in held:
            held.remove(gone)
        else:
            problems.append(
                change.problem(
                    "unknown-row",
                    f"'{shown(gone)}' is not in `{name}`",
                    "Remove what stands there.",
                    (name, "remove"),
                    nearest_names(str(gone), map(str, held)),
                )
            )
    return held + [new for new in _listed(value.get("add")) if new not in held]


def _listed(value: Any) -> list[Any]:
    return [] if value is None else list(value) if isinstance(value, list) else [value]


def canonical(sets: Iterable[RawSet]) -> str:
    """The content of sets as one text: no files, lines, comments or order of keys, only what is
    said.
    """
    content = [
        {
            "name": s.name,
            "version": s.version,
            "rows": {
                kind: {key: row.data for key, row in sorted(rows.items())}
                for kind, rows in s.rows.items()
                if rows
            },
            "changes": sorted(
                ([c.kind, c.target, c.replaces, c.data] for c in s.changes),
                key=lambda c: json.dumps(c, sort_keys=True),
            ),
        }
        for s in sets
    ]
    return json.dumps(content, sort_keys=True, ensure_ascii=True, separators=(",", ":"))
