"""Where a file stands until it is whole."""

from __future__ import annotations

import contextlib
import hashlib
import os
import platform
import re
from itertools import count
from pathlib import Path

_NUMBERS = count()


def aside_of(target: Path, ending: str = "") -> Path:
    """A name beside a file under which no other process, thread or machine writes it. What a
    process that is gone left there of the same file is taken away.
    """
    begin, machine = f".{target.name}.", f"{_machine()}.new{ending}"
    _take_away_left(target.parent, begin, machine)
    return target.with_name(f"{begin}{os.getpid()}-{next(_NUMBERS)}-{machine}")


def _machine() -> str:
    """This machine among those that share a folder: process numbers are its own."""
    return hashlib.sha256(platform.node().encode()).hexdigest()[:8]


def _take_away_left(folder: Path, begin: str, machine: str) -> None:
    """Only files of this machine, whose process number nobody has now; one in use stays."""
    name = re.compile(rf"{re.escape(begin)}([0-9]+)-[0-9]+-{re.escape(machine)}")
    with contextlib.suppress(OSError, ValueError), os.scandir(folder) as entries:
        for entry in entries:
            found = name.fullmatch(entry.name)
            if found and entry.is_file(follow_symlinks=False) and _is_gone(int(found[1])):
                Path(entry.path).unlink()


def _is_gone(process: int) -> bool:
    if os.name != "posix":
        return False  # there the same call would end the process
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except (OSError, OverflowError):
        return False
    return False
