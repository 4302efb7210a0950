"""What goes into one load, and when: rules of every layout, over heaps and burners. Portions are
looked at one by one, where the steps of a plan put them together.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import tables
from feedstock import Burn, Heap, Lot, appraise
from feedstock.burn.fire import CLASSES, Fire
from feedstock.burn.layout import Layout
from feedstock.burn.measures import bare
from feedstock.burn.plan import layout_at_middle, usable_fuels
from feedstock.burn.portions import Portion
from feedstock.explanation import fuels_of
from strategies import examples

Spec = tuple[str, float, float, int]

DRUM = {"vessel": "clean-food-drum"}
BURNS = st.sampled_from(
    [
        {"burner": "cone pit", "diameter": "1.1 m", "depth": "50 cm"},
        {"burner": "pit", "width": "90 cm", "depth": "45 cm"},
        {"burner": "trench", "width": "60 cm", "length": "2.2 m", "depth": "40 cm"},
        {"burner": "barbecue", "width": "40 cm", "length": "60 cm", "depth": "20 cm"},
        {"burner": "kettle", "diameter": "80 cm", "depth": "35 cm", "duration": "50 min"},
        {"burner": "cone pit", "diameter": "90 cm", "depth": "45 cm", "hose": "12 L/min"},
        {"burner": "cone pit", "diameter": "95 cm", "depth": "42 cm", "firing": "top-lit"},
        {"burner": "drum", "diameter": "57 cm", "depth": "80 cm", **DRUM},
    ]
)
LOTS = st.lists(
    st.tuples(
        st.sampled_from(["oak", "pine", "hazel", "beech", "wheat straw", "walnut shell"]),
        st.floats(2, 160),
        st.floats(0.5, 300),
        st.sampled_from([1, 1, 3, 5]),
    ),
    min_size=1,
    max_size=6,
)
LOOSE = ("wheat straw", "walnut shell")


def laid(specs: list[Spec], burn: dict[str, str]) -> tuple[Layout, Fire] | None:
    """The layout of a heap of dry clean lots: material, thickness in mm, mass in kg, decay; None
    where none of them is ready for such a burner.
    """
    lots = [
        Lot(
            material=material,
            name=f"lot {number}",
            mass=f"{mass} kg",
            thickness=None if material in LOOSE else f"{thickness} mm",
            decay=None if material in LOOSE else decay,
            moisture="12 % wet",
            origin="farm",
            signs=["not sprayed two seasons"],
        )
        for number, (material, thickness, mass, decay) in enumerate(specs)
    ]
    full = Burn.model_validate(burn)
    row = tables().find("burners", full.burner)
    result = appraise(Heap(lots=lots), bare(full), tables())
    fuels, _ = usable_fuels(fuels_of(result, tables()), tables())
    return layout_at_middle(fuels, full, tables(), row) if fuels else None


def raw(portion: Portion, end: float, exponent: float) -> float:
    """Raw wood of a portion at the quench, by 400 ages of its pieces: a round piece in flame for t
    has a core of (1 - (t/T)^(1/n))^2 of its section.
    """
    through, ages = portion.fuel.through.mid, []
    for n in range(400):
        laid_at = portion.begin + (portion.end - portion.begin) * (n + 0.5) / 400
        burnt = min(max(end - laid_at, 0.0) / through, 1.0) ** (1 / exponent)
        ages.append((1 - burnt) ** 2)
    return math.fsum(ages) / 400


@pytest.mark.property
@examples(0.5)
@given(LOTS, BURNS)
def test_a_layout_keeps_its_rules(specs: list[Spec], burn: dict[str, str]) -> None:
    found = laid(specs, burn)
    if found is None:
        return
    layout, fire = found
    if not layout.fuels:
        assert layout.left_out
        return
    _one_share_of_every_lot(layout)
    _through_split_or_left_out(layout, fire)
    if fire.firing == "fed":
        _in_turn_at_the_pace(layout, fire)
        _thick_before_thin(layout, fire)
        _wood_with_what_sinks_the_flame(layout, fire)
    else:
        sound = [p for p in layout.of("layer") if p.fuel.wood and not fire.soft(p.fuel)]
        assert [p.fuel.thickness for p in sound] == sorted(
            (p.fuel.thickness for p in sound), reverse=True
        )


def _one_share_of_every_lot(layout: Layout) -> None:
    for fuel in layout.fuels:
        dry = math.fsum(p.dry for p in layout.portions if p.fuel.name == fuel.name)
        assert dry == pytest.approx(layout.share * fuel.dry, rel=1e-5)
    names = {fuel.name for fuel in (*layout.fuels, *layout.left_out)}
    assert {p.fuel.name for p in layout.portions} <= names


def _through_split_or_left_out(layout: Layout, fire: Fire) -> None:
    for fuel in layout.fuels:
        assert fuel.into in (1, 2, 4, 8, 16)
        assert fuel.into == 1 or fuel.thickness >= 0.025 * (1 - 1e-6)
        assert fuel.thickness <= fire.thickest * (1 + 1e-6)
        # of soft wood nothing thicker than a wrist goes in whole
        assert not fire.soft(fuel) or fuel.thickness <= 0.06 * (1 + 1e-6)
        if fire.firing == "top-lit" and fire.stated:
            continue  # it is stopped, and the plan says how much is raw
        laid = [p for p in layout.portions if p.fuel.name == fuel.name]
        laid = [p for p in laid if p.part not in ("light", "aside", "cap")]
        whole = math.fsum(p.dry for p in laid)
        left = math.fsum(p.dry * raw(p, layout.end, fire.exponent) for p in laid)
        assert left <= (fire.brands + 1e-3) * whole + 1e-9


def _in_turn_at_the_pace(layout: Layout, fire: Fire) -> None:
    run = sorted(layout.of("main", "loose"), key=lambda p: p.begin)
    for before, after in pairwise(run):
        assert after.begin == pytest.approx(before.end)
    if run:
        assert run[0].begin == pytest.approx(fire.bed)
    for_bed, besides = layout.brought
    whole = math.fsum(p.dry for p in run) or 1.0
    # the stack that is lit excepted, and what lies aside
    fed = layout.of("bed", "main", "loose", "with")
    assert layout.pace <= fire.pace * (1 + 1e-9)
    for at in sorted({time for p in fed for time in (p.begin, p.end)}):
        dry = for_bed * min(at / fire.bed, 1.0)
        for p in fed:
            part = min(max((at - p.begin) / (p.end - p.begin), 0.0), 1.0)
            dry += p.dry * part * (1 + (besides / whole if p in run else 0.0))
        young = fire.planning.bed_pace.mid * min(at, fire.bed)
        assert dry <= layout.pace * (young + max(at - fire.bed, 0.0)) * (1 + 1e-6)


def _thick_before_thin(layout: Layout, fire: Fire) -> None:
    main = [p for p in layout.of("main") if p.fuel.wood and not fire.soft(p.fuel)]
    kinds = [CLASSES.index(fire.class_of(p.fuel.thickness)) for p in main]
    assert kinds == sorted(kinds, reverse=True)
    # what is kept back is the thinnest
    for portion in layout.of("with"):
        assert CLASSES.index(fire.class_of(portion.fuel.thickness)) <= min(kinds)


def _wood_with_what_sinks_the_flame(layout: Layout, fire: Fire) -> None:
    beside = layout.of("with")
    if not beside:
        return
    begin, end = beside[0].begin, beside[-1].end
    sinks = [p for p in layout.of("main", "loose") if p.begin >= begin * (1 - 1e-9)]
    assert all(not p.fuel.wood or fire.soft(p.fuel) for p in sinks)
    assert all(p.fuel.wood and not fire.soft(p.fuel) for p in beside)
    last = max(p.end for p in sinks)
    # to the last of it, as thin as a bed: no thicker than a finger, or in sixteen
    assert end == pytest.approx(last)
    assert all(p.fuel.thickness <= 0.025 * (1 + 1e-6) or p.fuel.into == 16 for p in beside)
    dry = math.fsum(p.dry for p in beside)
    # three tenths of what goes in meanwhile, and no more than half of the wood
    assert dry <= 0.3 * layout.pace * (end - begin) * (1 + 0.03)
    before = math.fsum(p.dry for p in layout.of("main") if p.begin < begin * (1 - 1e-9))
    assert dry <= before * (1 + 1e-6)
    assert layout.brought == (0.0, 0.0)
