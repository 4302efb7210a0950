"""Change the code of a room in one place at a time and see whether its nearest tests notice.

python .ci/mutants.py COUNT [ROOM ...]: draws COUNT mutants of each room by a fixed seed, runs the
room's nearest tests on each, and prints the share killed and each survivor with its change. The
checkout is changed while it runs, so run it in a clone of its own.
"""

from __future__ import annotations

import json
import random
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

# the tests that a person who changes a room runs first, quickest first
NEAREST = {
    "physics": ("tests/unit/physics", "tests/published", "tests/tables"),
    "uncertainty": ("tests/unit/uncertainty",),
    "lot": ("tests/unit/lot", "tests/unit/assessment", "tests/property"),
    "assessment": ("tests/unit/assessment", "tests/unit/lot", "tests/property"),
    "burn": ("tests/unit/burn", "tests/published/test_burns.py", "tests/property"),
}
# In annotations `X | None` is never run, and a cache left out changes no result.
NO_CHANGE = ["core/ReplaceBinaryOperator_BitOr_.*", "core/RemoveDecorator"]
SEED = 20


def _tool(*arguments: str) -> str:
    where = Path(sys.executable).parent
    done = subprocess.run(
        [str(where / arguments[0]), *arguments[1:]], capture_output=True, text=True, check=True
    )
    return done.stdout


def _config(room: str) -> str:
    paths = [path for path in NEAREST[room] if Path(path).exists()]
    command = f"{sys.executable} -m pytest -x -p no:cacheprovider {' '.join(paths)}"
    return "\n".join(
        (
            "[cosmic-ray]",
            f'module-path = "feedstock/{room}"',
            "timeout = 240.0",
            "excluded-modules = []",
            f"test-command = {json.dumps(command)}",
            "[cosmic-ray.distributor]",
            'name = "local"',
            "[cosmic-ray.filters.operators-filter]",
            f"exclude-operators = {json.dumps(NO_CHANGE)}",
            "",
        )
    )


def _sampled(session: Path, count: int) -> None:
    """Leave `count` mutants of those that are still to be run."""
    with sqlite3.connect(session) as base:
        done = {row[0] for row in base.execute("select job_id from work_results")}
        jobs = sorted(row[0] for row in base.execute("select job_id from mutation_specs"))
        places = {
            row[0]: row[1:]
            for row in base.execute(
                "select job_id, module_path, operator_name, start_pos_row, start_pos_col,"
                " occurrence from mutation_specs"
            )
        }
        # the order is that of the code, since the numbers of jobs are new in each session
        left = sorted((job for job in jobs if job not in done), key=lambda job: places[job])
        chosen = set(random.Random(SEED).sample(left, min(count, len(left))))
        for job in jobs:
            if job not in chosen:
                for table in ("work_results", "mutation_specs", "work_items"):
                    base.execute(f"delete from {table} where job_id = ?", (job,))


def _room(room: str, count: int) -> tuple[int, int]:
    """The mutants of a room that were run, and those of them that were noticed."""
    with tempfile.TemporaryDirectory() as folder:
        config, session = Path(folder) / "config.toml", Path(folder) / "session.sqlite"
        config.write_text(_config(room), encoding="utf-8")
        _tool("cosmic-ray", "init", str(config), str(session))
        _tool("cr-filter-operators", str(session), str(config))
        _sampled(session, count)
        _tool("cosmic-ray", "exec", str(config), str(session))
        with sqlite3.connect(session) as base:
            rows = base.execute(
                "select module_path, start_pos_row, operator_name, test_outcome, diff"
                " from work_results join mutation_specs using (job_id)"
            ).fetchall()
    survivors = [row for row in rows if row[3] == "SURVIVED"]
    print(f"{room}: {len(rows) - len(survivors)} of {len(rows)} noticed", flush=True)
    for path, line, operator, _, diff in survivors:
        changed = [
            part for part in (diff or "").splitlines() if part[:1] in "+-" and part[1:2] != part[:1]
        ]
        print(f"  {path}:{line}: {operator.removeprefix('core/')}")
        print("\n".join(f"      {part}" for part in changed), flush=True)
    return len(rows), len(rows) - len(survivors)


def main(count: str, *rooms: str) -> None:
    """Run the rooms named, or all of them."""
    found = [_room(room, int(count)) for room in rooms or NEAREST]
    run, noticed = (sum(pair[n] for pair in found) for n in (0, 1))
    print(f"mutants: {noticed} of {run} noticed, {100 * noticed / run:.0f} %")


if __name__ == "__main__":
    main(*sys.argv[1:])
