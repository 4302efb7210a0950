"""The names of rows as a list to choose from."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ...errors import Problem, UnknownName, shown
from ..rows.row import Row
from .index import Index


def names_to_choose(
    rows: Mapping[str, Mapping[str, Row]], kind: str, index: Callable[[str], Index], language: str
) -> tuple[str, ...]:
    """One name for every row of a kind by which it is found: the first in that language, else the
    first in English, else its full name; sorted without regard to case.

    Raises UnknownName for a kind that there is not.
    """
    if kind not in rows:
        what = f"'{shown(kind)}' is not a kind of row"
        raise UnknownName([Problem("unknown-word", what, f"Kinds: {', '.join(rows)}.", "kind")])
    known, names = index(kind), []
    for row_id, row in rows[kind].items():
        key = row_id.partition(":")[2].replace("-", " ")
        for name in (*row.names.get(language, ()), *row.names.get("en", ()), key, row_id):
            if known.find(name) == [row_id]:
                names.append(name)
                break
    return tuple(sorted(names, key=str.casefold))
