"""What a material is like: its own set is asked first, then the first set, then all."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...errors import MOST_PROBLEMS
from ..names.index import Index
from .raw import RawRow, names_of

_DEEPEST = 8


class Likes:
    """Materials by name, each set by itself and all together."""

    def __init__(self, rows: Mapping[str, RawRow], names: Index | None = None) -> None:
        """`names` are those of the first set, where they are sorted already."""
        self._rows = rows
        self._first = next(iter(rows), "").partition(":")[0]
        self._of: dict[str, Index] = {} if names is None else {self._first: names}

    def _index(self, of: str) -> Index:
        """The names of one set; of all sets, where none is named."""
        if of not in self._of:
            self._of[of] = Index(
                {i: names_of(raw) for i, raw in self._rows.items() if not of or raw.set == of},
                offers=MOST_PROBLEMS,
            )
        return self._of[of]

    def find(self, name: str, of: RawRow) -> list[str]:
        """The full names of what `like: name` of a row may mean; a row is never meant by itself
        where another set has one of that name.
        """
        row_ids: list[str] = []
        for set_name in (of.set, self._first, ""):
            row_ids = self._index(set_name).find(name)
            if row_ids and row_ids != [of.row_id]:
                return row_ids
        return row_ids

    def nearest(self, name: str) -> tuple[str, ...]:
        """Up to three names that look like `name`."""
        return self._index("").nearest(name)

    def inherited(self, row: RawRow, name: str) -> Any:
        """A field of a row of text with what comes through `like`; parts of a mapping and what is
        carried add up.
        """
        value = row.data.get(name)
        for _ in range(_DEEPEST):
            like = row.data.get("like")
            above = self.find(like, row) if isinstance(like, str) else []
            if len(above) != 1 or above[0] == row.row_id:
                break
            row = self._rows[above[0]]
            inherited = row.data.get(name)
            if isinstance(inherited, dict) and isinstance(value, dict):
                value = {**inherited, **value}
            elif name == "carries":
                value = [*_listed(value), *_listed(inherited)]
            elif value in (None, [], ""):
                value = inherited
        return value


def _listed(value: Any) -> list[Any]:
    return [] if value is None else list(value) if isinstance(value, list) else [value]
