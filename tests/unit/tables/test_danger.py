"""Danger words in what a person writes."""

from __future__ import annotations

import pytest

from feedstock import load_tables
from feedstock.tables.names import compiled
from feedstock.tables.names.compiled import language_of
from feedstock.tables.names.danger import is_dismissed, scan, unread
from feedstock.tables.names.meanings import Field
from feedstock.tables.names.trie import Trie

pytestmark = pytest.mark.worked


def kinds(text: str, field: Field = "remarks", settled: tuple[str, ...] = ()) -> set[str]:
    return {hit.warns_of for hit in scan(load_tables(plugins=False), text, field, settled)}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("creosoted", "on it"),
        ("fenceposts", "thing"),
        ("chip board", "thing"),
        ("near a smelter", "place"),
        ("beside the oil drum", "on it"),
        ("covered in poison ivy", "plant"),
        ("varnised once", "on it"),
        ("no longer painted", "on it"),
        ("over half is fence", "thing"),
        ("near-new decking", "thing"),
        ("no bark, painted", "on it"),
        ("without HT", "on it"),
        ("paint removed", "on it"),
        ("old shed", "thing"),
        ("from the shed", "thing"),
    ],
)
def test_danger_is_heard(text: str, kind: str) -> None:
    assert kind in kinds(text)


@pytest.mark.parametrize(
    "text",
    [
        "never painted",
        "no paint or varnish",
        "free of nails",
        "unpainted",
        "behind the shed",
        "stacked against my fence",
        "nails pulled",
        "all the wire removed",
        "crate of cones",
        "box elder",
        "copper beech",
        "bean poles",
        "shed its bark",
        "table-high",
    ],
)
def test_harmless_turn_of_phrase_raises_nothing(text: str) -> None:
    assert not kinds(text)


def test_hedged_denial_is_a_danger() -> None:
    """What is mostly unpainted is painted somewhere; the denial alone raises nothing."""
    assert kinds("unpainted") == set()
    assert kinds("mostly unpainted") == {"on it"}


def test_settled_words_raise_nothing_more() -> None:
    assert kinds("the fence by the road") == {"thing", "place"}
    assert kinds("the fence", settled=("fence",)) == set()


def test_bark_settles_a_weak_thing_save_posts() -> None:
    """A log in its bark came `from the house` and is none; `barn wood` is asked about all the
    same.
    """
    tables = load_tables(plugins=False)
    assert scan(tables, "from the house", "name")
    assert not scan(tables, "from the house", "name", nature="in bark")
    assert scan(tables, "barn wood", "name", nature="in bark")
    assert scan(tables, "fence post", "name", nature="in bark")
    assert scan(tables, "painted", "name", nature="in bark")


def test_short_foreign_word_counts_as_the_material_alone() -> None:
    """`if` is the French yew and an English word."""
    assert not kinds("dry it if wet")
    assert "plant" in kinds("if", "material")


def test_hit_tells_phrase_and_place() -> None:
    (hit,) = scan(load_tables(plugins=False), "some old Fence posts", "name")
    assert (hit.phrase, hit.start, hit.end, hit.field) == ("Fence posts", 9, 20, "name")


def test_a_hit_is_dismissed_by_its_phrase_or_the_danger_word_within() -> None:
    tables = load_tables(plugins=False)
    (hit,) = scan(tables, "limbs off the fence posts", "name")
    assert all(is_dismissed(tables, hit, word) for word in ("fence posts", "fence", "Fences"))
    assert not any(is_dismissed(tables, hit, word) for word in ("paint", "limbs", "", "wood fence"))


def test_words_that_nothing_knows() -> None:
    assert unread(load_tables(plugins=False), "oak and zarfs 2023") == ("zarfs",)


def test_names_of_another_set_are_heard() -> None:
    """A sign that a set adds is a danger word without being listed."""
    own = {
        "set": {"name": "own", "version": "1", "schema": "1"},
        "signs": {
            "gribble-marks": {
                "names": {"en": ["gribble marks"]},
                "meaning": "bored by gribbles: the wood lay in the sea",
                "known": "judgement",
            }
        },
    }
    hits = scan(load_tables(own, plugins=False), "gribble marks", "name")
    assert [hit.row for hit in hits] == ["own:gribble-marks"]


def test_compiled_once_for_a_digest() -> None:
    tables = load_tables(plugins=False)
    assert language_of(tables) is language_of(tables)
    assert len(compiled._kept) <= compiled._MOST_KEPT


def test_scan_walks_the_index_once_a_word(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted, not timed: at most two walks a word, however many phrases the index holds."""
    tables = load_tables(plugins=False)
    language_of(tables)
    walks, walk = [0], Trie.longest

    def counted(self: Trie, stems: list[str], at: int = 0, limit: int | None = None):  # type: ignore[no-untyped-def]
        walks[0] += 1
        return walk(self, stems, at, limit)

    monkeypatch.setattr(Trie, "longest", counted)
    text = "cut in february and stacked dry on the east side "
    for times in (1, 10, 100):
        walks[0] = 0
        scan(tables, text * times)
        assert walks[0] <= 2 * times * len(text.split())
