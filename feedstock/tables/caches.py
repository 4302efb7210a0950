"""What is worked out of tables and kept: as much as a few sets of tables give. A program that lays
new sets over the reference all day holds no more than the last of them.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import _lru_cache_wrapper, lru_cache
from threading import Lock
from typing import TypeVar

T = TypeVar("T")

MOST = 4
"""So many sets of tables may have left something in the caches; at the next all are emptied."""

_CLEAR: list[Callable[[], None]] = []
_DIGESTS: set[str] = set()
_LOCK = Lock()


def kept_of_tables(maxsize: int) -> Callable[[Callable[..., T]], _lru_cache_wrapper[T]]:
    """As `lru_cache`, for functions of which an argument is or holds tables."""

    def decorated(function: Callable[..., T]) -> _lru_cache_wrapper[T]:
        cache = lru_cache(maxsize=maxsize)(function)
        cleared_with_tables(cache.cache_clear)
        return cache

    return decorated


def cleared_with_tables(clear: Callable[[], None]) -> None:
    """Have something else emptied with the caches."""
    _CLEAR.append(clear)


def note_tables(digest: str) -> None:
    """Tables of that digest were loaded: those of others go when there were too many."""
    with _LOCK:
        if digest in _DIGESTS:
            return
        if len(_DIGESTS) >= MOST:
            _DIGESTS.clear()
            for clear in _CLEAR:
                clear()
        _DIGESTS.add(digest)
