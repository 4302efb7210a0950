"""What to write instead of a name that is not known: names that share a word, and the field that
knows it.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Iterable
from typing import TYPE_CHECKING

from ...quantities.frozen import frozen
from ..rows.contaminant import Clears
from ..rows.material import Material
from ..rows.methods.language import DangerWords
from .alike import FEW, Name, NameIndex
from .compiled import language_of, methods_of
from .danger import scan
from .standing import is_danger_row
from .text import words_of

if TYPE_CHECKING:
    from ..tables import Tables

FIELDS = {"materials": "material", "signs": "signs", "origins": "origin"}
_MOST_KEPT = 32


@frozen
class Offer:
    """What may have been meant: up to three names of this field, and the fields that know the
    word, each with the name to write there.
    """

    names: tuple[str, ...] = ()
    other_fields: tuple[tuple[str, str], ...] = ()


def nearest(tables: Tables, kind: str, text: str, language: str = "en") -> Offer:
    """What may have been meant by a name that `kind` (materials, signs, origins) does not know.

    Names are of the reader's language. A word for a danger is never answered with one that clears.
    """
    dangerous = bool(scan(tables, text, "material"))
    other = tuple(
        (field, tables.rows[other_kind][row_ids[0]].display(row_ids[0].partition(":")[2]))
        for other_kind, field in FIELDS.items()
        if other_kind != kind and len(row_ids := tables.index(other_kind).find(text)) == 1
    )
    return Offer(_index(tables, kind, language).nearest(text, dangerous), other)


def prepare(tables: Tables) -> None:
    """Sort the names of large tables while they are loaded, so that no first question waits."""
    if sum(len(tables.rows[kind]) for kind in FIELDS) > FEW:
        language_of(tables).shortened.keys()
        for kind in FIELDS:
            tables.index(kind)
            _index(tables, kind, "en")


_kept: OrderedDict[tuple[str, str, str], NameIndex] = OrderedDict()
_lock = threading.Lock()


def _index(tables: Tables, kind: str, language: str) -> NameIndex:
    key = (tables.digest, kind, language)
    with _lock:
        index = _kept.get(key)
        if index is not None:
            _kept.move_to_end(key)
            return index
    made = NameIndex(_names(tables, kind, language), language_of(tables).articles)
    with _lock:
        _kept[key] = made
        while len(_kept) > _MOST_KEPT:
            _kept.popitem(last=False)
    return made


def _names(tables: Tables, kind: str, language: str) -> Iterable[Name]:
    """Names of the rows of a kind in one language; the key where a row has none.

    A clean material counts as clearing: a danger is not answered with it. An origin that is known,
    a sign that clears and one that raises nothing are soothing.
    """
    words = list(methods_of(tables, DangerWords))
    clearing = {name for row in words for name in row.clearing}
    quiet = {name for row in words for name in row.silent} if kind == "signs" else set()
    clears = _that_clear(tables, kind)
    for row_id, row in tables.rows[kind].items():
        key = row_id.partition(":")[2]
        raises = (
            is_danger_row(row)
            if isinstance(row, Material)
            else key not in clearing and row_id not in clears
        )
        soothing = not isinstance(row, Material) and (not raises or key in quiet)
        spoken = tables.spoken(kind, row_id)
        for text in spoken.get(language) or (() if row.names else (key.replace("-", " "),)):
            yield Name(text, words_of(text), raises, not raises, soothing)


def _that_clear(tables: Tables, kind: str) -> set[str]:
    """The signs or origins by which some suspicion is cleared."""
    field = {"signs": "signs", "origins": "origins"}.get(kind)
    if field is None:
        return set()
    return {
        row_id
        for row in tables.rows["clears"].values()
        if isinstance(row, Clears)
        for name in getattr(row.when, field)
        for row_id in tables.index(kind).find(name)
    }
