"""What a person reads: every finding has its source and something to do, nothing is called safe,
and others have the last word.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from builders import heap, lot, tables
from feedstock import Burn, Heap, Lot, Tables, Verdict, appraise, load_tables
from feedstock.errors import TableError
from feedstock.model.appraisal import Appraisal
from feedstock.model.findings import Finding
from feedstock.tables.loading.references import used_sources
from feedstock.tables.rows.cautions import Caution
from feedstock.tables.rows.contaminant import Contaminant, OriginRow, Sign
from feedstock.tables.rows.light import Light
from feedstock.tables.rows.material import Material
from feedstock.text.appraisal import appraisal_text

pytestmark = pytest.mark.property

PRAISE = re.compile(
    r"\b(?:safe|safely|safest|unsafe|harmless|harmlessly|risk-free|non-?toxic|no "
    r"danger|not dangerous)\b",
    re.IGNORECASE,
)
RECIPE = re.compile(
    r"\bdilut|\bblend it|\bmix it (?:with|into) clean|\bmix(?:ing)? in clean|\badd clean",
    re.IGNORECASE,
)
AXES = ("contamination", "handling", "moisture", "char", "words", "tables")
LEAD = "licensed lead-abatement contractor"


def _full(name: str) -> str:
    return name.partition(":")[2]


SOME = ("sawn offcuts", "sawdust")
MORE = ("oak", "wheat straw", "cardboard", "twigs")


def heaps(every: bool) -> Iterator[Appraisal]:
    """Every sign and origin on these materials, every material from one origin or two, every word
    of a burn: whatever a finding can come from.
    """
    found = tables()
    signs = [_full(s) for s in found.rows["signs"]]
    origins = [_full(o) for o in found.rows["origins"]]
    for material in (*SOME, *(MORE if every else ())):
        lots = [
            Lot(
                material=material,
                mass="5 kg",
                moisture="12 % wet",
                origin="workshop",
                signs=[s],
                name=s,
            )
            for s in signs
        ]
        yield appraise(
            Heap(
                lots=[
                    *lots,
                    *(
                        Lot(
                            material=material,
                            mass="5 kg",
                            moisture="12 % wet",
                            origin=o,
                            name=f"from {o}",
                        )
                        for o in origins
                    ),
                ]
            ),
            tables=found,
        )
    materials = [
        _full(m) for m, row in found.rows["materials"].items() if isinstance(row, Material)
    ]
    for origin in ("unknown", *(("own trees",) if every else ())):
        yield appraise(
            Heap(
                lots=[
                    Lot(material=m, mass="5 kg", moisture="12 % wet", origin=origin)
                    for m in materials
                ]
            ),
            tables=found,
        )
    for year, region in ((1960, "US"), (2010, "UK"), (None, "AU")):
        yield appraise(
            Heap(
                lots=[
                    Lot(
                        material="sawn offcuts",
                        mass="5 kg",
                        moisture="30 % wet",
                        origin=o,
                        year=year,
                        region=region,
                        signs=["painted"],
                    )
                    for o in origins
                ]
            ),
            tables=found,
        )
    yield appraise(
        Heap(
            lots=[
                Lot(
                    material="oak",
                    mass="5 kg",
                    moisture="12 % wet",
                    origin="own trees",
                    signs=["bare wood", "painted"],
                )
            ]
        ),
        tables=found,
    )
    words: dict[str, set[str]] = {"vessel": set(), "ground": set(), "lighting": set()}
    for row in found.rows["contaminants"].values():
        assert isinstance(row, Contaminant)
        for rule in row.raised_by:
            for name, seen in words.items():
                seen.update(getattr(rule, name))
    for name, seen in words.items():
        for word in sorted(seen):
            burn = Burn.model_validate(
                {"burner": "kettle", "diameter": "90 cm", "depth": "40 cm", name: [word]}
            )
            yield appraise(
                Heap(
                    lots=[Lot(material="oak", mass="5 kg", moisture="12 % wet", origin="own trees")]
                ),
                burn,
                found,
            )


@pytest.fixture(scope="module", params=["some", pytest.param("all", marks=pytest.mark.deep)])
def results(request: pytest.FixtureRequest) -> list[Appraisal]:
    return list(heaps(request.param == "all"))


@pytest.fixture(scope="module")
def findings(results: list[Appraisal]) -> list[Finding]:
    return [
        f
        for result in results
        for f in (*result.findings, *(result.mixed.findings if result.mixed else ()))
    ]


def test_every_hypothesis_was_raised(findings: list[Finding]) -> None:
    codes = {f.code for f in findings}
    assert {_full(name) for name in tables().rows["contaminants"]} - codes == set()
    assert {
        "load-over-limit",
        "background-over-limit",
        "mixed-over-limit",
        "high-ash-char",
        "background-note",
    } <= codes
    assert {f.permits for f in findings} == set(Verdict)


def test_every_finding_has_a_source_that_resolves_and_an_action(findings: list[Finding]) -> None:
    titles = {tables().source_title(full) for full in tables().rows["sources"]} | {
        "common practice, no source",
        "judgement of the maintainers",
    }
    for finding in findings:
        assert finding.sources, finding
        assert {c.text for c in finding.sources} <= titles, finding
        assert all(
            c.at or c.text in ("common practice, no source", "judgement of the maintainers")
            for c in finding.sources
        ), finding
        assert len(finding.reason) > 20, finding
        assert len(finding.action) > 15, finding
        assert finding.action.rstrip().endswith("."), finding
        assert finding.axis in AXES, finding


def test_every_check_first_has_the_cheapest_step_that_settles_it(findings: list[Finding]) -> None:
    doubtful = [
        f
        for f in findings
        if f.permits is Verdict.CHECK_FIRST
        and f.axis in ("contamination", "handling")
        and not f.cleared
    ]
    assert len({f.code for f in doubtful}) > 20
    assert [f.code for f in doubtful if f.code != "mixed-over-limit" and not f.settle] == []
    for name, row in tables().rows["contaminants"].items():
        assert isinstance(row, Contaminant)
        if "check first" in (row.permits, *(rule.permits for rule in row.raised_by)):
            assert row.settles, name
        for _, each in row.steps():
            assert all(
                str(text).endswith((".", "?")) for text in (each.step, each.proves, each.not_proves)
            ), (name, each)


def test_steps_stand_from_the_cheapest_to_the_laboratory() -> None:
    order = ["mark", "question", "look", "cut face", "kit", "growing test", "laboratory"]
    cheap = {
        "mark": 0,
        "question": 0,
        "look": 0,
        "cut face": 1,
        "kit": 2,
        "growing test": 3,
        "laboratory": 4,
    }
    assert set(order) == set(cheap)
    for name, row in tables().rows["contaminants"].items():
        assert isinstance(row, Contaminant)
        for steps in (row.settles, *(rule.settles for rule in row.raised_by)):
            costs = [cheap[step.by] for step in steps]
            assert costs == sorted(costs), name


def test_no_kit_is_said_to_clear_anything() -> None:
    kits = [
        (name, each)
        for name, row in tables().rows["contaminants"].items()
        if isinstance(row, Contaminant)
        for _, each in row.steps()
        if each.by == "kit"
    ]
    assert len(kits) >= 5
    for name, each in kits:
        assert re.search(r"proves nothing|does not show|clears nothing", str(each.not_proves)), name


def texts(value: Any) -> Iterator[str]:
    """Every text of a row, but for its sources and keys."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from texts(inner)
    elif isinstance(value, (list, tuple)):
        for inner in value:
            yield from texts(inner)
    elif isinstance(value, Light):
        yield from texts(value.__dict__)


def test_no_sentence_of_the_tables_calls_anything_safe() -> None:
    wrong = []
    for kind, rows in tables().rows.items():
        if kind != "sources":  # titles are quoted as they are
            for name, row in rows.items():
                wrong += [(kind, name, text) for text in texts(row) if PRAISE.search(text)]
    assert wrong == []


def test_no_finding_caution_or_screen_calls_anything_safe(
    results: list[Appraisal], findings: list[Finding]
) -> None:
    assert [f for f in findings if PRAISE.search(f"{f.reason} {f.action} {f.settle}")] == []
    for result in results:
        assert [c for c in result.cautions if PRAISE.search(c.text)] == []
        screen, _, _ = appraisal_text(result).partition("\nSources\n")
        assert PRAISE.findall(screen) == []
        assert max(len(line) for line in screen.splitlines()) <= 80


def test_no_share_is_a_recipe(findings: list[Finding]) -> None:
    loaded = [f for f in findings if f.code == "load-over-limit"]
    assert loaded
    for finding in loaded:
        assert "No heap is mixed evenly enough" in finding.reason
        assert "smoke that you breathe" in finding.reason
        assert not RECIPE.search(finding.action)
    assert [f for f in findings if RECIPE.search(f"{f.action} {f.settle}")] == []


def test_cautions_defer_to_codes_and_licensed_practice(results: list[Appraisal]) -> None:
    said = [c.text for c in results[0].cautions]
    assert any("local rules first" in text and "permit" in text for text in said)
    assert any(
        LEAD in text and "asbestos contractor" in text and "hazardous-waste" in text
        for text in said
    )
    assert (
        "Local codes and licensed practice come before anything that stands here."
        in appraisal_text(results[0])
    )
    assert said[0].startswith("Check the local rules first")
    for row in tables().rows["cautions"].values():
        assert isinstance(row, Caution)
        assert used_sources(row)


@pytest.mark.parametrize(
    ("lot", "words"),
    [
        (
            {"material": "painted wood", "origin": "building site", "signs": ["flaking paint"]},
            (LEAD, "Do not scrape, sand, heat or burn"),
        ),
        ({"material": "treated timber", "origin": "deck"}, ("hazardous", "local rules")),
        ({"material": "railway sleeper", "origin": "railway"}, ("hazardous-waste", "local rules")),
        (
            {"material": "sawn offcuts", "origin": "building site", "signs": ["cement board"]},
            ("licensed asbestos contractor", "Do not break"),
        ),
        ({"material": "utility pole", "origin": "unknown"}, ("hazardous wood", "waste authority")),
    ],
)
def test_what_to_do_names_those_who_may(lot: dict[str, Any], words: tuple[str, ...]) -> None:
    found = appraise(
        Heap(lots=[Lot.model_validate({"mass": "4 kg", "moisture": "12 % wet", **lot})]),
        tables=tables(),
    ).lots[0]
    assert found.verdict is Verdict.KEEP_OUT
    told = " ".join(f.action for f in found.findings)
    assert all(word in told for word in words), told


def test_a_batch_into_which_a_dirty_piece_slipped_has_its_path() -> None:
    result = appraise(
        Heap(
            lots=[
                Lot(
                    material="oak",
                    mass="40 kg",
                    moisture="12 % wet",
                    origin="own trees",
                    signs=["dirty piece burned with it"],
                )
            ]
        ),
        tables=tables(),
    )
    finding = next(f for f in result.lots[0].findings if f.code == "dirty-batch")
    assert finding.permits is Verdict.KEEP_OUT
    for word in (
        "whole batch",
        "ash",
        "wash water",
        "closed, labelled metal bin",
        "hazardous-waste collection",
        "local rules",
    ):
        assert word in finding.action
    caution = next(c for c in result.cautions if c.code == "dirty-batch")
    assert "whole batch stays out of the garden" in caution.text
    assert result.lots[0].char_mass is None


def test_the_bioassay_is_described() -> None:
    found = appraise(
        Heap(lots=[Lot(material="wheat straw", mass="4 kg", moisture="12 % wet", origin="farm")]),
        tables=tables(),
    ).lots[0]
    action = next(f.action for f in found.findings if f.code == "persistent-herbicide")
    for word in (
        "three pots",
        "peas or beans",
        "potting mix",
        "cupped or twisted",
        "two to four weeks",
    ):
        assert word in action


def test_signs_say_what_they_are_evidence_of() -> None:
    for kind in ("signs", "origins"):
        for name, row in tables().rows[kind].items():
            assert isinstance(row, (Sign, OriginRow))
            assert row.meaning, name
            if isinstance(row, Sign):
                assert str(row.asks).endswith((".", "?")), name


def test_no_set_takes_away_what_another_set_warns_of(tmp_path: Path) -> None:
    """A caution stands in the place of one of its own set alone; to change in whose place one of
    the reference stands is to loosen it.
    """
    own = tmp_path / "own.yaml"
    own.write_text(
        "set: {name: own, version: '1', schema: 2}\ncautions:\n  quiet:\n"
        '    text: "Mind the frogs."\n    short: "Frogs."\n    instead_of: [place]\n'
        "    known: judgement\n    note: ours\n",
        encoding="utf-8",
    )
    assert {"quiet", "place"} <= _told_in_short(load_tables(own))
    amended = own.read_text(encoding="utf-8").split("cautions:")[0] + (
        "amend:\n  cautions:\n    reference:sparks: {instead_of: [place, permit], tightens: true}\n"
    )
    own.write_text(amended, encoding="utf-8")
    with pytest.raises(TableError, match="takes the place of"):
        load_tables(own)


def _told_in_short(read: Tables) -> set[str]:
    burn = Burn(burner="cone pit", diameter="1 m", depth="45 cm")
    result = appraise(heap(lot("oak", moisture="14 % wet")), burn, read)
    return {caution.code for caution in result.cautions if "short" in caution.values}
