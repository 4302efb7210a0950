"""How deep `like` may go does not depend on the order in which rows are written."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest

from builders import own_set
from feedstock import TableError, load_tables


def chain(length: int, order: tuple[int, ...]) -> dict[str, Any]:
    """Rows d1 to dN, each like the one before it and d1 like oak, which is like hardwood."""
    rows = {n: {"like": f"d{n - 1}" if n > 1 else "oak"} for n in range(1, length + 1)}
    return {f"d{n}": rows[n] for n in order}


@pytest.mark.regression
@pytest.mark.parametrize("order", [*permutations((1, 2, 3, 4))][::5])
def test_five_deep_is_taken_in_any_order(order: tuple[int, ...]) -> None:
    # d4 - d3 - d2 - d1 - oak - hardwood: five steps
    tables = load_tables(own_set(materials=chain(4, order)), plugins=False)
    assert (
        tables.material("mine:d4").basic_density == tables.material("reference:oak").basic_density
    )


@pytest.mark.regression
@pytest.mark.parametrize("order", [(1, 2, 3, 4, 5), (5, 4, 3, 2, 1), (3, 1, 5, 2, 4)])
def test_six_deep_is_refused_in_any_order(order: tuple[int, ...]) -> None:
    with pytest.raises(TableError) as why:
        load_tables(own_set(materials=chain(5, order)), plugins=False)
    (problem,) = why.value.problems
    assert problem.code == "depth"
    assert "d5" in str(problem)
