"""What a person can answer where plants gather an element or a char is mostly ash, what such a
finding cites, and that no verdict of the default run rests on memory.
"""

from __future__ import annotations

from typing import Any

import pytest

from builders import EXAMPLES, ROOT, own_set, tables
from feedstock import Burn, Heap, Job, Lot, Verdict, appraise, load_tables
from feedstock.contrib import panel
from feedstock.model.appraisal import Appraisal, LotAppraisal
from feedstock.model.findings import Finding
from feedstock.pipeline import judged_lot, setting_of
from feedstock.tables.limits import limits_in_use
from feedstock.tables.rows.contaminant import Contaminant
from feedstock.tables.tables import Tables

pytestmark = pytest.mark.property


def appraised(found: Tables | None = None, /, **fields: Any) -> Appraisal:
    given = {"mass": "10 kg", "moisture": "12 % wet", **fields}
    return appraise(Heap(lots=[Lot.model_validate(given)]), tables=found or tables())


def judged(found: Tables | None = None, /, **fields: Any) -> LotAppraisal:
    return appraised(found, **fields).lots[0]


def finding(lot: LotAppraisal, code: str) -> Finding:
    return next(f for f in lot.findings if f.code == code)


CLEAN = {
    "willow": ("own trees", ()),
    "poplar": ("own trees", ()),
    "bark": ("own trees", ()),
    "willow leaves": ("own garden", ()),
    "horse manure": ("farm", ("not sprayed two seasons", "no feed additives")),
    "cattle manure": ("farm", ("not sprayed two seasons", "no feed additives")),
}


@pytest.mark.parametrize("material", CLEAN)
def test_what_gathers_metals_has_a_way_without_a_laboratory(material: str) -> None:
    origin, signs = CLEAN[material]
    asked = judged(material=material, origin=origin, signs=signs)
    assert asked.verdict is Verdict.CHECK_FIRST
    found = finding(asked, "background-over-limit")
    assert "ornamentals and trees" in found.settle
    for word in ("`ornamentals only`", "`thin dressing`", "laboratory"):
        assert word in found.action
    for answer in ("ornamentals only", "thin dressing"):
        cleared = judged(material=material, origin=origin, signs=[*signs, answer])
        still = [f for f in cleared.findings if f.permits > Verdict.READY]
        assert {f.code for f in still} <= {"high-ash-char"}
        told = finding(cleared, "background-over-limit")
        assert told.cleared
        assert told.action


def test_the_dressing_keeps_the_yearly_load() -> None:
    """5 g of cadmium to a hectare is 0.5 mg to a square metre: a char that holds c mg/kg at its
    high end may lie 0.5 / c kg thick on it.
    """
    lot = judged(material="willow", origin="own trees", signs=["thin dressing"])
    cadmium = next(e for e in lot.elements if e.element == "Cd")
    most = 0.5 / cadmium.screening.high_value
    action = finding(lot, "background-over-limit").action
    assert f"spread at most {most:.2g} kg/m^2 in a year" in action
    assert f"{2 / most:.2g} times the cadmium" in action
    assert "(0.5 mg/m^2)" in action


def test_an_answer_about_its_use_clears_no_suspicion() -> None:
    for sign in ("ornamentals only", "thin dressing", "compost only", "cress test passed"):
        for dirty in (
            {"material": "treated timber", "origin": "deck"},
            {"material": "willow", "origin": "roadside"},
            {"material": "willow", "origin": "own trees", "signs": ["painted"]},
            {"material": "poultry manure", "origin": "farm", "signs": ["feed additives"]},
        ):
            signs = [*dirty.get("signs", []), sign]
            without = judged(**dirty).verdict
            assert judged(**{**dirty, "signs": signs}).verdict is without


@pytest.mark.parametrize("answer", ["compost only", "cress test passed"])
def test_a_char_that_is_mostly_ash_has_a_way_without_a_laboratory(answer: str) -> None:
    asked = judged(material="rice husk", origin="farm")
    assert "compost in small amounts" in finding(asked, "high-ash-char").settle
    cleared = judged(material="rice husk", origin="farm", signs=[answer])
    assert cleared.verdict is Verdict.READY
    assert finding(cleared, "high-ash-char").cleared
    lawn = {"material": "grass clippings", "origin": "own garden"}
    assert judged(**lawn, signs=["no weedkiller", answer]).verdict is Verdict.READY


def test_the_verdict_of_the_mixture_follows_the_answer() -> None:
    found = appraised(material="willow", origin="own trees", signs=["ornamentals only"])
    assert found.verdict_mixed is Verdict.READY


def test_background_in_a_mixture_is_judged_at_its_middle() -> None:
    """Fir holds up to 0.25 mg/kg of cadmium: at its high end its char would pass the limit of 1."""
    lots = [
        Lot(material=m, mass="10 kg", moisture="12 % wet", origin="own trees")
        for m in ("fir", "spruce", "oak")
    ]
    result = appraise(Heap(lots=lots), tables=tables())
    assert result.verdict_mixed is Verdict.READY


# ---- sources and memory


def test_a_finding_of_background_cites_the_content_and_the_limit() -> None:
    found = finding(judged(material="willow", origin="own trees"), "background-over-limit")
    titles = " | ".join(c.text for c in found.sources)
    assert "Willow wood properties" in titles
    assert "ChemRRV" in titles
    bark = finding(judged(material="bark", origin="own trees"), "background-over-limit")
    assert any("pine bark" in c.text for c in bark.sources)


def test_contents_from_memory_are_named_in_the_verdict_that_rests_on_them() -> None:
    remembered = own_set(
        "mine",
        sources={"recalled": {"title": "What I recall of tree leaves"}},
        materials={
            "odd-tree": {
                "names": {"en": ["zzwood"]},
                "like": "hardwood",
                "accumulates": ["Cd"],
                "elements": {
                    "Cd": {
                        "value": "5 mg/kg",
                        "low": "3 mg/kg",
                        "high": "8 mg/kg",
                        "known": "memory",
                        "source": "recalled",
                        "at": "from memory",
                    }
                },
            }
        },
    )
    lot = judged(load_tables(remembered, plugins=False), material="zzwood", origin="own trees")
    found = finding(lot, "background-over-limit")
    assert found.permits is Verdict.CHECK_FIRST
    assert "It rests on contents from memory: cadmium." in found.reason
    willow = finding(judged(material="willow", origin="own trees"), "background-over-limit")
    assert "memory" not in willow.reason


def _everything() -> list[Finding]:
    """What is found in lots of every material, from every origin, with every sign on a few of them
    and every word of a burn.
    """
    found = tables()
    limits, plain = limits_in_use(found, None), setting_of(None, found, None)
    materials, origins, signs = (
        [name.partition(":")[2] for name in found.rows[kind]]
        for kind in ("materials", "origins", "signs")
    )
    specs: list[tuple[str, str, tuple[str, ...]]] = [
        (m, o, ()) for m in materials for o in ("own trees", "unknown")
    ]
    specs += [("sawn offcuts", o, ()) for o in origins]
    specs += [("oak", o, ()) for o in origins] + [("hay", o, ()) for o in origins]
    specs += [(m, "own garden", (s,)) for m in ("twigs", "sawn offcuts", "hay") for s in signs]
    lots = [
        Lot(material=m, origin=o, signs=s, mass="5 kg", moisture="12 % wet", name=f"n{i}")
        for i, (m, o, s) in enumerate(specs)
    ]
    out = [each for lot in lots for each in judged_lot(lot, plain, limits).findings]
    oak = Heap(lots=[Lot(material="oak", origin="own trees", mass="5 kg", moisture="12 % wet")])
    words = {
        (part, word)
        for row in found.rows["contaminants"].values()
        if isinstance(row, Contaminant)
        for rule in row.raised_by
        for part in ("vessel", "ground", "lighting")
        for word in getattr(rule, part)
    }
    for part, word in sorted(words):
        burn = Burn.model_validate({"burner": "kettle", part: [word]})
        out += [each for lot in appraise(oak, burn, found).lots for each in lot.findings]
    return out


def test_no_verdict_of_the_default_run_rests_on_memory() -> None:
    resting = {
        (found.code, cite.text, cite.at)
        for found in _everything()
        if found.permits > Verdict.READY and found.axis in ("contamination", "handling")
        for cite in found.sources
        if cite.known == "memory" or "from memory" in cite.at
    }
    assert resting == set()


def _whole_heaps() -> dict[str, Appraisal]:
    """The panel, the examples and the eighteen kinds of heap, with the default limits."""
    files = sorted([*(ROOT / "tests" / "heaps").glob("*.yaml"), *EXAMPLES.glob("*.yaml")])
    jobs = {path.stem: Job.read(path) for path in files}
    found = {name: appraise(job.heap, job.burn, tables()) for name, job in jobs.items()}
    on_panel = {f"panel, {name}": each for name, each in panel.appraised(tables()).items()}
    return found | {name: each for name, each in on_panel.items() if isinstance(each, Appraisal)}


def test_no_finding_of_a_whole_heap_that_decides_rests_on_memory() -> None:
    """Lots, mixture and burn, on every axis: what permits less than ready cites nothing that is
    remembered.
    """
    heaps = _whole_heaps()
    assert len(heaps) == 40
    deciding = [
        (name, found)
        for name, each in heaps.items()
        for found in (
            *each.findings,
            *(each.mixed.findings if each.mixed is not None else ()),
            *(each.burn.findings if each.burn is not None else ()),
        )
        if found.permits > Verdict.READY
    ]
    assert len(deciding) > 60
    assert {found.code for _, found in deciding} >= {
        "mixed-over-limit",
        "background-over-limit",
        "too-wet",
    }
    resting = {
        (name, found.code, cite.text, cite.at)
        for name, found in deciding
        for cite in found.sources
        if cite.known == "memory" or "from memory" in cite.at
    }
    assert resting == set()


def test_a_mixture_cites_only_what_carries_it() -> None:
    """Straw whose copper is remembered lies far below the limit and only dilutes."""
    lots = [
        Lot(material="poultry manure", mass="30 kg", moisture="12 % wet", origin="farm"),
        Lot(material="straw", mass="2 kg", moisture="12 % wet", origin="farm"),
    ]
    mixed = appraise(Heap(lots=lots), tables=tables()).mixed
    assert mixed is not None
    (found,) = mixed.findings
    assert "memory" not in found.reason
    assert [cite for cite in found.sources if cite.known == "memory"] == []


# ---- an element that year and region exclude


@pytest.mark.parametrize(
    ("year", "region", "excluded"),
    [
        (2016, "US", True),
        (2005, "CA", True),
        (2004, "US", False),
        (2010, "UK", True),
        (2007, "EU", False),
        (2018, "AU", False),
        (2016, None, False),
        (None, "US", False),
    ],
)
def test_an_element_that_year_and_region_exclude_is_not_quoted(
    year: int | None, region: str | None, excluded: bool
) -> None:
    """Arsenic left US and Canadian residential timber at the end of 2003, stock in 2004; European
    timber in September 2006, imports by mid 2007.
    """
    for lot in (
        {"material": "sawn offcuts", "origin": "deck"},
        {"material": "sawn offcuts", "origin": "own garden", "signs": ["outdoor timber"]},
    ):
        result = judged(**lot, year=year, region=region)
        assert result.verdict is Verdict.KEEP_OUT
        brought = {e.element for e in result.elements if e.brought_by}
        assert "Cu" in brought
        assert ({"As", "Cr"} & brought == set()) is excluded, brought


def test_a_caution_always_names_unknown_and_poisonous_plants() -> None:
    found = appraised(material="oak", origin="own trees")
    caution = next(c for c in found.cautions if c.code == "unknown-plants")
    for word in ("do not know", "poison ivy", "oleander", "yew", "laburnum", "rhododendron"):
        assert word in caution.text
    assert caution.stage == "before"
