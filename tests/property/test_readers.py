"""Every reader, given files that a slip or a stranger has changed, ends in a value or in an error
of ours, soon and in bounded memory; and so does the job that follows the reading.
"""

from __future__ import annotations

import random
import resource
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from builders import ROOT
from readers import READERS, case, changed, seeds_of

pytestmark = pytest.mark.property


def outcomes(reader: str, seed: int, count: int, folder: Path) -> Iterator[tuple[bool, float]]:
    """For each changed file whether it was read, and the processor's seconds."""
    rng = random.Random(f"{reader} {seed}")
    for _ in range(count):
        data = changed(seeds_of(reader), rng)
        begun = time.process_time()
        read = case(reader, data, folder)
        yield read, time.process_time() - begun


# what takes longer is tried less often here
COUNT = {"tables.yaml": 8, "heap.yaml": 20}


@pytest.mark.parametrize("reader", READERS)
def test_a_changed_file_is_read_or_refused(reader: str, tmp_path: Path) -> None:
    """Most slips are refused; some, of a digit or in a remark, are not."""
    count = COUNT.get(reader, 40)
    assert {read for read, _ in outcomes(reader, 1, count, tmp_path)} == {True, False}


CORPUS = ROOT / "tests" / "fuzz" / "corpus"


@pytest.mark.parametrize("reader", READERS)
def test_the_files_that_reached_furthest_are_read_or_refused(reader: str, tmp_path: Path) -> None:
    """What `fuzz/fuzz.py` found to reach lines that no other file reaches, or to be taken amiss."""
    files = sorted(CORPUS.joinpath(reader.replace(".", "_")).iterdir())
    assert len(files) >= 5
    for file in files:
        case(reader, file.read_bytes(), tmp_path)


@pytest.mark.deep
@pytest.mark.parametrize("reader", READERS)
def test_thousands_of_changed_files(reader: str, tmp_path: Path) -> None:
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    found = list(outcomes(reader, 2, 20_000, tmp_path))
    grown = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    read, slowest = sum(read for read, _ in found), max(taken for _, taken in found)
    print(
        f"{reader}: {read:,} of {len(found):,} read, slowest {slowest:.2f} s, {grown:.0f} MB more"
    )
    assert grown < 300
