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
from feedstock.documents.aside import aside_of
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
    # -B: Python would keep what it compiles cut off at that size too
    command = [sys.executable, "-B", "-c", code, str(path)]
    done = subprocess.run(command, capture_output=True, text=True)
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


def test_what_a_dead_process_left_is_taken_away_and_nothing_else(tmp_path: Path) -> None:
    """A process that was killed while it wrote leaves its file aside; the next run on the same name
    takes it away. What a living process, another machine or another name has there stays.
    """
    path = tmp_path / "mine.json"
    code = (
        "import os, signal, sys\nfrom pathlib import Path\n"
        "from feedstock.documents.aside import aside_of\n"
        "for name in sys.argv[1:]:\n    print(aside_of(Path(name)).name)\n"
        "    aside_of(Path(name)).write_text('half')\n"
        "sys.stdout.flush()\nos.kill(os.getpid(), signal.SIGKILL)"
    )
    arguments = [sys.executable, "-c", code, str(path), str(tmp_path / "other.json")]
    done = subprocess.run(arguments, capture_output=True, text=True)
    assert done.returncode == -signal.SIGKILL
    left, others = done.stdout.split()
    assert len(names(tmp_path)) == 2
    dead = left.split(".")[-2].split("-")[0]
    living = aside_of(path)
    living.write_text("half")
    elsewhere = tmp_path / left.replace(left.split("-")[-1], "0badc0de.new")
    elsewhere.write_text("half")
    (tmp_path / "real").write_text("of somebody")
    link = tmp_path / f".mine.json.{dead}-77-{left.split('-')[-1]}"
    link.symlink_to(tmp_path / "real")
    write_whole(path, "new")
    kept = [each for each in names(tmp_path) if each.startswith(".other.json")]
    assert names(tmp_path) == sorted(
        [living.name, elsewhere.name, link.name, "mine.json", "real", *kept]
    )
    assert len(kept) == 1 and kept[0].split("-")[0] == others.split("-")[0]


def test_two_threads_do_not_write_into_one_file(tmp_path: Path) -> None:
    assert aside_of(tmp_path / "mine.json") != aside_of(tmp_path / "mine.json")
