"""What stands in the files: docstrings, numbers about the world in tables alone, and no promise."""

from __future__ import annotations

import ast
import io
import re
import tokenize
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

import feedstock
from builders import ROOT, TABLE_FOLDER
from package import PACKAGE, PATHS, parsed

pytestmark = pytest.mark.regression


def test_tables_are_no_package() -> None:
    """An __init__.py there would make a top-level module of a well-known name."""
    assert not list(TABLE_FOLDER.rglob("*.py"))


def test_every_public_function_and_class_has_a_docstring() -> None:
    """Functions and classes at the top of a module, and the methods of what the package exports; a
    formula says what it is by its name and reference.
    """
    bare = []
    for path in PATHS:
        tree = parsed(path)
        assert ast.get_docstring(tree) is not None or path.name in ("__init__.py", "__main__.py"), (
            path
        )
        exported = [
            node
            for node in tree.body
            if isinstance(node, ast.ClassDef) and node.name in feedstock.__all__
        ]
        for prefix, body in (("", tree.body), *((f"{node.name}.", node.body) for node in exported)):
            for node in body:
                if (
                    isinstance(node, (ast.FunctionDef, ast.ClassDef))
                    and not node.name.startswith("_")
                    and not _speaks_for_itself(node)
                ):
                    bare.append(f"{path.relative_to(ROOT)}:{node.lineno}: {prefix}{node.name}")
    assert not bare, "\n".join(bare)


def _speaks_for_itself(node: ast.FunctionDef | ast.ClassDef) -> bool:
    formulas = [
        each
        for each in node.decorator_list
        if isinstance(each, ast.Call)
        and isinstance(each.func, ast.Name)
        and each.func.id == "formula"
    ]
    return ast.get_docstring(node) is not None or bool(formulas)


# file: numbers of three and more decimals that may stand in code, with the reason
EXACT = {
    # quantile and rules of thumb by which the ends of a cell are read, part of the format of tables
    "quantities/cell.py": {"1.645", "0.839"},
    # the smallest moisture that is kept apart from none, so that its log exists
    "physics/moisture.py": {"0.001"},
    # shares under half a per cent are not printed
    "model/explanation.py": {"0.005"},
    # how far analyses may miss 100 %, and from when on a change of the panel is told: thresholds of
    # the checker
    "contrib/plausible.py": {"0.025"},
    "contrib/panel.py": {"0.005"},
}


def test_numbers_about_the_world_stand_in_tables() -> None:
    """No literal with three or more decimals outside units.py, but for those above."""
    found: dict[str, set[str]] = {}
    for path in PATHS:
        if path.name == "units.py":
            continue
        for token in tokenize.generate_tokens(
            io.StringIO(path.read_text(encoding="utf-8")).readline
        ):
            if token.type == tokenize.NUMBER and re.fullmatch(
                r"[0-9_]*\.[0-9_]{3,}(e[+-]?[0-9]+)?", token.string, re.IGNORECASE
            ):
                found.setdefault(path.relative_to(PACKAGE).as_posix(), set()).add(token.string)
    extra = {
        name: sorted(numbers - EXACT.get(name, set()))
        for name, numbers in found.items()
        if numbers - EXACT.get(name, set())
    }
    assert not extra
    unused = {
        name: sorted(numbers - found.get(name, set()))
        for name, numbers in EXACT.items()
        if numbers - found.get(name, set())
    }
    assert not unused


_PROMISE = re.compile(r"\bsafe(ly)?\b", re.IGNORECASE)
# names of functions of the YAML library
_NAMES = re.compile(r"\b(safe_load|C?SafeLoader)\b")


def _texts_of_code(path: Path) -> Iterator[tuple[int, str]]:
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.lineno, node.value


def _texts_of_table(path: Path) -> Iterator[tuple[int, str]]:
    for event in yaml.parse(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader):
        if isinstance(event, yaml.ScalarEvent) and event.start_mark is not None:
            yield event.start_mark.line + 1, event.value


def test_nothing_is_called_safe() -> None:
    """No text of the code or of the tables promises it, not even a negated one."""
    said = []
    for path in (
        *PATHS,
        *sorted(p for folder in (PACKAGE, TABLE_FOLDER) for p in folder.rglob("*.y*ml")),
    ):
        for line, text in _texts_of_code(path) if path.suffix == ".py" else _texts_of_table(path):
            if _PROMISE.search(_NAMES.sub("", text)):
                said.append(f"{path.relative_to(ROOT)}:{line}: {text[:100]}")
    assert not said, "\n".join(said)


# the pit, the minutes and the litres by which the trade checks a plan
_TRADE = re.compile(r"\b(?:33|14) ?in(?:ch(?:es)?)?\b(?! to)|\b35 ?min(?:utes)?\b|\b7 US gal\b")


def test_the_check_values_of_the_trade_stand_in_its_checks_alone() -> None:
    """Examples, demo data and ordinary tests have measures of their own, so that nothing is tuned
    to the few values by which plans are checked.
    """
    checks = ROOT / "tests" / "published"
    assert _TRADE.search((checks / "test_burns.py").read_text(encoding="utf-8"))
    found = [
        f"{path.relative_to(ROOT)}: {each[0]}"
        for path in (
            ROOT / "README.md",
            *(
                path
                for folder in ("examples", "feedstock", "tests")
                for path in sorted((ROOT / folder).rglob("*"))
                if path.suffix in (".py", ".yaml", ".csv", ".json") and checks not in path.parents
            ),
        )
        if path != Path(__file__).resolve()
        for each in [_TRADE.search(path.read_text(encoding="utf-8"))]
        if each
    ]
    assert not found, "\n".join(found)
