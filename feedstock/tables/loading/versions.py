"""Versions of sets: what a set needs of the others."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from itertools import zip_longest
from typing import Any

from ...documents.positions import Document
from ...errors import Problem, shown
from .raw import Needed, RawSet

_VERSION = re.compile(r"[0-9]{1,6}(?:\.[0-9]{1,6}){0,3}")
_NEEDED = re.compile(rf"([^\s:]+)\s+({_VERSION.pattern})")


def older(version: str, than: str) -> bool:
    """Whether a version comes before another; parts that are not there count as nothing, and what
    is no row of numbers comes before all.

    >>> older("1.9.0", "1.10"), older("1.0", "1.0.0"), older("next", "0.1")
    (True, False, True)
    """
    if _VERSION.fullmatch(version) is None:
        return True
    pairs = zip_longest(_numbers(version), _numbers(than), fillvalue=0)
    return next((a < b for a, b in pairs if a != b), False)


def _numbers(version: str) -> list[int]:
    return [int(part) for part in version.split(".")]


def needed_sets(value: Any, document: Document, report: Callable[..., None]) -> tuple[Needed, ...]:
    """What `requires` says: one text or a list of texts, a name and a version each."""
    texts = value if isinstance(value, list) else [] if value is None else [value]
    needed: list[Needed] = []
    for text in texts:
        read = _NEEDED.fullmatch(text.strip()) if isinstance(text, str) else None
        if read is None:
            what = f"`requires`: '{shown(text)}' is not the name of a set and a version"
            remedy = "Write requires: reference 1.0.0, or a list of such."
            report(("set", "requires"), "requires", what, remedy)
        else:
            needed.append(Needed(read[1], read[2], document))
    return tuple(needed)


def check_versions(sets: Iterable[RawSet], problems: list[Problem]) -> None:
    """Append a problem for every set that is needed and not there, or there in an older version."""
    sets = list(sets)
    there = {info.name: info.version for info in sets}
    for raw_set in sets:
        for needed in raw_set.requires:
            version = there.get(needed.name)
            if version is None:
                what = f"'{raw_set.name}' needs the set '{needed.name}', which is not loaded"
                remedy = f"Load '{needed.name}' {needed.least} or later before it."
            elif older(version, needed.least):
                what = f"'{raw_set.name}' needs '{needed.name}' {needed.least} or later; this is "
                what += shown(version)
                remedy = f"Upgrade '{needed.name}', or use an older release of '{raw_set.name}'."
            else:
                continue
            problems.append(needed.problem(what, remedy))
