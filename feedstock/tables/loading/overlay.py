"""Laying sets over each other: rows are added freely, rows of another set change only under `amend`
or `replace`.

Everything here works on text rows; what comes out is one row per full name (`set:key`), each field
with its origin.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, MutableMapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ...documents.positions import Path_, path_text
from ...errors import MOST_PROBLEMS, Problem, nearest_names, shown
from ..places import Loosened
from .gate_data import declaration, is_gate, reason_of, undeclared
from .likes import Likes
from .new_rows import declared, of_unknown_history, undeclared_parts
from .own_names import change_with_own_names, own_names, with_own_names
from .raw import KINDS, Change, RawRow, RawRows, RawSet
from .tightening import seen_to_loosen
from .versions import check_versions


@dataclass(slots=True)
class MergedSets:
    """All rows of all sets after all changes."""

    sets: list[RawSet]
    rows: dict[str, MutableMapping[str, RawRow]] = field(
        default_factory=lambda: {kind: {} for kind in KINDS}
    )
    changed: set[tuple[str, str]] = field(default_factory=set)
    """Kind and full name of every row that another set changed."""
    loosened: list[Loosened] = field(default_factory=list)
    tightened: list[tuple[str, str]] = field(default_factory=list)


def merge_sets(sets: Sequence[RawSet], problems: list[Problem]) -> MergedSets:
    """Lay the sets over each other in order; every conflict goes into `problems`."""
    ordered = _ordered(sets, problems)
    check_versions(ordered, problems)
    laid = MergedSets(ordered)
    for number, item in enumerate(ordered):
        if number:
            _lay_later(laid, item, problems)
        else:
            _lay_first(laid, item)
    changed: dict[tuple[str, str, str], Change] = {}
    for item in ordered:
        own = own_names(item) if item.changes else {}
        for change in item.changes:
            full = change_with_own_names(change, own)
            _change(laid, item, full, changed, problems)
    return laid


def _lay_first(laid: MergedSets, item: RawSet) -> None:
    """The first set as it is."""
    for kind, rows in item.rows.items():
        if isinstance(rows, RawRows):
            laid.rows[kind] = rows.of(item.name)
        else:
            laid.rows[kind].update({row.row_id: row for row in rows.values()})
    for clears in item.rows["clears"].values():
        _note_clearing(laid, clears)


def _lay_later(laid: MergedSets, item: RawSet, problems: list[Problem]) -> None:
    """The rows of a later set: what they call by a name of this set is of this set, and what can
    loosen is declared.
    """
    own = own_names(item)
    for kind, rows in item.rows.items():
        laid_rows = laid.rows[kind]
        for row in rows.values():
            bare, reason = declared(row)
            if kind == "clears":
                _note_clearing(laid, row)
            elif reason:
                laid.loosened.append(Loosened(item.name, row.row_id, reason))
            elif "loosens" in row.data:
                what, remedy = "`loosens` gives no reason", "Write loosens: {reason: ...}."
                problems.append(row.problem("no-reason", what, remedy, ("loosens",)))
            for inner, what in () if reason else undeclared_parts(bare, laid.rows):
                remedy = "Leave it out, or write loosens: {reason: ...} in the row."
                problems.append(row.problem("undeclared-gate", what, remedy, inner))
            laid_rows[row.row_id] = with_own_names(of_unknown_history(bare), own)


def _note_clearing(laid: MergedSets, clears: RawRow) -> None:
    reason = reason_of(clears.data.get("loosens"))
    if reason:
        laid.loosened.append(Loosened(clears.set, str(clears.data.get("hypothesis")), reason))


def _ordered(sets: Sequence[RawSet], problems: list[Problem]) -> list[RawSet]:
    """In the given order, a set behind those that its `after` and its `requires` name."""
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
            (s for s in waiting if not any(names.get(a) in waiting for a in _behind(s))),
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


def _behind(raw_set: RawSet) -> set[str]:
    return {*raw_set.after, *(needed.name for needed in raw_set.requires)}


def _whence(raw_set: RawSet) -> str:
    row = next((r for rows in raw_set.rows.values() for r in rows.values()), None)
    return raw_set.distribution or (row.document.file if row else raw_set.name)


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
    data = _data(change)
    fields = set(data) | (set(row.data) if change.replaces else set())
    for name in sorted(fields):
        before = changed.get((row.kind, row.row_id, name))
        if before is not None and before.set not in by.after and before.set != by.name:
            place = before.document.place((*before.path, name), key=True)
            problems.append(
                change.problem(
                    "conflict",
                    f"'{row.row_id}' {name} is changed by two sets: here and in "
                    f"{before.document.file}:{place[0] if place else '?'} (set "
                    f"{before.set})",
                    f"Write after: [{before.set}] in the `set` of the one that is to come last.",
                    (name,),
                )
            )
        changed[row.kind, row.row_id, name] = change
    after = (
        _replaced(row, change, data) if change.replaces else _amended(row, change, data, problems)
    )
    _check_gate(laid, change, row, after, problems)
    laid.rows[row.kind][row.row_id] = after
    laid.changed.add((row.kind, row.row_id))


def _target(laid: MergedSets, change: Change, problems: list[Problem]) -> RawRow | None:
    rows = laid.rows[change.kind]
    if ":" in change.target:
        row_ids = [change.target] if change.target in rows else []
    else:
        row_ids = [row_id for row_id in rows if row_id.partition(":")[2] == change.target]
    if len(row_ids) == 1:
        return rows[row_ids[0]]
    if row_ids:
        problems.append(
            change.problem(
                "ambiguous",
                f"'{change.target}' stands in several sets: {', '.join(sorted(row_ids))}",
                "Write the full name.",
            )
        )
    else:
        # only so many are shown, and each comparison looks at every row
        known = (
            [*rows, *(f.partition(":")[2] for f in rows)] if len(problems) < MOST_PROBLEMS else []
        )
        problems.append(
            change.problem(
                "unknown-row",
                f"there is no row '{shown(change.target)}' to change",
                "Name a row of another set, for instance reference:oak.",
                nearest=nearest_names(change.target, known),
            )
        )
    return None


def _check_gate(
    laid: MergedSets, change: Change, before: RawRow, after: RawRow, problems: list[Problem]
) -> None:
    """A change of what can decide a verdict says in which direction it goes, and one that says
    that it tightens cannot be seen to loosen.
    """
    reason, tightens = declaration(change, problems)
    if reason:
        laid.loosened.append(Loosened(change.set, before.row_id, reason))
    elif tightens:
        laid.tightened.append((change.set, before.row_id))
        likes = Likes(laid.rows["materials"])
        for inner, what in seen_to_loosen(before, after, likes.inherited):
            remedy = "Take it back, or write loosens: {reason: ...} in place of tightens."
            what_is_wrong = f"'{before.row_id}' is said to tighten, and {what}"
            problems.append(change.problem("not-tightened", what_is_wrong, remedy, inner))
    elif "loosens" not in change.data and is_gate(change, before, _data(change), laid.rows):
        problems.append(undeclared(change, before))


def _data(change: Change) -> dict[str, Any]:
    return {k: v for k, v in change.data.items() if k not in ("loosens", "tightens")}


def _replaced(row: RawRow, change: Change, data: dict[str, Any]) -> RawRow:
    origins = {name: (change.set, change.document, (*change.path, name)) for name in data}
    return RawRow(row.set, row.kind, row.key, data, row.document, row.path, origins)


def _amended(row: RawRow, change: Change, data: dict[str, Any], problems: list[Problem]) -> RawRow:
    merged, origins = dict(row.data), dict(row.origins)
    for name, value in data.items():
        if name == "names":
            merged[name] = _merged_names(merged.get(name), value, change, problems)
        else:
            merged[name] = _merged(merged.get(name), value, change, (name,), problems)
        origins[name] = (change.set, change.document, (*change.path, name))
    return RawRow(row.set, row.kind, row.key, merged, row.document, row.path, origins)


def _merged_names(before: Any, value: Any, change: Change, problems: list[Problem]) -> Any:
    """Names by language, changed by `add` and `remove` inside a language or around them; added
    ones without a language are English.
    """
    if not (isinstance(value, dict) and value and isinstance(before or {}, dict)):
        return value
    mixed = dict(before or {})
    if set(value) <= {"add", "remove"}:
        for word in ("remove", "add"):
            words = value.get(word)
            by_language = words if isinstance(words, dict) else {"en": words}
            for language, names in by_language.items():
                path = ("names", word, *((language,) if isinstance(words, dict) else ()))
                part = {word: names}
                mixed[language] = _merged(mixed.get(language), part, change, path, problems)
        return mixed
    if not all(isinstance(v, dict) for v in value.values()):
        return value
    for language, part in value.items():
        mixed[language] = _merged(mixed.get(language), part, change, ("names", language), problems)
    return mixed


def _merged(before: Any, value: Any, change: Change, path: Path_, problems: list[Problem]) -> Any:
    """A whole field, or a list changed by `add` and `remove`."""
    if not (isinstance(value, dict) and value and set(value) <= {"add", "remove"}):
        return value
    entries = (
        [before]
        if isinstance(before, str)
        else list(before)
        if isinstance(before, (list, tuple))
        else []
        if before is None
        else None
    )
    if entries is None:
        what = f"`{path_text(path)}` is not a list, so nothing can be added to it"
        problems.append(change.problem("not-a-list", what, "Give the whole field.", path))
        return before
    for gone in _listed(value.get("remove")):
        if gone in entries:
            entries.remove(gone)
        else:
            what, remedy = f"'{shown(gone)}' is not in `{path_text(path)}`", "Remove what is there."
            nearest = nearest_names(str(gone), map(str, entries))
            problems.append(change.problem("unknown-row", what, remedy, path, nearest))
    return entries + [new for new in _listed(value.get("add")) if new not in entries]


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
