"""The house rules: imports go downward and in no circle, parts are short, and inputs, keys,
estimates and citations are made by their makers alone.

Run with -s it prints where the house stands. The lists of what is still allowed only ever shrink: a
name on them that no longer offends is an error too.
"""

from __future__ import annotations

import ast
import re
import sys
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from types import FrameType
from typing import Any, TypeVar

import pytest

import feedstock
from builders import ROOT, tables
from feedstock import Lot, appraise_lot
from feedstock.uncertainty.propagate import forget_kept
from package import (
    MODULES,
    PACKAGE,
    PATHS,
    Import,
    calls_of,
    circles,
    functions,
    imports,
    parsed,
    short,
)

pytestmark = pytest.mark.regression
T = TypeVar("T")

# from the ground upwards; a module may import what stands before it, and its own room
ORDER = (
    "errors",
    "quantities",
    "words",
    "documents",
    "uncertainty",
    "physics",
    "tables",
    "model",
    "lot",
    "assessment",
    "burn",
    "char",
    "compost",
    "experience",
    "pipeline",
    "explanation",
    "text",
    "contrib",
    "columns",
    "testing",
    "cli",
    "__main__",
)

# methods of results that need a room above them: each imports it in its body, when it is called
REACHING_UP = {("Appraisal.explain", "explanation"), ("_repr_html_", "text")}


def room(path: Path) -> str:
    """The file or the folder directly under feedstock/; "" for the package itself."""
    first = path.relative_to(PACKAGE).parts[0]
    return "" if first == "__init__.py" else first.removesuffix(".py")


def reaches_up(each: Import) -> bool:
    target = room(MODULES[each.imported])
    return room(MODULES[each.importer]) == "model" and any(
        target == allowed and (each.within == method or each.within.endswith(f".{method}"))
        for method, allowed in REACHING_UP
    )


@cache
def every_import() -> list[Import]:
    return [each for path in PATHS for each in imports(path)]


def test_the_order_knows_every_module() -> None:
    unknown = {room(path) for path in PATHS} - {*ORDER, ""}
    assert not unknown


def test_imports_go_downward() -> None:
    """Those for the type checker too."""
    upward = []
    for each in every_import():
        here, there = (room(MODULES[name]) for name in (each.importer, each.imported))
        if not here or reaches_up(each):
            continue
        if not there or ORDER.index(there) > ORDER.index(here):
            upward.append(f"{each.importer}:{each.line}: {here} imports {there or 'feedstock'}")
    assert len(every_import()) > 500
    assert not upward, "\n".join(upward)


def test_no_room_has_the_name_of_a_public_function() -> None:
    """`import feedstock.appraise as x` must not give a function."""
    public = {name for names in feedstock._HOMES.values() for name in names}
    assert {"appraise", "gather", "load_tables"} <= public
    assert not public & {room(path) for path in PATHS}


def test_no_imports_go_in_a_circle() -> None:
    graph: dict[str, set[str]] = {name: set() for name in MODULES}
    for each in every_import():
        if not reaches_up(each):
            graph[each.importer].add(each.imported)
    found = circles(graph)
    print(f"modules: {len(MODULES)}; import circles: {len(found)}")
    assert not found


def test_a_circle_is_seen() -> None:
    assert circles({"a": {"b"}, "b": {"c"}, "c": {"b"}, "d": {"d"}}) == [["b", "c"], ["d"]]


def test_physics_knows_only_numbers() -> None:
    """Floats and formula metadata: nothing but formulas, elementwise and physics itself."""
    wrong = [
        f"{each.importer}:{each.line}: {each.imported}"
        for each in every_import()
        if room(MODULES[each.importer]) == "physics"
        and room(MODULES[each.imported]) not in ("uncertainty", "physics")
    ]
    assert not wrong, wrong


def test_nothing_that_prints_appraises() -> None:
    computing = ("pipeline", "lot", "assessment", "burn", "compost", "experience")
    wrong = [
        f"{each.importer}:{each.line}"
        for each in every_import()
        if room(MODULES[each.importer]) == "text" and room(MODULES[each.imported]) in computing
    ]
    assert not wrong, wrong


def only_shrinks(found: set[T], allowed: set[T]) -> None:
    assert found - allowed == set()
    assert allowed - found == set(), "these no longer offend: take them off the list"


# --- length ---------------------------------------------------------------------------------------

LONGEST_FUNCTION, LONGEST_MODULE = 50, 400
STILL_LONG_FUNCTIONS: set[tuple[str, str]] = set()
STILL_LONG_MODULES: set[str] = set()


def test_functions_are_short() -> None:
    lengths = {(short(path), name): lines for path in PATHS for name, lines in functions(path)}
    longest = max(lengths, key=lambda each: lengths[each])
    print(f"longest function: {lengths[longest]} lines, {longest[1]} in {longest[0]}")
    found = {each for each, lines in lengths.items() if lines > LONGEST_FUNCTION}
    only_shrinks(found, STILL_LONG_FUNCTIONS)


def test_modules_are_short() -> None:
    lengths = {short(path): len(path.read_text(encoding="utf-8").splitlines()) for path in PATHS}
    longest = max(lengths, key=lambda each: lengths[each])
    print(f"longest module: {lengths[longest]} lines, {longest}")
    found = {each for each, lines in lengths.items() if lines > LONGEST_MODULE}
    only_shrinks(found, STILL_LONG_MODULES)


# --- what runs ------------------------------------------------------------------------------------

# of a lot that says what one before it said, and of one that says something new: then it is bound,
# and the ends of its figures are found
MODULES_RUN, OF_THE_MECHANISM = 40, 20
MODULES_RUN_NEW, OF_THE_MECHANISM_NEW = 52, 28


TABLES = tables()


def modules_run(lot: Lot) -> set[str]:
    """The modules whose code runs while a lot is appraised."""
    seen: set[str] = set()
    before = sys.getprofile()

    def entered(frame: FrameType, event: str, _: Any) -> None:
        if event == "call":
            seen.add(frame.f_code.co_filename)

    sys.setprofile(entered)
    try:
        appraise_lot(lot, tables=TABLES)
    finally:
        sys.setprofile(before)
    return {short(path) for path in PATHS if str(path) in seen}


def weighed(mass: str, moisture: str) -> Lot:
    return Lot(material="apple", mass=mass, moisture=moisture, origin="own trees")


@pytest.mark.parametrize(
    ("what", "lot", "most", "most_of_the_mechanism"),
    [
        ("as there was one", weighed("41 kg", "22 % wet"), MODULES_RUN, OF_THE_MECHANISM),
        ("new", weighed("40 kg", "23 % wet"), MODULES_RUN_NEW, OF_THE_MECHANISM_NEW),
    ],
)
def test_few_modules_run_for_a_weighed_lot(
    what: str, lot: Lot, most: int, most_of_the_mechanism: int
) -> None:
    """After another, so that nothing of the first call is in it."""
    forget_kept()
    appraise_lot(weighed("40 kg", "22 % wet"), tables=TABLES)
    ran = modules_run(lot)
    of_the_mechanism = {
        name
        for name in ran
        if name.partition("/")[0] in ("lot", "assessment", "uncertainty", "pipeline.py")
    }
    print(
        f"modules run for a weighed lot, {what}: {len(ran)} (at most {most}), of the mechanism "
        f"{len(of_the_mechanism)} (at most {most_of_the_mechanism})"
    )
    assert len(of_the_mechanism) > 5
    assert len(ran) <= most, sorted(ran)
    assert len(of_the_mechanism) <= most_of_the_mechanism, sorted(of_the_mechanism)


# --- names ----------------------------------------------------------------------------------------

# what tests alone call: nothing
ONLY_FOR_TESTS: set[tuple[str, str]] = set()
WORD = re.compile(r"\b\w+\b")


def test_no_module_takes_what_another_keeps_to_itself() -> None:
    wrong = [
        f"{short(path)}:{node.lineno}: {alias.name}"
        for path in PATHS
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.ImportFrom) and (node.level or node.module == "feedstock")
        for alias in node.names
        if alias.name.startswith("_")
    ]
    assert not wrong, "\n".join(wrong)


def made_in(path: Path) -> Iterator[str]:
    """The functions, classes and constants of a module; those that a decorator takes are used."""
    for node in parsed(path).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.decorator_list:
            yield node.name
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for target in targets:
                yield from (each.id for each in ast.walk(target) if isinstance(each, ast.Name))


def test_every_name_is_used() -> None:
    """By the product, not by tests alone."""
    own = {path: Counter(WORD.findall(path.read_text(encoding="utf-8"))) for path in PATHS}
    everywhere = sum(own.values(), Counter[str]())
    unused = {
        (short(path), name)
        for path in PATHS
        for name in made_in(path)
        if not name.startswith("__")
        if (own[path] if name.startswith("_") else everywhere)[name] == 1
    }
    # the build takes the class of its hook by what it builds on
    unused.discard(("tables/loading/build_hook.py", "CompiledTables"))
    only_shrinks(unused, ONLY_FOR_TESTS)


# --- tests ----------------------------------------------------------------------------------------

KINDS = {"published", "transcribed", "worked", "property", "regression"}


def marks_of(nodes: list[ast.expr]) -> set[str]:
    """The kinds among `pytest.mark.…` expressions."""
    return {
        each.attr
        for node in nodes
        for each in ast.walk(node)
        if isinstance(each, ast.Attribute) and each.attr in KINDS
    }


def test_every_test_says_what_its_expectation_rests_on() -> None:
    """One kind each, beside it or once for its module."""
    wrong = []
    for path in sorted((ROOT / "tests").rglob("test_*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for_all = [
            node.value
            for node in tree.body
            if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "pytestmark"
        ]
        wrong += [
            f"{path.relative_to(ROOT)}:{node.lineno}: {node.name}"
            for node in tree.body
            if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
            if len(marks_of([*for_all, *node.decorator_list])) != 1
        ]
    assert not wrong, "\n".join(wrong)


# --- makers ---------------------------------------------------------------------------------------

# what is made, where alone it may be made, and who still makes it beside
MAKERS: dict[str, tuple[str, ...]] = {
    "Input": ("uncertainty/inputs.py",),
    "Key": ("uncertainty/keys.py",),
    "Estimate": ("quantities/estimate.py",),
    "Citation": ("tables/citations.py",),
}
STILL_MAKING: dict[str, set[str]] = {}
# the first part of a correlation key, as it stands in a text of the code
KEY_TEXT = re.compile(r"(row|method|burn|meter|scale|stated|lot|experience|exact):(?! )")
STILL_WRITING_KEYS: set[str] = set()


@pytest.mark.parametrize("what", MAKERS)
def test_only_its_maker_makes(what: str) -> None:
    found = {
        short(path)
        for path in PATHS
        if short(path) not in MAKERS[what] and any(calls_of(path, frozenset({what})))
    }
    assert any(calls_of(PACKAGE / maker, frozenset({what})) for maker in MAKERS[what])
    print(f"{what}: made in {len(found)} modules beside its maker")
    only_shrinks(found, STILL_MAKING.get(what, set()))


def key_texts(path: Path) -> Iterator[str]:
    """Texts that begin as a key does, docstrings apart."""
    documentation = {
        id(node.value)
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(parsed(path)):
        if (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and id(node) not in documentation
            and KEY_TEXT.match(node.value)
        ):
            yield node.value


def test_only_its_maker_writes_a_key() -> None:
    found = {short(path) for path in PATHS if any(key_texts(path))} - set(MAKERS["Key"])
    assert any(key_texts(PACKAGE / "uncertainty" / "keys.py"))
    print(f"keys: written as text in {len(found)} modules beside their maker")
    only_shrinks(found, STILL_WRITING_KEYS)


COUNTING = {
    "burn/fuel.py",
    "contrib/panel.py",
    "documents/csv_reader.py",
    "experience/check.py",
    "model/inputs/amount.py",
    "model/inputs/moisture.py",
    "tables/loading/reader.py",
    "tables/names/nearest.py",
    "text/after.py",
}
"""Modules that count with sum(): numbers of things, in which no digit can be lost."""


def test_amounts_are_not_added_by_sum() -> None:
    """From Python 3.12 on sum() keeps digits of floats that 3.11 loses, and results would differ:
    floats are added by math.fsum or by `total`.
    """
    found = {short(path) for path in PATHS if any(calls_of(path, frozenset({"sum"})))}
    assert found == COUNTING
