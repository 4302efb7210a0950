"""Table sets that installed packages bring, found in the entry-point group `feedstock.tables`."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.metadata import distributions
from typing import TYPE_CHECKING, Any

from ...errors import Problem, TableError
from .source import TableSource

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

GROUP = "feedstock.tables"


def plugin_sources() -> Iterator[tuple[str, TableSource | TableError]]:
    """Every installed set's distribution, sorted by name, with its source or the error that loading
    it gave.

    Loading imports the package, so its code is trusted; its YAML is not.
    """
    # to look for the name is a tenth of the work of taking every list of entry points apart, and
    # most machines have no such package
    if not any(GROUP in (dist.read_text("entry_points.txt") or "") for dist in distributions()):
        return
    import importlib_metadata

    entries = importlib_metadata.entry_points(group=GROUP)
    for item in sorted(entries, key=lambda e: (_distribution(e), e.name)):
        name = _distribution(item)
        try:
            yield name, TableSource.of(_folder(item), name)
        except TableError as why:
            yield name, why
        except Exception as why:
            yield (
                name,
                TableError(
                    [
                        Problem(
                            "broken-package",
                            f"the table package cannot be loaded: {type(why).__name__}: {why}",
                            f"Fix or uninstall it (entry point {item.name} = {item.value}).",
                            file=name,
                        )
                    ]
                ),
            )


def _distribution(entry: Any) -> str:
    dist = getattr(entry, "dist", None)
    return f"{dist.name} {dist.version}" if dist is not None else entry.value.split(":")[0]


def _folder(entry: Any) -> Traversable:
    """The value names a package whose folder holds the set, or `package:attr` naming a folder."""
    loaded = entry.load()
    if hasattr(loaded, "__path__") and hasattr(loaded, "__name__"):
        from importlib.resources import files

        return files(loaded.__name__)
    if callable(loaded):
        loaded = loaded()
    if not (hasattr(loaded, "iterdir") and hasattr(loaded, "is_dir")):
        raise TableError(
            [
                Problem(
                    "broken-package",
                    f"{entry.value} names neither a package nor a folder",
                    "Let it name the package that holds the table files.",
                    file=_distribution(entry),
                )
            ]
        )
    if not (loaded.is_dir() or loaded.is_file()):
        raise TableError(
            [
                Problem(
                    "missing",
                    f"{entry.value} names a folder that is not there",
                    "Ship the table files inside the package.",
                    file=_distribution(entry),
                )
            ]
        )
    return loaded  # type: ignore[no-any-return]
