"""Changes that say `tightens` and can be seen to loosen, without appraising anything.

Everything here works on text rows as they stand before and after a change. What cannot be seen here
is left to the panel of heaps.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from ...documents.positions import Path_
from ..names.index import folded
from .gate_data import LIMIT_METHODS
from .raw import RawRow

Seen = Iterator[tuple[Path_, str]]
Row = Mapping[str, Any]
Inherited = Callable[[RawRow, str], Any]

PERMITS = ("ready", "dry first", "check first", "keep out")
_ANY_OF = (
    "origins",
    "materials",
    "classes",
    "forms",
    "traits",
    "regions",
    "vessel",
    "ground",
    "lighting",
    "words",
)
_TEXTS = frozenset({"names", "note", "source", "at", "known", "reason", "title"})
_NUMBER = re.compile(r"\s*([+-]?[0-9.]+(?:[eE][+-]?[0-9]+)?)\s*(.*?)\s*")
_WORKED_FORMS = frozenset({"sawn", "board", "loose"})
_GROWN_FORMS = frozenset({"round", "brush"})
_ASKED_CLASSES = frozenset({"straw", "manure", "bark", "board", "paper"})


def seen_to_loosen(before: RawRow, after: RawRow, inherited: Inherited) -> Seen:
    """Every part of a changed row that makes a gate easier to pass, with what it does.

    `inherited` gives a field of a material with what comes through `like`.
    """
    old, new = before.data, after.data
    if before.kind == "materials":
        yield from _material(before, after, inherited)
    elif before.kind == "methods":
        yield from _method(old, new)
    elif before.kind in _LOOKS:
        yield from _LOOKS[before.kind](old, new)


def words_in(value: Any) -> list[str]:
    """A field that is one word, a list of words, or nothing."""
    if isinstance(value, str):
        return [value]
    return [word for word in value if isinstance(word, str)] if isinstance(value, list) else []


def _folds(value: Any) -> set[str]:
    return {folded(word) for word in words_in(value)}


def _part(value: Any) -> Row:
    return value if isinstance(value, dict) else {}


def _true(value: Any) -> bool:
    return str(value).lower() in ("true", "yes")


def _lost_names(old: Row, new: Row) -> Seen:
    before, after = (
        {folded(name) for names in _part(row.get("names")).values() for name in words_in(names)}
        for row in (old, new)
    )
    if not before <= after:
        yield ("names",), f"it takes the name '{sorted(before - after)[0]}' away"


def _lost(old: Row, new: Row, name: str, what: str) -> Seen:
    gone = _folds(old.get(name)) - _folds(new.get(name))
    if gone:
        yield (name,), f"it takes '{sorted(gone)[0]}' out of {what}"


# --- hypotheses and what clears them --------------------------------------------------------------


def _position(permits: Any) -> int:
    return PERMITS.index(permits) if permits in PERMITS else len(PERMITS)


def asks_no_more(wide: Row, narrow: Row, any_sign: bool = False) -> bool:
    """Whether a condition holds wherever another holds: no part is added, and none is narrower.

    All `signs` must be present; with `any_sign` one is enough.
    """
    for name in _ANY_OF:
        asked, given = _folds(wide.get(name)), _folds(narrow.get(name))
        if asked and (not given or not given <= asked):
            return False
    asked, given = _folds(wide.get("signs")), _folds(narrow.get("signs"))
    if any_sign:
        if asked and (not given or not given <= asked):
            return False
    elif not asked <= given:
        return False
    if not _folds(wide.get("not_origins")) <= _folds(narrow.get("not_origins")):
        return False
    if wide.get("history") is not None and wide.get("history") != narrow.get("history"):
        return False
    return _year_within(wide, narrow, "before", 1) and _year_within(wide, narrow, "after", -1)


def _year_within(wide: Row, narrow: Row, name: str, sign: int) -> bool:
    if wide.get(name) is None:
        return True
    try:
        return sign * int(wide[name]) >= sign * int(narrow[name])
    except (KeyError, TypeError, ValueError):
        return False


def _contaminant(old: Row, new: Row) -> Seen:
    yield from _lost_names(old, new)
    if _position(new.get("permits")) < _position(old.get("permits")):
        yield ("permits",), f"it permits '{new.get('permits')}' where '{old.get('permits')}' stood"
    axes = [row.get("axis", "contamination") for row in (old, new)]
    if axes[0] == "contamination" != axes[1]:
        yield ("axis",), "it makes a suspicion of contamination one of handling"
    rules = [_part(rule) for rule in new.get("raised_by") or () if isinstance(rule, dict)]
    for rule in old.get("raised_by") or ():
        wanted = _position(_part(rule).get("permits", old.get("permits")))
        if not any(
            asks_no_more(other, _part(rule))
            and _position(other.get("permits", new.get("permits"))) >= wanted
            for other in rules
        ):
            yield ("raised_by",), f"it takes away, narrows or softens the rule {_rule_text(rule)}"
    for symbol, added in _part(old.get("element_content")).items():
        yield from _content(symbol, _part(added), _part(new.get("element_content")).get(symbol))
    if _true(old.get("background_decides")) and not _true(new.get("background_decides")):
        yield ("background_decides",), "it lets the background decide no longer"


def _rule_text(rule: Any) -> str:
    parts = [
        f"{name}: {', '.join(words_in(value)) or value}"
        for name, value in _part(rule).items()
        if name not in ("reason", "action")
    ]
    return f"'{'; '.join(parts)}'"


def _content(symbol: str, old: Row, new: Any) -> Seen:
    place = ("element_content", symbol)
    if not isinstance(new, dict):
        yield place, f"it takes away how much {symbol} that brings"
    elif any(old.get(name) != new.get(name) for name in ("by", "of", "use")):
        yield place, f"it takes {symbol} from elsewhere"
    elif _lower(old.get("content"), new.get("content")):
        yield (*place, "content"), f"it lowers what that brings of {symbol}"


def _clears(old: Row, new: Row) -> Seen:
    if old.get("hypothesis") != new.get("hypothesis"):
        yield ("hypothesis",), "it lets this evidence clear another suspicion"
    if not asks_no_more(_part(old.get("when")), _part(new.get("when"))):
        yield ("when",), "it asks for less evidence"
    doubt = old.get("unless")
    if isinstance(doubt, dict) and (
        not isinstance(new.get("unless"), dict)
        or not asks_no_more(_part(new.get("unless")), doubt, any_sign=True)
    ):
        yield ("unless",), "it takes away what keeps the suspicion alive"


def _sign(old: Row, new: Row) -> Seen:
    yield from _lost_names(old, new)
    yield from _lost(old, new, "excludes", "what it excludes")
    if old.get("warns_of") != new.get("warns_of"):
        yield ("warns_of",), "it changes what the sign warns of"
    if _true(new.get("weak")) and not _true(old.get("weak")):
        yield ("weak",), "it makes the sign weak"


def _origin(old: Row, new: Row) -> Seen:
    yield from _lost_names(old, new)
    histories = [_true(row.get("known_history", "true")) for row in (old, new)]
    if histories == [False, True]:
        yield ("known_history",), "it calls the history of that origin known"


# --- materials, limits, burners, methods, cautions ------------------------------------------------


def _material(before: RawRow, after: RawRow, inherited: Inherited) -> Seen:
    old, new = (
        {
            name: inherited(row, name)
            for name in ("class", "form", "history", "carries", "accumulates", "elements")
        }
        for row in (before, after)
    )
    if old["carries"] or old["form"] == "board":
        yield from _lost_names(before.data, after.data)
    yield from _lost(old, new, "carries", "what it carries")
    yield from _lost(old, new, "accumulates", "what it gathers")
    if old["history"] == "needed" != new["history"]:
        yield ("history",), "it needs no history any more"
    if old["form"] in _WORKED_FORMS and new["form"] in (*_GROWN_FORMS, None):
        yield ("form",), f"it makes worked matter ({old['form']}) {new['form'] or 'of no form'}"
    if old["class"] in _ASKED_CLASSES and new["class"] not in _ASKED_CLASSES:
        yield ("class",), f"it takes it out of the class {old['class']}"
    if before.data.get("like") != after.data.get("like"):
        yield ("like",), "it makes it like another row"
    contents = _part(new["elements"])
    for symbol, cell in _part(old["elements"]).items():
        if _lower(cell, contents.get(symbol)):
            yield ("elements", symbol), f"it lowers {symbol}"


def _limits(old: Row, new: Row) -> Seen:
    limits = _part(new.get("elements"))
    for symbol, cell in _part(old.get("elements")).items():
        if raised(cell, limits.get(symbol)):
            yield ("elements", symbol), f"it raises the limit of {symbol} or takes it away"
    if _true(old.get("default")) != _true(new.get("default")):
        yield ("default",), "it lets another set of limits judge"
    if old.get("scope", "char") != new.get("scope", "char"):
        yield ("scope",), "it lets the limits judge something else"


def _scales(old: Row, new: Row) -> Seen:
    for name in sorted({*old, *new} - _TEXTS):
        if old.get(name) != new.get(name):
            yield (name,), "it changes a number of a scale"


def _burner(old: Row, new: Row) -> Seen:
    for name in ("moisture_refused", "moisture_ready"):
        if raised(old.get(name), new.get(name)):
            yield (name,), "it lets wetter matter into the fire"


def _caution(old: Row, new: Row) -> Seen:
    before, after = (row.get("text") for row in (old, new))
    texts, still = ((t if isinstance(t, dict) else {"en": t}) for t in (before, after))
    if any(still.get(language) != text for language, text in texts.items()):
        yield ("text",), "it changes or takes away what the caution says"
    if old.get("instead_of") != new.get("instead_of"):
        yield ("instead_of",), "it takes the place of what another caution says"
    when, now = (_part(row.get("when")) or {"always": "true"} for row in (old, new))
    if _true(now.get("always")) and len(now) == 1:
        return
    lists = {*when, *now} - {"always", "after"}
    if (
        (_true(when.get("always")) and len(when) == 1)
        or (now.get("after") and now.get("after") != when.get("after"))
        or any(
            _folds(now.get(name)) and not set() < _folds(when.get(name)) <= _folds(now.get(name))
            for name in lists
        )
    ):
        yield ("when",), "it shows the caution less often"


def _method(old: Row, new: Row) -> Seen:
    kind = old.get("kind")
    if kind in LIMIT_METHODS:
        for name in sorted({*old, *new} - _TEXTS):
            if old.get(name) != new.get(name):
                yield (name,), "it changes a number by which a limit judges"
    elif kind in ("negations", "places", "removals", "scopes", "clean-phrases"):
        yield from _phrases(old, new, added=True)
    elif kind in ("hedges", "weak-marks"):
        yield from _phrases(old, new, added=False)
    elif kind == "danger-words":
        yield from _dangers(old, new)
    elif kind == "forms":
        for key, form in _part(new.get("of")).items():
            before = _part(_part(old.get("of")).get(key))
            if _true(_part(form).get("grown")) and not _true(before.get("grown")):
                yield ("of", key, "grown"), "of such wood fewer dangers are heard"


def _leaves(value: Any) -> set[str]:
    if isinstance(value, dict):
        return {leaf for inner in value.values() for leaf in _leaves(inner)}
    return _folds(value)


_STRICTER_WORDS = frozenset(
    {
        "measures",
        "breaks",
        "lasting",
        "torn",
        "leftovers",
        "leaving",
        "sensing",
        "ellipses",
        "fixing",
        "joining",
        "excepting",
        "sources",
        "wrecking",
        "wreckers",
        "apart_words",
        "own_objects",
        "linking",
        "resuming",
        "joining_as",
        "pyres",
        "structural",
        "leavings",
        "hearsay",
        "asking_words",
        "undone",
        "tying",
        "spilt",
        "lasting_on",
    }
)
"""Groups of words of which more make more be heard."""


def _phrases(old: Row, new: Row, added: bool) -> Seen:
    for name in sorted({*old, *new} - _TEXTS):
        less, more = _leaves(old.get(name)), _leaves(new.get(name))
        gone = more - less if added != (name in _STRICTER_WORDS) else less - more
        if gone:
            yield (name,), f"by '{sorted(gone)[0]}' fewer dangers are heard"


def _dangers(old: Row, new: Row) -> Seen:
    for key, one in _part(old.get("of")).items():
        now = _part(_part(new.get("of")).get(key))
        for name, value in _part(one).items():
            gone = _leaves(value) - _leaves(now.get(name)) if name != "denied" else set()
            if gone:
                yield ("of", key, name), f"it takes '{sorted(gone)[0]}' out of the danger words"
        if _leaves(now.get("denied")) - _leaves(_part(one).get("denied")):
            yield ("of", key, "denied"), "it lets more words deny a danger"
    for name in ("clearing", "silent"):
        if _folds(new.get(name)) - _folds(old.get(name)):
            yield (name,), "it silences a name"


# --- numbers --------------------------------------------------------------------------------------


def _amount(cell: Any, name: str) -> tuple[float, str] | None:
    text = cell.get(name) if isinstance(cell, dict) else cell if name == "value" else None
    match = _NUMBER.fullmatch(text) if isinstance(text, str) else None
    return (float(match.group(1)), match.group(2)) if match else None


def _changed(old: Any, new: Any, more: bool) -> bool:
    """Whether a cell is gone, in another unit, or has a number above (else below) the old one."""
    for name in ("value", "low", "high"):
        was, now = _amount(old, name), _amount(new, name)
        if was is None:
            continue
        if now is None or now[1] != was[1] or (now[0] > was[0] if more else now[0] < was[0]):
            return True
    return False


def raised(old: Any, new: Any) -> bool:
    """Whether a cell is gone, in another unit, or higher than the one before."""
    return _changed(old, new, more=True)


def _lower(old: Any, new: Any) -> bool:
    return _changed(old, new, more=False)


_LOOKS: dict[str, Callable[[Row, Row], Iterable[tuple[Path_, str]]]] = {
    "contaminants": _contaminant,
    "clears": _clears,
    "signs": _sign,
    "origins": _origin,
    "limits": _limits,
    "scales": _scales,
    "burners": _burner,
    "cautions": _caution,
}
