"""The ends of plans against draws of the whole chain, lot and burn alike: every public figure of a
plan that is the least or the greatest of several things.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from builders import heap, lot, tables
from feedstock import Burn, appraise
from feedstock.burn.fuel import Fuel
from feedstock.burn.plan import plan_graph, usable_fuels
from feedstock.burn.planned import PLAN_FIGURES, Planned
from feedstock.explanation import fuels_of
from feedstock.physics import raw_wood
from feedstock.uncertainty.graph import Step, run
from feedstock.uncertainty.inputs import Input

Z = 1.6448536269514722
# what stands in the plan for a figure of the lot
BEHIND = {
    "total_dry": "dry_mass",
    "total_char_mass": "char_mass",
    "total_char": "char_volume",
    "total_wood": "wood_volume",
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


# Where a load is stopped raw, its char mass is made of four correlated sums of the lot, drawn
# as if their logarithms were normal: its high end was measured 0.13 of the half-width too high.
OFF = {"burn_char_mass": 0.12}


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
    fire = burn_of(burn)
    result = appraise(heap(lot(material, mass, thickness)), fire, tables())
    (fuel,), _ = usable_fuels(fuels_of(result, tables()), tables())
    planned = plan_graph([fuel], fire, tables(), tables().find("burners", fire.burner))
    inputs = [*fuel.model.inputs, *planned.graph.inputs.values()]
    rng = np.random.default_rng(7)
    keys = dict.fromkeys(item.key for item in inputs if not item.exact)
    normals = {key: rng.standard_normal(count) for key in keys}
    values: dict[str, Any] = {
        item.name: item.mid if item.exact else drawn(item, normals[item.key]) for item in inputs
    }
    values["total_loose"] = 0.0
    values |= given_of(planned, fuel, run(fuel.model.chain, values)["char_through"])
    chain = (
        *fuel.model.chain,
        *(Step(name, lambda x: x, (behind,)) for name, behind in BEHIND.items()),
        *planned.graph.steps,
    )
    return planned, run(chain, values)


def given_of(planned: Planned, fuel: Fuel, through: Any) -> dict[str, Any]:
    """What the layout of a load makes of the draws of a lot's time in the flame."""
    layout, fire = planned.layout, planned.fire
    assert layout is not None
    assert fire is not None
    whole = sum(portion.dry for portion in layout.portions)
    raw, mean, laid = 0.0 * through, 0.0 * through, 0.0
    for portion in layout.portions:
        time = through * (portion.fuel.through.mid / fuel.through.mid)
        if portion.part in ("bed", "main", "loose", "layer"):
            young, old = (max(layout.end - at, 0.0) for at in (portion.end, portion.begin))
            left = raw_wood.raw_share_of_lot(young, old, time, fire.exponent)
            raw = raw + portion.dry / whole * left
        if portion.part == "layer":
            mean, laid = mean + portion.dry * time, laid + portion.dry
    last = layout.last
    assert last is not None
    late = through * (last.through.mid / fuel.through.mid)
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
        low, high = np.quantile(values[output], [0.05, 0.95])
        half = (high - low) / 2
        if half > 0:
            # an end never lies on the other side of the middle
            low, high = min(low, figure.mid), max(high, figure.mid)
            found[output] = tuple(
                float(end - true) / half for end, true in zip(figure.ends, (low, high), strict=True)
            )
    return found


@pytest.mark.worked
@pytest.mark.deep
def test_ends_of_plans_lie_within_a_twentieth_of_the_half_width() -> None:
    """Against 100,000 draws of twelve plans: 24 ends in 25, and none twice as far off.

    Both bounds were set after measuring. What is off is the luck of the draws: begun elsewhere, the
    same points put the high end of the time of a hose, the noisiest, up to 0.09 to either side.
    """
    every = []
    for case in [*PLANS, *MORE]:
        found = off(*both(*case, 100_000))
        assert len(found) >= 5
        print(case, {name: f"{a:+.3f} {b:+.3f}" for name, (a, b) in found.items()})
        every += [abs(end) for pair in found.values() for end in pair]
    print(f"{len(every)} ends: 95th percentile {np.quantile(every, 0.95):.3f}, {max(every):.3f}")
    assert np.mean([end > 0.05 for end in every]) <= 1 / 25
    assert max(every) <= 0.1


@pytest.mark.worked
@pytest.mark.parametrize("case", PLANS)
def test_ends_of_plans_lie_near_draws(case: tuple[str, str, str, dict[str, str]]) -> None:
    """Against 20,000 draws, which themselves are off by up to a thirtieth of the half-width."""
    found = off(*both(*case, 20_000))
    assert len(found) >= 5
    print({name: f"{a:+.3f} {b:+.3f}" for name, (a, b) in found.items()})
    for name, pair in found.items():
        most = OFF.get(name, 0.05) + 1 / 30
        assert all(abs(end) <= most for end in pair), (name, pair)


# the largest part of the half-width by which an end may lie off where nothing is drawn by luck
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
