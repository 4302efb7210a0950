"""Change one place at a time, in the code of a room or in the tables, and see whether the nearest
tests notice.

python .ci/mutants.py COUNT [ROOM ...]: draws COUNT mutants of each room by a fixed seed, runs the
room's tests on each, those that name the changed module first, and prints the share noticed and
each survivor with its change. The room `tables` has values that were read or derived (by 15 % up or
down) and gates (a `permits` one step milder); values that are judged or remembered have nothing
outside to be held against. The checkout is changed while it runs: run it in a clone of its own.

Libraries are loaded once; each mutant gets a fork that imports the changed package anew.
"""

from __future__ import annotations

import importlib
import os
import random
import re
import signal
import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast_from_path
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

# the tests that a person who changes a room runs first, quickest first
NEAREST = {
    "physics": ("tests/unit/physics", "tests/published", "tests/tables"),
    "uncertainty": ("tests/unit/uncertainty",),
    "lot": ("tests/unit/lot", "tests/published", "tests/unit/assessment", "tests/property"),
    "assessment": ("tests/unit/assessment", "tests/unit/lot", "tests/property"),
    "burn": ("tests/unit/burn", "tests/published/test_burns.py", "tests/property"),
    "tables": (
        "tests/tables",
        "tests/published",
        "tests/unit/physics",
        "tests/unit/assessment/test_contamination_matrix.py",
        "tests/unit/assessment/test_fire_matrix.py",
        "tests/unit/assessment/test_structural_holes.py",
        "tests/words/test_gates.py",
    ),
}
# In annotations `X | None` is never run, and a cache left out changes no result.
NO_CHANGE = re.compile(r"core/(ReplaceBinaryOperator_BitOr_|RemoveDecorator)")
# what tests import from elsewhere, loaded once
LIBRARIES = (
    "numpy",
    "scipy.integrate",
    "scipy.optimize",
    "hypothesis",
    "pint",
    "yaml",
    "pydantic",
    "CoolProp.CoolProp",
    "chemicals",
    "nsvb.tables",
    "jsonschema",
    "pytest",
)
SEED = 20
TOLD = Path(tempfile.mkdtemp(), "told.txt")
"""What the tests of the last mutant wrote."""
MOST_SECONDS = 1200
"""What takes longer counts as noticed."""


@dataclass(frozen=True, order=True)
class Mutant:
    """A file with one place changed."""

    path: Path
    line: int
    what: str
    text: str

    def change(self) -> str:
        """The lines that differ."""
        before, after = self.path.read_text(encoding="utf-8").split("\n"), self.text.split("\n")
        if len(before) != len(after):
            return ""
        pairs = ((a, b) for a, b in zip(before, after, strict=True) if a != b)
        return "\n".join(f"      - {a.strip()}\n      + {b.strip()}" for a, b in pairs)


def of_code(room: str, count: int) -> list[Mutant]:
    """Mutants of the code of a room, drawn from all that there are."""
    operators = {
        name: get_operator(name)()
        for name in sorted(operator_names())
        if not NO_CHANGE.match(name) and not get_operator(name).arguments()
    }
    places = []
    for path in sorted(Path("feedstock", room).rglob("*.py")):
        nodes = list(ast_nodes(get_ast_from_path(path)))
        for name, operator in operators.items():
            spots = [at for node in nodes for at in operator.mutation_positions(node)]
            places += [(path, name, number, at[0][0]) for number, at in enumerate(spots)]
    chosen = random.Random(SEED).sample(places, min(count, len(places)))
    found = []
    for path, name, number, line in sorted(chosen):
        changed = mutate_code(path.read_text(encoding="utf-8"), operators[name], number)
        if changed is not None:
            found.append(Mutant(path, line, name.removeprefix("core/"), changed))
    return found


MILDER = {"keep out": "check first", "check first": "dry first", "dry first": "ready"}
_VALUE = re.compile(r"\bvalue: (-?\d[\d.]*)")
_PERMITS = re.compile(r"\bpermits: (keep out|check first|dry first)")
_UNKNOWN = re.compile(r"known: (?:judgement|practice|memory)")


def of_tables(count: int) -> list[Mutant]:
    """So many values by 15 %, and so many gates a step milder."""
    values, gates = [], []
    for path in sorted(Path("tables").rglob("*.yaml")):
        for number, line in enumerate(path.read_text(encoding="utf-8").split("\n")):
            if _PERMITS.search(line):
                gates.append((path, number))
            if (value := _VALUE.search(line)) and not _UNKNOWN.search(line) and float(value[1]):
                values.append((path, number))
    draw = random.Random(SEED)
    return [
        *(_value(*place, draw) for place in draw.sample(sorted(values), min(count, len(values)))),
        *(_gate(*place) for place in draw.sample(sorted(gates), min(count, len(gates)))),
    ]


def _value(path: Path, number: int, draw: random.Random) -> Mutant:
    factor = draw.choice((1.15, 1 / 1.15))
    return _line(path, number, "value", _VALUE, lambda old: f"value: {float(old) * factor:.5g}")


def _gate(path: Path, number: int) -> Mutant:
    return _line(path, number, "permits", _PERMITS, lambda old: f"permits: {MILDER[old]}")


def _line(path: Path, number: int, what: str, pattern: re.Pattern[str], new: object) -> Mutant:
    lines = path.read_text(encoding="utf-8").split("\n")
    lines[number] = pattern.sub(lambda match: new(match[1]), lines[number], count=1)  # type: ignore[operator]
    return Mutant(path, number + 1, what, "\n".join(lines))


def tests_of(room: str, changed: Path) -> list[str]:
    """The room's tests, those first that name the changed module."""
    folders = [Path(path) for path in NEAREST[room]]
    files = [file for path in folders for file in sorted(path.rglob("test_*.py")) or [path]]
    module = f"{changed.parent.name}.{changed.stem} import"
    near = [file for file in files if module in file.read_text(encoding="utf-8")]
    return [*map(str, near), *(str(file) for file in files if file not in near)]


def noticed(tests: Iterable[str]) -> bool:
    """Whether a test fails, in a fork of this process."""
    child = os.fork()
    if child == 0:
        os.dup2(os.open(TOLD, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), 1)
        os.dup2(1, 2)
        sys.dont_write_bytecode = True
        signal.alarm(MOST_SECONDS)  # a limit of processor time would coarsen its clock
        import pytest

        sys.path.insert(0, str(Path.cwd()))
        options = ["-x", "-p", "no:cacheprovider", "-W", "ignore:Module already imported"]
        os._exit(int(pytest.main([*options, *tests])) != 0)
    return os.waitpid(child, 0)[1] != 0


def survivors(room: str, mutants: list[Mutant]) -> Iterator[Mutant]:
    for mutant in mutants:
        original = mutant.path.read_text(encoding="utf-8")
        try:
            mutant.path.write_text(mutant.text, encoding="utf-8")
            seen = noticed(tests_of(room, mutant.path))
        finally:
            mutant.path.write_text(original, encoding="utf-8")
        if not seen:
            yield mutant


def main(count: str, *rooms: str) -> None:
    """Run the rooms named, or all of them."""
    os.environ["CI"] = "true"  # the same random examples for every mutant
    for name in LIBRARIES:
        importlib.import_module(name)
    run = lived = 0
    for room in rooms or NEAREST:
        if noticed(tests_of(room, Path("none/none.py"))):
            told = TOLD.read_text(encoding="utf-8").split("\n")
            sys.exit("\n".join([*told[-20:], f"{room}: its tests fail without any change"]))
        mutants = of_tables(int(count)) if room == "tables" else of_code(room, int(count))
        left = []
        for mutant in survivors(room, mutants):
            left.append(mutant)
            print(f"  {mutant.path}:{mutant.line}: {mutant.what}\n{mutant.change()}", flush=True)
        print(f"{room}: {len(mutants) - len(left)} of {len(mutants)} noticed", flush=True)
        run, lived = run + len(mutants), lived + len(left)
    print(f"mutants: {run - lived} of {run} noticed, {100 * (run - lived) / max(run, 1):.0f} %")


if __name__ == "__main__":
    main(*sys.argv[1:])
