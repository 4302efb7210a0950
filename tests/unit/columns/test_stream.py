"""A register from file to file: every row, the bad ones apart, and the old file where it breaks."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from builders import RunCli, tables
from feedstock import Burn, Heap, InputError, appraise

pa = pytest.importorskip("pyarrow", reason="the extra `columns` is not installed")

import pyarrow.parquet as pq  # noqa: E402

from feedstock.columns import stream  # noqa: E402

pytestmark = pytest.mark.property

HEADER = "name,material,mass,moisture,origin\n"
ROWS = [f"pile {n},{'oak' if n % 2 else 'pine'},{n + 1} kg,18 % wet,own trees\n" for n in range(40)]
BURN = Burn(burner="cone pit", width="1 m", depth="0.5 m")


@pytest.fixture
def register(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Forty good rows, a line with a cell too few (5), an unknown material (9) and an amount
    without a unit (10); read in many batches.
    """
    monkeypatch.setattr(stream, "_BLOCK", 400)
    bad = ["short,line\n", "w,unobtainium,3 kg,18 % wet,own trees\n", "b,oak,3,18 % wet,\n"]
    path = tmp_path / "rows.csv"
    path.write_text("".join([HEADER, *ROWS[:3], bad[0], *ROWS[3:6], *bad[1:], *ROWS[6:]]))
    return path


@pytest.mark.parametrize("ending", ["csv", "parquet"])
def test_every_row_and_the_sums_of_all(register: Path, tmp_path: Path, ending: str) -> None:
    out = tmp_path / f"out.{ending}"
    seen: list[int] = []
    done = stream.appraise_file(register, out, BURN, tables(), progress=seen.append)
    assert (done.rows, done.refused) == (43, 3)
    assert len(seen) > 3
    good = [dict(zip(HEADER.strip().split(","), r.strip().split(","), strict=True)) for r in ROWS]
    heap = appraise(Heap.from_rows(good), BURN, tables())
    assert done.sums.char_mass.low_value == pytest.approx(heap.char_mass.low_value)
    with open(done.problems, newline="") as told:
        problems = {int(row["row"]): row["problem"] for row in csv.DictReader(told)}
    assert set(problems) == {5, 9, 10}
    assert "unobtainium" in problems[9] and "has no unit" in problems[10]
    if ending == "parquet":
        found = pq.read_table(out).to_pylist()
        mids = [row["char_mass"]["mid"] for row in found]
    else:
        with open(out, newline="") as lines:
            found = list(csv.DictReader(lines))
        mids = [float(row["char_mass.mid"]) for row in found]
    assert mids == pytest.approx([lot.char_mass.mid_value for lot in heap.lots if lot.char_mass])
    assert [int(row["row"]) for row in found] == [n for n in range(2, 45) if n not in (5, 9, 10)]
    again = stream.appraise_file(out.with_name("rows.csv"), out, BURN, tables())
    assert again.refused == 3


def test_what_breaks_leaves_what_was_there(register: Path, tmp_path: Path) -> None:
    out = tmp_path / "out.parquet"
    out.write_bytes(b"what was there")

    def stop(rows: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stream.appraise_file(register, out, BURN, tables(), progress=stop)
    assert out.read_bytes() == b"what was there"
    assert {path.name for path in tmp_path.iterdir()} == {"rows.csv", "out.parquet"}
    for source, target in ((tmp_path / "none.csv", out), (register, tmp_path / "no" / "out.csv")):
        with pytest.raises(InputError):
            stream.appraise_file(source, target, BURN, tables())
    with pytest.raises(InputError, match=r"neither a \.csv nor a \.parquet"):
        stream.appraise_file(register, tmp_path / "out.txt", BURN, tables())


def test_the_command_tells_the_sums(register: Path, tmp_path: Path, run_cli: RunCli) -> None:
    status, out, err = run_cli("appraise", str(register), "--rows", str(tmp_path / "o.parquet"))
    assert (status, err) == (0, "")
    assert "40 of 43 rows" in out and "char mass:" in out and "problems.csv" in out
    status, _, err = run_cli("appraise", str(register), "--rows", str(tmp_path / "o.txt"))
    assert status == 2 and "neither" in err
