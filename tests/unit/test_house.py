"""The house rules: imports go downward, importing loads little and changes nothing, numbers about
the world stand in tables.
"""

from __future__ import annotations

import ast
import io
import json
import re
import subprocess
import sys
import tokenize
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

import feedstock
from builders import ROOT

pytestmark = pytest.mark.regression

PACKAGE = ROOT / "feedstock"
MODULES = sorted(PACKAGE.rglob("*.py"))

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
REACHING_UP = {("model/appraisal.py", "explanation")}


def room(path: Path) -> str:
    """The file or the folder directly under feedstock/; "" for the package itself."""
    first = path.relative_to(PACKAGE).parts[0]
    return "" if first == "__init__.py" else room_of(first.removesuffix(".py"))


def room_of(name: str) -> str:
    """The results of the burn and the like are data as the results are, in a file of their own."""
    return "results" if name.startswith("results_") else name


def imports(path: Path) -> Iterator[tuple[int, str]]:
    """Line and room of every import of our own, those under TYPE_CHECKING apart."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for_types = [
        test
        for test in ast.walk(tree)
        if isinstance(test, ast.If) and "TYPE_CHECKING" in ast.unparse(test.test)
    ]
    exempt = {id(node) for test in for_types for part in test.body for node in ast.walk(part)}
    package = ("feedstock", *path.relative_to(PACKAGE).parts[:-1])
    for node in ast.walk(tree):
        if id(node) in exempt:
            continue
        if isinstance(node, ast.Import):
            targets = [alias.name.split(".") for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            start = list(package[: len(package) - node.level + 1]) if node.level else []
            whole = [*start, *(node.module.split(".") if node.module else [])]
            # `from . import results` names modules, `from .results import Verdict` names of one
            targets = (
                [[*whole, alias.name] for alias in node.names]
                if whole == ["feedstock"]
                else [whole]
            )
        else:
            continue
        for target in targets:
            if target[0] == "feedstock" and len(target) > 1:
                yield node.lineno, room_of(target[1])


def test_the_order_knows_every_module() -> None:
    unknown = {room(path) for path in MODULES} - {*ORDER, ""}
    assert not unknown


def test_imports_go_downward() -> None:
    seen, upward = 0, []
    for path in MODULES:
        here = room(path)
        for line, target in imports(path):
            seen += 1
            if (path.relative_to(PACKAGE).as_posix(), target) in REACHING_UP:
                continue
            if here and (target not in ORDER or ORDER.index(target) > ORDER.index(here)):
                upward.append(f"{path.relative_to(ROOT)}:{line}: {here} imports {target}")
    assert seen > 50
    assert not upward, "\n".join(upward)


def test_physics_knows_only_numbers() -> None:
    """Floats and formula metadata: nothing but formulas, elementwise and physics itself."""
    wrong = [
        f"{path.relative_to(ROOT)}:{line}: {target}"
        for path in MODULES
        if room(path) == "physics"
        for line, target in imports(path)
        if target not in ("uncertainty", "physics")
    ]
    assert not wrong, wrong


def test_nothing_that_prints_appraises() -> None:
    computing = ("pipeline", "lot", "assessment", "burn", "compost", "experience")
    wrong = [
        f"{path.relative_to(ROOT)}:{line}"
        for path in MODULES
        if room(path) == "text"
        for line, target in imports(path)
        if target in computing
    ]
    assert not wrong, wrong


# --- what an import does --------------------------------------------------------------------------

_FRESH = """
import json, logging, sys
before = (list(logging.root.handlers), logging.root.level, set(logging.root.manager.loggerDict))
import feedstock
bare = sorted(sys.modules)
dir(feedstock)
from feedstock import Heap, Lot
lots = sorted(sys.modules)
Heap(lots=[Lot(material="oak", mass="12 kg", moisture="22 % wet")])
used = sorted(sys.modules)
from feedstock import Burn, Estimate, Verdict, appraise, appraise_lot, load_tables
loading = sys.modules.get("feedstock.tables.loading.load")
held = len(loading._cache) if loading else 0
after = (list(logging.root.handlers), logging.root.level)
ours = [name for name in logging.root.manager.loggerDict if name.split(".")[0] == "feedstock"]
handlers = sum(len(getattr(logging.getLogger(name), "handlers", [])) for name in ours)
heap = Heap(lots=[Lot(material="oak", mass="12 kg", moisture="22 % wet")])
result = appraise(heap, tables=load_tables(plugins=False))
print(json.dumps({"bare": bare, "lots": lots, "used": used, "held": held,
                  "same": before[:2] == after, "handlers": handlers,
                  "end": sorted(sys.modules), "mid": result.char_mass.mid_value}))
"""


@pytest.fixture(scope="module")
def fresh() -> dict[str, object]:
    ran = subprocess.run([sys.executable, "-c", _FRESH], capture_output=True, text=True, check=True)
    assert ran.stderr == ""
    found: dict[str, object] = json.loads(ran.stdout)
    return found


def loaded(fresh: dict[str, object], when: str) -> set[str]:
    names = fresh[when]
    assert isinstance(names, list)
    return {str(name) for name in names}


def test_importing_loads_none_of_the_heavy_libraries(fresh: dict[str, object]) -> None:
    assert not loaded(fresh, "bare") & {
        "pint",
        "yaml",
        "importlib_metadata",
        "pydantic",
        "pydantic_core",
        "numpy",
        "feedstock.tables.tables",
        "feedstock.model.inputs.heap",
    }


def test_describing_a_heap_needs_no_units_library(fresh: dict[str, object]) -> None:
    for when in ("lots", "used"):
        assert not loaded(fresh, when) & {"pint", "numpy"}
    assert "feedstock.pipeline" not in loaded(fresh, "used")


def test_no_table_is_parsed_before_it_is_needed(fresh: dict[str, object]) -> None:
    assert fresh["held"] == 0


def test_a_whole_appraisal_needs_no_units_library_and_no_arrays(fresh: dict[str, object]) -> None:
    assert not loaded(fresh, "end") & {"pint", "numpy"}
    assert isinstance(fresh["mid"], float)


def test_no_logging_is_configured(fresh: dict[str, object]) -> None:
    assert fresh["same"] is True
    assert fresh["handlers"] == 0


_REGISTRY = """
import pint
registry = pint.get_application_registry()
held = registry.get()
def state(held):
    return (id(held), dict(held._units), held.formatter.default_format,
            held.autoconvert_offset_to_baseunit, held.default_system)
before = state(held)
from feedstock import Estimate, Heap, Lot
value = Estimate(1.0, 2.0, 3.0, "kg")
assert isinstance(value.mid, registry.Quantity) and value.mid == registry.Quantity(2.0, "kilogram")
assert abs(value.low.to("gram").magnitude - 1000.0) < 1e-9
assert abs(Estimate(10.0, 20.0, 30.0, "L").mid.to("m**3").magnitude - 0.02) < 1e-12
assert abs(Estimate(10.0, 20.0, 30.0, "%").mid.to("dimensionless").magnitude - 0.2) < 1e-12
Estimate(500.0, 600.0, 700.0, "degC").mid
Lot(material="oak", mass=pint.UnitRegistry().Quantity(3.0, "pound"))
held = pint.get_application_registry().get()
after = state(held)
added = set(after[1]) - set(before[1])
# pint itself notes prefixed units such as kilogram when they are first met
from pint import UnitRegistry
for name in added:
    assert UnitRegistry().Quantity(1.0, name) is not None and str(UnitRegistry()[name]), added
assert before[0] == after[0] and before[2:] == after[2:]
assert all(after[1][name] is unit for name, unit in before[1].items())
print("unchanged")
"""


def test_the_units_registry_of_the_host_is_unchanged() -> None:
    """Same registry, same settings, every definition the same object, and nothing in it that a
    plain registry would not have.
    """
    ran = subprocess.run(
        [sys.executable, "-W", "error", "-c", _REGISTRY], capture_output=True, text=True
    )
    assert ran.stdout == "unchanged\n", ran.stderr


# --- what stands in the files ---------------------------------------------------------------------


def test_tables_are_no_package() -> None:
    """An __init__.py there would make a top-level module of a well-known name."""
    assert not list((ROOT / "tables").rglob("*.py"))


def test_every_public_function_and_class_has_a_docstring() -> None:
    """Functions and classes at the top of a module, and the methods of what the package exports; a
    formula says what it is by its name and reference.
    """
    bare = []
    for path in MODULES:
        tree = ast.parse(path.read_text(encoding="utf-8"))
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
    for path in MODULES:
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
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
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
        *MODULES,
        *sorted(p for folder in (PACKAGE, ROOT / "tables") for p in folder.rglob("*.y*ml")),
    ):
        for line, text in _texts_of_code(path) if path.suffix == ".py" else _texts_of_table(path):
            if _PROMISE.search(_NAMES.sub("", text)):
                said.append(f"{path.relative_to(ROOT)}:{line}: {text[:100]}")
    assert not said, "\n".join(said)
