"""Many lots as columns: each as the single call has it, and sums as those of a heap, however the
rows are dealt out.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from builders import tables
from feedstock import Burn, Heap, InputError, appraise, appraise_lot
from feedstock.errors import FeedstockError

pa = pytest.importorskip("pyarrow", reason="the extra `columns` is not installed")

from feedstock.columns import Sums, appraise_table  # noqa: E402

pytestmark = pytest.mark.property

BURN = Burn(burner="cone pit", width="1 m", depth="0.5 m")
FIGURES = (
    "moisture",
    "moisture_dry",
    "density",
    "dry_mass",
    "char_yield",
    "char_mass",
    "char_volume",
    "char_carbon",
    "water_to_lose",
    "water_heat",
)


def amount(draw: random.Random) -> dict[str, str]:
    """An amount in one of the ways there are."""
    ways: list[Callable[[], dict[str, str]]] = [
        lambda: {"mass": f"{draw.uniform(0.5, 900):.3f} {draw.choice(['kg', 'lb'])}"},
        lambda: {"mass": draw.choice(["35 to 45 kg", "70 to 90 kg, likely 78 kg"])},
        lambda: {"volume": f"{draw.uniform(20, 3000):.1f} L", "packing": "loose"},
        lambda: {"containers.count": str(draw.randint(1, 30)), "containers.of": "wheelbarrow"},
        lambda: {
            "stack.width": f"{draw.uniform(0.5, 2):.2f} m",
            "stack.length": f"{draw.uniform(0.5, 4):.2f} m",
            "stack.height": "1 m",
        },
        lambda: {
            "pieces.count": str(draw.randint(1, 300)),
            "pieces.length": "1.2 m",
            "pieces.diameter": draw.choice(["45 mm", "9 cm"]),
        },
    ]
    return draw.choice(ways)()


def rows(count: int, seed: int) -> list[dict[str, str]]:
    draw = random.Random(seed)
    return [
        {
            "material": draw.choice(
                ["oak", "pine", "apple", "hazel", "pallet wood", "wheat straw", "plywood", "willow"]
            ),
            "moisture": draw.choice(["14 % wet", "22 % dry", "15 to 25 % wet", "35 % wet"]),
            "origin": draw.choice(["own trees", "pallet", "unknown", "fence"]),
            "name": f"{draw.choice(['limbs', 'old fence', 'pile'])} {number}",
            **({"signs": "mark HT | bare wood"} if draw.random() < 0.3 else {}),
            **amount(draw),
        }
        for number in range(count)
    ]


def table(given: list[dict[str, str]]) -> Any:
    names = sorted({name for row in given for name in row})
    return pa.table({n: pa.array([row.get(n) for row in given], pa.string()) for n in names})


def single(row: dict[str, str], burn: Burn | None) -> Any:
    return appraise_lot(Heap.from_rows([row]).lots[0], burn, tables())


@pytest.mark.parametrize("burn", [None, BURN], ids=["as usual", "cone pit"])
def test_rows_are_equal_to_single_calls(burn: Burn | None) -> None:
    """Verdicts and codes the same, middles to 1e-9, ends to a thousandth of the half-width."""
    given = rows(150, 7 if burn else 8)
    told = compared = 0
    out = appraise_table(table(given), burn, tables())[0].to_pylist()
    for row, found in zip(given, out, strict=True):
        try:
            lot = single(row, burn)
        except FeedstockError:
            assert found["problems"] and found["verdict"] is None
            told += 1
            continue
        assert found["problems"] is None, (row, found["problems"])
        assert found["verdict"] == str(lot.verdict)
        assert found["codes"] == [finding.code for finding in lot.findings]
        for name in FIGURES:
            estimate = getattr(lot, name)
            if estimate is None:
                assert found[name] is None, (row, name)
                continue
            half = (estimate.high_value - estimate.low_value) / 2
            assert found[name]["mid"] == pytest.approx(estimate.mid_value, rel=1e-9)
            assert found[name]["low"] == pytest.approx(estimate.low_value, abs=1e-3 * half + 1e-12)
            assert found[name]["high"] == pytest.approx(
                estimate.high_value, abs=1e-3 * half + 1e-12
            )
            compared += 1
    assert compared > 1000 and told < 40


def test_sums_are_those_of_a_heap_in_any_partition_and_order() -> None:
    """To a hundredth of the half-width; with stated ranges too, half of which is each lot's own."""
    given = [row for row in rows(120, 3) if row["material"] != "plywood"]
    sound = [
        row
        for row in given
        if not appraise_table(table([row]), BURN, tables())[0]["problems"][0].as_py()
    ]
    whole = appraise(Heap.from_rows(sound), BURN, tables())
    mixed = list(sound)
    random.Random(5).shuffle(mixed)
    parts = [
        Sums.from_bytes(appraise_table(table(part), BURN, tables())[1].to_bytes(), tables())
        for part in (mixed[:7], mixed[7:60], mixed[60:])
    ]
    for sums in (appraise_table(table(sound), BURN, tables())[1], Sums.merge(parts)):
        assert sums.rows == len(sound)
        for name in ("dry_mass", "char_mass", "char_volume", "char_carbon"):
            wanted, found = getattr(whole, name), getattr(sums, name)
            half = (wanted.high_value - wanted.low_value) / 2
            assert found.mid_value == pytest.approx(wanted.mid_value, rel=1e-9)
            assert found.low_value == pytest.approx(wanted.low_value, abs=0.01 * half)
            assert found.high_value == pytest.approx(wanted.high_value, abs=0.01 * half)


def test_a_bad_row_stops_none_of_the_others() -> None:
    good = {"material": "oak", "moisture": "18 % wet", "origin": "own trees"}
    bad = [
        {**good, "mass": "20"},
        {**good, "mass": "-3 kg"},
        {**good, "mass": "1e30 kg"},
        {**good, "material": "unobtainium", "mass": "3 kg"},
        good,
    ]
    out, sums = appraise_table(table([*bad, {**good, "mass": "20 kg"}]), BURN, tables())
    told = out["problems"].to_pylist()
    assert all(told[:-1]) and told[-1] is None
    assert sums.rows == 1 and "has no unit" in told[0][0]
    with pytest.raises(InputError, match="not a column"):
        appraise_table(pa.table({"colour": ["red"]}), tables=tables())
    with pytest.raises(InputError, match="sums"):
        Sums.from_bytes(b"{}")


def test_numbers_with_a_unit_stand_for_text() -> None:
    """And what goes in comes out: a batch for a batch, a table for a table."""
    field = pa.field("mass", pa.float64(), metadata={"unit": "lb"})
    schema = pa.schema([("material", pa.string()), field])
    numbers = pa.RecordBatch.from_arrays(
        [pa.array(["oak", "oak"]), pa.array([10.0, 25.5])], schema=schema
    )
    out, _ = appraise_table(numbers, BURN, tables())
    assert isinstance(out, pa.RecordBatch)
    text = pa.table({"material": ["oak", "oak"], "mass": ["10 lb", "25.5 lb"]})
    assert out.to_pylist() == appraise_table(text, BURN, tables())[0].to_pylist()
    bare = pa.table({"material": ["oak"], "mass": [10.0]})
    with pytest.raises(InputError, match="unit"):
        appraise_table(bare, BURN, tables())


def by_hand(found: Any, parameters: Any) -> Any:
    """The same figures without intervals, verdicts or checks, as one would write them at once."""
    kind = found["material"].combine_chunks().dictionary_encode().indices.to_numpy()
    wet = found["moisture"].combine_chunks().dictionary_encode().indices.to_numpy()
    dry = found["mass"].combine_chunks().to_numpy() * (1.0 - parameters[0][wet])
    char = dry * parameters[1][kind]
    return dry, char, char * parameters[2][kind], char / parameters[3][kind]


def test_a_register_costs_at_most_sixty_times_the_hand_written_chain() -> None:
    """Processor time of both in this process, so that a busy machine slows both."""
    count, draw = 400_000, np.random.default_rng(1)
    field = pa.field("mass", pa.float64(), metadata={"unit": "kg"})
    schema = pa.schema([("material", pa.string()), ("moisture", pa.string()), field])
    register = pa.Table.from_arrays(
        [
            pa.array(np.array(["oak", "pine", "apple", "hazel"])[draw.integers(0, 4, count)]),
            pa.array(np.array(["18 % wet", "22 % dry"])[draw.integers(0, 2, count)]),
            pa.array(draw.uniform(1.0, 100.0, count)),
        ],
        schema=schema,
    )
    parameters = np.array([[0.18, 0.22, 0.2, 0.2], [0.2] * 4, [0.8] * 4, [120.0] * 4])
    appraise_table(register.slice(0, 100), BURN, tables())

    def taken(work: Callable[[], object]) -> float:
        best = float("inf")
        for _ in range(3):
            began = time.process_time()
            work()
            best = min(best, time.process_time() - began)
        return best

    hand = taken(lambda: by_hand(register, parameters))
    mine = taken(lambda: appraise_table(register, BURN, tables()))
    print(
        f"by hand {count / hand:,.0f} lots a second, columns {count / mine:,.0f}: {mine / hand:.0f}"
    )
    assert mine < 60 * hand
