"""The JSON Schema of table files, for editors that complete and check while one types."""

from __future__ import annotations

from typing import Any

from ..tables.loading.raw import SET_PARTS
from ..tables.rows.kinds import MODELS
from ..tables.rows.methods.kinds import METHODS
from ..tables.rows.row import SCHEMA

URI = "https://json-schema.org/draft/2020-12/schema"


def json_schema() -> dict[str, Any]:
    """One schema for all table files: any of the top-level parts, each row by its kind."""
    definitions: dict[str, Any] = {}
    cells: dict[str, Any] = {}
    kinds = {kind: _rows(_model_schema(model, definitions)) for kind, model in MODELS.items()}
    kinds["methods"] = _rows(
        {"oneOf": [_method(word, model, definitions) for word, model in METHODS.items()]}
    )
    change = {"type": "object", "additionalProperties": {"type": "object"}}
    changes = {
        "type": "object",
        "additionalProperties": False,
        "properties": dict.fromkeys(kinds, change),
    }
    whole = {
        "$schema": URI,
        "title": "Feedstock tables",
        "description": "A table file: any of these parts; a set is the union of its files.",
        "type": "object",
        "additionalProperties": False,
        "properties": {"set": _set_schema(), **kinds, "amend": changes, "replace": changes},
        "$defs": _loosened(definitions),
    }
    schema: dict[str, Any] = _cells_apart(whole, cells)
    schema["$defs"] |= cells
    return schema


def _cells_apart(node: Any, cells: dict[str, Any]) -> Any:
    """The schema with each kind of cell once, under its dimension, and a reference where one
    stands.
    """
    if isinstance(node, list):
        return [_cells_apart(item, cells) for item in node]
    if not isinstance(node, dict):
        return node
    if "x-dimension" in node and "properties" in node:
        exact = "" if "anyOf" in node else ", exact"
        name = f"cell of {node['x-dimension']}{exact}".replace(" ", "-").replace(",", "")
        beside = {key: node[key] for key in ("title", "description") if key in node}
        cells[name] = {key: value for key, value in node.items() if key not in beside}
        return {"$ref": f"#/$defs/{name}", **beside}
    return {key: _cells_apart(value, cells) for key, value in node.items()}


def _set_schema() -> dict[str, Any]:
    text = {"type": ["string", "number"]}
    lists = {"type": ["string", "array"], "items": {"type": "string"}}
    fields: dict[str, Any] = {
        **dict.fromkeys(SET_PARTS, text),
        "schema": {"type": "integer", "minimum": 0, "maximum": SCHEMA},
        "after": lists,
        "requires": lists,
    }
    fields = {name: {**fields[name], "description": SET_PARTS[name]} for name in SET_PARTS}
    return {
        "type": "object",
        "description": "What the set says of itself; once, in one of its files.",
        "additionalProperties": False,
        "required": ["name", "schema"],
        "properties": fields,
    }


METHOD_KIND = "Which method it is; it says which fields the row has."


_LOOSENS: dict[str, Any] = {
    "type": "object",
    "description": "Why it is right that this makes something easier to pass.",
    "additionalProperties": False,
    "required": ["reason"],
    "properties": {
        "reason": {
            "type": "string",
            "minLength": 1,
            "description": "The reason; every result that uses it repeats it.",
        }
    },
}


def _rows(schema: dict[str, Any]) -> dict[str, Any]:
    return {
        "type": "object",
        "propertyNames": {"pattern": "^[^ :A-Z]+$"},
        "additionalProperties": schema,
    }


def _model_schema(model: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    schema: dict[str, Any] = model.model_json_schema(by_alias=True, ref_template="#/$defs/{model}")
    definitions.update(schema.pop("$defs", {}))
    wide: dict[str, Any] = _loosened(schema)
    # a row of any kind may say why it makes something easier to pass; it is read before the model
    wide.setdefault("properties", {}).setdefault("loosens", _LOOSENS)
    return wide


def _method(word: str, model: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    schema = _model_schema(model, definitions)
    schema["properties"]["kind"] = {"const": word, "description": METHOD_KIND}
    return schema


def _describes(value: Any) -> bool:
    """Whether what stands under `default` is the schema of a field of that name, and no default."""
    return isinstance(value, dict) and bool({"type", "anyOf", "$ref"} & set(value))


def _loosened(node: Any) -> Any:
    """What a person writes where a text is wanted: one word for a list of one, a bare number for
    its text.
    """
    if isinstance(node, list):
        return [_loosened(item) for item in node]
    if not isinstance(node, dict):
        return node
    loosened = {
        key: _loosened(value)
        for key, value in node.items()
        if key != "default" or isinstance(value, (str, int, float, bool)) or _describes(value)
    }
    if (
        loosened.get("type") == "string"
        and "enum" not in loosened
        and "const" not in loosened
        and "pattern" not in loosened
    ):
        loosened["type"] = ["string", "number", "boolean"]
    if (
        loosened.get("type") == "array"
        and isinstance(loosened.get("items"), dict)
        and "string" in loosened["items"].get("type", ())
    ):
        beside = {key: loosened.pop(key) for key in ("title", "description") if key in loosened}
        return {"anyOf": [loosened, loosened["items"]], **beside}
    return loosened
