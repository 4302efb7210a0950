"""Reads a table set: its rows, changes and sources with their places."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePath
from typing import Any

from ...documents.positions import Document, Path_, Reports
from ...errors import Problem, TableError, nearest_names, shown
from ..rows.row import SCHEMA
from .migrate import STEPS, migrated
from .raw import KINDS, MOST_ROWS, SET_PARTS, TOP, Change, RawRow, RawSet
from .source import TableSource
from .versions import needed_sets


def read_set(source: TableSource) -> RawSet:
    """The set of a source. Raises TableError with every problem of its outer shape."""
    problems: list[Problem] = []
    raw_set = read_what_can_be_read(source, problems)
    if problems:
        raise TableError(problems)
    return raw_set


def read_what_can_be_read(source: TableSource, problems: list[Problem]) -> RawSet:
    """As `read_set`, but what is wrong goes into `problems` and the rest is kept, so that a checker
    can go on.
    """
    documents = migrated(list(source.documents(problems)))
    about = [d for d in documents if isinstance(d.data, dict) and "set" in d.data]
    raw_set = _about(about, source, problems)
    for document in documents:
        _take(raw_set, document, problems)
    raw_set.files = len(documents)
    if sum(len(rows) for rows in raw_set.rows.values()) > MOST_ROWS:
        problems.append(
            Problem(
                "too-many",
                f"the set has more than {MOST_ROWS} rows",
                "Split it.",
                file=source.label,
            )
        )
    return raw_set


def _about(documents: list[Document], source: TableSource, problems: list[Problem]) -> RawSet:
    """The set's own description; a set without one goes by the name of its file or folder."""
    default = PurePath(source.label.replace("\\", "/")).stem.replace(" ", "-") or "given"
    if not documents:
        return RawSet(default, "0", distribution=source.distribution)
    first, *others = documents
    for other in others:
        what = f"the set describes itself a second time (first in {first.file})"
        Reports(other, problems)(("set",), "duplicate-key", what, "Keep one `set`.")
    report, data = Reports(first, problems), first.data["set"]
    if not isinstance(data, dict):
        remedy = "Write name, version and schema under it."
        report(("set",), "not-a-mapping", "`set` is not a mapping", remedy)
        return RawSet(default, "0", distribution=source.distribution)
    _check_fields(data, report)
    _check_schema(data.get("schema"), report)
    name = data.get("name")
    if not isinstance(name, str) or not name.strip() or ":" in name:
        what = "the set has no name, or one with a colon"
        report(("set",), "missing-field", what, "Write name: a-short-name.")
        name = default
    after = data.get("after", ())
    text = {k: v for k, v in data.items() if isinstance(v, str)}
    return RawSet(
        name,
        text.get("version", "0"),
        text.get("licence", ""),
        text.get("maintainer", ""),
        text.get("description", ""),
        (after,) if isinstance(after, str) else tuple(a for a in after if isinstance(a, str)),
        source.distribution,
        needed_sets(data.get("requires"), first, report),
    )


def _check_fields(data: Mapping[str, Any], report: Reports) -> None:
    for key, value in data.items():
        path = ("set", key)
        if key not in SET_PARTS:
            what, remedy = f"'{shown(key)}' is not a field of a set", ", ".join(SET_PARTS)
            nearest = nearest_names(key, SET_PARTS)
            report(path, "unknown-field", what, f"Fields: {remedy}.", nearest, key=True)
        elif key == "after":
            texts = value if isinstance(value, list) else [value]
            if not all(isinstance(text, str) for text in texts):
                what = "`after` is not a list of names of sets"
                report(path, "not-a-list", what, "Write after: [other-set].")
        elif key != "requires" and not isinstance(value, str):
            report(path, "not-text", f"`{key}` is not text", "Write plain text.")


def _check_schema(value: Any, report: Reports) -> None:
    path, code, remedy = ("set", "schema"), "schema", f"Write schema: {SCHEMA}."
    if value is None:
        what = "the set does not say which schema it follows"
        report(("set",), "missing-field", what, remedy)
    elif not (isinstance(value, str) and value.isdigit() and len(value) < 6):
        report(path, code, f"'{shown(value)}' is not a schema number", remedy)
    elif int(value) > SCHEMA:
        what = f"the set follows schema {value}; this version reads up to {SCHEMA}"
        report(path, code, what, "Upgrade feedstock, or use an older release of the set.")
    elif int(value) not in STEPS and int(value) < SCHEMA:
        report(path, code, f"there is no schema {value}", remedy)


def _take(raw_set: RawSet, document: Document, problems: list[Problem]) -> None:
    report = Reports(document, problems)
    if not isinstance(document.data, dict):
        remedy = f"Write any of {', '.join(TOP)} at the left margin."
        report((), "not-a-mapping", "a table file is a mapping", remedy)
        return
    for top, content in document.data.items():
        if top not in TOP:
            what, remedy = f"'{shown(top)}' is not a part of a table file", ", ".join(TOP)
            nearest = nearest_names(top, TOP)
            report((top,), "unknown-field", what, f"Parts: {remedy}.", nearest, key=True)
        elif top in KINDS:
            _take_rows(raw_set, top, content, report)
        elif top in ("amend", "replace"):
            _take_changes(raw_set, top, content, report)


def _take_rows(raw_set: RawSet, kind: str, content: Any, report: Reports) -> None:
    if content is None:
        return
    if not isinstance(content, dict):
        remedy = "Write a key for each row, and its fields under it."
        report((kind,), "not-a-mapping", f"`{kind}` is not a mapping of rows", remedy)
        return
    for key, data in content.items():
        path: Path_ = (kind, key)
        if key != key.strip().lower() or " " in key or ":" in key:
            what = f"the key '{shown(key)}' is not in the usual form"
            remedy = f"Write {key.strip().lower().replace(' ', '-').replace(':', '-')}."
            report(path, "key", what, remedy, key=True)
        elif not isinstance(data, dict):
            what = f"the row '{shown(key)}' has no fields"
            report(path, "not-a-mapping", what, "Write its fields under it.")
        elif key in raw_set.rows[kind]:
            other = raw_set.rows[kind][key]
            place = other.document.place(other.path, key=True)
            where = f"{other.document.file}:{place[0] if place else '?'}"
            what = f"'{key}' stands a second time (first in {where})"
            report(path, "duplicate-key", what, "Keep one of the two.", key=True)
        else:
            raw_set.rows[kind][key] = RawRow(raw_set.name, kind, key, data, report.document, path)


def _take_changes(raw_set: RawSet, word: str, content: Any, report: Reports) -> None:
    if not isinstance(content, dict):
        remedy = f"Write {word}: materials: set:key: field: ..."
        report((word,), "not-a-mapping", f"`{word}` is not a mapping", remedy)
        return
    for kind, rows in content.items():
        if kind not in KINDS or not isinstance(rows, dict):
            what, remedy = f"'{shown(kind)}' is not a kind of row", ", ".join(KINDS)
            nearest = nearest_names(kind, KINDS)
            report((word, kind), "unknown-field", what, f"Kinds: {remedy}.", nearest, key=True)
            continue
        for target, data in rows.items():
            path = (word, kind, target)
            if not isinstance(data, dict):
                what = f"the change of '{shown(target)}' has no fields"
                report(path, "not-a-mapping", what, "Write the fields under it.")
                continue
            whole = word == "replace"
            change = Change(raw_set.name, kind, target, data, report.document, path, whole)
            raw_set.changes.append(change)
