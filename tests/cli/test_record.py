"""`feedstock record`: a heap and five answers become a batch that `learn` reads as it is, whatever
a person types, and no record that is there already is harmed.
"""

from __future__ import annotations

import datetime
import io
import sys
from pathlib import Path
from typing import Any

import pytest

from feedstock import BatchRecord
from feedstock.cli.entry import main
from feedstock.documents.yaml_reader import read_yaml
from feedstock.experience import recording

pytestmark = pytest.mark.regression

HEAP = """\
name: by the hedge
lots:
  - {name: limbs, material: apple, mass: 34 kg, moisture: 15 % wet, origin: own trees}
  - {name: twigs, material: hazel, mass: 9 kg, moisture: 14 % wet, origin: own trees}
  - {name: wet, material: oak, mass: 20 kg, moisture: 45 % wet, origin: own trees}
burn: {burner: cone pit, diameter: 105 cm, depth: 42 cm}
"""
ANSWERS = ("--minutes", "72", "--litres", "81", "--brands", "1.5", "--water", "64")
READY = ["limbs", "twigs"]


@pytest.fixture
def heap(tmp_path: Path) -> Path:
    path = tmp_path / "heap.yaml"
    path.write_text(HEAP, encoding="utf-8")
    return path


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def run(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    *arguments: Any,
    typed: str | None = None,
) -> tuple[int, str, str]:
    monkeypatch.setattr(sys, "stdin", io.StringIO() if typed is None else Terminal(typed))
    status = main(["record", *map(str, arguments)])
    out = capsys.readouterr()
    return status, out.out, out.err


def records(heap: Path) -> tuple[BatchRecord, ...]:
    return BatchRecord.read(heap.with_name("heap_batches.yaml"))


def test_options_make_a_record_that_learn_reads(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, _ = run(monkeypatch, capsys, heap, *ANSWERS, "--date", "2024-03-14")
    assert status == 0
    assert "limbs, twigs" in out
    (found,) = records(heap)
    assert [lot.name for lot in found.lots] == READY  # what was wet did not go in
    assert found.date == "2024-03-14"
    assert found.minutes is not None and found.minutes.text == "72 min"
    assert found.char.volume is not None and found.char.volume.text == "81 L"
    assert found.char.mass is None  # may be left open
    assert found.brands is not None and found.brands.text == "1.5 kg"
    assert found.water is not None and found.water.text == "64 L"
    assert main(["learn", str(heap.with_name("heap_batches.yaml"))]) == 0
    assert "from 1 batch" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("moisture", "text"), [("dry", "0 % wet"), ("Dry", "0 % wet"), ("58 % wet", "58 % wet")]
)
def test_a_mass_with_its_moisture(
    heap: Path,
    moisture: str,
    text: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    more = ("--kilograms", "20", "--moisture", moisture)
    assert run(monkeypatch, capsys, heap, *ANSWERS, *more)[0] == 0
    (found,) = records(heap)
    assert found.char.mass is not None and found.char.mass.text == "20 kg"
    assert found.char.moisture is not None and found.char.moisture.text == text


def test_asked_at_a_terminal_with_the_unit_in_the_question(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed = "72\n81\n20\n58 % wet\n1.5\n64\n"
    status, out, asked = run(monkeypatch, capsys, heap, typed=typed)
    assert status == 0
    assert "heap_batches.yaml" in out
    questions = [part for part in asked.split(": ") if part]
    for word in ("Minutes from lighting to quench", "Litres of char", "Kilograms of half-burnt",
                 "Litres of water"):  # fmt: skip
        assert sum(word in question for question in questions) == 1
    (found,) = records(heap)
    assert found.minutes is not None and found.minutes.text == "72 min"
    assert found.char.moisture is not None and found.char.moisture.text == "58 % wet"


def test_asked_in_the_units_of_the_reader(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A bare number is in the unit of the question; that of an option stays in the option's."""
    typed = "72\n20\n44\n58 % wet\n17\n"
    more = ("--brands", "1.5", "--units", "us")
    status, _, asked = run(monkeypatch, capsys, heap, *more, typed=typed)
    assert status == 0
    for words in ("US gallons of char", "Pounds of that char", "US gallons of water"):
        assert asked.count(words) == 1
    assert "itres" not in asked and "ilograms" not in asked
    (found,) = records(heap)
    assert found.char.volume is not None and found.char.volume.text == "20 US gal"
    assert found.char.mass is not None and found.char.mass.text == "44 lb"
    assert found.water is not None and found.water.text == "17 US gal"
    assert found.brands is not None and found.brands.text == "1.5 kg"


def test_a_slip_is_told_and_asked_again(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """An empty answer, a wrong unit, a decimal comma, a dash; mass left open; a US gallon taken and
    said to be so.
    """
    typed = "\n72 kg\n1,2 h\n72\n20 gal\n\nlots\n0\n64\n"
    status, out, asked = run(monkeypatch, capsys, heap, typed=typed)
    assert status == 0
    assert "there is no answer" in asked
    assert "is a mass, not a time" in asked
    assert "20 gal" in out and "US gallons" in out
    (found,) = records(heap)
    assert found.char.mass is None
    assert found.brands is not None and found.brands.mid == 0
    assert found.char.volume is not None
    assert found.char.volume.mid == pytest.approx(20 * 3.785411784e-3)


def test_an_end_of_input_writes_nothing(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, told = run(monkeypatch, capsys, heap, typed="72\n81\n")
    assert (status, out) == (2, "")
    assert "not answered to the end" in told
    assert list(heap.parent.iterdir()) == [heap]


SLIPS: list[tuple[tuple[str, ...], str]] = [
    (ANSWERS[:6], "--water is not given"),
    ((), "--minutes, --litres, --brands, --water are not given"),
    ((*ANSWERS, "--minutes", "72 kg"), "is a mass, not a time"),
    ((*ANSWERS, "--litres", ""), "no answer"),
    ((*ANSWERS, "--litres", "-3"), "--litres"),
    ((*ANSWERS, "--litres", "0"), "above nothing"),
    ((*ANSWERS, "--litres", "8,5"), "--litres"),
    ((*ANSWERS, "--water", "9**9**9 L"), "--water"),
    ((*ANSWERS, "--kilograms", "20"), "without its moisture"),
    ((*ANSWERS, "--moisture", "60 % wet"), "no mass"),
    ((*ANSWERS, "--kilograms", "20", "--moisture", "60 %"), "basis"),
    ((*ANSWERS, "--used", "logs"), "there is no lot 'logs'"),
    ((*ANSWERS, "--date", "yesterday"), "not a date"),
    ((*ANSWERS, "--save", "records.json"), "YAML files alone"),
    ((*ANSWERS, "--save", "no/such/folder/records.yaml"), "cannot be written"),
]


@pytest.mark.parametrize(("options", "message"), SLIPS)
def test_a_slip_in_the_options_is_one_message(
    heap: Path,
    options: tuple[str, ...],
    message: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(heap.parent)
    status, out, told = run(monkeypatch, capsys, heap, *options)
    assert (status, out) == (2, "")
    assert message in told
    assert told.startswith("feedstock: 1 thing to fix")
    assert list(heap.parent.iterdir()) == [heap]


def test_used_lots_stand_before_ready_ones(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, capsys, heap, *ANSWERS, "--used", "Wet", "--used", "limbs")[0] == 0
    assert [lot.name for lot in records(heap)[0].lots] == ["wet", "limbs"]


def test_nothing_ready_asks_what_was_burnt(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    heap.write_text(HEAP.replace("15 % wet", "44 % wet").replace("14 % wet", "44 % wet"))
    status, _, told = run(monkeypatch, capsys, heap, *ANSWERS)
    assert status == 2
    assert "--used NAME" in told


def test_a_heap_without_a_burner_is_told(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    heap.write_text(HEAP.partition("burn:")[0])
    status, _, told = run(monkeypatch, capsys, heap, *ANSWERS)
    assert status == 2
    assert "in what it was burnt" in told


OWN = """\
# our burns, by hand
person: us
burn: {burner: cone pit, diameter: 105 cm, depth: 42 cm}
batches:
    # the first one, in rain
    -   lots: [{material: apple, mass: 30 kg, moisture: 18 % wet}]
        char: {volume: 55 L}   # heaped"""


def test_what_stands_there_stays(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Comments, indents of any width and a last line without its end."""
    book = heap.with_name("book.yaml")
    book.write_text(OWN, encoding="utf-8")
    book.chmod(0o600)
    for count in (2, 3):
        named = ("--name", f"fire {count}")
        status, out, _ = run(monkeypatch, capsys, heap, *ANSWERS, "--save", book, *named)
        assert status == 0
        assert f"{count} batches" in out
    assert book.read_text(encoding="utf-8").startswith(f"{OWN}\n")
    found = BatchRecord.read(book)
    assert len(found) == 3
    assert found[0].char.volume is not None and found[0].char.volume.text == "55 L"
    assert [batch.name for batch in found] == [None, "fire 2", "fire 3"]
    assert found[1] == found[2].model_copy(update={"name": "fire 2"})
    assert [batch.person for batch in found] == ["us"] * 3  # it stands at the top, once for all
    assert book.stat().st_mode & 0o777 == 0o600
    assert sorted(path.name for path in heap.parent.iterdir()) == ["book.yaml", "heap.yaml"]


NO_LIST = {
    "a heap": HEAP,
    "batches in brackets": 'batches: [{lots: [{material: oak, mass: 9 kg}], burn: {burner: pit}, '
    "char: {volume: 9 L}}]\n",
    "something behind the batches": "batches:\n  - lots: [{material: oak, mass: 9 kg}]\n"
    "    burn: {burner: pit}\n    char: {volume: 9 L}\nperson: us\n",
    "no YAML": "batches: [",
    "nothing": "",
}  # fmt: skip


@pytest.mark.parametrize("text", NO_LIST.values(), ids=NO_LIST)
def test_a_file_that_cannot_grow_is_left_as_it_is(
    heap: Path, text: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    book = heap.with_name("book.yaml")
    book.write_text(text, encoding="utf-8")
    status, out, told = run(monkeypatch, capsys, heap, *ANSWERS, "--save", book)
    assert (status, out) == (2, "")
    assert "book.yaml" in told
    assert book.read_text(encoding="utf-8") == text
    assert sorted(path.name for path in heap.parent.iterdir()) == ["book.yaml", "heap.yaml"]


def test_what_nobody_gave_is_not_written(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The lots stand there by the fields of the heap file, no more and no fewer."""
    heap.write_text(HEAP.replace(", origin: own trees}", "}", 1), encoding="utf-8")
    assert run(monkeypatch, capsys, heap, *ANSWERS, "--used", "limbs", "--used", "wet")[0] == 0
    text = heap.with_name("heap_batches.yaml").read_text(encoding="utf-8")
    limbs, wet = read_yaml(text, "it").data["batches"][0]["lots"]
    assert limbs == {
        "name": "limbs", "material": "apple", "mass": "34 kg", "moisture": "15 % wet",
    }  # fmt: skip
    assert wet["origin"] == "own trees"


@pytest.mark.parametrize("person", ["", "person: us\n"])
def test_the_same_burn_is_not_added_twice(
    heap: Path, person: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A burn told twice would count twice. Another answer, name or day makes it another burn."""
    book = heap.with_name("heap_batches.yaml")
    day = ("--date", "2024-03-14")
    assert run(monkeypatch, capsys, heap, *ANSWERS, *day)[0] == 0
    book.write_text(person + book.read_text(encoding="utf-8"), encoding="utf-8")
    before = book.read_bytes()
    status, out, told = run(monkeypatch, capsys, heap, *ANSWERS, *day)
    assert (status, out) == (2, "")
    assert "heap_batches.yaml" in told and "batch 1" in told and "--name" in told
    assert book.read_bytes() == before
    for other in (("--water", "65"), ("--name", "second fire"), ("--date", "2024-03-15")):
        assert run(monkeypatch, capsys, heap, *ANSWERS, *day, *other)[0] == 0
    assert len(BatchRecord.read(book)) == 4


def test_a_day_that_has_not_come_is_not_written(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    today = datetime.date.today()
    tomorrow = (today + datetime.timedelta(days=1)).isoformat()
    status, out, told = run(monkeypatch, capsys, heap, *ANSWERS, "--date", tomorrow)
    assert (status, out) == (2, "")
    assert f"--date: the day {tomorrow} has not come yet" in told
    assert f"at most {today.isoformat()}" in told
    assert list(heap.parent.iterdir()) == [heap]
    assert run(monkeypatch, capsys, heap, *ANSWERS, "--date", today.isoformat())[0] == 0


@pytest.mark.parametrize("there", [True, False])
def test_what_another_program_wrote_meanwhile_is_not_lost(
    heap: Path, there: bool, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    book, real = heap.with_name("book.yaml"), recording._check
    if there:
        book.write_text(OWN, encoding="utf-8")

    def slow(*arguments: Any) -> None:
        real(*arguments)
        book.write_text(f"{OWN}\n# of another\n", encoding="utf-8")

    monkeypatch.setattr(recording, "_check", slow)
    status, _, told = run(monkeypatch, capsys, heap, *ANSWERS, "--save", book)
    assert status == 2
    assert "in the meantime" in told
    assert book.read_text(encoding="utf-8") == f"{OWN}\n# of another\n"


def test_a_link_is_followed(
    heap: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    book, link = heap.with_name("book.yaml"), heap.with_name("link.yaml")
    book.write_text(OWN, encoding="utf-8")
    link.symlink_to(book)
    assert run(monkeypatch, capsys, heap, *ANSWERS, "--save", link)[0] == 0
    assert link.is_symlink()
    assert len(BatchRecord.read(book)) == 2


@pytest.mark.parametrize("name", ['a: "b" # c', "ü – é", "'", "- x", "null", "2026-01-01"])
def test_any_name_survives(
    heap: Path, name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    quoted = name.replace("'", "''")
    heap.write_text(HEAP.replace("name: limbs", f"name: '{quoted}'"), encoding="utf-8")
    assert run(monkeypatch, capsys, heap, *ANSWERS)[0] == 0
    assert records(heap)[0].lots[0].name == name
