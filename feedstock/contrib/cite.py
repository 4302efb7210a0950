"""The sources of tables as CSL JSON and as BibTeX, for reference managers and papers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from ..tables.loading.references import used_sources
from ..tables.rows.source import Source
from ..tables.tables import Tables
from .show import found_rows

Named = tuple[str, Source]


_BIBTEX = {
    "article-journal": "article",
    "book": "book",
    "chapter": "incollection",
    "report": "techreport",
}


def cited_sources(tables: Tables, names: Iterable[str] = ()) -> list[Named]:
    """The sources by key, all of them or those that the named rows cite; a source may be named
    itself. A key that stands in several sets is told with its set.

    Raises UnknownName for a name that no row goes by.
    """
    wanted: set[str] = set()
    for name in names:
        rows = found_rows(tables, name)
        if not rows:
            tables.find("materials", name, "name")
        for kind, row_id in rows:
            if kind == "sources":
                wanted.add(row_id)
                continue
            for key in used_sources(tables.rows[kind][row_id]):
                source = tables.source_name(key, row_id.partition(":")[0])
                if source is not None:
                    wanted.add(source)
    chosen = [row_id for row_id in tables.rows["sources"] if not names or row_id in wanted]
    bare = [row_id.partition(":")[2] for row_id in chosen]
    return [
        (
            key if bare.count(key) == 1 else row_id.replace(":", "-"),
            tables.row("sources", row_id, Source),
        )
        for row_id, key in sorted(zip(chosen, bare, strict=True), key=lambda pair: pair[1])
    ]


def csl_items(sources: Iterable[Named]) -> list[dict[str, Any]]:
    """The sources as CSL JSON, an item each."""
    return [_item(key, source) for key, source in sources]


def _item(key: str, source: Source) -> dict[str, Any]:
    fields: dict[str, Any] = {
        "id": key,
        "type": kind_of(source),
        "title": source.title,
        "author": [_name(name) for name in names_of(source)],
        "issued": {"date-parts": [[source.year]]} if source.year is not None else None,
        "container-title": source.container,
        "volume": source.volume,
        "issue": source.issue,
        "page": source.pages,
        "archive_location": source.where,
        "DOI": source.doi,
        "URL": source.url,
        "note": source.note,
    }
    return {name: value for name, value in fields.items() if value}


def kind_of(source: Source) -> str:
    """The kind of a source: as it says, else an article where it has a volume, else a document."""
    return source.type or ("article-journal" if source.volume else "document")


def names_of(source: Source) -> list[str]:
    """Authors one by one; the word others stands alone at the end."""
    text = re.sub(r"[;,]?\s+and others\s*$", "; others", source.authors)
    return [name.strip() for name in text.split(";") if name.strip()]


def _name(name: str) -> dict[str, str]:
    family, comma, given = name.partition(",")
    if comma:
        return {"family": family.strip(), "given": given.strip()}
    return {"literal": name}


def bibtex(sources: Iterable[Named]) -> str:
    """The sources as a BibTeX file."""
    return "\n".join(_entry(key, source) for key, source in sources)


def _entry(key: str, source: Source) -> str:
    kind = kind_of(source)
    within = "booktitle" if kind == "chapter" else "journal"
    if kind == "report":
        within = "institution"
    fields = {
        "author": " and ".join(_bibtex_name(name) for name in names_of(source)),
        "title": f"{{{_escaped(source.title)}}}",
        "year": str(source.year) if source.year is not None else "",
        within: _escaped(source.container),
        "volume": _escaped(source.volume),
        "number": _escaped(source.issue),
        "pages": re.sub(r"(?<=\d)-(?=\d)", "--", source.pages),
        "howpublished": _escaped(source.where),
        "doi": source.doi,
        "url": source.url,
        "note": _escaped(source.note),
    }
    lines = [f"  {name} = {{{value}}}," for name, value in fields.items() if value]
    return "\n".join([f"@{_BIBTEX.get(kind, 'misc')}{{{key},", *lines, "}", ""])


def _bibtex_name(name: str) -> str:
    if name == "others" or "," in name:
        return _escaped(name)
    return f"{{{_escaped(name)}}}"


def _escaped(text: str) -> str:
    """What TeX would read as a command stands for itself."""
    return "".join(_signs(text))


def _signs(text: str) -> Iterator[str]:
    for sign in text:
        if sign == "\\":
            yield r"\textbackslash{}"
        elif sign in "{}":
            yield ""
        else:
            yield f"\\{sign}" if sign in "&%$#_" else sign
