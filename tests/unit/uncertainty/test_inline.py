"""Formulas that are written out give what they give when called, to the last digit."""

from __future__ import annotations

import inspect
import math
import random
import sys
from collections.abc import Callable, Sequence
from types import FunctionType
from typing import Any

import pytest

import feedstock.physics
from builders import heap, tables
from feedstock import Burn, appraise
from feedstock.physics import feeding, firing, quench
from feedstock.uncertainty.elementwise import exp, maximum
from feedstock.uncertainty.graph import Step, rows_function, run
from feedstock.uncertainty.inline import Writer
from package import PACKAGE


def formulas() -> list[FunctionType]:
    """Every public function of the physics."""
    found = []
    for path in sorted((PACKAGE / "physics").glob("[a-z]*.py")):
        module = __import__(f"{feedstock.physics.__name__}.{path.stem}", fromlist=["_"])
        found += [
            each
            for name, each in vars(module).items()
            if isinstance(each, FunctionType)
            and each.__module__ == module.__name__
            and not name.startswith("_")
        ]
    return found


def written(function: Callable[..., Any], count: int) -> Callable[..., Any] | None:
    """The function as it is written out."""
    space: dict[str, Any] = {}
    names = [f"x{n}" for n in range(count)]
    lines = Writer(space).lines(function, names)
    if lines is None:
        return None
    body = [f"  {line}" for line in lines[:-1]] + [f"  return {lines[-1]}"]
    exec("\n".join([f"def run({','.join(names)}):", *body]), space)
    run: Callable[..., Any] = space["run"]
    return run


def tried(function: Callable[..., Any], values: Sequence[float]) -> Any:
    try:
        found = function(*values)
    except (ArithmeticError, ValueError) as why:
        return type(why)
    return repr(found)


@pytest.mark.property
def test_every_formula_that_is_written_out_gives_the_same() -> None:
    r, out = random.Random(3), 0
    every = formulas()
    for function in every:
        count = len(inspect.signature(function).parameters)
        plain = written(function, count)
        if plain is None:
            continue
        out += 1
        for _ in range(50):
            values = [
                r.choice([r.uniform(0, 1), r.lognormvariate(0, 3), 0.0]) for _ in range(count)
            ]
            assert tried(plain, values) == tried(function, values), function.__name__
    print(f"{out} of {len(every)} formulas can be written out")
    assert out > 0.6 * len(every)


def outer(scale: float) -> Callable[[float], float]:
    def inner(x: float) -> float:
        return scale * x

    return inner


def with_choice(x: float) -> float:
    return 1.0 if x > 2 else x


def with_default(x: float, y: float = 1.0) -> float:
    return x * y


def with_loop(x: float) -> float:
    return sum(x for _ in range(3))


def with_other(x: float) -> float:
    return math.hypot(x, x)


@pytest.mark.regression
@pytest.mark.parametrize(
    "function",
    [outer(2.0), with_choice, with_default, with_loop, with_other, lambda x: x, math.exp],
)
def test_what_is_not_plain_is_called(function: Callable[..., Any]) -> None:
    assert Writer({}).lines(function, ["x0"]) is None
    chain = (Step("y", function, ("x",)),)
    rows = rows_function(chain, ("x",), (), ("y",)).rows
    assert rows([[0.5, 3.0]], ())[0] == [function(0.5), function(3.0)]


@pytest.mark.regression
def test_a_source_that_is_not_the_one_that_runs_is_not_read() -> None:
    """A file that changed since it was loaded, or that is not there, must not decide."""
    same = FunctionType(firing.loads.__code__, firing.loads.__globals__)
    assert Writer({}).lines(same, ["x0", "x1"]) is not None
    for change in (
        {"co_firstlineno": firing.loads.__code__.co_firstlineno + 1},
        {"co_filename": "/nowhere/firing.py"},
        {"co_consts": (*firing.loads.__code__.co_consts, 3.0)},
    ):
        code = firing.loads.__code__.replace(**change)
        other = FunctionType(code, firing.loads.__globals__)
        assert Writer({}).lines(other, ["x0", "x1"]) is None


@pytest.mark.property
def test_rows_are_the_interpreted_chain() -> None:
    r = random.Random(8)
    chain = (
        Step("steam", quench.heat_to_steam, ("water", "boiling", "capacity", "latent")),
        Step("quick", maximum, ("fuel", "least")),
        Step("left", feeding.part_of_heap, ("quick", "used")),
        Step("grown", exp, ("left",)),
        Step("boiled", quench.boiled_off, ("grown", "heat", "steam", "factor")),
    )
    drawn = ("water", "fuel", "used", "heat", "factor")
    exact = {"boiling": 100.0, "capacity": 4.2, "latent": 2.26e6, "least": 0.4}
    columns = [[r.uniform(0.1, 2.0) for _ in range(200)] for _ in drawn]
    wanted = ("boiled", "steam", "quick")
    found = rows_function(chain, drawn, tuple(exact), wanted).rows(columns, tuple(exact.values()))
    for n, row in enumerate(zip(*columns, strict=True)):
        values = run(chain, {**dict(zip(drawn, row, strict=True)), **exact})
        assert [column[n] for column in found] == [values[name] for name in wanted]


@pytest.mark.property
def test_lists_and_arrays_draw_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the host has loaded an array library and where not."""
    burn = Burn(burner="cone pit", width="1 m", depth="0.5 m", firing="top-lit")
    with_arrays = appraise(heap(), burn, tables())
    assert "numpy" in sys.modules
    monkeypatch.delitem(sys.modules, "numpy")
    assert appraise(heap(), burn, tables()) == with_arrays
