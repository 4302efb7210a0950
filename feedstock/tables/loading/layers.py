"""Sets laid over each other from their files: the reference, installed packages, own sets."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from ...errors import Problem, TableError
from ..names.nearest import prepare
from ..tables import Tables
from .build import build
from .compile import compiled
from .kept import keep, key_of, reference_folder, shared_reference
from .over import Elsewhere, laid_over
from .raw import RawSet
from .reader import read_set, read_what_can_be_read
from .source import Given, TableSource, reference_source

_reference: dict[str, tuple[RawSet, list[Problem]]] = {}


def reference_alone() -> Tables:
    """The reference tables from their files; kept for the next process where that may be."""
    raw_set = whole_reference()
    tables = build([raw_set])
    place = reference_folder()
    if place is not None and place[1]:
        keep(compiled(tables, raw_set, key_of(*place)))
    return tables


def compiled_reference(with_code: bool) -> bytes:
    """The reference tables as they are kept, for a package to bring."""
    place = reference_folder()
    assert place is not None, "there are no reference tables here"
    raw_set = whole_reference()
    return compiled(build([raw_set]), raw_set, key_of(place[0], with_code))


def layered(
    paths: Iterable[Given],
    plugins: Iterable[tuple[str, TableSource | TableError]],
    skip_broken: bool,
    reference: bool,
) -> Tables:
    """The sets of all sources, later ones on top. Raises TableError with all problems; with
    `skip_broken` those of a package are told by every result instead.
    """
    problems: list[Problem] = []
    broken: list[Problem] = []
    sets: list[RawSet] = []
    for _, source in plugins:
        try:
            if isinstance(source, TableError):
                raise source
            read = read_set(source)
            if skip_broken:
                _built([*sets, read], reference)
            sets.append(read)
        except TableError as why:
            (broken if skip_broken else problems).extend(_named(why, source))
    for path in paths:
        try:
            sets.append(read_set(path if isinstance(path, TableSource) else TableSource.of(path)))
        except TableError as why:
            problems.extend(why.problems)
    if problems:
        raise TableError(problems)
    return laid(sets, reference, broken)


def laid(sets: Sequence[RawSet], reference: bool, broken: Iterable[Problem] = ()) -> Tables:
    """Sets over each other and, where it is asked for, over the reference, ready for names that
    nobody wrote. Raises TableError with all problems.
    """
    tables = _built(sets, reference, broken)
    prepare(tables)
    return tables


def _built(sets: Sequence[RawSet], reference: bool, broken: Iterable[Problem] = ()) -> Tables:
    """The sets laid over each other and over the reference, as it is kept or from its files."""
    if not reference:
        return build(sets, broken)
    over = over_reference(sets, broken)
    if over is not None:
        return over
    alone = shared_reference() or reference_alone()  # the next process has it kept
    tables = build([whole_reference(), *sets], broken)
    del alone  # the words of the first set were asked of it
    return tables


def over_reference(sets: Sequence[RawSet], broken: Iterable[Problem] = ()) -> Tables | None:
    """The sets over the reference as it is kept; None where the files themselves must be asked."""
    base = shared_reference()
    if base is not None:
        with contextlib.suppress(Elsewhere):
            return laid_over(base, sets, broken)
    return None


def reference_name() -> str:
    """The name of the reference set."""
    base = shared_reference()
    return reference_set([]).name if base is None else base.sets[0].name


def whole_reference() -> RawSet:
    """The reference set as text. Raises TableError with every problem of its outer shape."""
    problems: list[Problem] = []
    raw_set = reference_set(problems)
    if problems:
        raise TableError(problems)
    return raw_set


def reference_set(problems: list[Problem]) -> RawSet:
    """What can be read of the reference set, as text, read again only when its files changed: every
    set that is checked is laid over it, and reading it takes longer than all that follows. Nothing
    below changes what was read; what is wrong goes into `problems`.
    """
    place = reference_folder()
    key = "" if place is None else key_of(place[0], with_code=False)
    if key not in _reference:
        found: list[Problem] = []
        raw_set = read_what_can_be_read(reference_source(), found)
        _reference.clear()
        _reference[key] = raw_set, found
    raw_set, found = _reference[key]
    problems.extend(found)
    return raw_set


def forget() -> None:
    """Forget the reference set."""
    _reference.clear()


def _named(why: TableError, source: TableSource | TableError) -> Iterator[Problem]:
    """The problems of a package, each with the distribution's name before it."""
    for problem in why.problems:
        name = source.distribution if isinstance(source, TableSource) else ""
        file = (
            problem.file if not name or name in (problem.file or "") else f"{name}: {problem.file}"
        )
        yield replace(problem, file=file)
