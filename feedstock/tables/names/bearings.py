"""Whether a thing of a text only tells where the lot grew or lies, what a vessel is for, how good
the wood is, or where the ash of the fire will go.
"""

from __future__ import annotations

from .denials import is_denied
from .governors import Name, name_of, words_of_name
from .spans import Span
from .surroundings import Surroundings, begins_at, ends_at, far_at
from .trie import Entry

_MOST_NAME, _MOST_BEFORE, _MOST_AFTER = 4, 6, 7


def is_a_bearing(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the clause of a danger names it for no more than a place, a use or a quality."""
    if _is_asked_about(around, span, entry):
        return True
    if around.stems(span) & around.vocabulary.ashes:
        return _is_ash_of_the_fire(around, span)
    if _left_by_vehicle(around, span) or _is_no_part(around, span):
        return True
    if _is_on_somebody(around, span, entry) or _will_go_there(around, span):
        return True
    held = around.follows(span.last) in around.vocabulary.holders
    if around.nature != "any" and held and _is_where_they_had_it(around, span):
        return True
    if entry.warns_of != "thing" and not entry.foreign:
        return _is_of_a_distant_thing(around, span)
    if around.nature != "any" and not around.is_resumed(span.last):
        if _is_a_cover(around, span, name_of(around, span)):
            return True
    return (
        _is_wanted_back(around, span)
        or _is_a_wire_it_touched(around, span)
        or _is_worked_in(around, span)
        or _is_a_side_of_the_plot(around, span)
        or _lies_in_a_part(around, span, entry)
        or (around.nature != "any" and _is_where_they_had_it(around, span))
        or (around.nature != "any" and _stood_by_the_tree(around, span, entry))
        or (around.nature != "any" and _is_a_grade(around, span))
    )


def _is_ash_of_the_fire(around: Surroundings, span: Span) -> bool:
    """Whether it tells where the ash will go: `the ash can go round the roses`; not `the ash can go
    in the pit`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    before = {words[p].stem for p in range(clause.start, span.first)}
    rest = {words[p].stem for p in range(span.last, clause.stop)}
    if before - vocabulary.articles - vocabulary.clause_heads:
        return False
    barred = vocabulary.pyres | vocabulary.joining | vocabulary.sources
    if any(begins_at(words, vocabulary.resuming, p) for p in range(span.last, clause.stop)):
        return False  # `will be in with it`
    return around.follows(span.last) in vocabulary.ash_goes and not rest & barred


def _is_a_cover(around: Surroundings, span: Span, name: Name) -> bool:
    """Whether it lies over or under the lot and is no part of it: `a tarp over it`."""
    vocabulary, words = around.vocabulary, around.words
    own, clause = words_of_name(around, span, name), around.clause(span.first)
    if any(begins_at(words, vocabulary.keeping_dry, p) for p in clause):
        return True
    if not own & vocabulary.covers:
        return False
    if _blew_off(around, name) and not {words[p].stem for p in clause} & vocabulary.bits:
        return True
    if around.follows(name.last) and begins_at(words, vocabulary.atop, name.last):
        return True
    if name.governor < 0:
        return False
    return words[name.governor].stem in vocabulary.besides


def _blew_off(around: Surroundings, name: Name) -> bool:
    """Whether it came off what it lay over: `when the tarp blew off`; not `blew to bits`."""
    vocabulary, words = around.vocabulary, around.words
    away = vocabulary.removed_last | vocabulary.adverbs
    return name.article and any(
        words[p].stem in vocabulary.falling and around.follows(p + 1) in away
        for p in range(name.first + 1, name.last + 1)
        if around.follows(p)
    )


def _is_worked_in(around: Surroundings, span: Span) -> bool:
    """Whether it is what the char will be made, quenched or kept in: `a drum to make it in`."""
    vocabulary, words = around.vocabulary, around.words
    for at in range(span.last, span.last + _MOST_AFTER):
        if not around.follows(at) or not around.follows(at + 1):
            return False
        if words[at].stem not in vocabulary.obliged | vocabulary.purposes:
            continue
        verb = words[at + 1].stem
        if verb not in vocabulary.fire_work:
            continue
        last = around.clause(at).stop - 1
        own = vocabulary.own_objects | vocabulary.chars | vocabulary.tops
        held = {words[p].stem for p in range(at + 2, last)}
        return words[last].stem in vocabulary.holding and bool(held & own)
    return False


def _is_a_side_of_the_plot(around: Surroundings, span: Span) -> bool:
    """Whether it tells a side of where the lot grew: `fence side of the orchard`."""
    vocabulary, at = around.vocabulary, span.last
    if around.follows(at) not in vocabulary.edges or around.follows(at + 1) not in vocabulary.links:
        return False
    at += 2
    while around.follows(at) in vocabulary.articles:
        at += 1
    return around.follows(at) in vocabulary.plots_grown


def _lies_in_a_part(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the lot lies in a part of it: `sitting in a dry corner of the barn`."""
    vocabulary, words, at = around.vocabulary, around.words, span.first
    one = around.of_class(entry)
    if one is not None and one.fetched:
        return False
    stops = vocabulary.breaks - vocabulary.articles
    while at > 0 and words[at].joint == " " and words[at - 1].stem not in stops:
        at -= 1
    if at < 2 or words[at - 1].stem not in vocabulary.links:
        return False
    if words[at - 2].stem not in vocabulary.corners:
        return False
    first = around.clause(at).start
    for place in range(at - 3, first - 1, -1):
        if words[place].stem in vocabulary.going_to or ends_at(words, vocabulary.places, place):
            before = {words[p].stem for p in range(first, place)}
            lies = before & (vocabulary.doing | vocabulary.staying)
            return bool(lies) and not before & (vocabulary.fixing - vocabulary.being)
        if words[place].stem in vocabulary.breaks:
            return False
    return False


def _is_where_they_had_it(around: Surroundings, span: Span) -> bool:
    """Whether the lot grew or lay where somebody had it: `self-sown where the railway had a shed`;
    not `boards from where they had a shed`.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.first
    had = False
    while at > 0 and words[at].joint == " " and at > span.first - _MOST_BEFORE:
        at -= 1
        if words[at].stem in vocabulary.wheres:
            break
        had = had or words[at].stem in vocabulary.being | vocabulary.keeping
    if not had or words[at].stem not in vocabulary.wheres:
        return False
    before = {words[p].stem for p in range(around.clause(at).start, at)}
    barred = vocabulary.leaving | vocabulary.torn | vocabulary.bits
    return bool(before & (vocabulary.growing | vocabulary.doing)) and not before & barred


def _stood_by_the_tree(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it only stood under or beside the tree: `there was a shed under this tree till 1998`;
    not where the text goes on with it.
    """
    vocabulary, words = around.vocabulary, around.words
    one = around.of_class(entry)
    if one is not None and one.fetched:
        return False
    first = around.clause(span.first).start
    while first < span.first and words[first].stem in vocabulary.clause_heads:
        first += 1
    if words[first].stem not in vocabulary.existing or first == span.first:
        return False
    after = span.last
    while after in around.dangers:
        after += 1
    if not around.follows(after):
        return False
    length = begins_at(words, vocabulary.places, after)
    after += length or words[after].stem in vocabulary.wheres
    if after == span.last or around.follows(after) not in vocabulary.articles:
        return False
    named = range(after + 1, min(len(words), after + _MOST_NAME))
    if not any(around.follows(p) and around.is_of_plants(words[p].stem) for p in named):
        return False
    return not _goes_on_with_it(around, span)


def _goes_on_with_it(around: Surroundings, span: Span) -> bool:
    """Whether a later clause begins with a word for it, or the text says what was left of it."""
    vocabulary, words = around.vocabulary, around.words
    later = (p for p in range(span.last, len(words)) if words[p].joint == ",")
    if any(words[p].stem in vocabulary.subjects for p in later):
        return True
    return any(begins_at(words, vocabulary.resuming, p) for p in range(len(words)))


def _is_a_grade(around: Surroundings, span: Span) -> bool:
    """Whether it says how good the wood is: `furniture grade, but too short`."""
    vocabulary = around.vocabulary
    if around.follows(span.last) not in vocabulary.grades:
        return False
    return around.follows(span.last + 1) not in vocabulary.bits


def _left_by_vehicle(around: Surroundings, span: Span) -> bool:
    """Whether it, or what its clause is about, was driven off: `a fence, which left on a lorry`."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    joins = vocabulary.joining - vocabulary.relatives
    if any(words[p].stem in joins for p in clause) or around.is_hedged(span):
        return False
    for at in clause:
        if words[at].stem not in vocabulary.driven_off or at == clause.start:
            continue
        who = words[at - 1].stem
        if who not in vocabulary.relatives | vocabulary.denied_and | vocabulary.subjects:
            continue
        if around.follows(at + 1) not in vocabulary.by_means_of:
            continue
        driven = range(at + 2, min(clause.stop, at + 2 + _MOST_NAME))
        if any(words[p].stem in vocabulary.vehicles for p in driven):
            return True
    return False


def _is_no_part(around: Surroundings, span: Span) -> bool:
    """Whether its clause ends by saying that it is no part of the lot: `the sleepers that you can
    see are not part of this load`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    at = next((p for p in clause if begins_at(words, vocabulary.no_part, p)), None)
    if at is None or at < span.last:
        return False
    hedges = [p for p in around.hedges if p in clause or p >= clause.stop]
    if any(words[p].stem not in vocabulary.seeing for p in hedges):
        return False
    around.gone.update(range(span.first, clause.stop))
    return True


def _is_of_a_distant_thing(around: Surroundings, span: Span) -> bool:
    """Whether it tells how a thing far from the lot is: `ten paces from our painted shed`."""
    vocabulary, words, at = around.vocabulary, around.words, span.first
    if span.last not in around.dangers or around.follows(span.last) == "":
        return False
    while at > 0 and words[at].joint == " " and words[at - 1].stem in vocabulary.articles:
        at -= 1
    clause = around.clause(span.first)
    denied = any(ends_at(words, vocabulary.negations, p) for p in range(clause.start, at))
    return (
        at > 0
        and bool(far_at(around, at - 1) or ends_at(words, vocabulary.distant, at - 1))
        and not denied
    )


def _is_wanted_back(around: Surroundings, span: Span) -> bool:
    """Whether a thing is only lent with the lot, or lies under it: `I want it back`."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    if around.nature != "any" and begins_at(words, vocabulary.underlays, span.last):
        return around.follows(span.last) != ""
    rest = range(span.last, clause.stop)
    return any(begins_at(words, vocabulary.wanted_back, p) for p in rest)


def _is_a_wire_it_touched(around: Surroundings, span: Span) -> bool:
    """Whether it is a wire or pipe that the tree touched: `rubbing on the phone wire`."""
    vocabulary, words = around.vocabulary, around.words
    if words[span.last - 1].stem not in vocabulary.fixtures:
        return False
    at, served = span.first, span.last - span.first > 1
    stops = vocabulary.breaks - vocabulary.articles
    while at > 0 and words[at].joint in " -" and words[at - 1].stem not in stops:
        at -= 1
        served = served or words[at].stem in vocabulary.services
    return served and at > 0 and bool(ends_at(words, vocabulary.contacts, at - 1))


def _is_asked_about(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is only spoken of, and denied after: `you will ask about plastic: no plastic`."""
    vocabulary, words = around.vocabulary, around.words
    if not ends_at(words, vocabulary.speaking, span.first - 1):
        return False
    later = (s for s in around.spans if s.first >= span.last)
    same = [s for s in later if s.danger is not None and s.danger.phrase == entry.phrase]
    return bool(same) and all(is_denied(around, s, entry) for s in same)


def _is_on_somebody(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is on somebody's hands or clothes: `the paint on my sleeve`."""
    vocabulary, at = around.vocabulary, span.last
    if entry.warns_of != "on it" or around.follows(at) not in vocabulary.within:
        return False
    at += 1
    while around.follows(at) in vocabulary.articles:
        at += 1
    return at > span.last + 1 and around.follows(at) in vocabulary.worn


def _will_go_there(around: Surroundings, span: Span) -> bool:
    """Whether it tells where the char will go: `it will go into the beds with sleepers`, `for the
    pots on the patio once it is char`; not `it will go in with the sleepers`, nor on the fire.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    if words[clause.start].stem in vocabulary.purposes:
        rest = (p for p in range(span.last, clause.stop) if words[p].stem in vocabulary.chars)
        return any(words[p - 1].stem in vocabulary.being for p in rest)
    if words[clause.start].stem not in vocabulary.subjects:
        return False
    at = next((p for p in clause if begins_at(words, vocabulary.will_go, p)), span.last)
    if at >= span.first or at > clause.start + 1:
        return False
    if {words[p].stem for p in clause if p > at} & (vocabulary.pyres | vocabulary.joining):
        return False
    return not any(begins_at(words, vocabulary.resuming, p) for p in clause)


def stood_there_before(around: Surroundings, span: Span) -> bool:
    """Whether it is what was there before the lot: `grown on the place where was before the gas
    works`; not `grown where the barn was, before the road was built`.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.first
    between = vocabulary.being | vocabulary.standing | vocabulary.articles | vocabulary.existing
    sooner = False
    while at > 0 and words[at].joint == " ":
        at -= 1
        if words[at].stem in vocabulary.wheres:
            return sooner
        if (words[at].stem,) in vocabulary.sooner:
            sooner = True
        elif words[at].stem not in between:
            return False
    return False


def was_taken_apart(around: Surroundings, span: Span) -> bool:
    """Whether it was broken up after all: `stood on pallets that I sawed up as well`."""
    if around.follows(span.last) not in around.vocabulary.relatives:
        return False
    rest = range(span.last, around.clause(span.first).stop)
    return any(begins_at(around.words, around.vocabulary.resuming, p) for p in rest)
