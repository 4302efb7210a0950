"""A register from file to file: every row, the bad ones apart, and the old file where it breaks."""

from __future__ import annotations

import csv
import os
import random
import subprocess
import sys
from pathlib import Path

import pytest

from builders import ROOT, RunCli, tables
from feedstock import Burn, Heap, InputError, appraise

pa = pytest.importorskip("pyarrow", reason="the extra `columns` is not installed")

import pyarrow.parquet as pq  # noqa: E402

from feedstock.columns import csv_lines, stream  # noqa: E402

pytestmark = pytest.mark.property

HEADER = "name,material,mass,moisture,origin\n"
ROWS = [f"pile {n},{'oak' if n % 2 else 'pine'},{n + 1} kg,18 % wet,own trees\n" for n in range(40)]
BURN = Burn(burner="cone pit", width="1 m", depth="0.5 m")


@pytest.fixture
def register(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Forty good rows, a line with a cell too few (5), an unknown material (9) and an amount
    without a unit (10); read in many batches.
    """
    monkeypatch.setattr(csv_lines, "_BLOCK", 400)
    monkeypatch.setattr(csv_lines, "_ROWS", 8)
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


def test_every_problem_has_the_line_that_an_editor_shows(tmp_path: Path) -> None:
    """Behind empty lines, a line of empty cells, and a text in quotes that goes over two lines;
    in batches of a line each and of all.
    """
    lines = [
        "",  # 1
        "material,mass,remarks",  # 2
        "oak,3 kg,",
        "",  # 4
        '"oak","4 kg","dry',  # 5 and 6
        'summer"',
        "oak,5,",  # 7: no unit
        " , ,",
        ",,",  # 9
        "oak,6 kg",  # 10: a cell is missing
        '"oak","7 kg","a',  # 11 to 13: one cell more
        "b",
        'c",',
        "oak,8,",  # 14: no unit
        "",
    ]
    source, target = tmp_path / "rows.csv", tmp_path / "out.parquet"
    source.write_text("\r\n".join(lines), newline="")
    for rows in (1, 1000):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(csv_lines, "_ROWS", rows)
            done = stream.appraise_file(source, target, None, tables())
        with open(done.problems, newline="", encoding="utf-8") as told:
            problems = [int(row["row"]) for row in csv.DictReader(told)]
        assert sorted(set(problems)) == [7, 8, 10, 11, 14]
        assert pq.read_table(target)["row"].to_pylist() == [3, 5]
        assert (done.rows, done.refused) == (7, 5)


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\n\n",
        b"material,mass\n",
        b"\xff,mass\noak,3 kg\n",
        b"material,mass\n\xff,3 kg\n",
        b"x" * 200_000 + b",mass\n",
        b"material,,mass\noak,,3 kg\n",
        b"material,mass,mass\noak,3 kg,3 kg\n",
        b'material,mass\n"oak,3 kg\n' + b"oak,4 kg\n" * 400_000,
    ],
    ids=["empty", "blank", "no rows", "header", "cell", "long", "nameless", "twice", "quote"],
)
def test_a_file_that_is_no_register_is_refused(content: bytes, tmp_path: Path) -> None:
    source, target = tmp_path / "rows.csv", tmp_path / "out.csv"
    source.write_bytes(content)
    with pytest.raises(InputError):
        stream.appraise_file(source, target, None, tables())
    assert [path.name for path in tmp_path.iterdir()] == ["rows.csv"]


@pytest.mark.parametrize("row", [b"caf\xe9,3 kg", b"oak,3 kg,caf\xe9"], ids=["cell", "cells"])
def test_what_is_no_text_is_told_once(
    row: bytes, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """Far behind what is read first, where the library itself meets it."""
    source = tmp_path / "rows.csv"
    rows = b"oak,3 kg\n" * 2000
    source.write_bytes(b"material,mass\n" + rows + row + b"\n" + rows)
    with pytest.raises(InputError, match="Save it as UTF-8"):
        stream.appraise_file(source, tmp_path / "out.csv", None, tables())
    assert capfd.readouterr() == ("", "")


def test_a_pipe_is_not_waited_for_and_no_register_written_over(
    register: Path, tmp_path: Path
) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    for source, target in (
        (tmp_path / "pipe.csv", tmp_path / "out.csv"),
        (register, tmp_path / "pipe.csv"),
        (register, register),
    ):
        with pytest.raises(InputError, match=r"plain file|written over"):
            stream.appraise_file(source, target, BURN, tables())


STREAM = """
import sys
from feedstock.columns import csv_lines, stream
csv_lines._BLOCK, csv_lines._ROWS = 2000, 40
stream.appraise_file(*sys.argv[1:], progress=lambda rows: print(rows, flush=True))
print("done", flush=True)
"""


@pytest.mark.parametrize("kills", [1, pytest.param(40, marks=pytest.mark.deep)])
def test_a_kill_leaves_the_old_file_or_the_new(
    kills: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed after so many batches as chance will have it, the last of them after all is read."""
    # in the same batches: what is worked out once for each differs in the last bits
    monkeypatch.setattr(csv_lines, "_BLOCK", 2000)
    monkeypatch.setattr(csv_lines, "_ROWS", 40)
    source, target = tmp_path / "rows.csv", tmp_path / "out.parquet"
    source.write_text(HEADER + "".join(ROWS * 10))
    (old := tmp_path / "old.parquet").write_bytes(b"")
    stream.appraise_file(source, old, None, tables())
    new, was, draw = pq.read_table(old), b"what was there", random.Random(4)
    for _ in range(kills):
        target.write_bytes(was)
        with subprocess.Popen(
            [sys.executable, "-c", STREAM, str(source), str(target)],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.PIPE,
            text=True,
        ) as work:
            assert work.stdout is not None
            for _ in range(draw.randint(0, 12)):
                work.stdout.readline()
            work.kill()
        assert target.read_bytes() == was or pq.read_table(target).equals(new)
    stream.appraise_file(source, target, None, tables())
    left = {source.name, old.name, target.name}
    assert {path.name for path in tmp_path.iterdir()} == left, "what the killed left is gone"


def test_the_command_tells_the_sums(register: Path, tmp_path: Path, run_cli: RunCli) -> None:
    status, out, err = run_cli("appraise", str(register), "--rows", str(tmp_path / "o.parquet"))
    assert (status, err) == (0, "")
    assert "40 of 43 rows" in out and "char mass:" in out and "problems.csv" in out
    status, _, err = run_cli("appraise", str(register), "--rows", str(tmp_path / "o.txt"))
    assert status == 2 and "neither" in err
