"""Rows of a set as they were read, with their places."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, MutableMapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from ...documents.positions import Document, Path_, path_text
from ...errors import Problem
from ...quantities.frozen import frozen
from ..places import Where

KINDS = (
    "sources",
    "materials",
    "contaminants",
    "clears",
    "signs",
    "origins",
    "limits",
    "burners",
    "methods",
    "scales",
    "cautions",
)


TOP = ("set", *KINDS, "amend", "replace")


SET_PARTS = {
    "name": "The name of the set; a row's full name is this, a colon and its key.",
    "version": "Its version, numbers with points between (`1.2.0`); raise it with every change.",
    "schema": "The number of the shape that the files have.",
    "licence": "Under which licence its rows may be used and passed on.",
    "maintainer": "Who answers questions about it.",
    "description": "What is in it, in one line.",
    "after": "Sets behind which it is laid, where both change the same field.",
    "requires": "The least version of other sets that it needs, such as `reference 1.0.0`; one, "
    "or a list.",
}
"""What a set says of itself, and what each part means."""


MOST_ROWS = 200_000


@frozen
class Checked:
    """What comes of a row of text by itself, under these rules for ends: as it is built, before it
    inherits anything, with the paths and keys of the sources of its cells.
    """

    rules: Mapping[str, Any]
    row: Any
    cited: tuple[tuple[Path_, tuple[str, ...]], ...]
    places: Mapping[Path_, Where]


@dataclass(slots=True)
class RawRow:
    """A row as text.

    `origins` says for every top-level field in which file and under which path it stands; `checked`
    is kept for all sets that are laid over its own.
    """

    set: str
    kind: str
    key: str
    data: dict[str, Any]
    document: Document
    path: Path_
    origins: dict[str, tuple[str, Document, Path_]] = field(default_factory=dict)
    checked: Checked | None = field(default=None, init=False, repr=False, compare=False)

    @property
    def row_id(self) -> str:
        return f"{self.set}:{self.key}"

    def origin(self, name: str) -> tuple[str, Document, Path_]:
        """Set, file and path of one field."""
        return self.origins.get(name, (self.set, self.document, (*self.path, name)))

    def problem(
        self,
        code: str,
        what: str,
        expected: str,
        inner: Path_ = (),
        nearest: Iterable[str] = (),
        key: bool = False,
    ) -> Problem:
        document, path = self.document, (*self.path, *inner)
        if inner:
            _, document, start = self.origin(str(inner[0]))
            path = (*start, *inner[1:])
        place = document.place(path, key=key)
        line, column = place if place else (None, None)
        return Problem(
            code, what, expected, path_text(path), "", document.file, line, column, tuple(nearest)
        )


class RawRows(MutableMapping[str, RawRow]):
    """Rows that were read before, each made when somebody asks for it, and those put to them."""

    def __init__(self, given: Mapping[str, Callable[[], RawRow]]) -> None:
        self._rows: dict[str, RawRow | Callable[[], RawRow]] = dict(given)

    def __getitem__(self, name: str) -> RawRow:
        row = self._rows[name]
        if not isinstance(row, RawRow):
            row = self._rows[name] = row()
        return row

    def __setitem__(self, name: str, row: RawRow) -> None:
        self._rows[name] = row

    def __delitem__(self, name: str) -> None:
        del self._rows[name]

    def __contains__(self, name: object) -> bool:
        return name in self._rows

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def of(self, set_name: str) -> RawRows:
        """The same rows, which go by their keys, by their full names."""
        return RawRows({f"{set_name}:{key}": partial(self.__getitem__, key) for key in self})


def names_of(raw: RawRow) -> list[str]:
    """The names of a row that is still text."""
    names = raw.data.get("names")
    lists = names.values() if isinstance(names, dict) else ()
    return [
        name
        for item in lists
        for name in ([item] if isinstance(item, str) else item or ())
        if isinstance(name, str)
    ]


@dataclass(slots=True)
class Change:
    """What a set changes of a row of another set, by `amend` (some fields) or `replace` (the whole
    row).
    """

    set: str
    kind: str
    target: str
    data: dict[str, Any]
    document: Document
    path: Path_
    replaces: bool

    def problem(
        self, code: str, what: str, expected: str, inner: Path_ = (), nearest: Iterable[str] = ()
    ) -> Problem:
        place = self.document.place((*self.path, *inner), key=not inner)
        line, column = place if place else (None, None)
        return Problem(
            code,
            what,
            expected,
            path_text((*self.path, *inner)),
            "",
            self.document.file,
            line,
            column,
            tuple(nearest),
        )


@frozen
class Needed:
    """A set that another one needs, in this version or a later one."""

    name: str
    least: str
    document: Document

    def problem(self, what: str, expected: str) -> Problem:
        line, column = self.document.place(("set", "requires"), key=True) or (None, None)
        file = self.document.file
        return Problem("requires", what, expected, "set.requires", "", file, line, column)


@dataclass(slots=True)
class RawSet:
    """One set, before anything is checked but its outer shape."""

    name: str
    version: str
    licence: str = ""
    maintainer: str = ""
    description: str = ""
    after: tuple[str, ...] = ()
    distribution: str = ""
    requires: tuple[Needed, ...] = ()
    rows: dict[str, MutableMapping[str, RawRow]] = field(
        default_factory=lambda: {kind: {} for kind in KINDS}
    )
    changes: list[Change] = field(default_factory=list)
    files: int = 0
    digest: str = ""
