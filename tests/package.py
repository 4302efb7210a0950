"""The modules of the package as text: what they import and how long their parts are. Nothing is
imported here, and an import under TYPE_CHECKING counts as any other.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from builders import ROOT

PACKAGE = ROOT / "feedstock"
PATHS = sorted(PACKAGE.rglob("*.py"))


def module_of(path: Path) -> str:
    """`feedstock.lot.wood`; the package itself for its `__init__`."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {module_of(path): path for path in PATHS}


def short(path: Path) -> str:
    """`lot/wood.py`."""
    return path.relative_to(PACKAGE).as_posix()


@cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


@dataclass(frozen=True)
class Import:
    """One module of ours that another imports; `within` is the function in whose body it stands."""

    importer: str
    line: int
    imported: str
    within: str


def imports(path: Path) -> Iterator[Import]:
    """Every import of our own, wherever it stands."""
    yield from _imports(parsed(path), path, "")


def _imports(node: ast.AST, path: Path, within: str) -> Iterator[Import]:
    for each in ast.iter_child_nodes(node):
        if isinstance(each, ast.Import | ast.ImportFrom):
            for imported in dict.fromkeys(_imported(each, path)):
                yield Import(module_of(path), each.lineno, imported, within)
        elif isinstance(each, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            inner = f"{within}.{each.name}" if within else each.name
            yield from _imports(each, path, inner)
        else:
            yield from _imports(each, path, within)


def _imported(node: ast.Import | ast.ImportFrom, path: Path) -> Iterator[str]:
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names if alias.name in MODULES)
        return
    package = path.relative_to(ROOT).parts[:-1]
    start = package[: len(package) - node.level + 1] if node.level else ()
    whole = ".".join([*start, *([node.module] if node.module else [])])
    for alias in node.names:
        # `from . import results` names a module, `from .results import Verdict` a name of one
        for name in (f"{whole}.{alias.name}", whole):
            if name in MODULES:
                yield name
                break


def circles(graph: Mapping[str, set[str]]) -> list[list[str]]:
    """Groups of modules of which each reaches all others of its group."""
    reached = {name: _reached(name, graph) for name in graph}
    found = {
        tuple(sorted(other for other in reached[name] if name in reached[other]))
        for name in graph
        if name in reached[name]
    }
    return [list(group) for group in sorted(found)]


def _reached(start: str, graph: Mapping[str, set[str]]) -> set[str]:
    """All that `start` imports, itself among it only where it comes back."""
    seen: set[str] = set()
    waiting = list(graph[start])
    while waiting:
        name = waiting.pop()
        if name not in seen:
            seen.add(name)
            waiting += graph[name]
    return seen


def functions(path: Path) -> Iterator[tuple[str, int]]:
    """Name and lines of every function, nested ones among them, without its decorators."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node.name, (node.end_lineno or node.lineno) - node.lineno + 1


def calls_of(path: Path, names: frozenset[str]) -> Iterator[tuple[int, str]]:
    """Line and name of every call of one of these names."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Call):
            called = node.func
            name = (
                called.id
                if isinstance(called, ast.Name)
                else called.attr
                if isinstance(called, ast.Attribute)
                else ""
            )
            if name in names:
                yield node.lineno, name
