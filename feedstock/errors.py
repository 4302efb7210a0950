"""What can be wrong with what was given, and how it is said.

One `Problem` is one place and one remedy. Every door of the library (`read`, `appraise`,
`load_tables`, the command line ...) collects all problems of an input and raises them together.
"""

from __future__ import annotations

import difflib
import os
import re
import reprlib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice
from typing import Any

MOST_PROBLEMS = 50
"""A broken file of ten thousand lines is not helped by ten thousand messages."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, where it stands and what would be right.

    `line` and `column` count from 1 and are None where the input is not a file. `nearest` holds up
    to three names that were probably meant.
    """

    code: str
    what: str
    expected: str
    field: str = ""
    given: str = ""
    file: str | None = None
    line: int | None = None
    column: int | None = None
    nearest: tuple[str, ...] = ()

    @property
    def path(self) -> tuple[str | int, ...]:
        """The field as its parts: `lots[0].mass` is `("lots", 0, "mass")`."""
        return parsed_path(self.field)

    @property
    def place(self) -> str:
        """`file:line:column`, as far as it is known."""
        parts = [self.file or ""]
        if self.line is not None:
            parts.append(str(self.line))
            if self.column is not None:
                parts.append(str(self.column))
        return ":".join(parts) if self.file else ""

    def __str__(self) -> str:
        head = ": ".join(part for part in (self.place, self.field) if part)
        text = f"{self.what}. {self.expected}" if self.expected else self.what
        if self.nearest:
            text += f" Nearest: {', '.join(self.nearest)}."
        return without_controls(f"{head}: {text}" if head else text)


class FeedstockError(ValueError):
    """The input or a table is wrong.

    `problems` holds every `Problem` found, at most 50; `left_out` counts the rest.
    """

    def __init__(self, problems: Iterable[Problem], left_out: int = 0) -> None:
        all_problems = list(problems)
        self.left_out = left_out + max(0, len(all_problems) - MOST_PROBLEMS)
        self.problems: tuple[Problem, ...] = tuple(all_problems[:MOST_PROBLEMS])
        super().__init__(self._text())

    def _text(self) -> str:
        lines = [str(problem) for problem in self.problems]
        if self.left_out:
            lines.append(f"and {self.left_out} more of the kind")
        return "\n".join(lines)

    def __reduce__(self) -> tuple[type[FeedstockError], tuple[tuple[Problem, ...], int]]:
        return type(self), (self.problems, self.left_out)


class InputError(FeedstockError):
    """A heap, a burn, a job or a record is wrong."""


class TableError(FeedstockError):
    """A table, or the package that brings it, is wrong."""


class UnknownName(InputError):
    """A material, sign, origin, burner or other name is in none of the tables in use."""


_EXTRAS = {"columns": "numpy and pyarrow", "sheet": "jinja2"}
"""What an extra brings."""


def missing_extra(extra: str, field: str = "") -> Problem:
    """What is to be said where a library that an extra brings is not installed."""
    return Problem(
        "missing-extra",
        f"this needs {_EXTRAS[extra]}, of the extra '{extra}', which is not installed",
        f"Install it in the checkout: pip install '.[{extra}]'.",
        field,
    )


def nearest_names(name: str, names: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Up to `most` of the known names that look like `name`, best first; case does not count."""
    by_folded: dict[str, str] = {}
    for item in names:
        by_folded.setdefault(item.casefold(), item)
    matches = difflib.get_close_matches(name.casefold()[:80], list(by_folded), n=most, cutoff=0.5)
    return tuple(by_folded[item] for item in matches)


def parsed_path(text: str) -> tuple[str | int, ...]:
    """`lots[0].pieces.length` as `("lots", 0, "pieces", "length")`."""
    return tuple(int(part) if part.isdigit() else part for part in re.findall(r"[^.\[\]]+", text))


def shown(value: object, limit: int = 60) -> str:
    """A value as it may stand in a message: short, on one line, without control characters."""
    if isinstance(value, str):
        text = value
    elif isinstance(value, (dict, list, tuple)):
        text = reprlib.repr(value)
    else:
        text = repr(value)[: limit * 4]
    clean = "".join(c if c.isprintable() else "?" for c in text[: limit + 1])
    return clean if len(clean) <= limit else clean[: limit - 3] + "..."


def moves_a_screen(sign: str) -> bool:
    """Whether a sign does something to a terminal or a line instead of standing in it: control
    characters and escapes, breaks of lines and paragraphs, and what turns the direction of text.
    """
    return unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp") or sign in _DIRECTIONS


def without_controls(text: str, keep: str = "") -> str:
    """A text with a question mark for every sign that moves a screen, save some."""
    if text.isascii() and text.isprintable():
        return text
    return "".join("?" if moves_a_screen(c) and c not in keep else c for c in text)


_DIRECTIONS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def counted(values: Iterable[Any], most: int, field: str) -> list[Any]:
    """Some values as a list. Raises InputError where there are more than may be, as many as there
    are: what has no end is not read to it.
    """
    listed = list(islice(values, most + 1))
    if len(listed) > most:
        raise InputError([Problem("too-many", f"there are more than {most}", "Split them.", field)])
    return listed


def file_name(path: str | os.PathLike[str]) -> str:
    """The path as the user wrote it, for messages."""
    return os.fspath(path)
