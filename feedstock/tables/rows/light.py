"""The base of rows: plain objects while they are used, checked by models of pydantic's while they
are read. A class costs next to nothing to make; its model is made when a table is first read or a
schema is asked for.
"""

from __future__ import annotations

import inspect
import sys
import types
import typing
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, ClassVar, NoReturn, Self, dataclass_transform

from pydantic import Field

from ...quantities.described import describe

if TYPE_CHECKING:
    from pydantic import BaseModel, GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic.fields import FieldInfo
    from pydantic_core import CoreSchema

_MODELS: dict[type, type[BaseModel]] = {}
_KEYS: dict[type, tuple[tuple[str, str], ...]] = {}


class _ModelFields:
    """The fields of the model of a class, for those who walk a row."""

    def __get__(self, row: object, owner: type[Light]) -> dict[str, FieldInfo]:
        return owner.model().model_fields


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(Field,))
class Light:
    """A frozen object whose annotated names are its fields, as in a model of pydantic's; a name
    that begins with `_` is none.
    """

    by_either_name: ClassVar[bool] = False
    """Whether a field with an alias goes by its own name too."""

    _defaults: ClassVar[dict[str, Any]] = {}
    _names: ClassVar[tuple[str, ...]] = ()
    model_fields: ClassVar[Any] = _ModelFields()

    def __init_subclass__(cls) -> None:
        names = dict.fromkeys(cls._names)
        defaults = dict(cls._defaults)
        for name, annotation in inspect.get_annotations(cls).items():
            if name.startswith("_") or str(annotation).startswith("ClassVar"):
                continue
            names[name] = None
            defaults.pop(name, None)
            if name in cls.__dict__:
                defaults[name] = cls.__dict__[name]
        cls._names, cls._defaults = tuple(names), defaults

    def __init__(self, **values: Any) -> None:
        fields = self.__dict__
        for name in self._names:
            fields[name] = values.pop(name) if name in values else self._default(name)
        if values:
            raise TypeError(f"{type(self).__name__} has no {', '.join(values)}")

    def _default(self, name: str) -> Any:
        if name not in self._defaults:
            raise TypeError(f"{type(self).__name__} needs {name}")
        value = self._defaults[name]
        if type(value).__name__ == "FieldInfo":
            if value.is_required():
                raise TypeError(f"{type(self).__name__} needs {name}")
            return value.get_default(call_default_factory=True)
        return value

    @classmethod
    def made(cls, fields: Mapping[str, Any]) -> Self:
        """A row of fields that were checked before, all of them."""
        row = cls.__new__(cls)
        row.__dict__.update(fields)
        return row

    def __setattr__(self, name: str, value: Any) -> NoReturn:
        raise AttributeError(f"a {type(self).__name__} cannot be changed")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"a {type(self).__name__} cannot be changed")

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and self.__dict__ == other.__dict__

    def __hash__(self) -> int:
        return hash((type(self), *(self.__dict__[name] for name in self._names)))

    def __repr__(self) -> str:
        fields = ", ".join(f"{name}={self.__dict__[name]!r}" for name in self._names)
        return f"{type(self).__name__}({fields})"

    def model_copy(self, *, update: Mapping[str, Any] | None = None) -> Self:
        """The same with other fields, which are not checked."""
        return self.made({**self.__dict__, **(update or {})})

    @classmethod
    def model(cls) -> type[BaseModel]:
        """The model that checks what is read."""
        model = _MODELS.get(cls)
        if model is None:
            model = _MODELS.setdefault(cls, _model_of(cls))
        return model

    @classmethod
    def keyed_fields(cls) -> tuple[tuple[str, str], ...]:
        """The name of each field, with the key under which it stands in a table."""
        found = _KEYS.get(cls)
        if found is None:
            fields = cls.model().model_fields.items()
            found = _KEYS[cls] = tuple((name, info.alias or name) for name, info in fields)
        return found

    @classmethod
    def model_validate(cls, data: Any, *, context: Any = None) -> Self:
        """A row of data as it was read. Raises ValidationError."""
        return cls._of(cls.model().model_validate(data, context=context))

    @classmethod
    def model_json_schema(cls, **how: Any) -> dict[str, Any]:
        """The JSON Schema of what is read."""
        return cls.model().model_json_schema(**how)

    @classmethod
    def _of(cls, checked: Any) -> Self:
        return checked if isinstance(checked, cls) else cls.made(checked.__dict__)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import core_schema

        inside = handler.generate_schema(cls.model())
        return core_schema.no_info_after_validator_function(cls._of, inside)

    @classmethod
    def _json_schema(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        described = handler(schema)
        describe(cls, handler.resolve_ref_schema(described))
        return described


def _model_of(cls: type[Light]) -> type[BaseModel]:
    """The model of a class: its fields and those that it inherits, with their defaults."""
    from pydantic import BaseModel, ConfigDict

    hints: dict[str, Any] = {}
    for base in reversed(cls.__mro__):
        stated = inspect.get_annotations(base)
        names = vars(sys.modules[base.__module__])
        hints.update({name: _meant(stated[name], names) for name in stated if name in cls._names})
    config = ConfigDict(
        defer_build=True, frozen=True, extra="forbid", populate_by_name=cls.by_either_name
    )
    about = {
        "__module__": cls.__module__,
        "__qualname__": cls.__qualname__,
        "__doc__": cls.__doc__,
        "__get_pydantic_json_schema__": cls._json_schema,
    }
    annotations = {name: hints[name] for name in cls._names}
    body = {**about, **cls._defaults, "__annotations__": annotations, "model_config": config}
    made: type[BaseModel] = types.new_class(
        cls.__name__, (BaseModel,), exec_body=lambda space: space.update(body)
    )
    return made


def _meant(annotation: Any, names: dict[str, Any]) -> Any:
    if not isinstance(annotation, str):
        return annotation
    return typing.get_type_hints(
        type("_", (), {"__annotations__": {"_": annotation}}), names, include_extras=True
    )["_"]
