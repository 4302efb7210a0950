"""The sets of published limits: what they hold, which one judges, and what a result says of it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from builders import tables
from feedstock import (
    FeedstockError,
    Heap,
    InputError,
    Lot,
    UnknownName,
    Verdict,
    appraise,
    load_tables,
)
from feedstock.tables.limits import limits_in_use
from feedstock.tables.rows.limits import LimitSet
from feedstock.tables.tables import Tables

MG = 1e6
WILLOW = Lot(material="willow", mass="10 kg", moisture="12 % wet", origin="own trees")
DECK = Lot(
    material="treated timber",
    mass="10 kg",
    moisture="12 % wet",
    origin="deck",
    year=1998,
    region="US",
)


def sets() -> dict[str, LimitSet]:
    return {
        full.partition(":")[2]: row
        for full, row in tables().rows["limits"].items()
        if isinstance(row, LimitSet)
    }


def values(name: str) -> dict[str, float]:
    return {element: round(cell.mid * MG, 6) for element, cell in sets()[name].elements.items()}


# as printed in the text of each source that was read (see its row in tables/sources/load.yaml and
# contamination.yaml)
READ = {
    "us-503-table-3": {
        "As": 41,
        "Cd": 39,
        "Cu": 1500,
        "Hg": 17,
        "Ni": 420,
        "Pb": 300,
        "Se": 100,
        "Zn": 2800,
    },
    "ontario-aa": {
        "As": 13,
        "Cd": 3,
        "Cr": 210,
        "Co": 34,
        "Cu": 100,
        "Hg": 0.8,
        "Mo": 5,
        "Ni": 62,
        "Pb": 150,
        "Se": 2,
        "Zn": 500,
    },
    "swiss-recycling-fertiliser": {"Cd": 1, "Cu": 100, "Hg": 1, "Ni": 30, "Pb": 120, "Zn": 400},
    "swiss-ontario": {
        "As": 13,
        "Cd": 1,
        "Cr": 210,
        "Cu": 100,
        "Hg": 1,
        "Ni": 30,
        "Pb": 120,
        "Zn": 400,
    },
    "austrian-fertiliser": {"As": 40, "Cd": 3, "Hg": 1, "Ni": 100, "Pb": 100},
    "eu-organic-compost": {"Cd": 0.7, "Cr": 70, "Cu": 70, "Hg": 0.4, "Ni": 25, "Pb": 45, "Zn": 200},
    "altholz-annex-2": {
        "As": 2,
        "Cd": 2,
        "Cl": 600,
        "Cr": 30,
        "Cu": 20,
        "F": 100,
        "Hg": 0.4,
        "Pb": 30,
    },
    "french-waste-wood": {
        "As": 4,
        "Cd": 5,
        "Cl": 900,
        "Cr": 30,
        "Cu": 30,
        "Hg": 0.2,
        "Pb": 50,
        "Zn": 200,
    },
}
REMEMBERED = {
    "ebc-agro": {"As": 13, "Cd": 1.5, "Cr": 90, "Cu": 100, "Hg": 1, "Ni": 50, "Pb": 120, "Zn": 400},
    "ebc-agro-organic": {
        "As": 13,
        "Cd": 0.7,
        "Cr": 70,
        "Cu": 70,
        "Hg": 0.4,
        "Ni": 25,
        "Pb": 45,
        "Zn": 200,
    },
    "ibi": {"As": 13, "Cd": 1.4, "Cr": 93, "Cu": 143, "Hg": 1, "Ni": 47, "Pb": 121, "Zn": 416},
    "eu-pfc-3a": {"As": 40, "Cd": 2, "Cu": 300, "Hg": 1, "Ni": 50, "Pb": 120, "Zn": 800},
}


@pytest.mark.transcribed
@pytest.mark.parametrize("name", READ)
def test_limits_that_were_read(name: str) -> None:
    assert values(name) == pytest.approx(READ[name])
    assert all(cell.known == "read" for cell in sets()[name].elements.values())


@pytest.mark.regression
@pytest.mark.parametrize("name", REMEMBERED)
def test_limits_from_memory_say_so(name: str) -> None:
    """Not checked against a text: kept so that a change of one is seen."""
    assert values(name) == pytest.approx(REMEMBERED[name])
    row = sets()[name]
    assert row.known == "memory"
    assert all(
        cell.known == "memory" and "from memory" in cell.at for cell in row.elements.values()
    )


@pytest.mark.published
def test_remembered_organic_limits_agree_with_the_read_law() -> None:
    """(EU) 2021/1165 Annex II as read; the class for organic farming takes its limits from it, all
    but arsenic.
    """
    law = values("eu-organic-compost")
    assert {e: v for e, v in values("ebc-agro-organic").items() if e in law} == law


@pytest.mark.property
def test_every_set_says_what_it_is() -> None:
    for name, row in sets().items():
        assert row.title, name
        assert row.version, name
        assert date.fromisoformat(row.date), name
        assert row.basis, name
        assert row.scope in ("char", "feed"), name
        assert row.source, name
        assert row.elements, name
    assert {row.scope for row in sets().values()} == {"char", "feed"}
    assert set(READ) | set(REMEMBERED) == set(sets())


@pytest.mark.property
def test_one_named_set_is_the_default_and_says_why() -> None:
    defaults = [name for name, row in sets().items() if row.default]
    assert len(defaults) == 1
    row = sets()[defaults[0]]
    assert row.scope == "char"
    assert len(row.reason) > 40
    chosen = limits_in_use(tables(), None)
    assert chosen is not None
    assert chosen.name == row.display(defaults[0])
    # and it is one set, not the least of all sets element by element
    others = [values(name) for name, each in sets().items() if each.scope == "char"]
    least = {e: min(each[e] for each in others if e in each) for e in values(defaults[0])}
    assert least != values(defaults[0])


@pytest.mark.property
def test_the_default_was_read_and_is_named_so() -> None:
    """The Swiss fertiliser law for six metals, the Ontario guideline for arsenic and chromium."""
    chosen = limits_in_use(tables(), None)
    assert chosen is not None
    assert chosen.row_id == "reference:swiss-ontario"
    assert chosen.name == "library default"
    assert {limit.known for limit in chosen.of.values()} == {"read"}
    titles = {cite.text for limit in chosen.of.values() for cite in limit.sources}
    assert any("ChemRRV" in title for title in titles)
    assert any("Ontario" in title for title in titles)


@pytest.mark.property
def test_a_verdict_that_rests_on_a_limit_from_memory_says_so() -> None:
    remembered = appraise(Heap(lots=[WILLOW]), tables=tables(), limits="EBC-Agro").lots[0]
    read = appraise(Heap(lots=[WILLOW]), tables=tables()).lots[0]
    for lot, memory in ((remembered, True), (read, False)):
        finding = next(f for f in lot.findings if f.code == "background-over-limit")
        assert ("from memory" in finding.reason) is memory
        assert any(c.known == "memory" for c in finding.sources) is memory
        assert finding.permits is Verdict.CHECK_FIRST
        assert "laboratory" in finding.action


@pytest.mark.property
def test_a_laxer_set_says_so_in_every_result() -> None:
    """EBC-Agro allows 1.5 mg/kg of cadmium and 50 of nickel where the default has 1 and 30; it is
    stricter for chromium. EU organic compost is stricter throughout, but names no arsenic.
    """
    oak = Heap(lots=[Lot(material="oak", mass="5 kg", moisture="12 % wet", origin="own trees")])

    def laxer(name: str | None) -> tuple[str, ...] | None:
        found = appraise(oak, tables=tables(), limits=name).findings
        told = [f for f in found if f.code == "laxer-limits"]
        return tuple(told[0].values["elements"]) if told else None

    assert laxer(None) is None
    assert laxer("library default") is None
    assert laxer("EBC-Agro") == ("Cd", "Ni")
    assert laxer("EU organic compost") == ("As",)
    assert laxer("US 503 Table 3") == ("As", "Cd", "Cr", "Cu", "Hg", "Ni", "Pb", "Zn")
    told = appraise(oak, tables=tables(), limits="EBC-Agro").findings[0]
    assert "allow more than the library default" in told.reason
    assert told.permits is Verdict.READY


@pytest.mark.property
def test_the_set_can_be_chosen() -> None:
    assert appraise(Heap(lots=[WILLOW]), tables=tables()).lots[0].verdict is Verdict.CHECK_FIRST
    result = appraise(Heap(lots=[WILLOW]), tables=tables(), limits="US 503 Table 3")
    assert result.inputs.limits == "US 503 Table 3"
    assert result.lots[0].verdict is Verdict.READY
    cadmium = next(e for e in result.lots[0].elements if e.element == "Cd")
    assert (cadmium.limit, cadmium.limit_set, cadmium.limit_known) == (39, "US 503 Table 3", "read")
    assert result.explain("lots[0].elements.Cd").mid == pytest.approx(cadmium.screening.mid_value)


@pytest.mark.property
@pytest.mark.parametrize(
    "name", [n for n in {**READ, **REMEMBERED} if n not in ("altholz-annex-2", "french-waste-wood")]
)
def test_evidence_keeps_out_under_every_set(name: str) -> None:
    result = appraise(Heap(lots=[DECK]), tables=tables(), limits=name)
    assert result.verdict is Verdict.KEEP_OUT
    assert result.mixed is not None
    assert result.mixed.verdict is Verdict.KEEP_OUT


@pytest.mark.property
def test_the_finding_holds_the_interval_and_the_limit() -> None:
    lot = appraise(Heap(lots=[DECK]), tables=tables()).lots[0]
    finding = next(f for f in lot.findings if f.code == "load-over-limit")
    arsenic = next(e for e in lot.elements if e.element == "As")
    assert arsenic.over
    assert "13 mg/kg, library default" in finding.reason
    assert (
        f"{arsenic.screening.high_value:.2g}"
        == f"{float(str(finding.evidence[0]).split(' to ')[1].split(' (')[0]):.2g}"
    )
    assert arsenic.largest_share is not None
    assert arsenic.largest_share.high_value < 1.0


@pytest.mark.property
def test_added_loads_are_judged_at_their_high_end_and_background_only_where_it_gathers() -> None:
    lots = [
        Lot(material=m, mass="10 kg", moisture="12 % wet", origin="own trees")
        for m in ("oak", "bark", "pine needles")
    ]
    for lot in appraise(Heap(lots=lots), tables=tables()).lots:
        for element in lot.elements:
            assert element.limit is None or element.over is (
                element.screening.high_value > element.limit
            )
            assert element.decides is (element.element in tables().material(lot.row).accumulates)
            assert element.central is not None
            assert element.central.mid_value <= element.screening.mid_value
    needles = appraise(Heap(lots=lots[2:]), tables=tables()).lots[0]
    assert any(e.over for e in needles.elements)
    assert needles.verdict is Verdict.READY


@pytest.mark.property
def test_a_suspect_site_lets_background_decide() -> None:
    lot = Lot(material="oak", mass="10 kg", moisture="12 % wet", origin="roadside")
    assert all(e.decides for e in appraise(Heap(lots=[lot]), tables=tables()).lots[0].elements)


@pytest.mark.property
def test_limits_for_the_feed_do_not_judge_char() -> None:
    with pytest.raises(InputError, match="not char for soil"):
        appraise(Heap(lots=[WILLOW]), tables=tables(), limits="AltholzV Annex II")
    with pytest.raises(UnknownName) as why:
        appraise(Heap(lots=[WILLOW]), tables=tables(), limits="EBC-Agri")
    assert why.value.problems[0].nearest


@pytest.mark.property
def test_another_set_judges_only_when_it_is_named() -> None:
    mine = {
        "set": {"name": "mine", "version": "1", "schema": "1"},
        "limits": {
            "our-rules": {
                "title": "Rules of our allotment",
                "default": "true",
                "known": "judgement",
                "elements": {
                    "Cd": {"value": "100 mg/kg", "known": "judgement", "note": "made up for a test"}
                },
            }
        },
    }
    loaded = load_tables(mine, plugins=False)
    assert appraise(Heap(lots=[WILLOW]), tables=loaded).lots[0].verdict is Verdict.CHECK_FIRST
    result = appraise(Heap(lots=[WILLOW]), tables=loaded, limits="our-rules")
    assert result.lots[0].verdict is Verdict.READY
    assert [e.element for e in result.lots[0].elements] == ["Cd"]


@pytest.mark.property
def test_without_limits_nothing_is_judged_by_numbers_and_evidence_stays() -> None:
    found = Tables(
        **{
            **{f: getattr(tables(), f) for f in ("sets", "places")},
            "digest": "of tables without limits",
            "rows": {**tables().rows, "limits": {}},
        }
    )
    result = appraise(Heap(lots=[WILLOW, DECK]), tables=found)
    assert [lot.verdict for lot in result.lots] == [Verdict.READY, Verdict.KEEP_OUT]


@pytest.mark.property
def test_the_command_line_chooses_the_set(
    tmp_path: Path, run_cli: Callable[..., tuple[int, str, str]]
) -> None:
    heap = tmp_path / "heap.yaml"
    heap.write_text(
        "lots:\n  - {material: willow, mass: 10 kg, moisture: 12 % wet, origin: own trees}\n"
    )
    status, out, _ = run_cli("appraise", heap, "--limits", "Swiss recycling fertiliser", "--full")
    assert status == 0
    assert "limit 1 mg/kg, Swiss recycling" in " ".join(out.split())
    status, out, _ = run_cli("appraise", heap, "--why", "lots.willow.elements.Cd")
    assert status == 0
    assert "background Cd" in " ".join(out.split())
    status, _, err = run_cli("appraise", heap, "--limits", "EBC Agri")
    assert status == 2
    assert "EBC" in err


@pytest.mark.property
def test_results_survive_json() -> None:
    result = appraise(Heap(lots=[WILLOW, DECK]), tables=tables())
    again = type(result).model_validate_json(result.model_dump_json())
    assert again == result
    assert again.mixed == result.mixed
    assert isinstance(appraise(Heap(lots=[DECK]), tables=tables()).mixed, type(result.mixed))
    with pytest.raises(FeedstockError):
        again.explain("lots[0].elements.Xx")
