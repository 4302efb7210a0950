"""Where the reference set that was read and checked before is kept: in an installed library inside
the package, in a checkout beside the tables, under a digest of all that it was made of.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from ...quantities.sealed import SealedDict
from ..places import Loosened, SetInfo
from ..register import register
from ..store import Store
from ..tables import Tables

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

INSIDE = "_tables"
"""The folder of the tables in an installed package."""

FOLDER, NAME = ".compiled", "reference.jsonl"

# what decides how a table file is read and kept; in an installed package it is as old as the tables
_CODE = ("errors.py", "documents", "quantities", "tables", "words")


def reference_folder() -> tuple[Traversable, bool] | None:
    """The folder of the reference tables, and whether it stands in a checkout."""
    package = _package()
    inside = package / INSIDE
    if inside.is_dir():
        return inside, False
    beside = Path(str(package)).parent / "tables"
    if beside.is_dir() and (beside.parent / "pyproject.toml").is_file():
        return beside, True
    return None


def _package() -> Traversable:
    """Where this library stands: a folder, or a part of a zip file."""
    folder = Path(__file__).parents[2]
    if folder.is_dir():
        return folder
    from importlib.resources import files  # takes as long to load as the tables

    return files("feedstock")


def kept_reference() -> Tables | None:
    """The reference tables as they are kept; None where none are kept for what stands in the table
    files now.
    """
    place = reference_folder()
    if place is None:
        return None
    folder, checkout = place
    try:
        content = _holder(folder, checkout).joinpath(FOLDER, NAME).read_bytes()
        store = Store.read(content, key_of(folder, checkout))
    except OSError:
        return None
    return None if store is None else _tables(store)


_shared: dict[str, Tables] = {}


def shared_reference() -> Tables | None:
    """The reference as it is kept, taken apart once for all who use it or lay sets over it."""
    place = reference_folder()
    key = "" if place is None else key_of(*place)
    if key not in _shared:
        tables = kept_reference()
        if tables is None:
            return None
        _shared.clear()
        _shared[key] = tables
    return _shared[key]


def forget_shared() -> None:
    """Take it apart anew when it is next asked for."""
    _shared.clear()


def _holder(folder: Traversable, checkout: bool) -> Traversable:
    """Where the folder of what is kept stands: inside the tables of a package, which are built
    whole; beside those of a checkout, which are built into one.
    """
    return folder.parent if checkout and isinstance(folder, Path) else folder


def key_of(folder: Traversable, with_code: bool) -> str:
    """The digest of all table files, and of the code that reads them."""
    digest = hashlib.sha256()
    _feed(digest, folder, (".yaml", ".yml"))
    if with_code:
        package = _package()
        for name in _CODE:
            _feed(digest, package / name, (".py",))
    return digest.hexdigest()


def _feed(digest: hashlib._Hash, top: Traversable, endings: tuple[str, ...]) -> None:
    for name, file in sorted(_inside(top, "", endings), key=lambda each: each[0]):
        content = file.read_bytes()
        digest.update(f"{name} {len(content)}\n".encode())
        digest.update(content)


def _inside(
    top: Traversable, name: str, endings: tuple[str, ...]
) -> Iterator[tuple[str, Traversable]]:
    if isinstance(top, Path) and top.is_dir():
        for folder, inner, names in os.walk(top, onerror=_raise, followlinks=True):
            inner[:] = [each for each in inner if not each.startswith((".", "__pycache__"))]
            under = f"{name}{folder[len(str(top)) :]}".replace(os.sep, "/")
            for each in names:
                if each.endswith(endings) and not each.startswith("."):
                    yield f"{under}/{each}", Path(folder, each)
    elif name.endswith(endings) or not name and top.is_file():
        yield name, top
    elif top.is_dir():
        for entry in top.iterdir():
            if not entry.name.startswith((".", "__pycache__")):
                yield from _inside(entry, f"{name}/{entry.name}", endings)


def _raise(why: OSError) -> NoReturn:
    raise why


def _tables(store: Store) -> Tables:
    head = store.head
    kinds = head["rows"]
    tables = Tables(
        tuple(SetInfo(**fields) for fields in head["sets"]),
        head["digest"],
        SealedDict({kind: store.rows(kind) for kind in kinds}),
        SealedDict({kind: store.places(kind) for kind in kinds}),
        tuple(Loosened(*fields) for fields in head["loosened"]),
        ready=store,
    )
    register(tables)
    return tables


def keep(content: bytes) -> None:
    """Put compiled tables beside those of a checkout. Nothing is lost where that cannot be: they
    are read from their files again.
    """
    place = reference_folder()
    if place is None or not place[1] or not isinstance(place[0], Path):
        return
    from ...documents.aside import aside_of  # only where something is kept

    folder = place[0].parent / FOLDER
    with contextlib.suppress(OSError):
        folder.mkdir(exist_ok=True)
        aside = aside_of(folder / NAME)
        try:
            aside.write_bytes(content)
            aside.replace(folder / NAME)
        finally:
            aside.unlink(missing_ok=True)
