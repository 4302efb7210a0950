"""Every public function of the physics says its units, its source and shows an example; none stands
there for the checks alone.
"""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from typing import Any

import pytest

import feedstock.physics
from feedstock.uncertainty.formula import formula_of

pytestmark = pytest.mark.regression

MODULES = [
    importlib.import_module(f"feedstock.physics.{found.name}")
    for found in pkgutil.iter_modules(feedstock.physics.__path__)
]
PUBLIC: list[tuple[str, Callable[..., Any]]] = [
    (f"{module.__name__.rpartition('.')[2]}.{name}", function)
    for module in MODULES
    for name, function in inspect.getmembers(module, inspect.isfunction)
    if function.__module__ == module.__name__ and not name.startswith("_")
]


def test_there_is_physics() -> None:
    assert len(PUBLIC) > 120


@pytest.mark.parametrize("name, function", PUBLIC, ids=[name for name, _ in PUBLIC])
def test_a_function_says_units_source_and_example(name: str, function: Callable[..., Any]) -> None:
    doc = inspect.getdoc(function) or ""
    assert ">>> " in doc
    about = formula_of(function)
    if about.units:
        assert re.search(r"\[[^\]]+\]", doc)
        assert about.reference and not about.reference.startswith("identity")
        known = {*inspect.signature(function).parameters, "result"}
        assert set(about.units) <= known


@pytest.mark.parametrize("module", MODULES, ids=lambda module: str(module.__name__))
def test_the_examples_run(module: Any) -> None:
    failed, _ = doctest.testmod(module)
    assert failed == 0
