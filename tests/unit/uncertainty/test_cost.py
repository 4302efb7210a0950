"""What figures cost, counted in calls of the steps of a lot's chain, in folds and in operations of
the interpreter; never by the clock. With -s the ratios to the same physics written out by hand.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from types import FrameType
from typing import Any

import pytest

from builders import tables
from costs import compile_at_once, hand_chain, operations, seconds
from feedstock import Lot
from feedstock.lot.build import Setting, build_lot_model
from feedstock.lot.model import LOT_FIGURES
from feedstock.uncertainty.graph import Chain, compiled, downstream, key_numbers
from feedstock.uncertainty.inputs import Input
from feedstock.uncertainty.propagate import forget_kept, propagate

pytestmark = pytest.mark.regression


@dataclass(frozen=True)
class Work:
    """The chain of a lot with its inputs, and its public figures."""

    chain: Chain
    inputs: tuple[Input, ...]
    wanted: tuple[str, ...]


def weighed(mass: str = "20 kg", moisture: str = "18 % dry") -> Work:
    """The lot that `hand_chain` writes out."""
    found = tables()
    setting = Setting(found, found.find("burners", "cone pit"), None)
    lot = Lot(material="oak", mass=mass, moisture=moisture, origin="own trees")
    model = build_lot_model(lot, setting, "lots[0]")
    return Work(
        model.chain, model.inputs, tuple(LOT_FIGURES[name].output for name in model.figures)
    )


def counted(work: Work) -> tuple[Work, list[str]]:
    """The same chain, and a list to which every call of a step adds its name."""
    seen: list[str] = []

    def counting(name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        def call(*values: Any) -> Any:
            seen.append(name)
            return function(*values)

        return call

    chain = tuple(
        step._replace(function=counting(step.output, step.function)) for step in work.chain
    )
    return replace(work, chain=chain), seen


def needed(work: Work) -> set[str]:
    """The steps on which some figure rests."""
    names = set(work.wanted)
    for step in reversed(work.chain):
        if step.output in names:
            names.update(step.inputs)
    return {step.output for step in work.chain if step.output in names}


def reruns(work: Work) -> int:
    """Steps behind each key, for every key once."""
    after, keys = downstream(work.chain), dict[str, set[str]]()
    for item in work.inputs:
        if not item.exact:
            behind = {work.chain[n].output for n in after.get(item.name, ())}
            keys.setdefault(item.key, set()).update(behind)
    return sum(len(behind & needed(work)) for behind in keys.values())


def folds(work: Callable[[], object]) -> int:
    """Calls of the error function: a sum of doubts cannot be folded without."""
    count = 0

    def entered(frame: FrameType, event: str, called: Any) -> None:
        nonlocal count
        if event == "c_call" and called.__name__ == "erf":
            count += 1

    before = sys.getprofile()
    sys.setprofile(entered)
    try:
        work()
    finally:
        sys.setprofile(before)
    return count


def read(work: Work, kept: object = None) -> None:
    """All figures with their ends."""
    for figure in propagate(work.chain, work.inputs, work.wanted, kept).values():
        figure.ends  # noqa: B018


def test_middle_and_both_ends_of_every_key_run_what_is_behind_it_and_no_more() -> None:
    work, seen = counted(weighed())
    propagate(work.chain, work.inputs, work.wanted)
    few = len(needed(work)) + 2 * reruns(work)
    keys = len({item.key for item in work.inputs if not item.exact})
    print(f"{len(needed(work))} steps, {keys} keys: {len(seen)} calls of steps")
    assert len(seen) == few
    assert few < len(needed(work)) * (1 + 2 * keys) / 2


def test_a_figure_that_nobody_reads_costs_no_fold() -> None:
    work = weighed()
    assert folds(lambda: propagate(work.chain, work.inputs, work.wanted)) == 0
    assert folds(partial(read, work)) > 0


def test_half_way_runs_are_made_once_and_joint_runs_twice_a_figure() -> None:
    """At most: what no doubt leans on needs no look half way."""
    work, seen = counted(weighed())
    read(work)
    perturbed = len(needed(work)) + 2 * reruns(work)
    joint = 2 * len(work.wanted) * len(needed(work))
    half_way = len(needed(work)) + 2 * reruns(work)
    assert len(seen) <= perturbed + half_way + joint


def test_a_kept_kind_runs_no_fold_and_no_step_beyond_its_keys() -> None:
    """Nor does another amount of the same kind; of its keys nothing is run until somebody asks."""
    forget_kept()
    work, seen = counted(weighed())
    read(work, "kind")
    seen.clear()
    other = weighed("35 kg")
    amounts = {item.name: item for item in other.inputs}
    more = replace(work, inputs=tuple(amounts[item.name] for item in work.inputs))
    assert folds(partial(read, more, "kind")) == 0
    assert len(seen) == len(needed(work))
    seen.clear()
    figures = propagate(more.chain, more.inputs, more.wanted, "kind")
    assert sum(figures["char_mass"].shares().values()) == pytest.approx(1.0)
    assert len(seen) <= 3 * len(needed(work)) + 4 * reruns(work)


def test_another_shape_under_the_same_mark_has_its_own_ends() -> None:
    """What is kept belongs to the shape too: a chain with one step more is another."""
    forget_kept()
    work = weighed()
    figure = "dry_mass"
    first = propagate(work.chain, work.inputs, [figure], "kind")[figure].ends
    last = next(step for step in work.chain if step.output == figure)
    squared = last._replace(function=lambda *values: last.function(*values) ** 2)
    chain = tuple(squared if step is last else step for step in work.chain)
    second = propagate(chain, work.inputs, [figure], "kind")[figure]
    assert second.ends == pytest.approx(propagate(chain, work.inputs, [figure])[figure].ends)
    assert second.ends[1] > 2 * first[1]


def test_kept_ends_are_the_same_from_many_threads() -> None:
    forget_kept()
    works: Sequence[Work] = [weighed(moisture=f"{12 + n % 5} % dry") for n in range(40)]
    alone = [
        [figure.ends for figure in propagate(work.chain, work.inputs, work.wanted, n % 5).values()]
        for n, work in enumerate(works)
    ]
    forget_kept()
    found: list[Any] = [None] * len(works)

    def one(n: int) -> None:
        work = works[n]
        figures = propagate(work.chain, work.inputs, work.wanted, n % 5)
        found[n] = [figure.ends for figure in figures.values()]

    threads = [threading.Thread(target=one, args=(n,)) for n in range(len(works))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == alone


def every_key(work: Work) -> Callable[[], object]:
    """The compiled function that gives the middle and both ends of every key."""
    numbers, _ = key_numbers(work.inputs)
    names = tuple(item.name for item in work.inputs)
    program = compiled(work.chain, names, numbers, work.wanted)
    used = [work.inputs[n] for n in program.positions]
    columns = (
        [item.mid for item in used],
        [item.low for item in used],
        [item.high for item in used],
    )
    return partial(program.perturbations, *columns)


# in chains written by hand; a weighed piece in its bark has two doubts of bark in its char volume
EVERY_KEY, FIGURES, NEW, KEPT = 15, 40, 250, 30


def test_in_chains_written_by_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    """By operations of the interpreter: middle and both ends of every key; the figures that hold
    them; these and the ends of all, of a new kind of lot and of a kept one.
    """
    compile_at_once(monkeypatch)
    forget_kept()
    work = weighed()
    by_hand = partial(hand_chain, 20.0, 0.18, 0.01, 570.0, 0.01, 0.86, 0.22)
    chain = operations(by_hand)
    chain_time = seconds(lambda: [by_hand() for _ in range(2000)], 5) / 2000
    read(work, "kind")
    runs: list[tuple[str, Callable[[], object], int]] = [
        ("middle and both ends of every key", every_key(work), EVERY_KEY),
        ("figures", partial(propagate, work.chain, work.inputs, work.wanted), FIGURES),
        ("figures and ends of a new kind", partial(read, work), NEW),
        ("figures and ends of a kept kind", partial(read, work, "kind"), KEPT),
    ]
    for what, run, most in runs:
        count = operations(run) / chain
        time = seconds(partial(repeated, run), 5) / 50 / chain_time
        print(f"{what}: {count:.1f} chains by operations, {time:.1f} by time")
        assert count <= most


def repeated(run: Callable[[], object]) -> None:
    for _ in range(50):
        run()
