"""The frozen base of all results, a mapping that cannot be changed, and what is found once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, Generic, TypeVar, get_args

from pydantic import BaseModel, ConfigDict

from .described import describe

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema

K = TypeVar("K")
V = TypeVar("V")
T = TypeVar("T")


class Data(BaseModel):
    """Frozen; a field that this version does not know is left out on reading, so that a newer one
    may add some.
    """

    model_config = ConfigDict(frozen=True, extra="ignore")

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        found = handler(schema)
        describe(cls, handler.resolve_ref_schema(found))
        return found


def known_fields(model: type[BaseModel], value: Any) -> Any:
    """JSON of a model that refuses unknown fields, without those that it does not know, in it and
    in the models within: a result that a newer version wrote is read as far as it is understood.
    """
    if not isinstance(value, Mapping):
        return value
    found = {}
    for name, item in value.items():
        info = model.model_fields.get(name)
        if info is None:
            continue
        inner = _model_in(info.annotation)
        if inner is None:
            found[name] = item
        elif isinstance(item, (list, tuple)):
            found[name] = [known_fields(inner, entry) for entry in item]
        else:
            found[name] = known_fields(inner, item)
    return found


def _model_in(annotation: Any) -> type[BaseModel] | None:
    """The model that a field holds, or holds several of."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next(
        (found for inner in get_args(annotation) if (found := _model_in(inner)) is not None), None
    )


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


class Once(Generic[T]):
    """What is found when somebody first asks, and kept; shorter than the standard library's, since
    many figures ask.
    """

    def __init__(self, find: Callable[[Any], T]) -> None:
        self._find, self.__doc__ = find, find.__doc__

    def __get__(self, figure: Any, owner: object = None) -> T:
        if figure is None:
            return self  # type: ignore[return-value]
        found = figure.__dict__[self._find.__name__] = self._find(figure)
        return found
