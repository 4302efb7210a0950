"""Every field of a row is told, in the page of fields and in the JSON Schema, and neither differs
from the models; the list of rows; versions of sets.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from builders import RunCli
from feedstock import TableError, load_tables
from feedstock.contrib.field_page import _cell_of, _field_uses, _fields, _models, field_page
from feedstock.contrib.json_schema import json_schema
from feedstock.contrib.listing import listing
from feedstock.quantities.described import field_texts
from feedstock.tables.loading.raw import SET_PARTS
from feedstock.tables.loading.versions import older
from feedstock.tables.rows.cell_parts import CELL_PARTS
from feedstock.tables.rows.kinds import MODELS
from feedstock.tables.rows.light import Light
from feedstock.tables.rows.material import Material
from feedstock.tables.rows.methods.kinds import METHODS
from feedstock.tables.rows.row import Row, Sourced

pytestmark = pytest.mark.property


def every_model() -> Iterator[type[Light]]:
    """The rows of every kind, and the parts that they are made of."""
    seen: set[type[Light]] = set()
    waiting: list[type[Light]] = [Row, Sourced, *MODELS.values(), *METHODS.values()]
    while waiting:
        model = waiting.pop()
        if model not in seen:
            seen.add(model)
            yield model
            waiting += [
                part for info in model.model_fields.values() for part in _models(info.annotation)
            ]


ALL = sorted(every_model(), key=lambda model: model.__name__)


def test_every_field_of_a_row_says_what_it_means() -> None:
    own = [(m, name) for m in ALL for name in m.model_fields if name in m.__annotations__]
    bare = [f"{m.__name__}.{n}" for m, n in own if n != "kind_" and n not in field_texts(m)]
    assert len(own) > 450
    assert bare == []
    short = [
        f"{m.__name__}.{n}: {field_texts(m)[n]}"
        for m, n in own
        if n != "kind_" and len(field_texts(m)[n].split()) < 2
    ]
    assert short == []


def test_a_share_says_of_what() -> None:
    """A number without a unit means nothing before one knows what it is a part of."""
    parts = (" of ", " over ", "points", "as a ", "per ", "how ", "what ", "same", "times")
    vague = [
        f"{m.__name__}.{n}: {field_texts(m)[n]}"
        for m in ALL
        for n, info in m.model_fields.items()
        if n in m.__annotations__
        and (cell := _cell_of(info)) is not None
        and cell.dimension in ("share", "mass share")
        and not any(part in f" {field_texts(m)[n].lower()}" for part in parts)
    ]
    assert vague == []


def test_the_page_tells_every_field_of_the_models() -> None:
    page = " ".join(field_page().split())
    missing = [
        f"{m.__name__}.{name}"
        for m in ALL
        for name, _ in _fields(m, {})
        if name != "kind"
        and " ".join(field_texts(m).get(_attribute(m, name), "?").split()) not in page
    ]
    assert missing == []
    assert [part for part in (*CELL_PARTS.values(), *SET_PARTS.values()) if part not in page] == []


def _attribute(model: type[Light], name: str) -> str:
    return next(str(n) for n, info in model.model_fields.items() if name in (n, info.alias))


def test_every_cell_has_its_measure_and_an_example() -> None:
    held = _field_uses()
    cells = 0
    for model in ALL:
        for name, told in _fields(model, held):
            if _cell_of(model.model_fields[_attribute(model, name)]) is not None:
                cells += 1
                assert told[1].startswith("A cell"), name
                assert any(line.startswith("For instance") for line in told), (model, name)
    assert cells > 250


def test_a_span_is_that_of_the_reference() -> None:
    """The lightest and the densest wood of the reference, looked up there and written here."""
    cells = [
        (row.basic_density.mid, row.basic_density.text[0])
        for row in load_tables(plugins=False).rows["materials"].values()
        if isinstance(row, Material) and row.basic_density is not None
    ]
    told = " ".join(field_page("basic_density").split())
    assert f"{min(cells)[1]} to {max(cells)[1]} in the reference" in told


def test_one_kind_or_one_field_can_be_asked_for(run_cli: RunCli) -> None:
    status, out, _ = run_cli("tables", "schema", "--text", "quench")
    assert status == 0
    assert out.startswith("methods, kind: quench")
    assert "basic_density" not in out
    status, _, told = run_cli("tables", "schema", "--text", "basic_densty")
    assert status == 2
    assert "basic_density" in told


def nodes(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, list):
        for item in node:
            yield from nodes(item)
    elif isinstance(node, dict):
        yield node
        for value in node.values():
            yield from nodes(value)


def test_every_field_is_described_in_the_json_schema() -> None:
    schema = json_schema()
    structural = {"materials", *MODELS, "methods", "amend", "replace"}
    bare = [
        name
        for node in nodes(schema)
        if node.get("type") == "object"
        for name, about in node.get("properties", {}).items()
        if isinstance(about, dict) and not about.get("description") and name not in structural
    ]
    assert bare == []
    material = schema["properties"]["materials"]["additionalProperties"]["properties"]
    assert material["ash"]["description"] == field_texts(MODELS["materials"])["ash"]


# --- the list ------------------------------------------------------------------------------------


def test_the_list_has_all_names_licence_and_maintainer(run_cli: RunCli) -> None:
    status, out, _ = run_cli("tables", "list")
    assert status == 0
    told = " ".join(out.split())
    tables = load_tables(plugins=False)
    info = tables.sets[0]
    assert f"licence {info.licence}" in told
    assert f"maintainer {info.maintainer}" in told
    lines = "\n".join(listing(tables))
    rows = [row for kind in tables.rows.values() for row in kind.values()]
    names = [name for row in rows for of in row.names.values() for name in of]
    assert [name for name in names if name not in lines] == []


def test_the_list_is_searched_and_read_by_programs(run_cli: RunCli) -> None:
    status, out, _ = run_cli("tables", "list", "materials", "--search", "Steineiche", "--json")
    assert status == 0
    found = json.loads(out)
    assert [row["row"] for row in found["rows"]] == ["reference:evergreen-oak"]
    assert "Steineiche" in found["rows"][0]["names"]["de"]
    assert found["sets"][0]["licence"]
    _, out, _ = run_cli("tables", "list", "--search", "zzyzx")
    assert "No row has 'zzyzx' in a name." in out


# --- versions -------------------------------------------------------------------------------------


def needing(requires: Any, version: str = "1.0") -> dict[str, Any]:
    return {"set": {"name": "mine", "version": version, "schema": "1", "requires": requires}}


def test_versions_are_compared_as_numbers() -> None:
    assert older("1.9", "1.10")
    assert not older("1.10", "1.9")
    assert not older("2", "1.99.9")
    assert not older("1.0.0", "1.0")


def test_a_set_that_needs_a_later_reference_is_refused() -> None:
    load_tables(needing("reference 1.0.0"), plugins=False)
    load_tables(needing(["reference 0.9", "reference 1"]), plugins=False)
    with pytest.raises(TableError, match=r"needs 'reference' 99\.1 or later; this is 1\.0\.0"):
        load_tables(needing("reference 99.1"), plugins=False)
    with pytest.raises(TableError, match="needs the set 'other', which is not loaded"):
        load_tables(needing("other 1.0"), plugins=False)
    with pytest.raises(TableError, match="not the name of a set and a version"):
        load_tables(needing("reference"), plugins=False)


def test_a_set_comes_behind_what_it_needs() -> None:
    other = {"set": {"name": "other", "version": "3", "schema": "1"}}
    tables = load_tables(needing("other 2.5"), other, plugins=False)
    assert [info.name for info in tables.sets] == ["reference", "other", "mine"]
