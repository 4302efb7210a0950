"""Results are plain data: they can be written, read, hashed and pickled, and a verdict is believed
only as far as its findings go.
"""

from __future__ import annotations

import json
import pickle
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError

from builders import ROOT
from feedstock import (
    Appraisal,
    Burn,
    Heap,
    Job,
    Lot,
    Verdict,
    appraise,
    blend,
    gather,
    learn,
    load_tables,
)
from feedstock.char.carbon import carbon
from feedstock.char.quality import quality
from feedstock.compost.beds import beds
from feedstock.experience.check import check_burn as check
from feedstock.experience.records import BatchRecord
from feedstock.model.findings import Finding
from feedstock.quantities.data import Data
from feedstock.text import page
from feedstock.words import Message, Texts, register_language, say

pytestmark = pytest.mark.property

TABLES = load_tables(plugins=False)
OAK = Lot(material="oak", mass="60 kg", moisture="15 % wet", origin="own trees")
PIT = Burn(burner="cone pit", width="1 m", depth="0.5 m")


def shed() -> Appraisal:
    job = Job.read(ROOT / "examples" / "shed_clearout.yaml")
    return appraise(job.heap, job.burn, TABLES, job.limits)


def results() -> dict[str, BaseModel]:
    result = shed()
    records = BatchRecord.read(ROOT / "examples" / "records" / "batches.yaml")
    oak = appraise(Heap(lots=[OAK]), PIT, TABLES)
    assert result.burn is not None
    return {
        "heap": result.inputs.heap,
        "burn": PIT,
        "appraisal": result,
        "plan": result.burn,
        "gathering": gather("5000 L", Heap(lots=[OAK]), PIT, TABLES),
        "blend": blend("60 L", ["straw", "grass"], tables=TABLES),
        "beds": beds("60 L", tables=TABLES),
        "experience": learn(records, TABLES),
        "check": check(records, None, TABLES),
        "qualities": quality(oak, ["nails"], TABLES),
        "carbon": carbon(oak, tables=TABLES),
    }


RESULTS = results()
WRITTEN = {name: each for name, each in RESULTS.items() if name not in ("heap", "burn")}


@pytest.mark.parametrize("name", RESULTS)
def test_a_result_survives_json_pickle_and_a_hash(name: str) -> None:
    result = RESULTS[name]
    text = result.model_dump_json()
    assert type(result).model_validate_json(text) == result
    assert type(result).model_validate(json.loads(json.dumps(result.model_dump(mode="json")))) == (
        result
    )
    assert pickle.loads(pickle.dumps(result)) == result
    assert hash(result) == hash(type(result).model_validate_json(text))


@pytest.mark.parametrize("name", WRITTEN)
def test_a_field_of_a_later_version_is_left_out(name: str) -> None:
    data = json.loads(WRITTEN[name].model_dump_json())
    assert type(WRITTEN[name]).model_validate_json(json.dumps(later(data))) == WRITTEN[name]


def later(data: Any) -> Any:
    """Every mapping of a result with one more field, those of inputs and of free names apart."""
    if isinstance(data, list):
        return [later(each) for each in data]
    if not isinstance(data, dict) or "coverage" in data:
        return data
    free = ("heap", "burn", "by_verdict", "methods", "laboratory", "values", "texts")
    made = {key: each if key in free else later(each) for key, each in data.items()}
    return made if set(data) & {"unit", "texts"} else {**made, "of_a_later_version": 1}


@pytest.mark.parametrize("name", WRITTEN)
def test_a_result_holds_nothing_but_its_fields(name: str) -> None:
    result = WRITTEN[name]
    assert set(result.__dict__) == set(type(result).model_fields)
    assert not result.__pydantic_private__
    with pytest.raises(ValidationError):
        setattr(result, next(iter(type(result).model_fields)), None)


def same(one: Any, other: Any) -> bool:
    """Equal, and of one type down to the last number."""
    if type(one) is not type(other):
        return False
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, Data):
        return list(one.__dict__) == list(other.__dict__) and all(
            map(same, one.__dict__.values(), other.__dict__.values())
        )
    return bool(one == other)


HEAPS = [*(ROOT / "examples").glob("*.yaml"), *(ROOT / "tests" / "heaps").glob("*.yaml")]


def test_what_is_made_unchecked_is_what_checking_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every result that the library makes of its own values is made once more through its model,
    under tables that nothing has met before, so that nothing kept is taken.
    """
    made: list[str] = []
    unchecked = vars(Data)["_trusted"].__func__

    def both(cls: type[BaseModel], /, **given: Any) -> Any:
        one = unchecked(cls, **given)
        made.append(cls.__name__)
        assert same(one, cls(**given)), one
        return one

    monkeypatch.setattr(Data, "_trusted", classmethod(both))
    own = {"set": {"name": "own", "version": "1", "schema": "1"}}
    tables = load_tables(own, plugins=False)
    for path in HEAPS:
        job = Job.read(path)
        appraise(job.heap, job.burn or PIT, tables, job.limits)
    assert {"Appraisal", "LotAppraisal", "Finding", "Citation", "Caution", "Mixed"} <= set(made)
    with pytest.raises(TypeError, match="Finding is not made of"):
        unchecked(Finding, code="wet")
    with pytest.raises(TypeError, match="Finding is not made of"):
        unchecked(Finding, **RESULTS["appraisal"].lots[0].findings[0].__dict__, more=1)  # type: ignore[attr-defined]


def test_a_pickle_is_not_much_larger_than_the_json() -> None:
    result = RESULTS["appraisal"]
    assert len(pickle.dumps(result)) <= 1.5 * len(result.model_dump_json())


def edited(change: Any) -> dict[str, Any]:
    data: dict[str, Any] = json.loads(RESULTS["appraisal"].model_dump_json())
    change(data)
    return data


def test_a_verdict_is_worked_out_from_the_findings_and_not_read() -> None:
    before = RESULTS["appraisal"]
    assert isinstance(before, Appraisal)
    assert Verdict.KEEP_OUT in {lot.verdict for lot in before.lots}

    def all_ready(data: dict[str, Any]) -> None:
        data["verdict"] = data["verdict_mixed"] = data["mixed"]["verdict"] = "ready"
        for lot in data["lots"]:
            lot["verdict"] = "ready"

    read = Appraisal.model_validate(edited(all_ready))
    assert read == before
    assert [lot.verdict for lot in read.lots] == [lot.verdict for lot in before.lots]
    assert read.verdict is before.verdict is Verdict.KEEP_OUT
    assert read.verdict_mixed is before.verdict_mixed


def test_no_char_is_read_of_a_lot_that_its_findings_keep_out() -> None:
    def give_char(data: dict[str, Any]) -> None:
        lot = next(each for each in data["lots"] if each["char_mass"] is None)
        lot["char_mass"] = {"low": 1.0, "mid": 2.0, "high": 3.0, "unit": "kg"}

    assert Appraisal.model_validate(edited(give_char)) == RESULTS["appraisal"]


def test_totals_of_other_verdicts_are_refused() -> None:
    def move(data: dict[str, Any]) -> None:
        out = data["by_verdict"].pop("keep out")
        data["by_verdict"]["ready"] = out

    with pytest.raises(ValidationError, match="totals"):
        Appraisal.model_validate(edited(move))


def test_mappings_of_a_result_read_as_mappings_and_cannot_be_changed() -> None:
    result = RESULTS["appraisal"]
    assert isinstance(result, Appraisal)
    assert result.by_verdict[Verdict.KEEP_OUT].lots
    assert dict(result.by_verdict).keys() <= set(Verdict)
    with pytest.raises(TypeError):
        result.by_verdict[Verdict.READY] = None  # type: ignore[index]


def test_a_finding_says_what_its_code_and_values_say() -> None:
    """The texts in the JSON are for whoever reads it; a result makes them anew."""

    def other_words(data: dict[str, Any]) -> None:
        for lot in data["lots"]:
            for finding in lot["findings"]:
                finding["reason"] = finding["action"] = finding["settle"] = "all is well"

    read = Appraisal.model_validate(edited(other_words))
    assert read == RESULTS["appraisal"]
    assert "all is well" not in page(read)


def test_another_language_is_one_switch_for_code_and_tables() -> None:
    register_language(
        "yy",
        {
            "page.of-moisture": "  FEUCHTE    ",
            "verdict.READY": "BEREIT",
            "event.begin": "ANZUENDEN",
            "too-wet.reason": "{burner}: MEHR ALS {ready:.0f} %",
        },
    )
    own = {
        "set": {"name": "words", "version": "1", "schema": "1"},
        "cautions": {
            "two-languages": {
                "text": {"en": "Stand {2 m} off.", "yy": "ABSTAND {2 m}."},
                "when": {"always": "true"},
                "order": "1",
                "known": "practice",
            }
        },
    }
    tables = load_tables(own, plugins=False)
    wet = Lot(material="pine", mass="60 kg", moisture="30 % wet", origin="own trees")
    result = appraise(Heap(lots=[OAK, wet]), PIT, tables)
    english = page(result, full=True)
    other = page(result, units="us", language="yy", full=True)
    assert "Stand 2 m off." in english
    # 2 / 0.3048 = 6.56 ft
    assert "ABSTAND 6.6 ft." in other
    for word in ("FEUCHTE", "BEREIT", "ANZUENDEN", "MEHR ALS"):
        assert word in other
        assert word not in english
    # what that language does not have is said in English, in the same units
    # 15 / 3.785 = 3.96
    assert "of a hose at 3.96 US gal/min" in " ".join(other.split())
    caution = next(each for each in result.cautions if each.code == "two-languages")
    assert caution.text == "Stand 2 m off."
    assert say(caution.message, language="yy") == "ABSTAND 2 m."
    assert Appraisal.model_validate_json(result.model_dump_json()) == result


def test_every_sentence_of_a_result_is_known() -> None:
    from feedstock.words import known

    def messages(value: Any) -> list[Message]:
        if isinstance(value, Message):
            return [value, *(m for each in value.values.values() for m in messages(each))]
        if isinstance(value, BaseModel):
            return [m for name in type(value).model_fields for m in messages(getattr(value, name))]
        if isinstance(value, tuple):
            return [m for each in value for m in messages(each)]
        return []

    found = [m for result in WRITTEN.values() for m in messages(result)]
    assert len({m.code for m in found}) > 40
    assert [m for m in found if not known(m.code)] == []
    assert [m for m in found if not str(m) or "{" in str(m)] == []
    assert Texts("a") == {"en": "a"}
