"""A mapping that cannot be changed, what is found once, and records without code of their own."""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable, Iterator, Mapping
from operator import attrgetter
from typing import (
    TYPE_CHECKING,
    Any,
    Generic,
    NoReturn,
    TypeVar,
    dataclass_transform,
    get_args,
)

from .sealed import SealedDict, refuse

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler
    from pydantic_core import CoreSchema

K = TypeVar("K")
V = TypeVar("V")
T = TypeVar("T")


class FrozenMap(Mapping[K, V], Generic[K, V]):
    """A mapping that cannot be changed, can be hashed, and keeps its order."""

    __slots__ = ("_items",)

    def __init__(self, items: Mapping[K, V] | tuple[tuple[K, V], ...] = ()) -> None:
        object.__setattr__(self, "_items", dict(items))

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError("a FrozenMap cannot be changed")

    def __getitem__(self, key: K) -> V:
        return self._items[key]  # type: ignore[attr-defined,no-any-return]

    def __iter__(self) -> Iterator[K]:
        return iter(self._items)  # type: ignore[attr-defined]

    def __len__(self) -> int:
        return len(self._items)  # type: ignore[attr-defined]

    def __hash__(self) -> int:
        return hash(frozenset(self.items()))

    def __eq__(self, other: object) -> bool:
        return dict(self) == dict(other) if isinstance(other, Mapping) else NotImplemented

    def __repr__(self) -> str:
        return f"FrozenMap({dict(self)!r})"

    def __reduce__(self) -> tuple[Any, ...]:
        return FrozenMap, (dict(self),)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import core_schema

        inside = handler.generate_schema(dict[get_args(source)] if get_args(source) else dict)  # type: ignore[misc]
        return core_schema.no_info_after_validator_function(
            FrozenMap,
            core_schema.no_info_before_validator_function(_as_dict, inside),
            serialization=core_schema.plain_serializer_function_ser_schema(
                dict, return_schema=inside
            ),
        )


def _as_dict(value: Any) -> Any:
    return dict(value) if isinstance(value, Mapping) else value


class Lazy(Mapping[K, V]):
    """A mapping that cannot be changed, whose values are made when they are first asked for."""

    __slots__ = ("_given", "_held", "_make", "_whole")

    def __init__(self, given: Mapping[K, Any], make: Callable[[Any], V]) -> None:
        self._given, self._make = given, make
        self._held: dict[K, V] = {}
        self._whole: dict[K, V] | None = None

    def __getitem__(self, key: K) -> V:
        value = self._held.get(key)
        if value is None:
            # of two threads that make it at once both take the same
            value = self._held.setdefault(key, self._make(self._given[key]))
        return value

    def with_items(self, items: Mapping[K, V]) -> Lazy[K, V]:
        """The same with other values in their places, and new ones behind them."""
        made: Lazy[K, V] = Lazy({key: key for key in (*self, *items)}, self.__getitem__)
        made._held.update(items)
        return made

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

    __setitem__ = __delitem__ = refuse
    pop = popitem = clear = update = setdefault = refuse

    def __reduce__(self) -> tuple[Any, ...]:
        return SealedDict, (dict(self.items()),)

    def __repr__(self) -> str:
        return repr(dict(self.items()))


class Once(Generic[T]):
    """What is found when somebody first asks, and kept; shorter than the standard library's, since
    many figures ask.
    """

    def __init__(self, find: Callable[[Any], T]) -> None:
        self._find, self.__doc__ = find, find.__doc__

    def __get__(self, figure: Any, owner: object = None) -> T:
        if figure is None:
            return self  # type: ignore[return-value]
        value = figure.__dict__[self._find.__name__] = self._find(figure)
        return value


# --- frozen records -------------------------------------------------------------------------------

_NONE = object()


@dataclass_transform(frozen_default=True, field_specifiers=(dataclasses.field,))
def frozen(cls: type[T]) -> type[T]:
    """The class as a frozen dataclass, without code that is written for each class, which is most
    of what a program with a hundred of them waits for when it starts: made by position or by name,
    compared, hashed and shown by its fields; `dataclasses.replace` and `fields` take it as one.

    >>> @frozen
    ... class Point:
    ...     x: float
    ...     y: float = 0.0
    >>> Point(1.0), Point(1.0) == Point(1.0, 0.0), dataclasses.replace(Point(1.0), y=2.0).y
    (Point(x=1.0, y=0.0), True, 2.0)
    """
    _give_methods(cls, "__hash__")
    cls.__setattr__ = cls.__delattr__ = _refuse  # type: ignore[method-assign]
    return cls


@dataclass_transform(field_specifiers=(dataclasses.field,))
def record(cls: type[T]) -> type[T]:
    """As `frozen`, but its fields may change, and it has no hash.

    >>> @record
    ... class Basket:
    ...     lots: list[str] = dataclasses.field(default_factory=list)
    ...     full: bool = False
    >>> basket = Basket(["oak"])
    >>> basket.full = True
    >>> basket
    Basket(lots=['oak'], full=True)
    """
    _give_methods(cls)
    cls.__hash__ = None  # type: ignore[assignment]
    return cls


def _give_methods(cls: type, *more: str) -> None:
    fields = _fields_of(cls)
    cls.__dataclass_fields__ = fields  # type: ignore[attr-defined]
    cls.__match_args__ = tuple(fields)  # type: ignore[attr-defined,misc]
    for name in ("__init__", "__repr__", "__eq__", *more):
        if name not in cls.__dict__:
            method = _METHODS[name](cls, fields)
            method.__name__ = name
            setattr(cls, name, method)


def _fields_of(cls: type) -> dict[str, Any]:
    """The fields of a class and before them those that it inherits."""
    fields: dict[str, Any] = {}
    for base in cls.__mro__[:0:-1]:
        fields.update(base.__dict__.get("__dataclass_fields__", {}))
    for name, annotation in inspect.get_annotations(cls).items():
        if "ClassVar" in str(annotation):
            continue
        default = cls.__dict__.get(name, _NONE)
        if isinstance(default, dataclasses.Field):
            field: Any = default
            if field.default is dataclasses.MISSING:
                delattr(cls, name)
            else:
                setattr(cls, name, field.default)
        else:
            field = dataclasses.field() if default is _NONE else dataclasses.field(default=default)
        field.name, field.type = name, annotation
        field._field_type = dataclasses._FIELD  # type: ignore[attr-defined]
        fields[name] = field
    return fields


def _init(cls: type, fields: dict[str, Any]) -> Callable[..., None]:
    fields = {name: field for name, field in fields.items() if field.init}
    names, known, most = tuple(fields), frozenset(fields), len(fields)
    usual = {n: f.default for n, f in fields.items() if f.default is not dataclasses.MISSING}
    after = getattr(cls, "__post_init__", None)

    def method(one: Any, *given: Any, **named: Any) -> None:
        held = one.__dict__
        if not named and len(given) == most:  # what is made by the thousand
            held.update(zip(names, given))  # noqa: B905
            if after is not None:
                one.__post_init__()
            return
        held.update(zip(names, given), **named)  # noqa: B905
        count = len(given) + len(named)
        if len(held) == count < most:
            held.update({**usual, **held})
            count = len(held)
        # by position alone no name can be a wrong one
        if count != most or len(held) != most or (named and held.keys() != known):
            _complete(one, fields, len(given), named)
        if after is not None:
            one.__post_init__()

    return method


def _complete(one: Any, fields: dict[str, Any], count: int, named: dict[str, Any]) -> None:
    """Give the defaults; TypeError for what is missing, unknown or given twice."""
    values, name = one.__dict__, type(one).__name__
    if count > len(fields):
        raise TypeError(f"{name} takes {len(fields)} values, not {count}")
    unknown = [key for key in named if key not in fields]
    twice = [key for key in list(fields)[:count] if key in named]
    if unknown or twice:
        raise TypeError(f"{name} has no {', '.join(unknown)}" if unknown else f"{twice} twice")
    for key, field in fields.items():
        if key not in values:
            if field.default is not dataclasses.MISSING:
                values[key] = field.default
            elif field.default_factory is not dataclasses.MISSING:
                values[key] = field.default_factory()
            else:
                raise TypeError(f"{name} needs {key}")


def _getter(fields: dict[str, Any]) -> Callable[[Any], tuple[Any, ...]]:
    names = [name for name, field in fields.items() if field.compare]
    if len(names) > 1:
        return attrgetter(*names)
    return lambda one: tuple(getattr(one, name) for name in names)


def _eq(cls: type, fields: dict[str, Any]) -> Callable[[Any, object], Any]:
    values = _getter(fields)

    def method(one: Any, other: object) -> Any:
        return values(one) == values(other) if type(one) is type(other) else NotImplemented

    return method


def _hash(cls: type, fields: dict[str, Any]) -> Callable[[Any], int]:
    values = _getter(fields)

    def method(one: Any) -> int:
        return hash(values(one))

    return method


def _repr(cls: type, fields: dict[str, Any]) -> Callable[[Any], str]:
    names = [name for name, field in fields.items() if field.repr]

    def method(one: Any) -> str:
        fields = ", ".join(f"{name}={getattr(one, name)!r}" for name in names)
        return f"{type(one).__qualname__}({fields})"

    return method


def _refuse(one: object, name: str, *_: object) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


_METHODS: dict[str, Callable[[type, dict[str, Any]], Callable[..., Any]]] = {
    "__init__": _init,
    "__repr__": _repr,
    "__eq__": _eq,
    "__hash__": _hash,
}
