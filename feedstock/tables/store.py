"""Tables that were read and checked before: rows, places, words and the rows as they were written
as lines of JSON, each taken apart when somebody asks for it.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from importlib import import_module
from typing import Any

from ..documents.positions import Path_
from ..quantities.cell import Cell
from ..quantities.frozen import Lazy
from ..quantities.sealed import SealedDict
from ..words import Texts
from .names.index import Index
from .names.language import Language
from .places import Where
from .rows.light import Light

FORMAT = 4
"""Raised when the shape of the lines changes."""

DIGITS = 8
"""Of a number that says where a line begins."""

# what the first entry of a list says of the rest
TUPLE, ROW, CELL, TEXTS, WORDS = range(5)


class Rows(Lazy[str, Any]):
    """Rows of one kind, whose classes are known before they are made."""

    __slots__ = ("_classes",)

    def __init__(
        self,
        given: Mapping[str, Any],
        make: Callable[[Any], Any],
        classes: Mapping[str, str],
    ) -> None:
        super().__init__(given, make)
        self._classes = classes

    def with_rows(self, rows: Mapping[str, Any]) -> Rows:
        """The same with other rows in their places, and new ones behind them."""
        classes = {row_id: class_name(type(row)) for row_id, row in rows.items()}
        given = {row_id: row_id for row_id in (*self, *rows)}
        made = Rows(given, self.__getitem__, {**self._classes, **classes})
        made._held.update(rows)
        return made

    def of(self, model: type) -> Iterator[tuple[str, Any]]:
        """The rows of one model, which no other builds on; none of the others is made."""
        name = class_name(model)
        return ((key, self[key]) for key, its in self._classes.items() if its == name)


def class_name(cls: type) -> str:
    """Under which name a class stands in the lines."""
    return f"{cls.__module__}:{cls.__qualname__}"


_decode = json.JSONDecoder().raw_decode


class Store:
    """The lines of one set. The first says what stands in which of the others, the second where in
    the content each of those begins.
    """

    def __init__(self, head: dict[str, Any], content: bytes, start: int) -> None:
        self.head, self._content, self._start = head, content, start
        self._cells: dict[int, Cell] = {}
        self._classes: list[tuple[type[Light], list[str]] | None]
        self._classes = [None] * len(head["classes"])

    @classmethod
    def read(cls, content: bytes, key: str) -> Store | None:
        """The store in the content of a file; None where it is of another key or another format,
        or is cut off.
        """
        start = content.find(b"\n") + 1
        try:
            head = json.loads(content[:start])
        except ValueError:
            return None
        expected = {"format": FORMAT, "key": key, "size": len(content) - start}
        if not isinstance(head, dict) or any(
            head.get(name) != value for name, value in expected.items()
        ):
            return None
        return cls(head, content, start)

    def line(self, number: int) -> Any:
        """One line, taken apart anew."""
        at = self._start + DIGITS * number
        digits = self._content[at : at + 2 * DIGITS]
        begin, end = int(digits[:DIGITS]), int(digits[DIGITS:])
        return _decode(self._content[self._start + begin : self._start + end - 1].decode())[0]

    def rows(self, kind: str) -> Rows:
        """The rows of a kind by full name."""
        numbered, names = self.head["rows"][kind], self.head["classes"]
        start = self.head["at"]["rows"][kind]
        given = {row_id: start + at for at, (row_id, _) in enumerate(numbered)}
        classes = {row_id: names[number][0] for row_id, number in numbered}
        return Rows(given, lambda number: self.value(self.line(number)), classes)

    def places(self, kind: str) -> Lazy[str, Mapping[Path_, Where]]:
        """The places of the fields of the rows of a kind."""
        start = self.head["at"]["places"][kind]
        given = {row_id: start + at for at, (row_id, _) in enumerate(self.head["rows"][kind])}
        return Lazy(given, lambda number: _places(self.line(number)))

    def raw(self, kind: str) -> dict[str, Callable[[], tuple[str, dict[str, Any]]]]:
        """What gives the file and the text of each row of a kind, by full name."""
        start = self.head["at"]["raw"][kind]
        names = (row_id for row_id, _ in self.head["rows"][kind])
        return {row_id: partial(self.line, start + at) for at, row_id in enumerate(names)}

    def index(self, kind: str) -> Index:
        """The names of a kind of row."""
        return Index.of_parts(self.line(self.head["at"]["index"][kind]))

    def language(self) -> Language:
        """The words by which texts are read."""
        start = self.head["at"]["language"]
        return Language.of_lines(lambda number: self.line(start + number), self.value)

    def value(self, plain: Any) -> Any:
        """What was written as plain JSON, as it was."""
        if type(plain) is list:
            return self._listed(plain)
        if type(plain) is dict:
            return SealedDict({key: self.value(item) for key, item in plain.items()})
        return plain

    def _values(self, plain: list[Any]) -> list[Any]:
        """Several; most of them stand for themselves."""
        value = self.value
        return [value(item) if type(item) in (list, dict) else item for item in plain]

    def _listed(self, plain: list[Any]) -> Any:
        tag = plain[0]
        if tag == WORDS:
            return tuple(plain[1:])
        if tag == CELL:
            return self._cell(plain[1])
        if tag == ROW:
            model, names = self._class(plain[1])
            row = object.__new__(model)
            row.__dict__.update(zip(names, self._values(plain[2:]), strict=True))
            return row
        if tag == TEXTS:
            return Texts(plain[1])
        return tuple(self._values(plain[1:]))

    def _cell(self, number: int) -> Cell:
        """A cell of its own line: many rows inherit it."""
        found = self._cells.get(number)
        if found is None:
            *numbers, text, basis, known, covers, source, at, note, ends = self.line(
                self.head["at"]["cells"] + number
            )
            words = [basis, known, covers, tuple(source), at, note, ends]
            made = Cell(*[*numbers, tuple(text), *words])
            found = self._cells.setdefault(number, made)
        return found

    def _class(self, number: int) -> tuple[type[Light], list[str]]:
        found = self._classes[number]
        if found is None:
            name, fields = self.head["classes"][number]
            module, _, cls = name.partition(":")
            model = getattr(import_module(module), cls)
            assert issubclass(model, Light)
            found = self._classes[number] = model, fields
        return found


def _places(plain: list[Any]) -> Mapping[Path_, Where]:
    words, rows = plain

    def where(place: list[int]) -> Where:
        by, file, line, column, row = place
        return Where(words[by], words[file], line, column, words[row])

    return Lazy({tuple(path): place for path, *place in rows}, where)
