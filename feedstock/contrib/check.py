"""The checker for a table set: everything that is wrong or doubtful in one run, and what the set
changes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, MutableMapping
from dataclasses import dataclass, field, replace

from ..errors import Problem, shown
from ..quantities.cell import ENDS, KNOWN, Cell
from ..tables.loading.build import build_what_can_be_built
from ..tables.loading.layers import laid, over_reference, reference_name, reference_set
from ..tables.loading.load import load_tables
from ..tables.loading.raw import RawRow, RawSet
from ..tables.loading.reader import read_set, read_what_can_be_read
from ..tables.loading.references import cells_of, used_sources
from ..tables.loading.source import TableSource
from ..tables.names.index import folded
from ..tables.names.owners import SPOKEN
from ..tables.rows.row import Sourced
from ..tables.rows.source import Source
from ..tables.tables import Tables
from ..words.layout import listed
from .new import placeholders
from .panel import Change, changes, looser, lost
from .plausible import against_class, far_from_class, impossible, too_dense
from .texts import bare_quantities


@dataclass(slots=True)
class Report:
    """What a check found.

    `errors` must be mended before the set loads; `warnings` are worth a look.
    """

    name: str
    version: str
    files: int
    rows: dict[str, int]
    cells: dict[str, int]
    ends: dict[str, int]
    errors: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)
    placeholders: list[Problem] = field(default_factory=list)
    """What still stands as the starter wrote it."""
    changes: list[Change] = field(default_factory=list)
    shared: list[str] = field(default_factory=list)
    """Words that the set uses in two kinds."""

    @property
    def passed(self) -> bool:
        return not self.errors


def check(source: TableSource, with_panel: bool = True) -> Report:
    """Check a set by itself and as it lies on the reference tables, with everything that is found
    at once.
    """
    errors: list[Problem] = []
    warnings: list[Problem] = []
    own_set = read_what_can_be_read(source, errors)
    # the reference set is checked as it is; any other lies on top of it
    alone = own_set.name == reference_name()
    tables = _built(own_set, alone, errors)
    impossible(tables, [own_set.name], errors, warnings)
    too_dense(tables, [own_set.name], errors)
    far_from_class(tables, [own_set.name], warnings)
    against_class(tables, [own_set.name], warnings)
    bare_quantities(tables, own_set.name, errors)
    _taken(tables, own_set.name, errors)
    _unused_sources(tables, own_set, warnings)
    _incomplete_sources(tables, own_set, warnings)
    if own_set.files:
        _described(own_set, source, warnings)
    report = Report(
        own_set.name,
        own_set.version,
        own_set.files,
        {kind: len(rows) for kind, rows in own_set.rows.items() if rows},
        count_known(tables, own_set),
        count_ends(tables, own_set),
        _sorted(errors),
        _sorted(warnings),
        _sorted(list(placeholders(own_set, source.label))),
    )
    if alone:
        report.shared = words_of_two_kinds(tables)
    if with_panel and not errors and not alone:
        report.changes = changes(load_tables(plugins=False), tables)
        _borne_out(own_set, tables, report)
    return report


def _built(own_set: RawSet, alone: bool, problems: list[Problem]) -> Tables:
    """The tables with a set, as far as they can be built; from the files of the reference where
    something is wrong, so that it can be told by its line.
    """
    if alone:
        return build_what_can_be_built([own_set], problems)
    over = None if problems else over_reference([own_set])
    return over or build_what_can_be_built([reference_set([]), own_set], problems)


def _sorted(problems: list[Problem]) -> list[Problem]:
    return sorted(
        dict.fromkeys(problems), key=lambda p: (p.file or "", p.line or 0, p.column or 0, p.code)
    )


def count_known(tables: Tables, own_set: RawSet) -> dict[str, int]:
    """How many values of a set are read, derived, from memory, common practice or judgement."""
    counts = Counter(cell.known for cell in _own_cells(tables, own_set))
    for kind in ("contaminants", "clears", "signs", "cautions"):
        for row_id, row in tables.rows[kind].items():
            if isinstance(row, Sourced) and row_id.partition(":")[0] == own_set.name:
                counts[row.known] += 1
    return {known: counts[known] for known in KNOWN if counts[known]}


def count_ends(tables: Tables, own_set: RawSet) -> dict[str, int]:
    """How many intervals of a set are read, derived, judged or made by a rule, and how many values
    have none.
    """
    counts = Counter(cell.ends for cell in _own_cells(tables, own_set))
    exact = {"none": counts.pop("", 0)}
    rules = sorted(word for word in counts if word not in ENDS)
    return {word: count for word in (*ENDS, *rules) if (count := counts[word])} | {
        word: count for word, count in exact.items() if count
    }


def _own_cells(tables: Tables, own_set: RawSet) -> Iterator[Cell]:
    """Every cell that stands in a set: in a row of its own, or in one that it changes."""
    changed = {(change.kind, change.target.rpartition(":")[2]) for change in own_set.changes}
    for kind, rows in tables.rows.items():
        for row_id, row in rows.items():
            of_set, _, key = row_id.partition(":")
            if of_set != own_set.name and (kind, key) not in changed:
                continue
            for path, cell in cells_of(row):
                where = tables.where(kind, row_id, path)
                if where.set == own_set.name and where.row in (row_id, ""):
                    yield cell


def _taken(tables: Tables, set_name: str, errors: list[Problem]) -> None:
    """A word of the set that the sets before it understand: it is told with both places."""
    marks: set[tuple[str, str]] = set()
    # a name before a key of the same word, for its place is the nearer one
    for word in sorted(tables.taken, key=lambda taken: taken.key):
        mark = (word.row, folded(word.word))
        if word.row.partition(":")[0] == set_name and mark not in marks:
            marks.add(mark)
            errors.append(
                Problem(
                    "taken-word",
                    f"'{shown(word.word)}' is taken: it is {word.owner}",
                    f"Give another {'key' if word.key else 'name'}; {word.row} goes by its full "
                    "name alone.",
                    f"{word.kind}.{word.row.partition(':')[2]}",
                    word.word,
                    word.file,
                    word.line,
                    word.column,
                )
            )


def words_of_two_kinds(tables: Tables) -> list[str]:
    """The words that one set uses in two kinds, so that the field decides what is meant."""
    kinds_of: dict[str, set[str]] = {}
    for kind in SPOKEN:
        for row_id in tables.rows[kind]:
            for names in tables.spoken(kind, row_id).values():
                for name in names:
                    kinds_of.setdefault(folded(name), set()).add(kind)
    return [
        f"{word} ({', '.join(sorted(kinds))})"
        for word, kinds in sorted(kinds_of.items())
        if len(kinds) > 1
    ]


def _unused_sources(tables: Tables, own_set: RawSet, warnings: list[Problem]) -> None:
    used: set[str] = set()
    for kind, rows in tables.rows.items() if own_set.rows["sources"] else ():
        for row_id, row in rows.items():
            if kind != "sources":
                used |= {
                    tables.source_name(key, row_id.partition(":")[0]) or key
                    for key in used_sources(row)
                }
    for key, raw in own_set.rows["sources"].items():
        if raw.row_id not in used:
            warnings.append(
                raw.problem(
                    "unused-source",
                    f"the source '{key}' is cited nowhere",
                    "Cite it, or take it out.",
                    key=True,
                )
            )


def _incomplete_sources(tables: Tables, own_set: RawSet, warnings: list[Problem]) -> None:
    """A record that lacks a part and does not call it unknown is worth a look, and no more."""
    for key, raw in own_set.rows["sources"].items():
        row = tables.rows["sources"].get(raw.row_id)
        if isinstance(row, Source) and (lacks := row.lacks()):
            warnings.append(
                raw.problem(
                    "incomplete-source",
                    f"the source '{key}' lacks {listed(lacks)}",
                    f"Write {'it' if len(lacks) == 1 else 'them'}, or say "
                    f"`unknown: [{', '.join(lacks)}]`.",
                    key=True,
                )
            )


def _described(own_set: RawSet, source: TableSource, warnings: list[Problem]) -> None:
    for name in ("licence", "maintainer", "description"):
        if not getattr(own_set, name):
            warnings.append(
                Problem(
                    "not-described",
                    f"the set does not give its {name}",
                    f"Write {name}: under `set`, so that others may use it.",
                    f"set.{name}",
                    file=source.label,
                )
            )


def _borne_out(own_set: RawSet, tables: Tables, report: Report) -> None:
    """No verdict of the panel becomes easier unsaid, and no lot of it is lost."""
    for change in lost(report.changes):
        report.errors.append(
            Problem(
                "lost",
                f"on the panel a lot can no longer be appraised: {change}",
                "Take the change back, or give what the lot needs.",
                file=own_set.name,
            )
        )
    easier = looser(report.changes)
    if easier and any(loosening.set == own_set.name for loosening in tables.loosened):
        easier = looser(_unsaid(own_set))
    for change in easier:
        report.errors.append(
            Problem(
                "looser",
                f"on the panel a verdict becomes easier: {change}",
                "Take the change back, or declare loosens: {reason: ...}.",
                file=own_set.name,
            )
        )


def _unsaid(own_set: RawSet) -> list[Change]:
    """What a set changes on the panel without all that it declares to loosen."""
    rows: dict[str, MutableMapping[str, RawRow]] = {
        kind: {key: row for key, row in kept.items() if "loosens" not in row.data}
        for kind, kept in own_set.rows.items()
    }
    unsaid = [change for change in own_set.changes if "loosens" not in change.data]
    if not unsaid and not any(rows.values()):
        return []
    problems: list[Problem] = []
    undeclared = replace(own_set, rows=rows, changes=unsaid, digest="")
    without = _built(undeclared, False, problems)
    # what does not stand without its declared part is judged with it
    return [] if problems else changes(load_tables(plugins=False), without)


def load_pair(source: TableSource) -> Tables:
    """The tables with a set: the set alone if it is a form of the reference set, else on top of the
    reference. Raises TableError.
    """
    own_set = read_set(source)
    return laid([own_set], reference=own_set.name != reference_name())
