"""`load_tables`: the reference, installed packages and own sets, kept for the process."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from itertools import islice
from pathlib import Path
from typing import Any, Literal, Protocol

from ...errors import Problem, TableError
from ..caches import MOST
from ..tables import Tables
from .discover import plugin_sources
from .kept import forget_shared, shared_reference
from .source import MOST_ENTRIES, Given, TableSource

Plugins = bool | Literal["skip broken"]


_cache: dict[Any, Tables] = {}
"""By the stamps of their files; those that were asked for last stand last. So many as leave
something in what is worked out of tables, and the reference alone besides.
"""


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
    changed, and the few that were asked for last are kept. Raises TableError with all problems.
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
    tables = _cache.get(key) if cacheable else None
    if tables is None:
        tables = _load(paths, plugins, reference)
    if cacheable:
        _keep(key, tables)
    return tables


def _keep(key: Any, tables: Tables) -> None:
    """Of sets from files, what they held before goes, and what nobody asked for longest."""
    _cache.pop(key, None)
    if key[0]:
        others = [each for each in list(_cache) if each[0]]
        before = [each for each in others if _names(each) == _names(key)]
        rest = [each for each in others if each not in before]
        for each in (*before, *rest[: max(0, len(rest) + 1 - MOST)]):
            _cache.pop(each, None)
    _cache[key] = tables


def _names(key: Any) -> Any:
    """The key without what stands in the files."""
    return [stamp[0] for stamp in key[0]], *key[1:]


def _load(paths: tuple[Given, ...], plugins: Plugins, reference: bool) -> Tables:
    plugin_sets = list(plugin_sources()) if plugins else []
    if reference and not paths and not plugin_sets:
        kept = shared_reference()
        if kept is not None:
            return kept
    # the reader and all that lays sets over each other, which few programs need
    from .layers import layered, reference_alone

    if reference and not paths and not plugin_sets:
        return reference_alone()
    return layered(paths, plugin_sets, plugins == "skip broken", reference)


def _stamp(source: object) -> Any:
    """What must be unchanged for a cached result to hold; None for what cannot be watched."""
    if not isinstance(source, (str, os.PathLike)):
        return None
    path = Path(source)
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
    forget_shared()
    layers = sys.modules.get(f"{__package__}.layers")
    if layers is not None:
        layers.forget()


_load_tables.refresh = _refresh  # type: ignore[attr-defined]


load_tables: _LoadTables = _load_tables  # type: ignore[assignment]
