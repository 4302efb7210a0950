"""What governs the name that a danger stands in: a word of place, of purpose, of where, or a verb;
and whether that sets the lot apart from it, whatever the thing is called.

These rules know few things by their names. They read the small words around any name, and speak of
pieces in their bark, of twigs and of what is no wood, which no building or fence is made of.
"""

from __future__ import annotations

from typing import NamedTuple

from .spans import Span
from .surroundings import Surroundings, ends_at
from .text import is_bent
from .trie import Entry

_MOST_OF_NAME, _MOST_OBJECT = 5, 3


class Name(NamedTuple):
    """The words `first` up to `last` of the name that a danger stands in, with its articles; the
    place of the word that governs it, -1 where it begins its part; whether it has an article.
    """

    first: int
    last: int
    governor: int
    article: bool


def is_governed_apart(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the word that governs a danger's name sets the lot apart from it."""
    name = name_of(around, span)
    if _lives_there(around, name):
        return entry.warns_of == "place"
    if around.nature == "any" or around.is_resumed(span.last):
        return False
    if _is_for_a_purpose(around, span, name, entry):
        return True
    if name.governor < 0:
        return False
    if entry.warns_of == "place":
        return _lies_at_place(around, span, name)
    if entry.foreign and _is_freed_of_it(around, span, name):
        return True
    if entry.foreign and words_of_name(around, span, name) & around.vocabulary.fixtures:
        return _is_met(around, name) or (name.article and _is_beside(around, name))
    if not (entry.warns_of == "thing" or holds(around, name, span)):
        return False
    if is_fetched(around, span):
        return False
    if around.words[name.governor].stem in around.vocabulary.links and (
        name.governor - 1 in around.aside
    ):
        around.gone.update(range(span.last, name.last))
        return True  # `in the loft of the barn`
    if entry.warns_of != "thing" and _grew_in_it(around, span, name):
        return True
    if entry.warns_of != "thing":
        if _is_missed(around, name):
            return True
        return _is_beside(around, name) and not _grew_into(around, name, entry)
    apart = (
        _is_beside(around, name)
        or _is_in_a_room(around, name, span)
        or _is_trimmed_from(around, name)
        or _is_met(around, name)
    )
    if apart:
        around.gone.update(range(span.last, name.last))  # the line of `off the fence line`
        around.aside.update(range(span.first, name.last))
    return apart


def name_of(around: Surroundings, span: Span) -> Name:
    """The whole name that a danger stands in: `the old paint shop` for paint."""
    vocabulary, words = around.vocabulary, around.words
    stops = vocabulary.breaks - vocabulary.articles | vocabulary.saying | vocabulary.leaving_for
    stops = stops | vocabulary.asking_words
    first, article = span.first, False
    while first > 0 and words[first].joint in " -" and span.first - first < _MOST_OF_NAME:
        stem = words[first - 1].stem
        if stem in vocabulary.articles or around.is_whose(first - 1):
            article = True
        elif article or stem in stops:
            break
        first -= 1
    last = span.last + around.is_a_can(span.last)
    while last < span.last + _MOST_OF_NAME and around.follows(last):
        if words[last].stem in stops and last not in around.dangers:
            break
        if is_bent(words[last].word) or words[last].stem in vocabulary.articles:
            break
        last += 1
    governed = first > 0 and words[first].joint == " "
    governor = first - 1 if governed else -1
    if governor > 1 and words[governor].stem in vocabulary.links:
        at = governor - 1  # `in the loft of the barn`, `on a couple of old doors`
        wider = vocabulary.rooms | vocabulary.amounts
        if words[at].stem in wider and words[governor].joint == " ":
            article = article or words[at].stem in vocabulary.amounts
            while at > 0 and words[at].joint == " " and words[at - 1].stem not in stops:
                at -= 1
            governor = at - 1 if at > 0 and words[at].joint == " " else -1
    return Name(first, last, governor, article)


def words_of_name(around: Surroundings, span: Span, name: Name) -> set[str]:
    """The words of a danger's name, from the danger on."""
    return {around.words[p].stem for p in range(span.first, name.last)}


def part_of(around: Surroundings, at: int) -> range:
    """The words of the part of a clause that a word stands in, between `so`, `when`, `and` ..."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(at)
    cuts = vocabulary.when | vocabulary.clause_heads | vocabulary.denied_and | vocabulary.relatives
    first = max((p for p in clause if p < at and words[p].stem in cuts), default=clause.start)
    stop = min((p for p in clause if p > at and words[p].stem in cuts), default=clause.stop)
    return range(first, stop)


def _before(around: Surroundings, at: int) -> set[str]:
    return {around.words[p].stem for p in range(part_of(around, at).start, at)}


def holds(around: Surroundings, name: Name, span: Span) -> bool:
    """Whether a danger is only what a thing of its name holds or is for: `the fuel tank`."""
    if around.words[span.first].word.endswith("ing"):
        return False  # `under the leaking oil tank`
    own = range(span.first, name.last)
    things = {
        p
        for s in around.spans
        if s.danger and s.danger.warns_of == "thing"
        for p in own
        if s.first <= p < s.last
    }
    held = around.vocabulary.holders | around.vocabulary.rooms
    return bool(things) or any(around.words[p].stem in held for p in own)


def is_fetched(around: Surroundings, span: Span) -> bool:
    """Whether a danger is a place that lots are fetched from."""
    classes = (around.of_class(entry) for entry in span.entries)
    return any(one is not None and one.fetched for one in classes)


def _place_at(around: Surroundings, at: int, article: bool) -> int:
    """Where a phrase of place begins that ends with the word at `at`; -1 for none: `behind`, `at
    the far end of`. Few of them go without an article.
    """
    vocabulary, words = around.vocabulary, around.words
    length = ends_at(words, vocabulary.places, at)
    if length and (article or words[at].stem in vocabulary.besides):
        return at - length + 1
    if words[at].stem in vocabulary.besides:
        return at
    if words[at].stem not in vocabulary.links or at == 0:
        return -1
    if words[at - 1].stem not in vocabulary.corners | vocabulary.besides:
        return -1
    at, stops = at - 1, (vocabulary.breaks | vocabulary.going_to) - vocabulary.articles
    while at > 0 and words[at].joint == " " and words[at - 1].stem not in stops:
        at -= 1
    if at == 0:  # `down the side of`, not `sides of`
        return 0 if words[0].stem in vocabulary.going_to else -1
    if words[at - 1].stem in vocabulary.being:
        return -1  # `these are the ends of`
    return at - 1 if words[at].joint == " " else -1


def _is_beside(around: Surroundings, name: Name) -> bool:
    """Whether the lot only was beside, behind, under or over it; not what was torn from there."""
    vocabulary = around.vocabulary
    first = _place_at(around, name.governor, name.article)
    if first < 0:
        return False
    before = _before(around, first)
    off = around.words[first].stem in vocabulary.leaving | vocabulary.removed_last
    if off and {word.stem for word in around.words} & vocabulary.bits:
        return False  # `off the back of the shed, the boards`
    if around.words[first].stem in vocabulary.within and before & (
        vocabulary.fixing - vocabulary.being
    ):
        return False  # `used in a corner of the barn`
    torn = before & (vocabulary.torn | vocabulary.bits | vocabulary.leftovers)
    return not torn or bool(before & vocabulary.shoots)


def _is_freed_of_it(around: Surroundings, span: Span, name: Name) -> bool:
    """Whether the lot was taken off foreign matter or lies in a vessel of it: `off the wires`, `in
    the plastic bin`.
    """
    vocabulary, words = around.vocabulary, around.words
    governor = words[name.governor].stem
    if name.article and governor in vocabulary.removed_last:
        return True
    held = vocabulary.vessels | vocabulary.carriers | vocabulary.vehicles
    if words[name.last - 1].stem not in held or governor not in vocabulary.within:
        return False
    return not _before(around, name.governor) & vocabulary.joining


def _is_missed(around: Surroundings, name: Name) -> bool:
    """Whether the tree did not touch it: `missed the asbestos garage`; not `we missed it`."""
    vocabulary, verb = around.vocabulary, around.words[name.governor]
    people = vocabulary.pronouns | vocabulary.tools
    return (
        name.article
        and verb.stem in vocabulary.misses
        and not (_before(around, name.governor) & people)
    )


def _grew_into(around: Surroundings, name: Name, entry: Entry) -> bool:
    """Whether foreign matter is in what grew: `grown round a steel post`."""
    return entry.foreign and bool(_before(around, name.governor) & around.vocabulary.growing)


def _grew_in_it(around: Surroundings, span: Span, name: Name) -> bool:
    """Whether stalks and leaves only grew in it: `grown in old paint tins`."""
    vocabulary, words = around.vocabulary, around.words
    own = words_of_name(around, span, name)
    grew = _before(around, name.governor) & vocabulary.growing
    pots = own & (vocabulary.plots | vocabulary.vessels | vocabulary.carriers)
    return (
        around.nature == "soft"
        and bool(grew and pots)
        and (words[name.governor].stem in vocabulary.growing_at | vocabulary.within)
    )


def _is_in_a_room(around: Surroundings, name: Name, span: Span) -> bool:
    """Whether the lot lay in it or on it, and was no part of it: `been in the garage`; leaves and
    stalks may come from there as well: `straw from the barn`.
    """
    vocabulary, words = around.vocabulary, around.words
    at = name.governor
    if words[at].stem in vocabulary.within and at:
        if words[at - 1].stem in vocabulary.staying | vocabulary.lying - vocabulary.being:
            return True  # `sat on bricks`
    own = words_of_name(around, span, name)
    rooms = vocabulary.rooms | vocabulary.vessels | vocabulary.carriers
    if around.nature == "soft":
        rooms = rooms | vocabulary.plots
    elif words[name.last - 1].stem not in rooms:
        return False  # `in the shed wall`
    if not own & rooms:
        return False
    governor = words[at].stem
    before = _before(around, at)
    if around.is_wrecked(at):
        return False
    if around.nature == "soft" and _comes_from(around, name.governor):
        return not before & (vocabulary.bits | vocabulary.joining)
    if governor not in vocabulary.going_to | vocabulary.within:
        return False
    if before & vocabulary.tools:
        return True  # `with a saw I found in the shed`
    rest = {words[p].stem for p in range(name.last, around.clause(span.first).stop)}
    barred = (vocabulary.fixing - vocabulary.being) | vocabulary.wreckers
    return not before & (barred | vocabulary.joining) and not rest & vocabulary.likens


def _comes_from(around: Surroundings, at: int) -> bool:
    """Whether the word at `at` says where something lies or comes from: `off`, `out of`."""
    vocabulary, words = around.vocabulary, around.words
    if words[at].stem in vocabulary.growing_at | vocabulary.within:
        return True
    return (
        at > 0 and words[at].stem in vocabulary.links and words[at - 1].stem in vocabulary.leaving
    )


def _is_trimmed_from(around: Surroundings, name: Name) -> bool:
    """Whether shoots were cut back from it: `limbs off the fence line`, `trimmed off the roof`."""
    vocabulary, words = around.vocabulary, around.words
    at = name.governor
    if at > 1 and words[at].stem in vocabulary.links and words[at - 1].stem in vocabulary.leaving:
        at -= 1  # `out of the wall`
    elif words[at].stem not in vocabulary.growing_at:
        return False
    before = _before(around, at)
    if before & (vocabulary.bits | vocabulary.wrecking | vocabulary.fixing - vocabulary.being):
        return False
    if any(
        words[p].stem in vocabulary.wreckers for p in range(name.last, part_of(around, at).stop)
    ):
        return False  # `from the climbing frame they took down`
    if around.nature == "in bark" and (
        words[name.last - 1].stem in vocabulary.plots_grown - vocabulary.plots
    ):
        return name.article  # `from the hut garden`
    if at == 0:
        return False
    before_it = words[at - 1].stem
    grown = around.nature == "brush" and around.is_of_plants(before_it)
    if around.nature == "brush" and before_it in vocabulary.falling:
        return True  # `came off the trellis`
    return grown or before_it in vocabulary.shoots | vocabulary.trimming


def _is_met(around: Surroundings, name: Name) -> bool:
    """Whether the tree did something to it, as a verb with an object tells: `squashed the
    greenhouse`; not `held up the pier`, nor what people took down.
    """
    vocabulary, words = around.vocabulary, around.words
    at = name.governor
    if not name.article or words[at].stem in vocabulary.growing_at:
        return False
    if words[at].stem in vocabulary.links and words[at - 1].stem in vocabulary.corners:
        at -= 1 + (words[at - 2].stem in vocabulary.articles)  # `caught the corner of the shed`
        at -= 1
    while at > 0 and words[at].joint == " " and words[at].stem in vocabulary.adverbs:
        at -= 1
    word = words[at]
    verb = word.word.endswith(("ed", "ing")) or word.stem in vocabulary.knocks
    if not verb or at in around.dangers:
        return False
    part = part_of(around, at)
    before = {words[p].stem for p in range(part.start, at + 1)}
    people = vocabulary.pronouns | vocabulary.leavings
    return not before & (vocabulary.structural | vocabulary.wreckers | vocabulary.wrecking | people)


def _lies_at_place(around: Surroundings, span: Span, name: Name) -> bool:
    """Whether a place tells where the lot fell or is kept, whose vehicle brought it, or where
    somebody lives: `came down across the road`, `the mill down the road`.
    """
    vocabulary, words = around.vocabulary, around.words
    governor = words[name.governor].stem
    own = words_of_name(around, span, name)
    before = _before(around, name.governor)
    vehicle = words[span.last - 1].stem in vocabulary.vehicles
    if vehicle and governor in vocabulary.by_means_of | vocabulary.links:
        return True
    if own & vocabulary.roads and governor in vocabulary.falling - vocabulary.ways_to:
        return around.nature != "soft"
    first = _place_at(around, name.governor, name.article)
    if own & vocabulary.roads and (first > 0 or governor in vocabulary.going_to):
        heaps = vocabulary.own_objects & vocabulary.joining
        here = {words[p].stem for p in range(max(0, first - 1), name.governor)}
        if before & vocabulary.staying or here & heaps:
            return True  # `heap by the road`
        if around.nature != "soft" and before & vocabulary.falling:
            return governor in vocabulary.going_to | vocabulary.ways_to
    return False


def _lives_there(around: Surroundings, name: Name) -> bool:
    """Whether it only tells where somebody or a place is: `the mill down the road`."""
    vocabulary, words = around.vocabulary, around.words
    if name.governor < 1 or words[name.governor].stem not in vocabulary.ways_to:
        return False
    if words[name.last - 1].stem not in vocabulary.roads:
        return False
    who = words[name.governor - 1].stem
    if who in vocabulary.sellers:
        return True
    moved = vocabulary.gathering | vocabulary.growing | vocabulary.structural | vocabulary.falling
    told = who not in vocabulary.breaks | vocabulary.apart_words | vocabulary.sweeping
    told = told and not around.is_of_plants(who)
    return told and not _before(around, name.governor) & moved


def _is_for_a_purpose(around: Surroundings, span: Span, name: Name, entry: Entry) -> bool:
    """Whether it tells what the lot was cut for: `felled for the extension`, `so we can paint the
    wall`, `cleared to make room for a shed`.
    """
    vocabulary, words = around.vocabulary, around.words
    part = part_of(around, span.first)
    if words[part.start].stem in vocabulary.so and part.start < span.first:
        able = any(words[p].stem in vocabulary.seeing | vocabulary.avoiding for p in part)
        return able and not _names_the_lot(around, range(span.last, part.stop), part.start)
    if name.governor < 0:
        return False
    governor = words[name.governor].stem
    before = _before(around, name.governor)
    if governor in vocabulary.links and words[name.governor - 1].stem in vocabulary.when:
        return entry.warns_of == "thing"  # `because of the conservatory`, not of the spray
    if governor in vocabulary.purposes and name.article:
        barred = vocabulary.fixing - vocabulary.being
        return bool(before & vocabulary.felling) and not before & barred
    to = max(
        (p for p in range(part.start, name.governor) if words[p].stem in vocabulary.obliged),
        default=-1,
    )
    if to < 1 or name.governor - to > _MOST_OBJECT or words[to - 1].stem in vocabulary.being:
        return False
    between = {words[p].stem for p in range(to + 1, name.governor + 1)}
    return not (between | {words[to - 1].stem}) & (vocabulary.structural | vocabulary.fixing)


def _names_the_lot(around: Surroundings, rest: range, stop: int) -> bool:
    """Whether a word for the lot follows; `it` may be a thing that was named before."""
    vocabulary, words = around.vocabulary, around.words
    named = any(p < stop for p in around.dangers)
    own = {words[p].stem for p in rest} & vocabulary.own_objects
    return bool(own - vocabulary.none_of_it) or bool(own and not named)
