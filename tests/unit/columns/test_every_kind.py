"""Every kind of lot and every way of giving an amount, as a column and by the single call."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest

from builders import tables
from feedstock import Burn, Heap, appraise, appraise_lot
from feedstock.errors import FeedstockError
from feedstock.lot.model import LOT_FIGURES
from feedstock.tables.rows.material import Material
from strategies import packings

pa = pytest.importorskip("pyarrow", reason="the extra `columns` is not installed")

from feedstock.columns import Sums, appraise_table  # noqa: E402

pytestmark = pytest.mark.property

BURNS = (
    None,
    Burn(burner="cone pit", width="1 m", depth="0.5 m"),
    Burn(burner="retort", temperature="550 degC"),
    Burn(burner="kettle", vessel=["galvanised"]),
)
Row = dict[str, str]
SLIPS = {
    "mass": ["20", "-3 kg", "1e30 kg", "0 kg", "1_000 kg", "3 L", "x", "nan kg", "1e-9 kg"],
    "volume": ["3 gal", "1,5 L", "3 L to 4 L", "1e-9 L", "2 kg", "1e9 L"],
    "pieces.count": ["2.5", "1_0", "0", "1e2", "٣", "9" * 400, "1e7", "3.0", "+3"],
    "stack.height": ["90 to 80 cm", "1 m, likely 2 m", "120 m", "1 to 120 m", "6 ft"],
    "containers.count": ["1_0", "-1", "nan", "inf", "1e6", "1e2", "٣", "2 1/2"],
    "name": ["n" * 300, "a\u202eb", "a\x1b[2J", "2 | 3", "diesel can"],
    "moisture": ["20 %", "120 % wet", "20 % dry basis", "wet"],
    "material": ["unobtainium", "oak leaves and diesel", "?"],
    "year": ["3000", "1899.5", "x"],
    "decay": ["0", "3.5", "six"],
}


def number(draw: random.Random, low: float, high: float, unit: str, own: float = 0.3) -> str:
    """A quantity, in so many cases as a stated range."""
    mid = draw.uniform(low, high)
    if draw.random() > own:
        return f"{mid:.5g} {unit}"
    ends = f"{mid * draw.uniform(0.6, 0.98):.4g} to {mid * draw.uniform(1.02, 1.5):.4g} {unit}"
    return draw.choice([ends, f"{ends}, likely {mid:.6g} {unit}"])


def pieces(draw: random.Random, row: Material) -> Row:
    found = {"pieces.length": number(draw, 0.2, 3, "m")}
    if row.form in ("sawn", "board"):
        return {
            **found,
            "pieces.width": number(draw, 3, 20, "cm"),
            "pieces.thickness": number(draw, 6, 28, "mm"),
        }
    if draw.random() < 0.3:
        found["pieces.hollow"] = f"{draw.randint(2, 40)} %"
    if draw.random() < 0.4:
        top = draw.uniform(1, 9)
        return {**found, "pieces.diameters": f"{top * draw.uniform(1.1, 2):.3g} cm | {top:.3g} cm"}
    return {**found, "pieces.diameter": number(draw, 0.3, 7, "in")}


def amounts(draw: random.Random, row: Material) -> Callable[[], Row]:
    """One of the ways in which a material can be given: another amount whenever it is called."""
    packing = draw.choice(packings(row) or ("",))
    shape = draw.choice(["box", "half cylinder", "half ellipsoid", "paraboloid", "cone"])
    vessel = draw.choice(["wheelbarrow", "bag", "bucket", "trailer"])
    like = pieces(draw, row)
    ways: list[Callable[[], Row]] = [
        lambda: {"mass": number(draw, 0.1, 900, draw.choice(["kg", "lb", "t"]), 0.4)}
    ]
    if row.basic_density is not None:
        ways.append(lambda: {**like, "pieces.count": str(draw.randint(1, 300))})
    heaped: list[Callable[[], Row]] = [
        lambda: {"volume": number(draw, 0.05, 900, draw.choice(["L", "m^3", "ft^3", "US gal"]))},
        lambda: {
            "stack.shape": shape,
            "stack.width": number(draw, 0.5, 3, "m"),
            "stack.length": number(draw, 2, 9, "ft"),
            "stack.height": number(draw, 40, 160, "cm"),
        },
        lambda: {
            "containers.count": draw.choice([str(draw.randint(1, 30)), "2.5", "0.75"]),
            "containers.of": vessel,
        },
    ]
    way = draw.choice([*ways, *heaped]) if packing else draw.choice(ways)
    return (lambda: {"packing": packing, **way()}) if way in heaped else way


def moisture(draw: random.Random, row: Material) -> Row:
    ways: list[Row] = [
        {},
        {"moisture": number(draw, 8, 45, f"% {draw.choice(['wet', 'dry'])}", 0)},
        {"moisture": draw.choice(["15 to 25 % wet", "10 to 20 % dry, likely 13 % dry"])},
        {
            "moisture.reading": number(draw, 8, 28, "% dry", 0),
            "moisture.by": draw.choice(["pin", "pinless", "hay probe", "unknown"]),
        },
        {"moisture.wet": "412 g", "moisture.oven_dry": f"{draw.randint(220, 400)} g"},
        {
            "moisture.air.temperature": f"{draw.randint(2, 30)} degC",
            "moisture.air.relative_humidity": f"{draw.randint(30, 92)} %",
        },
        *({"moisture.condition": word} for word in sorted(row.moisture)),
    ]
    return draw.choice(ways)


def said(draw: random.Random, row: Material) -> Row:
    """What else a person may say of a lot."""
    origins, signs = (sorted(tables().rows[kind]) for kind in ("origins", "signs"))
    found = {"origin": draw.choice([draw.choice(origins), "own trees", "unknown", ""])}
    kind = draw.choice(["limbs", "old fence", "pile", "smells of diesel", "shed clearance"])
    further: list[Callable[[], Row]] = [
        lambda: {"name": f"{kind} {draw.randint(1, 99)}"},
        lambda: {"signs": " | ".join(draw.sample(signs, draw.randint(1, 3)))},
        lambda: {"thickness": number(draw, 2, 180, "mm", 0.2)},
        lambda: {"soil": f"{draw.randint(1, 30)} %"},
        lambda: {"year": str(draw.randint(1930, 2024))},
        lambda: {"region": draw.choice(["Germany", "US", "Norway", "Atlantis"])},
        lambda: {"measured.ash": f"{draw.uniform(0.5, 9):.2g} %"},
        lambda: {"measured.basic_density": number(draw, 380, 700, "kg/m^3", 0.5)},
        lambda: {"measured.bulk_density": number(draw, 60, 300, "kg/m^3", 0.5)},
        lambda: {"remarks": draw.choice(["from the skip", "no paint on it", "dry summer"])},
        lambda: {"name": "old fence", "dismiss": "fence"},
    ]
    for add in further:
        if draw.random() < 0.2:
            found |= add()
    if row.basic_density is not None and draw.random() < 0.3:
        found |= {"decay": str(draw.randint(1, 5)), "lying": draw.choice(["yes", "no"])}
    return found


def lots(count: int, seed: int) -> list[Row]:
    """So many rows: of each kind some with other amounts, and here and there a slip."""
    draw, found = random.Random(seed), list[Row]()
    rows = tables().rows["materials"]
    while len(found) < count:
        name = draw.choice(sorted(rows))
        row = rows[name]
        assert isinstance(row, Material)
        kind = {"material": name, **moisture(draw, row), **said(draw, row)}
        amount = amounts(draw, row)
        for _ in range(draw.choice([1, 1, 2, 4, 9])):
            one = {**kind, **amount()}
            if draw.random() < 0.12:
                field = draw.choice([name for name in SLIPS if name in one])
                one[field] = draw.choice(SLIPS[field])
            found.append(one)
    draw.shuffle(found)
    return found[:count]


def table(given: list[Row]) -> Any:
    names = sorted({name for row in given for name in row})
    return pa.table({n: pa.array([row.get(n) for row in given], pa.string()) for n in names})


def single(row: Row, burn: Burn | None) -> Any:
    """The lot, or what is wrong with it."""
    try:
        return appraise_lot(Heap.from_rows([row]).lots[0], burn, tables())
    except FeedstockError as why:
        return [re.sub(r"^lots\[0\](\.|: )", "", str(problem)) for problem in why.problems]


def check(row: Row, found: dict[str, Any], lot: Any) -> None:
    """Verdict and codes the same, middles to 1e-9, ends to a thousandth of the half-width."""
    if isinstance(lot, list):
        assert sorted(found["problems"] or []) == sorted(lot), row
        assert found["verdict"] is None, row
        return
    assert found["problems"] is None, (row, found["problems"])
    assert found["verdict"] == str(lot.verdict), row
    assert found["codes"] == [finding.code for finding in lot.findings], row
    for name in LOT_FIGURES:
        estimate, got = getattr(lot, name), found[name]
        assert (estimate is None) == (got is None), (row, name)
        if estimate is not None:
            near = 1e-3 * (estimate.high_value - estimate.low_value) / 2 + 1e-12
            assert got["mid"] == pytest.approx(estimate.mid_value, rel=1e-9), (row, name)
            assert got["low"] == pytest.approx(estimate.low_value, abs=near), (row, name)
            assert got["high"] == pytest.approx(estimate.high_value, abs=near), (row, name)


@pytest.mark.parametrize("count", [60, pytest.param(5000, marks=pytest.mark.deep)])
def test_every_row_is_equal_to_the_single_call(count: int) -> None:
    sound = refused = 0
    for number, burn in enumerate(BURNS):
        given = lots(count // len(BURNS), 100 * count + number)
        out = appraise_table(table(given), burn, tables())[0].to_pylist()
        for row, found in zip(given, out, strict=True):
            lot = single(row, burn)
            check(row, found, lot)
            sound, refused = sound + (not isinstance(lot, list)), refused + isinstance(lot, list)
    print(f"{sound:,} rows equal, {refused:,} refused alike")
    assert sound > 0.6 * count
    assert refused > 0.03 * count


def unlike(found: Any, wanted: Any) -> float:
    """How far two estimates of one middle lie apart at their ends, in half-widths."""
    assert found.mid_value == pytest.approx(wanted.mid_value, rel=1e-9)
    half: float = (wanted.high_value - wanted.low_value) / 2
    return (
        max(
            float(abs(found.low_value - wanted.low_value)),
            float(abs(found.high_value - wanted.high_value)),
        )
        / half
    )


def dealt(given: list[Row], draw: random.Random) -> list[list[Row]]:
    """The rows in another order and in up to five parts."""
    mixed = draw.sample(given, len(given))
    cuts = sorted(draw.sample(range(1, len(mixed)), min(draw.randint(0, 4), len(mixed) - 1)))
    return [mixed[a:b] for a, b in pairwise([0, *cuts, len(mixed)])]


def merged(parts: list[list[Row]], burn: Burn | None, draw: random.Random) -> Sums:
    """Their sums: each written as bytes and read, two at a time in any order."""
    sums = [appraise_table(table(part), burn, tables())[1] for part in parts]
    while len(sums) > 1:
        draw.shuffle(sums)
        one, other = (Sums.from_bytes(sums.pop().to_bytes(), tables()) for _ in range(2))
        sums.append(Sums.merge([one, other]))
    return sums[0]


def guessed(count: int, draw: random.Random) -> list[Row]:
    """Lots of few kinds, each with a range of its own that is as wide as that of others: half of
    its doubt is the lot's own, half that of all.
    """
    kinds = [
        {"material": draw.choice(["oak", "pine", "wheat straw"]), "moisture": "18 % wet"}
        for _ in range(2)
    ]
    low, high, spread = draw.uniform(0.6, 0.95), draw.uniform(1.05, 1.5), draw.uniform(0.1, 2)
    found = []
    for _ in range(count):
        mid = draw.lognormvariate(3, spread)
        mass = f"{low * mid:.12g} to {high * mid:.12g} kg, likely {mid:.12g} kg"
        found.append({**draw.choice(kinds), "origin": "own trees", "mass": mass})
    return found


@pytest.mark.parametrize("seeds", [2, pytest.param(60, marks=pytest.mark.deep)])
def test_sums_are_those_of_the_heap(seeds: int) -> None:
    """In any partition and order, with stated ranges too; to a hundredth of the half-width."""
    worst = 0.0
    for seed in range(seeds):
        draw = random.Random(seed)
        count, burn = draw.choice([3, 20, 60]), draw.choice(BURNS)
        given = guessed(count, draw) if seed % 2 else lots(count, 7000 + seed)
        bad = appraise_table(table(given), burn, tables())[0]["problems"].to_pylist()
        sound = [row for row, problems in zip(given, bad, strict=True) if problems is None]
        named = [{**row, "name": f"{row.get('name', 'lot')} {n}"} for n, row in enumerate(sound)]
        whole = appraise(Heap.from_rows(named), burn, tables())
        sums = merged(dealt(sound, draw), burn, draw)
        assert sums.rows == len(sound)
        for name in ("dry_mass", "char_mass", "char_volume", "char_carbon"):
            if getattr(whole, name).high_value > 0:
                worst = max(worst, unlike(getattr(sums, name), getattr(whole, name)))
    print(f"at most {100 * worst:.3f} % of the half-width")
    assert worst < 0.01


def test_what_sums_keep_does_not_grow_with_the_rows() -> None:
    """A kind is kept once, however many rows with whatever names and amounts are of it; of lots
    whose ranges are their own only those are told apart that make much of the whole.
    """
    draw = random.Random(3)
    few, many = (appraise_table(table(guessed(n, draw)), BURNS[1], tables())[1] for n in (20, 900))
    assert len(many.parts) <= 2 and len(few.parts) <= 2
    assert len(many.to_bytes()) < 1.2 * len(few.to_bytes())
