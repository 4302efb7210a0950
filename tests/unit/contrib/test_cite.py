"""The sources as CSL JSON and BibTeX, records that lack something, and keys in citations."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from builders import ROOT, own_set, tables
from feedstock import Heap, Lot, appraise, load_tables
from feedstock.cli.entry import main
from feedstock.contrib.check import check
from feedstock.contrib.cite import bibtex, cited_sources, csl_items
from feedstock.tables.loading.source import TableSource
from feedstock.tables.rows.source import Source, cited_text

# the official schema of CSL data, with its licence (MIT) beside it
SCHEMA = json.loads((ROOT / "tests" / "data" / "csl-data.json").read_text(encoding="utf-8"))


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    status = main(list(arguments))
    out, err = capsys.readouterr()
    return status, out, err


@pytest.mark.published
def test_every_source_is_csl_json_by_its_official_schema(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status, out, _ = run(capsys, "tables", "cite", "--json")
    items: list[dict[str, Any]] = json.loads(out)
    assert status == 0
    jsonschema.Draft7Validator.check_schema(SCHEMA)
    assert [str(e) for e in jsonschema.Draft7Validator(SCHEMA).iter_errors(items)] == []
    assert len(items) == len(tables().rows["sources"])
    assert len({item["id"] for item in items}) == len(items)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft7Validator(SCHEMA).validate([{**items[0], "type": "blog"}])


@pytest.mark.transcribed
def test_an_article_is_told_whole() -> None:
    """Cornelissen and others 2016 as its DOI 10.1371/journal.pone.0154617 has it."""
    (item,) = csl_items(cited_sources(tables(), ["cornelissen-2016"]))
    assert item["type"] == "article-journal"
    assert item["author"][0] == {"family": "Cornelissen", "given": "G."}
    assert (item["container-title"], item["volume"], item["issue"], item["page"]) == (
        "PLoS ONE",
        "11",
        "5",
        "e0154617",
    )
    assert item["issued"] == {"date-parts": [[2016]]}
    assert item["DOI"] == "10.1371/journal.pone.0154617"


@pytest.mark.property
def test_bibtex_has_an_entry_for_each_source_with_balanced_braces() -> None:
    text = bibtex(cited_sources(tables()))
    keys = re.findall(r"^@\w+\{([^,\s]+),$", text, re.MULTILINE)
    assert len(keys) == len(set(keys)) == len(tables().rows["sources"])
    assert text.count("{") == text.count("}")
    assert not re.search(r"(?<!\\)[&%#]", re.sub(r"(?m)^  (?:url|doi) = .*$", "", text))
    assert "  author = {Cornelissen, G. and Sørmo, E." in text
    assert "  author = {{Forest Products Laboratory}}," in text


@pytest.mark.property
def test_rows_are_cited_by_name_and_an_unknown_name_is_told(
    capsys: pytest.CaptureFixture[str],
) -> None:
    keys = {key for key, _ in cited_sources(tables(), ["beech"])}
    assert {"usfs-wo-104", "gwdd-2009", "gasif-fuels"} <= keys
    assert "cornelissen-2016" not in keys
    status, out, _ = run(capsys, "tables", "cite", "beech", "cone pit", "--json")
    assert status == 0
    assert {"gwdd-2009", "cornelissen-2016"} <= {item["id"] for item in json.loads(out)}
    status, out, err = run(capsys, "tables", "cite", "beeech")
    assert (status, out) == (2, "")
    assert "beech" in err


@pytest.mark.property
def test_a_key_of_two_sets_is_told_with_its_set(tmp_path: Path) -> None:
    mine = own_set(
        sources={"fpl-190": {"title": "our own notes"}},
        materials={"zelkova": {"like": "hardwood", "source": "fpl-190"}},
    )
    del mine["materials"]
    keys = {key for key, _ in cited_sources(load_tables(mine, plugins=False))}
    assert {"mine-fpl-190", "reference-fpl-190"} <= keys


@pytest.mark.property
def test_the_records_of_the_reference_are_whole_or_say_what_is_unknown() -> None:
    rows = {full: tables().row("sources", full, Source) for full in tables().rows["sources"]}
    assert len(rows) > 200
    assert {full: row.lacks() for full, row in rows.items() if row.lacks()} == {}
    # what is called unknown is not there
    for full, row in rows.items():
        held = {"year": row.year is not None, "address": bool(row.doi or row.url)}
        assert not [part for part in row.unknown if held.get(part)], full


@pytest.mark.property
@pytest.mark.usefixtures("few_heaps")
def test_an_incomplete_record_of_another_set_is_a_remark(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    head = "set: {name: mine, version: '1', schema: 1, licence: CC0, maintainer: x, "
    text = (
        f"{head}description: x}}\n"
        "sources:\n"
        "  notes: {title: our own notes, year: 2026}\n"
        "  told: {title: a leaflet, seen: whole, unknown: [authors, year, container, address]}\n"
        "materials:\n"
        "  zelkova:\n"
        "    like: hardwood\n"
        "    thickness: {value: 35 mm, low: 20 mm, high: 60 mm, source: [notes, told], at: p. 1}\n"
    )
    path = tmp_path / "mine.yaml"
    path.write_text(text, encoding="utf-8")
    report = check(TableSource.of(path), with_panel=False)
    assert report.errors == []
    (found,) = (warning for warning in report.warnings if warning.code == "incomplete-source")
    assert "'notes' lacks authors, container, address and seen" in found.what
    status, out, _ = run(capsys, "tables", "check", str(path))
    assert status == 0
    assert "unknown:" in out


@pytest.mark.worked
def test_many_authors_are_told_short_and_written_out_in_full() -> None:
    """Eighteen authors of the species table of woods: three and fifteen others on a page, all of
    them in BibTeX; five of a paper stand in both.
    """
    row = tables().row("sources", "reference:usfs-wo-104", Source)
    told = cited_text(row)
    assert told.startswith("Westfall, J. A.; Coulston, J. W.; Gray, A. N.; and 15 others, 2024. A")
    written = bibtex(cited_sources(tables(), ["usfs-wo-104"]))
    assert written.count(" and ") >= 17
    assert "Domke, G. M." in written
    five = cited_text(tables().row("sources", "reference:gmar-2022", Source))
    assert five.startswith("Gmar, M.; Bouafif, H.; Bouslimi, B.; Braghiroli, F. L.; Koubaa, A.")


@pytest.mark.property
def test_a_citation_of_a_result_carries_key_and_doi() -> None:
    result = appraise(
        Heap(lots=[Lot(material="oak", mass="10 kg", moisture="45 % wet", origin="own trees")])
    )
    cited = [citation for finding in result.lots[0].findings for citation in finding.sources]
    named = {citation.key: citation for citation in cited if citation.key}
    assert named
    for key, citation in named.items():
        row = tables().row("sources", key, Source)
        assert (citation.text, citation.doi) == (cited_text(row), row.doi)
    again = type(result).model_validate_json(result.model_dump_json())
    assert again == result
