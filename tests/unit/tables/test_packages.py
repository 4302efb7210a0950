"""Sets in packages of their own: found when installed, gone when not, and what is said of broken
ones.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import venv
from pathlib import Path

import pytest

from builders import ROOT
from feedstock import Heap, Lot, TableError, appraise, load_tables

GOOD = (
    "set: {name: broken, version: '1', schema: 1}\nmaterials:\n  trial-wood: {names: {en: [trial "
    "wood]}, like: hardwood}\n"
)


def install(
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    files: dict[str, str],
    value: str = "broken_tables",
    code: str = "",
) -> None:
    """A distribution as an installer leaves it: a package and a dist-info folder on the path."""
    package = folder / "broken_tables"
    package.mkdir()
    (package / "__init__.py").write_text(code)
    for name, text in files.items():
        (package / name).write_text(text)
    info = folder / "broken_tables-0.3.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: broken-tables\nVersion: 0.3\n")
    (info / "entry_points.txt").write_text(f"[feedstock.tables]\nbroken = {value}\n")
    monkeypatch.syspath_prepend(str(folder))
    monkeypatch.delitem(sys.modules, "broken_tables", raising=False)
    load_tables.refresh()


@pytest.fixture(autouse=True)
def _fresh() -> object:
    load_tables.refresh()
    yield
    sys.modules.pop("broken_tables", None)
    load_tables.refresh()


@pytest.mark.regression
@pytest.mark.parametrize(
    ("files", "value", "code", "wanted"),
    [
        ({"t.yaml": "materials: {a: [\n"}, "broken_tables", "", "not YAML"),
        ({}, "broken_tables", "", "no .yaml file"),
        (
            {"t.yaml": GOOD},
            "broken_tables:DATA",
            "from pathlib import Path\nDATA = Path(__file__).parent / 'gone'\n",
            "not there",
        ),
        ({"t.yaml": GOOD}, "broken_tables:data", "", "cannot be loaded"),
        ({"t.yaml": GOOD}, "broken_tables", "raise ImportError('no such thing')", "no such thing"),
        ({"t.yaml": GOOD}, "broken_tables", "1 / 0", "ZeroDivisionError"),
        (
            {"t.yaml": GOOD.replace("schema: 1", "schema: 7")},
            "broken_tables",
            "",
            "Upgrade feedstock",
        ),
        (
            {"t.yaml": GOOD + "amend:\n  contaminants:\n    paint: {permits: ready}\n"},
            "broken_tables",
            "",
            "in which direction",
        ),
    ],
    ids=[
        "invalid YAML",
        "no file",
        "missing folder",
        "missing attribute",
        "import error",
        "error at import",
        "newer schema",
        "loosened unsaid",
    ],
)
def test_a_broken_package_is_named_and_can_be_skipped(
    files: dict[str, str],
    value: str,
    code: str,
    wanted: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    install(tmp_path, monkeypatch, files, value, code)
    with pytest.raises(TableError) as why:
        load_tables()
    assert "broken-tables 0.3" in str(why.value) or "broken_tables" in str(why.value)
    assert wanted in str(why.value)
    tables = load_tables(plugins="skip broken")
    assert [s.name for s in tables.sets] == ["reference"]
    result = appraise(
        Heap(lots=[Lot(material="oak", mass="10 kg", moisture="15 % wet", origin="own trees")]),
        tables=tables,
    )
    told = [f for f in result.findings if f.code == "tables-broken"]
    assert told
    assert wanted in told[0].reason


@pytest.mark.regression
def test_a_sound_package_is_found_and_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    install(tmp_path, monkeypatch, {"t.yaml": GOOD})
    tables = load_tables()
    assert [(s.name, s.distribution) for s in tables.sets][1] == ("broken", "broken-tables 0.3")
    assert tables.find("materials", "trial wood") == "broken:trial-wood"
    assert "broken:trial-wood" not in load_tables(plugins=False).rows["materials"]


def _python(folder: Path) -> Path:
    return folder / ("Scripts" if sys.platform == "win32" else "bin") / "python"


def _ask(python: Path, code: str) -> str:
    return subprocess.run(
        [str(python), "-c", code], capture_output=True, text=True, check=True, cwd=python.parent
    ).stdout.strip()


@pytest.mark.deep
@pytest.mark.regression
def test_wheels_install_beside_each_other_and_uninstall_clean(tmp_path: Path) -> None:
    """Both wheels are built, installed into a fresh environment, asked, and the tables' one
    uninstalled again.
    """
    source = tmp_path / "source"
    ignore = shutil.ignore_patterns(
        ".git", ".venv*", "__pycache__", "*.egg-info", "dist", "build", ".*cache", ".hypothesis"
    )
    shutil.copytree(ROOT, source, ignore=ignore)
    wheels = tmp_path / "wheels"
    for each in (source, source / "examples" / "warm_climate_tables"):
        subprocess.run(
            [
                sys.executable,
                "-m",
                "pip",
                "wheel",
                "--quiet",
                "--no-deps",
                "--wheel-dir",
                str(wheels),
                str(each),
            ],
            check=True,
        )
    venv.create(tmp_path / "env", with_pip=True)
    python = _python(tmp_path / "env")
    subprocess.run(
        [str(python), "-m", "pip", "install", "--quiet", *map(str, wheels.glob("*.whl"))],
        check=True,
    )
    ask = (
        "from feedstock import load_tables; t = load_tables(); "
        "print(len(t.rows['materials']), [s.name for s in t.sets], "
        "t.index('materials').find('guaje'))"
    )
    count = len(load_tables(plugins=False).rows["materials"])
    assert (
        _ask(python, ask)
        == f"{count + 4} ['reference', 'warm-climate'] ['warm-climate:white-popinac']"
    )
    digest = "from feedstock import load_tables; print(load_tables(plugins=False).digest)"
    assert _ask(python, digest) == load_tables(plugins=False).digest
    subprocess.run(
        [str(python), "-m", "pip", "uninstall", "--quiet", "--yes", "warm-climate-tables"],
        check=True,
    )
    assert _ask(python, ask) == f"{count} ['reference'] []"
    # the wheel is a zip: the same tables straight out of it, unpacked nowhere
    wheel = next(wheels.glob("feedstock-*.whl"))
    subprocess.run(
        [str(python), "-m", "pip", "uninstall", "--quiet", "--yes", "feedstock"], check=True
    )
    assert (
        _ask(python, f"import sys; sys.path.insert(0, {str(wheel)!r}); {digest}")
        == load_tables(plugins=False).digest
    )
