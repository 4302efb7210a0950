"""What a set may change of another's gates: what must be declared, and which `tightens` is seen to
loosen without an appraisal.

The expectations are judgements made beforehand: what lets a lot pass that would not have passed, or
takes away what keeps a person from harm, loosens.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from typing import Any

import pytest

from builders import own_set, reference_set
from feedstock import TableError, load_tables

pytestmark = pytest.mark.property

Change = dict[str, Any]


Case = tuple[str, str, Change]


def amended(kind: str, row: str, change: Change, word: str = "amend") -> set[str]:
    """The codes of what is wrong with a change; none where it loads."""
    [found] = all_amended([(kind, row, change)], word)
    return found


def all_amended(cases: Sequence[Case], word: str = "amend") -> list[set[str]]:
    """The codes of what is wrong with each of these changes, as many of them in one set as change
    different rows.
    """
    found: list[set[str]] = [set() for _ in cases]
    left = list(range(len(cases)))
    while left:
        chosen = {cases[number][:2]: number for number in reversed(left)}
        left = [number for number in left if number not in chosen.values()]
        rows: dict[str, dict[str, Change]] = {}
        for (kind, row), number in chosen.items():
            rows.setdefault(kind, {})[row] = cases[number][2]
        try:
            load_tables({**own_set(), word: rows}, plugins=False)
        except TableError as why:
            for problem in why.problems:
                assert problem.field and problem.expected
                [number] = (
                    number
                    for (kind, row), number in chosen.items()
                    if f"{problem.field}.".startswith(f"{word}.{kind}.{row}.")
                )
                found[number].add(problem.code)
    return found


GATE_DATA: list[tuple[str, str, Change]] = [
    ("cautions", "permit", {"text": "Get a permit if you like."}),
    ("cautions", "permit", {"when": {"burners": ["retort"]}}),
    ("cautions", "permit", {"order": "99"}),
    ("origins", "roadside", {"known_history": "true"}),
    ("origins", "roadside", {"meaning": "From somewhere."}),
    ("signs", "painted", {"names": {"en": ["brightly coloured"]}}),
    ("signs", "painted", {"names": {"remove": ["painted"]}}),
    ("contaminants", "paint", {"names": {"en": ["colour"]}}),
    ("materials", "oak", {"names": {"en": ["oak tree"]}}),
    ("materials", "oak", {"names": {"remove": ["oak"]}}),
    ("materials", "oak", {"traits": ["none"]}),
    ("materials", "pine", {"traits": {"remove": ["resinous"]}}),
    ("limits", "swiss-ontario", {"default": "false"}),
    ("methods", "hedging-words", {"words": {"en": ["but"]}}),
    ("methods", "denying-words", {"between": {"en": ["over"]}}),
    ("methods", "place-phrases", {"articles": {"en": ["old"]}}),
    ("methods", "removal-words", {"words": {"en": ["seen"]}}),
    ("methods", "weak-marks", {"homonyms": {"en": []}}),
    ("methods", "plant-forms", {"of": {}}),
    ("methods", "defaults", {"burner": "retort"}),
]


def test_a_change_of_a_gate_says_its_direction() -> None:
    said = [(kind, row, {**more, "loosens": {"reason": "a test"}}) for kind, row, more in GATE_DATA]
    unsaid = zip(GATE_DATA, all_amended(GATE_DATA), strict=True)
    assert [case for case, codes in unsaid if "undeclared-gate" not in codes] == []
    declared = zip(said, all_amended(said), strict=True)
    assert [case for case, codes in declared if "undeclared-gate" in codes] == []


def held(kind: str, row: str, field: str) -> Any:
    """A field of a row of the reference as it stands in its file."""
    return deepcopy(reference_set().rows[kind][row].data[field])


def ruled(row: str, number: int, **parts: Any) -> Change:
    """The rules of a suspicion, one of them with other parts; an empty one with none of them."""
    rules = [dict(rule) for rule in held("contaminants", row, "raised_by")]
    rules[number] = {**rules[number], **parts}
    return {"raised_by": rules}


def without(kind: str, row: str, field: str, *path: str) -> Change:
    """A field with the last of the words at a path left out."""
    whole = deepcopy(held(kind, row, field))
    inner = whole
    for part in path[:-1]:
        inner = inner[part]
    if path:
        inner[path[-1]] = inner[path[-1]][:-1]
    else:
        whole = whole[:-1]
    return {field: whole}


def numbered(kind: str, row: str, field: str, value: str, *path: str) -> Change:
    """A field with the number at a path changed."""
    whole = deepcopy(held(kind, row, field))
    inner = whole
    for part in path:
        inner = inner[part]
    inner["value"] = value
    for end in ("low", "high"):
        inner.pop(end, None)
    return {field: whole}


LOOSENING: list[tuple[str, str, Change]] = [
    ("contaminants", "coating", {"permits": "ready"}),
    ("contaminants", "building-site", ruled("building-site", -1, permits="check first")),
    ("contaminants", "building-site", {"raised_by": [{"origins": ["building-site"]}]}),
    ("contaminants", "building-site", ruled("building-site", 0, before="1900")),
    ("contaminants", "building-site", ruled("building-site", 0, after="2030")),
    ("contaminants", "building-site", ruled("building-site", 0, regions=["NZ"])),
    ("contaminants", "building-site", ruled("building-site", 0, signs=["painted"])),
    ("contaminants", "building-site", ruled("building-site", 0, materials=["oak"])),
    ("contaminants", "building-site", ruled("building-site", 0, classes=["straw"])),
    ("contaminants", "building-site", ruled("building-site", 0, forms=["board"])),
    ("contaminants", "building-site", ruled("building-site", 0, traits=["sparks"])),
    ("contaminants", "building-site", ruled("building-site", 0, history="needed")),
    ("contaminants", "building-site", ruled("building-site", 0, words=["joist"])),
    ("contaminants", "building-site", ruled("building-site", -1, origins=["deck"])),
    ("contaminants", "building-site", ruled("building-site", -1, not_origins=["deck"])),
    ("contaminants", "building-site", {"axis": "handling"}),
    ("contaminants", "paint", {"names": {"remove": ["paint"]}}),
    ("clears", "plain-feed", without("clears", "plain-feed", "when", "signs")),
    ("clears", "heat-treated-pallet", without("clears", "heat-treated-pallet", "when", "signs")),
    ("clears", "heat-treated-pallet", without("clears", "heat-treated-pallet", "unless", "signs")),
    ("clears", "bare-workshop-offcuts", {"when": {"signs": ["bare-wood"]}}),
    ("clears", "plain-feed", {"hypothesis": "paint"}),
    ("signs", "bare-wood", without("signs", "bare-wood", "excludes")),
    ("signs", "painted", {"names": {"remove": ["painted"]}}),
    ("origins", "roadside", {"known_history": "true"}),
    ("origins", "roadside", {"names": {"en": ["by the way"]}}),
    ("materials", "plywood", {"carries": []}),
    ("materials", "wheat-straw", {"history": "not needed"}),
    ("materials", "sawn-offcuts", {"form": "round"}),
    ("materials", "wheat-straw", {"class": "hardwood"}),
    ("materials", "plywood", {"like": "oak"}),
    ("materials", "willow", {"accumulates": []}),
    ("limits", "ebc-agro", numbered("limits", "ebc-agro", "elements", "900 mg/kg", "Zn")),
    ("limits", "ebc-agro", numbered("limits", "ebc-agro", "elements", "0.04 %", "Zn")),
    ("limits", "ebc-agro", {"elements": {}}),
    ("limits", "swiss-ontario", {"default": "false"}),
    ("limits", "eu-organic-compost", {"default": "true"}),
    ("scales", "gate", {"points": [{"at": "0", "score": "100"}]}),
    ("scales", "gate", {"weight": "0.1"}),
    ("cautions", "permit", {"text": "Get a permit if you like."}),
    ("cautions", "permit", {"when": {"burners": ["retort"]}}),
    ("methods", "hedging-words", {"words": {"en": ["but"]}}),
    ("methods", "denying-words", {"between": {"en": ["over"]}}),
    ("burners", "pit", numbered("burners", "pit", "moisture_refused", "60 % wet")),
]


def tightening(cases: Sequence[Case]) -> list[Case]:
    return [(kind, row, {**change, "tightens": "true"}) for kind, row, change in cases]


def test_what_is_seen_to_loosen_cannot_say_that_it_tightens() -> None:
    found = zip(LOOSENING, all_amended(tightening(LOOSENING)), strict=True)
    assert [case for case, codes in found if "not-tightened" not in codes] == []


TIGHTENING: list[tuple[str, str, Change]] = [
    ("contaminants", "building-site", {"permits": "keep out"}),
    (
        "contaminants",
        "building-site",
        {"raised_by": [*held("contaminants", "building-site", "raised_by"), {"origins": ["deck"]}]},
    ),
    ("clears", "plain-feed", {"when": {"signs": ["no-feed-additives", "not-sprayed-two-seasons"]}}),
    ("signs", "bare-wood", {"excludes": {"add": ["soil-on-it"]}}),
    ("materials", "oak", {"carries": ["coating"], "history": "needed"}),
    ("limits", "ebc-agro", numbered("limits", "ebc-agro", "elements", "300 mg/kg", "Zn")),
    ("burners", "pit", numbered("burners", "pit", "moisture_refused", "25 % wet")),
    ("cautions", "sparks", {"when": {"always": "true"}}),
]


def test_what_tightens_may_say_so() -> None:
    assert all_amended(tightening(TIGHTENING)) == [set() for _ in TIGHTENING]


def test_a_row_that_is_replaced_loses_what_is_not_said_again() -> None:
    row = {"names": {"en": ["coating"]}, "reason": "x", "action": "y", "permits": "keep out"}
    told = {**row, "known": "judgement", "note": "z", "tightens": "true"}
    assert "not-tightened" in amended("contaminants", "coating", told, "replace")
