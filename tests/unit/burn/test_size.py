"""How wide and deep for a heap in so many loads, and that a plan for that vessel agrees."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import RunCli, heap, lot
from feedstock import Burn, Heap, InputError, appraise, size
from feedstock.model.burn_plan import Sizing
from feedstock.text import page
from strategies import examples

BURNERS = ("cone pit", "pit", "trench", "kettle", "mound")


def garden(mass: float) -> Heap:
    """Limbs, rods and twigs."""
    return heap(
        lot("oak", f"{0.6 * mass} kg", "60 mm", name="limbs"),
        lot("hazel", f"{0.3 * mass} kg", "25 mm", name="rods"),
        lot("hazel", f"{0.1 * mass} kg", "8 mm", name="twigs"),
    )


def straw_with_poles(mass: float) -> Heap:
    """What needs wood kept back for it, and what needs all of its wood brought."""
    straw = lot(
        "wheat straw",
        f"{0.5 * mass} kg",
        "2 mm",
        name="straw",
        origin="farm",
        signs=["not sprayed two seasons"],
    )
    return heap(straw, lot("spruce", f"{0.5 * mass} kg", "60 mm", name="poles"))


def butts(mass: float) -> Heap:
    """What has to be split, some rotted wood, and kindling that is brought."""
    return heap(
        lot("oak", f"{0.7 * mass} kg", "240 mm", name="butts"),
        lot("beech", f"{0.3 * mass} kg", "80 mm", name="soft", decay=3),
    )


@pytest.mark.property
@examples(0.2)
@given(
    st.floats(40, 900),
    st.sampled_from((garden, straw_with_poles, butts)),
    st.sampled_from(BURNERS),
    st.integers(1, 4),
)
def test_the_vessel_that_is_told_takes_the_heap_in_so_many_loads(
    mass: float, kind: Callable[[float], Heap], burner: str, loads: int
) -> None:
    what = kind(mass)
    try:
        sizing = size(what, burner, loads)
    except InputError as why:
        assert why.problems[0].code in ("too-large", "too-little", "nothing-through")
        return
    assert sizing.loads == loads
    plan = appraise(what, sizing.burn).burn
    assert plan is not None
    assert plan.loads.mid == loads
    assert (plan.hours, plan.water, plan.quick_fuel) == (
        sizing.hours,
        sizing.water,
        sizing.quick_fuel,
    )


@pytest.mark.property
def test_more_loads_need_no_larger_vessel_and_more_hours() -> None:
    one, two, four = (size(garden(200), "cone pit", loads) for loads in (1, 2, 4))
    widths = [found.burn.diameter.mid for found in (one, two, four) if found.burn.diameter]
    assert widths == sorted(widths, reverse=True)
    hours = [found.hours.mid_value for found in (one, two, four) if found.hours is not None]
    assert hours == sorted(hours)
    # about twice as wide as deep, as the burner's row has it
    assert one.burn.diameter is not None
    assert one.burn.depth is not None
    assert one.burn.diameter.mid / one.burn.depth.mid == pytest.approx(2, rel=0.1)


@pytest.mark.regression
def test_a_trench_grows_in_length() -> None:
    short, long = (size(garden(mass), "trench") for mass in (100, 300))
    assert short.burn.width == long.burn.width
    assert short.burn.length is not None
    assert long.burn.length is not None
    assert long.burn.length.mid > 2 * short.burn.length.mid


@pytest.mark.regression
def test_what_cannot_be_sized() -> None:
    for burner, loads, code in (
        ("cone pit", 0, "out-of-range"),
        ("barbecue", 1, "too-large"),
        ("cone pit", 900, "too-little"),
    ):
        with pytest.raises(InputError) as caught:
            size(garden(300), burner, loads)
        assert caught.value.problems[0].code == code
    with pytest.raises(InputError) as caught:
        size(heap(lot("oak", moisture="50 % wet")))
    assert caught.value.problems[0].code == "nothing-ready"


@pytest.mark.property
def test_measures_count_for_nothing_and_the_rest_of_a_burn_counts() -> None:
    free = size(garden(120), "cone pit")
    measured = size(garden(120), Burn(burner="cone pit", diameter="40 cm", depth="20 cm"))
    assert measured == free
    short = size(garden(120), Burn(burner="cone pit", duration="1 h"))
    assert short.burn.duration is not None
    assert short.burn.diameter is not None
    assert free.burn.diameter is not None
    # in an hour the same heap needs a wider fire
    assert short.burn.diameter.mid > free.burn.diameter.mid


@pytest.mark.regression
def test_command_and_page(tmp_path: Path, run_cli: RunCli) -> None:
    file = tmp_path / "heap.yaml"
    file.write_text(
        "lots:\n  - {material: oak, mass: 90 kg, moisture: 14 % wet, origin: own trees, "
        "thickness: 50 mm}\n  - {material: hazel, mass: 14 kg, moisture: 12 % wet, "
        "origin: own trees, thickness: 8 mm}\n",
        encoding="utf-8",
    )
    status, text, _ = run_cli("size", str(file), "--loads", "2")
    assert status == 0
    assert "in 2 loads" in text
    assert "wide at the rim" in text
    status, text, _ = run_cli("size", str(file), "--burner", "trench", "--json")
    found = Sizing.model_validate(json.loads(text))
    assert found.burn.burner == "trench"
    assert "long" in page(found, units="us")
    status, _, error = run_cli("size", str(file), "--burner", "oven")
    assert status == 2
    assert "oven" in error
