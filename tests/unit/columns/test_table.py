"""Many lots as columns: what goes in, what is refused, and what it costs."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from builders import tables
from feedstock import Burn, FeedstockError, InputError

pa = pytest.importorskip("pyarrow", reason="the extra `columns` is not installed")

from feedstock.columns import Sums, appraise_table  # noqa: E402

pytestmark = pytest.mark.property

BURN = Burn(burner="cone pit", width="1 m", depth="0.5 m")


def table(given: list[dict[str, str]]) -> Any:
    names = sorted({name for row in given for name in row})
    return pa.table({n: pa.array([row.get(n) for row in given], pa.string()) for n in names})


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


def test_what_other_programs_make_of_text_and_numbers_is_read() -> None:
    """Dictionaries, large texts and views, decimals, small floats, lists of signs; of one meaning,
    and so of one result.
    """
    base = {
        "material": pa.array(["oak", "pine"]),
        "mass": pa.array([10.5, 25.0]),
        "signs": pa.array(["bark on | mould", None]),
        "name": pa.array(["a", "b"]),
    }
    listed = pa.array([["bark on", "mould"], None])
    ways: list[dict[str, Any]] = [
        {"material": base["material"].dictionary_encode(), "name": pa.nulls(2)},
        {"material": base["material"].cast(pa.large_string()), "signs": listed},
        {"material": base["material"].cast(pa.string_view()), "mass": base["mass"].cast("float32")},
        {"mass": pa.array([Decimal("10.5"), Decimal("25.0")])},
        {"signs": listed.cast(pa.large_list(pa.large_string()))},
    ]
    found = []
    for way in [{}, *ways]:
        columns = base | way
        fields = [
            pa.field(name, column.type, metadata={"unit": "kg"} if name == "mass" else None)
            for name, column in columns.items()
        ]
        given = pa.Table.from_arrays(list(columns.values()), schema=pa.schema(fields))
        found.append(appraise_table(given, BURN, tables())[0].to_pylist())
    assert found[0][0]["problems"] is None
    assert all(each == found[0] for each in found[1:])


@pytest.mark.parametrize(
    "column",
    [
        {"signs": pa.array([{"a": 1}])},
        {"remarks": pa.array([["a", "b"]])},
        {"mass": pa.array([True])},
        {"mass": pa.array([b"10 kg"])},
        {"year": pa.array([date(1990, 1, 1)])},
    ],
    ids=lambda column: str(next(iter(column.items()))[1].type),
)
def test_columns_of_other_kinds_are_refused(column: dict[str, Any]) -> None:
    given = {"material": pa.array(["oak"]), "mass": pa.array(["10 kg"])} | column
    with pytest.raises(InputError, match=next(iter(column))):
        appraise_table(pa.table(given), BURN, tables())


@pytest.mark.parametrize("unit", ["", "2 kg", "furlong", "kg to 3 kg", "9**9**9 kg"])
def test_a_unit_is_one_that_is_known(unit: str) -> None:
    field = pa.field("mass", pa.float64(), metadata={"unit": unit})
    schema = pa.schema([("material", pa.string()), field])
    with pytest.raises(InputError, match="no unit that is known"):
        appraise_table(pa.table([["oak"], [10.0]], schema=schema), BURN, tables())


LIKE = {"material": "oak", "moisture": "18 % wet", "origin": "own trees"}


def sound(given: list[dict[str, str]]) -> list[bool]:
    """Which of some rows are appraised."""
    told = appraise_table(table(given), BURN, tables())[0]["problems"].to_pylist()
    return [problems is None for problems in told]


def test_counts_are_read_as_by_a_single_call() -> None:
    """Of one kind, so that a wrong one stands between sound ones: pieces come whole, in digits;
    containers in parts too.
    """
    counts = ["3", "2.5", "1_0", "1e1", "٣", "\x1e5", "9" * 400, "40"]
    whole = {**LIKE, "pieces.length": "1 m", "pieces.diameter": "6 cm"}
    assert sound([{**whole, "pieces.count": count} for count in counts]) == [
        n in (0, 7) for n in range(8)
    ]
    barrows = {**LIKE, "containers.of": "bag"}
    assert sound([{**barrows, "containers.count": count} for count in counts]) == [
        n in (0, 1, 3, 7) for n in range(8)
    ]


def test_a_name_that_cannot_be_is_seen_among_others() -> None:
    names = ["limbs", "n" * 300, "a\x1b[2J", "limbs 3", "a\u202eb"]
    assert sound([{**LIKE, "mass": "20 kg", "name": name} for name in names]) == [
        True,
        False,
        False,
        True,
        False,
    ]


@pytest.mark.parametrize(
    "wrong",
    [
        {"format": 0},
        {"digest": "another"},
        {"burn": "{"},
        {"parts": {"a": [1]}},
        {"parts": {"a": [{"material": "oak"}, "splendid", 1, {}]}},
        {"parts": {"a": [{}, "ready", 1, {"char_mass": [1, "x", 1]}]}},
        {"parts": None},
    ],
    ids=str,
)
def test_bytes_that_are_no_sums_are_refused(wrong: dict[str, Any]) -> None:
    good = {"material": "oak", "moisture": "18 % wet", "mass": "20 kg"}
    told = json.loads(appraise_table(table([good]), None, tables())[1].to_bytes())
    with pytest.raises(FeedstockError, match="sums"):
        Sums.from_bytes(json.dumps(told | wrong).encode(), tables())
    for data in (b"", b"[]", b"null", b"\xff"):
        with pytest.raises(InputError, match="sums"):
            Sums.from_bytes(data)


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
