"""Checks between rows: every name that a row gives of another row must be there."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from typing import Any

from ...errors import Problem
from ...quantities.cell import Cell
from ..names.index import Index
from ..rows.contaminant import Clears, Condition, Contaminant, Load, Sign
from ..rows.material import Material
from ..rows.methods.load import Binders, Paint, Preservatives
from ..rows.row import Row, Sourced
from .overlay import Laid
from .raw import RawRow

_KIND_OF = {
    "signs": "signs",
    "origins": "origins",
    "not_origins": "origins",
    "materials": "materials",
}


def check_references(
    laid: Laid, rows: Mapping[str, Mapping[str, Row]], problems: list[Problem]
) -> None:
    """Append a problem for every source, sign, origin, material or hypothesis that is named and not
    there.
    """
    # from the text rows, so that a row with a fault of its own is not also reported as missing
    index = {
        kind: Index({full: names_of(raw) for full, raw in each.items()})
        for kind, each in laid.rows.items()
    }
    sources = {full.partition(":")[2] for full in laid.rows["sources"]} | set(laid.rows["sources"])
    methods = list(rows["methods"].values())
    for kind, each in rows.items():
        for full, row in each.items():
            raw = laid.rows[kind][full]
            _check_sources(raw, row, sources, problems)
            _check_names(raw, row, index, methods, problems)


def names_of(raw: RawRow) -> list[str]:
    """The names of a row that is still text."""
    names = raw.data.get("names")
    lists = names.values() if isinstance(names, dict) else ()
    return [
        name
        for each in lists
        for name in ([each] if isinstance(each, str) else each or ())
        if isinstance(name, str)
    ]


def used_sources(row: Row) -> set[str]:
    """The keys of the sources that a row cites."""
    found = set(row.source) if isinstance(row, Sourced) else set()
    if isinstance(row, Contaminant):
        found.update(key for each in row.settles for key in each.source)
    for _, cell in cells_of(row):
        found.update(cell.source)
    return found


Path = tuple[str | int, ...]


def cells_of(row: Row, of: Container[str] | None = None) -> list[tuple[Path, Cell]]:
    """Every cell of a row with its path; of the named fields only, where they are named."""
    found: list[tuple[Path, Cell]] = []
    for name, info in type(row).model_fields.items():
        key = info.alias or name
        if of is None or key in of:
            _collect(getattr(row, name), (key,), found)
    return found


def _collect(value: Any, path: Path, found: list[tuple[Path, Cell]]) -> None:
    if isinstance(value, Cell):
        found.append((path, value))
        return
    items: Iterable[tuple[str | int, Any]]
    if isinstance(value, Mapping):
        items = value.items()
    elif isinstance(value, tuple):
        items = enumerate(value)
    elif hasattr(type(value), "model_fields"):
        items = [
            (info.alias or name, getattr(value, name))
            for name, info in type(value).model_fields.items()
        ]
    else:
        return
    for key, each in items:
        if each and not isinstance(
            each, (str, int, float)
        ):  # most of what stands in a row is empty, or words
            _collect(each, (*path, key), found)


def _check_sources(raw: RawRow, row: Row, sources: set[str], problems: list[Problem]) -> None:
    if isinstance(row, Sourced):
        if row.known not in ("practice", "judgement") and not (row.source and row.at):
            problems.append(
                raw.problem(
                    "no-source",
                    f"'{raw.key}' needs a source and where it stands there",
                    "Write source: and at:; or known: judgement or practice.",
                )
            )
        elif row.known == "memory" and "from memory" not in row.at:
            problems.append(
                raw.problem(
                    "no-source",
                    f"'{raw.key}' is from memory and does not say so",
                    "Write `from memory` into at:.",
                    ("at",),
                )
            )
        for key in row.source:
            if key not in sources:
                problems.append(
                    raw.problem(
                        "unknown-source",
                        f"there is no source '{key}'",
                        "Add it under `sources`.",
                        ("source",),
                        Index({f":{s}": [] for s in sources}).nearest(key),
                    )
                )
    for number, each in enumerate(row.settles if isinstance(row, Contaminant) else ()):
        for key in each.source:
            if key not in sources:
                problems.append(
                    raw.problem(
                        "unknown-source",
                        f"there is no source '{key}'",
                        "Add it under `sources`.",
                        ("settles", number, "source"),
                        Index({f":{s}": [] for s in sources}).nearest(key),
                    )
                )
    for path, cell in cells_of(row, of=raw.data):  # what is inherited is reported where it stands
        for key in cell.source:
            if key not in sources:
                problems.append(
                    raw.problem(
                        "unknown-source",
                        f"there is no source '{key}'",
                        "Add it under `sources`.",
                        (*path, "source"),
                        Index({f":{s}": [] for s in sources}).nearest(key),
                    )
                )


def _load_is_there(symbol: str, each: Load, methods: Iterable[Row]) -> bool:
    """Whether what a load is computed by stands in some method."""
    for row in methods:
        if isinstance(row, Preservatives) and each.by == "retention" and each.of in row.of:
            return symbol in row.of[each.of].elements and each.use in row.of[each.of].retention
        if isinstance(row, Paint) and each.by == "film" and each.of in row.of:
            film = row.of[each.of]
            return symbol in film.loading or (
                symbol in film.share and None not in (film.coats, film.thickness, film.density)
            )
        if isinstance(row, Binders) and each.by == "agent" and each.of in row.of:
            return symbol in row.of[each.of].elements and "usual" in row.of[each.of].resin
    return each.by == "content" and each.content is not None


def _check_names(
    raw: RawRow,
    row: Row,
    index: Mapping[str, Index],
    methods: Sequence[Row],
    problems: list[Problem],
) -> None:
    def need(kind: str, names: Iterable[str], path: tuple[str | int, ...]) -> None:
        for name in names:
            if len(index[kind].find(name)) != 1:
                problems.append(
                    raw.problem(
                        "unknown-name",
                        f"'{name}' is not one row of `{kind}`",
                        f"Name a row of `{kind}`.",
                        path,
                        index[kind].nearest(name),
                    )
                )

    def condition(each: Condition, path: tuple[str | int, ...]) -> None:
        for part, kind in _KIND_OF.items():
            need(kind, getattr(each, part), (*path, part))

    if isinstance(row, Material) and "carries" in raw.data:
        need("contaminants", row.carries, ("carries",))
    elif isinstance(row, Contaminant):
        for number, rule in enumerate(row.raised_by):
            condition(rule, ("raised_by", number))
        for symbol, each in row.loads.items():
            if not _load_is_there(symbol, each, methods):
                problems.append(
                    raw.problem(
                        "unknown-name",
                        f"no method says how much {symbol} that is",
                        "Name a preservative with its use, a film or an agent of "
                        "`methods`, or give a content.",
                        ("loads", symbol),
                    )
                )
    elif isinstance(row, Clears):
        need("contaminants", (row.hypothesis,), ("hypothesis",))
        of = index["contaminants"].find(row.hypothesis)
        if len(of) == 1 and of[0].partition(":")[0] != raw.set and row.loosens is None:
            problems.append(
                raw.problem(
                    "undeclared-gate",
                    f"this clears '{of[0]}', a suspicion of another set, and does not say so",
                    "Write loosens: {reason: ...}.",
                    ("hypothesis",),
                )
            )
        condition(row.when, ("when",))
        if row.unless is not None:
            condition(row.unless, ("unless",))
    elif isinstance(row, Sign):
        need("signs", row.excludes, ("excludes",))
