"""No feed's char is denser than its mass balance allows."""

from __future__ import annotations

from pathlib import Path

import pytest

from feedstock.contrib.check import check
from feedstock.contrib.plausible import too_dense
from feedstock.errors import Problem
from feedstock.tables.loading.load import load_tables
from feedstock.tables.loading.source import TableSource

pytestmark = pytest.mark.worked

HEAD = "name: mine, version: '1', schema: 1, licence: CC0, maintainer: me, description: a trial"


def problems(tmp_path: Path, row: str, value: float) -> list[Problem]:
    path = tmp_path / "mine.yaml"
    cell = (
        f"{{value: {value} kg/m^3, low: {0.7 * value} kg/m^3, high: {1.4 * value} kg/m^3, "
        "ends: judgement, known: judgement, note: recalled}"
    )
    amended = f"  materials:\n    reference:{row}: {{char_bulk_density: {cell}}}\n"
    path.write_text(f"set: {{{HEAD}}}\namend:\n{amended}", encoding="utf-8")
    found: list[Problem] = []
    too_dense(load_tables(path, plugins=False), ["mine"], found)
    assert {each.code for each in found} <= {"denser-than-its-feed"}
    return found


# once remembered of chars of shells and husks, kg/m3. By hand, in a pit of 670 degC, where the
# curve of shells gives 0.276 and that of husks 0.226: nut shells 290 x (0.86 x 0.023 + 0.977 x
# 0.276) / 0.4 = 210, rice husk 103 x (0.86 x 0.18 + 0.82 x 0.226) / 0.4 = 88
@pytest.mark.parametrize(
    "row, recalled, most",
    [("nut-shell", 300, 210), ("coconut-shell", 400, 266), ("rice-husk", 150, 88)],
)
def test_shells_as_once_remembered_are_refused(
    tmp_path: Path, row: str, recalled: float, most: float
) -> None:
    found = problems(tmp_path, row, recalled)
    assert found, row
    assert all(each.file is not None and each.line for each in found)
    assert not problems(tmp_path, row, 0.97 * most)
    assert problems(tmp_path, row, 1.03 * most)


def test_the_check_tells_it(tmp_path: Path) -> None:
    [found] = problems(tmp_path, "rice-husk", 150)
    assert found in check(TableSource.of(tmp_path / "mine.yaml"), with_panel=False).errors


def test_no_char_of_the_reference_is_too_dense() -> None:
    tables = load_tables(plugins=False)
    found: list[Problem] = []
    too_dense(tables, ["reference"], found)
    assert found == []
    assert any(row.char_bulk_density is not None for row in tables.rows["materials"].values())  # type: ignore[attr-defined]
