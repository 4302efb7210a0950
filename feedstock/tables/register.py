"""The tables that are still loaded in this process, by their digest; nothing is kept alive here."""

from __future__ import annotations

from threading import Lock
from weakref import WeakValueDictionary

from .caches import note_tables
from .tables import Tables

_LOADED: WeakValueDictionary[str, Tables] = WeakValueDictionary()
_LOCK = Lock()


def register(tables: Tables) -> None:
    """Note that these tables are loaded."""
    note_tables(tables.digest)
    with _LOCK:
        _LOADED[tables.digest] = tables


def loaded_tables(digest: str) -> Tables | None:
    """Tables of that digest, if any are still loaded."""
    with _LOCK:
        return _LOADED.get(digest)
