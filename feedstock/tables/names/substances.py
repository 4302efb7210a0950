"""Whether a substance that a text names is on something else than what grew, or stands in the name
of a plant or a place.
"""

from __future__ import annotations

from .governors import name_of, part_of
from .spans import Span
from .surroundings import Surroundings, begins_at
from .text import is_bent
from .trie import Entry

_MOST_OBJECT, _LEAST_ELSE = 4, 2


def is_of_something_else(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is on a thing, or is named for no more than a plant, a place or a look."""
    if around.nature == "any" or entry.warns_of not in ("thing", "on it"):
        return False
    if _is_a_proper_name(around, span, entry):
        return True
    if entry.warns_of != "on it":
        return False
    if _is_a_variety(around, span, entry) or _only_looks_so(around, span):
        return True
    return not around.is_resumed(span.last) and (
        _is_on_a_thing(around, span, entry)
        or _is_an_implement(around, span, entry)
        or _is_fetched_by_people(around, span, entry)
    )


def _is_on_a_thing(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a thing follows as what it is put on or lies in: `have to paint the garage`,
    `creosote in the chimney`; what is sprayed spreads.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.last
    one = around.of_class(entry)
    if entry.foreign or (one is not None and one.spreads):
        return False
    if words[at - 1].stem in vocabulary.apart_words:
        return False  # `mop up the floor`
    at += around.follows(at) in vocabulary.within
    first = at
    while around.follows(at) in vocabulary.articles:
        at += 1
    if at == first:
        return False
    stops = vocabulary.breaks | vocabulary.articles
    while at < first + _MOST_OBJECT and around.follows(at) not in {"", *stops}:
        at += 1
    named = range(first, at)
    own = vocabulary.bits | vocabulary.tops | vocabulary.own_objects | vocabulary.vessels
    if any(words[p].stem in own or around.is_of_plants(words[p].stem) for p in named):
        return False
    thing = any(
        s.danger is not None and s.danger.warns_of == "thing" and s.first in named
        for s in around.spans
    )
    if not thing and not any(
        words[p].stem in vocabulary.rooms | vocabulary.vehicles for p in named
    ):
        return False
    if any(words[p].stem in vocabulary.own_objects for p in range(at, around.clause(at - 1).stop)):
        return False
    around.gone.update(named)
    return True


def _is_an_implement(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it tells what a tool, a vessel or a vehicle is of, whatever that is called: `in my
    diesel buggy`, `with a plastic scoop`; not `with the plastic clips still on`.
    """
    vocabulary, words = around.vocabulary, around.words
    name, one = name_of(around, span), around.of_class(entry)
    if name.governor < 0 or not name.article or name.last == span.last:
        return False
    if one is None or one.spreads or is_bent(words[span.last - 1].word):
        return False
    if words[name.governor].stem not in vocabulary.by_means_of | vocabulary.within:
        return False
    own = {words[p].stem for p in range(span.last, name.last)}
    held = vocabulary.vessels | vocabulary.vehicles | vocabulary.carriers
    if own & (vocabulary.bits | vocabulary.spilt) or any(map(around.is_of_plants, own)):
        return False
    if not own & held and any(p in around.dangers for p in range(span.last, name.last)):
        return False
    part = part_of(around, span.first)
    done = {words[p].stem for p in range(part.start, name.governor)}
    worked = vocabulary.bringing | vocabulary.treework | vocabulary.gathering | vocabulary.doing
    if not done & worked or done & (vocabulary.joining - vocabulary.tops):
        return False
    rest = {words[p].stem for p in range(name.last, around.clause(span.first).stop)}
    return not rest & (vocabulary.own_objects | vocabulary.lasting_on)


def _is_fetched_by_people(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether somebody went for it: `went back in for glue`, `off to town for petrol and oil`."""
    vocabulary, words = around.vocabulary, around.words
    name, at = name_of(around, span), -1
    if name.governor > 0 and words[name.governor].stem in vocabulary.denied_and:
        gone = name.governor - 1 in around.gone  # `and glitter`
        around.gone.update(range(span.first, name.last) if gone else ())
        return gone
    at = name.governor
    if at < 1 or words[at].stem not in vocabulary.purposes or entry.warns_of != "on it":
        return False
    before = {words[p].stem for p in range(part_of(around, at).start, at)}
    went = before & (vocabulary.leaving_for | vocabulary.errands)
    fetched = bool(went) and not before & (vocabulary.own_objects | vocabulary.fixing)
    around.gone.update(range(span.first, name.last) if fetched else ())
    return fetched


def _is_a_variety(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it stands before the name of a plant as a part of that: `oil sunflower stalks`."""
    words = around.words
    name, plant = words[span.last - 1], around.follows(span.last)
    if entry.foreign or is_bent(name.word) or not plant or words[span.last].joint != " ":
        return False
    if name.word != name.stem or plant in around.vocabulary.ashes:
        return False
    return bool(around.plants_at(span.last) - {"animal"})


def _only_looks_so(around: Surroundings, span: Span) -> bool:
    """Whether bark, leaves or lichen look so: `the bark looks painted`, `you'd think someone had
    painted them`; not what looks so with nothing else said.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.first - 1
    first = around.clause(span.first).start
    if begins_at(words, vocabulary.imagined, first):
        return not any(begins_at(words, vocabulary.after_all, p) for p in range(at, len(words)))
    if at < 1 or words[span.first].joint != " " or words[at].stem not in vocabulary.looks:
        return False
    clause = around.clause(span.first)
    before = {words[p].stem for p in range(clause.start, at)}
    return bool(before & vocabulary.growths) and not around.is_hedged(span)


def _is_a_proper_name(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it begins the name of a place, an animal or somebody, in capitals within a text that
    has few: `Oil Springs lot`, `from Copper and Duchess`.
    """
    vocabulary, words, text = around.vocabulary, around.words, around.text
    if entry.phrase[:1].isupper() or not text[words[span.first].start].isupper():
        return False
    after = span.last + (around.follows(span.last) in vocabulary.denied_and)
    if not around.follows(after) or not text[words[after].start].isupper():
        return False
    if text[words[after].start : words[after].end].isupper():
        return False
    before = words[span.first - 1].stem if span.first else ""
    if after in around.dangers and before not in vocabulary.growing_at - vocabulary.along_with:
        return False  # `with Lead Pipe`
    begins = span.first == 0 or any(
        mark in text[words[span.first - 1].end : words[span.first].start] for mark in ".!?\n"
    )
    clause = around.clause(span.first)
    if begins or any(words[p].stem in vocabulary.bits for p in clause):
        return False
    named = len([w for w in words if text[w.start].islower()]) >= _LEAST_ELSE
    around.gone.update(range(span.last, after + 1) if named else ())
    return named
