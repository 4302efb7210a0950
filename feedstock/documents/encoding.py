"""From a file to text: size, encoding, control characters."""

from __future__ import annotations

import os
import stat
import unicodedata
from itertools import islice
from pathlib import Path

from ..errors import InputError, Problem, file_name, nearest_names

MOST_BYTES = 1 << 20


MOST_TABLE_BYTES = 64 << 20


MOST_NAMES = 2_000
"""Names in a folder among which the nearest is looked for."""


def read_text(path: str | os.PathLike[str], most: int = MOST_BYTES) -> str:
    """The text of a file.

    Raises InputError with one problem when it is missing, a directory, binary, not UTF-8 ...
    """
    if not isinstance(path, (str, os.PathLike)):
        what = f"a {type(path).__name__} was given as the path of a file"
        raise InputError([Problem("wrong-type", what, "Give the path as text.", "path")])
    name = file_name(path)

    def refuse(code: str, what: str, expected: str, line: int | None = None) -> InputError:
        return InputError([Problem(code, what, expected, file=name, line=line)])

    try:
        if Path(path).is_dir():
            raise refuse(
                "directory",
                "this is a folder, not a file",
                "Give the path of a .yaml, .json or .csv file.",
            )
        if not stat.S_ISREG(Path(path).stat().st_mode):
            # a pipe may never end, a device may never begin
            raise refuse(
                "not-a-file", "this is a pipe or a device", "Save it as a file and give its path."
            )
        with open(path, "rb") as stream:
            raw = stream.read(most + 1)
    except FileNotFoundError:
        near = nearest_names(Path(path).name, _names_in(Path(path).parent))
        raise InputError(
            [
                Problem(
                    "missing",
                    "there is no such file",
                    "Give the path of a .yaml, .json or .csv file.",
                    file=name,
                    nearest=near,
                )
            ]
        ) from None
    except InputError:
        raise
    except (OSError, ValueError) as why:
        raise refuse(
            "unreadable",
            f"the file cannot be read ({getattr(why, 'strerror', None) or why})",
            "Give a file that may be read.",
        ) from None
    return decode(raw, name, most)


def _names_in(folder: Path) -> list[str]:
    """Names in a folder, as far as it can be looked at; of a large one the first."""
    try:
        return [entry.name for entry in islice(folder.iterdir(), MOST_NAMES)]
    except OSError:
        return []


def decode(raw: bytes, name: str, most: int = MOST_BYTES) -> str:
    """Bytes as UTF-8 text, with or without a byte order mark."""

    def refuse(code: str, what: str, expected: str, line: int | None = None) -> InputError:
        return InputError([Problem(code, what, expected, file=name, line=line)])

    if len(raw) > most:
        raise refuse(
            "too-large",
            f"the file is larger than {most >> 20} MiB",
            "Split it, or give the file that was meant.",
        )
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise refuse("encoding", "the file is in UTF-16", "Save it as UTF-8.")
    if b"\x00" in raw:
        raise refuse("binary", "this is not a text file", "Give a .yaml, .json or .csv text file.")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as why:
        line = raw.count(b"\n", 0, why.start) + 1
        raise refuse(
            "encoding",
            f"the byte {raw[why.start]:#04x} is not UTF-8 (the file may be in Latin-1)",
            "Save it as UTF-8.",
            line,
        ) from None
    if not text.strip():
        raise refuse("empty", "the file is empty", "Write at least one lot, material or row.")
    return text


def place_of_control(text: str) -> tuple[int | None, int | None]:
    """Line and column of a control character that a text must not hold."""
    for number, line in enumerate(text.split("\n"), 1):
        for column, sign in enumerate(line, 1):
            if sign not in "\t\r\x85" and unicodedata.category(sign) in ("Cc", "Cs", "Cn"):
                return number, column
    return None, None
