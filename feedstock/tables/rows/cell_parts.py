"""The parts of a cell and what each means."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...quantities.estimate import custom_error

CELL_PARTS = {
    "value": "The number with its unit; of a moisture its basis too (`22 % wet`).",
    "low": "The lower end of its interval, in a unit of the same kind.",
    "high": "The upper end of its interval, in a unit of the same kind.",
    "source": "The key of the source, or a list of keys; needed unless practice or judgement.",
    "at": "Where in the source it stands: table, page, section; what is remembered says "
    "`from memory`.",
    "known": "How it is known; `read` where it is left out. `derived` says in the note how, "
    "`practice` and `judgement` why.",
    "covers": "What lies between low and high: `p90`, the middle nine tenths, where it is left "
    "out; `sd`, one standard deviation each way.",
    "ends": "Where low and high come from: `judgement` where it is left out; `rule NAME` makes "
    "them from the value.",
    "basis": "What the number is counted on, where its unit does not tell (`dry feed`).",
    "note": "How a derived value was made; why a judgement is what it is.",
    "n": "How many sources or samples a range is of; of fewer than five it is widened by half.",
}


def by_key(raw: Any) -> Any:
    """Refuse a cell where a cell for each key is wanted, once for all its parts."""
    if isinstance(raw, Mapping) and "value" in raw and set(raw) <= set(CELL_PARTS):
        what = "a cell stands here, where one for each key is wanted"
        raise custom_error("not-by-key", what, "Write {loose: {value: ..., low: ..., high: ...}}.")
    return raw
