"""The rows of methods for char, compost and beds, and the formulas that take them."""

from __future__ import annotations

import inspect
from typing import Any

import pytest
from pydantic import ValidationError

from builders import method_row, raw_methods
from feedstock.physics import learning, mixing, permanence, quality
from feedstock.tables.rows.methods.compost import Compost
from feedstock.tables.rows.methods.kinds import KINDS_AFTER
from feedstock.tables.rows.methods.permanence import InventoryDefaults, Permanence
from feedstock.tables.rows.methods.quality import CharQuality
from feedstock.tables.rows.row import Row
from feedstock.uncertainty.formula import formula_of


@pytest.fixture(scope="module")
def chars() -> CharQuality:
    found = method_row("after.yaml", "char-composition")
    assert isinstance(found, CharQuality)
    return found


@pytest.fixture(scope="module")
def lasting() -> Permanence:
    found = method_row("after.yaml", "permanence-100")
    assert isinstance(found, Permanence)
    return found


@pytest.fixture(scope="module")
def defaults() -> InventoryDefaults:
    found = method_row("after.yaml", "ipcc-2019")
    assert isinstance(found, InventoryDefaults)
    return found


@pytest.mark.property
@pytest.mark.parametrize("module", [quality, permanence, mixing, learning])
def test_formulas_name_their_reference_and_their_own_arguments(module: Any) -> None:
    found = [
        function
        for function in vars(module).values()
        if hasattr(function, "formula") and function.__module__ == module.__name__
    ]
    assert len(found) >= 4
    for function in found:
        about = formula_of(function)
        assert about.reference
        assert "result" in about.units
        assert set(about.units) - {"result"} <= set(inspect.signature(function).parameters), (
            function.__name__
        )


@pytest.mark.property
def test_all_rows_are_valid_and_all_kinds_used() -> None:
    rows: list[Row] = [method_row("after.yaml", key) for key in raw_methods("after.yaml")]
    assert {type(row) for row in rows} == set(KINDS_AFTER.values())


@pytest.mark.property
def test_groups_name_curves_that_exist(chars: CharQuality, defaults: InventoryDefaults) -> None:
    assert set(chars.groups.values()) == set(chars.curves)
    assert set(defaults.groups.values()) | set(defaults.materials.values()) <= set(defaults.carbon)


@pytest.mark.property
def test_a_row_refuses_what_it_does_not_know(lasting: Permanence) -> None:
    raw = raw_methods("after.yaml")["permanence-100"]
    with pytest.raises(ValidationError, match="extra"):
        Permanence.model_validate({**raw, "half_life": {"value": 5}})
    with pytest.raises(ValidationError):
        Permanence.model_validate({**raw, "lines": []})


@pytest.mark.transcribed
def test_the_curves_of_quality_end_where_their_chars_do(chars: CharQuality) -> None:
    """Enders and others 2012 made their chars from 300 to 600 degC in steps of 100; above 600 the
    curves are carried on, and a forecast says so.
    """
    assert [cell.text[0] for cell in (chars.lowest, chars.fitted_to)] == ["300 degC", "600 degC"]


@pytest.mark.transcribed
def test_compost_targets() -> None:
    # an extension practice sheet: C:N ideal 25 to 35, acceptable 20 to 40; moisture ideal 45 to 60,
    # acceptable 40 to 65 % wet
    found = method_row("after.yaml", "hot-compost")
    assert isinstance(found, Compost)
    assert [each.text[1:] for each in (found.moisture, found.moisture_acceptable)] == [
        ("45 % wet", "60 % wet"),
        ("40 % wet", "65 % wet"),
    ]
    assert (
        found.ratio.low,
        found.ratio.high,
        found.ratio_acceptable.low,
        found.ratio_acceptable.high,
    ) == (25, 35, 20, 40)
