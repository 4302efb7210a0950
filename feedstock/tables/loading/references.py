"""Checks between rows: every name that a row gives of another row must be there."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from ...errors import MOST_PROBLEMS, Problem, nearest_names
from ...quantities.cell import UNSOURCED, Cell
from ..names.index import Index
from ..rows.contaminant import AddedContent, Clears, Condition, Contaminant, Sign
from ..rows.light import Light
from ..rows.material import Material
from ..rows.methods.elements import Binders, Paint, Preservatives
from ..rows.methods.language import DangerWords
from ..rows.row import Row, Sourced
from .overlay import MergedSets
from .raw import RawRow, names_of

_KIND_OF = {
    "signs": "signs",
    "origins": "origins",
    "not_origins": "origins",
    "materials": "materials",
}


def names_by_kind(laid: MergedSets) -> dict[str, Index]:
    """The names of all rows, from their text, so that a row with a fault of its own is not also
    reported as missing.
    """
    return {
        kind: Index({row_id: names_of(raw) for row_id, raw in item.items()}, offers=MOST_PROBLEMS)
        for kind, item in laid.rows.items()
    }


def check_references(
    laid: MergedSets,
    rows: Mapping[str, Mapping[str, Row]],
    index: Mapping[str, Index],
    methods: Mapping[str, Row],
    problems: list[Problem],
) -> None:
    """Append a problem for every source, sign, origin, material or hypothesis that some rows name
    and that is not there among the names of all.
    """
    sources = {row_id.partition(":")[2] for row_id in laid.rows["sources"]} | set(
        laid.rows["sources"]
    )
    for kind, item in rows.items():
        for row_id, row in item.items():
            raw = laid.rows[kind][row_id]
            _check_sources(raw, row, sources, problems)
            _check_names(raw, row, index, methods, problems)


def used_sources(row: Row) -> set[str]:
    """The keys of the sources that a row cites."""
    keys = set(row.source) if isinstance(row, Sourced) else set()
    if isinstance(row, Contaminant):
        keys.update(key for _, step in row.steps() for key in step.source)
    if isinstance(row, DangerWords):
        keys.update(key for danger in row.of.values() for key in danger.source)
    for _, cell in cells_of(row):
        keys.update(cell.source)
    return keys


Path = tuple[str | int, ...]


def cells_of(row: Row, of: Container[str] | None = None) -> list[tuple[Path, Cell]]:
    """Every cell of a row with its path; of the named fields only, where they are named."""
    cells: list[tuple[Path, Cell]] = []
    for name, key in row.keyed_fields():
        if of is None or key in of:
            _collect(getattr(row, name), (key,), cells)
    return cells


def _collect(value: Any, path: Path, cells: list[tuple[Path, Cell]]) -> None:
    if isinstance(value, Cell):
        cells.append((path, value))
        return
    items: Iterable[tuple[str | int, Any]]
    if isinstance(value, Mapping):
        items = value.items()
    elif isinstance(value, tuple):
        items = enumerate(value)
    elif isinstance(value, Light):
        items = [(key, getattr(value, name)) for name, key in value.keyed_fields()]
    else:
        return
    for key, item in items:
        if item and not isinstance(
            item, (str, int, float)
        ):  # most of what stands in a row is empty, or words
            _collect(item, (*path, key), cells)


def cited(raw: RawRow, row: Row) -> tuple[tuple[Path, tuple[str, ...]], ...]:
    """The keys of the sources of each cell that stands in a row itself."""
    cells = cells_of(row, of=raw.data)
    return tuple((path, cell.source) for path, cell in cells if cell.source)


def _check_sources(raw: RawRow, row: Row, sources: set[str], problems: list[Problem]) -> None:
    def known(keys: Iterable[str], path: Path) -> None:
        for key in (item for item in keys if item not in sources):
            nearest = nearest_names(key, sources) if len(problems) < MOST_PROBLEMS else ()
            what, remedy = f"there is no source '{key}'", "Add it under `sources`."
            problems.append(raw.problem("unknown-source", what, remedy, path, nearest))

    if isinstance(row, Sourced):
        if row.known not in UNSOURCED and not (row.source and row.at):
            what = f"'{raw.key}' needs a source and where it stands there"
            remedy = "Write source: and at:; or known: judgement or practice."
            problems.append(raw.problem("no-source", what, remedy))
        elif row.known == "memory" and "from memory" not in row.at:
            what = f"'{raw.key}' is from memory and does not say so"
            problems.append(
                raw.problem("no-source", what, "Write `from memory` into at:.", ("at",))
            )
        known(row.source, ("source",))
    for at, step in row.steps() if isinstance(row, Contaminant) else ():
        known(step.source, (*at, "source"))
    for name, danger in row.of.items() if isinstance(row, DangerWords) else ():
        known(danger.source, ("of", name, "source"))
    # what is inherited is reported where it stands
    for path, keys in cited(raw, row) if raw.checked is None else raw.checked.cited:
        known(keys, (*path, "source"))


def _content_is_there(symbol: str, content: AddedContent, methods: Iterable[Row]) -> bool:
    """Whether what a load is computed by stands in some method."""
    for row in methods:
        if isinstance(row, Preservatives) and content.by == "retention" and content.of in row.of:
            return (
                symbol in row.of[content.of].elements
                and content.use in row.of[content.of].retention
            )
        if isinstance(row, Paint) and content.by == "film" and content.of in row.of:
            film = row.of[content.of]
            return symbol in film.loading or (
                symbol in film.share and None not in (film.coats, film.thickness, film.density)
            )
        if isinstance(row, Binders) and content.by == "agent" and content.of in row.of:
            return symbol in row.of[content.of].elements and "usual" in row.of[content.of].resin
    return content.by == "content" and content.content is not None


@dataclass(slots=True)
class _Names:
    """Looks names of a row up, and reports those that are not one row."""

    raw: RawRow
    index: Mapping[str, Index]
    methods: Mapping[str, Row]
    problems: list[Problem]

    def need(self, kind: str, names: Iterable[str], path: Path) -> None:
        for name in names:
            if len(self.index[kind].find(name)) != 1:
                what, remedy = f"'{name}' is not one row of `{kind}`", f"Name a row of `{kind}`."
                nearest = self.index[kind].nearest(name)
                self.problems.append(self.raw.problem("unknown-name", what, remedy, path, nearest))

    def condition(self, condition: Condition, path: Path) -> None:
        for part, kind in _KIND_OF.items():
            self.need(kind, getattr(condition, part), (*path, part))

    def contaminant(self, row: Contaminant) -> None:
        for number, rule in enumerate(row.raised_by):
            self.condition(rule, ("raised_by", number))
        for symbol, added in row.element_content.items():
            for number, case in enumerate(added.unless):
                self.condition(case, ("element_content", symbol, "unless", number))
            if not _content_is_there(symbol, added, self.methods.values()):
                what = f"no method says how much {symbol} that is"
                remedy = (
                    "Name a preservative with its use, a film or an agent of `methods`, or give a "
                    "content."
                )
                path = ("element_content", symbol)
                self.problems.append(self.raw.problem("unknown-name", what, remedy, path))

    def clears(self, row: Clears) -> None:
        self.need("contaminants", (row.hypothesis,), ("hypothesis",))
        of = self.index["contaminants"].find(row.hypothesis)
        if len(of) == 1 and of[0].partition(":")[0] != self.raw.set and row.loosens is None:
            what = f"this clears '{of[0]}', a suspicion of another set, and does not say so"
            remedy = "Write loosens: {reason: ...}."
            path = ("hypothesis",)
            self.problems.append(self.raw.problem("undeclared-gate", what, remedy, path))
        self.condition(row.when, ("when",))
        if row.unless is not None:
            self.condition(row.unless, ("unless",))


def _check_names(
    raw: RawRow,
    row: Row,
    index: Mapping[str, Index],
    methods: Mapping[str, Row],
    problems: list[Problem],
) -> None:
    names = _Names(raw, index, methods, problems)
    if isinstance(row, Material) and "carries" in raw.data:
        names.need("contaminants", row.carries, ("carries",))
    elif isinstance(row, Contaminant):
        names.contaminant(row)
    elif isinstance(row, Clears):
        names.clears(row)
    elif isinstance(row, Sign):
        names.need("signs", row.excludes, ("excludes",))
