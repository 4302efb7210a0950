"""No set without `loosens` lowers a verdict: random rows and random changes of gates, declared to
tighten or not at all, either do not load or leave every lot as strict as it was.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alike import same_tables
from builders import own_set, reference_set, tables
from feedstock import Heap, Lot, TableError, Tables, load_tables
from feedstock.contrib.subjects import subjects
from feedstock.model.findings import Verdict
from feedstock.pipeline import verdicts
from feedstock.tables.loading.build import build
from feedstock.tables.loading.kept import kept_reference
from feedstock.tables.loading.over import Elsewhere, laid_over
from feedstock.tables.loading.reader import read_set
from feedstock.tables.loading.source import TableSource
from strategies import examples

pytestmark = pytest.mark.property

Change = dict[str, Any]
SAID = {"known": "judgement", "note": "for the test"}
DENSITY = {"value": "600 kg/m^3", "low": "500 kg/m^3", "high": "700 kg/m^3", **SAID}
_CLEAN = "oak apple branches old rotten wood bark own trees straw zelk zelkwood"
_HEARD = "fence posts deck boards paint painted creosote treated diesel tar rail ties chip board"
WORDS = (*_CLEAN.split(), *_HEARD.split(), "untreated", "bare", "mark", "ht")
SPOKEN = (
    ("oak", "cut from an old fence"),
    ("oak", "painted, smells of diesel"),
    ("fence posts", ""),
    ("old deck boards", ""),
    ("apple wood", ""),
    ("rotten beech log", ""),
    ("hardwood", "beside the rail ties"),
)


@cache
def lots() -> tuple[Lot, ...]:
    """The panel, and lots that say more than their fields."""
    made = [lot for heap, burn in subjects(tables()).values() for lot in heap.lots if not burn]
    said = {"mass": "10 kg", "moisture": "12 % wet", "origin": "own trees"}
    texts = [
        Lot(material=material, name=f"{material} {at}", remarks=remarks or None, **said)  # type: ignore[arg-type]
        for at, (material, remarks) in enumerate(SPOKEN)
    ]
    return (*made, *texts)


def judged(held: Tables, chosen: Sequence[Lot]) -> list[Verdict | str]:
    named = [lot.model_copy(update={"name": f"{at} {lot.name}"}) for at, lot in enumerate(chosen)]
    return verdicts(Heap(lots=named), None, held)


words = st.lists(st.sampled_from(WORDS), min_size=1, max_size=3).map(" ".join)
declared = st.sampled_from([{}, {"tightens": "true"}])


@st.composite
def new_rows(draw: st.DrawFn) -> Change:
    """Rows of any kind that a person writes by, under names of known, dangerous and new words."""
    name, other = draw(words), draw(words)
    names = {"en": list(dict.fromkeys((name, other)))}
    key = name.replace(" ", "-")
    kind = draw(st.sampled_from(["materials", "signs", "origins", "contaminants"]))
    if kind == "materials":
        like = draw(st.sampled_from(["hardwood", "oak", "wheat-straw"]))
        return {kind: {key: {"names": names, "like": like, "basic_density": DENSITY}}}
    if kind == "contaminants":
        texts = {"reason": "r", "action": "a", "permits": draw(st.sampled_from(PERMITS))}
        clears = {"hypothesis": key, "when": {"signs": ["bare-wood"]}, "reason": "r", **SAID}
        rows = {"names": names, **texts, **SAID, "raised_by": [{"signs": ["bare-wood"]}]}
        return {kind: {key: rows}, "clears": {key: clears}}
    row: Change = {"names": names, "meaning": "for the test", **SAID}
    if kind == "origins" and draw(st.booleans()):
        row["known_history"] = "true"
    return {kind: {key: row}}


PERMITS = ("ready", "dry first", "check first", "keep out")


def _rules(draw: st.DrawFn, rules: list[Change]) -> list[Change]:
    rules = deepcopy(rules)
    at = draw(st.integers(0, len(rules) - 1))
    how = draw(st.sampled_from(["drop", "narrow", "widen", "permit"]))
    if how == "drop":
        del rules[at]
    elif how == "narrow":
        parts: list[Change] = [
            {"before": "1900"},
            {"after": "2020"},
            {"regions": ["NZ"]},
            {"signs": ["painted"]},
            {"origins": ["deck"]},
            {"forms": ["board"]},
        ]
        rules[at] = {**rules[at], **draw(st.sampled_from(parts))}
    elif how == "widen" and len(rules[at]) > 1:
        del rules[at][draw(st.sampled_from(sorted(rules[at])))]
    else:
        rules[at] = {**rules[at], "permits": draw(st.sampled_from(PERMITS))}
    return rules


@st.composite
def changes(draw: st.DrawFn) -> Change:
    """A gate of the reference changed somehow."""
    kind = draw(
        st.sampled_from(["contaminants", "clears", "signs", "origins", "materials", "limits"])
    )
    rows = reference_set().rows[kind]
    key = draw(st.sampled_from(sorted(rows)))
    data, change = rows[key].data, draw(declared)
    if kind == "contaminants":
        if data.get("raised_by") and draw(st.booleans()):
            field: Change = {"raised_by": _rules(draw, data["raised_by"])}
        else:
            field = {"permits": draw(st.sampled_from(PERMITS))}
    elif kind == "clears":
        part = draw(st.sampled_from([name for name in ("when", "unless") if name in data]))
        held = list(data[part].get("signs", ()))
        kept = (
            held[1:] if draw(st.booleans()) else [*held, draw(st.sampled_from(["salt", "spill"]))]
        )
        field = {part: {**data[part], "signs": kept}}
    elif kind == "limits":
        factor = draw(st.sampled_from([0.5, 2.0]))
        field = {
            "elements": {
                symbol: {"value": f"{factor * float(number)} {unit}", **SAID}
                for symbol, cell in data["elements"].items()
                for number, unit in [cell["value"].split(" ", 1)]
            }
        }
    elif kind == "materials":
        field = draw(
            st.sampled_from(
                [
                    {"carries": []},
                    {"carries": ["paint"]},
                    {"form": "round"},
                    {"form": "sawn"},
                    {"class": "hardwood"},
                    {"history": "not needed"},
                    {"accumulates": []},
                    {"elements": {}},
                    {"like": "oak"},
                ]
            )
        )
    else:
        field = {"excludes": []} if kind == "signs" else {"known_history": "true"}
    if draw(st.booleans()):
        field = {"names": {"add": [draw(words)]}}
    return {"amend": {kind: {key: {**field, **change}}}}


@examples(0.3)
@given(
    contents=st.one_of(new_rows(), changes()),
    chosen=st.lists(st.sampled_from(range(10**6)), min_size=25, max_size=25),
)
def test_no_set_without_loosens_lowers_a_verdict(contents: Change, chosen: list[int]) -> None:
    try:
        held = load_tables(own_set(**contents), plugins=False)
    except TableError:
        return
    every = lots()
    some = [*(every[number % len(every)] for number in chosen), *every[-len(SPOKEN) :]]
    for lot, was, now in zip(some, judged(tables(), some), judged(held, some), strict=True):
        if isinstance(was, Verdict):
            assert isinstance(now, Verdict), (lot, now)
            assert now.position >= was.position, (lot, str(was), str(now))
        else:
            # what was not understood is not made ready of known words
            assert now != Verdict.READY or "zelk" in str(contents), lot


@pytest.mark.deep
@examples(1)
@given(contents=st.one_of(new_rows(), changes()), more=st.none() | new_rows())
def test_what_is_laid_over_the_kept_reference_is_as_over_its_files(
    contents: Change, more: Change | None
) -> None:
    given_sets = [own_set(**contents)] + ([own_set("second", **more)] if more else [])
    sets = [read_set(TableSource.of(each)) for each in given_sets]
    base = tables() and kept_reference()
    assert base is not None
    try:
        over = laid_over(base, sets)
    except Elsewhere:
        return
    same_tables(over, build([reference_set(), *sets]))
