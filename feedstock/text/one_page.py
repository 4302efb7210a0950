"""The one page: what a person carries to the pit. Each thing is said once; where the heap is long,
detail gives way to the names of lots, never the other way round.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.appraisal import Appraisal
from ..words import Reader
from ..words.layout import wrapped as _broken
from .burn_steps import burn_head, burn_steps
from .contents import Contents

_MOST = 60
_ONE_LOT, _FEW, _EVER = 40, 7, 90
_LEVELS = 4
_MINUTES = 15
"""Columns of the minutes before a step of the feeding."""


_WIDTH = 79
"""One column more would break the line in a window of eighty."""


def wrapped(text: str, first: str = "", rest: str | None = None) -> str:
    """Text broken at the width of the page."""
    return _broken(text, first, rest, _WIDTH, whole_words=False)


def most_lines(lots: int) -> int:
    """How many lines the page of so many lots may have.

    >>> most_lines(1), most_lines(7), most_lines(9), most_lines(40)
    (40, 60, 62, 90)
    """
    return _ONE_LOT if lots == 1 else min(_EVER, _MOST + max(0, lots - _FEW))


def one_page(result: Appraisal, reader: Reader) -> str:
    """The page, as full as its length allows."""
    most = most_lines(len(result.lots))
    lines: list[str] = []
    for level in range(_LEVELS):
        lines = "\n".join(_lines(Contents(result, reader, level))).split("\n")
        if len(lines) <= most:
            break
    return "\n".join(lines) + "\n"


def _what(contents: Contents, gap: tuple[str, ...]) -> Iterator[str]:
    """What was appraised, and the lots by what is to be done with them; of one lot where lines are
    dear without a break.
    """
    parts = list(contents.groups())
    if contents.level > 2 and len(contents.result.lots) == 1:
        texts = [": ".join((part.head, *part.items)) for part in parts]
        yield wrapped(". ".join([contents.head(), *(text.rstrip(".") for text in texts)]) + ".")
        return
    yield wrapped(contents.head())
    yield from gap
    for part in parts:
        yield wrapped(part.head, rest="  ")
        yield from (wrapped(item, "  ", "    ") for item in part.items)


def _lines(contents: Contents) -> Iterator[str]:
    dear = contents.level > 1
    gap = () if dear else ("",)
    yield from _what(contents, gap)
    yield from (wrapped(text, rest="  ") for text in contents.read_as())
    yield from gap
    result, reader = contents.result, contents.reader
    head, *more = burn_head(result, reader)
    if contents.level > 2:
        head, more = ". ".join(text.rstrip(".") for text in (head, *more)) + ".", []
    yield wrapped(head, rest="  ")
    yield from (wrapped(text, "  ", "    ") for text in more)
    for number, step in enumerate(burn_steps(result, reader, short=True), 1):
        yield wrapped(step.text, f" {number}. ")
        for when, text in step.feeding:
            lead = _MINUTES if when else 5
            yield wrapped(text, f"    {when}".ljust(lead - 1) + " ", " " * lead)
    yield from gap
    # the figure that stands on top of the page: the char of what is ready, where anything is
    figure = "char_volume_ready" if result.char_volume_ready.mid_value > 0 else "char_volume"
    last = [*contents.last(), reader.say("sheet.more", lots=len(result.lots), figure=figure)]
    yield from (wrapped(text, rest="  ") for text in ([" ".join(last)] if dear else last))
