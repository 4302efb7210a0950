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
from ..rows.row import Row
from .language import Language
from .standing import is_danger_row, is_poisonous_plant, is_tree, may_hide
from .text import words_of
from .trie import Entry, Phrase, Role

if TYPE_CHECKING:
    from ..tables import Tables

_LEAST_HEAD, _MOST_KEPT = 2, 8

R = TypeVar("R", bound=Row)

_kept: OrderedDict[str, Language] = OrderedDict()
_lock = threading.Lock()


def language_of(tables: Tables) -> Language:
    """The compiled words of these tables, kept for the process by their digest."""
    with _lock:
        found = _kept.get(tables.digest)
        if found is not None:
            _kept.move_to_end(tables.digest)
            return found
    made = tables.ready.language() if tables.ready is not None else _compiled(tables)
    with _lock:
        _kept[tables.digest] = made
        while len(_kept) > _MOST_KEPT:
            _kept.popitem(last=False)
    return made


def methods_of(tables: Tables, model: type[R]) -> Iterator[R]:
    """The rows of one kind of method, of every set in use."""
    return (row for _, row in tables.rows_of("methods", model))


def _compiled(tables: Tables) -> Language:
    made = Language()
    for families in methods_of(tables, Families):
        made.families.update(families.of)
    _put_plants(tables, made)
    for forms in methods_of(tables, Forms):
        for key, form in forms.of.items():
            made.forms[key] = form
            _put_names(made, form.names, "form", key)
    for states in methods_of(tables, States):
        for key, state in states.of.items():
            made.states[key] = state
            _put_names(made, state.names, "state", key)
    _put_small_words(tables, made)
    _put_dangers(tables, made)
    for entries in (made.hedges, made.negations, made.places, made.bare_places, made.removals):
        made.known.update(word for phrase in entries for word in phrase)
    for group in (made.denied_between, made.articles, made.removed_between, made.weak_before):
        made.known.update(group)
    made.known.update(
        made.weak_after, made.clause_ends, made.removed_last, made.measures, made.tools
    )
    _sort_first_words(made)
    return made


def _sort_first_words(made: Language) -> None:
    """Which words of a text may be passed by, and which may be the first half of a danger."""
    roots = made.scanned.first_words
    made.quiet = made.known - roots.keys()
    for word, node in roots.items():
        dangers = [entry for entry in node.get("", ()) if entry.warns_of]
        if not dangers and set(node) == {""}:
            made.quiet.add(word)
        if any(entry.role == "danger" for entry in dangers):
            made.heads.update(word[:length] for length in range(_LEAST_HEAD, len(word) + 1))


def _put(made: Language, entry: Entry, scanned: bool = True, composed: bool = True) -> None:
    words = words_of(entry.phrase)
    made.known.update(words)
    if scanned:
        made.scanned.put(words, entry)
    if composed:
        made.composed.put(words, entry)


def _put_names(
    made: Language,
    names: Mapping[str, Iterable[str]],
    role: Role,
    key: str,
    scanned: bool = True,
) -> None:
    for language, phrases in names.items():
        for phrase in phrases:
            _put(made, Entry(role, key, phrase, language), scanned)


def _put_plants(tables: Tables, made: Language) -> None:
    """The plants of the tables, and after them the woods that are plants by their row."""
    for plants in methods_of(tables, Plants):
        for key, plant in plants.of.items():
            made.plants[key] = plant
            _put_names(made, plant.names, "plant", key)
    for row_id, row in tables.rows["materials"].items():
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
            made.plants[row_id] = plant
        # a clean name of a later set hides no danger word that begins or ends within it
        scanned = may_hide(tables, row_id)
        _put_names(made, names, "plant" if tree else "material", row_id, scanned)


def _phrases(names: Mapping[str, Iterable[str]]) -> set[Phrase]:
    return {words_of(phrase) for phrases in names.values() for phrase in phrases}


def _stems(names: Mapping[str, Iterable[str]]) -> set[str]:
    return {word for phrase in _phrases(names) for word in phrase}


def _put_small_words(tables: Tables, made: Language) -> None:
    for clean in methods_of(tables, CleanPhrases):
        _put_clean(made, clean.phrases)
        for language, phrases in clean.phrases.items():
            for phrase in phrases:
                made.asides.put(words_of(phrase), Entry("plain", "", phrase, language))
        for language, phrases in clean.plain.items():
            for phrase in phrases:
                _put(made, Entry("plain", "", phrase, language))
    for hedges in methods_of(tables, Hedges):
        made.hedges |= _phrases(hedges.words)
    made.hedge_ends = {phrase[-1] for phrase in made.hedges if phrase}
    for negations in methods_of(tables, Negations):
        made.negations |= _phrases(negations.words)
        made.denied_between |= _stems(negations.between)
    for places in methods_of(tables, Places):
        made.places |= _phrases(places.words)
        made.bare_places |= _phrases(places.bare)
        made.articles |= _stems(places.articles)
        made.beside_between |= _stems(places.between)
        made.staying |= _stems(places.staying)
        made.within |= _stems(places.within)
    for removals in methods_of(tables, Removals):
        made.removals |= _phrases(removals.words)
        made.removed_between |= _stems(removals.between)
        made.removed_last |= _stems(removals.last)
    for marks in methods_of(tables, WeakMarks):
        made.weak_before |= _stems(marks.before)
        made.weak_after |= _stems(marks.after)
        made.clause_ends |= _stems(marks.ends)
        made.homonyms |= _phrases(marks.homonyms)
        made.measures |= _stems(marks.measures)
        made.tools |= _stems(marks.tools)


_LISTED = ("signs", "origins", "contaminants", "materials")
_UNLISTED: dict[str, WarnsOf] = {
    "signs": "on it",
    "origins": "place",
    "contaminants": "on it",
    "materials": "thing",
}
_LONG = 7


def _put_dangers(tables: Tables, made: Language) -> None:
    rows = dict(tables.rows_of("methods", DangerWords))
    clearing = made.clearing = frozenset(name for row in rows.values() for name in row.clearing)
    silent = {name for row in rows.values() for name in row.silent}
    made.barked = frozenset(name for row in rows.values() for name in row.barked)
    listed: dict[tuple[str, str], tuple[str, DangerClass]] = {}
    for method, row in rows.items():
        for key, one in row.of.items():
            made.classes.setdefault(key, (method, one))
            for names, weak in ((one.words, False), (one.weak, True)):
                for language, phrases in names.items():
                    for phrase in phrases:
                        _put_danger(made, key, one, phrase, language, weak=weak)
            for language, phrases in one.denied.items():
                for phrase in phrases:
                    entry = Entry("clean", key, phrase, language, one.warns_of)
                    _put(made, entry, composed=False)
            for kind in _LISTED:
                listed.update({(kind, name): (key, one) for name in getattr(one, kind)})
    faint = {w for row in rows.values() for one in row.of.values() for w in _phrases(one.weak)}
    for kind in _LISTED:
        for row_id, found in tables.rows[kind].items():
            set_name, _, name = row_id.partition(":")
            # the lists name rows of the first set
            if set_name != tables.sets[0].name:
                name = row_id
            place = listed.get((kind, name))
            if name in clearing and kind == "signs":
                _put_clean(made, found.names, denials=False)
            if place is None and (name in clearing | silent or not _raises(kind, row_id, found)):
                continue
            key, one = place or (row_id, DangerClass(warns_of=_UNLISTED[kind]))
            for language, phrases in tables.spoken(kind, row_id, heard=True).items():
                for phrase in phrases:
                    weak = words_of(phrase) in faint
                    _put_danger(made, key, one, phrase, language, weak, row_id, kind)


def _put_clean(made: Language, names: Mapping[str, Iterable[str]], denials: bool = True) -> None:
    """Phrases that mean no danger; without those that begin with a negation if `denials` is off:
    what they deny is heard as any denial is, with its hedges.
    """
    for language, phrases in names.items():
        for phrase in phrases:
            if denials or not any((word,) in made.negations for word in words_of(phrase)[:1]):
                _put(made, Entry("clean", "", phrase, language), composed=False)


def _raises(kind: str, row_id: str, row: Row) -> bool:
    """Whether a row that no class lists is a danger by its names."""
    if isinstance(row, Material):
        return is_danger_row(row)
    return kind != "contaminants" or (
        isinstance(row, Contaminant) and not row_id.startswith("reference:")
    )


def _put_danger(
    made: Language,
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
    _put(made, entry, composed=False)
    words = words_of(phrase)
    if words and len(words[-1]) > _LONG - 2 and words[-1].endswith("e"):
        made.scanned.put((*words[:-1], words[-1][:-1]), entry)  # `creosot`, from creosoting
        made.known.add(words[-1][:-1])
    if len(words) == 1 and not weak and len(words[0]) >= _LONG - 1 <= len(phrase) - 1:
        made.strong[words[0]] = None
