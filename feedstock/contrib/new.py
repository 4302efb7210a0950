"""A starter for a package of tables: a commented set, its packaging, its licence, a test of one
line and what runs it; and what of it is still to be filled in.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from ..documents.positions import Path_
from ..errors import InputError, Problem
from ..tables.loading.load import load_tables
from ..tables.loading.raw import RawSet
from ..tables.rows.row import SCHEMA

_TABLES = """\
# yaml-language-server: $schema=schema.json
# What these tables hold, and how to cite them. All here is an example: put your own in its place.
# An editor with a YAML language server completes and checks while you type, once you have run
#   feedstock tables schema > {package}/schema.json
# Check at any time:  feedstock tables check {package}

set:
  name: {name}
  version: "0.1.0"
  schema: {schema}
  licence: CC-BY-4.0
  maintainer: who answers questions about these tables
  description: what is in here, in one line
  # the least version of the reference tables that these were checked with
  requires: reference {reference}

sources:
  # every value is read somewhere; a source that nothing cites is pointed out
  my-source:
    title: Title of the paper, handbook or data set
    authors: "Family, A.; Other, B."
    year: 2020
    container: Journal, series or book
    doi: 10.0000/example
    # what of it was seen: whole, part, table, abstract, quotation, record or nothing
    seen: table

materials:
  example-wood:
    # the first English name is shown; plurals, case and hyphens need no names of their own.
    # A word that the reference understands stays its own: pine of any kind is its pine
    names: {{en: [example wood]}}
    # all that is not given here comes from that row, and explanations say so
    like: hardwood
    # a number is a cell: value and 90 % interval with their unit, the source, and where in it
    basic_density:
      {{value: 620 kg/m^3, low: 540 kg/m^3, high: 700 kg/m^3, source: my-source, at: table 2}}
    # ends: where low and high come from: read, derived, judgement (default), or rule and its name
    # known: read (default), derived (note says how), memory (at says "from memory"), practice or
    # judgement (note says why)
    ash:
      {{value: 1.2 %, low: 0.6 %, high: 2.4 %, known: judgement, note: like other prunings in bark}}
"""

_PROJECT = """\
[build-system]
requires = ["hatchling>=1.24"]
build-backend = "hatchling.build"

[project]
name = "{name}"
version = "0.1.0"
description = "Tables for feedstock"
readme = "README.md"
license = {{file = "LICENSE"}}
requires-python = ">=3.11"
dependencies = ["feedstock"]

[project.optional-dependencies]
test = ["pytest"]

# by this entry the library finds the set wherever the package is installed
[project.entry-points."feedstock.tables"]
{name} = "{package}"

[tool.hatch.build.targets.wheel]
packages = ["{package}"]
"""

_TEST = '''\
"""The set loads, closes, and loosens nothing that it does not declare."""

from feedstock.testing import check_tables


def test_tables() -> None:
    check_tables("{package}")
'''


_LICENCE = """\
The tables in this package are published under the Creative Commons Attribution 4.0 International
licence (CC BY 4.0): https://creativecommons.org/licenses/by/4.0/legalcode

The facts in them are those of the sources that each value cites; say those sources when you use the
values. Another licence goes here and under `licence` in {package}/tables.yaml.
"""

_README = """\
# {name}

Tables for feedstock: what is in them, for which region, and who looks after them.

    pip install .                          # every program that uses feedstock now finds them
    feedstock tables check {package}
    feedstock tables schema --text         # what every field means

Cite as: who made them, {name}, version and year, together with the sources of the values used
(`feedstock tables cite` writes them as BibTeX). Raise `version` in {package}/tables.yaml and in
pyproject.toml with every change of a value, and say here what changed; `requires` in tables.yaml is
the least version of the reference tables that they were checked with.
"""

_CI = """\
#!/bin/sh
# What a change must pass; run it here, or let the place where the package lives run it.
set -eu
python -m venv .venv
.venv/bin/pip install --quiet ".[test]"
.venv/bin/feedstock tables check {package}
.venv/bin/python -m pytest -q
"""

_WORKFLOW = """\
name: check
on: [push, pull_request]
jobs:
  check:
    runs-on: ubuntu-latest
    steps:
      - uses: actions/checkout@v4
      - uses: actions/setup-python@v5
        with: {{python-version: "3.12"}}
      - run: sh .ci/run
"""

_FILLED_IN = (
    "who answers questions about these tables",
    "what is in here, in one line",
    "Title of the paper, handbook or data set",
    "Family, A.; Other, B.",
    "Journal, series or book",
    "10.0000/example",
    "example wood",
    "like other prunings in bark",
)
"""Texts of the starter that its owner is to put others in the place of."""


def placeholders(raw_set: RawSet, label: str) -> Iterator[Problem]:
    """What of a set still stands as the starter wrote it."""
    remedy = "Put your own in its place."
    for name in ("maintainer", "description"):
        text = getattr(raw_set, name)
        if text in _FILLED_IN:
            what = f"'{text}' is the starter's"
            yield Problem("placeholder", what, remedy, f"set.{name}", text, label)
    for rows in raw_set.rows.values():
        for row in rows.values():
            for path, text in _texts(row.data, ()):
                if text in _FILLED_IN:
                    yield row.problem("placeholder", f"'{text}' is the starter's", remedy, path)


def _texts(value: Any, path: Path_) -> Iterator[tuple[Path_, str]]:
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, (dict, list)):
        items = value.items() if isinstance(value, dict) else enumerate(value)
        for key, item in items:
            yield from _texts(item, (*path, key))


def starter(folder: Path) -> list[Path]:
    """Write a starter package into a new or empty folder and return its files.

    Raises InputError; then nothing is written.
    """
    names = _names(folder)
    files = {path: text.format(**names) for path, text in _files(folder, names).items()}
    _write_all(folder, files)
    return list(files)


def _files(folder: Path, names: Mapping[str, Any]) -> dict[Path, str]:
    package = folder / str(names["package"])
    return {
        folder / "README.md": _README,
        folder / "LICENSE": _LICENCE,
        folder / "pyproject.toml": _PROJECT,
        folder / ".ci" / "run": _CI,
        folder / ".github" / "workflows" / "check.yml": _WORKFLOW,
        package / "__init__.py": '"""Tables for feedstock."""\n',
        package / "tables.yaml": _TABLES,
        folder / "tests" / "test_tables.py": _TEST,
    }


def _names(folder: Path) -> dict[str, Any]:
    """The names of the distribution, the set and the package; InputError where there can be none,
    or where something stands already.
    """
    try:
        taken = folder.exists() and (not folder.is_dir() or any(folder.iterdir()))
    except OSError as why:
        raise _unwritable(folder, why) from None
    if taken:
        what, remedy = "there is something here already", "Name a new or an empty folder."
        raise InputError([Problem("exists", what, remedy, file=str(folder))])
    words = re.findall(r"[a-z0-9]+", folder.resolve().name.lower())
    if not words or words[0][0].isdigit():
        what = f"'{folder.name}' gives no name for a package"
        remedy = "Name the folder in letters, for instance alpine-tables."
        raise InputError([Problem("name", what, remedy, file=str(folder))])
    return {
        "name": "-".join(words),
        "package": "_".join(words),
        "schema": SCHEMA,
        "reference": next(s.version for s in load_tables(plugins=False).sets),
    }


def _write_all(folder: Path, texts: dict[Path, str]) -> None:
    """Write all files or, where one cannot be written, none: the folder is as it was. Raises
    InputError.
    """
    existed = folder.exists()
    try:
        for path, text in texts.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
    except OSError as why:
        shutil.rmtree(folder, ignore_errors=True)
        if existed:
            # it was empty
            folder.mkdir(exist_ok=True)
        raise _unwritable(folder, why) from None


def _unwritable(folder: Path, why: OSError) -> InputError:
    return InputError(
        [
            Problem(
                "unwritable",
                f"this cannot be written ({why.strerror or why}); nothing was left behind",
                "Name a folder where there is room and that may be written.",
                file=str(folder),
            )
        ]
    )
