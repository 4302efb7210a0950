"""Whether tables that came by two ways are the same in all that is asked of them."""

from __future__ import annotations

from feedstock import Tables
from feedstock.tables.names.compiled import _compiled, with_added
from feedstock.tables.names.language import _ROWS, _SETS, _TRIES


def same_tables(over: Tables, files: Tables) -> None:
    """Those laid over what is kept, and those of the files: sets, rows, places, names, words."""
    assert over == files
    assert (over.sets, over.loosened, over.taken) == (files.sets, files.loosened, files.taken)
    for kind, rows in files.rows.items():
        assert list(over.rows[kind]) == list(rows)
        assert dict(over.rows[kind]) == dict(rows)
        assert over.index(kind).parts() == files.index(kind).parts()
        for row_id, places in files.places[kind].items():
            assert list(over.places[kind][row_id].items()) == list(places.items())
    _same_words(over, files)


def _same_words(over: Tables, files: Tables) -> None:
    words = with_added(over)
    if words is None:
        return
    whole = _compiled(files)
    for name in (*_SETS, "strong"):
        assert getattr(words, name) == getattr(whole, name)
    assert list(words.strong) == list(whole.strong)
    for name in _ROWS:
        assert list(getattr(words, name).items()) == list(getattr(whole, name).items())
    for name in _TRIES:
        assert getattr(words, name).first_words == getattr(whole, name).first_words
