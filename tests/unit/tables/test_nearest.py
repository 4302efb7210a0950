"""Names offered for one that is not known."""

from __future__ import annotations

import pytest

from feedstock import load_tables
from feedstock.tables.names.alike import Name, NameIndex
from feedstock.tables.names.danger import scan
from feedstock.tables.names.nearest import nearest
from feedstock.tables.names.text import words_of
from feedstock.tables.rows.material import Material

pytestmark = pytest.mark.worked


def test_shares_a_whole_word_dangerous_rows_first() -> None:
    """`pallet bits` shares `pallet` with the pallet's rows and with no other material."""
    offer = nearest(load_tables(plugins=False), "materials", "pallet bits")
    assert offer.names
    assert all("pallet" in name for name in offer.names)


@pytest.mark.parametrize("text", ["treated", "painted chair", "creosoted post", "glued beech"])
def test_danger_is_never_answered_with_a_clearing_name(text: str) -> None:
    tables = load_tables(plugins=False)
    assert scan(tables, text, "material")
    assert "heat treated" not in nearest(tables, "signs", text).names
    for name in nearest(tables, "materials", text).names:
        row = tables.material(tables.find("materials", name))
        assert isinstance(row, Material)
        assert row.carries or row.form == "board"


def test_word_of_another_field_is_answered_with_that_field() -> None:
    """Poison ivy is a sign and no material."""
    offer = nearest(load_tables(plugins=False), "materials", "poison ivy")
    assert offer.other_fields == (("signs", "poison ivy"),)


def test_names_are_of_the_reader_s_language() -> None:
    tables = load_tables(plugins=False)
    assert "Rinde" not in nearest(tables, "materials", "rinde", "en").names
    assert "Rinde" in nearest(tables, "materials", "lose Rinde", "de").names


def test_spelling_is_forgiven_where_no_word_is_shared() -> None:
    assert "sycamore" in nearest(load_tables(plugins=False), "materials", "sycamroe").names


def test_search_looks_at_few_of_fifty_thousand_names() -> None:
    """Counted, not timed: at most 400 names a word and 400 words a group of letters."""
    texts = [f"wood{i % 977} tree{i} row" for i in range(50_000)]
    index = NameIndex(Name(text, words_of(text)) for text in texts)
    for text in ("wood12 row", "treee400 nothing", "zzzz qqqq"):
        index.looked_at = 0
        index.nearest(text)
        assert index.looked_at <= 400 * (len(text.split()) + len(text)), text
