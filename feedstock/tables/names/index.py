"""Finding a row by what a person calls it: key, name, alias or plural; case and hyphens do not
matter.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ...errors import nearest_names


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


class Index:
    """Names of the rows of one kind.

    A key stands before a name; several rows under one name are all returned.
    """

    def __init__(self, rows: Mapping[str, Iterable[str]]) -> None:
        self._keys: dict[str, list[str]] = {}
        self._names: dict[str, list[str]] = {}
        self._shown: list[str] = []
        self._asked: dict[str, tuple[str, ...]] = {}
        for row_id, names in rows.items():
            key = row_id.partition(":")[2]
            self._put(self._keys, folded(key), row_id)
            self._put(self._keys, folded(row_id), row_id)
            for name in names:
                self._put(self._names, folded(name), row_id)
                self._shown.append(name)
            if not list(names):
                self._shown.append(key.replace("-", " "))

    @staticmethod
    def _put(where: dict[str, list[str]], name: str, row_id: str) -> None:
        held = where.setdefault(name, [])
        if row_id not in held:
            held.append(row_id)

    def find(self, name: str) -> list[str]:
        """The full names (`set:key`) of the rows that go by `name`; none, one, or several."""
        known = self._asked.get(name)
        if known is None:
            if len(self._asked) >= _MOST_KEPT:
                self._asked.clear()
            known = self._asked[name] = tuple(self._look_up(name))
        return list(known)

    def _look_up(self, name: str) -> list[str]:
        asked = folded(name)
        for where in (self._keys, self._names):
            for form in (*singulars(asked), *plurals(asked)):
                if form in where:
                    return list(where[form])
        return []

    def nearest(self, name: str) -> tuple[str, ...]:
        """Up to three names that look like `name`."""
        return nearest_names(name, self._shown)

    @property
    def all_names(self) -> list[str]:
        return sorted(set(self._shown))
