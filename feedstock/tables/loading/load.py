"""`load_tables`: the reference, installed packages and own sets, kept for the process."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any, Literal, Protocol

from ...errors import Problem, TableError
from ..names.nearest import prepare
from ..tables import Tables
from .build import build
from .discover import plugin_sources
from .raw import RawSet
from .reader import read_set
from .source import MOST_ENTRIES, TableSource, reference_source

Given = str | os.PathLike[str] | Mapping[str, Any] | TableSource


Plugins = bool | Literal["skip broken"]


_cache: dict[Any, Tables] = {}


_CACHE_MOST = 16


_reference_cache: dict[Any, RawSet] = {}


class _LoadTables(Protocol):
    def __call__(
        self, *paths: Given, plugins: Plugins = True, reference: bool = True
    ) -> Tables: ...
    def refresh(self) -> None: ...


def _load_tables(*paths: Given, plugins: Plugins = True, reference: bool = True) -> Tables:
    """The reference tables, then those of installed packages, then the given files, folders or
    dicts, later ones on top.

    `plugins="skip broken"` turns a broken package into a finding on every result; otherwise it is a
    TableError that names the distribution. Without paths the tables are cached for the process
    (`load_tables.refresh()` forgets them); with paths the files are read again only when they
    changed. Raises TableError with all problems.
    """
    wrong = [p for p in paths if not isinstance(p, (str, os.PathLike, Mapping, TableSource))]
    if wrong:
        raise TableError(
            [
                Problem(
                    "wrong-type",
                    f"a {type(p).__name__} was given as a set of tables",
                    "Give a path, a dict or a TableSource, each as an argument of its own.",
                )
                for p in wrong
            ]
        )
    key = (tuple(_stamp(p) for p in paths), plugins, reference)
    cacheable = None not in key[0]
    if cacheable and key in _cache:
        return _cache[key]
    tables = _load(paths, plugins, reference)
    if cacheable:
        while len(_cache) >= _CACHE_MOST:
            _cache.pop(next(iter(_cache)))
        _cache[key] = tables
    return tables


def _load(paths: tuple[Given, ...], plugins: Plugins, reference: bool) -> Tables:
    problems: list[Problem] = []
    broken: list[Problem] = []
    sets: list[RawSet] = []
    if reference:
        sets.append(_reference())
    if plugins:
        for _, source in plugin_sources():
            into = broken if plugins == "skip broken" else problems
            try:
                if isinstance(source, TableError):
                    raise source
                read = read_set(source)
                if plugins == "skip broken":
                    build([*sets, read])
                sets.append(read)
            except TableError as why:
                into.extend(_named(why, source))
    for path in paths:
        try:
            sets.append(read_set(path if isinstance(path, TableSource) else TableSource.of(path)))
        except TableError as why:
            problems.extend(why.problems)
    if problems:
        raise TableError(problems)
    tables = build(sets, broken)
    prepare(tables)
    return tables


def _reference() -> RawSet:
    """The reference set as text, read again only when its files changed: every own set is laid over
    it, and reading it takes longer than all that follows. Nothing below changes what was read.
    """
    source = reference_source()
    stamp = _stamp(source.root)
    if stamp is None:
        return read_set(source)
    if stamp not in _reference_cache:
        found = read_set(source)
        _reference_cache.clear()
        _reference_cache[stamp] = found
    return _reference_cache[stamp]


def _named(why: TableError, source: TableSource | TableError) -> Iterator[Problem]:
    """The problems of a package, each with the distribution's name before it."""
    for problem in why.problems:
        name = source.distribution if isinstance(source, TableSource) else ""
        file = (
            problem.file if not name or name in (problem.file or "") else f"{name}: {problem.file}"
        )
        yield Problem(
            problem.code,
            problem.what,
            problem.expected,
            problem.field,
            problem.given,
            file,
            problem.line,
            problem.column,
            problem.nearest,
        )


def _stamp(given: object) -> Any:
    """What must be unchanged for a cached result to hold; None for what cannot be watched."""
    if not isinstance(given, (str, os.PathLike)):
        return None
    path = Path(given)
    try:
        if path.is_dir():
            every = list(islice(path.rglob("*"), MOST_ENTRIES + 1))
            if len(every) > MOST_ENTRIES:
                return None
            inside = sorted(p for p in every if p.suffix in (".yaml", ".yml") and p.is_file())
            return (
                os.fspath(path.resolve()),
                *((os.fspath(p), p.stat().st_mtime_ns, p.stat().st_size) for p in inside),
            )
        if path.is_file():
            return (os.fspath(path.resolve()), path.stat().st_mtime_ns, path.stat().st_size)
    except (OSError, ValueError):
        # what cannot be looked at is told when it is read
        return None
    return None


def _refresh() -> None:
    """Forget all cached tables."""
    _cache.clear()
    _reference_cache.clear()


_load_tables.refresh = _refresh  # type: ignore[attr-defined]


load_tables: _LoadTables = _load_tables  # type: ignore[assignment]
