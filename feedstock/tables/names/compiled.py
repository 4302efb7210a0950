"""The words of a set of tables, compiled once per digest: what each means and in which phrase."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, TypeVar

from ..rows.contaminant import Contaminant
from ..rows.material import Material
from ..rows.methods.language import (
    CleanPhrases,
    DangerClass,
    DangerWords,
    Families,
    Forms,
    Hedges,
    Negations,
    Places,
    Plant,
    Plants,
    Removals,
    States,
    WarnsOf,
    WeakMarks,
)
from ..rows.methods.scopes import Scopes
from ..rows.row import Row
from . import scope_words
from .language import Language
from .standing import is_danger_row, is_poisonous_plant, is_tree, may_hide
from .text import words_of
from .trie import Entry, Phrase, Role

if TYPE_CHECKING:
    from ..tables import Tables

_LEAST_HEAD, _MOST_KEPT = 2, 8
_BY_WORDS = (
    CleanPhrases,
    DangerWords,
    Families,
    Forms,
    Hedges,
    Negations,
    Places,
    Plants,
    Removals,
    Scopes,
    States,
    WeakMarks,
)

R = TypeVar("R", bound=Row)

_kept: OrderedDict[str, Language] = OrderedDict()
_lock = threading.Lock()


def language_of(tables: Tables) -> Language:
    """The compiled words of these tables, kept for the process by their digest."""
    with _lock:
        kept = _kept.get(tables.digest)
        if kept is not None:
            _kept.move_to_end(tables.digest)
            return kept
    if tables.ready is not None:
        vocabulary = tables.ready.language()
    else:
        vocabulary = with_added(tables) or _compiled(tables)
    with _lock:
        _kept[tables.digest] = vocabulary
        while len(_kept) > _MOST_KEPT:
            _kept.popitem(last=False)
    return vocabulary


def methods_of(tables: Tables, model: type[R]) -> Iterator[R]:
    """The rows of one kind of method, of every set in use."""
    return (row for _, row in tables.rows_of("methods", model))


def _compiled(tables: Tables) -> Language:
    vocabulary = Language()
    for families in methods_of(tables, Families):
        vocabulary.families.update(families.of)
    _put_plants(tables, vocabulary)
    for forms in methods_of(tables, Forms):
        for key, form in forms.of.items():
            vocabulary.forms[key] = form
            _put_names(vocabulary, form.names, "form", key)
    for states in methods_of(tables, States):
        for key, state in states.of.items():
            vocabulary.states[key] = state
            _put_names(vocabulary, state.names, "state", key)
    _put_small_words(tables, vocabulary)
    _put_dangers(tables, vocabulary)
    for entries in (
        vocabulary.hedges,
        vocabulary.negations,
        vocabulary.places,
        vocabulary.bare_places,
        vocabulary.removals,
    ):
        vocabulary.known.update(word for phrase in entries for word in phrase)
    for name in scope_words.PHRASES:
        vocabulary.known.update(word for phrase in getattr(vocabulary, name) for word in phrase)
    for name in scope_words.STEMS:
        vocabulary.known.update(getattr(vocabulary, name))
    for group in (
        vocabulary.denied_between,
        vocabulary.articles,
        vocabulary.removed_between,
        vocabulary.weak_before,
    ):
        vocabulary.known.update(group)
    vocabulary.known.update(
        vocabulary.weak_after,
        vocabulary.clause_ends,
        vocabulary.removed_last,
        vocabulary.measures,
        vocabulary.tools,
    )
    _sort_first_words(vocabulary)
    return vocabulary


def _sort_first_words(vocabulary: Language) -> None:
    """Which words of a text may be passed by, and which may be the first half of a danger."""
    roots = vocabulary.scanned.first_words
    vocabulary.quiet = vocabulary.known - roots.keys()
    for word in roots:
        _sort_word(vocabulary, word)


def _sort_word(vocabulary: Language, word: str) -> None:
    node = vocabulary.scanned.after(word)
    dangers = [entry for entry in node.get("", ()) if entry.warns_of]
    if not dangers and set(node) <= {""}:
        vocabulary.quiet.add(word)
    else:
        vocabulary.quiet.discard(word)
    if any(entry.role == "danger" for entry in dangers):
        vocabulary.heads.update(word[:length] for length in range(_LEAST_HEAD, len(word) + 1))


def with_added(tables: Tables) -> Language | None:
    """The words of the tables under these, and with them those of the rows that were added; None
    where there are no such tables, or where what is added meets what was there and its place in
    their order counts.
    """
    if tables.under is None or tables.under.ready is None:
        return None
    added = {kind: [(i, tables.rows[kind][i]) for i in tables.added(kind)] for kind in _LISTED}
    if any(isinstance(tables.rows["methods"][i], _BY_WORDS) for i in tables.added("methods")):
        return None
    vocabulary = tables.under.ready.language()
    phrases = {
        phrase
        for kind, rows in added.items()
        for row_id, _ in rows
        for words in _phrases(tables.spoken(kind, row_id, heard=True))
        for phrase in (words, _without_e(words))
        if phrase
    }
    if any(vocabulary.scanned.has(words) or vocabulary.composed.has(words) for words in phrases):
        return None
    known, strong = set(vocabulary.known), list(vocabulary.strong)
    plants = _put_materials(tables, vocabulary, added["materials"])
    vocabulary.plants = vocabulary.plants.with_items(plants)  # type: ignore[attr-defined]
    _put_listed(tables, vocabulary, added)
    if list(vocabulary.strong) != strong:
        return None
    for word in (vocabulary.known - known) | {words[0] for words in phrases}:
        _sort_word(vocabulary, word)
    return vocabulary


def _put(vocabulary: Language, entry: Entry, scanned: bool = True, composed: bool = True) -> None:
    words = words_of(entry.phrase)
    vocabulary.known.update(words)
    if scanned:
        vocabulary.scanned.put(words, entry)
    if composed:
        vocabulary.composed.put(words, entry)


def _put_names(
    vocabulary: Language,
    names: Mapping[str, Iterable[str]],
    role: Role,
    key: str,
    scanned: bool = True,
) -> None:
    for language, phrases in names.items():
        for phrase in phrases:
            _put(vocabulary, Entry(role, key, phrase, language), scanned)


def _put_plants(tables: Tables, vocabulary: Language) -> None:
    """The plants of the tables, and after them the woods that are plants by their row."""
    for plants in methods_of(tables, Plants):
        for key, plant in plants.of.items():
            vocabulary.plants[key] = plant
            _put_names(vocabulary, plant.names, "plant", key)
    vocabulary.plants |= _put_materials(tables, vocabulary, tables.rows["materials"].items())


def _put_materials(
    tables: Tables, vocabulary: Language, rows: Iterable[tuple[str, Row]]
) -> dict[str, Plant]:
    """The names of materials; the plants that some of them are."""
    plants: dict[str, Plant] = {}
    for row_id, row in rows:
        if not isinstance(row, Material):
            continue
        poisonous = is_poisonous_plant(tables, row)
        if is_danger_row(row) and not poisonous:
            continue
        key, names = row_id.partition(":")[2], tables.spoken("materials", row_id)
        tree = (poisonous or is_tree(row)) and row.history is None and key != "stump-wood"
        if tree:
            grows = "conifer" if row.class_ == "softwood" else "tree"
            plant = Plant(names=names, row=row_id, family=row.class_ or "", grows=grows)
            plants[row_id] = plant
        # a clean name of a later set hides no danger word that begins or ends within it
        scanned = may_hide(tables, row_id)
        _put_names(vocabulary, names, "plant" if tree else "material", row_id, scanned)
    return plants


def _phrases(names: Mapping[str, Iterable[str]]) -> set[Phrase]:
    return {words_of(phrase) for phrases in names.values() for phrase in phrases}


def _stems(names: Mapping[str, Iterable[str]]) -> set[str]:
    return {word for phrase in _phrases(names) for word in phrase}


def _put_small_words(tables: Tables, vocabulary: Language) -> None:
    for clean in methods_of(tables, CleanPhrases):
        _put_clean(vocabulary, clean.phrases)
        for language, phrases in clean.phrases.items():
            for phrase in phrases:
                vocabulary.asides.put(words_of(phrase), Entry("plain", "", phrase, language))
        for language, phrases in clean.plain.items():
            for phrase in phrases:
                _put(vocabulary, Entry("plain", "", phrase, language))
    for hedges in methods_of(tables, Hedges):
        vocabulary.hedges |= _phrases(hedges.words)
    vocabulary.hedge_ends = {phrase[-1] for phrase in vocabulary.hedges if phrase}
    for negations in methods_of(tables, Negations):
        vocabulary.negations |= _phrases(negations.words)
        vocabulary.denied_between |= _stems(negations.between)
    for places in methods_of(tables, Places):
        vocabulary.places |= _phrases(places.words)
        vocabulary.bare_places |= _phrases(places.bare)
        vocabulary.articles |= _stems(places.articles)
        vocabulary.beside_between |= _stems(places.between)
        vocabulary.staying |= _stems(places.staying)
        vocabulary.within |= _stems(places.within)
    for removals in methods_of(tables, Removals):
        vocabulary.removals |= _phrases(removals.words)
        vocabulary.removed_between |= _stems(removals.between)
        vocabulary.removed_last |= _stems(removals.last)
    for marks in methods_of(tables, WeakMarks):
        vocabulary.weak_before |= _stems(marks.before)
        vocabulary.weak_after |= _stems(marks.after)
        vocabulary.clause_ends |= _stems(marks.ends)
        vocabulary.homonyms |= _phrases(marks.homonyms)
        vocabulary.measures |= _stems(marks.measures)
        vocabulary.tools |= _stems(marks.tools)
    for scopes in methods_of(tables, Scopes):
        for name in scope_words.PHRASES:
            getattr(vocabulary, name).update(_phrases(getattr(scopes, name)))
        for name in scope_words.STEMS:
            getattr(vocabulary, name).update(_stems(getattr(scopes, name)))


_LISTED = ("signs", "origins", "contaminants", "materials")
_UNLISTED: dict[str, WarnsOf] = {
    "signs": "on it",
    "origins": "place",
    "contaminants": "on it",
    "materials": "thing",
}
_LONG = 7


def _put_dangers(tables: Tables, vocabulary: Language) -> None:
    rows = dict(tables.rows_of("methods", DangerWords))
    vocabulary.clearing = frozenset(name for row in rows.values() for name in row.clearing)
    vocabulary.barked = frozenset(name for row in rows.values() for name in row.barked)
    for method, row in rows.items():
        for key, one in row.of.items():
            vocabulary.classes.setdefault(key, (method, one))
            for names, weak in ((one.words, False), (one.weak, True)):
                for language, phrases in names.items():
                    for phrase in phrases:
                        _put_danger(vocabulary, key, one, phrase, language, weak=weak)
            for language, phrases in one.denied.items():
                for phrase in phrases:
                    entry = Entry("clean", key, phrase, language, one.warns_of)
                    _put(vocabulary, entry, composed=False)
    _put_listed(tables, vocabulary, {kind: tables.rows[kind].items() for kind in _LISTED})


def _put_listed(
    tables: Tables, vocabulary: Language, added: Mapping[str, Iterable[tuple[str, Row]]]
) -> None:
    """The names of rows that warn by themselves, or because a class of dangers lists them."""
    rows = [row for _, row in tables.rows_of("methods", DangerWords)]
    clearing, silent = vocabulary.clearing, {name for row in rows for name in row.silent}
    listed: dict[tuple[str, str], tuple[str, DangerClass]] = {}
    for method in rows:
        for key, one in method.of.items():
            for kind in _LISTED:
                listed.update({(kind, name): (key, one) for name in getattr(one, kind)})
    faint = {words for row in rows for one in row.of.values() for words in _phrases(one.weak)}
    for kind, items in added.items():
        for row_id, danger in items:
            set_name, _, name = row_id.partition(":")
            # the lists name rows of the first set
            if set_name != tables.sets[0].name:
                name = row_id
            place = listed.get((kind, name))
            if name in clearing and kind == "signs":
                _put_clean(vocabulary, danger.names, denials=False)
            if place is None and (name in clearing | silent or not _raises(kind, row_id, danger)):
                continue
            key, one = place or (row_id, DangerClass(warns_of=_UNLISTED[kind]))
            for language, phrases in tables.spoken(kind, row_id, heard=True).items():
                for phrase in phrases:
                    weak = words_of(phrase) in faint
                    _put_danger(vocabulary, key, one, phrase, language, weak, row_id, kind)


def _without_e(words: Phrase) -> Phrase:
    """A phrase without the `e` of a long last word; empty for one that has none."""
    if words and len(words[-1]) > _LONG - 2 and words[-1].endswith("e"):
        return (*words[:-1], words[-1][:-1])
    return ()


def _put_clean(
    vocabulary: Language, names: Mapping[str, Iterable[str]], denials: bool = True
) -> None:
    """Phrases that mean no danger; without those that begin with a negation if `denials` is off:
    what they deny is heard as any denial is, with its hedges.
    """
    for language, phrases in names.items():
        for phrase in phrases:
            if denials or not any((word,) in vocabulary.negations for word in words_of(phrase)[:1]):
                _put(vocabulary, Entry("clean", "", phrase, language), composed=False)


def _raises(kind: str, row_id: str, row: Row) -> bool:
    """Whether a row that no class lists is a danger by its names."""
    if isinstance(row, Material):
        return is_danger_row(row)
    return kind != "contaminants" or (
        isinstance(row, Contaminant) and not row_id.startswith("reference:")
    )


def _put_danger(
    vocabulary: Language,
    key: str,
    one: DangerClass,
    phrase: str,
    language: str,
    weak: bool = False,
    row: str = "",
    kind: str = "",
) -> None:
    what = (one.warns_of, row, weak, one.foreign, one.under_bark, kind)
    entry = Entry("danger", key, phrase, language, *what)
    _put(vocabulary, entry, composed=False)
    words = words_of(phrase)
    if short := _without_e(words):
        vocabulary.scanned.put(short, entry)  # `creosot`, from creosoting
        vocabulary.known.add(short[-1])
    if len(words) == 1 and not weak and len(words[0]) >= _LONG - 1 <= len(phrase) - 1:
        vocabulary.strong[words[0]] = None
