"""Words that belong to a set, and that a later set uses too."""

from __future__ import annotations

from typing import Literal

from ...quantities.frozen import frozen

How = Literal["row", "reading", "danger", "words"]


@frozen
class Owner:
    """Who understands a word: a row that goes by it, what it is read as, or the danger word in it;
    `kind` and `row` are those of the row, where one is meant, `file` and `line` where it stands.
    """

    how: How
    kind: str
    row: str
    word: str
    file: str = ""
    line: int | None = None

    def __str__(self) -> str:
        place = (
            f" ({self.file}:{self.line})" if self.line else f" ({self.file})" if self.file else ""
        )
        if self.how == "row":
            return f"a name of {self.row}, one of the {self.kind}{place}"
        if self.how == "reading":
            return f"read as {self.row}{place}"
        if self.how == "danger":
            return f"heard as the danger word '{self.word}'{place}"
        return "of words that are known"


@frozen
class Taken:
    """A word of a row of a later set that the sets before it understand: the row goes by its full
    name alone.
    """

    kind: str
    row: str
    word: str
    key: bool
    owner: Owner
    file: str = ""
    line: int | None = None
    column: int | None = None
