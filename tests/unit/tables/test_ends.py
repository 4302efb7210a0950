"""Where the ends of an interval come from, and rules that make them."""

from __future__ import annotations

from typing import Any

import jsonschema
import pytest

from builders import own_set
from feedstock import TableError, load_tables
from feedstock.contrib.check import check
from feedstock.contrib.json_schema import json_schema
from feedstock.quantities.cell import Cell
from feedstock.tables.loading.source import TableSource
from feedstock.tables.tables import Tables

WOOD = {
    "value": "620 kg/m^3",
    "low": "560 kg/m^3",
    "high": "690 kg/m^3",
    "known": "judgement",
    "note": "for the test",
}
READ = {"value": "600 kg/m^3", "source": "scale", "at": "slices 1 to 12"}
RULE = {
    "kind": "interval-rule",
    "known": "judgement",
    "below": {"value": 0.9, "known": "judgement", "note": "for the test"},
    "above": {"value": 1.2, "known": "judgement", "note": "for the test"},
    "derivation": "a tenth below and a fifth above, for the test",
}


def held(cell: dict[str, Any], name: str = "mine", **methods: Any) -> dict[str, Any]:
    return own_set(
        name,
        sources={"scale": {"title": "Twelve slices of our own robinia, dipped and dried"}},
        materials={"trial-wood": {"like": "hardwood", "basic_density": cell}},
        methods={"tenth": RULE, **methods},
    )


def loaded(cell: dict[str, Any]) -> Tables:
    return load_tables(held(cell), plugins=False)


def density(cell: dict[str, Any]) -> Cell:
    found = loaded(cell).cell("materials", "mine:trial-wood", ("basic_density",))
    assert found is not None
    return found


def refused(cell: dict[str, Any]) -> list[tuple[str, str]]:
    with pytest.raises(TableError) as why:
        loaded(cell)
    return [(problem.code, problem.field) for problem in why.value.problems]


@pytest.mark.property
def test_ends_left_out_are_a_judgement() -> None:
    assert density(WOOD).ends == "judgement"
    said = {**READ, "low": "560 kg/m^3", "high": "640 kg/m^3"}
    assert density(said).ends == "judgement"
    assert density({**said, "ends": "read"}).ends == "read"
    assert density({**said, "ends": "derived"}).ends == "derived"


@pytest.mark.worked
def test_a_rule_widens_the_lowest_and_the_highest_value_that_were_read() -> None:
    # 600 x 0.9 and 600 x 1.2; 580 x 0.9 and 650 x 1.2
    alone = density({**READ, "ends": "rule tenth"})
    assert (alone.low, alone.mid, alone.high) == pytest.approx((540, 600, 720))
    assert alone.text == ("600 kg/m^3", "540 kg/m^3", "720 kg/m^3")
    assert (alone.ends, alone.known) == ("rule tenth", "read")
    two = density({**READ, "low": "580 kg/m^3", "high": "650 kg/m^3", "ends": "rule mine:tenth"})
    assert (two.low, two.mid, two.high) == pytest.approx((522, 600, 780))


@pytest.mark.property
@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"ends": "guessed"}, "unknown-word"),
        ({"ends": "rule "}, "unknown-word"),
        ({"ends": "rule twelfth"}, "unknown-name"),
        ({"ends": "rule tenth", "covers": "sd"}, "unknown-field"),
        ({"ends": "rule tenth", "value": "560 to 640 kg/m^3"}, "not-a-quantity"),
        ({"ends": "read"}, "missing-field"),
        ({}, "missing-field"),
    ],
)
def test_what_does_not_say_it_is_refused(change: dict[str, Any], code: str) -> None:
    found = refused({**READ, **change})
    assert [each[0] for each in found] == [code]
    assert found[0][1].startswith("materials.trial-wood.basic_density")


@pytest.mark.property
def test_ends_that_were_read_need_what_they_were_read_in() -> None:
    assert [each[0] for each in refused({**WOOD, "ends": "read"})] == ["no-source"]
    both = {**WOOD, "ends": "read", "source": "scale", "at": "slices 1 to 12"}
    assert (density(both).known, density(both).ends) == ("judgement", "read")


@pytest.mark.property
def test_a_rule_of_the_set_before_is_found_and_not_taken_over() -> None:
    other = {**RULE, "below": {"value": 0.5, "known": "judgement", "note": "for the test"}}
    tables = load_tables(
        held({**READ, "ends": "rule tenth"}),
        own_set(
            "later",
            sources={"scale": {"title": "other slices"}},
            methods={"tenth": other},
            materials={
                "zelkova-one": {
                    "like": "hardwood",
                    "basic_density": {**READ, "ends": "rule tenth"},
                },
                "zelkova-two": {
                    "like": "hardwood",
                    "basic_density": {**READ, "ends": "rule later:tenth"},
                },
            },
        ),
        plugins=False,
    )
    found = [
        tables.cell("materials", f"later:{row}", ("basic_density",))
        for row in ("zelkova-one", "zelkova-two")
    ]
    assert [each.low for each in found if each is not None] == pytest.approx([540, 300])


@pytest.mark.property
def test_the_check_counts_ends_by_kind_and_names_each_rule() -> None:
    report = check(TableSource.of(held({**READ, "ends": "rule tenth"})), with_panel=False)
    assert report.errors == []
    assert report.ends == {"rule tenth": 1, "none": 2}
    assert report.cells == {"read": 1, "judgement": 2}


@pytest.mark.property
def test_the_schema_for_editors_knows_ends() -> None:
    validator = jsonschema.Draft202012Validator(json_schema())
    good = [{**READ, "ends": "rule tenth"}, WOOD, {**WOOD, "ends": "judgement"}]

    def written(cell: dict[str, Any]) -> dict[str, Any]:
        whole = held(cell)
        return {**whole, "set": {**whole["set"], "schema": 1}}

    for cell in good:
        validator.validate(written(cell))
    for cell in (READ, {**WOOD, "ends": "guessed"}, {**READ, "ends": "read"}):
        with pytest.raises(jsonschema.ValidationError):
            validator.validate(written(cell))
