"""A source."""

from __future__ import annotations

from .row import Row


class Source(Row):
    """A publication, standard, data set or page."""

    title: str
    authors: str = ""
    year: int | None = None
    where: str = ""
    doi: str = ""
    url: str = ""
    licence: str = ""
