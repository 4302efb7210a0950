"""Who a word belongs to: whether some tables understand it, in any kind, by name, plural, reading
or danger.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..caches import kept_of_tables
from ..rows.methods.language import DangerWords
from .compiled import language_of
from .composition import Reading, read_material
from .danger import Hit, scan
from .index import folded, plurals, singulars
from .language import Language
from .spans import misspelt
from .taken import How, Owner
from .text import Token, tokens, words_of

if TYPE_CHECKING:
    from ..tables import Tables

SPOKEN = ("materials", "signs", "origins", "burners", "limits", "contaminants")
"""Kinds whose names a person writes or reads."""

READ = frozenset({"materials", "signs", "origins", "contaminants"})
"""Kinds whose names stand where a text is read as plant, form and state."""

HEARD = frozenset({"materials", "signs", "origins"})
"""Kinds of which a name may not hold a danger word."""

ALONE = frozenset({"methods", "scales", "cautions", "clears"})
"""Kinds that are named by tables and programs, each among its own."""


def owner_of(tables: Tables, kind: str, word: str, dangers: bool = True) -> Owner | None:
    """Who understands a word that a later set gives to a row of `kind`; None where nobody does.

    `dangers` says whether a danger word within it counts.
    """
    row = _row_owner(tables, kind, word)
    if row is not None:
        return row
    if kind in READ:
        read = _reading_owner(tables, kind, word)
        if read is not None:
            return read
    return _danger_owner(tables, word) if dangers and kind in HEARD else None


def _row_owner(tables: Tables, kind: str, word: str) -> Owner | None:
    forms = (folded(word), *plurals(folded(word)))
    near = {like for form in forms for like in (*singulars(form), *plurals(form))}
    if kind in SPOKEN and near.isdisjoint(_spellings(tables)):
        return None
    for owner_kind in dict.fromkeys((kind, *(() if kind in ALONE else SPOKEN))):
        index = tables.index(owner_kind)
        if near.isdisjoint(index.spellings):
            continue
        row_ids = next((rows for form in forms if (rows := index.find(form))), [])
        own = [row for row in row_ids if _first(tables, row)]
        # two later sets may claim one word of one kind: then neither has it alone
        if own or (row_ids and owner_kind != kind):
            return _placed(tables, "row", owner_kind, (own or row_ids)[0], word)
    return None


@kept_of_tables(8)
def _spellings(tables: Tables) -> frozenset[str]:
    """The spellings of all kinds whose names a person writes or reads."""
    return frozenset().union(*(tables.index(kind).spellings for kind in SPOKEN))


def _first(tables: Tables, row_id: str) -> bool:
    return row_id.partition(":")[0] == tables.sets[0].name


def _placed(tables: Tables, how: How, kind: str, row_id: str, word: str) -> Owner:
    where = tables.where(kind, row_id, ("names",))
    return Owner(how, kind, row_id, word, where.file, where.line)


def _reading_owner(tables: Tables, kind: str, word: str) -> Owner | None:
    vocabulary = language_of(tables)
    unknown = any(
        t.stem not in vocabulary.known and not t.word.isdigit() for t in vocabulary.split(word)
    )
    if unknown and words_of(word) not in vocabulary.homonyms:
        return None  # no need to read what no table has a word for
    read = read_material(tables, word)
    if isinstance(read, Reading):
        if read.exact and kind == "materials" and not _first(tables, read.material):
            return None
        plain = not (read.read_as.forms or read.read_as.states)
        how: How = "row" if plain else "reading"
        return _placed(tables, how, "materials", read.material, word)
    # names of materials are read with others in one text; those of other kinds stand alone
    understood = kind == "materials" and not read.not_understood
    if words_of(word) and (understood or read.code == "ask-back"):
        return Owner("words", "", "", word)
    return None


def _danger_owner(tables: Tables, word: str) -> Owner | None:
    vocabulary = language_of(tables)
    hits = scan(tables, word, "material")
    for token in tokens(word):
        # a new word of a name is heard by itself wherever it stands
        if not hits and token.stem not in vocabulary.known and _may_warn(vocabulary, token):
            hits = scan(tables, token.word, "material")
    if hits:
        return _heard(tables, hits[0])
    words = list(words_of(word))
    end, entries = vocabulary.scanned.longest(words)
    if words and end == len(words) and any(e.role == "clean" and e.warns_of for e in entries):
        return Owner("words", "", "", word)
    return None


def _may_warn(vocabulary: Language, token: Token) -> bool:
    """Whether an unknown word is one letter from a danger, or a compound of known words."""
    return misspelt(vocabulary, token) is not None or bool(vocabulary.parts(token.word))


def _heard(tables: Tables, hit: Hit) -> Owner:
    for row_id, row in tables.rows_of("methods", DangerWords):
        if hit.danger in row.of:
            where = tables.where("methods", row_id, ("of", hit.danger))
            return Owner("danger", "", "", hit.phrase, where.file, where.line)
    return Owner("danger", "", hit.row, hit.phrase)
