"""Mappings that cannot be changed: a dict, as quick to read as any, and one whose values are made
when they are first asked for. Both pickle.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, NoReturn, TypeVar

K = TypeVar("K")
V = TypeVar("V")


def _refuse(held: object, *_: Any, **__: Any) -> NoReturn:
    raise TypeError("tables cannot be changed; lay a set of your own on top of them")


class SealedDict(dict[K, V]):
    """A dict that cannot be changed."""

    __slots__ = ()

    __setitem__ = __delitem__ = __ior__ = _refuse
    pop = popitem = clear = update = setdefault = _refuse

    def __reduce__(self) -> tuple[Any, ...]:
        return SealedDict, (dict(self),)

    def copy(self) -> dict[K, V]:
        """A plain dict, which may be changed."""
        return dict(self)


def sealed(value: Any) -> Any:
    """The value with every dict in it that cannot be changed any more."""
    if isinstance(value, Mapping) and type(value) in (dict, SealedDict):
        return SealedDict({key: sealed(item) for key, item in value.items()})
    return value


class Lazy(Mapping[K, V]):
    """A mapping that cannot be changed, whose values are made when they are first asked for."""

    __slots__ = ("_given", "_held", "_make", "_whole")

    def __init__(self, given: Mapping[K, Any], make: Callable[[Any], V]) -> None:
        self._given, self._make = given, make
        self._held: dict[K, V] = {}
        self._whole: dict[K, V] | None = None

    def __getitem__(self, key: K) -> V:
        found = self._held.get(key)
        if found is None:
            # of two threads that make it at once both take the same
            found = self._held.setdefault(key, self._make(self._given[key]))
        return found

    def __contains__(self, key: object) -> bool:
        return key in self._given

    def __iter__(self) -> Iterator[K]:
        return iter(self._given)

    def __len__(self) -> int:
        return len(self._given)

    def get(self, key: K, default: Any = None) -> Any:
        return self[key] if key in self._given else default

    def values(self) -> Any:
        return self._all().values()

    def items(self) -> Any:
        return self._all().items()

    def _all(self) -> Mapping[K, V]:
        if self._whole is None:
            self._whole = {key: self[key] for key in self._given}
        return self._whole

    __setitem__ = __delitem__ = _refuse
    pop = popitem = clear = update = setdefault = _refuse

    def __reduce__(self) -> tuple[Any, ...]:
        return SealedDict, (dict(self.items()),)

    def __repr__(self) -> str:
        return repr(dict(self.items()))
