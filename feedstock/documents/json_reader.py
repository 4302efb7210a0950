"""Strict JSON with positions."""

from __future__ import annotations

import json
import re
from typing import Any

from ..errors import InputError, Problem, shown
from .positions import Document
from .yaml_reader import read_yaml
from .yaml_walker import too_deep


def read_json(text: str, name: str) -> Document:
    """JSON with places. Raises InputError."""

    def constant(word: str) -> Any:
        raise ValueError(f"{word} is not a number that JSON knows")

    try:
        # numbers stay text, as everywhere
        json.loads(text, parse_constant=constant, parse_int=str, parse_float=str)
    except json.JSONDecodeError as why:
        raise InputError(
            [
                Problem(
                    "not-json",
                    f"this is not JSON: {why.msg}",
                    "Fix it, or write YAML in a .yaml file.",
                    file=name,
                    line=why.lineno,
                    column=why.colno,
                )
            ]
        ) from None
    except RecursionError:
        raise InputError([too_deep(name)]) from None
    except ValueError as why:
        line, column = _place_of_constant(text)
        raise InputError(
            [
                Problem(
                    "not-json",
                    f"this is not JSON: {shown(str(why))}",
                    "Fix it, or write YAML in a .yaml file.",
                    file=name,
                    line=line,
                    column=column,
                )
            ]
        ) from None
    # JSON is YAML but for tabs, two escapes and three signs that break a line in YAML
    return read_yaml(_ESCAPE_RE.sub(_escape_for_yaml, text.replace("\t", " ")), name, null="null")


_ESCAPE_RE = re.compile(
    r"\\u([dD][89abAB][0-9a-fA-F]{2})\\u([dD][c-fC-F][0-9a-fA-F]{2})|\\.|[\x85\u2028\u2029]"
)


_BREAKS = {"\x85": "\\N", "\u2028": "\\L", "\u2029": "\\P", "\\/": "/"}


def _escape_for_yaml(match: re.Match[str]) -> str:
    if match[1]:
        return (
            f"\\U{0x10000 + ((int(match[1], 16) - 0xD800) << 10) + int(match[2], 16) - 0xDC00:08x}"
        )
    return _BREAKS.get(match[0], match[0])


def _place_of_constant(text: str) -> tuple[int | None, int | None]:
    for match in re.finditer(r'"(?:\\.|[^"\\])*"|NaN|-?Infinity', text):
        if match[0][0] != '"':
            return text.count("\n", 0, match.start()) + 1, match.start() - text.rfind(
                "\n", 0, match.start()
            )
    return None, None
