"""What pytest itself needs: how many random examples are drawn, how many processes share the work,
and the command line run in this process.
"""

from __future__ import annotations

import gc
import importlib.util
import os

import pytest
from hypothesis import HealthCheck, settings

from builders import RunCli
from feedstock.cli.entry import main

# Random examples of a test that says nothing itself. Tests that appraise whole heaps take a part of
# it (`strategies.examples`). With CI set the same examples are drawn in every run, so that what
# passed once passes again; the search at random is for development and for .ci/deep.
settings.register_profile(
    "default", max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile(
    "ci",
    settings.get_profile("default"),
    derandomize=True,
    database=None,
    print_blob=True,
)
settings.register_profile("deep", settings.get_profile("default"), max_examples=300)
settings.load_profile("ci" if os.environ.get("CI") else "default")

# tests of a browser and of other programs need extras, and are not even read without them
collect_ignore = [
    folder
    for folder, needs in (("browser", "playwright"), ("host", "fastapi"))
    if importlib.util.find_spec(needs) is None
]

# more processes would read the tables once each and then find little left to do
MOST_PROCESSES = 8

# dozens of tests start processes, and each would compile anew what none may keep
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# what is made while tests are read stays to the end: the collector would walk it a hundred times
gc.disable()


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """`-n auto`: a process for each processor that this one may use, eight at most."""
    try:
        usable = len(os.sched_getaffinity(0))
    except AttributeError:
        usable = os.cpu_count() or 1
    return min(usable, MOST_PROCESSES)


def pytest_collection_finish() -> None:
    """What is there before the first test stays to the end: the collector need not walk it again
    and again, and what tests make is seldom a circle. That is a fifth of the suite's time.
    """
    gc.freeze()
    gc.enable()
    gc.set_threshold(100_000, 20, 100)


@pytest.fixture
def run_cli(capsys: pytest.CaptureFixture[str]) -> RunCli:
    """`run_cli("appraise", path)` gives the exit status, standard output and standard error."""

    def run(*arguments: object) -> tuple[int, str, str]:
        capsys.readouterr()
        try:
            status = main([str(each) for each in arguments])
        except SystemExit as leaving:  # argparse leaves by itself
            status = int(leaving.code or 0)
        return (status, *capsys.readouterr())

    return run
