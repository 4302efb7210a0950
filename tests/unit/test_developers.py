"""What the developers' page says of the code is there."""

from __future__ import annotations

import ast
import re

import pytest

from builders import ROOT

pytestmark = pytest.mark.regression

TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def six_files() -> list[tuple[str, list[str]]]:
    """The rows of the walk: a file, and the names in code style that begin what is said of it."""
    part = TEXT.partition("in six files\n")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| `([^`]+)` \| (.+) \|$", part, re.MULTILINE)
    return [(file, re.findall(r"`(\w+)`", said)) for file, said in rows]


def test_the_walk_of_a_lot_names_six_files_and_what_is_in_them() -> None:
    walk = six_files()
    assert len(walk) == 6
    for file, names in walk:
        tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
        made = {node.name for node in tree.body if isinstance(node, ast.FunctionDef | ast.ClassDef)}
        assert names[0] in made, (file, names[0], sorted(made))


def test_every_file_that_is_named_is_there() -> None:
    """From the top, or from `feedstock/` where the page speaks of its rooms."""
    rooms = "|".join(path.name for path in (ROOT / "feedstock").iterdir() if path.is_dir())
    tops = rf"feedstock|tests|tables|examples|\.ci|{rooms}"
    named = re.findall(rf"`((?:{tops})/[\w./-]*)`", TEXT)
    assert len(named) > 20
    missing = [
        path
        for path in named
        if not any((top / path).exists() for top in (ROOT, ROOT / "feedstock"))
    ]
    assert not missing, missing
