"""Where the ends of a cell's interval come from, and the rules that make them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from ...errors import nearest_names, shown
from ...quantities.cell import BY_RULE, ENDS, UNSOURCED
from ...quantities.estimate import custom_error
from ...quantities.frozen import frozen

RULES = "rules"
"""Under which name the rules of all sets stand in the context of a row's reading."""


_NUMBER = re.compile(r"\s*([0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*(.*)", re.DOTALL)


@frozen
class Rule:
    """What the lowest and the highest value that were read are multiplied by."""

    below: float
    above: float


def ends_word(raw: Mapping[str, Any], known: str) -> str:
    """What a cell says of its ends; nothing said is a judgement, no interval is nothing.

    Ends that are read or derived need what they were read in.
    """
    stated = raw.get("ends")
    if stated is None:
        return "judgement" if raw.get("low") is not None else ""
    if not isinstance(stated, str) or not (
        stated in ENDS or (stated.startswith(BY_RULE) and stated[len(BY_RULE) :].strip())
    ):
        raise custom_error(
            "unknown-word",
            f"ends: '{shown(stated)}' does not say where the interval comes from",
            f"Write one of {', '.join(ENDS)}, or rule and the name of one.",
            nearest_names(str(stated), ENDS),
        )
    if stated in ENDS and raw.get("low") is None and raw.get("high") is None:
        raise custom_error(
            "missing-field",
            f"ends: {stated} speaks of an interval, and the cell has none",
            "Write low and high, or leave ends out.",
        )
    if stated in ("read", "derived") and known in UNSOURCED and not raw.get("source"):
        raise custom_error(
            "no-source",
            f"ends that are {stated} need a source and where they stand there",
            "Write source: and at:; or ends: judgement.",
        )
    return stated


def rule_of(ends: str, raw: Mapping[str, Any], rules: Mapping[str, Rule]) -> Rule | None:
    """The rule that a cell names, if it names one."""
    if not ends.startswith(BY_RULE):
        return None
    name = ends[len(BY_RULE) :].strip()
    if name not in rules:
        raise custom_error(
            "unknown-name",
            f"there is no rule '{shown(name)}' for the ends of an interval",
            "Name a method of kind interval-rule.",
            nearest_names(name, list(rules)),
        )
    if raw.get("covers") is not None:
        raise custom_error(
            "unknown-field",
            "covers has no meaning where a rule makes the ends",
            "Leave covers out, or write low and high and say where they come from.",
        )
    return rules[name]


def times(text: Any, factor: float) -> str:
    """A quantity as text times a factor, in its own unit, to four digits.

    >>> times("560 kg/m^3", 0.88)
    '492.8 kg/m^3'
    """
    match = _NUMBER.fullmatch(str(text))
    if match is None:
        raise custom_error(
            "not-a-quantity",
            f"a rule cannot make ends from '{shown(text)}'",
            "Write a plain number and its unit.",
        )
    return f"{float(match[1]) * factor:.4g} {match[2]}".rstrip()
