"""`feedstock schema`: the JSON Schemas of what goes in and of what comes out."""

from __future__ import annotations

import argparse
import json
from typing import Any

URI = "https://json-schema.org/draft/2020-12/schema"

KINDS = ("heap", "job", "record", "appraisal")


def add_command(commands: Any) -> None:
    """The command and its one word."""
    parser = commands.add_parser(
        "schema", help="the JSON Schema of a heap, a job, a record of batches or an appraisal"
    )
    parser.add_argument("kind", choices=KINDS, metavar="|".join(KINDS))
    parser.set_defaults(run=schema)


def schema(args: argparse.Namespace) -> tuple[str, int]:
    """The schema as JSON."""
    return json.dumps({"$schema": URI, **_schema(args.kind)}, indent=1) + "\n", 0


def _schema(kind: str) -> dict[str, Any]:
    from ..model.appraisal import Appraisal
    from ..model.inputs.heap import Heap, Job

    if kind == "heap":
        return Heap.model_json_schema()
    if kind == "job":
        return Job.model_json_schema()
    if kind == "appraisal":
        return Appraisal.model_json_schema(mode="serialization")
    return _records()


def _records() -> dict[str, Any]:
    """A file of batches: a list of them, or the list under `batches` with what holds for all."""
    from ..experience.records import BatchRecord

    batch = BatchRecord.model_json_schema()
    parts, text = batch.pop("$defs"), {"type": "string"}
    # in a file a heap file may stand for the lots, and the burn may stand at the top
    batch["required"] = [name for name in batch["required"] if name not in ("lots", "burn")]
    heap = {**text, "description": "A heap file whose lots were burnt, relative to this one."}
    used = {
        "anyOf": [text, {"type": "array", "items": text}],
        "description": "Those lots of the heap file that were burnt; all without it.",
    }
    batch["properties"] |= {"heap": heap, "used": used}
    batches = {"type": "array", "minItems": 1, "items": {"$ref": "#/$defs/BatchRecord"}}
    shared = {name: batch["properties"][name] for name in ("person", "burn", "heap")}
    whole = {
        "type": "object",
        "additionalProperties": False,
        "required": ["batches"],
        "properties": {**shared, "batches": {**batches, "description": "The burns."}},
    }
    return {
        "title": "Batches",
        "description": "Burns as they came out.",
        "anyOf": [whole, batches],
        "$defs": {**parts, "BatchRecord": batch},
    }
