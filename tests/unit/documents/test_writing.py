"""A file is written whole or not at all."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from feedstock import InputError
from feedstock.documents.writing import write_whole

pytestmark = pytest.mark.worked


def names(folder: Path) -> list[str]:
    """What lies in a folder."""
    return sorted(path.name for path in folder.iterdir())


def test_the_new_file_takes_the_place_of_the_old(tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o640)
    write_whole(path, "new\n")
    assert path.read_text(encoding="utf-8") == "new\n"
    assert path.stat().st_mode & 0o777 == 0o640
    assert names(tmp_path) == ["mine.json"]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real.json").write_text("old", encoding="utf-8")
    (tmp_path / "link.json").symlink_to(tmp_path / "real.json")
    write_whole(tmp_path / "link.json", "new")
    assert (tmp_path / "link.json").is_symlink()
    assert (tmp_path / "real.json").read_text(encoding="utf-8") == "new"


@pytest.mark.parametrize(
    "name", ["", "  ", "no folder/x.json", "x" * 400, "a\0b", "folder", "pipe"]
)
def test_what_cannot_be_written_is_said(name: str, tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    before = names(tmp_path)
    with pytest.raises(InputError) as why:
        write_whole(str(tmp_path / name) if name.strip() else name, "new")
    assert why.value.problems[0].code == "unwritable"
    assert names(tmp_path) == before


def test_a_full_disk_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    path.write_text("old", encoding="utf-8")
    code = (
        "import resource, sys; resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
        "import signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "from feedstock.documents.writing import write_whole\n"
        "write_whole(sys.argv[1], 'n' * 5000)"
    )
    done = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True)
    assert done.returncode != 0
    assert "cannot be written" in done.stderr
    assert path.read_text(encoding="utf-8") == "old"
    assert names(tmp_path) == ["mine.json"]


def test_killed_at_any_moment_it_is_the_old_file_or_the_new(tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    whole = {"o" * 200_000, "n" * 200_000}
    path.write_text("o" * 200_000, encoding="utf-8")
    code = (
        "import sys\nfrom feedstock.documents.writing import write_whole\n"
        "print('on', flush=True)\n"
        "while True:\n    write_whole(sys.argv[1], 'n' * 200000)\n"
        "    write_whole(sys.argv[1], 'o' * 200000)"
    )
    for wait in (0.0, 0.003, 0.007, 0.011, 0.02):
        process = subprocess.Popen(
            [sys.executable, "-c", code, str(path)], stdout=subprocess.PIPE, text=True
        )
        assert process.stdout is not None
        process.stdout.readline()
        time.sleep(wait)
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
        assert path.read_text(encoding="utf-8") in whole
