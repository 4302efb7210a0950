"""A starter for a package of tables: a commented set, its packaging, and a test of one line."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from ..errors import InputError, Problem
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
name = "{distribution}"
version = "0.1.0"
description = "Tables for feedstock"
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


def starter(folder: Path) -> list[Path]:
    """Write a starter package into a new or empty folder and return its files.

    Raises InputError; then nothing is written.
    """
    try:
        taken = folder.exists() and (not folder.is_dir() or any(folder.iterdir()))
    except OSError as why:
        raise _unwritable(folder, why) from None
    if taken:
        raise InputError(
            [
                Problem(
                    "exists",
                    "there is something here already",
                    "Name a new or an empty folder.",
                    file=str(folder),
                )
            ]
        )
    words = re.findall(r"[a-z0-9]+", folder.resolve().name.lower())
    if not words or words[0][0].isdigit():
        raise InputError(
            [
                Problem(
                    "name",
                    f"'{folder.name}' gives no name for a package",
                    "Name the folder in letters, for instance alpine-tables.",
                    file=str(folder),
                )
            ]
        )
    given = {
        "name": "-".join(words),
        "distribution": "-".join(words),
        "package": "_".join(words),
        "schema": SCHEMA,
    }
    package = given["package"]
    files = {
        folder / "pyproject.toml": _PROJECT,
        folder / str(package) / "__init__.py": '"""Tables for feedstock."""\n',
        folder / str(package) / "tables.yaml": _TABLES,
        folder / "tests" / "test_tables.py": _TEST,
    }
    texts = {
        path: text.format(**given) if text.count("{") else text for path, text in files.items()
    }
    _write_all(folder, texts)
    return list(files)


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
