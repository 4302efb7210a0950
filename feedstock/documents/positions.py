"""A document's data with the line and column of every value."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field
from typing import Any

from ..errors import Problem
from ..quantities.frozen import frozen, record

Path_ = tuple[str | int, ...]


Place = tuple[int, int]


@record
class Document:
    """Plain data (dicts, lists, text, None) and where each part of it stands: path -> (line,
    column), from 1.

    `keys` holds the place of the key where `places` holds that of the value.
    """

    data: Any
    file: str
    places: dict[Path_, Place] = field(default_factory=dict)
    keys: dict[Path_, Place] = field(default_factory=dict)

    def place(self, path: Path_, key: bool = False) -> Place | None:
        """The place of a path, or of the nearest part around it that has one."""
        while True:
            if key and path in self.keys:
                return self.keys[path]
            if path in self.places:
                return self.places[path]
            if not path:
                return None
            path = path[:-1]


def path_text(path: Iterable[str | int]) -> str:
    """`("lots", 0, "mass")` as `lots[0].mass`."""
    text = ""
    for part in path:
        text += f"[{part}]" if isinstance(part, int) else f".{part}" if text else str(part)
    return text


@frozen
class Reports:
    """Collects problems of one document, each with the line of its path.

    >>> found: list[Problem] = []
    >>> report = Reports(Document({"set": {}}, "t.yaml", {("set",): (3, 1)}), found)
    >>> report(("set",), "missing-field", "the set has no name", "Write name: a-short-name.")
    >>> print(found[0])
    t.yaml:3:1: set: the set has no name. Write name: a-short-name.
    """

    document: Document
    problems: list[Problem]

    def __call__(
        self,
        path: Path_,
        code: str,
        what: str,
        remedy: str,
        nearest: Iterable[str] = (),
        key: bool = False,
    ) -> None:
        """Add a problem at a path; `key` points at the name of the field instead of its value."""
        file, place = self.document.file, self.document.place(path, key=key)
        line, column = place if place else (None, None)
        problem = Problem(
            code, what, remedy, path_text(path), "", file, line, column, tuple(nearest)
        )
        self.problems.append(problem)
