"""From an empty folder with `--help` alone to a printed sheet of an own heap, and what a first try
gets wrong.
"""

from __future__ import annotations

import textwrap
from pathlib import Path

import pytest

from builders import RunCli
from feedstock.cli.parser import HEAP_FILE
from feedstock.documents.yaml_reader import read_yaml

pytestmark = pytest.mark.property


def test_help_shows_a_heap_that_can_be_appraised(tmp_path: Path, run_cli: RunCli) -> None:
    assert "feedstock appraise --help" in " ".join(run_cli("--help")[1].split())
    shown = run_cli("appraise", "--help")[1]
    assert max(map(len, shown.splitlines())) <= 80
    assert HEAP_FILE.strip() in shown
    block = HEAP_FILE.partition(":\n")[2].partition("\n\nthen:")[0]
    path, sheet = tmp_path / "heap.yaml", tmp_path / "sheet.html"
    path.write_text(textwrap.dedent(block), encoding="utf-8")
    assert len(read_yaml(path.read_text("utf-8"), "heap.yaml").data["lots"]) == 2
    status, out, _ = run_cli("appraise", str(path))
    assert status == 0
    assert "Goes in now" in out
    assert run_cli("appraise", str(path), "--sheet", str(sheet))[0] == 0
    assert sheet.read_text("utf-8").startswith("<!DOCTYPE html>")


FIRST_TRY = """\
lots:
  - material: apple branches
    volume: 2 wheelbarrows
    moisture: dry
  - material: willow
    count: 20
    diameter: 5 cm
burn: pit 1 m wide
"""


def test_a_first_try_is_told_what_to_write(tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text(FIRST_TRY, encoding="utf-8")
    status, _, told = run_cli("appraise", str(path))
    assert status == 2
    for remedy in (
        "containers: {count: 3, of: wheelbarrow}",
        "{condition: seasoned}",
        "It belongs under `pieces` or `containers`.",
        "It belongs under `pieces`.",
        "Write for instance burn: {burner: cone pit,",
    ):
        assert remedy in told
