"""Reads a table set: its rows, changes and sources with their places."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import PurePath
from typing import Any

from ...documents.positions import Located, Path_, path_text
from ...errors import Problem, TableError, nearest_names, shown
from ..rows.row import SCHEMA
from .migrate import STEPS, migrated
from .raw import KINDS, MOST_ROWS, SET_FIELDS, TOP, Change, RawRow, RawSet
from .source import TableSource


def read_set(source: TableSource) -> RawSet:
    """The set of a source. Raises TableError with every problem of its outer shape."""
    problems: list[Problem] = []
    found = read_what_can_be_read(source, problems)
    if problems:
        raise TableError(problems)
    return found


def read_what_can_be_read(source: TableSource, problems: list[Problem]) -> RawSet:
    """As `read_set`, but what is wrong goes into `problems` and the rest is kept, so that a checker
    can go on.
    """
    documents = migrated(list(source.documents(problems)))
    about = [d for d in documents if isinstance(d.data, dict) and "set" in d.data]
    found = _about(about, source, problems)
    for document in documents:
        _take(found, document, problems)
    found.files = len(documents)
    if sum(len(rows) for rows in found.rows.values()) > MOST_ROWS:
        problems.append(
            Problem(
                "too-many",
                f"the set has more than {MOST_ROWS} rows",
                "Split it.",
                file=source.label,
            )
        )
    return found


def _about(documents: list[Located], source: TableSource, problems: list[Problem]) -> RawSet:
    """The set's own description; a set without one goes by the name of its file or folder."""
    default = PurePath(source.label.replace("\\", "/")).stem.replace(" ", "-") or "given"
    if not documents:
        return RawSet(default, "0", distribution=source.distribution)
    first, *others = documents
    for other in others:
        problems.append(
            _at(
                other,
                ("set",),
                "duplicate-key",
                f"the set describes itself a second time (first in {first.file})",
                "Keep one `set`.",
            )
        )
    data = first.data["set"]
    if not isinstance(data, dict):
        problems.append(
            _at(
                first,
                ("set",),
                "not-a-mapping",
                "`set` is not a mapping",
                "Write name, version and schema under it.",
            )
        )
        return RawSet(default, "0", distribution=source.distribution)
    for key, value in data.items():
        if key not in SET_FIELDS:
            problems.append(
                _at(
                    first,
                    ("set", key),
                    "unknown-field",
                    f"'{shown(key)}' is not a field of a set",
                    f"Fields: {', '.join(SET_FIELDS)}.",
                    nearest_names(key, SET_FIELDS),
                    key=True,
                )
            )
        elif key == "after":
            if not (
                isinstance(value, str)
                or isinstance(value, list)
                and all(isinstance(v, str) for v in value)
            ):
                problems.append(
                    _at(
                        first,
                        ("set", key),
                        "not-a-list",
                        "`after` is not a list of names of sets",
                        "Write after: [other-set].",
                    )
                )
        elif not isinstance(value, str):
            problems.append(
                _at(first, ("set", key), "not-text", f"`{key}` is not text", "Write plain text.")
            )
    _check_schema(first, data.get("schema"), problems)
    name = data.get("name")
    if not isinstance(name, str) or not name.strip() or ":" in name:
        problems.append(
            _at(
                first,
                ("set",),
                "missing-field",
                "the set has no name, or one with a colon",
                "Write name: a-short-name.",
            )
        )
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
    )


def _check_schema(document: Located, value: Any, problems: list[Problem]) -> None:
    path: Path_ = ("set", "schema")
    if value is None:
        problems.append(
            _at(
                document,
                ("set",),
                "missing-field",
                "the set does not say which schema it follows",
                f"Write schema: {SCHEMA}.",
            )
        )
    elif not (isinstance(value, str) and value.isdigit() and len(value) < 6):
        problems.append(
            _at(
                document,
                path,
                "schema",
                f"'{shown(value)}' is not a schema number",
                f"Write schema: {SCHEMA}.",
            )
        )
    elif int(value) > SCHEMA:
        problems.append(
            _at(
                document,
                path,
                "schema",
                f"the set follows schema {value}; this version reads up to {SCHEMA}",
                "Upgrade feedstock, or use an older release of the set.",
            )
        )
    elif int(value) not in STEPS and int(value) < SCHEMA:
        problems.append(
            _at(document, path, "schema", f"there is no schema {value}", f"Write schema: {SCHEMA}.")
        )


def _at(
    document: Located,
    path: Path_,
    code: str,
    what: str,
    expected: str,
    nearest: Iterable[str] = (),
    key: bool = False,
) -> Problem:
    place = document.place(path, key=key)
    line, column = place if place else (None, None)
    return Problem(
        code, what, expected, path_text(path), "", document.file, line, column, tuple(nearest)
    )


def _take(found: RawSet, document: Located, problems: list[Problem]) -> None:
    if not isinstance(document.data, dict):
        problems.append(
            _at(
                document,
                (),
                "not-a-mapping",
                "a table file is a mapping",
                f"Write any of {', '.join(TOP)} at the left margin.",
            )
        )
        return
    for top, content in document.data.items():
        if top not in TOP:
            problems.append(
                _at(
                    document,
                    (top,),
                    "unknown-field",
                    f"'{shown(top)}' is not a part of a table file",
                    f"Parts: {', '.join(TOP)}.",
                    nearest_names(top, TOP),
                    key=True,
                )
            )
        elif top in KINDS:
            _take_rows(found, document, top, content, problems)
        elif top in ("amend", "replace"):
            _take_changes(found, document, top, content, problems)


def _take_rows(
    found: RawSet, document: Located, kind: str, content: Any, problems: list[Problem]
) -> None:
    if content is None:
        return
    if not isinstance(content, dict):
        problems.append(
            _at(
                document,
                (kind,),
                "not-a-mapping",
                f"`{kind}` is not a mapping of rows",
                "Write a key for each row, and its fields under it.",
            )
        )
        return
    for key, data in content.items():
        path: Path_ = (kind, key)
        if key != key.strip().lower() or " " in key or ":" in key:
            problems.append(
                _at(
                    document,
                    path,
                    "key",
                    f"the key '{shown(key)}' is not in the usual form",
                    f"Write {key.strip().lower().replace(' ', '-').replace(':', '-')}.",
                    key=True,
                )
            )
        elif not isinstance(data, dict):
            problems.append(
                _at(
                    document,
                    path,
                    "not-a-mapping",
                    f"the row '{shown(key)}' has no fields",
                    "Write its fields under it.",
                )
            )
        elif key in found.rows[kind]:
            other = found.rows[kind][key]
            place = other.located.place(other.path, key=True)
            problems.append(
                _at(
                    document,
                    path,
                    "duplicate-key",
                    f"'{key}' stands a second time (first in "
                    f"{other.located.file}:{place[0] if place else '?'})",
                    "Keep one of the two.",
                    key=True,
                )
            )
        else:
            found.rows[kind][key] = RawRow(found.name, kind, key, data, document, path)


def _take_changes(
    found: RawSet, document: Located, word: str, content: Any, problems: list[Problem]
) -> None:
    if not isinstance(content, dict):
        problems.append(
            _at(
                document,
                (word,),
                "not-a-mapping",
                f"`{word}` is not a mapping",
                f"Write {word}: materials: set:key: field: ...",
            )
        )
        return
    for kind, rows in content.items():
        if kind not in KINDS or not isinstance(rows, dict):
            problems.append(
                _at(
                    document,
                    (word, kind),
                    "unknown-field",
                    f"'{shown(kind)}' is not a kind of row",
                    f"Kinds: {', '.join(KINDS)}.",
                    nearest_names(kind, KINDS),
                    key=True,
                )
            )
            continue
        for target, data in rows.items():
            if not isinstance(data, dict):
                problems.append(
                    _at(
                        document,
                        (word, kind, target),
                        "not-a-mapping",
                        f"the change of '{shown(target)}' has no fields",
                        "Write the fields under it.",
                    )
                )
            else:
                found.changes.append(
                    Change(
                        found.name,
                        kind,
                        target,
                        data,
                        document,
                        (word, kind, target),
                        word == "replace",
                    )
                )
