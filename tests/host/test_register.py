"""The examples for a partitioned register: one machine, and a cluster of two workers."""

from __future__ import annotations

import contextlib
import importlib.util
import os
import random
import signal
import subprocess
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from builders import EXAMPLES, ROOT

pa = pytest.importorskip("pyarrow")
import pyarrow.parquet as pq  # noqa: E402

from feedstock.columns import Sums, appraise_table  # noqa: E402

pytestmark = [pytest.mark.host, pytest.mark.property]


def example(name: str) -> ModuleType:
    found = importlib.util.spec_from_file_location(name, EXAMPLES / f"{name}.py")
    assert found is not None and found.loader is not None
    module = importlib.util.module_from_spec(found)
    sys.modules[name] = module
    found.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def register(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """Four files of five hundred lots."""
    folder, draw = tmp_path_factory.mktemp("register"), random.Random(2)
    field = pa.field("mass", pa.float64(), metadata={"unit": "kg"})
    fields = [pa.field(name, pa.string()) for name in ("material", "moisture", "origin")]
    schema = pa.schema([*fields, field])
    for part in range(4):
        columns: list[Any] = [
            [draw.choice(["oak", "pine", "hazel"]) for _ in range(500)],
            [draw.choice(["18 % wet", "22 % dry"]) for _ in range(500)],
            ["own trees"] * 500,
            [draw.uniform(1.0, 90.0) for _ in range(500)],
        ]
        arrays = [
            pa.array(column, type_.type) for column, type_ in zip(columns, schema, strict=True)
        ]
        pq.write_table(pa.Table.from_arrays(arrays, schema=schema), folder / f"part-{part}.parquet")
    return sorted(map(str, folder.iterdir()))


@pytest.fixture(scope="module")
def wanted(register: list[str]) -> Sums:
    """All files as one table."""
    module = example("register_on_one_machine")
    whole = pa.concat_tables([pq.read_table(path) for path in register])
    return appraise_table(whole, module.BURN)[1]


def same(found: Sums, wanted: Sums) -> None:
    assert found.rows == wanted.rows == 2000
    for name in ("dry_mass", "char_mass", "char_volume", "char_carbon"):
        one, other = getattr(found, name), getattr(wanted, name)
        for end in ("low_value", "mid_value", "high_value"):
            assert getattr(one, end) == pytest.approx(getattr(other, end), rel=1e-9)


def test_on_one_machine(register: list[str], wanted: Sums) -> None:
    pytest.importorskip("duckdb")
    pattern = os.fspath(Path(register[0]).parent / "*.parquet")
    same(example("register_on_one_machine").total(pattern), wanted)


def test_on_a_cluster_of_two_workers(register: list[str], wanted: Sums, tmp_path: Path) -> None:
    """In a process of its own, as one would call it: its loops and workers go when it goes."""
    pytest.importorskip("distributed")
    surroundings = {k: v for k, v in os.environ.items() if not k.startswith("DASK_")}
    with subprocess.Popen(
        [sys.executable, EXAMPLES / "register_on_many_machines.py", *register],
        cwd=tmp_path,
        env={**surroundings, "PYTHONPATH": os.fspath(ROOT), "DASK_CONFIG": os.fspath(tmp_path)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as work:
        try:
            out, err = work.communicate(timeout=300)
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(work.pid, signal.SIGKILL)
    assert work.returncode == 0, err
    told = f"2,000 lots by 2 workers: {wanted.char_mass} of char, {wanted.char_volume}\n"
    assert out == told
    assert not list(tmp_path.iterdir())


def test_sums_travel_as_bytes(register: list[str], wanted: Sums) -> None:
    """What a worker of the cluster sends back, file by file, to the last digits."""
    pytest.importorskip("distributed")
    module = example("register_on_many_machines")
    same(Sums.merge(map(Sums.from_bytes, map(module.of_file, register))), wanted)
