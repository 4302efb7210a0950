"""Every code that the library makes a sentence of has its sentence."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from builders import ROOT, tables
from feedstock.words import known

pytestmark = pytest.mark.property

FILES = sorted((ROOT / "feedstock").rglob("*.py"))


def constants(tree: ast.Module) -> dict[str, str]:
    """The texts that a module gives a name, such as `HEARD = "word-heard"`."""
    out: dict[str, str] = {}
    for node in tree.body:
        if not isinstance(node, ast.Assign):
            continue
        for target in node.targets:
            names = target.elts if isinstance(target, ast.Tuple) else [target]
            values = node.value.elts if isinstance(node.value, ast.Tuple) else [node.value]
            for name, value in zip(names, values, strict=False):
                if isinstance(name, ast.Name) and isinstance(value, ast.Constant):
                    out[name.id] = str(value.value)
    return out


def texts(node: ast.expr, named: dict[str, str]) -> Iterator[str]:
    """What an expression for a code can be, as far as it stands there."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.Name) and node.id in named:
        yield named[node.id]
    elif isinstance(node, ast.IfExp):
        yield from texts(node.body, named)
        yield from texts(node.orelse, named)


def codes(path: Path) -> Iterator[tuple[int, str]]:
    """The codes of the messages and findings that a module makes, each with its line."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    named = constants(tree)
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        called = getattr(node.func, "id", getattr(node.func, "attr", ""))
        if called in ("Message", "say") and node.args:
            yield from ((node.lineno, code) for code in texts(node.args[0], named))
        of_finding = [word.value for word in node.keywords if word.arg == "code"]
        if called == "_of_the_burn":
            of_finding += node.args[:1]
        if called in ("Finding", "_of_the_burn"):
            for code in (code for part in of_finding for code in texts(part, named)):
                yield node.lineno, f"{code}.reason"
                yield node.lineno, f"{code}.action"


def test_every_code_has_its_sentence() -> None:
    """But those of a finding that says what its row says."""
    rows = {row_id.partition(":")[2] for row_id in tables().rows["contaminants"]}
    found = [(path, *item) for path in FILES for item in codes(path)]
    assert len(found) > 250
    missing = [
        f"{path.name}:{line}: {code}"
        for path, line, code in found
        if not known(code) and code.partition(".")[0] not in rows
    ]
    assert not missing, missing
