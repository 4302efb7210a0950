"""Words of later sets that the sets before them understand."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from ...documents.positions import Path_
from ...errors import Problem, shown
from ..names.index import folded
from ..names.owners import ALONE, SPOKEN, owner_of
from ..names.taken import Owner, Taken
from ..tables import Tables
from .gate_data import raises, reason_of
from .overlay import MergedSets
from .raw import Change, RawRow, RawSet, names_of

Before = Callable[[Sequence[RawSet]], Tables]

_NAMED_METHODS = frozenset({"plants", "forms", "states", "danger-words"})


def taken_words(laid: MergedSets, before: Before, problems: list[Problem]) -> tuple[Taken, ...]:
    """The words of the rows of later sets that belong to a set before them.

    A name that a set adds to another's row, or to how texts are read, and that is taken goes into
    `problems`: it cannot be left to a full name.
    """
    taken: list[Taken] = []
    for number, item in enumerate(laid.sets[1:], 1):
        rows = [row for kind in (*SPOKEN, *ALONE) for row in item.rows[kind].values()]
        changes = [change for change in item.changes if "names" in change.data]
        if rows or changes:
            tables = before(laid.sets[:number])
            for row in rows:
                taken += _of_row(tables, row)
                if row.kind == "methods" and row.data.get("kind") in _NAMED_METHODS:
                    _of_method(tables, row, problems)
            for change in changes:
                _of_change(tables, laid, change, problems)
    return tuple(taken)


def _of_row(tables: Tables, row: RawRow) -> Iterator[Taken]:
    dangers = not reason_of(row.data.get("loosens"))
    for word, path in _words(row):
        owner = owner_of(tables, row.kind, word, dangers)
        if owner is not None:
            place = row.document.place((*row.path, *path), key=not path)
            line, column = place if place else (None, None)
            where = (row.document.file, line, column)
            yield Taken(row.kind, row.row_id, word, not path, owner, *where)


def _words(row: RawRow) -> Iterator[tuple[str, Path_]]:
    """The key of a row and its names, with where each stands in it."""
    yield row.key.replace("-", " "), ()
    yield from _named(row.data.get("names"), ("names",))


def _named(names: Any, path: Path_) -> Iterator[tuple[str, Path_]]:
    if isinstance(names, str):
        yield names, path
    elif isinstance(names, dict):
        for key, inner in names.items():
            yield from _named(inner, (*path, key))
    elif isinstance(names, list):
        for index, inner in enumerate(names):
            yield from _named(inner, (*path, index))


def _of_method(tables: Tables, row: RawRow, problems: list[Problem]) -> None:
    """Names inside a row by which texts are read: danger words only may be danger words already."""
    raising = row.data.get("kind") == "danger-words"
    dangers = not raising and not reason_of(row.data.get("loosens"))
    of = row.data.get("of")
    for key, entry in of.items() if isinstance(of, dict) else ():
        for part in ("names", "words", "weak", "denied"):
            named = entry.get(part) if isinstance(entry, dict) else None
            for word, path in _named(named, ("of", key, part)):
                owner = owner_of(tables, "materials", word, dangers)
                if owner is not None:
                    what = f"'{shown(word)}' is taken: it is {owner}"
                    remedy = "Give another word, or leave it out."
                    problems.append(row.problem("taken-word", what, remedy, path))


def _of_change(tables: Tables, laid: MergedSets, change: Change, problems: list[Problem]) -> None:
    rows = laid.rows[change.kind]
    target = change.target if ":" in change.target else None
    ids = [target] if target else [i for i in rows if i.partition(":")[2] == change.target]
    if len(ids) != 1 or ids[0] not in rows:
        return
    row = rows[ids[0]]
    row_before = tables.rows[change.kind].get(row.row_id)
    names_before = (
        {folded(n) for names in row_before.names.values() for n in names} if row_before else set()
    )
    free = bool(reason_of(change.data.get("loosens"))) or raises(row, laid.rows)
    for name in names_of(row):
        if folded(name) in names_before or name not in _names_added(change):
            continue
        owner = owner_of(tables, change.kind, name, dangers=not free)
        if owner is not None and (owner.how, owner.row) != ("row", row.row_id):
            problems.append(_taken_name(change, row.row_id, name, owner))


def _names_added(change: Change) -> set[str]:
    return {word for word, _ in _named(change.data["names"], ())}


def _taken_name(change: Change, row_id: str, name: str, owner: Owner) -> Problem:
    what = f"'{shown(name)}' cannot be a name of {row_id}: it is {owner}"
    if owner.how == "danger":
        remedy = "Leave it out, or write loosens: {reason: ...}."
        return change.problem("undeclared-gate", what, remedy, ("names",))
    return change.problem("taken-word", what, "Leave it out.", ("names",))
