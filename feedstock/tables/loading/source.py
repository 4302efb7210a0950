"""Where a table set comes from.

One type serves the reference tables, installed packages, folders, files and dicts.
"""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Iterator, Mapping
from dataclasses import field
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ...documents.encoding import MOST_TABLE_BYTES, decode
from ...documents.positions import Document
from ...errors import InputError, Problem, TableError
from ...quantities.frozen import frozen
from .kept import INSIDE, reference_folder

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

MOST_FILES = 2000
MOST_ENTRIES = 5000
"""Files and folders of a set: a home that was meant for one is not walked to its end."""


@frozen
class TableSource:
    """A folder or a file (anything traversable), or the same shape as a dict; `label` stands before
    file names in messages.
    """

    root: Traversable | None
    label: str = ""
    given: Mapping[str, Any] | None = field(default=None, hash=False, compare=False)
    distribution: str = ""

    @classmethod
    def of(
        cls, what: str | os.PathLike[str] | Mapping[str, Any] | Traversable, distribution: str = ""
    ) -> TableSource:
        """A source for a path, a dict or a traversable.

        Raises TableError for a path that is not there.
        """
        if isinstance(what, Mapping):
            return cls(None, "given tables", what, distribution)
        if isinstance(what, (str, os.PathLike)):
            path = Path(what)
            _check_place(path)
            return cls(path, os.fspath(path), None, distribution)
        return cls(what, distribution or what.name, None, distribution)

    def documents(self, problems: list[Problem]) -> Iterator[Document]:
        """The contents of every file that can be read, in the order of their names; what is
        wrong goes into `problems`.
        """
        if self.given is not None:
            yield Document(_text_tree(self.given, (), 0), self.label)
            return
        assert self.root is not None
        from ...documents.yaml_reader import read_yaml  # only where files are read

        count = 0
        for name, yaml_file in sorted(_yaml_files(self.root, self.label, problems)):
            count += 1
            try:
                yield read_yaml(decode(_bytes(yaml_file, name), name, MOST_TABLE_BYTES), name)
            except InputError as why:
                problems.extend(why.problems)
        if not count and not problems:
            problems.append(
                Problem(
                    "empty",
                    "there is no .yaml file here",
                    "Give a folder with table files.",
                    file=self.label,
                )
            )


def _check_place(path: Path) -> None:
    """That a file or a folder stands there. Raises TableError."""
    wrong = ""
    try:
        mode = path.stat().st_mode
        if not (stat.S_ISREG(mode) or stat.S_ISDIR(mode)):
            wrong = "this is a pipe or a device"
    except FileNotFoundError:
        wrong = "there is no such file or folder"
    except (OSError, ValueError) as why:
        wrong = f"this cannot be read ({getattr(why, 'strerror', None) or why})"
    if wrong:
        remedy = "Give the path of a table file or of a folder of them."
        raise TableError([Problem("missing", wrong, remedy, file=os.fspath(path))])


def _entries(folder: Traversable, name: str, problems: list[Problem]) -> list[Traversable]:
    """What lies in a folder; none where it cannot be looked at."""
    try:
        return list(islice(folder.iterdir(), MOST_ENTRIES + 1))
    except OSError as why:
        what = f"the folder cannot be read ({why.strerror})"
        problems.append(Problem("unreadable", what, "Give a folder that may be read.", file=name))
        return []


def _bytes(file: Traversable, name: str) -> bytes:
    try:
        with file.open("rb") as stream:
            return stream.read(MOST_TABLE_BYTES + 1)
    except OSError as why:
        raise InputError(
            [
                Problem(
                    "unreadable",
                    f"the file cannot be read ({why.strerror})",
                    "Give a file that may be read.",
                    file=name,
                )
            ]
        ) from None


def _yaml_files(
    root: Traversable, label: str, problems: list[Problem]
) -> Iterator[tuple[str, Traversable]]:
    if root.is_file():
        yield label, root
        return
    top = Path(str(root)).resolve() if isinstance(root, Path) else None
    waiting = [(label, root)]
    count = entries = 0
    while waiting:
        name, folder = waiting.pop()
        for entry in _entries(folder, name, problems):
            entries += 1
            if entries > MOST_ENTRIES:
                what = f"there are more than {MOST_ENTRIES} files and folders here"
                remedy = "Give the folder of the tables alone."
                problems.append(Problem("too-many", what, remedy, file=label))
                return
            here = f"{name}/{entry.name}"
            if entry.name.startswith((".", "__")):
                continue
            if (
                top is not None
                and isinstance(entry, Path)
                and not entry.resolve().is_relative_to(top)
            ):
                problems.append(
                    Problem(
                        "outside",
                        "this link leads out of the set",
                        "Put the file itself here.",
                        file=here,
                    )
                )
            elif entry.is_dir():
                waiting.append((here, entry))
            elif entry.name.endswith((".yaml", ".yml")):
                count += 1
                if count > MOST_FILES:
                    problems.append(
                        Problem(
                            "too-many",
                            f"there are more than {MOST_FILES} files",
                            "Join them, or give a smaller folder.",
                            file=label,
                        )
                    )
                    return
                yield here, entry


def _text_tree(value: Any, path: tuple[str | int, ...], depth: int) -> Any:
    """A dict of an application in the shape in which the reader leaves a file: scalars as text."""
    if depth > 20:
        raise TableError(
            [
                Problem(
                    "depth",
                    "the given tables are nested more than 20 deep",
                    "Give a flatter mapping.",
                )
            ]
        )
    if isinstance(value, Mapping):
        for key in value:
            if not isinstance(key, str):
                raise TableError(
                    [
                        Problem(
                            "key",
                            f"the key {key!r} is not text",
                            "Give text keys.",
                            ".".join(map(str, path)),
                        )
                    ]
                )
        return {k: _text_tree(v, (*path, k), depth + 1) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [_text_tree(v, (*path, i), depth + 1) for i, v in enumerate(value)]
    if value is None or isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return json.dumps(value)
    raise TableError(
        [
            Problem(
                "not-text",
                f"a {type(value).__name__} stands in the given tables",
                "Give text, numbers, lists and mappings.",
                ".".join(map(str, path)),
            )
        ]
    )


def reference_source() -> TableSource:
    """The tables that come with the library: in an installed one inside the package, in a checkout
    beside it.
    """
    place = reference_folder()
    if place is not None:
        return TableSource(place[0], "tables")
    raise TableError(
        [
            Problem(
                "missing",
                "the reference tables are not where they should be",
                "Install feedstock again.",
                file=INSIDE,
            )
        ]
    )


Given = str | os.PathLike[str] | Mapping[str, Any] | TableSource
"""What is taken as a set: a path, a dict of the same shape, or a source."""
