"""Writing a file whole or not at all."""

from __future__ import annotations

import contextlib
import os
import stat
from pathlib import Path

from ..errors import InputError, Problem
from .aside import aside_of


def write_whole(path: str | os.PathLike[str], text: str) -> None:
    """Write a text file: aside, onto the disk, and then in the place of the old one, so that a full
    disk or a killed process leaves the old file or the new one.

    Raises InputError where that cannot be done: no such folder, no leave to write, no room, or
    something there that is no file.
    """
    if not isinstance(path, (str, os.PathLike)):
        what = f"a {type(path).__name__} was given as the name of a file"
        raise InputError([Problem("wrong-type", what, "Give the path as text.", "path")])
    name = os.fspath(path)
    if not name.strip() or "\0" in name:
        raise _refused(name, "no file was named", "Give a file to write to.")
    target = Path(os.path.realpath(path))
    aside = aside_of(target)
    try:
        if target.exists() and not stat.S_ISREG(target.stat().st_mode):
            raise _refused(name, "this is there and is no file", "Give the name of a file.")
        with open(aside, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            aside.chmod(stat.S_IMODE(target.stat().st_mode))
        aside.replace(target)
    except OSError as why:
        raise _refused(
            name,
            f"this cannot be written ({why.strerror or why}); what was there is as it was",
            "Give a file in a folder that may be written and has room.",
        ) from None
    finally:
        with contextlib.suppress(OSError):
            aside.unlink(missing_ok=True)


def _refused(name: str, what: str, remedy: str) -> InputError:
    return InputError([Problem("unwritable", what, remedy, file=name)])
