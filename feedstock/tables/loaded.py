"""`Tables`: every row of every set, checked, with names resolved and the place of every value
known.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from pydantic import ValidationError

from ..errors import Problem, TableError, UnknownName, shown
from ..figures import Origin
from ..located import Path_, told_problems
from . import schema
from .methods import KINDS, Defaults
from .methods_after import KINDS_AFTER
from .methods_fire import KINDS_FIRE
from .methods_load import KINDS_LOAD
from .methods_plan import KINDS_PLAN
from .methods_quality import KINDS_QUALITY
from .names import Index
from .overlay import Laid, Loosened, canonical, lay
from .reader import RawRow, RawSet
from .references import check_references, names_of
from .schema import Cell, Material, Row, Sourced

MODELS: dict[str, type[Row]] = {
    "sources": schema.Source,
    "materials": schema.Material,
    "contaminants": schema.Contaminant,
    "clears": schema.Clears,
    "signs": schema.Sign,
    "origins": schema.OriginRow,
    "limits": schema.LimitSet,
    "burners": schema.Burner,
    "scales": schema.ScaleRow,
    "cautions": schema.Caution,
}
METHODS: dict[str, type[Row]] = {
    **KINDS,
    **KINDS_FIRE,
    **KINDS_AFTER,
    **KINDS_PLAN,
    **KINDS_QUALITY,
    **KINDS_LOAD,
}
DEEPEST_LIKE = 5
_FEW_ROWS = 20

R = TypeVar("R", bound=Row)


@dataclass(frozen=True, slots=True)
class SetInfo:
    """Which set was used: its name, version and the digest of its content."""

    name: str
    version: str
    digest: str
    licence: str = ""
    distribution: str = ""


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where a field of a row comes from."""

    set: str
    version: str
    file: str
    line: int | None
    column: int | None
    source: tuple[str, ...]
    locator: str
    known: str
    inherited_from: str = ""


@dataclass(frozen=True, slots=True)
class Where:
    """The place of one field: its set, file, line and column, and the row that it was inherited
    from.
    """

    set: str
    file: str
    line: int | None
    column: int | None
    row: str


@dataclass(frozen=True, eq=False)
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
        if kind not in self._index:
            self._index[kind] = Index(
                {
                    full: [n for names in row.names.values() for n in names]
                    for full, row in self.rows[kind].items()
                }
            )
        return self._index[kind]

    def find(self, kind: str, name: str, path: str = "") -> str:
        """The full name of the row that goes by `name`.

        Raises UnknownName, which gives the nearest three.
        """
        found = self.index(kind).find(name)
        if len(found) == 1:
            return found[0]
        singular = {
            "materials": "material",
            "signs": "sign",
            "origins": "origin",
            "burners": "burner",
            "limits": "limit set",
            "methods": "method",
        }.get(kind, kind)
        if found:
            raise UnknownName(
                [
                    Problem(
                        "ambiguous",
                        f"the {singular} '{shown(name)}' stands in several rows: "
                        f"{', '.join(sorted(found))}",
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
                    self._offer(kind, name),
                    path,
                    name,
                    nearest=self.index(kind).nearest(name),
                )
            ]
        )

    def _offer(self, kind: str, name: str) -> str:
        """What to write instead: all names where they are few."""
        rows = self.rows[kind]
        if 0 < len(rows) <= _FEW_ROWS:
            return (
                "Write one of "
                f"{', '.join(row.display(full.partition(':')[2]) for full, row in rows.items())}."
            )
        if kind == "signs" and any(mark in name for mark in ",;"):
            return (
                "Write several signs as a list, [mark HT, bare wood], or in a CSV cell "
                "with a bar between them: mark HT | bare wood."
            )
        return f"Write one that `feedstock tables list {kind}` shows, or bring a table that has it."

    def row(self, kind: str, full: str, model: type[R]) -> R:
        """A typed row by its full name."""
        found = self.rows[kind][full]
        assert isinstance(found, model)
        return found

    def material(self, full: str) -> Material:
        """A material by its full name, with what it inherits."""
        return self.row("materials", full, Material)

    @property
    def defaults(self) -> tuple[str, Defaults]:
        """The row that says which method serves which purpose; the last set that has one
        decides.
        """
        full = [name for name, row in self.rows["methods"].items() if isinstance(row, Defaults)][-1]
        return full, self.row("methods", full, Defaults)

    def method(self, purpose: str, model: type[R]) -> tuple[str, R]:
        """The full name and the row of the method in use for a purpose (`yield-curve`,
        `char-carbon` ...).
        """
        name = dict(self.use).get(purpose) or self.defaults[1].use[purpose]
        full = self.find("methods", name, f"use.{purpose}")
        found = self.rows["methods"][full]
        if not isinstance(found, model):
            raise UnknownName(
                [
                    Problem(
                        "wrong-method",
                        f"'{name}' is not a method for {purpose}",
                        f"Name a method of kind {purpose}.",
                        f"use.{purpose}",
                        name,
                    )
                ]
            )
        return full, found

    def using(self, **purposes: str) -> Tables:
        """The same tables with other methods, by purpose: `tables.using(yield_curve="woolf-2014")`.

        Raises UnknownName.
        """
        chosen = {**dict(self.use)}
        for word, name in purposes.items():
            purpose = word.replace("_", "-")
            known = self.defaults[1].use
            if purpose not in known:
                raise UnknownName(
                    [
                        Problem(
                            "unknown-purpose",
                            f"'{purpose}' is not a purpose of a method",
                            f"Purposes: {', '.join(known)}.",
                            "use",
                            purpose,
                        )
                    ]
                )
            chosen[purpose] = name
        out = Tables(
            self.sets,
            self.digest,
            self.rows,
            self.places,
            self.loosened,
            self.broken,
            tuple(sorted(chosen.items())),
            self._index,
        )
        for purpose, name in chosen.items():
            full = out.find("methods", name, f"use.{purpose}")
            held = type(self.rows["methods"][self.find("methods", self.defaults[1].use[purpose])])
            if not isinstance(self.rows["methods"][full], held):
                raise UnknownName(
                    [
                        Problem(
                            "wrong-method",
                            f"'{name}' is not a method for {purpose}",
                            "Name a method of that kind.",
                            f"use.{purpose}",
                            name,
                        )
                    ]
                )
        return out

    def cell(self, kind: str, full: str, path: Path_) -> Cell | None:
        """The cell at a path of a row, as `("moisture", "green")`; None if the row has none
        there.
        """
        value: Any = self.rows[kind][full]
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

    def where(self, kind: str, full: str, path: Path_) -> Where:
        """The place of a field, or of the part of the row around it that has one."""
        places = self.places[kind].get(full, {})
        while path and path not in places:
            path = path[:-1]
        return places.get(path) or Where(full.partition(":")[0], "", None, None, full)

    def provenance(self, row: str, field: str, kind: str = "materials") -> Provenance:
        """Set, version, file, line, source, locator of a field (`ash`, `moisture.green`) and the
        row it is inherited from.

        Raises UnknownName for a row or a field that is not there.
        """
        full = self.find(kind, row)
        path = tuple(int(p) if p.isdigit() else p for p in field.split("."))
        cell, where = self.cell(kind, full, path), self.where(kind, full, path)
        found = self.rows[kind][full]
        if cell is None and (
            len(path) != 1 or not hasattr(found, f"{field}_" if field == "class" else field)
        ):
            raise UnknownName(
                [
                    Problem(
                        "unknown-field",
                        f"'{full}' has no '{shown(field)}'",
                        "Write a field that `feedstock tables show` lists.",
                        field,
                    )
                ]
            )
        source, at, known = (
            (cell.source, cell.at, cell.known)
            if cell
            else (
                (found.source, found.at, str(found.known))
                if isinstance(found, Sourced)
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
            where.row if where.row != full else "",
        )

    def version_of(self, name: str) -> str:
        """The version of a set by its name; empty for one that is not in use."""
        return next((s.version for s in self.sets if s.name == name), "")

    def origin(self, kind: str, full: str, path: Path_, cell: Cell | None = None) -> Origin:
        """The origin of an input that is a cell of a table, for explanations."""
        cell = cell or self.cell(kind, full, path)
        where = self.where(kind, full, path)
        name = ".".join(str(p) for p in path)
        key = full.partition(":")[2] if full.startswith("reference:") else full
        text = f"{key} {name}"
        if cell is None:
            return Origin(
                "table",
                text,
                where.set,
                self.version_of(where.set),
                full,
                name,
                where.file,
                where.line,
            )
        titles = tuple(self.source_title(s, where.set) for s in cell.source)
        inherited = where.row if where.row != full else ""
        return Origin(
            "table",
            text,
            where.set,
            self.version_of(where.set),
            full,
            name,
            where.file,
            where.line,
            titles,
            cell.at,
            cell.known,
            cell.note,
            inherited,
        )

    def source_title(self, key: str, from_set: str = "") -> str:
        """A source as it is cited: authors, year, title, where."""
        full = self.source_name(key, from_set)
        if full is None:
            return key
        row = self.row("sources", full, schema.Source)
        lead = ", ".join(str(p) for p in (row.authors, row.year) if p)
        return ". ".join(
            p for p in (lead, row.title, row.where, f"doi {row.doi}" if row.doi else "") if p
        )

    def source_name(self, key: str, from_set: str = "") -> str | None:
        """The full name of a source, looked for in the set that cites it and then in all others."""
        for full in (key, f"{from_set}:{key}", f"reference:{key}"):
            if full in self.rows["sources"]:
                return full
        return next((full for full in self.rows["sources"] if full.partition(":")[2] == key), None)


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
    laid = lay(list(sets), problems)
    rows: dict[str, dict[str, Row]] = {}
    places: dict[str, dict[str, dict[Path_, Where]]] = {}
    for kind, raw_rows in laid.rows.items():
        rows[kind], places[kind] = {}, {}
        for full, raw in raw_rows.items():
            row = _typed(kind, raw, problems)
            if row is not None:
                rows[kind][full] = row
                places[kind][full] = _places(raw)
    _inherit(laid, rows["materials"], places["materials"], problems)
    check_references(laid, rows, problems)
    digests = {s.name: hashlib.sha256(canonical([s]).encode()).hexdigest() for s in laid.sets}
    infos = tuple(
        SetInfo(s.name, s.version, digests[s.name], s.licence, s.distribution) for s in laid.sets
    )
    whole = hashlib.sha256(
        "\n".join(f"{s.name} {s.version} {s.digest}" for s in infos).encode()
    ).hexdigest()
    return Tables(infos, whole, rows, places, tuple(laid.loosened), tuple(broken))


def _typed(kind: str, raw: RawRow, problems: list[Problem]) -> Row | None:
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
        return model.model_validate(raw.data)
    except ValidationError as why:
        for inner, problem in told_problems(why, model):
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


def _places(raw: RawRow) -> dict[Path_, Where]:
    found: dict[Path_, Where] = {}

    def note(set_name: str, located: Any, start: Path_, path: Path_, value: Any) -> None:
        place = located.keys.get(start) or located.places.get(start)
        line, column = place if place else (None, None)
        found[path] = Where(set_name, located.file, line, column, raw.full)
        if isinstance(value, dict) and "value" not in value:
            for key, inner in value.items():
                note(set_name, located, (*start, key), (*path, key), inner)
        elif isinstance(value, list):
            for index, inner in enumerate(value):
                if isinstance(inner, dict):
                    note(set_name, located, (*start, index), (*path, index), inner)

    place = raw.located.keys.get(raw.path)
    found[()] = Where(
        raw.set,
        raw.located.file,
        place[0] if place else None,
        place[1] if place else None,
        raw.full,
    )
    for name, value in raw.data.items():
        set_name, located, start = raw.origin(name)
        note(set_name, located, start, (name,), value)
    return found


def _inherit(
    laid: Laid, rows: dict[str, Row], places: dict[str, dict[Path_, Where]], problems: list[Problem]
) -> None:
    """Fill what a material does not give from the row that it is `like`, after all changes."""
    index = Index({full: names_of(raw) for full, raw in laid.rows["materials"].items()})
    done: dict[str, Material] = {}

    def resolve(full: str, chain: tuple[str, ...]) -> Material:
        if full in done:
            return done[full]
        row = rows[full]
        assert isinstance(row, Material)
        if row.like is None:
            done[full] = row
            return row
        raw = laid.rows["materials"][full]
        target = _like_target(row.like, raw, index)
        if isinstance(target, Problem):
            problems.append(target)
        elif target not in rows:
            pass  # the target has a fault of its own, which is reported where it stands
        elif target in chain or target == full:
            problems.append(
                raw.problem(
                    "circle",
                    f"`like` runs in a circle: {' -> '.join((*chain, full, target))}",
                    "Take one of them away.",
                    ("like",),
                )
            )
        elif len(chain) >= DEEPEST_LIKE:
            problems.append(
                raw.problem(
                    "depth",
                    f"`like` is more than {DEEPEST_LIKE} deep",
                    "Point to a row nearer the family.",
                    ("like",),
                )
            )
        else:
            row = _merged_material(
                row, resolve(target, (*chain, full)), places[full], places[target]
            )
        done[full] = row
        return row

    for full in list(rows):
        resolve(full, ())
    rows.update(done)


def _like_target(name: str, raw: RawRow, index: Index) -> str | Problem:
    own = index.find(f"{raw.set}:{name}")
    found = own if len(own) == 1 else index.find(name)
    if len(found) == 1:
        return found[0]
    if found:
        return raw.problem(
            "ambiguous",
            f"`like: {shown(name)}` stands in several rows: {', '.join(found)}",
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
    for name, info in Material.model_fields.items():
        if name in _OWN:
            continue
        mine, theirs = getattr(row, name), getattr(parent, name)
        key = info.alias or name
        if isinstance(theirs, dict):
            changes[name] = {**theirs, **mine}
            taken: Iterable[Path_] = [(key, inner) for inner in theirs if inner not in mine]
        elif name == "carries":
            # a hypothesis is added to, never dropped
            changes[name] = tuple(dict.fromkeys((*theirs, *mine)))
            taken = [(key,)] if theirs and not mine else []
        elif mine in (None, ()):
            changes[name] = theirs
            taken = [(key,)]
        else:
            continue
        for path in taken:
            if path in above:
                places[path] = above[path]
    return row.model_copy(update=changes)
