"""`Tables`: every row of every set, with names resolved and the place of every value known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from functools import cached_property
from typing import Any, TypeVar

from ..documents.positions import Path_
from ..errors import Problem, UnknownName, shown
from ..quantities.cell import Cell
from ..quantities.frozen import frozen
from ..uncertainty.inputs import Input, Origin
from .caches import kept_of_tables
from .names.index import Index, folded
from .names.listing import names_to_choose
from .names.taken import Taken
from .places import Loosened, Provenance, SetInfo, Where
from .rows.material import Material
from .rows.methods.defaults import Defaults
from .rows.row import Names, Row, Sourced
from .rows.source import Source, cited_text
from .store import Rows, Store

_FEW_ROWS = 30
R = TypeVar("R", bound=Row)


@frozen
class Tables:
    """Reference data: the sets in use, laid over each other.

    Frozen; equal and hashed by the digest of the content.

    `rows[kind][full name]` holds the typed rows. Rows are found by name with `find`.
    """

    sets: tuple[SetInfo, ...]
    digest: str
    rows: Mapping[str, Mapping[str, Row]]
    places: Mapping[str, Mapping[str, Mapping[Path_, Where]]]
    loosened: tuple[Loosened, ...] = ()
    broken: tuple[Problem, ...] = ()
    use: tuple[tuple[str, str], ...] = ()
    _index: dict[str, Index] = field(default_factory=dict, repr=False)
    inputs: dict[tuple[Any, ...], Input] = field(default_factory=dict, repr=False)
    """Cells that were made inputs of a chain, by place and name; at most as many as there are
    cells.
    """
    taken: tuple[Taken, ...] = ()
    ready: Store | None = field(default=None, repr=False)
    under: Tables | None = field(default=None, repr=False)
    """Tables that were ready before, over which rows of later sets were laid: every name in them,
    and how it is read, is as it was.
    """

    def __getstate__(self) -> dict[str, Any]:
        return {**self.__dict__, "inputs": {}, "ready": None, "under": None}

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Tables) and (self.digest, self.use) == (other.digest, other.use)

    def __hash__(self) -> int:
        return hash((self.digest, self.use))

    def __repr__(self) -> str:
        return (
            f"Tables({', '.join(f'{s.name} {s.version}' for s in self.sets)}; {self.digest[:12]})"
        )

    def index(self, kind: str) -> Index:
        """The names of a kind of row."""
        if kind not in self._index and self.ready is not None:
            self._index[kind] = self.ready.index(kind)
        elif kind not in self._index:
            before = self.under.index(kind) if self.under is not None else Index({})
            names = {
                row_id: [n for names in self.spoken(kind, row_id).values() for n in names]
                for row_id in self.added(kind)
            }
            hidden = {taken.row for taken in self.taken if taken.kind == kind and taken.key}
            self._index[kind] = before.with_rows(names, hidden)
        return self._index[kind]

    def added(self, kind: str) -> Iterable[str]:
        """The rows of a kind that the tables under these do not have; all, where there are none."""
        rows: Iterable[str] = self.rows[kind]
        under = {} if self.under is None else self.under.rows[kind]
        return [row_id for row_id in rows if row_id not in under]

    def names(self, kind: str, language: str = "en") -> tuple[str, ...]:
        """The rows of a kind (`materials`, `origins`, `signs` ...) for a list to choose from: one
        name each in that language or else in English, all of which `find` understands.

        Raises UnknownName for a kind that there is not.
        """
        return names_to_choose(self.rows, kind, self.index, language)

    def spoken(self, kind: str, row_id: str, heard: bool = False) -> Names:
        """The names by which a row goes, by language: those that no set before its own has.

        With `heard` those with a danger word in them too, by which it can be feared and not named.
        """
        names = self.rows[kind][row_id].names
        gone = self._taken.get((kind, row_id))
        if not gone:
            return names
        return {
            language: tuple(
                name
                for name in names_of_language
                if (how := gone.get(folded(name))) is None or (heard and how == "danger")
            )
            for language, names_of_language in names.items()
        }

    @cached_property
    def _taken(self) -> Mapping[tuple[str, str], Mapping[str, str]]:
        owners: dict[tuple[str, str], dict[str, str]] = {}
        for taken in self.taken:
            if not taken.key:
                how = owners.setdefault((taken.kind, taken.row), {})
                how[folded(taken.word)] = taken.owner.how
        return owners

    def find(self, kind: str, name: str, path: str = "") -> str:
        """The full name of the row that goes by `name`.

        Raises UnknownName, which gives the nearest three.
        """
        row_ids = self.index(kind).find(name)
        if len(row_ids) == 1:
            return row_ids[0]
        singular = {
            "materials": "material",
            "signs": "sign",
            "origins": "origin",
            "burners": "burner",
            "limits": "limit set",
            "methods": "method",
        }.get(kind, kind)
        if row_ids:
            raise UnknownName(
                [
                    Problem(
                        "ambiguous",
                        f"the {singular} '{shown(name)}' stands in several rows: "
                        f"{', '.join(sorted(row_ids))}",
                        "Write one of these full names.",
                        path,
                        name,
                    )
                ]
            )
        raise UnknownName(
            [
                Problem(
                    f"unknown-{singular.replace(' ', '-')}",
                    f"there is no {singular} '{shown(name)}' in the tables",
                    self.offer(kind, name),
                    path,
                    name,
                    nearest=self.index(kind).nearest(name),
                )
            ]
        )

    def offer(self, kind: str, name: str) -> str:
        """What to write instead: all names where they are few."""
        rows = self.rows[kind]
        if 0 < len(rows) <= _FEW_ROWS:
            names = [row.display(row_id.partition(":")[2]) for row_id, row in rows.items()]
            return f"Write one of {', '.join(names)}."
        if kind == "signs" and any(mark in name for mark in ",;"):
            return (
                "Write several signs as a list, [mark HT, bare wood], or in a CSV cell "
                "with a bar between them: mark HT | bare wood."
            )
        return f"Write one that `feedstock tables list {kind}` shows, or bring a table that has it."

    def row(self, kind: str, row_id: str, model: type[R]) -> R:
        """A typed row by its full name."""
        row = self.rows[kind][row_id]
        assert isinstance(row, model)
        return row

    def rows_of(self, kind: str, model: type[R]) -> Iterable[tuple[str, R]]:
        """The rows of a kind that are of one model, with their full names; `model` is one that no
        other builds on.
        """
        rows = self.rows[kind]
        if isinstance(rows, Rows):
            return rows.of(model)
        return ((row_id, row) for row_id, row in rows.items() if isinstance(row, model))

    def material(self, row_id: str) -> Material:
        """A material by its full name, with what it inherits."""
        return self.row("materials", row_id, Material)

    @cached_property
    def defaults(self) -> tuple[str, Defaults]:
        """The row that says which method serves which purpose; the last set that has one
        decides.
        """
        return list(self.rows_of("methods", Defaults))[-1]

    def has_method(self, purpose: str) -> bool:
        """Whether a method serves a purpose in these tables."""
        return purpose in self.defaults[1].use or purpose in dict(self.use)

    def method(self, purpose: str, model: type[R]) -> tuple[str, R]:
        """The full name and the row of the method in use for a purpose (`yield-curve`,
        `char-carbon` ...).
        """
        name = dict(self.use).get(purpose) or self.defaults[1].use[purpose]
        row_id = self.find("methods", name, f"use.{purpose}")
        row = self.rows["methods"][row_id]
        if not isinstance(row, model):
            raise _wrong_method(name, purpose)
        return row_id, row

    def gate_method(self, purpose: str, model: type[R]) -> tuple[str, R] | None:
        """The method for a purpose that can decide a verdict; None where the tables have none.

        It is that of the first set which names one, or one that was chosen by `using`: a set that
        comes later cannot put its own figures in its place without declaring the change.
        """
        row_id = _gate_row(self, purpose)
        return None if row_id is None else (row_id, self.row("methods", row_id, model))

    def using(self, **purposes: str) -> Tables:
        """The same tables with other methods, by purpose: `tables.using(yield_curve="woolf-2014")`.

        Raises UnknownName.
        """
        chosen = {**dict(self.use)}
        for word, name in purposes.items():
            purpose = word.replace("_", "-")
            use = self.defaults[1].use
            if purpose not in use:
                what, remedy = "is not a purpose of a method", f"Purposes: {', '.join(use)}."
                fault = f"'{purpose}' {what}"
                raise UnknownName([Problem("unknown-purpose", fault, remedy, "use", purpose)])
            chosen[purpose] = name
        out = replace(self, use=tuple(sorted(chosen.items())), inputs={})
        for purpose, name in chosen.items():
            row_id = out.find("methods", name, f"use.{purpose}")
            as_now = type(self.rows["methods"][self.find("methods", self.defaults[1].use[purpose])])
            if not isinstance(self.rows["methods"][row_id], as_now):
                raise _wrong_method(name, purpose)
        return out

    def cell(self, kind: str, row_id: str, path: Path_) -> Cell | None:
        """The cell at a path of a row, as `("moisture", "green")`; None if the row has none
        there.
        """
        value: Any = self.rows[kind][row_id]
        for part in path:
            value = (
                value.get(part)
                if isinstance(value, Mapping)
                else value[part]
                if isinstance(value, tuple) and isinstance(part, int)
                else getattr(value, f"{part}_" if part == "class" else str(part), None)
            )
            if value is None:
                return None
        return value if isinstance(value, Cell) else None

    def where(self, kind: str, row_id: str, path: Path_) -> Where:
        """The place of a field, or of the part of the row around it that has one."""
        places = self.places[kind].get(row_id, {})
        while path and path not in places:
            path = path[:-1]
        return places.get(path) or Where(row_id.partition(":")[0], "", None, None, row_id)

    def provenance(self, row: str, field: str, kind: str = "materials") -> Provenance:
        """Set, version, file, line, source, locator of a field (`ash`, `moisture.green`) and the
        row it is inherited from.

        Raises UnknownName for a row or a field that is not there.
        """
        row_id = self.find(kind, row)
        path = tuple(int(p) if p.isdigit() else p for p in field.split("."))
        cell, where = self.cell(kind, row_id, path), self.where(kind, row_id, path)
        content = self.rows[kind][row_id]
        if cell is None and (
            len(path) != 1 or not hasattr(content, f"{field}_" if field == "class" else field)
        ):
            raise UnknownName(
                [
                    Problem(
                        "unknown-field",
                        f"'{row_id}' has no '{shown(field)}'",
                        "Write a field that `feedstock tables show` lists.",
                        field,
                    )
                ]
            )
        source, at, known = (
            (cell.source, cell.at, cell.known)
            if cell
            else (
                (content.source, content.at, str(content.known))
                if isinstance(content, Sourced)
                else ((), "", "")
            )
        )
        return Provenance(
            where.set,
            self.version_of(where.set),
            where.file,
            where.line,
            where.column,
            source,
            at,
            known,
            where.row if where.row != row_id else "",
        )

    def version_of(self, name: str) -> str:
        """The version of a set by its name; empty for one that is not in use."""
        return next((s.version for s in self.sets if s.name == name), "")

    def origin(self, kind: str, row_id: str, path: Path_, cell: Cell | None = None) -> Origin:
        """The origin of an input that is a cell of a table, for explanations."""
        cell = cell or self.cell(kind, row_id, path)
        where = self.where(kind, row_id, path)
        name = ".".join(str(p) for p in path)
        key = row_id.partition(":")[2] if row_id.startswith("reference:") else row_id
        text = f"{key} {name}"
        if cell is None:
            return Origin(
                "table",
                text,
                where.set,
                self.version_of(where.set),
                row_id,
                name,
                where.file,
                where.line,
            )
        titles = tuple(self.source_title(s, where.set) for s in cell.source)
        inherited = where.row if where.row != row_id else ""
        return Origin(
            "table",
            text,
            where.set,
            self.version_of(where.set),
            row_id,
            name,
            where.file,
            where.line,
            titles,
            cell.at,
            cell.known,
            cell.note,
            inherited,
            cell.source,
            cell.ends,
        )

    def source_title(self, key: str, from_set: str = "") -> str:
        """A source as it is cited: authors, year, title, where."""
        row_id = self.source_name(key, from_set)
        if row_id is None:
            return key
        return cited_text(self.row("sources", row_id, Source))

    def source_name(self, key: str, from_set: str = "") -> str | None:
        """The full name of a source, looked for in the set that cites it and then in all others."""
        for row_id in (key, f"{from_set}:{key}", f"reference:{key}"):
            if row_id in self.rows["sources"]:
                return row_id
        return next(
            (row_id for row_id in self.rows["sources"] if row_id.partition(":")[2] == key), None
        )


def _wrong_method(name: str, purpose: str) -> UnknownName:
    what = f"'{name}' is not a method for {purpose}"
    remedy = f"Name a method of kind {purpose}."
    return UnknownName([Problem("wrong-method", what, remedy, f"use.{purpose}", name)])


@kept_of_tables(512)
def _gate_row(tables: Tables, purpose: str) -> str | None:
    if purpose in dict(tables.use):
        return tables.find("methods", dict(tables.use)[purpose], f"use.{purpose}")
    for row_id, row in tables.rows_of("methods", Defaults):
        if purpose in row.use:
            own = f"{row_id.partition(':')[0]}:{row.use[purpose]}"
            return (
                own
                if own in tables.rows["methods"]
                else tables.find("methods", row.use[purpose], f"use.{purpose}")
            )
    return None
