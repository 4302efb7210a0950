"""From raw rows to typed rows: models, inheritance, places."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any

from pydantic import ValidationError

from ...documents.positions import Path_
from ...documents.problems import told_problems
from ...errors import MOST_PROBLEMS, Problem, TableError, shown
from ...quantities.frozen import Lazy
from ...quantities.sealed import SealedDict, sealed
from ..places import SetInfo, Where
from ..register import loaded_tables, register
from ..rows.ends import RULES, Rule
from ..rows.kinds import MODELS
from ..rows.material import Material
from ..rows.methods.interval import IntervalRule
from ..rows.methods.kinds import METHODS
from ..rows.row import Row, seal
from ..tables import Tables
from .likes import Likes
from .overlay import MergedSets, canonical, merge_sets
from .raw import Checked, RawRow, RawSet
from .references import check_references, cited, names_by_kind
from .taken_words import taken_words
from .vocabulary import give_meaning

DEEPEST_LIKE = 5


def build(sets: Iterable[RawSet], broken: Iterable[Problem] = ()) -> Tables:
    """Lay sets over each other, check every row and resolve `like`.

    Raises TableError with all problems.
    """
    problems: list[Problem] = []
    tables = build_what_can_be_built(sets, problems, broken)
    if problems:
        raise TableError(problems)
    return tables


def build_what_can_be_built(
    sets: Iterable[RawSet], problems: list[Problem], broken: Iterable[Problem] = ()
) -> Tables:
    """As `build`, but what is wrong goes into `problems` and the rest is kept, so that a checker
    can go on.
    """
    laid = merge_sets(list(sets), problems)
    rows: dict[str, dict[str, Row]] = {}
    places: dict[str, dict[Path_, Where]] = {}
    rules = _rules(laid)
    for kind, raw_rows in laid.rows.items():
        rows[kind] = {}
        for row_id, raw in raw_rows.items():
            checked = _checked(kind, raw, rules, problems)
            if checked is not None:
                rows[kind][row_id] = checked.row
                if kind == "materials":
                    # it inherits, and is told what its class means
                    rows[kind][row_id] = checked.row.model_copy()
                    places[row_id] = dict(checked.places)
    inherit(laid, rows["materials"], places, problems, {}, Likes(laid.rows["materials"]))
    give_meaning(laid, rows, rows["methods"].values(), problems)
    check_references(laid, rows, names_by_kind(laid), rows["methods"], problems)
    # whose words they are is not worth working out where more is wrong than is shown
    taken = taken_words(laid, _before, problems) if len(problems) < MOST_PROBLEMS else ()
    infos = tuple(info_of(one_set) for one_set in laid.sets)
    for row in rows["materials"].values():
        seal(row)
    whole, notices = digest_of(laid.sets), (tuple(laid.loosened), tuple(broken))
    tables = Tables(
        infos, whole, sealed(rows), _all_places(laid, rows, places), *notices, taken=taken
    )
    register(tables)
    return tables


def info_of(of: RawSet) -> SetInfo:
    """What results say of a set."""
    about = (of.licence, of.distribution, of.maintainer, of.description)
    return SetInfo(of.name, of.version, _digest(of), *about)


def _digest(of: RawSet) -> str:
    if not of.digest:
        of.digest = hashlib.sha256(canonical([of]).encode()).hexdigest()
    return of.digest


def digest_of(sets: Iterable[RawSet]) -> str:
    """The digest of all that sets say."""
    content = "\n".join(f"{one_set.name} {one_set.version} {_digest(one_set)}" for one_set in sets)
    return hashlib.sha256(content.encode()).hexdigest()


_kept: OrderedDict[str, Tables] = OrderedDict()
_MOST_KEPT = 4


def _before(sets: Sequence[RawSet]) -> Tables:
    return tables_before(sets, lambda: build_what_can_be_built(sets, []))


def tables_before(sets: Sequence[RawSet], made: Callable[[], Tables]) -> Tables:
    """The tables of the sets before one, kept for those that follow: every own set is laid over
    the same reference.
    """
    key = digest_of(sets)
    tables = _kept.get(key)
    if tables is None:
        tables = _kept[key] = loaded_tables(key) or made()
        while len(_kept) > _MOST_KEPT:
            _kept.popitem(last=False)
    return tables


def _checked(
    kind: str, raw: RawRow, rules: Mapping[str, Rule], problems: list[Problem]
) -> Checked | None:
    """A row by itself, checked once for all sets that are laid over its own: nothing that another
    set says changes it, but for the rules for ends.
    """
    if raw.checked is None or raw.checked.rules is not rules:
        row = typed_row(kind, raw, rules, problems)
        if row is None:
            return None
        seal(row)
        places = places_of(raw) if kind == "materials" else {}
        raw.checked = Checked(rules, row, cited(raw, row), places)
    return raw.checked


@lru_cache(maxsize=4)
def _as_before(rules: tuple[tuple[str, Rule], ...]) -> Mapping[str, Rule]:
    """Equal rules as the same ones."""
    return dict(rules)


def _rules(laid: MergedSets) -> Mapping[str, Rule]:
    """The rules for the ends of intervals, by full name and, the first set's before others, by
    key.

    One with a fault of its own is left out here and reported as a row.
    """
    rules: dict[str, Rule] = {}
    for row_id, raw in laid.rows["methods"].items():
        if raw.data.get("kind") == "interval-rule":
            row = typed_row("methods", raw, {}, [])
            if isinstance(row, IntervalRule):
                rules[row_id] = Rule(row.below.mid, row.above.mid)
                rules.setdefault(raw.key, rules[row_id])
    return _as_before(tuple(rules.items()))


def typed_row(
    kind: str, raw: RawRow, rules: Mapping[str, Rule], problems: list[Problem]
) -> Row | None:
    """A row of text by the model of its kind; None where that refuses it, which is reported."""
    model: type[Row] | None = MODELS.get(kind)
    if kind == "methods":
        word = raw.data.get("kind")
        model = METHODS.get(word) if isinstance(word, str) else None
        if model is None:
            problems.append(
                raw.problem(
                    "unknown-word",
                    f"'{shown(word)}' is not a kind of method",
                    f"Kinds: {', '.join(METHODS)}.",
                    ("kind",) if word else (),
                )
            )
            return None
    assert model is not None
    try:
        return model.model_validate(raw.data, context={RULES: rules})
    except ValidationError as why:
        for inner, problem in told_problems(why, model.model()):
            problems.append(
                raw.problem(
                    problem.code,
                    problem.what,
                    problem.expected,
                    inner,
                    problem.nearest,
                    key=problem.code == "unknown-field",
                )
            )
        return None


def _all_places(
    laid: MergedSets,
    rows: Mapping[str, Mapping[str, Row]],
    materials: Mapping[str, Mapping[Path_, Where]],
) -> Mapping[str, Mapping[str, Mapping[Path_, Where]]]:
    """The places of all rows: of materials, which inherit some, as they were found; of others when
    somebody asks.
    """
    places_of_kinds: dict[str, Mapping[str, Mapping[Path_, Where]]] = {
        kind: Lazy({row_id: laid.rows[kind][row_id] for row_id in of_kind}, _sealed_places)
        for kind, of_kind in rows.items()
    }
    places_of_kinds["materials"] = sealed(materials)
    return SealedDict(places_of_kinds)


def _sealed_places(raw: RawRow) -> Mapping[Path_, Where]:
    return SealedDict(places_of(raw))


def places_of(raw: RawRow) -> dict[Path_, Where]:
    """Where each part of a row stands."""
    places: dict[Path_, Where] = {}

    def note(set_name: str, document: Any, start: Path_, path: Path_, value: Any) -> None:
        place = document.keys.get(start) or document.places.get(start)
        line, column = place if place else (None, None)
        places[path] = Where(set_name, document.file, line, column, raw.row_id)
        if isinstance(value, dict) and "value" not in value:
            for key, inner in value.items():
                note(set_name, document, (*start, key), (*path, key), inner)
        elif isinstance(value, list):
            for index, inner in enumerate(value):
                if isinstance(inner, dict):
                    note(set_name, document, (*start, index), (*path, index), inner)

    place = raw.document.keys.get(raw.path)
    places[()] = Where(
        raw.set,
        raw.document.file,
        place[0] if place else None,
        place[1] if place else None,
        raw.row_id,
    )
    for name, value in raw.data.items():
        set_name, document, start = raw.origin(name)
        note(set_name, document, start, (name,), value)
    return places


def inherit(
    laid: MergedSets,
    rows: dict[str, Row],
    places: dict[str, dict[Path_, Where]],
    problems: list[Problem],
    done: dict[str, tuple[Material, int]],
    index: Likes,
) -> None:
    """Fill what a material does not give from the row that it is `like`, after all changes; those
    in `done` are whole, each with its depth.

    A row's depth is counted from the row that is like none, so that the order in which rows are
    written says nothing.
    """
    for first in rows:
        way = _way_up(first, laid, rows, index, done, problems)
        for row_id, target in reversed(way):
            parent, depth = done[target]
            row = rows[row_id]
            assert isinstance(row, Material)
            if depth >= DEEPEST_LIKE:
                problems.append(
                    laid.rows["materials"][row_id].problem(
                        "depth",
                        f"`like` is more than {DEEPEST_LIKE} deep",
                        "Point to a row nearer the family.",
                        ("like",),
                    )
                )
                done[row_id] = row, 0
            else:
                merged = _merged_material(row, parent, places[row_id], places[target])
                done[row_id] = merged, depth + 1
    rows.update({row_id: row for row_id, (row, _) in done.items()})


def _way_up(
    first: str,
    laid: MergedSets,
    rows: Mapping[str, Row],
    index: Likes,
    done: dict[str, tuple[Material, int]],
    problems: list[Problem],
) -> list[tuple[str, str]]:
    """Rows that wait for what they are like, each with that, from `first` up to one that is done.

    A row that can inherit nothing, for whatever reason, is done as it stands.
    """
    way: dict[str, str] = {}
    row_id = first
    while row_id not in done:
        row, raw = rows[row_id], laid.rows["materials"][row_id]
        assert isinstance(row, Material)
        target = None if row.like is None else _like_target(row.like, raw, index)
        if isinstance(target, Problem):
            problems.append(target)
        elif target is not None and (target in way or target == row_id):
            problems.append(
                raw.problem(
                    "circle",
                    f"`like` runs in a circle: {' -> '.join((*way, row_id, target))}",
                    "Take one of them away.",
                    ("like",),
                )
            )
        elif target in rows:
            way[row_id] = str(target)
            row_id = str(target)
            continue
        # else a target that is not there has a fault of its own, which is reported where it stands
        done[row_id] = row, 0
    return list(way.items())


def _like_target(name: str, raw: RawRow, index: Likes) -> str | Problem:
    row_ids = index.find(name, raw)
    if len(row_ids) == 1:
        return row_ids[0]
    if row_ids:
        return raw.problem(
            "ambiguous",
            f"`like: {shown(name)}` stands in several rows: {', '.join(row_ids)}",
            "Write the full name.",
            ("like",),
        )
    return raw.problem(
        "unknown-row",
        f"there is no material '{shown(name)}' to be like",
        "Name a material of this or another set.",
        ("like",),
        index.nearest(name),
    )


_OWN = frozenset({"names", "like", "note"})


def _merged_material(
    row: Material, parent: Material, places: dict[Path_, Where], above: Mapping[Path_, Where]
) -> Material:
    changes: dict[str, Any] = {}
    for name, key in Material.keyed_fields():
        if name in _OWN:
            continue
        own, inherited = getattr(row, name), getattr(parent, name)
        if isinstance(inherited, dict):
            changes[name] = {**inherited, **own}
            taken: Iterable[Path_] = [(key, inner) for inner in inherited if inner not in own]
        elif name == "carries":
            # a hypothesis is added to, never dropped
            changes[name] = tuple(dict.fromkeys((*inherited, *own)))
            taken = [(key,)] if inherited and not own else []
        elif own in (None, ()):
            changes[name] = inherited
            taken = [(key,)]
        else:
            continue
        for path in taken:
            if path in above:
                places[path] = above[path]
    return row.model_copy(update=changes)
