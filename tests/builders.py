"""Builders that many test files share: places in the checkout, the reference tables, a lot, a heap,
the plan of its burn, a set of tables of one's own.

Random ones are in `strategies`. Nothing here imports a test.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from feedstock import Burn, Heap, Lot, Tables, appraise, load_tables
from feedstock.model.burn_plan import BurnPlan
from feedstock.tables.loading.layers import whole_reference
from feedstock.tables.loading.raw import RawSet
from feedstock.tables.rows.methods.kinds import METHODS

ROOT = Path(__file__).resolve().parents[1]
EXAMPLES = ROOT / "examples"
TABLE_FOLDER = ROOT / "tables"
TABLE_FILES = sorted(TABLE_FOLDER.rglob("*.yaml"))

# what the fixture `run_cli` gives: exit status, standard output, standard error
RunCli = Callable[..., tuple[int, str, str]]


@cache
def tables() -> Tables:
    """The reference tables alone, whatever else is installed."""
    return load_tables(plugins=False)


@cache
def reference_set() -> RawSet:
    """The reference as it stands in its files, read once; not to be changed."""
    return whole_reference()


def lot(
    material: str = "hardwood",
    mass: str = "30 kg",
    thickness: str = "40 mm",
    moisture: str = "15 % wet",
    **more: Any,
) -> Lot:
    """Dry wood of the own trees, weighed."""
    return Lot(
        material=material,
        mass=mass,
        thickness=thickness,
        moisture=moisture,
        **{"origin": "own trees", **more},
    )


def heap(*lots: Lot) -> Heap:
    """These lots; without any, two woods and twigs to end with."""
    return Heap(
        lots=lots
        or (
            lot("oak", name="oak", thickness="60 mm"),
            lot("pine", name="pine"),
            lot("hazel", "8 kg", "10 mm", name="twigs"),
        )
    )


def plan(given_heap: Heap, **burn: Any) -> BurnPlan:
    """The plan of a burn in a cone pit, or in what `burn` says."""
    found = appraise(given_heap, Burn(**{"burner": "cone pit", **burn})).burn
    assert found is not None
    return found


@cache
def yaml_data(path: Path) -> Any:
    """What a YAML file holds, read once; not to be changed."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)


def raw_methods(file: str) -> dict[str, Any]:
    """The methods of a file of the reference tables, as they stand there."""
    found: dict[str, Any] = yaml_data(TABLE_FOLDER / "methods" / file)["methods"]
    return found


def method_row(file: str, key: str) -> Any:
    """One of them as a typed row, by itself: a slip in the table fails against published values and
    not at loading.
    """
    raw = raw_methods(file)[key]
    return METHODS[raw["kind"]].model_validate(raw)


def own_set(name: str = "mine", **contents: Any) -> dict[str, Any]:
    """A set of tables as a dict, with these top-level keys."""
    return {"set": {"name": name, "version": "1", "schema": "1"}, **contents}
