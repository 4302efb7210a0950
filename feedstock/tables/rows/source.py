"""A source as a full record, and what it lacks."""

from __future__ import annotations

import re
from typing import Literal

from pydantic import Field

from .row import Row, Words

Seen = Literal["whole", "part", "table", "abstract", "quotation", "record", "nothing"]


Part = Literal["authors", "title", "year", "container", "volume", "pages", "address", "seen"]


Type = Literal[
    "article-journal",
    "book",
    "chapter",
    "dataset",
    "document",
    "legislation",
    "report",
    "software",
    "standard",
    "webpage",
]


class Source(Row):
    """A publication, standard, data set or page."""

    title: str
    """The title as it is printed."""
    authors: str = ""
    """Who wrote it, parted by semicolons, the family name before a comma; a body as it is called.
    """
    year: int | None = None
    """The year in which it came out."""
    type: Type | None = None
    """What kind of publication it is."""
    container: str = ""
    """The journal, series or book that it stands in."""
    volume: str = ""
    """The volume of the journal or series."""
    issue: str = ""
    """The issue within the volume."""
    pages: str = ""
    """First and last page, or the number of an article."""
    where: str = ""
    """Publisher, institution or place, where there is no container."""
    doi: str = ""
    """The digital object identifier, without an address before it."""
    url: str = ""
    """An address where it can be read, where there is no identifier."""
    licence: str = ""
    """The licence under which its numbers may be copied; needed where they are copied in bulk."""
    seen: tuple[Seen, ...] | Seen = Field(default=())
    """What of it was seen by who wrote the rows: the whole, a part, a table, the abstract, a
    quotation, only the record, or nothing.
    """
    unknown: tuple[Part, ...] | Part = Field(default=())
    """Parts of its record that were looked for and not found."""

    def lacks(self) -> tuple[Part, ...]:
        """What a full record needs and this one neither has nor calls unknown."""
        needed: dict[Part, bool] = {
            "authors": bool(self.authors) and not re.search(r"\bothers\b", self.authors),
            "year": self.year is not None,
            "container": bool(self.container or self.where),
            "pages": bool(self.pages) or not self.volume,
            "address": bool(self.doi or self.url),
            "seen": bool(self.seen),
        }
        return tuple(
            part for part, value in needed.items() if not value and part not in listed(self.unknown)
        )


def listed(words: Words | str) -> tuple[str, ...]:
    """One word as a list of one."""
    return (words,) if isinstance(words, str) else words


_MOST_AUTHORS, _NAMED = 7, 3


def _authors_text(authors: str) -> str:
    """All of up to seven; of more the first three, as a reader of a page needs no more."""
    names = [name.strip() for name in authors.split(";")]
    if len(names) <= _MOST_AUTHORS:
        return authors
    return "; ".join([*names[:_NAMED], f"and {len(names) - _NAMED} others"])


def cited_text(row: Source) -> str:
    """A source as it is cited: authors, year, title, journal with volume and pages, where, DOI."""
    volume = row.volume + (f"({row.issue})" if row.issue else "")
    place = ", ".join(filter(None, (f"{row.container} {volume}".strip(), row.pages, row.where)))
    lead = ", ".join(filter(None, (_authors_text(row.authors), str(row.year or ""))))
    return ". ".join(filter(None, (lead, row.title, place, row.doi and f"doi {row.doi}")))
