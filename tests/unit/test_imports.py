"""What importing and using the package loads, in a process of its own: little, and nothing of the
host is changed.
"""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

pytestmark = pytest.mark.regression

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
