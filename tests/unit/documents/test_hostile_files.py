"""Files, names and streams that are none, and values that a program can hand over: each ends in one
message, is never waited for, and leaves nothing half-written.
"""

from __future__ import annotations

import itertools
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from builders import ROOT, RunCli
from feedstock import (
    BatchRecord,
    Estimate,
    Experience,
    FeedstockError,
    Heap,
    InputError,
    Lot,
    appraise,
    appraise_lot,
    blend,
    gather,
    learn,
    load_tables,
    size,
    text,
)
from feedstock.quantities.fields import Measured

pytestmark = pytest.mark.property

EXAMPLE = str(ROOT / "examples" / "shed_clearout.yaml")
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT)}
OAK: dict[str, Any] = {"material": "oak", "mass": "10 kg", "moisture": "15 % wet"}


def lot(**fields: Any) -> Lot:
    return Lot(**{**OAK, "origin": "own trees", **fields})


def heap(**fields: Any) -> Heap:
    return Heap(lots=[lot(**fields)])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with what is no file: a pipe that nobody writes to, and links that run in a ring."""
    os.mkfifo(tmp_path / "pipe.yaml")
    (tmp_path / "one.yaml").symlink_to(tmp_path / "other.yaml")
    (tmp_path / "other.yaml").symlink_to(tmp_path / "one.yaml")
    return tmp_path


NO_FILES = ("pipe.yaml", "one.yaml", "n" * 300 + ".yaml", "/dev/zero", "/dev/null")


@pytest.mark.parametrize("name", NO_FILES)
@pytest.mark.parametrize(
    "command",
    [
        ("appraise", "{}"),
        ("appraise", EXAMPLE, "--tables", "{}"),
        ("appraise", EXAMPLE, "--experience", "{}"),
        ("learn", "{}"),
        ("blend", "{}"),
        ("tables", "check", "{}"),
        ("tables", "diff", "{}", "{}"),
    ],
)
def test_what_is_no_file_is_refused_and_never_waited_for(
    command: tuple[str, ...], name: str, folder: Path, run_cli: RunCli
) -> None:
    path = str(folder / name)
    status, out, err = run_cli(*(part.format(path) for part in command))
    assert status == 2
    assert not out
    assert path in err


def test_a_folder_that_is_no_set_is_not_walked_to_its_end(tmp_path: Path, run_cli: RunCli) -> None:
    """A home has a hundred thousand files; a set has some dozens."""
    many = tmp_path / "home"
    many.mkdir()
    for number in range(5_100):
        (many / f"{number}.txt").touch()
    status, out, _ = run_cli("tables", "check", str(many))
    assert status == 2
    assert "more than 5000" in out and "Give the folder of the tables alone" in out


@pytest.mark.parametrize("name", ["n" * 300, "file/inside", "/proc/tables"])
def test_a_starter_that_cannot_be_written(name: str, tmp_path: Path, run_cli: RunCli) -> None:
    (tmp_path / "file").touch()
    status, _, err = run_cli("tables", "new", str(tmp_path / name))
    assert status == 2
    assert "cannot be written" in err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file"]


def test_a_starter_on_a_full_disk_leaves_nothing(tmp_path: Path) -> None:
    code = (
        "import resource, sys; resource.setrlimit(resource.RLIMIT_FSIZE, (900, 900))\n"
        "import signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "from feedstock.cli.entry import main; sys.exit(main(sys.argv[1:]))"
    )
    done = subprocess.run(
        # -B: Python would keep what it compiles cut off at that size too
        [sys.executable, "-B", "-c", code, "tables", "new", str(tmp_path / "mine")],
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2, done.stderr
    assert "cannot be written" in done.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("closed", [">/dev/full", ">&-", ">&- 2>&-", "2>&-", "2>/dev/full"])
def test_an_answer_that_cannot_be_written_is_said(closed: str) -> None:
    """Status 1 means that something is to be kept out; a screen that is full is none of that."""
    missing = ROOT / "no such heap.yaml" if closed.startswith("2") else EXAMPLE
    done = subprocess.run(
        ["sh", "-c", f'"$0" -m feedstock appraise "$1" {closed}', sys.executable, str(missing)],
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert not done.stdout
    assert "Traceback" not in done.stderr and "Exception" not in done.stderr
    if "2>" not in closed:
        assert "the answer could not be written" in done.stderr


def test_saving_needs_a_name(run_cli: RunCli, tmp_path: Path) -> None:
    batches = str(next((ROOT / "examples" / "records").glob("*.yaml")))
    status, out, err = run_cli("learn", batches, "--save", "")
    assert status == 2
    assert not out
    assert "no file was named" in err


SIGNS = {
    "escape": "\x1b[31m",
    "right to left": "\u202e",
    "isolate": "\u2067",
    "line separator": "\u2028",
    "paragraph separator": "\u2029",
    "next line": "\x85",
}


@pytest.mark.parametrize("sign", SIGNS.values(), ids=SIGNS.keys())
def test_no_sign_that_moves_a_screen_stands_in_a_name(sign: str) -> None:
    for field in ("name", "material", "origin", "remarks"):
        with pytest.raises(ValidationError, match="control character"):
            lot(**{field: f"oak{sign}wood"})
    with pytest.raises(ValidationError, match="control character"):
        Heap(lots=[lot()], remarks=f"a{sign}b")


@pytest.mark.parametrize("sign", SIGNS.values(), ids=SIGNS.keys())
def test_no_message_carries_a_sign_that_moves_a_screen(
    sign: str, tmp_path: Path, run_cli: RunCli
) -> None:
    """Neither of a file's name nor of a column's."""
    named = tmp_path / f"he{sign}ap.csv"
    named.write_text(f"material,mass,we{sign}ight\noak,3 kg,1\n", encoding="utf-8", newline="")
    for arguments in (
        (str(named),),
        (str(tmp_path / f"no{sign}heap.yaml"),),
        (EXAMPLE, "--lot", sign),
        (EXAMPLE, "--why", f"lots.{sign}"),
    ):
        status, out, err = run_cli("appraise", *arguments)
        assert status == 2
        assert sign not in err and sign not in out


def test_a_joined_sign_stays_in_a_name() -> None:
    """A family of three is four signs with a joiner between each two."""
    family = "\N{MAN}\u200d\N{WOMAN}\u200d\N{GIRL}"
    assert family in text.page(appraise(heap(name=f"wood of the {family}")))


WRONG: dict[str, Callable[[], object]] = {
    "confidence as text": lambda: gather("5 L", heap(), confidence="high"),  # type: ignore[arg-type]
    "confidence None": lambda: gather("5 L", heap(), confidence=None),  # type: ignore[arg-type]
    "confidence yes": lambda: gather("5 L", heap(), confidence=True),
    "person a number": lambda: learn([], person=5),  # type: ignore[arg-type]
    "heap of a number": lambda: Heap.read(5),  # type: ignore[arg-type]
    "heap of nothing": lambda: Heap.read(None),  # type: ignore[arg-type]
    "csv of a number": lambda: Heap.read_csv(5),  # type: ignore[arg-type]
    "experience of a number": lambda: Experience.read(5),  # type: ignore[arg-type]
    "batches of a number": lambda: BatchRecord.read(5),  # type: ignore[arg-type]
    "burner a number": lambda: size(heap(), burner=7),  # type: ignore[arg-type]
    "burner no name": lambda: size(heap(), burner=""),
    "endless records": lambda: learn(itertools.repeat({"minutes": "30 min"})),
    "endless rows": lambda: Heap.from_rows(itertools.repeat(OAK)),
    "endless parts": lambda: blend("10 L", itertools.repeat("hay")),  # type: ignore[arg-type]
    "saved under a number": lambda: Experience().save(5),  # type: ignore[arg-type]
    "tables of a number": lambda: load_tables(5),  # type: ignore[arg-type]
}


@pytest.mark.parametrize("call", WRONG.values(), ids=WRONG.keys())
def test_a_wrong_type_is_an_error_of_ours(call: Callable[[], object]) -> None:
    with pytest.raises(FeedstockError) as why:
        call()
    assert why.value.problems[0].expected


def test_an_endless_heap_is_refused() -> None:
    with pytest.raises(ValidationError, match="10000"):
        Heap(lots=itertools.repeat(lot()))


def test_an_estimate_without_width_is_a_value() -> None:
    assert appraise_lot(lot(mass=Estimate(10, 10, 10, "kg"))) == appraise_lot(lot(mass="10 kg"))


@pytest.mark.parametrize("unit", ["kg", "lb", "g"])
def test_a_figure_with_all_its_digits_may_be_handed_back(unit: str) -> None:
    figure = appraise_lot(lot(mass="12.345678901234567 to 45.67890123456789 kg")).dry_mass
    back = appraise_lot(lot(mass=figure.to(unit), moisture="0 % wet", soil="0 %"))
    assert back.dry_mass.mid_value == pytest.approx(figure.mid_value, rel=1e-12)


MEASURED = {
    "below nothing": Measured("-5 kg", "mass", -5.0),
    "not what is written": Measured("40 kg", "mass", 90.0),
    "no number": Measured("40 kg", "mass", float("nan")),
    "out of order": Measured("40 kg", "mass", 40.0, 50.0, 30.0),
    "of another kind": Measured("40 L", "volume", 0.04),
}


@pytest.mark.parametrize("given", MEASURED.values(), ids=MEASURED.keys())
def test_a_measured_value_made_in_code_is_read_like_its_text(given: Measured) -> None:
    with pytest.raises(ValidationError):
        lot(mass=given)


def test_a_measured_value_that_was_read_is_taken() -> None:
    first = lot(mass="35 to 45 kg, likely 38 kg")
    assert lot(mass=first.mass).mass == first.mass


def test_a_thousand_batches_are_learnt_saved_and_read(tmp_path: Path) -> None:
    record = BatchRecord.model_validate(
        {
            "burn": {"burner": "cone pit", "width": "1.1 m", "depth": "45 cm"},
            "lots": [OAK],
            "minutes": "50 min",
            "char": {"volume": "14 L"},
        }
    )
    experience = learn([record.model_copy(update={"name": f"batch {n}"}) for n in range(1000)])
    experience.save(tmp_path / "mine.json")
    assert Experience.read(tmp_path / "mine.json") == experience


def test_the_error_of_a_pipe_names_the_remedy(folder: Path) -> None:
    with pytest.raises(InputError, match="Save it as a file"):
        Heap.read(folder / "pipe.yaml")
