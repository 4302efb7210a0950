"""The same heap gives the same bytes in every thread, whatever the process around it is set to."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from builders import ROOT, tables
from feedstock import Job, appraise

pytestmark = pytest.mark.property

HEAP = ROOT / "tests" / "heaps" / "mixed_scrap.yaml"
BOTH = """
import sys
from feedstock.cli.entry import main
sys.exit(main([*sys.argv[1:], "--json"]) or main([*sys.argv[1:], "--full"]))
"""
SETTINGS: tuple[dict[str, str], ...] = (
    {"PYTHONHASHSEED": "1", "LANG": "C", "TZ": "UTC"},
    {"PYTHONHASHSEED": "77", "LC_ALL": "tr_TR.UTF-8", "TZ": "Pacific/Kiritimati"},
)


def test_hash_language_time_zone_and_folder_change_nothing(tmp_path: Path) -> None:
    """Page and JSON of a heap that is given by its whole path."""
    seen = set()
    for number, settings in enumerate(SETTINGS):
        folder = tmp_path / str(number)
        folder.mkdir()
        done = subprocess.run(
            [sys.executable, "-c", BOTH, "appraise", str(HEAP)],
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(ROOT), **settings},
            capture_output=True,
            check=True,
        )
        seen.add(done.stdout)
        assert not list(folder.iterdir())
    assert len(seen) == 1


@pytest.mark.parametrize("rounds", [3, pytest.param(1000, marks=pytest.mark.deep)])
def test_sixteen_threads_equal_one(rounds: int) -> None:
    """Kinds of lots that are new to each other's threads, bound and kept by all of them at once."""
    jobs = [Job.read(path) for path in sorted((ROOT / "tests" / "heaps").glob("*.yaml"))]
    jobs = [job for job in jobs if len(job.lots) <= 3]
    assert len(jobs) >= 6
    wanted = [appraise(job.heap, job.burn, tables()).model_dump_json() for job in jobs]
    wrong, start = list[str](), threading.Barrier(16)

    def one(number: int) -> None:
        start.wait()
        for turn in range(rounds):
            n = (number + turn) % len(jobs)
            found = appraise(jobs[n].heap, jobs[n].burn, tables()).model_dump_json()
            if found != wanted[n]:
                wrong.append(f"thread {number}, turn {turn}, heap {n}")

    threads = [threading.Thread(target=one, args=(number,)) for number in range(16)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not wrong
