"""Finding a row by what a person calls it: key, name, alias or plural; case and hyphens do not
matter.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from functools import cached_property, lru_cache
from typing import Any

from ...errors import nearest_names
from .alike import FEW, Name, NameIndex
from .text import words_of


@lru_cache(maxsize=4096)
def folded(name: str) -> str:
    """A name as it is compared: lower case, single blanks, no hyphens or underscores."""
    return " ".join(
        name.replace("-", " ").replace("_", " ").replace("\u2019", "'").casefold().split()
    )


def singulars(name: str) -> Iterable[str]:
    """What a folded English plural may be the plural of; the name itself first."""
    yield name
    head, _, last = name.rpartition(" ")
    lead = f"{head} " if head else ""
    if len(last) > 3 and last.endswith("ies"):
        yield f"{lead}{last[:-3]}y"
    if len(last) > 4 and last.endswith("ves"):
        yield f"{lead}{last[:-3]}f"
        yield f"{lead}{last[:-3]}fe"
    if len(last) > 3 and last.endswith(("shes", "ches", "xes", "sses")):
        yield f"{lead}{last[:-2]}"
    if len(last) > 3 and last.endswith("s") and not last.endswith("ss"):
        yield f"{lead}{last[:-1]}"


def plurals(name: str) -> Iterable[str]:
    """What a folded English singular may be the singular of."""
    yield f"{name}s"
    yield f"{name}es"
    if name.endswith("y"):
        yield f"{name[:-1]}ies"
    if name.endswith("f"):
        yield f"{name[:-1]}ves"


_MOST_KEPT = 4096
"""So many answers are kept; words come from users, and there is no end to them."""


class _Names:
    """Names of the rows of one set: a key stands before a name."""

    def __init__(self) -> None:
        self.keys: dict[str, list[str]] = {}
        self.names: dict[str, list[str]] = {}

    @staticmethod
    def put(where: dict[str, list[str]], name: str, row_id: str) -> None:
        row_ids = where.setdefault(name, [])
        if row_id not in row_ids:
            row_ids.append(row_id)

    def find(self, asked: str) -> list[str]:
        for where in (self.keys, self.names):
            for form in (*singulars(asked), *plurals(asked)):
                if form in where:
                    return where[form]
        return []


class Index:
    """Names of the rows of one kind.

    The first set has its words for itself; several rows of later sets under one name, and several
    of one set, are all returned. A row in `hidden` goes by its names and its full name, not by its
    key. `offers` is for how many unknown names it says what they look like; None for all of them.
    """

    def __init__(
        self,
        rows: Mapping[str, Iterable[str]],
        hidden: Container[str] = frozenset(),
        offers: int | None = None,
    ) -> None:
        self._offers = offers
        self._alike: NameIndex | None = None
        self._sets: dict[str, _Names] = {}
        self._full: dict[str, list[str]] = {}
        self._shown: list[str] = []
        self._asked: dict[str, tuple[str, ...]] = {}
        for row_id, names in rows.items():
            set_name, _, key = row_id.partition(":")
            names_of_set = self._sets.setdefault(set_name, _Names())
            _Names.put(self._full, folded(row_id), row_id)
            if row_id not in hidden:
                _Names.put(names_of_set.keys, folded(key), row_id)
            names_of_row = list(names)
            for name in names_of_row:
                _Names.put(names_of_set.names, folded(name), row_id)
                self._shown.append(name)
            if not names_of_row and row_id not in hidden:
                self._shown.append(key.replace("-", " "))

    def parts(self) -> list[Any]:
        """What `of_parts` makes the same index of."""
        sets = {
            name: [names_of_set.keys, names_of_set.names]
            for name, names_of_set in self._sets.items()
        }
        return [sets, self._full, self._shown]

    @classmethod
    def of_parts(cls, parts: list[Any]) -> Index:
        """The index that gave these parts."""
        made = cls({})
        sets, made._full, made._shown = parts
        for name, (keys, names) in sets.items():
            names_of_set = made._sets[name] = _Names()
            names_of_set.keys, names_of_set.names = keys, names
        return made

    def with_rows(
        self, rows: Mapping[str, Iterable[str]], hidden: Container[str] = frozenset()
    ) -> Index:
        """The same with rows of other sets."""
        made = Index(rows, hidden)
        made._sets = {**self._sets, **made._sets}
        made._full = {**self._full, **made._full}
        made._shown = [*self._shown, *made._shown]
        return made

    @cached_property
    def spellings(self) -> frozenset[str]:
        """Every folded key and name; what is like none of them goes by no row."""
        spelt = [words for names in self._sets.values() for words in (names.keys, names.names)]
        return frozenset().union(self._full, *spelt)

    def find(self, name: str) -> list[str]:
        """The full names (`set:key`) of the rows that go by `name`; none, one, or several."""
        row_ids = self._asked.get(name)
        if row_ids is None:
            if len(self._asked) >= _MOST_KEPT:
                self._asked.clear()
            row_ids = self._asked[name] = tuple(self._look_up(name))
        return list(row_ids)

    def _look_up(self, name: str) -> list[str]:
        asked = folded(name)
        for form in (*singulars(asked), *plurals(asked)):
            if form in self._full:
                return self._full[form]
        rows_of_sets = [held.find(asked) for held in self._sets.values()]
        if rows_of_sets and rows_of_sets[0]:
            return rows_of_sets[0]
        return [row_id for rows in rows_of_sets for row_id in rows]

    def nearest(self, name: str) -> tuple[str, ...]:
        """Up to three names that look like `name`, or share a word with it where there are many."""
        if self._offers is not None:
            if self._offers <= 0:
                return ()
            self._offers -= 1
        if len(self._shown) <= FEW:
            return nearest_names(name, self._shown)
        if self._alike is None:
            self._alike = NameIndex(Name(shown, words_of(shown)) for shown in self._shown)
        return self._alike.nearest(name)

    @property
    def all_names(self) -> list[str]:
        return sorted(set(self._shown))
