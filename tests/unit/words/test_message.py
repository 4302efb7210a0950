"""A message is data; a language and a system of units say it."""

from __future__ import annotations

import json
import pickle

import pytest
from pydantic import BaseModel, ValidationError

from feedstock.quantities.estimate import Estimate
from feedstock.quantities.format import Wording
from feedstock.words import Message, Quantity, Texts, register_language, say

pytestmark = pytest.mark.worked


class Holder(BaseModel):
    message: Message


WHOLE = Message(
    "text",
    text=Texts("at least {3 m} of {what}", de="mindestens {3 m} {what}"),
    what=Message(
        "unheard-of",
        parts=("sand", 2.5, Quantity(3.0, "kg")),
        volume=Estimate(3.0, 7.0, 15.0, "L"),
        count=4,
    ),
)


def test_json_carries_code_values_and_text_and_reads_back_without_the_text() -> None:
    written = Holder(message=WHOLE).model_dump_json()
    data = json.loads(written)
    assert set(data["message"]) == {"code", "values", "text"}
    assert data["message"]["text"] == str(WHOLE)
    data["message"]["text"] = "something else"
    data["message"]["later"] = 1
    read = Holder.model_validate_json(json.dumps(data))
    assert read == Holder(message=WHOLE)
    assert str(read.message) == str(WHOLE)


def test_a_message_is_frozen_hashable_and_picklable() -> None:
    assert pickle.loads(pickle.dumps(WHOLE)) == WHOLE
    assert len({WHOLE, pickle.loads(pickle.dumps(WHOLE))}) == 1
    with pytest.raises(AttributeError):
        WHOLE.code = "other"
    assert Message("text", text=Texts("at least {3 m}")) != WHOLE


def test_an_unknown_code_is_told_with_its_values() -> None:
    assert str(Message("from-later", mass=Quantity(2.0, "kg"))) == "from later: mass 2 kg"


@pytest.mark.parametrize(
    ("written", "metric", "us"),
    [
        # 3 / 0.3048 = 9.84 ft; one digit as it was written
        ("{3 m}", "3 m", "10 ft"),
        # 25 / 0.3048 = 82.02 ft
        ("{25 m}", "25 m", "82 ft"),
        # 10 / 2.54 = 3.94 in
        ("{10 cm}", "10 cm", "4 in"),
        # 1.8 x 105 + 32 = 221
        ("{105 degC}", "105 degC", "221 degF"),
        # 1.8 x 350 + 32 = 662, a round number stays one
        ("{350 degC}", "350 degC", "660 degF"),
        # 20 / 3.785 = 5.28, one digit would be 5 % off
        ("{20 L}", "20 L", "5.3 US gal"),
        ("{20 to 30 cm}", "20 to 30 cm", "8 to 12 in"),
        ("{3 apples}", "{3 apples}", "{3 apples}"),
    ],
)
def test_a_quantity_in_braces_is_in_the_readers_units(written: str, metric: str, us: str) -> None:
    assert say(Texts(written)) == metric
    assert say(Texts(written), "us") == us


@pytest.mark.parametrize(
    ("quantity", "us"),
    [
        (Quantity(1.0, "kg"), "2.2 lb"),
        (Quantity(1.0, "L"), "0.26 US gal"),
        (Quantity(1.0, "m"), "3.3 ft"),
        (Quantity(25.4, "mm"), "1 in"),
        (Quantity(1.0, "m^2"), "11 ft^2"),
        (Quantity(15.0, "L/min"), "4 US gal/min"),
        (Quantity(100.0, "degC"), "210 degF"),
        (Quantity(500.0, "kg/m^3"), "31 lb/ft^3"),
        # 2.2046 lb / 10.764 ft^2
        (Quantity(1.0, "kg/m^2"), "0.2 lb/ft^2"),
        (Quantity(1.0, "kg/m^2/min"), "0.2 lb/ft2 min"),
        # 0.26417 gal / 10.764 ft^2
        (Quantity(1.0, "L/m^2"), "0.025 US gal/ft^2"),
        (Quantity(5.0, "min"), "5 min"),
        (Quantity(5.0, "%"), "5 %"),
    ],
)
def test_every_kind_of_quantity_has_us_units(quantity: Quantity, us: str) -> None:
    from feedstock.words import Reader

    assert Reader("us").word(quantity, ".2g") == us


def test_another_language_says_what_it_knows_and_the_rest_in_english() -> None:
    register_language(
        "xx",
        {"unheard-of": lambda said: f"{said('parts')} = {said('volume')}"},
        Wording(
            between="{low} .. {high} {unit} (~{mid})",
            both="{first} ET {last}",
            units={"L": "LITRA"},
        ),
    )
    heard = WHOLE.values["what"]
    assert say(heard, language="xx") == "sand, 2.5 ET 3 kg = 3 .. 15 LITRA (~7)"
    # the text of the row is not there in that language
    assert say(WHOLE, language="xx").startswith("at least 3 m of sand")
    assert say(WHOLE, "us", "de").startswith("mindestens 10 ft ")
    with pytest.raises(ValueError, match="English"):
        register_language("en", {})


@pytest.mark.parametrize(
    "data",
    [
        {"message": "words"},
        {"message": {"values": {}}},
        {"message": {"code": "text", "values": {"mass": {"value": 3, "unit": "9**9"}}}},
        {"message": {"code": "text", "values": {"mass": {"value": "x", "unit": "kg"}}}},
        {"message": {"code": "text", "values": {"mass": {"low": 3, "mid": 1, "high": 2}}}},
    ],
)
def test_what_is_no_message_is_refused(data: object) -> None:
    with pytest.raises(ValidationError):
        Holder.model_validate_json(json.dumps(data))


def test_a_text_cannot_reach_into_a_value() -> None:
    """Texts come from tables: a name in braces is a named value and nothing of Python's."""
    sly = Message("text", text=Texts("{mass.__class__} {mass[0]} {0} {mass}"), mass="little")
    assert str(sly) == "{mass.__class__} {mass[0]} {0} little"
