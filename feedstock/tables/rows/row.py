"""What every row has."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, ClassVar

from pydantic import BeforeValidator, Field

from ...errors import shown
from ...quantities.cell import Cell, Known
from ...quantities.estimate import custom_error
from ...quantities.sealed import sealed
from ...words import Texts
from .light import Light

SCHEMA = 2
"""The number of the shape that this version reads and writes; it stands in every `set`."""


def as_tuple(value: Any) -> Any:
    """One word as a list of one."""
    return (value,) if isinstance(value, str) else value


Words = Annotated[tuple[str, ...], BeforeValidator(as_tuple)]


def _by_language(value: Any) -> Any:
    if not isinstance(value, (str, list)):
        return value
    first = value if isinstance(value, str) else ", ".join(map(str, value))
    what, remedy = "names are given by language", f"Write names: {{en: [{shown(first)}]}}."
    raise custom_error("not-by-language", what, remedy)


Names = Annotated[dict[str, Words], BeforeValidator(_by_language)]


_WHOLE = frozenset({str, int, float, bool, type(None), Cell, Texts})
"""What holds no mapping that could be changed."""


def seal(model: Light) -> None:
    """Close every mapping in a row and in its parts, so that no host can change what all share."""
    for name, value in model.__dict__.items():
        if value.__class__ in _WHOLE:
            continue
        for part in _parts(value):
            seal(part)
        if isinstance(value, dict):
            model.__dict__[name] = sealed(value)


def _parts(value: Any) -> Iterator[Light]:
    if isinstance(value, Light):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from _parts(item)
    elif isinstance(value, tuple):
        for item in value:
            yield from _parts(item)


class Row(Light):
    """What every row has."""

    kind: ClassVar[str] = ""

    names: Names = Field(default_factory=dict)
    """What a person calls it, by language (`en`, `de`, `fr`, `es`); the first English name is the
    one that is shown.
    """
    note: str = ""
    """What a reader of the table should know of the row: how a value was made, what was left out.
    """

    def display(self, key: str) -> str:
        """The first English name, or the key."""
        english = self.names.get("en") or next(iter(self.names.values()), ())
        return english[0] if english else key.replace("-", " ")

    def called(self, key: str) -> Texts:
        """The first name in every language of the row; in English the key where there is none."""
        first = {language: names[0] for language, names in self.names.items() if names}
        return Texts({**first, "en": self.display(key)})


class Sourced(Row):
    """A row whose text is a claim about the world and has its source."""

    source: Words = ()
    """Keys of the sources on which the row as a whole rests."""
    at: str = ""
    """Where in the source it stands: table, page, section, line."""
    known: Known = "read"
    """How the row is known: read in the source, derived from it, remembered, common practice or a
    judgement.
    """
