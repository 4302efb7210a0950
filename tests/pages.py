"""The kinds of heap whose plans are held, appraised once, and their pages as one line of words."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from builders import tables
from feedstock import Job, appraise
from feedstock.model.appraisal import Appraisal
from feedstock.text import page

HEAPS = Path(__file__).parent / "heaps"
NAMES = sorted(path.stem for path in HEAPS.glob("*.yaml"))


@cache
def appraised(name: str) -> Appraisal:
    job = Job.read(HEAPS / f"{name}.yaml")
    return appraise(job.heap, job.burn, tables())


def shown(name: str, units: str = "metric") -> str:
    """The page of a heap with every space as one, so that where a line ends does not matter."""
    return flat(appraised(name), units)


def flat(result: Appraisal, units: str = "metric") -> str:
    return " ".join(page(result, "us" if units == "us" else "metric").split())
