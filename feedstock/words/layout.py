"""Lines of a width."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

WIDTH = 78


def listed(words: Iterable[str]) -> str:
    """`a, b and c`."""
    *head, last = list(words) or [""]
    return f"{', '.join(head)} and {last}" if head else last


def wrapped(
    text: str,
    first: str = "",
    rest: str | None = None,
    width: int = WIDTH,
    whole_words: bool = True,
) -> str:
    """Text broken at the width, with a lead on the first line and blanks under it; `whole_words`
    leaves a word that is longer than a line as it is.
    """
    return textwrap.fill(
        text,
        width,
        initial_indent=first,
        subsequent_indent=" " * len(first) if rest is None else rest,
        break_long_words=not whole_words,
        break_on_hyphens=False,
    )
