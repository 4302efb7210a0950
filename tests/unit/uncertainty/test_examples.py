"""The examples in docstrings give what they say."""

from __future__ import annotations

import doctest
import importlib
from types import ModuleType

import pytest

from package import PACKAGE

ROOM = [f"uncertainty.{path.stem}" for path in sorted((PACKAGE / "uncertainty").glob("[a-z]*.py"))]
NAMES = [*ROOM, "quantities.estimate", "quantities.units"]
MUST_HAVE = {
    *(f"uncertainty.{name}" for name in ("figure", "sums", "keys", "inputs", "intervals", "folds")),
    "uncertainty.graph",
    "quantities.estimate",
    "quantities.units",
}


def module(name: str) -> ModuleType:
    return importlib.import_module(f"feedstock.{name}")


@pytest.mark.worked
@pytest.mark.parametrize("name", NAMES)
def test_examples_hold(name: str) -> None:
    failed, _ = doctest.testmod(module(name))
    assert failed == 0


@pytest.mark.regression
def test_main_types_and_makers_have_examples() -> None:
    finder = doctest.DocTestFinder()
    having = {name for name in NAMES if any(item.examples for item in finder.find(module(name)))}
    assert having >= MUST_HAVE
