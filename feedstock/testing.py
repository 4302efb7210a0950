"""One line for the tests of a contributed package of tables.

from feedstock.testing import check_tables

def test_tables():
    check_tables("my_package")
"""

from __future__ import annotations

import os
from importlib.resources import files
from pathlib import Path

from .contrib.check import Report, check
from .tables.loading.source import TableSource


def check_tables(what: str | os.PathLike[str], warnings_fail: bool = False) -> Report:
    """Check the set of an importable package, or of a file or folder; returns the report.

    Raises AssertionError that lists every error (and every warning with `warnings_fail`), each with
    file, line and remedy.
    """
    report = check(_source(what))
    wrong = [*report.errors, *(report.warnings if warnings_fail else ())]
    if wrong:
        raise AssertionError("\n".join(str(problem) for problem in wrong))
    return report


def _source(what: str | os.PathLike[str]) -> TableSource:
    path = Path(what)
    if (
        isinstance(what, str)
        and not path.exists()
        and all(part.isidentifier() for part in what.split("."))
    ):
        return TableSource.of(files(what), what)
    return TableSource.of(path)
