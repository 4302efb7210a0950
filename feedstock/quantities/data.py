"""The frozen base of all results: models of pydantic's that are made when somebody reads, writes or
checks a result. A class by itself costs a program that starts next to nothing.
"""

from __future__ import annotations

import inspect
from abc import ABCMeta
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, ClassVar, Self, TypeVar, get_args

from pydantic import BaseModel, ConfigDict

from .described import describe

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, TypeAdapter
    from pydantic_core import CoreSchema

T = TypeVar("T")

_CONFIG = ConfigDict(frozen=True, extra="ignore", defer_build=True)

_MODELS: dict[type, type[BaseModel]] = {}
_ADAPTERS: dict[type, TypeAdapter[Any]] = {}


class _Model(BaseModel):
    """What the models of results build on."""

    model_config = _CONFIG

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        described = handler(schema)
        describe(cls, handler.resolve_ref_schema(described))
        return described


def _model_of(cls: type) -> type[BaseModel]:
    """The model of a class: pydantic's own of what stands in its body."""
    model = _MODELS.get(cls)
    if model is None:
        body = dict(cls.__dict__["_body"])
        made = type(BaseModel)(cls.__name__, (_Model,), body)  # type: ignore[misc]
        # of two threads that make it at once both take the same
        model = _MODELS.setdefault(cls, made)
    return model


def _adapter_of(cls: type) -> TypeAdapter[Any]:
    adapter = _ADAPTERS.get(cls)
    if adapter is None:
        from pydantic import TypeAdapter

        adapter = _ADAPTERS.setdefault(cls, TypeAdapter(cls))
    return adapter


class _OfModel:
    """What pydantic looks for in a class of models, found in the model of the class."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __get__(self, one: object, owner: type) -> Any:
        return getattr(_model_of(owner), self._name)


class _OfAdapter(_OfModel):
    """The same of what validates and writes: those of the class itself."""

    def __get__(self, one: object, owner: type) -> Any:
        return getattr(_adapter_of(owner), self._name)


class _Signature:
    """How a result is made, for those who ask Python for it."""

    def __get__(self, one: object, owner: type) -> inspect.Signature:
        model = _model_of(owner)
        model.model_rebuild()
        return inspect.signature(model)


class _Later(type(BaseModel)):  # type: ignore[misc]
    """Makes the classes of results without what pydantic finds out of each."""

    def __new__(
        mcs, name: str, bases: tuple[type, ...], body: dict[str, Any], **how: Any
    ) -> _Later:
        space = dict(body)
        # what stands in a decorator of pydantic's is taken out, as pydantic does
        for key, item in body.items():
            if type(item).__name__ == "PydanticDescriptorProxy":
                space[key] = item.wrapped
        for key in body.get("__annotations__", ()):
            if not key.startswith("_"):
                space.pop(key, None)
        config: dict[str, Any] = {**_CONFIG, **body.get("model_config", {})}
        space |= {"_body": body, "model_config": config}
        return ABCMeta.__new__(mcs, name, bases, space, **how)


class _Fields:
    """The fields of a class with their defaults, in their order, and those that have none."""

    def __init__(self, cls: type) -> None:
        self.defaults: dict[str, Any] = {}
        self.needed: set[str] = set()
        body = cls.__dict__["_body"]
        for name, annotation in inspect.get_annotations(cls).items():
            if name.startswith("_") or str(annotation).startswith("ClassVar"):
                continue
            default = body.get(name, ...)
            if type(default).__name__ == "FieldInfo":
                default = ... if default.is_required() else default.get_default()
            if default is ...:
                self.needed.add(name)
            self.defaults[name] = default


_FIELDS: dict[type, _Fields] = {}


if TYPE_CHECKING:

    class Data(BaseModel):
        """A result."""
else:

    class Data(BaseModel, metaclass=_Later):
        """Frozen; a field that this version does not know is left out on reading, so that a newer
        one may add some.
        """

        model_config = _CONFIG

        __pydantic_complete__ = __pydantic_fields_complete__ = True
        __pydantic_validator__ = _OfAdapter("validator")
        __pydantic_serializer__ = _OfAdapter("serializer")
        __pydantic_core_schema__ = _OfAdapter("core_schema")
        __signature__ = _Signature()
        __private_attributes__: ClassVar[dict[str, Any]] = {}
        __class_vars__: ClassVar[set[str]] = set()

        @classmethod
        def __get_pydantic_core_schema__(
            cls, source: Any, handler: GetCoreSchemaHandler
        ) -> CoreSchema:
            """That of its model, which makes objects of this class."""
            schema = handler.generate_schema(_model_of(cls))
            inner = handler.resolve_ref_schema(schema)
            while inner["type"] != "model":
                inner = inner["schema"]
            inner["cls"] = cls
            return schema

        @classmethod
        def _trusted(cls, **given: Any) -> Self:
            about = _FIELDS.get(cls)
            if about is None:
                about = _FIELDS.setdefault(cls, _Fields(cls))
            fields = about.defaults | given
            if len(fields) != len(about.defaults) or not about.needed <= given.keys():
                raise TypeError(f"{cls.__name__} is not made of {', '.join(given)}")
            one = object.__new__(cls)
            for name, value in (
                ("__dict__", fields),
                ("__pydantic_fields_set__", set(given)),
                ("__pydantic_extra__", None),
                ("__pydantic_private__", None),
            ):
                object.__setattr__(one, name, value)
            return one

        def __eq__(self, other: object) -> bool:
            return type(self) is type(other) and self.__dict__ == other.__dict__

        def __hash__(self) -> int:
            return hash((type(self), *self.__dict__.values()))

    for _name in vars(_Model).keys() - vars(Data).keys():
        if _name.startswith("__pydantic_"):
            setattr(Data, _name, _OfModel(_name))


def trusted(cls: type[T]) -> type[T]:
    """Makes results of a class from values that this library worked out itself: they are not
    checked, and no model is needed. To make a result of what stands elsewhere, call the class.
    """
    return cls._trusted  # type: ignore[attr-defined,no-any-return]


def known_fields(model: type[BaseModel], value: Any) -> Any:
    """JSON of a model that refuses unknown fields, without those that it does not know, in it and
    in the models within: a result that a newer version wrote is read as far as it is understood.
    """
    if not isinstance(value, Mapping):
        return value
    fields = {}
    for name, item in value.items():
        info = model.model_fields.get(name)
        if info is None:
            continue
        inner = _model_in(info.annotation)
        if inner is None:
            fields[name] = item
        elif isinstance(item, (list, tuple)):
            fields[name] = [known_fields(inner, entry) for entry in item]
        else:
            fields[name] = known_fields(inner, item)
    return fields


def _model_in(annotation: Any) -> type[BaseModel] | None:
    """The model that a field holds, or holds several of."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next(
        (model for inner in get_args(annotation) if (model := _model_in(inner)) is not None), None
    )
