"""What a contributor meets: the starter and what of it is still to be filled in, and messages that
name the slip.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from builders import ROOT, RunCli

pytestmark = [pytest.mark.property, pytest.mark.usefixtures("few_heaps")]

HEAD = (
    'set: {name: mine, version: "1", schema: 1, licence: CC0, maintainer: me, description: own}\n'
    "materials:\n  x-wood:\n    names: {en: [xylo wood]}\n    like: softwood\n"
)


def checked(run_cli: RunCli, path: Path, text: str) -> tuple[int, str]:
    path.write_text(text, encoding="utf-8")
    status, out, _ = run_cli("tables", "check", str(path))
    return status, out


def test_a_starter_lists_what_is_still_to_be_filled_in(tmp_path: Path, run_cli: RunCli) -> None:
    folder = tmp_path / "alpine-tables"
    assert run_cli("tables", "new", str(folder))[0] == 0
    for name in ("README.md", "LICENSE", ".ci/run", ".github/workflows/check.yml"):
        text = (folder / name).read_text(encoding="utf-8")
        assert text.strip(), name
        assert "{" not in text.replace('{python-version: "3.12"}', ""), name
    tables = folder / "alpine_tables" / "tables.yaml"
    status, out, _ = run_cli("tables", "check", str(tables.parent))
    assert status == 0
    assert "Still to be filled in" in out
    assert "Nothing to fix" not in out
    for what in ("set.maintainer", "sources.my-source.title", "materials.example-wood.names"):
        assert what in out
    status, out, _ = run_cli("tables", "check", str(tables.parent), "--json")
    assert len(json.loads(out)["placeholders"]) == 8
    text = tables.read_text(encoding="utf-8")
    for theirs in json.loads(out)["placeholders"]:
        written = theirs["what"].removesuffix("' is the starter's").removeprefix("'")
        text = text.replace(written, f"feijoa row {theirs['line'] or len(text)}")
    status, out = checked(run_cli, tables, text)
    assert status == 0, out
    assert "Still to be filled in" not in out


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("'2,5 %'", "Write 2.5 %."),
        # in braces a comma parts fields: what YAML makes of it is a value 2 and a field `5 %`
        ("2,5 %", "'2,5 %' has a comma in its number. Write 2.5 %."),
        ("1,200 %", "Write 1200 %."),
        ("120 %", "at least 0 % and at most 100 %"),
    ],
)
def test_a_slip_in_a_cell_is_named(
    written: str, told: str, tmp_path: Path, run_cli: RunCli
) -> None:
    cell = f"    ash: {{value: {written}, low: 1 %, high: 130 %, known: judgement, note: own}}\n"
    status, out = checked(run_cli, tmp_path / "mine.yaml", HEAD + cell)
    assert status == 2
    assert told in out
    assert "0 1" not in out
    assert "second time" not in out


def test_a_comma_in_a_heap_is_named_too(tmp_path: Path, run_cli: RunCli) -> None:
    path = tmp_path / "heap.yaml"
    path.write_text("lots:\n  - {material: oak, mass: 2,5 kg, moisture: 20 % wet}\n")
    status, _, told = run_cli("appraise", str(path))
    assert status == 2
    assert "heap.yaml:2:27" in told
    assert "Write 2.5 kg." in told
    path.write_text("lots:\n  - {material: oak, mass: 2 kg, signs: [bare wood,5 x]}\n")
    assert "has a comma" not in run_cli("appraise", str(path))[2]


def test_yaml_that_cannot_be_read_says_only_that(tmp_path: Path, run_cli: RunCli) -> None:
    status, out = checked(run_cli, tmp_path / "mine.yaml", "set: {name: mine\nmaterials:\n  - [\n")
    assert status == 2
    assert out.count("\n") == 2
    assert "not YAML that can be read" in out
    assert out.endswith("1 to fix.\n")


def test_a_class_that_contradicts_the_density_is_worth_a_look(
    tmp_path: Path, run_cli: RunCli
) -> None:
    """The densest softwood of the reference has 600 kg/m^3, and hardwoods run to 780."""
    cell = "{{value: {0} kg/m^3, low: 400 kg/m^3, high: 800 kg/m^3, known: judgement, note: own}}"
    path = tmp_path / "mine.yaml"
    status, out = checked(run_cli, path, f"{HEAD}    basic_density: {cell.format(740)}\n")
    assert status == 0
    assert "740 kg/m^3 is the density of class hardwood" in " ".join(out.split())
    for same, density in (("softwood", 520), ("hardwood", 740)):
        text = HEAD.replace("softwood", same) + f"    basic_density: {cell.format(density)}\n"
        assert "is the density of class" not in checked(run_cli, path, text)[1]


def test_readme_and_developers_tell_how_to_cite_and_to_send_in_a_set() -> None:
    for name in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / name).read_text(encoding="utf-8")
        assert "feedstock tables cite" in text
        assert "send" in text
        assert "requires" in text
        assert "schema --text" in text


TEN = ("mulga", "mongongo", "saxaul", "argan", "feijoa hedge", "wandoo", "abaca stem", "sago",
       "tung hull", "quipo")  # fmt: skip


def test_from_nothing_to_a_checked_table_of_ten_own_materials(
    tmp_path: Path, run_cli: RunCli
) -> None:
    folder = tmp_path / "hill-tables"
    assert run_cli("tables", "new", str(folder))[0] == 0
    path = folder / "hill_tables" / "tables.yaml"
    head = path.read_text(encoding="utf-8").partition("\nsources:")[0]
    for theirs, ours in (
        ("who answers questions about these tables", "Jo, hill farm"),
        ("what is in here, in one line", "what grows on our hill"),
    ):
        head = head.replace(theirs, ours)
    cell = "{value: 480 kg/m^3, low: 400 kg/m^3, high: 560 kg/m^3, source: own, at: slices}"
    source = (
        "  own: {title: Dipped slices of our own wood, authors: 'Miller, J.', year: 2026, "
        "type: dataset, where: our hill, seen: whole, unknown: [address]}\n"
    )
    rows = "".join(
        f"  {name.replace(' ', '-')}:\n    names: {{en: [{name}]}}\n    like: hardwood\n"
        f"    basic_density: {cell}\n"
        for name in TEN
    )
    status, out = checked(run_cli, path, f"{head}\nsources:\n{source}materials:\n{rows}")
    assert status == 0, out
    assert "10 materials" in out
    assert out.endswith("Nothing to fix.\n")
    heap = tmp_path / "heap.yaml"
    heap.write_text(
        "lots:\n  - {material: mongongo, mass: 40 kg, moisture: 15 % wet, origin: own trees}\n"
    )
    status, out, _ = run_cli("appraise", str(heap), "--tables", str(path.parent))
    assert status == 0
    assert "mongongo: about 34 kg dry" in out


@pytest.mark.parametrize(
    ("row", "told"),
    [
        (
            "bulk_density: {value: 60 kg/m^3, low: 40 kg/m^3, high: 90 kg/m^3, known: judgement, "
            "note: own}",
            "where one for each key is wanted",
        ),
        ("ash: 2 %", "is not a cell"),
    ],
)
def test_a_slip_is_told_once(row: str, told: str, tmp_path: Path, run_cli: RunCli) -> None:
    status, out = checked(run_cli, tmp_path / "mine.yaml", f"{HEAD}    {row}\n")
    assert status == 2
    assert told in out
    assert out.endswith("1 to fix.\n")


def test_names_without_a_language_are_told_how(tmp_path: Path, run_cli: RunCli) -> None:
    text = HEAD.replace("{en: [xylo wood]}", "xylo wood")
    assert "Write names: {en: [xylo wood]}." in checked(run_cli, tmp_path / "mine.yaml", text)[1]
