"""What is worked out of tables and kept: as much as a few sets of tables give. A program that lays
new sets over the reference all day holds no more than the last of them.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from functools import _lru_cache_wrapper, lru_cache, wraps
from threading import Lock
from typing import Protocol, TypeVar

A = TypeVar("A")
B = TypeVar("B")
T = TypeVar("T")


class _Told(Protocol):
    """Tables, as far as they are told apart."""

    @property
    def digest(self) -> str: ...
    @property
    def use(self) -> tuple[tuple[str, str], ...]: ...


H = TypeVar("H", bound=_Told)

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


def kept_by_digest(
    most: int,
) -> Callable[[Callable[[A, B, H], T]], Callable[[A, B, H], T]]:
    """As `kept_of_tables`, for what holds no tables itself: it goes by their digest and stays when
    they go, so that what was worked out of the reference serves every set that is laid over it.
    """

    def decorated(function: Callable[[A, B, H], T]) -> Callable[[A, B, H], T]:
        kept: OrderedDict[tuple[A, B, object], T] = OrderedDict()

        @wraps(function)
        def found(one: A, other: B, tables: H) -> T:
            key = one, other, (tables.digest, tables.use)
            value = kept[key] if key in kept else function(one, other, tables)
            kept[key] = value
            kept.move_to_end(key)
            while len(kept) > most:
                kept.popitem(last=False)
            return value

        return found

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
