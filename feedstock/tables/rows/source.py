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
    """A publication, standard, data set or page.

    `authors` are separated by semicolons, the family name before a comma, a body as it is called;
    `container` is the journal, series or book that it stands in, `seen` what of it was seen, and
    `unknown` what of its record was looked for and not found.
    """

    title: str
    authors: str = ""
    year: int | None = None
    type: Type | None = None
    container: str = ""
    volume: str = ""
    issue: str = ""
    pages: str = ""
    where: str = ""
    doi: str = ""
    url: str = ""
    licence: str = ""
    seen: tuple[Seen, ...] | Seen = Field(default=())
    unknown: tuple[Part, ...] | Part = Field(default=())

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
            part for part, held in needed.items() if not held and part not in listed(self.unknown)
        )


def listed(words: Words | str) -> tuple[str, ...]:
    """One word as a list of one."""
    return (words,) if isinstance(words, str) else words


def cited_text(row: Source) -> str:
    """A source as it is cited: authors, year, title, journal with volume and pages, where, DOI."""
    volume = row.volume + (f"({row.issue})" if row.issue else "")
    place = ", ".join(filter(None, (f"{row.container} {volume}".strip(), row.pages, row.where)))
    lead = ", ".join(filter(None, (row.authors, str(row.year or ""))))
    return ". ".join(filter(None, (lead, row.title, place, row.doi and f"doi {row.doi}")))
