"""The checker, the differences, the starter, the schema for editors, and the panel of heaps."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from builders import EXAMPLES, ROOT, TABLE_FOLDER
from feedstock import load_tables
from feedstock.cli.entry import main
from feedstock.contrib.check import check, load_pair
from feedstock.contrib.diff import differences
from feedstock.contrib.json_schema import json_schema
from feedstock.contrib.panel import appraised, changes, panel
from feedstock.model.appraisal import Appraisal
from feedstock.model.findings import Verdict
from feedstock.tables.loading.source import TableSource
from feedstock.testing import check_tables

README = (ROOT / "README.md").read_text(encoding="utf-8")


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    status = main(list(arguments))
    out, err = capsys.readouterr()
    return status, out, err


@pytest.mark.regression
def test_the_panel_has_twenty_heaps_of_every_verdict() -> None:
    found = appraised(load_tables(plugins=False))
    assert len(panel()) == 20
    assert all(isinstance(each, Appraisal) for each in found.values()), found
    verdicts = {
        lot.verdict for each in found.values() if isinstance(each, Appraisal) for lot in each.lots
    }
    assert verdicts == set(Verdict)


@pytest.mark.property
def test_the_reference_set_passes_and_readme_tells_its_count(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status, out, _ = run(capsys, "tables", "check", str(TABLE_FOLDER), "--json")
    assert status == 0, out
    report = json.loads(out)
    told = re.search(
        r"(\d+) read, (\d+) derived, (\d+) from memory, (\d+) common practice, (\d+) judgement",
        README,
    )
    assert told, "README does not tell the count"
    assert tuple(map(int, told.groups())) == tuple(
        report["cells"][k] for k in ("read", "derived", "memory", "practice", "judgement")
    )
    told = re.search(
        r"of their intervals (\d+) were read, (\d+) derived, (\d+) made by a named rule and "
        r"(\d+) judged",
        README,
    )
    assert told, "README does not tell the count of ends"
    by_rule = sum(count for word, count in report["ends"].items() if word.startswith("rule "))
    assert list(map(int, told.groups())) == [
        report["ends"]["read"],
        report["ends"]["derived"],
        by_rule,
        report["ends"]["judgement"],
    ]


@pytest.mark.property
def test_every_value_has_a_source_that_resolves_or_says_that_it_has_none() -> None:
    from feedstock.tables.loading.references import cells_of

    tables = load_tables(plugins=False)
    seen = 0
    for kind, rows in tables.rows.items():
        for full, row in rows.items():
            for path, cell in cells_of(row):
                seen += 1
                if cell.known in ("practice", "judgement"):
                    assert cell.note, (full, path)
                else:
                    assert cell.source, (full, path)
                    assert cell.at, (full, path)
                    assert all(
                        tables.source_name(key, tables.where(kind, full, path).set)
                        for key in cell.source
                    ), (full, path)
    assert seen > 1500


FAULTS = """\
set: {name: faulty, version: "1", schema: 1}
sources:
  unused: {title: nobody cites me}
materials:
  a-wood:
    like: hardwood
    basic_density: {value: 620 lb, low: 560 kg/m^3, high: 690 kg/m^3, source: nowhere, at: page 1}
    ash: {value: 2 %, low: 3 %, high: 4 %, known: judgement, note: x}
    lignin: {value: 2 %, low: 1 %, high: 3 %}
  b-wood:
    like: softwod
    carbon: {value: 70 %, low: 65 %, high: 75 %, known: judgement, note: x}
  c-wood:
    like: hardwood
    cellulose: {value: 60 %, low: 55 %, high: 65 %, known: judgement, note: x}
    hemicellulose: {value: 40 %, low: 35 %, high: 45 %, known: judgement, note: x}
    carbon: {value: 70 %, low: 65 %, high: 75 %, known: judgement, note: x}
    basic_density:
      {value: 2300 kg/m^3, low: 2200 kg/m^3, high: 2400 kg/m^3, known: judgement, note: x}
    densty: {value: 1 %, low: 0.5 %, high: 2 %, known: judgement, note: x}
  d-wood:
    like: hardwood
    carbon: {value: 70 %, low: 65 %, high: 75 %, known: judgement, note: x}
    cellulose: {value: 60 %, low: 55 %, high: 65 %, known: judgement, note: x}
    hemicellulose: {value: 40 %, low: 35 %, high: 45 %, known: judgement, note: x}
    basic_density:
      {value: 2300 kg/m^3, low: 2200 kg/m^3, high: 2400 kg/m^3, known: judgement, note: x}
"""


@pytest.mark.regression
def test_the_checker_tells_everything_in_one_run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "faulty.yaml"
    path.write_text(FAULTS)
    status, out, _ = run(capsys, "tables", "check", str(path), "--json")
    assert status == 2
    report = json.loads(out)
    found = {(p["line"], p["code"]) for p in report["errors"]}
    assert found >= {
        (7, "wrong-dimension"),
        (8, "inverted-range"),
        (9, "no-source"),
        (11, "unknown-row"),
        (20, "unknown-field"),
    }
    assert (
        sum(code == "does-not-close" for _, code in found) == 2
    )  # d-wood: elements, and structure
    doubtful = {(p["line"], p["code"]) for p in report["warnings"]}
    assert (3, "unused-source") in doubtful
    assert any(code == "far-from-class" for _, code in doubtful)
    status, text, _ = run(capsys, "tables", "check", str(path))
    assert status == 2
    assert f"{path}:7:" in text
    assert "materials.a-wood.basic_density" in text
    assert "Nearest: bulk_density, bark_density, basic_density" in text


def mutated(tmp_path: Path, file: str, old: str, new: str) -> Path:
    copy = tmp_path / "tables"
    shutil.copytree(TABLE_FOLDER, copy)
    path = copy / file
    text = path.read_text(encoding="utf-8")
    assert text.count(old) >= 1, old
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return copy


@pytest.mark.regression
@pytest.mark.parametrize(
    ("name", "old", "new", "seen"),
    [
        (
            "a value changed by a tenth",
            "basic_density: {value: 605 kg/m^3",
            "basic_density: {value: 665 kg/m^3",
            "materials reference:apple basic_density",
        ),
        (
            "a source removed",
            'source: [usfs-wo-104, gwdd-2009], at: "species table, Malus 0.61; species '
            'mean, Malus sylvestris 0.599 (n 3)", ',
            "",
            "a value that is derived needs a source",
        ),
        (
            "a unit changed",
            "basic_density: {value: 605 kg/m^3",
            "basic_density: {value: 605 lb",
            "605 lb",
        ),
        (
            "a row deleted",
            "\n  apple:\n",
            "\n  apfel-renamed:\n",
            "materials reference:apple: gone",
        ),
    ],
)
@pytest.mark.usefixtures("few_heaps")
def test_a_changed_reference_table_is_caught_or_shown(
    name: str, old: str, new: str, seen: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = mutated(tmp_path, "materials/hardwoods.yaml", old, new)
    status, out, err = run(capsys, "tables", "diff", "reference", str(copy))
    assert seen in out + err, name
    assert status == (0 if out else 2)


@pytest.mark.property
@pytest.mark.usefixtures("few_heaps")
def test_no_difference_is_no_difference(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "tables", "diff", "reference", str(TABLE_FOLDER))
    assert status == 0
    assert "No row differs." in out
    assert "no change" in out


@pytest.mark.regression
def test_the_panel_tells_what_an_amendment_does(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "lighter.yaml"
    path.write_text(
        "set: {name: lighter, version: '1', schema: 1, licence: CC0, maintainer: x, "
        "description: x}\namend:\n  materials:\n    willow:\n"
        "      basic_density: {value: 300 kg/m^3, low: 260 kg/m^3, high: 340 kg/m^3, "
        "known: judgement, note: for the test}\n"
    )
    status, out, _ = run(capsys, "tables", "check", str(path))
    assert status == 0, out
    assert re.search(r"char from willow \d+(\.\d+)? % lower", out), out
    assert "no verdicts stricter, none looser" in " ".join(out.split())
    tables = load_pair(TableSource.of(path))
    effect = {
        c.figure: c.relative
        for c in changes(load_tables(plugins=False), tables)
        if c.lot == "willow"
    }
    assert effect["char_mass"] == pytest.approx(effect["dry_mass"], abs=0.01)
    assert str(next(iter(differences(load_tables(plugins=False), tables)))).startswith(
        "materials reference:willow basic_density:"
    )


@pytest.mark.regression
def test_a_set_that_says_it_tightens_is_taken_at_its_word_only_if_the_panel_bears_it_out(
    tmp_path: Path,
) -> None:
    path = tmp_path / "says.yaml"
    head = "set: {name: says, version: '1', schema: 1}\namend:\n  contaminants:\n"
    path.write_text(head + "    persistent-herbicide: {permits: ready, tightens: true}\n")
    assert {p.code for p in check(TableSource.of(path)).errors} == {"not-tightened"}
    path.write_text(head + "    persistent-herbicide: {permits: keep out, tightens: true}\n")
    report = check(TableSource.of(path))
    assert report.passed
    assert any(c.figure == "verdict" and c.relative > 0 for c in report.changes)
    path.write_text(
        head + "    persistent-herbicide: {permits: ready, loosens: {reason: for the test}}\n"
    )
    report = check(TableSource.of(path))
    assert report.passed
    assert any(c.figure == "verdict" and c.relative < 0 for c in report.changes)


@pytest.mark.regression
@pytest.mark.usefixtures("few_heaps")
def test_the_starter_passes_its_own_test_and_refuses_a_full_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "alpine-tables"
    status, out, _ = run(capsys, "tables", "new", str(folder))
    assert status == 0
    assert "alpine_tables/tables.yaml" in out
    check_tables(folder / "alpine_tables")
    assert "yaml-language-server" in (folder / "alpine_tables" / "tables.yaml").read_text()
    assert 'alpine-tables = "alpine_tables"' in (folder / "pyproject.toml").read_text()
    assert run(capsys, "tables", "new", str(folder))[0] == 2
    assert run(capsys, "tables", "new", str(tmp_path / "123"))[0] == 2
    assert not (tmp_path / "123").exists()


@pytest.mark.property
def test_the_schema_holds_for_every_file_of_ours_and_refuses_a_slip(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    schema = json.loads(run(capsys, "tables", "schema")[1])
    assert schema == json.loads(json.dumps(json_schema()))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    files = [
        *TABLE_FOLDER.rglob("*.yaml"),
        *EXAMPLES.rglob("warm_climate_tables/**/*.yaml"),
    ]
    assert len(files) > 20
    for path in files:
        wrong = [
            f"{path.name}: {list(e.absolute_path)}: {e.message[:200]}"
            for e in validator.iter_errors(
                yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
            )
        ]
        assert not wrong, wrong[:3]
    slips: list[Any] = [
        {"material": {}},
        {"materials": {"a": {"densty": 1}}},
        {"materials": {"a": {"ash": {"value": "1 %"}}}},
        {"set": {"name": "x"}},
        {"materials": {"A b": {}}},
    ]
    for slip in slips:
        assert list(validator.iter_errors(slip)), slip


@pytest.mark.regression
def test_show_tells_value_interval_source_and_heritage(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "tables", "show", "hazels")
    assert status == 0
    assert "reference:hazel (materials)" in out
    assert "from hardwood" in out
    interval = r"\([0-9.]+ kg/m\^3 to [0-9.]+ kg/m\^3, p90, ends [a-z -]+\)"
    assert re.search(rf"basic_density: \d+ kg/m\^3 {interval}", out)
    assert "source: Westfall" in out or "source: Zanne" in out
    status, out, err = run(capsys, "tables", "show", "hazzle")
    assert (status, out) == (2, "")
    assert "Nearest:" in err
    assert run(capsys, "tables", "list", "burner")[0] == 2
    assert "cone-pit" in run(capsys, "tables", "list", "burners")[1]


@pytest.mark.regression
@pytest.mark.usefixtures("few_heaps")
def test_the_ten_lines_of_readme_appraise_a_heap(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    block = next(
        b for b in re.findall(r"```yaml\n(.*?)```", README, re.DOTALL) if b.startswith("set:")
    )
    assert len(block.strip().split("\n")) <= 10
    (tmp_path / "my_tables.yaml").write_text(block)
    (tmp_path / "heap.yaml").write_text(
        "lots:\n  - material: feijoa hedge\n    mass: 20 kg\n    moisture: 16 % wet\n "
        "   origin: own garden\n"
    )
    status, out, err = run(
        capsys,
        "appraise",
        str(tmp_path / "heap.yaml"),
        "--tables",
        str(tmp_path / "my_tables.yaml"),
    )
    assert status == 0, err
    assert "Goes in now: feijoa hedge: " in out
    assert run(capsys, "tables", "check", str(tmp_path / "my_tables.yaml"))[0] == 0


@pytest.mark.regression
def test_the_heap_of_readme_and_the_python_of_readme_run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    heap = next(
        b for b in re.findall(r"```yaml\n(.*?)```", README, re.DOTALL) if b.startswith("name:")
    )
    (tmp_path / "heap.yaml").write_text(heap)
    status, out, err = run(capsys, "appraise", str(tmp_path / "heap.yaml"))
    assert status == 0, err
    assert "plum limbs" in out
    for code in re.findall(r"```python\n(.*?)```", README, re.DOTALL):
        exec(compile(code, "README.md", "exec"), {})


@pytest.mark.regression
def test_the_example_program_runs(capsys: pytest.CaptureFixture[str]) -> None:
    import runpy

    runpy.run_path(str(EXAMPLES / "in_an_app.py"), run_name="__main__")
    out = capsys.readouterr().out
    assert "limbs: ready" in out
    assert "pallet: check first" in out
