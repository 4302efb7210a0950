"""Reading the record of a batch: files, places in messages, and wet char that is never taken for
dry.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from builders import EXAMPLES, tables
from feedstock import BatchRecord, InputError, learn
from feedstock.experience.forecast import forecast, measured

pytestmark = pytest.mark.property
TABLES = tables()

ONE = """\
burn: {burner: cone pit, diameter: 1 m, depth: 0.5 m}
batches:
  - date: 2026-03-01
    lots: [{material: oak, mass: 40 kg, moisture: 20 % wet}]
    char: {CHAR}
"""


@pytest.fixture
def write(tmp_path: Path) -> Callable[[str, str], Path]:
    def put(name: str, text: str) -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return put


def told(path: Path) -> list[str]:
    with pytest.raises(InputError) as caught:
        BatchRecord.read(path)
    assert all(problem.line for problem in caught.value.problems)
    return [str(problem) for problem in caught.value.problems]


Write = Callable[[str, str], Path]


def test_wet_mass_without_moisture_says_what_to_measure(write: Write) -> None:
    said = told(write("a.yaml", ONE.replace("CHAR", "mass: 21 kg")))
    assert "batches[0].char.mass" in said[0] and ":5:" in said[0]
    assert "volume: 60 L" in said[0] and "sample: {wet: 412 g, oven_dry: 180 g}" in said[0]


@pytest.mark.parametrize(
    "char, said",
    [
        ("volume: -3 L", "above nothing"),
        ("volume: 0 L", "above nothing"),
        ("", "no amount"),
        ("volume: 60", "no unit"),
        ("mass: 20 kg, moisture: 60 %", "basis"),
        ("mass: 20 kg, moisture: 60 % wet, sample: {wet: 4 g, oven_dry: 2 g}", "two ways"),
        ("mass: 20 kg, sample: {wet: 200 g, oven_dry: 300 g}", "weighs more after drying"),
        ("moisture: 60 % wet, volume: 60 L", "no mass"),
        ("volume: 60 L, containers: {count: 3, of: bucket}", "two ways"),
    ],
)
def test_impossible_char_is_refused(write: Write, char: str, said: str) -> None:
    assert any(said in each for each in told(write("a.yaml", ONE.replace("CHAR", char))))


def test_a_record_without_lots_is_refused(write: Write) -> None:
    said = told(write("a.yaml", "batches:\n  - burn: {burner: pit}\n    char: {volume: 60 L}\n"))
    assert "not said what was burnt" in said[0] and ":2:" in said[0]


def test_lots_come_by_a_heap_file_and_unknown_ones_are_told(write: Write) -> None:
    write(
        "heap.yaml",
        "lots:\n  - {name: limbs, material: oak, mass: 40 kg, moisture: 20 % wet}\n  - "
        "{name: twigs, material: hazel, mass: 9 kg, moisture: 20 % wet}\n",
    )
    text = (
        "burn: {burner: cone pit}\nheap: heap.yaml\nbatches:\n  - used: [limbs]\n    char: "
        "{volume: 60 L}\n  - char: {volume: 70 L}\n"
    )
    one, both = BatchRecord.read(write("a.yaml", text))
    assert [lot.name for lot in one.lots] == ["limbs"]
    assert [lot.name for lot in both.lots] == ["limbs", "twigs"]
    assert "no lot 'limb'" in told(write("b.yaml", text.replace("[limbs]", "[limb]")))[0]
    assert (
        "cannot be used"
        in told(write("c.yaml", text.replace("heap: heap.yaml", "heap: gone.yaml")))[0]
    )


def test_csv_is_the_same_record_as_yaml(write: Write) -> None:
    table = (
        "date,lots.material,lots.mass,lots.moisture.reading,lots.moisture.by,burn.burner,burn.diameter,burn.depth,minutes,char.mass,char.sample.wet,char.sample.oven_dry,brands\n"
        "2026-03-01,oak,40 kg,20 % dry,pin,cone pit,1 m,50 cm,70 min,22 kg,500 g,210 g,1 kg\n"
    )
    text = (
        "batches:\n  - date: 2026-03-01\n    lots: [{material: oak, mass: 40 kg, "
        "moisture: {reading: 20 % dry, by: pin}}]\n    burn: {burner: cone pit, "
        "diameter: 1 m, depth: 50 cm}\n"
        "    minutes: 70 min\n    char: {mass: 22 kg, sample: {wet: 500 g, oven_dry: "
        "210 g}}\n    brands: 1 kg\n"
    )
    assert BatchRecord.read(write("a.csv", table)) == BatchRecord.read(write("a.yaml", text))
    wrong = table.replace("40 kg", "40")
    assert (
        "lots[0].mass" in told(write("b.csv", wrong))[0]
        and ":2:3" in told(write("b.csv", wrong))[0]
    )


def test_a_dried_sample_decides(write: Write) -> None:
    (record,) = BatchRecord.read(
        write("a.yaml", ONE.replace("CHAR", "mass: 20 kg, sample: {wet: 400 g, oven_dry: 160 g}"))
    )
    found = measured(record, TABLES, forecast(record.lots, record.burn, TABLES))
    assert found["mass-per-feed"].value == pytest.approx(8.0)
    assert found["mass-per-feed"].low < 8 < found["mass-per-feed"].high


def test_moisture_on_either_basis_is_the_same_char(write: Write) -> None:
    values = []
    for said in ("60 % wet", "150 % dry"):
        (record,) = BatchRecord.read(
            write("a.yaml", ONE.replace("CHAR", f"mass: 20 kg, moisture: {said}"))
        )
        values.append(
            measured(record, TABLES, forecast(record.lots, record.burn, TABLES))[
                "mass-per-feed"
            ].value
        )
    assert values == pytest.approx([8.0, 8.0])


def test_a_plain_list_and_a_date_are_read(write: Write) -> None:
    text = (
        "- date: 2026-13-01\n  lots: [{material: oak, mass: 4 kg}]\n  burn: {burner: "
        "pit}\n  char: {volume: 6 L}\n"
    )
    assert "not a date" in told(write("a.yaml", text))[0]
    assert BatchRecord.read(write("b.yaml", text.replace("13", "11")))[0].date == "2026-11-01"


def test_records_survive_json() -> None:
    for record in BatchRecord.read(EXAMPLES / "records" / "batches.yaml"):
        assert BatchRecord.model_validate_json(record.model_dump_json()) == record


def test_a_problem_of_learning_has_its_line(write: Write) -> None:
    path = write("a.yaml", ONE.replace("CHAR", "mass: 60 kg, moisture: 2 % wet"))
    with pytest.raises(
        InputError, match=r"a\.yaml:5:\d+: batches\[0\]\.char\.mass: .*more char than it weighs"
    ):
        learn(path, TABLES)
