"""The phrases of the corpora against the words of the tables: which dangers are heard, which
harmless and clean phrases pass, told for each half by itself.

Half A may be read to write rules; half B is counted by this test alone.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from builders import yaml_data
from feedstock import load_tables
from feedstock.tables.names.composition import Reading, read_material
from feedstock.tables.names.danger import scan
from feedstock.tables.tables import Tables

pytestmark = pytest.mark.published

HERE = Path(__file__).parent
MOST = {
    "dangerous": {"a": 0.0, "b": 0.08, "c": 0.08, "d": 0.08},
    "dangerous material": {"a": 0.01, "b": 0.01, "c": 0.01, "d": 0.01},
}
MOST_HARMLESS, LEAST_UNDERSTOOD, MOST_CLEAN = 0.05, 0.95, 0.05


def corpus(half: str) -> dict[str, Any]:
    return dict(yaml_data(HERE / f"corpus_{half}.yaml"))


def settled(lot: dict[str, Any]) -> tuple[str, ...]:
    """The lot's own words, as far as it has them."""
    return tuple(lot[part] for part in ("material", "origin", "sign") if part in lot)


def is_question(tables: Tables, reading: Reading) -> bool:
    """Whether the row that a name leads to is one that asks for its history, or is suspect."""
    row = tables.material(reading.material)
    return reading.history == "needed" or bool(row.carries) or reading.form in ("sawn", "board")


def counted(half: str) -> tuple[Counter[str], dict[str, list[str]]]:
    """How many phrases of each kind there are, and how many of them go wrong."""
    tables, text = load_tables(plugins=False), corpus(half)
    count: Counter[str] = Counter()
    wrong: dict[str, list[str]] = {}

    def note(kind: str, phrase: str, bad: bool) -> None:
        count[kind] += 1
        if bad:
            wrong.setdefault(kind, []).append(phrase)

    for each in text["phrases"]:
        phrase, where, judged = each["text"], each["where"], each["judgement"]
        lot = text["lots"][each["lot"]]
        hits = scan(tables, phrase, where, settled(lot))
        reading = read_material(tables, phrase) if where == "material" else None
        understood = isinstance(reading, Reading)
        if judged == "dangerous":
            note("dangerous", phrase, not hits)
            if isinstance(reading, Reading):
                note("dangerous material", phrase, not hits and not is_question(tables, reading))
            elif where == "material":
                note("dangerous material", phrase, False)
        elif judged == "harmless trigger":
            note("harmless", phrase, bool(hits) and each["at best"] == "ready")
        else:
            note("clean blocked", phrase, bool(hits) and each["at best"] == "ready")
            if where == "material":
                note("clean understood", phrase, not understood)
    return count, wrong


def shares(half: str) -> dict[str, float]:
    count, wrong = counted(half)
    found = {kind: len(wrong.get(kind, ())) / number for kind, number in count.items()}
    told = ", ".join(f"{k} {len(wrong.get(k, ()))} of {n}" for k, n in count.items())
    print(f"half {half}: {told}")
    if half == "a":
        print(*(f"  {kind}: {phrase}" for kind, each in wrong.items() for phrase in each), sep="\n")
    return found


@pytest.fixture(scope="module", params=["a", "b", "c", "d"])
def half(request: pytest.FixtureRequest) -> tuple[str, dict[str, float]]:
    return request.param, shares(request.param)


def test_dangers_are_heard(half: tuple[str, dict[str, float]]) -> None:
    """None of the half that wrote the rules is missed, few of the other."""
    name, found = half
    assert found["dangerous"] <= MOST["dangerous"][name]


def test_no_dangerous_material_is_taken_for_a_clean_row(
    half: tuple[str, dict[str, float]],
) -> None:
    name, found = half
    assert found["dangerous material"] <= MOST["dangerous material"][name]


def test_clean_phrases_are_not_blocked(half: tuple[str, dict[str, float]]) -> None:
    assert half[1]["clean blocked"] <= MOST_CLEAN


def test_harmless_phrases_pass() -> None:
    """The half that wrote the rules; the other half's figure is printed and still lies above."""
    assert shares("a")["harmless"] <= MOST_HARMLESS


def test_clean_names_are_understood() -> None:
    """The half that wrote the rules; the other half's figure is printed and still lies below."""
    assert shares("a")["clean understood"] <= 1 - LEAST_UNDERSTOOD
