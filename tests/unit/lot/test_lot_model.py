"""What binding finds out of a lot stands as fields, and a kind of lot is bound once."""

from __future__ import annotations

from typing import Any

import pytest

from builders import own_set, tables
from feedstock import (
    Burn,
    Estimate,
    Heap,
    Lot,
    LotAppraisal,
    appraise,
    appraise_lot,
    load_tables,
)
from feedstock.lot import build
from feedstock.lot.build import Setting, build_lot_model
from feedstock.lot.model import LOT_FIGURES, LotModel, Route, ThicknessSource
from feedstock.uncertainty.propagate import forget_kept

POLES = {"count": 10, "diameter": "60 mm", "length": "1 m"}
BOARDS = {"count": 10, "width": "100 mm", "thickness": "22 mm", "length": "1 m"}
BOX = {"shape": "box", "width": "1 m", "length": "1 m", "height": "0.5 m"}
WAYS: dict[str, dict[str, Any]] = {
    "weighed": {"mass": "20 kg"},
    "counted": {"pieces": POLES},
    "heaped": {"volume": "300 L", "packing": "loose"},
    "stacked": {"stack": BOX},
    "contained": {"containers": {"count": 3, "of": "wheelbarrow"}},
}


def lot(**words: Any) -> Lot:
    return Lot(**{"material": "oak", "moisture": "18 % dry", "origin": "own trees", **words})


def model(**words: Any) -> LotModel:
    setting = Setting(tables(), "reference:cone-pit", None)
    return build_lot_model(lot(**words), setting, "lots[0]", fresh=True)


@pytest.mark.regression
@pytest.mark.parametrize("way", WAYS)
def test_the_way_of_the_amount(way: str) -> None:
    bound = model(**WAYS[way])
    assert bound.route is Route(way)
    # oak that was not weighed has its dry mass from the volume of its wood, in its bark
    assert bound.solid is bound.in_bark is (way != "weighed")
    assert bound.solid_density
    assert bound.oven_dry_density == "oven_dry_density"
    assert (bound.wood_volume, bound.loose_volume) == ("wood_volume", "")
    assert bound.volume_base == ("dry_mass" if way == "weighed" else "solid_volume")


def estimates(result: LotAppraisal) -> dict[str, str]:
    """The figures that a result gives, with their units."""
    fields = ((name, getattr(result, name)) for name in LotAppraisal.model_fields)
    return {name: value.unit for name, value in fields if isinstance(value, Estimate)}


@pytest.mark.property
def test_every_figure_is_a_field_of_the_result_in_its_unit() -> None:
    """Counted oak has all of them; of what is to be kept out nothing of its char is said."""
    assert estimates(appraise_lot(lot(pieces=POLES), tables=tables())) == {
        name: about.unit for name, about in LOT_FIGURES.items()
    }
    out = appraise_lot(lot(pieces=POLES, signs=["tar smell"], origin="railway"), tables=tables())
    assert str(out.verdict) == "keep out"
    assert estimates(out).keys() == {n for n, about in LOT_FIGURES.items() if not about.of_char}


@pytest.mark.regression
def test_loose_matter_has_no_solid_wood() -> None:
    bound = model(material="wheat straw", volume="2 m^3", packing="loose")
    assert not (bound.solid or bound.solid_density or bound.in_bark)
    assert (bound.wood_volume, bound.loose_volume) == ("", "loose_volume")
    assert bound.oven_dry_density == "density"
    assert bound.fineness == "fine"


@pytest.mark.transcribed
@pytest.mark.parametrize(
    ("material", "thickness", "fineness"),
    [
        ("oak", "11 mm", "thick"),
        ("oak", "9 mm", "medium"),
        ("sunflower stalks", "25 mm", "medium"),
        ("wheat straw", "4 mm", "medium"),
        ("wheat straw", "2 mm", "fine"),
        ("oak", "2 mm", "medium"),
    ],
)
def test_how_much_of_its_char_a_flame_leaves(material: str, thickness: str, fineness: str) -> None:
    """Thick is above 10 mm, but for stalks, which are hollow or pithy; fine is below 3 mm, but for
    solid wood.
    """
    assert model(material=material, mass="20 kg", thickness=thickness).fineness == fineness


@pytest.mark.regression
@pytest.mark.parametrize(
    ("words", "value", "source"),
    [
        ({"mass": "20 kg", "thickness": "45 mm"}, 0.045, ThicknessSource.STATED),
        ({"pieces": POLES}, 0.06, ThicknessSource.DIAMETER),
        ({"pieces": POLES, "thickness": "45 mm"}, 0.045, ThicknessSource.STATED),
        (
            {"pieces": {"count": 3, "diameters": ["80 mm", "40 mm"], "length": "1 m"}},
            0.06,
            ThicknessSource.TAPER,
        ),
        ({"pieces": BOARDS}, 0.022, ThicknessSource.BOARD),
        ({"pieces": {**BOARDS, "width": "18 mm"}}, 0.018, ThicknessSource.WIDTH),
    ],
)
def test_where_the_thickness_comes_from(
    words: dict[str, Any], value: float, source: ThicknessSource
) -> None:
    bound = model(**words)
    assert bound.thickness.value == pytest.approx(value)
    assert bound.thickness.source is source


@pytest.mark.regression
def test_the_usual_thickness_is_that_of_the_table() -> None:
    row = tables().material("reference:oak").thickness
    assert row is not None
    bound = model(mass="20 kg")
    assert (bound.thickness.value, bound.thickness.source) == (row.mid, ThicknessSource.TABLE)


@pytest.mark.regression
def test_signs_and_origin_are_row_ids() -> None:
    found = model(mass="20 kg", signs=["uncoated", "Nails-or-wire"]).evidence
    assert found.signs == {"reference:bare-wood", "reference:nails-or-wire"}
    assert found.origin == "reference:own-trees"


# --- bound once -----------------------------------------------------------------------------------


def forget() -> None:
    build._KEPT.clear()
    forget_kept()


@pytest.mark.property
@pytest.mark.parametrize("burn", [None, Burn(burner="cone pit", width="1 m", depth="0.5 m")])
@pytest.mark.parametrize("way", WAYS)
def test_a_known_kind_gives_what_a_new_one_gives(way: str, burn: Burn | None) -> None:
    other: dict[str, dict[str, Any]] = {
        "weighed": {"mass": "31 to 44 kg"},
        "counted": {"pieces": {**POLES, "count": 37}},
        "heaped": {"volume": "610 L", "packing": "loose"},
        "stacked": {"stack": {**BOX, "height": "0.9 m"}},
        "contained": {"containers": {"count": 8, "of": "wheelbarrow"}},
    }
    second = lot(name="second", **other[way])
    forget()
    new = appraise_lot(second, burn, tables())
    forget()
    appraise_lot(lot(name="first", **WAYS[way]), burn, tables())
    assert appraise_lot(second, burn, tables()) == new


@pytest.mark.regression
def test_a_known_kind_is_not_bound_again(monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[str] = []
    real = build._bound

    def counted(b: Any, *rest: Any) -> LotModel:
        calls.append(b.name)
        return real(b, *rest)

    monkeypatch.setattr(build, "_bound", counted)
    forget()
    for name, mass in (("a", "20 kg"), ("b", "33 kg"), ("c", "5 kg")):
        appraise_lot(lot(name=name, mass=mass), tables=tables())
    assert calls == ["a"]
    appraise_lot(lot(name="d", mass="20 kg", moisture="19 % dry"), tables=tables())
    appraise_lot(lot(name="e", mass="20 kg"), Burn(burner="kettle"), tables())
    assert calls == ["a", "d", "e"]


@pytest.mark.regression
def test_other_tables_are_another_kind() -> None:
    """The same words on tables with another density."""
    dense = {
        "value": "900 kg/m^3",
        "low": "880 kg/m^3",
        "high": "920 kg/m^3",
        "known": "judgement",
        "note": "made up",
    }
    own = load_tables(
        own_set(amend={"materials": {"reference:oak": {"basic_density": dense}}}), plugins=False
    )
    first = appraise_lot(lot(pieces=POLES), tables=tables()).density
    second = appraise_lot(lot(pieces=POLES), tables=own).density
    assert first is not None and second is not None
    assert second.mid_value == pytest.approx(900)
    assert first.mid_value < 700


@pytest.mark.regression
def test_each_lot_is_explained_by_its_own_words() -> None:
    heap = Heap(lots=[lot(name="a", mass="20 kg"), lot(name="b", mass="33 kg")])
    result = appraise(heap, tables=tables())
    for index, mass in enumerate(("20 kg", "33 kg")):
        (given,) = [
            each for each in result.explain(f"lots[{index}].dry_mass").inputs if each.name == "mass"
        ]
        assert given.origin.text == f"mass: {mass}"
        assert given.origin.field == f"lots[{index}].mass"


# --- ranges that a person states ------------------------------------------------------------------


def width(heap: Heap) -> float:
    total = appraise(heap, tables=tables()).dry_mass
    return (total.high_value - total.low_value) / total.mid_value


@pytest.mark.worked
def test_weighings_are_shared_by_the_scale() -> None:
    stated = [lot(mass="40 kg", name=f"l{n}") for n in range(12)]
    assert width(Heap(lots=stated)) == pytest.approx(width(Heap(lots=stated[:1])), rel=1e-6)
