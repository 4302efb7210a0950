"""Later sets laid over the reference as it is kept: what they do not touch is taken as it was
built, so that no file is read but theirs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from typing import Any, NoReturn

from ...documents.positions import Document, Path_
from ...errors import Problem
from ...quantities.frozen import Lazy
from ...quantities.sealed import SealedDict, sealed
from ..caches import kept_of_tables
from ..names.index import Index
from ..places import Where
from ..register import register
from ..rows.ends import Rule
from ..rows.material import Material
from ..rows.methods.interval import IntervalRule
from ..rows.methods.vocabulary import FeedClasses, FeedForms
from ..rows.row import Row, seal
from ..store import Rows
from ..tables import Tables
from .build import digest_of, info_of, inherit, places_of, tables_before, typed_row
from .gate_data import WORD_METHODS
from .likes import Likes
from .overlay import MergedSets, merge_sets
from .raw import KINDS, RawRow, RawRows, RawSet, names_of
from .references import check_references, names_by_kind
from .taken_words import taken_words
from .vocabulary import give_meaning

_EVERYWHERE = frozenset(
    {"interval-rule", "feed-classes", "feed-forms", "preservatives", "paint", "binders"}
)
"""Kinds of methods by which rows of every set are read and checked."""

_SAID = ("names", "class", "form", "like", "carries", "history")
"""Fields of a material by which its names are understood."""

Typed = dict[str, dict[str, Row]]
Places = Mapping[Path_, Where]


class Elsewhere(Exception):
    """Something is wrong, or a change reaches too far: the files themselves must be asked."""


class _NoProblems(list[Problem]):
    """The first problem ends it: all of them are told when the files are asked."""

    def append(self, problem: Problem) -> NoReturn:
        raise Elsewhere


def laid_over(base: Tables, sets: Sequence[RawSet], broken: Iterable[Problem] = ()) -> Tables:
    """What `build` makes of the set of the base and of these. Raises Elsewhere."""
    assert base.ready is not None
    problems = _NoProblems()
    laid = merge_sets([_raw_set(base), *sets], problems)
    _end_if(laid.sets[0].name != base.sets[0].name)
    over = _Over(base, laid, problems)
    taken = taken_words(laid, partial(_before, base), problems)
    tables = Tables(
        tuple(map(info_of, laid.sets)),
        digest_of(laid.sets),
        SealedDict({kind: _rows_of(base, kind).with_rows(over.rows[kind]) for kind in KINDS}),
        SealedDict({kind: over.places_of_kind(kind) for kind in KINDS}),
        tuple(laid.loosened),
        tuple(broken),
        taken=taken,
        under=None if over.speaks else base,
    )
    register(tables)
    return tables


def _end_if(wrong: bool) -> None:
    if wrong:
        raise Elsewhere


def _before(base: Tables, sets: Sequence[RawSet]) -> Tables:
    if len(sets) == 1:
        return base
    return tables_before(sets, lambda: laid_over(base, sets[1:]))


@kept_of_tables(1)
def _raw_set(base: Tables) -> RawSet:
    """The set of the base as it stands in its files, each row read when it is asked for."""
    about, store = base.sets[0], base.ready
    assert store is not None
    raw_set = RawSet(about.name, about.version, about.licence, about.maintainer, about.description)
    raw_set.digest = about.digest
    for kind in KINDS:
        rows = store.raw(kind)
        made = {name.partition(":")[2]: partial(_row, name, kind, rows[name]) for name in rows}
        raw_set.rows[kind] = RawRows(made)
    return raw_set


def _row(row_id: str, kind: str, told: Callable[[], tuple[str, dict[str, Any]]]) -> RawRow:
    set_name, _, key = row_id.partition(":")
    file, data = told()
    return RawRow(set_name, kind, key, data, Document(None, file), (kind, key))


def _rows_of(base: Tables, kind: str) -> Rows:
    rows = base.rows[kind]
    assert isinstance(rows, Rows)
    return rows


class _Over:
    """The rows that are new or otherwise than in the base, whole and checked."""

    def __init__(self, base: Tables, laid: MergedSets, problems: list[Problem]) -> None:
        assert base.ready is not None
        self.base, self.laid, self.problems = base, laid, problems
        # the rows of the base that were changed, as they stood
        self.before = {
            (kind, row_id): base.ready.raw(kind)[row_id]()[1]
            for kind, row_id in laid.changed
            if row_id in base.rows[kind]
        }
        renamed = any(self._changed(kind, row_id, ("names",)) for kind, row_id in self.before)
        self.speaks = renamed or any(self._is_heard(*row) for row in self.before)
        self._reach()
        self.names = None if renamed else base.index("materials")
        self.rows = self._typed()
        self.places = self._inherited()
        self._check(renamed)
        for rows in self.rows.values():
            for row in rows.values():
                seal(row)

    def _changed(self, kind: str, row_id: str, names: Iterable[str]) -> bool:
        old, new = self.before[kind, row_id], self.laid.rows[kind][row_id].data
        return any(old.get(name) != new.get(name) for name in names)

    def _kinds_of_method(self, row_id: str) -> set[Any]:
        old, new = self.before["methods", row_id], self.laid.rows["methods"][row_id].data
        return {old.get("kind"), new.get("kind")}

    def _is_heard(self, kind: str, row_id: str) -> bool:
        """Whether a changed row is otherwise understood by its names."""
        if kind == "methods":
            return bool(self._kinds_of_method(row_id) & WORD_METHODS)
        return kind == "contaminants" or (
            kind == "materials" and self._changed(kind, row_id, _SAID)
        )

    def _reach(self) -> None:
        """That no row of the base which was not changed itself is to be read otherwise."""
        for kind, row_id in self.before:
            _end_if(kind == "methods" and bool(self._kinds_of_method(row_id) & _EVERYWHERE))
        for row_id in self._new("methods"):
            word = self.laid.rows["methods"][row_id].data.get("kind")
            _end_if(word in ("feed-classes", "feed-forms"))

    def _new(self, kind: str) -> list[str]:
        return [row_id for row_id in self.laid.rows[kind] if row_id not in self.base.rows[kind]]

    def _typed(self) -> Typed:
        """The rows that are new, were changed or inherit from one that was."""
        wanted: dict[str, dict[str, None]] = {
            kind: dict.fromkeys(self._new(kind)) for kind in KINDS
        }
        for kind, row_id in sorted(self.before):
            wanted[kind][row_id] = None
        wanted["materials"] |= dict.fromkeys(self._heirs())
        rules = self._rules()
        rows: Typed = {}
        for kind, row_ids in wanted.items():
            made = {
                row_id: typed_row(kind, self.laid.rows[kind][row_id], rules, self.problems)
                for row_id in row_ids
            }
            rows[kind] = {row_id: row for row_id, row in made.items() if row is not None}
        return rows

    def _rules(self) -> dict[str, Rule]:
        """The rules for the ends of intervals, as in `build`."""
        rules: dict[str, Rule] = {}
        found: dict[str, IntervalRule] = dict(self.base.rows_of("methods", IntervalRule))
        for row_id in self._new("methods"):
            raw = self.laid.rows["methods"][row_id]
            if raw.data.get("kind") == "interval-rule":
                row = typed_row("methods", raw, {}, self.problems)
                if isinstance(row, IntervalRule):
                    found[row_id] = row
        for row_id, row in found.items():
            rules[row_id] = Rule(row.below.mid, row.above.mid)
            rules.setdefault(row_id.partition(":")[2], rules[row_id])
        return rules

    def _heirs(self) -> list[str]:
        """The materials of the base that inherit, at whatever depth, from one that was changed."""
        changed = [row_id for kind, row_id in self.before if kind == "materials"]
        heirs: list[str] = []
        if not changed:
            return heirs
        rows = self.laid.rows["materials"]
        likes = Likes(rows, self.names)
        above: dict[str, list[str]] = {}
        for row_id in self.base.rows["materials"]:
            like = rows[row_id].data.get("like")
            for target in likes.find(like, rows[row_id]) if isinstance(like, str) else ():
                above.setdefault(target, []).append(row_id)
        waiting = changed
        while waiting:
            found = [each for each in above.get(waiting.pop(), ()) if each not in heirs]
            heirs += found
            waiting += found
        return heirs

    def _inherited(self) -> dict[str, dict[Path_, Where]]:
        """Fill the materials in; the places of their fields."""
        rows, laid = self.rows["materials"], self.laid.rows["materials"]
        places = {row_id: self._own_places("materials", row_id) for row_id in rows}
        likes, whole = Likes(laid, self.names), dict(rows)
        done: dict[str, tuple[Material, int]] = {}
        for row_id in rows:
            like = laid[row_id].data.get("like")
            for target in likes.find(like, laid[row_id]) if isinstance(like, str) else ():
                if target not in rows:
                    above = self.base.material(target)
                    whole[target], done[target] = above, (above, _depth(target, laid, likes))
                    places[target] = dict(self.base.places["materials"][target])
        inherit(self.laid, whole, places, self.problems, done, likes)
        rows.update({row_id: whole[row_id] for row_id in rows})
        return {row_id: places[row_id] for row_id in rows}

    def _own_places(self, kind: str, row_id: str) -> dict[Path_, Where]:
        """Where each part of a row stands that it does not inherit: of a row of the base, what was
        not changed is where it was.
        """
        raw = self.laid.rows[kind][row_id]
        places = places_of(raw)
        if row_id not in self.base.rows[kind]:
            return places
        known = self.base.places[kind][row_id]
        own = {path: where for path, where in known.items() if where.row == row_id}
        found: dict[Path_, Where] = {(): own[()]}
        for name in raw.data:
            kept = own if name not in raw.origins else places
            _end_if((name,) not in kept)
            found |= {path: where for path, where in kept.items() if path[:1] == (name,)}
        return found

    def _check(self, renamed: bool) -> None:
        """That every name which a row gives of another row, or of a class, is there."""
        methods = _rows_of(self.base, "methods").with_rows(self.rows["methods"])
        meanings = [row for model in (FeedClasses, FeedForms) for _, row in methods.of(model)]
        give_meaning(self.laid, self.rows, meanings, self.problems)
        rows: Mapping[str, Mapping[str, Row]] = self.rows
        if renamed:
            self._check_likes()
            index = names_by_kind(self.laid)
            rows = {kind: _rows_of(self.base, kind).with_rows(rows[kind]) for kind in KINDS}
        else:
            index = {kind: self._index(kind) for kind in KINDS}
        check_references(self.laid, rows, index, methods, self.problems)

    def _index(self, kind: str) -> Index:
        names = {row_id: names_of(self.laid.rows[kind][row_id]) for row_id in self._new(kind)}
        return self.base.index(kind).with_rows(names)

    def _check_likes(self) -> None:
        """That each material of the base is like the same one under the names that are now."""
        now = self.laid.rows["materials"]
        before = dict(now)
        for (kind, row_id), data in self.before.items():
            if kind == "materials":
                raw = now[row_id]
                before[row_id] = RawRow(raw.set, kind, raw.key, data, raw.document, raw.path)
        likes, likes_before = Likes(now), Likes(before)
        for row_id in self.base.rows["materials"]:
            like = before[row_id].data.get("like")
            if isinstance(like, str):
                same = likes.find(like, now[row_id]) == likes_before.find(like, before[row_id])
                _end_if(not same)

    def places_of_kind(self, kind: str) -> Mapping[str, Places]:
        """The places of all rows of a kind."""
        known = self.base.places[kind]
        assert isinstance(known, Lazy)
        if kind == "materials":
            return known.with_items(sealed(self.places))
        own = {row_id: SealedDict(self._own_places(kind, row_id)) for row_id in self.rows[kind]}
        return known.with_items(own)


def _depth(row_id: str, rows: Mapping[str, RawRow], likes: Likes) -> int:
    """How many rows a material of the base inherits from."""
    depth = 0
    while isinstance(like := rows[row_id].data.get("like"), str):
        row_id, depth = likes.find(like, rows[row_id])[0], depth + 1
    return depth
