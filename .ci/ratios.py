"""What starting costs, as ratios to a bare Python: processor time of whole processes, their medians
and spreads in one run. `python .ci/ratios.py [ROUNDS] [PYTHON]`; PYTHON has the wheel installed.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
FIRST = """
from feedstock import Burn, Heap, Lot, appraise
heap = Heap(lots=[
    Lot(material="apple", mass="40 kg", moisture="18 % wet", origin="own trees"),
    Lot(material="pallet wood", mass="12 kg", moisture="14 % wet", origin="pallet",
        signs=["mark HT", "bare wood"]),
])
appraise(heap, Burn(burner="cone pit", width="1 m", depth="0.5 m"))
"""
OWN = """set: {name: own-notes, version: "1", schema: 2}
materials:
  lower-plum: {names: {en: [plum of the lower field]}, like: plum}
"""
"""A set of one row."""
WITH_OWN = f"""
import sys
from feedstock import load_tables
{FIRST.replace("Burn(burner", "tables=load_tables(sys.argv[1]) or Burn(burner")}"""
CASES = {
    "bare Python": ["-c", "pass"],
    "import feedstock": ["-c", "import feedstock"],
    "import pydantic": ["-c", "import pydantic; pydantic.BaseModel"],
    "first appraisal by API, without a burn": [
        "-c",
        FIRST.replace('Burn(burner="cone pit", width="1 m", depth="0.5 m")', "None"),
    ],
    "first appraisal with a set of one row": ["-c", WITH_OWN, "OWN"],
    "first appraisal by API, with a plan": ["-c", FIRST],
    "the command for seven lots": [
        "-m",
        "feedstock",
        "appraise",
        str(TOP / "examples" / "shed_clearout.yaml"),
    ],
}


def cost(python: str, arguments: list[str]) -> float:
    """Seconds of processor that a process takes, its end included."""
    started = subprocess.Popen([python, *arguments], stdout=subprocess.DEVNULL, cwd="/")
    _, status, used = os.wait4(started.pid, 0)
    if status:
        raise SystemExit(f"{arguments} failed")
    return used.ru_utime + used.ru_stime


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 9
    python = sys.argv[2] if len(sys.argv) > 2 else sys.executable
    taken: dict[str, list[float]] = {name: [] for name in CASES}
    own = Path(tempfile.mkdtemp(), "own.yaml")
    own.write_text(OWN, encoding="utf-8")
    for turn in range(rounds + 1):
        for name, arguments in CASES.items():
            seconds = cost(python, [str(own) if each == "OWN" else each for each in arguments])
            if turn:  # the first writes the byte code
                taken[name].append(seconds)
    bare = statistics.median(taken["bare Python"])
    for name, each in taken.items():
        low, mid, high = (1000 * value for value in (min(each), statistics.median(each), max(each)))
        print(f"{name:40} {mid / 1000 / bare:6.1f} x  {mid:7.1f} ms ({low:.1f} to {high:.1f})")


if __name__ == "__main__":
    main()
