"""From an empty folder with `--help` alone to a printed sheet of an own heap, and what a first try
gets wrong.
"""

from __future__ import annotations

import subprocess
import sys
import textwrap
from importlib.metadata import version
from pathlib import Path

import pytest

from builders import EXAMPLES, ROOT, RunCli
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


def test_the_version_is_told(run_cli: RunCli) -> None:
    status, out, err = run_cli("--version")
    assert (status, err) == (0, "")
    assert out == f"feedstock {version('feedstock')}\n"


@pytest.mark.parametrize(
    ("arguments", "option"),
    [
        (("gather", "HEAP", "--want", "60 m"), "--want"),
        (("gather", "HEAP", "--want", "60 L", "--confidence", "1.5"), "--confidence"),
        (("size", "HEAP", "--loads", "0"), "--loads"),
        (("char", "HEAP", "--sign", "ringz"), "--sign"),
        (("char", "HEAP", "--soil", "90 degC"), "--soil"),
        (("appraise", "HEAP", "--limits", "mine"), "--limits"),
        (("appraise", "HEAP", "--bucket", "0 L"), "--bucket"),
    ],
)
def test_what_is_wrong_with_an_option_is_told_by_its_name(
    arguments: tuple[str, ...], option: str, run_cli: RunCli
) -> None:
    heap = EXAMPLES / "storm_stand.yaml"
    status, out, err = run_cli(*(heap if each == "HEAP" else each for each in arguments))
    assert (status, out) == (2, "")
    assert err.splitlines()[1].startswith(f"  {option}: "), err


_WITHOUT = """
import sys
for name in ("numpy", "pyarrow"):
    sys.modules[name] = None
from feedstock.cli.entry import main
status = main(["appraise", "rows.csv", "--rows", "out.csv"])
try:
    import feedstock.columns
except ImportError as why:
    print(status, type(why).__name__, why, sep="|")
"""


def test_a_missing_extra_is_named_with_a_line_that_works(tmp_path: Path) -> None:
    """As README writes it: the name is on no index."""
    (tmp_path / "rows.csv").write_text("material,mass\noak,9 kg\n", encoding="utf-8")
    ran = subprocess.run(
        [sys.executable, "-c", _WITHOUT], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    status, kind, told = ran.stdout.strip().split("|")
    assert (status, kind) == ("2", "ImportError")
    assert "numpy and pyarrow" in told and "pip install '.[columns]'" in told
    assert told in ran.stderr


def test_no_text_installs_a_name_that_is_on_no_index() -> None:
    files = [
        path
        for folder in ("feedstock", "examples")
        for path in (ROOT / folder).rglob("*")
        if path.suffix in (".py", ".md", ".yaml")
    ]
    assert len(files) > 100
    files += [ROOT / "README.md", ROOT / "DEVELOPERS.md"]
    assert not [path for path in files if "feedstock[" in path.read_text(encoding="utf-8")]
