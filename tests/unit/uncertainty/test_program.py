"""A compiled chain gives what the interpreted one gives, to the last digit, for any chain."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from feedstock.uncertainty.figure import UncertainValue
from feedstock.uncertainty.graph import FEW, Step, run
from feedstock.uncertainty.inputs import Input, Origin, exact_input
from feedstock.uncertainty.intervals import Z95
from feedstock.uncertainty.keys import lot_key
from feedstock.uncertainty.propagate import forget_kept, propagate
from feedstock.uncertainty.sums import add


def product(a: Any, b: Any) -> Any:
    return a * b


def mixed(a: Any, b: Any, c: Any) -> Any:
    return a / (1.0 + b) + 0.1 * c


def shrunk(a: Any) -> Any:
    return a * 0.7 + 0.01


ORIGIN = Origin("assumption", "test")
FUNCTIONS: list[tuple[Callable[..., Any], int]] = [(product, 2), (mixed, 3), (shrunk, 1)]


@st.composite
def chains(draw: st.DrawFn) -> tuple[tuple[Step, ...], list[Input], list[str]]:
    """Up to eight inputs with shared keys, up to ten steps on whatever stands before them."""
    inputs = []
    for number in range(draw(st.integers(1, 8))):
        mid = draw(st.floats(0.05, 20.0))
        below, above = draw(st.floats(0.0, 0.5)), draw(st.floats(0.0, 0.9))
        key = lot_key("x", str(draw(st.integers(0, 4))))
        ends = mid * (1 - below), mid, mid * (1 + above)
        inputs.append(Input(f"{{in {number}}}", *ends, "log", key, ORIGIN))
    names, steps = [each.name for each in inputs], []
    for number in range(draw(st.integers(1, 10))):
        function, count = draw(st.sampled_from(FUNCTIONS))
        taken = tuple(draw(st.sampled_from(names)) for _ in range(count))
        names.append(f"import os; step {number}")
        steps.append(Step(names[-1], function, taken))
    wanted = draw(st.lists(st.sampled_from(names), min_size=1, max_size=4, unique=True))
    return tuple(steps), inputs, wanted


@pytest.mark.property
@given(chains())
def test_compiled_is_interpreted(case: tuple[tuple[Step, ...], list[Input], list[str]]) -> None:
    steps, inputs, wanted = case
    figures = propagate(steps, inputs, wanted)
    middle = run(steps, {each.name: each.mid for each in inputs})
    for name in wanted:
        assert figures[name].mid == middle[name]
    for key in {each.key for each in inputs}:
        for side, z in ((0, -Z95), (1, Z95)):
            moved = {
                each.name: (each.low, each.high)[side] if each.key == key else each.mid
                for each in inputs
            }
            values = run(steps, moved)
            at = run(steps, {e.name: e.at(z / 3) if e.key == key else e.mid for e in inputs})
            for name in wanted:
                change = values[name] - middle[name]
                told = figures[name].sensitivities.get(key, (0.0, 0.0))[side]
                assert told == change or abs(change) <= 1e-9 * abs(middle[name])
                source = figures[name].source
                assert source is not None
                # step by step first, compiled at last
                runs = [source.evaluate({key: z / 3}) for _ in range(FEW + 1)]
                assert runs == [at[name]] * (FEW + 1)
    for _ in range(FEW):
        again = propagate(steps, inputs, wanted)
    for name in wanted:
        assert again[name].mid == figures[name].mid
        assert dict(again[name].sensitivities) == dict(figures[name].sensitivities)


@pytest.mark.property
def test_columns_take_the_same_program() -> None:
    steps = (Step("c", product, ("a", "b")), Step("d", shrunk, ("c",)))
    a, b = np.array([1.0, 2.0, 5.0]), 3.0
    inputs = [
        Input("a", a * 0.9, a, a * 1.1, "log", "lot:a", ORIGIN),
        Input("b", 2.0, b, 4.0, "log", "lot:b", ORIGIN),
    ]
    whole = propagate(steps, inputs, ["d"])["d"]
    for row, one in enumerate(a):
        alone = [Input("a", one * 0.9, one, one * 1.1, "log", "lot:a", ORIGIN), inputs[1]]
        single = propagate(steps, alone, ["d"])["d"]
        assert whole.mid[row] == single.mid
        assert {
            k: (x[row], y[row]) for k, (x, y) in whole.sensitivities.items()
        } == single.sensitivities


@pytest.mark.regression
def test_ends_that_are_kept_do_not_depend_on_which_lot_came_first() -> None:
    steps = (Step("dry", product, ("mass", "share")),)

    def ends(mass: float, kept: str | None) -> tuple[float, float]:
        inputs = [
            Input("mass", 0.97 * mass, mass, 1.03 * mass, "log", "scale:heap", ORIGIN, amount=True),
            Input("share", 0.7, 0.8, 0.95, "logit", "meter:pin", ORIGIN),
        ]
        return propagate(steps, inputs, ["dry"], kept)["dry"].ends

    forget_kept()
    first = [ends(mass, "a") for mass in (17.3, 250.0)]
    forget_kept()
    assert [ends(mass, "a") for mass in (250.0, 17.3)] == first[::-1]
    for mass, told in zip((17.3, 250.0), first, strict=True):
        assert told == pytest.approx(ends(mass, None), rel=1e-9)


@pytest.mark.worked
def test_what_is_the_persons_own_in_stated_ranges_is_shared() -> None:
    """Twelve guesses of 30 to 53 kg around 40 kg, half of the variance the person's: the relative
    width of the sum is sqrt(1/2 + 1/24) = 0.736 of a single one's, to first order.
    """
    steps = (Step("dry", product, ("mass", "share")),)

    def lot(number: int) -> UncertainValue:
        key = f"stated:{number}"
        mass = Input("mass", 30.0, 40.0, 160 / 3, "log", key, ORIGIN, shared=0.5, amount=True)
        share = exact_input("share", 0.8, ORIGIN)
        return propagate(steps, [mass, share], ["dry"])["dry"]

    one, twelve = lot(1), add(lot(number) for number in range(12))
    assert add([one]) is one
    assert one.ends == pytest.approx((24.0, 128 / 3), rel=1e-9)
    width, widths = ((f.ends[1] - f.ends[0]) / f.mid for f in (one, twelve))
    assert 0.70 < widths / width < 0.78


@pytest.mark.property
@given(chains(), st.randoms(use_true_random=False))
def test_the_order_of_inputs_does_not_move_a_digit(
    case: tuple[tuple[Step, ...], list[Input], list[str]], r: Any
) -> None:
    """A lot alone and the same lot in a heap have their inputs in another order at times."""
    steps, inputs, wanted = case
    shuffled = list(inputs)
    r.shuffle(shuffled)
    one, other = (propagate(steps, entries, wanted) for entries in (inputs, shuffled))
    for name in wanted:
        assert one[name].ends == other[name].ends
