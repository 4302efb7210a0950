"""The ends of plans against draws of the whole chain, lots and burn alike: every public figure of a
plan that is the least or the greatest of several things.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from builders import heap, lot, tables
from feedstock import Burn, Heap, Job, appraise
from feedstock.burn.fuel import Fuel
from feedstock.burn.plan import plan_graph, usable_fuels
from feedstock.burn.planned import PLAN_FIGURES, Planned
from feedstock.explanation import fuels_of
from feedstock.physics import raw_wood
from feedstock.uncertainty.graph import run
from feedstock.uncertainty.inputs import Input

Z = 1.6448536269514722
# what stands in the plan for the sum of a figure of the lots
BEHIND = {
    "total_dry": "dry_mass",
    "total_char_mass": "char_mass",
    "total_char": "char_volume",
    "total_wood": "wood_volume",
    "total_loose": "loose_volume",
}
TOP_LIT = {"firing": "top-lit"}
PLANS: list[tuple[str, str, str, dict[str, str]]] = [
    # material, mass, thickness, burn
    ("oak", "60 kg", "35 mm", {"firing": "fed"}),
    ("apple", "15 kg", "35 mm", {"width": "0.8 m", "firing": "fed"}),
    ("pine", "60 kg", "20 mm", {"duration": "40 min"}),
    ("oak", "35 kg", "35 mm", TOP_LIT),
    ("pine", "25 kg", "40 mm", {**TOP_LIT, "duration": "40 min"}),
]
MORE: list[tuple[str, str, str, dict[str, str]]] = [
    ("birch", "120 kg", "25 mm", {"width": "1.4 m", "firing": "fed"}),
    ("oak", "18 kg", "15 mm", {"duration": "50 min"}),
    ("spruce", "9 kg", "35 mm", {"duration": "20 min"}),
    ("apple", "90 kg", "30 mm", {"burner": "pit", "length": "1.2 m", "duration": "45 min"}),
    ("beech", "40 kg", "30 mm", {"burner": "pit", "length": "0.8 m", **TOP_LIT}),
    ("birch", "12 kg", "30 mm", {"width": "0.7 m", **TOP_LIT}),
    ("oak", "80 kg", "45 mm", {"width": "1.2 m", **TOP_LIT, "duration": "90 min"}),
]


# Amounts that a person guessed, far more than likely or far less: lots with shared doubt.
ABOVE = {
    "oak": ("oak", "5 to 60 kg, likely 10 kg", "40 mm"),
    "apple": ("apple", "10 to 90 kg, likely 20 kg", "30 mm"),
    "twigs": ("hazel", "2 to 25 kg, likely 5 kg", "12 mm"),
}
BELOW = {
    "oak": ("oak", "5 to 60 kg, likely 50 kg", "40 mm"),
    "twigs": ("hazel", "2 to 25 kg, likely 20 kg", "12 mm"),
}
Guessed = dict[str, tuple[str, str, str]]
GUESSES: list[tuple[Guessed, dict[str, str]]] = [
    (ABOVE, {}),
    (BELOW, {}),
    (ABOVE, TOP_LIT),
]
MORE_GUESSES: list[tuple[Guessed, dict[str, str]]] = [
    ({"oak": ABOVE["oak"]}, {}),
    (ABOVE, {**TOP_LIT, "duration": "40 min"}),
    (ABOVE, {"duration": "1 h"}),
    (ABOVE, {"hose": "8 L/min", "duration": "2 h"}),
]


def drawn(given: Input, z: Any) -> Any:
    """An input in the shape that its interval stands for: split at the middle, on its scale."""
    up, down = np.maximum(z, 0) / Z, np.minimum(z, 0) / Z
    low, mid, high = given.low, given.mid, given.high
    if given.scale == "log" and low > 0:
        return mid * (high / mid) ** up * (mid / low) ** down
    if given.scale == "logit" and low > 0 and high < 1:
        low, mid, high = (math.log(v / (1 - v)) for v in (low, mid, high))
        return 1 / (1 + np.exp(-(mid + (high - mid) * up + (mid - low) * down)))
    value = mid + (high - mid) * up + (mid - low) * down
    top = 1.0 if given.scale == "logit" else math.inf
    return value if given.scale == "linear" else np.clip(value, 0, top)


def burn_of(burn: dict[str, Any]) -> Burn:
    return Burn(**{"burner": "cone pit", "width": "1 m", "depth": "0.5 m", **burn})


def both(
    material: str, mass: str, thickness: str, burn: dict[str, str], count: int
) -> tuple[Planned, dict[str, Any]]:
    """The plan of one lot, and draws of all its values."""
    return of_heap(heap(lot(material, mass, thickness)), burn_of(burn), count)


def guessed(lots: Guessed, burn: dict[str, str], count: int) -> tuple[Planned, dict[str, Any]]:
    """The same of lots of which the amounts are guesses."""
    each = [lot(of, mass, thick, name=name) for name, (of, mass, thick) in lots.items()]
    return of_heap(heap(*each), burn_of(burn), count)


def of_heap(lots: Heap, fire: Burn, count: int) -> tuple[Planned, dict[str, Any]]:
    """The plan of a heap, and draws of all its values."""
    fuels, _ = usable_fuels(fuels_of(appraise(lots, fire, tables()), tables()), tables())
    planned = plan_graph(fuels, fire, tables(), tables().find("burners", fire.burner))
    layout, rng = planned.layout, np.random.default_rng(7)
    assert layout is not None
    normals: dict[str, Any] = {}

    def normal(key: str) -> Any:
        if key not in normals:
            normals[key] = rng.standard_normal(count)
        return normals[key]

    def value(item: Input) -> Any:
        if item.exact:
            return item.mid
        z = normal(item.key)
        if item.shared and len(layout.fuels) > 1:
            # of a guess a part is the person's, in all lots the same
            part = math.sqrt(item.shared), math.sqrt(1 - item.shared)
            z = part[0] * normal("the person") + part[1] * z
        return drawn(item, z)

    values = {item.name: value(item) for item in planned.graph.inputs.values()}
    of_lots = {
        fuel.name: run(fuel.model.chain, {item.name: value(item) for item in fuel.model.inputs})
        for fuel in layout.fuels
    }
    for total, behind in BEHIND.items():
        parts = [of_lots[f.name][behind] for f in layout.fuels if behind in f.figures]
        values[total] = sum(parts, 0.0)
    times = {name: found["char_through"] for name, found in of_lots.items()}
    values |= given_of(planned, times)
    with np.errstate(invalid="ignore"):  # where a fire eats nothing its length is nobody's
        return planned, run(planned.graph.steps, values)


def given_of(planned: Planned, times: dict[str, Any]) -> dict[str, Any]:
    """What the layout of a load makes of the draws of the times in the flame."""
    layout, fire = planned.layout, planned.fire
    assert layout is not None
    assert fire is not None

    def time_of(fuel: Fuel) -> Any:
        unsplit = float(run(fuel.model.chain, fuel.model.middles)["char_through"])
        return times[fuel.name] * (fuel.through.mid / unsplit)

    whole = sum(portion.dry for portion in layout.portions)
    raw: Any = 0.0
    mean, laid = 0.0, 0.0
    for portion in layout.portions:
        time = time_of(portion.fuel)
        if portion.part in ("bed", "main", "loose", "with", "layer"):
            young, old = (max(layout.end - at, 0.0) for at in (portion.end, portion.begin))
            left = raw_wood.raw_share_of_lot(young, old, time, fire.exponent)
            raw = raw + portion.dry / whole * left
        if portion.part == "layer":
            mean, laid = mean + portion.dry * time, laid + portion.dry
    assert layout.last is not None
    late = time_of(layout.last) * (1 - layout.since / layout.last.through.mid)
    least, most = (getattr(fire.planning, f"burn_down_{end}").mid for end in ("least", "most"))
    rest = max(fire.most_time - fire.bed, 0.0)
    found = {"burn_down": np.minimum(np.clip(late, least, most), rest)}
    if planned.firing == "fed" or not layout.clamped:
        return found | {"uncharred_fraction": raw}
    return found | {"mean_through": mean / laid}


def off(planned: Planned, values: dict[str, Any]) -> dict[str, tuple[float, float]]:
    """How far both ends of every public figure lie off, in parts of the half-width."""
    found = {}
    for output in dict.fromkeys(spec.output for spec in PLAN_FIGURES.values()):
        figure = planned.figures.get(output)
        if figure is None or figure.drawn is None or not np.ndim(values.get(output, 0.0)):
            continue
        low, high = np.nanquantile(values[output], [0.05, 0.95])
        half = (high - low) / 2
        if output == "uncharred_fraction" and planned.fire is not None:
            # next to nothing is as good as nothing: less than the burner leaves as a rule
            half = max(half, planned.fire.brands / 2)
        if half > 0:
            # an end never lies on the other side of the middle
            low, high = min(low, figure.mid), max(high, figure.mid)
            found[output] = tuple(
                float(end - true) / half for end, true in zip(figure.ends, (low, high), strict=True)
            )
    return found


# Both bounds of the deep tests were set after measuring. What is furthest off are burns of a stated
# time, where most wood stays raw: there a fire eats next to nothing in some of the draws, and
# the sum of doubts by key has no such edge. In plans without one an end lies within a twentieth but
# for the length of small loads that are lit from the top.
OFF = {"burn_char": 0.08, "burn_char_mass": 0.08}


def told(what: object, found: dict[str, tuple[float, float]]) -> list[float]:
    """All ends, after they were printed."""
    assert len(found) >= 5
    print(what, {name: f"{a:+.3f} {b:+.3f}" for name, (a, b) in found.items()})
    return [abs(end) for pair in found.values() for end in pair]


@pytest.mark.worked
@pytest.mark.deep
def test_ends_of_plans_lie_within_a_twentieth_of_the_half_width() -> None:
    """Against 300,000 draws of twelve plans (of 100,000 an end is off by a hundredth itself):
    eleven ends in twelve, and none much more than twice as far off.
    """
    every = []
    for case in [*PLANS, *MORE]:
        every += told(case, off(*both(*case, 300_000)))
    print(f"{len(every)} ends: 95th percentile {np.quantile(every, 0.95):.3f}, {max(every):.3f}")
    assert np.mean([end > 0.05 for end in every]) <= 1 / 12
    assert max(every) <= 0.11


@pytest.mark.worked
@pytest.mark.deep
def test_ends_of_guessed_heaps_lie_within_a_twentieth_of_the_half_width() -> None:
    """The same of heaps of which the amounts are lopsided guesses: nineteen ends in twenty."""
    every = []
    for lots, burn in [*GUESSES, *MORE_GUESSES]:
        every += told((tuple(lots), burn), off(*guessed(lots, burn, 300_000)))
    print(f"{len(every)} ends: 95th percentile {np.quantile(every, 0.95):.3f}, {max(every):.3f}")
    assert np.mean([end > 0.05 for end in every]) <= 1 / 20
    assert max(every) <= 0.1


@pytest.mark.worked
@pytest.mark.deep
def test_ends_of_all_kinds_of_heap_lie_within_a_twentieth_of_the_half_width() -> None:
    """The same of the heaps of all kinds: 24 ends in 25, and none much more than twice as
    far off.
    """
    every = []
    for path in sorted(Path(__file__).parents[2].glob("heaps/*.yaml")):
        job = Job.read(path)
        assert job.burn is not None
        every += told(path.stem, off(*of_heap(job.heap, job.burn, 300_000)))
    print(f"{len(every)} ends: 95th percentile {np.quantile(every, 0.95):.3f}, {max(every):.3f}")
    assert np.mean([end > 0.05 for end in every]) <= 1 / 25
    assert max(every) <= 0.11


@pytest.mark.worked
@pytest.mark.parametrize("case", PLANS)
def test_ends_of_plans_lie_near_draws(case: tuple[str, str, str, dict[str, str]]) -> None:
    """Against 20,000 draws, which themselves are off by up to a thirtieth of the half-width."""
    found = off(*both(*case, 20_000))
    told(case, found)
    for name, pair in found.items():
        most = OFF.get(name, 0.05) + 1 / 30
        assert all(abs(end) <= most for end in pair), (name, pair)


@pytest.mark.worked
@pytest.mark.parametrize(("lots", "burn"), GUESSES)
def test_ends_of_guessed_heaps_lie_near_draws(lots: Guessed, burn: dict[str, str]) -> None:
    found = off(*guessed(lots, burn, 20_000))
    told((tuple(lots), burn), found)
    for name, pair in found.items():
        assert all(abs(end) <= 0.05 + 1 / 30 for end in pair), (name, pair)


@pytest.mark.property
@pytest.mark.parametrize(
    ("burn", "names"),
    [
        ({"firing": "top-lit"}, ("loads", "duration", "burn_char", "quench_water")),
        ({"firing": "fed"}, ("loads", "duration", "burn_char", "quench_water")),
        ({"firing": "fed", "duration": "40 min"}, ("burn_char", "quench_water")),
    ],
)
def test_main_figures_lie_within_a_twentieth(burn: dict[str, str], names: tuple[str, ...]) -> None:
    planned, values = both("oak", "60 kg", "35 mm", burn, 100_000)
    for name in names:
        low, high = planned.figures[name].ends
        true_low, true_high = np.quantile(values[name], [0.05, 0.95])
        half = (high - low) / 2
        print(f"{burn} {name}: {low:.4g} to {high:.4g}, by draws {true_low:.4g} to {true_high:.4g}")
        # an end never lies on the other side of the middle
        middle = planned.figures[name].mid
        assert abs(low - min(true_low, middle)) <= 0.05 * half
        assert abs(high - max(true_high, middle)) <= 0.05 * half
