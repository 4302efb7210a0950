"""Units and language are one switch: with US units no metric amount, length, area, flow or
temperature is left, in the texts of rows neither.

What a person wrote stays as it was written, and so does what is quoted of a source (the list of
sources, and the cells of an explanation). Shares by mass (mg/kg) are the same for everybody.
"""

from __future__ import annotations

import html
import re
from typing import Any

import pytest
from pydantic import BaseModel

from builders import ROOT
from feedstock import Burn, Heap, Job, Lot, appraise, blend, gather, learn, load_tables, size
from feedstock.char.carbon import carbon
from feedstock.char.quality import quality
from feedstock.compost.beds import beds
from feedstock.contrib.panel import appraised, panel
from feedstock.experience.check import check_burn as check
from feedstock.experience.records import BatchRecord
from feedstock.model.appraisal import Appraisal
from feedstock.quantities.fields import Measured
from feedstock.quantities.format import Units
from feedstock.text import lot_page, page, sheet
from feedstock.text.after import blend_text, experience_text, quality_text

pytestmark = pytest.mark.property

TABLES = load_tables(plugins=False)
UNIT = (
    r"(?:kg/m\^?[23](?:[ /]min)?|L/min|L/m\^?2|litres?|kilograms?|grams?|degC|°C|m\^?[23]|metres?"
    r"|kg|mm|cm|km|mL|L|g|m)"
)
# the unit of an amount, or the name of one in a sentence
METRIC = re.compile(
    rf"(?<![\w.])\d[\d.,]*\s*{UNIT}(?![\w/^%])"
    r"|(?<!/)\b(?:litres?|kilograms?|grams?|degC|kg|mm|m\^?[23])\b(?!/kg)"
)
BURNS = (
    Burn(burner="cone pit", width="1 m", depth="0.5 m"),
    Burn(burner="kettle", width="1 m", depth="0.8 m", firing="top-lit"),
    Burn(burner="drum", diameter="57 cm", depth="85 cm", duration="40 min", vessel="new drum"),
    Burn(burner="trench", width="0.6 m", length="2 m", depth="0.6 m", volume="5000 L"),
    Burn(burner="retort", volume="200 L"),
    Burn(burner="barbecue", diameter="45 cm", depth="18 cm", vessel=("cast iron",)),
)
EXAMPLES = ("orchard_prunings.csv", "shed_clearout.yaml", "storm_stand.yaml")


def written(value: Any) -> set[str]:
    """Every quantity as the person wrote it."""
    if isinstance(value, Measured):
        return {value.text}
    if isinstance(value, BaseModel):
        return set().union(*(written(getattr(value, name)) for name in type(value).model_fields))
    if isinstance(value, tuple):
        return set().union(*map(written, value)) if value else set()
    return {value} if isinstance(value, str) else set()


def metric_in(text: str, theirs: set[str]) -> list[str]:
    told = " ".join(text.partition("\nSources\n")[0].split())
    for own in sorted(theirs, key=len, reverse=True):
        if own and any(sign.isdigit() for sign in own):
            told = told.replace(own, "")
    return [told[max(0, m.start() - 40) : m.end() + 20] for m in METRIC.finditer(told)]


def test_the_scan_sees_what_it_should() -> None:
    for text in ("about 3 kg", "12 L of it", "1.5 m deep", "350 degC", "at 15 L/min", "0.6 kg/m^2"):
        assert metric_in(text, set()), text
    assert not metric_in("13 mg/kg, 12 lb, 5 min, 3 ft^2", set())
    assert not metric_in("35 to 45 kg", {"35 to 45 kg"})


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("burn", [None, *BURNS], ids=lambda b: b.burner if b else "own")
def test_no_metric_is_left_on_the_page_of_an_example(name: str, burn: Burn | None) -> None:
    job = Job.read(ROOT / "examples" / name)
    used = burn or job.burn
    result = appraise(job.heap, used, TABLES, job.limits)
    theirs = written(job.heap) | (written(used) if used is not None else set())
    for full in (False, True):
        assert metric_in(page(result, units="us", full=full), theirs) == []
        assert metric_in(page(result, full=full), theirs), "in metric units there are some"


@pytest.mark.parametrize("name", panel())
def test_no_metric_is_left_on_the_page_of_a_panel_heap(name: str) -> None:
    heap, burn = panel()[name]
    result = appraised(TABLES)[name]
    assert isinstance(result, Appraisal)
    theirs = written(heap) | (written(burn) if burn is not None else set())
    for full in (False, True):
        assert metric_in(page(result, units="us", full=full), theirs) == []
    if result.burn is not None:
        assert metric_in(page(result.burn, units="us"), theirs) == []


def words_of(sheet: str) -> str:
    """What stands to read on a sheet, in its pictures too."""
    without = re.sub(r"<style.*?</style>|<!--.*?-->", "", sheet, flags=re.DOTALL)
    return html.unescape(re.sub(r"<[^>]+>", " ", without))


FIGURES = ("char_volume", "dry_mass", "lots[0].moisture", "lots[0].density", "lots[0].char_mass")
FIGURES_OF_BURN = ("burn.duration", "burn.quench_water", "burn.vessel_volume", "burn.hold_back")


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_metric_is_left_on_a_sheet_of_a_lot_and_in_why(name: str) -> None:
    job = Job.read(ROOT / "examples" / name)
    result = appraise(job.heap, job.burn, TABLES, job.limits)
    theirs = written(job.heap) | (written(job.burn) if job.burn is not None else set())
    assert metric_in(words_of(sheet(result, units="us")), theirs) == []
    assert metric_in(words_of(sheet(result)), theirs), "in metric units there are some"
    for lot in result.lots:
        assert metric_in(lot_page(lot, units="us"), theirs) == []
    for figure in (*FIGURES, *(FIGURES_OF_BURN if result.burn is not None else ())):
        text = page(result.explain(figure, TABLES), units="us")
        assert metric_in(text, theirs) == []


@pytest.mark.parametrize("burner", ["cone pit", "trench", "kettle"])
def test_no_metric_is_left_of_a_size(burner: str) -> None:
    heap = Heap(lots=[Lot(material="oak", mass="300 kg", moisture="15 % wet", origin="own trees")])
    sizing = size(heap, burner, 2, TABLES)
    assert metric_in(page(sizing, units="us"), {"300 kg"}) == []
    assert metric_in(page(sizing), {"300 kg"}), "in metric units there are some"


def oak() -> Heap:
    return Heap(lots=[Lot(material="oak", mass="60 kg", moisture="15 % wet", origin="own trees")])


@pytest.mark.parametrize("temperature", ["360 degC", "550 degC", "650 degC"])
def test_no_metric_is_left_in_what_comes_after(temperature: str) -> None:
    result = appraise(oak(), Burn(burner="kettle", temperature=temperature), TABLES)
    qualities = quality(result, ["rings", "nails"], TABLES)
    for soil in ("10 to 15 degC", "30 degC"):
        text = quality_text(qualities, carbon(result, soil, TABLES), "us")
        assert metric_in(text, {soil}) == []


@pytest.mark.parametrize("dressing", [None, "12 kg/m^2", "3 L/m^2", "5 %"])
@pytest.mark.parametrize("parts", [[("straw", "100 L"), ("grass", "100 L")], ["garden compost"]])
@pytest.mark.parametrize("fraction", [None, "55 %", "40 %"])
def test_no_metric_is_left_of_the_mix_and_the_beds(
    dressing: str | None, parts: list[Any], fraction: str | None
) -> None:
    mix = blend("60 L", parts, fraction, tables=TABLES)
    bed = beds("60 L", dressing, high_ash=True, tables=TABLES)
    assert metric_in(blend_text(mix, bed, "us"), {dressing or ""}) == []


def test_no_metric_is_left_of_what_was_learnt_and_gathered() -> None:
    records = BatchRecord.read(ROOT / "examples" / "records" / "batches.yaml")
    experience = learn(records, TABLES)
    assert experience.learned
    told = check(records, None, TABLES)
    assert metric_in(experience_text(experience, told, "us"), set()) == []
    for target in ("60 L", "8 kg", "5000 L"):
        taken = gather(target, oak(), BURNS[0], TABLES)
        assert metric_in(page(taken, units="us"), {target}) == []


def test_an_explanation_has_its_values_in_the_readers_units() -> None:
    result = appraise(oak(), BURNS[0], TABLES)
    for figure in ("char_volume", "lots[0].density", "burn.quench_water", "burn.duration"):
        text = page(result.explain(figure, TABLES), units="us", full=True)
        head, _, steps = text.partition("\nSteps\n")
        assert metric_in(head.partition("\n")[0], set()) == []
        # a formula and its source are quoted
        values = re.findall(r" = ([^:]*): ", " ".join(steps.split()))
        assert values
        assert [value for value in values if metric_in(value, set())] == []


@pytest.mark.parametrize("units", ["metric", "us"])
def test_both_units_say_the_same_verdicts(units: Units) -> None:
    job = Job.read(ROOT / "examples" / "shed_clearout.yaml")
    result = appraise(job.heap, job.burn, TABLES, job.limits)
    text = page(result, units=units, full=True)
    assert text.count("KEEP OUT") == page(result, full=True).count("KEEP OUT")


def test_what_is_no_result_has_no_page() -> None:
    with pytest.raises(TypeError, match="int"):
        page(3)
