"""What every row has."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from ...quantities.cell import Known
from ...quantities.sealed import sealed
from ...words import Texts

SCHEMA = 1
"""The number of the shape that this version reads and writes; it stands in every `set`."""


def _as_tuple(value: Any) -> Any:
    return (value,) if isinstance(value, str) else value


Words = Annotated[tuple[str, ...], BeforeValidator(_as_tuple)]


Names = dict[str, Words]


def seal(model: BaseModel) -> None:
    """Close every mapping in a row and in its parts, so that no host can change what all share."""
    for name, value in model.__dict__.items():
        for part in _parts(value):
            seal(part)
        if isinstance(value, dict):
            model.__dict__[name] = sealed(value)


def _parts(value: Any) -> Iterator[BaseModel]:
    if isinstance(value, BaseModel):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from _parts(item)
    elif isinstance(value, tuple):
        for item in value:
            yield from _parts(item)


class Row(BaseModel):
    """What every row has: it is frozen, refuses unknown fields, and may say which names it goes
    by.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    kind: ClassVar[str] = ""

    names: Names = Field(default_factory=dict)
    note: str = ""

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
    at: str = ""
    known: Known = "read"
