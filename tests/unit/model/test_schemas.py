"""JSON Schemas: they accept what the models accept, their examples are valid, estimates are one
named component, and every field of a result is described.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from jsonschema import Draft202012Validator
from pydantic import BaseModel

from builders import EXAMPLES, ROOT, RunCli, heap, tables
from feedstock import Appraisal, BatchRecord, Burn, Heap, Job, Lot, appraise
from feedstock.documents.yaml_reader import read_yaml
from feedstock.model.appraisal import LotAppraisal
from feedstock.model.burn_plan import Gathering, Sizing
from feedstock.model.char import Carbon, Qualities
from feedstock.model.compost import BedPlan, Blend
from feedstock.model.experience import Experience, ForecastCheck
from feedstock.quantities.parse import read_moisture, read_quantity
from strategies import Spec, examples, heap_of, heaps

pytestmark = pytest.mark.property

INPUTS: list[type[BaseModel]] = [Heap, Job, BatchRecord, Lot, Burn]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def validator(model: type[BaseModel], mode: Any = "validation") -> Draft202012Validator:
    schema = model.model_json_schema(mode=mode)
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def errors(schema: Draft202012Validator, data: Any) -> list[str]:
    return [f"{'.'.join(map(str, e.path))}: {e.message[:120]}" for e in schema.iter_errors(data)]


def readme_heap() -> str:
    blocks = re.findall(r"```yaml\n(.*?)```", README, re.DOTALL)
    return str(next(block for block in blocks if block.startswith("name:")))


def subschemas(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, list):
        for item in node:
            yield from subschemas(item)
    elif isinstance(node, dict):
        yield node
        for key, value in node.items():
            if key not in ("examples", "default"):
                yield from subschemas(value)


# --- what models accept ---------------------------------------------------------------------------


def test_the_heap_of_readme_and_the_examples_are_valid() -> None:
    """As our reader has them, where every scalar is text."""
    job = validator(Job)
    texts = [readme_heap(), *(path.read_text("utf-8") for path in sorted(EXAMPLES.glob("*.yaml")))]
    assert len(texts) >= 3
    for text in texts:
        assert errors(job, read_yaml(text, "heap.yaml").data) == []
    rows = Heap.read(EXAMPLES / "orchard_prunings.csv")
    assert errors(validator(Heap), json.loads(rows.model_dump_json())) == []


ACCEPTED: list[tuple[type[BaseModel], dict[str, Any]]] = [
    (Lot, {"material": "oak", "mass": "40 kg"}),
    (Lot, {"material": "oak", "mass": "35 to 45 kg, likely 38 kg", "moisture": "22 % wet"}),
    (Lot, {"material": "oak", "mass": {"low": 1.0, "mid": 2.0, "high": 3.0, "unit": "kg"}}),
    (Lot, {"material": "oak", "mass": "1 kg", "moisture": {"reading": "22 % dry", "by": "pin"}}),
    (Lot, {"material": "oak", "mass": "1 kg", "moisture": {"condition": "seasoned"}}),
    (Lot, {"material": "oak", "mass": "1 kg", "moisture": {"value": "22 % dry"}}),
    (Lot, {"material": "oak", "mass": "1 kg", "signs": "bark on"}),
    (Lot, {"material": "oak", "mass": "1 kg", "lying": "no", "decay": "2", "year": "1990"}),
    (Lot, {"material": "oak", "mass": "1 kg", "lying": False, "decay": 2, "origin": "farm"}),
    (Lot, {"material": "oak", "name": None, "mass": "1 kg", "moisture": None}),
    (Lot, {"material": "oak", "containers": {"count": "2.5", "of": "bag"}}),
    (Lot, {"material": "oak", "containers": {"count": 2.5, "of": "bag"}}),
    (Lot, {"material": "oak", "pieces": {"count": "3", "length": "1 m", "diameter": "9 cm"}}),
    (Lot, {"material": "oak", "pieces": {"count": 3, "length": "1 m", "diameters": ["9 cm"] * 2}}),
    (Burn, {"burner": "kettle", "heaped": "1.2", "vessel": "galvanised"}),
]  # fmt: skip


@pytest.mark.parametrize(("model", "data"), ACCEPTED)
def test_what_the_model_accepts_is_valid(model: type[BaseModel], data: dict[str, Any]) -> None:
    model.model_validate(data)
    assert errors(validator(model), data) == []


REFUSED: list[tuple[type[BaseModel], dict[str, Any]]] = [
    (Lot, {"mass": "40 kg"}),
    (Lot, {"material": "oak", "mass": 40}),
    (Lot, {"material": "oak", "mass": "40 kg", "wieght": "40 kg"}),
    (Lot, {"material": "oak", "mass": "40 kg", "decay": 6}),
    (Lot, {"material": "oak", "mass": "40 kg", "decay": "two"}),
    (Lot, {"material": "oak", "pieces": {"count": 0, "length": "1 m", "diameter": "9 cm"}}),
    (Lot, {"material": "oak", "mass": "40 kg", "lying": "perhaps"}),
    (Heap, {"lots": []}),
    (Burn, {"burner": "kettle", "heaped": 9}),
]


@pytest.mark.parametrize(("model", "data"), REFUSED)
def test_what_is_plainly_wrong_is_not_valid(model: type[BaseModel], data: dict[str, Any]) -> None:
    with pytest.raises(ValueError):
        model.model_validate(data)
    assert errors(validator(model), data)


HEAP_SCHEMA = validator(Heap)


@given(heaps())
@examples(0.5)
def test_every_heap_is_valid_as_it_is_written(specs: list[Spec]) -> None:
    data = json.loads(heap_of(specs).model_dump_json())
    assert errors(HEAP_SCHEMA, data) == []


# --- examples -------------------------------------------------------------------------------------


@pytest.mark.parametrize("model", INPUTS)
def test_every_quantity_has_valid_examples(model: type[BaseModel]) -> None:
    schema = model.model_json_schema()
    found = [node for node in subschemas(schema) if "x-dimension" in node]
    assert found
    for node in found:
        given = [text for part in subschemas(node) for text in part.get("examples", ())]
        assert given, node
        for text in given:
            if node["x-dimension"] == "moisture":
                read_moisture(text)
            else:
                read_quantity(text, node["x-dimension"])


@pytest.mark.parametrize("model", [Heap, Job, BatchRecord, Lot, Burn])
def test_the_example_of_a_model_is_valid_and_appraises(model: Any) -> None:
    schema = model.model_json_schema()
    assert schema["examples"]
    for example in schema["examples"]:
        assert errors(Draft202012Validator(schema), example) == []
        read = model.model_validate(example)
        if model in (Heap, Job):
            assert appraise(read, tables=tables()).lots
        if model is Lot:
            assert appraise(Heap(lots=[read]), tables=tables()).lots


# --- results --------------------------------------------------------------------------------------


def test_a_result_is_valid_as_it_is_written() -> None:
    schema = validator(Appraisal, "serialization")
    for job in (Job.read(path) for path in sorted(EXAMPLES.glob("*.yaml"))):
        data = json.loads(appraise(job, tables=tables()).model_dump_json())
        assert errors(schema, data) == []
    assert errors(schema, {"lots": []})


@pytest.mark.parametrize("model", [*INPUTS, Appraisal, LotAppraisal])
def test_a_schema_of_what_is_written_is_not_empty(model: type[BaseModel]) -> None:
    schema = model.model_json_schema(mode="serialization")
    assert set(schema["properties"]) >= {info.alias or n for n, info in model.model_fields.items()}
    for name in ("Heap", "Lot", "Burn", "Moisture"):
        if name in schema.get("$defs", {}):
            assert schema["$defs"][name] != {}


@pytest.mark.parametrize("mode", ["validation", "serialization"])
def test_estimates_and_messages_are_named_components(mode: Any) -> None:
    schema = Appraisal.model_json_schema(mode=mode)
    assert {"Estimate", "Message", "LotAppraisal", "Finding", "Lot"} <= set(schema["$defs"])
    mass = schema["properties"]["dry_mass"]
    assert mass["$ref"] == "#/$defs/Estimate"
    assert mass["x-unit"] == "kg"
    assert set(schema["$defs"]["Estimate"]["required"]) == {"low", "mid", "high", "unit"}


@pytest.mark.parametrize(
    "model",
    [Appraisal, Experience, ForecastCheck, Qualities, Carbon, Blend, BedPlan, Gathering, Sizing],
)
def test_every_field_of_a_result_is_described(model: type[BaseModel]) -> None:
    schema = model.model_json_schema(mode="serialization")
    bare = [
        f"{name}.{field}"
        for name, part in {model.__name__: schema, **schema["$defs"]}.items()
        for field, about in part.get("properties", {}).items()
        if not about.get("description")
    ]
    assert not bare, bare


@pytest.mark.parametrize("model", INPUTS)
def test_every_field_of_an_input_is_described(model: type[BaseModel]) -> None:
    schema = model.model_json_schema()
    bare = [
        f"{name}.{field}"
        for name, part in {model.__name__: schema, **schema.get("$defs", {})}.items()
        for candidate in (part, *part.get("anyOf", ()))
        for field, about in candidate.get("properties", {}).items()
        if not about.get("description")
    ]
    assert not bare, bare


# --- the command ----------------------------------------------------------------------------------


@pytest.mark.parametrize("what", ["heap", "job", "record", "appraisal"])
def test_the_command_prints_a_schema(what: str, run_cli: RunCli) -> None:
    status, out, _ = run_cli("schema", what)
    assert status == 0
    schema = json.loads(out)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)


def test_the_schema_of_records_takes_a_file_of_records(run_cli: RunCli) -> None:
    schema = Draft202012Validator(json.loads(run_cli("schema", "record")[1]))
    text = (EXAMPLES / "records" / "batches.yaml").read_text(encoding="utf-8")
    assert errors(schema, read_yaml(text, "batches.yaml").data) == []
    by_heap = {"heap": "storm.yaml", "used": ["limbs"], "char": {"volume": "60 L"}}
    assert errors(schema, {"burn": {"burner": "pit"}, "batches": [by_heap]}) == []
    assert errors(schema, [by_heap]) == []
    assert errors(schema, {"batches": [{**by_heap, "chr": {}}]})


def test_an_unknown_schema_is_told(run_cli: RunCli) -> None:
    status, _, told = run_cli("schema", "heaps")
    assert status == 2
    assert "heap" in told


def test_results_are_not_changed_by_being_described() -> None:
    result = appraise(heap(), tables=tables())
    Appraisal.model_json_schema()
    assert Appraisal.model_validate_json(result.model_dump_json()) == result
