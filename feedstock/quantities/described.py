"""What the fields of a model mean, for its JSON Schema: the text under a field in the code."""

from __future__ import annotations

import ast
import inspect
import itertools
import textwrap
from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel

if TYPE_CHECKING:
    from pydantic import GetJsonSchemaHandler
    from pydantic_core import CoreSchema


def field_texts(model: Any) -> dict[str, str]:
    """The texts under the fields of a model and of those that it builds on; without its source
    none.
    """
    return _field_texts(model)


@lru_cache(maxsize=256)
def _field_texts(model: type) -> dict[str, str]:
    texts: dict[str, str] = {}
    for base in reversed(model.__mro__):
        if hasattr(base, "model_fields") and base is not BaseModel:
            texts.update(_texts(base))
    return texts


def _texts(model: type) -> Iterator[tuple[str, str]]:
    try:
        tree = ast.parse(textwrap.dedent(inspect.getsource(model)))
    except (OSError, TypeError, SyntaxError):
        return
    body = next((node.body for node in tree.body if isinstance(node, ast.ClassDef)), [])
    for field, text in itertools.pairwise(body):
        if (
            isinstance(field, ast.AnnAssign)
            and isinstance(field.target, ast.Name)
            and isinstance(text, ast.Expr)
            and isinstance(text.value, ast.Constant)
            and isinstance(text.value.value, str)
        ):
            yield field.target.id, " ".join(text.value.value.split())


def component(
    cls: type, schema: CoreSchema, handler: GetJsonSchemaHandler, parts: dict[str, Any]
) -> dict[str, Any]:
    """The JSON Schema of a type of our own as a named component; `schema` needs a `ref`."""
    from pydantic_core import core_schema

    reference = handler(core_schema.dict_schema(ref=schema["ref"]))
    named = handler.resolve_ref_schema(reference)
    named.clear()
    named.update({"title": cls.__name__, **parts})
    return reference


def component_ref(cls: type) -> str:
    """The name by which the schema of a type goes."""
    return f"{cls.__module__}.{cls.__qualname__}:{id(cls)}"


def plain_model_schema(
    model: type[BaseModel], schema: CoreSchema, handler: GetJsonSchemaHandler
) -> dict[str, Any]:
    """The schema of a model whose serializer only leaves out what was not given: as without it, and
    with nothing required that has a default. Its fields are described.
    """
    described = handler(_without_serializer(schema))
    named = handler.resolve_ref_schema(described)
    if handler.mode == "serialization":
        needed = [i.alias or n for n, i in model.model_fields.items() if i.is_required()]
        named.pop("required", None)
        if needed:
            named["required"] = needed
    describe(model, named)
    return described


def _without_serializer(schema: Any) -> Any:
    inner = schema.get("schema")
    plain = {key: value for key, value in schema.items() if key != "serialization"}
    if schema["type"].startswith("function") and inner is not None:
        plain["schema"] = _without_serializer(inner)
    return plain


def describe(model: Any, schema: dict[str, Any]) -> None:
    """Put the texts of a model's fields into its schema; what is described there already stays."""
    texts = field_texts(model)
    properties = schema.get("properties", {})
    for name, info in model.model_fields.items():
        about = properties.get(info.alias or name)
        if about is not None and name in texts:
            about.setdefault("description", texts[name])
