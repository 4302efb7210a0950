"""What a clause with a danger tells instead of what the lot is: who people are, what they ask for,
with which tool they worked, where a thing went, what something is like, what once stood there.
"""

from __future__ import annotations

from .governors import Name, holds, is_fetched, name_of, part_of
from .spans import Span
from .surroundings import Surroundings, begins_at
from .trie import Entry

_MOST_WHO = 8


def is_only_told(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a clause tells no more of a danger than that, hedged or not."""
    name = name_of(around, span)
    if _goes_to_waste(around, span, name) or _was_looked_for(around, span, name):
        return True
    if around.nature == "any":
        return _is_asked_for(around, span, name, entry) or _is_explained(around, span, name, entry)
    if (
        _is_a_likeness(around, span)
        or _is_explained(around, span, name, entry)
        or _is_a_place_name(around, span)
    ):
        return True
    if entry.warns_of == "plant":
        return False
    if (
        _is_asked_for(around, span, name, entry)
        or _is_somebody(around, span)
        or _is_what_they_do(around, span, entry)
        or _is_a_tools(around, span, name, entry)
        or _is_swept_at_home(around, span, entry)
    ):
        return True
    return not around.is_resumed(span.last) and (
        _is_others_work(around, span, name, entry)
        or (entry.warns_of == "thing" and _once_stood(around, span))
        or (entry.warns_of == "thing" and _will_come(around, span, name))
    )


def _goes_to_waste(around: Surroundings, span: Span, name: Name) -> bool:
    """Whether it is where something was brought: `went to the tip`; or a thing that went there."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    going = vocabulary.leaving_for | vocabulary.departed
    if around.stems(span) & vocabulary.disposals and name.governor > 0:
        before = {words[p].stem for p in range(clause.start, name.governor)}
        to = words[name.governor].stem
        if to in vocabulary.purposes:
            who = around.text[words[clause.start].start :].lower().replace("\u2019", "'")
            told = who.partition("'")[0] in vocabulary.subjects | vocabulary.relatives
            return told or bool(before & (vocabulary.leaving_for | vocabulary.being))
        put = to in vocabulary.within | vocabulary.towards and before & vocabulary.goes_off
        sent = to in vocabulary.obliged or put
        return bool(sent) and bool(before & going) and not before & vocabulary.sources
    at = name.last
    if name.first != clause.start or name.governor >= 0:
        return False
    while around.follows(at) in vocabulary.being | vocabulary.adverbs | vocabulary.wholes:
        at += 1
    if around.follows(at) not in going:
        return False
    rest = {words[p].stem for p in range(at + 1, clause.stop)}
    there = vocabulary.towards | vocabulary.within | vocabulary.purposes
    ends = bool(rest & vocabulary.disposals) and bool(rest & there)
    return ends and not rest & (vocabulary.pyres | vocabulary.joining)


def _is_a_likeness(around: Surroundings, span: Span) -> bool:
    """Whether something only is like it: `white as if somebody had painted it`, `dark as tar`; not
    what smells, feels or looks so, nor what was used so.
    """
    vocabulary, words = around.vocabulary, around.words
    if any(begins_at(words, vocabulary.after_all, p) for p in range(span.last, len(words))):
        return False  # `that is what they were`
    clause = around.clause(span.first)
    last = max(
        (p for p in clause if words[p].stem in vocabulary.likens and p < span.first), default=-1
    )
    if last < 0:
        return False
    first = last
    while first > clause.start and words[first - 1].stem in vocabulary.likens:
        first -= 1
    likens = first < last or words[last].stem in vocabulary.liking
    if first == clause.start:
        return likens and not {word.stem for word in words} & vocabulary.sensing
    before = {words[p].stem for p in range(clause.start, first)}
    if before & (vocabulary.sensing | vocabulary.structural | vocabulary.being):
        return False
    how = words[first - 1].stem
    return how in vocabulary.likened or (likens and how not in vocabulary.breaks)


def _is_swept_at_home(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it was swept up where no street is: `swept off the patio`, `out of my gutters`."""
    vocabulary, words = around.vocabulary, around.words
    own, clause = around.stems(span), {words[p].stem for p in around.clause(span.first)}
    if words[span.first].word in vocabulary.sweeping and span.last - span.first == 1:
        if around.follows(span.last) in vocabulary.none_of_it:
            return True  # `in the horsebox, swept it first`
        home = vocabulary.plots | vocabulary.plots_grown
    elif own & vocabulary.fixtures and entry.warns_of == "place":
        home = (vocabulary.plots | vocabulary.homes) - own
    else:
        return False
    if not clause & home or clause & vocabulary.roads - vocabulary.plots:
        return False
    around.aside.update(range(span.first, span.last))
    return True


def _is_asked_for(around: Surroundings, span: Span, name: Name, entry: Entry) -> bool:
    """Whether a clause only asks or warns, or tells the way: `park by the garages`."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    first = clause.start
    before = vocabulary.clause_heads | vocabulary.asking
    while first < span.first and words[first].stem in before - vocabulary.requests:
        first += 1
    if words[first].word not in vocabulary.requests or len(clause) < 2:
        return False
    if {words[p].stem for p in range(span.first, name.last)} & vocabulary.vessels:
        return True
    if entry.warns_of == "on it" and not holds(around, name, span):
        return False  # `mind the nails`
    rest = {
        words[p].stem
        for p in clause
        if p != first and p not in around.dangers and words[p - 1].stem not in vocabulary.besides
    }
    if first == span.first:
        after = around.follows(first + 1)
        return after in vocabulary.besides | vocabulary.links | vocabulary.articles
    if rest & vocabulary.subjects:
        return False
    beside = vocabulary.besides | vocabulary.within
    own = rest & (vocabulary.sources | vocabulary.tops)
    return not own or any(words[p].stem in beside for p in clause)


def _is_somebody(around: Surroundings, span: Span) -> bool:
    """Whether it names somebody by a trade who left nothing in the lot: `Dave the painter`."""
    vocabulary, words = around.vocabulary, around.words
    last = around.behind_person(span)
    if last is None:
        return False
    clause = around.clause(span.first)
    person = range(span.last - 1, last)
    stems = {words[p].stem for p in clause if p not in person}
    left = stems & (vocabulary.bits | vocabulary.leavings | vocabulary.structural)
    more = any(
        last <= s.first < clause.stop and s.danger is not None and s.danger.warns_of != "place"
        for s in around.spans
    )
    return not left and not more and not (stems & vocabulary.asking_words)


def _is_what_they_do(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it tells what somebody is or does for a living: `from a mate who fits kitchens`, `he
    also does decks`.
    """
    vocabulary, words = around.vocabulary, around.words
    one = around.of_class(entry)
    if entry.warns_of == "on it" or (one is not None and one.spreads):
        return False
    clause = around.clause(span.first)
    for at in range(span.first, max(clause.start, span.first - _MOST_WHO) - 1, -1):
        if words[at].stem not in vocabulary.trading:
            continue
        phrase = at == span.first and span.last - at > 1
        if (
            at in around.dangers
            and not phrase
            and around.follows(at + 1) not in (vocabulary.links | vocabulary.purposes)
        ):
            continue
        who = at - 1
        also = vocabulary.adverbs | vocabulary.passing | vocabulary.joining
        while who > clause.start and words[who].stem in also:
            who -= 1
        if who < clause.start or words[who].stem not in vocabulary.traders:
            continue
        rest = {
            words[p].stem
            for p in range(at + 1, len(words))
            if p not in around.dangers and not _is_where_from(around, p)
        }
        own = rest & (vocabulary.own_objects - vocabulary.none_of_it | vocabulary.bits)
        return not own and not around.is_resumed(clause.stop)
    return False


def _is_where_from(around: Surroundings, at: int) -> bool:
    """Whether a word ends its clause as the place the lot comes from: `straight from the wood`."""
    vocabulary, words = around.vocabulary, around.words
    place = words[at].stem in vocabulary.sellers and at + 1 == around.clause(at).stop
    article = words[at - 1].stem in vocabulary.articles
    return place and article and words[at - 2].stem in vocabulary.leaving


def _is_a_tools(around: Surroundings, span: Span, name: Name, entry: Entry) -> bool:
    """Whether it is of a tool or what a tool runs on: `a diesel cherry picker`, `runs on oil`."""
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of != "on it":
        return False
    if {words[p].stem for p in range(name.last, part_of(around, span.first).stop)} & (
        vocabulary.subjects
    ):
        return False  # `a mallet in it`
    tools = vocabulary.tools | vocabulary.vehicles
    if not entry.foreign:
        tools = tools | (vocabulary.tool_parts - vocabulary.vessels)
    if any(words[p].stem in tools for p in range(span.last, name.last)):
        return True
    if name.governor < 1:
        return False
    runs = words[name.governor].stem in vocabulary.links | vocabulary.along_with
    return runs and words[name.governor - 1].stem in (vocabulary.trading - vocabulary.structural)


def _was_looked_for(around: Surroundings, span: Span, name: Name) -> bool:
    """Whether the lot was searched for it in vain: `checked for plastic and there isn't any`."""
    vocabulary, words = around.vocabulary, around.words
    if name.governor < 1 or words[name.governor].stem not in (
        vocabulary.purposes | vocabulary.asking_words
    ):
        return False
    before = {words[p].stem for p in range(around.clause(span.first).start, name.governor)}
    rest = range(name.last, len(words))
    if not before & (vocabulary.gathering | vocabulary.knowing) or any(
        p in around.dangers for p in rest
    ):
        return False
    hedged = any(p >= span.last for p in around.hedges)
    return not hedged and any(begins_at(words, vocabulary.found_none, p) for p in rest)


def _is_a_place_name(around: Surroundings, span: Span) -> bool:
    """Whether it stands in the name of a place, in capitals: `Oil Creek`, `Railway Cottages`; the
    name of a road is where it lies all the same.
    """
    words, text = around.words, around.text
    after = span.last
    while around.follows(after) and text[words[after].start].isupper():
        after += 1
    last = after - 1
    if last < span.last or words[last].stem not in around.vocabulary.fields:
        return False
    bits = {words[p].stem for p in around.clause(span.first)} & around.vocabulary.bits
    if bits or not text[words[span.first].start].isupper():
        return False
    around.gone.update(range(span.last, after))
    return True


def _is_explained(around: Surroundings, span: Span, name: Name, entry: Entry) -> bool:
    """Whether it is said to be no more than what grows: `the dark stain is just tannin`, `smells
    of turps because it's pine`, `looks like poison ivy but it's box elder`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause, at = around.clause(span.first), name.last
    if entry.warns_of == "plant" and words[name.governor].stem in vocabulary.being:
        return name.governor > 1 and _is_another_plant(around, span, name)
    if {word.stem for word in words} & vocabulary.hearsay:
        return False
    before = {words[p].stem for p in range(clause.start, span.first)}
    if entry.warns_of == "on it" and around.follows(at) in vocabulary.being:
        rest = [words[p].stem for p in range(at + 1, clause.stop)]
        small = vocabulary.articles | vocabulary.merely | vocabulary.growing_at | vocabulary.growths
        grown = bool(rest) and rest[-1] in vocabulary.growths and set(rest[:-1]) <= small
        return name.first == clause.start and grown
    if not before & vocabulary.sensing:
        return False
    for head in range(span.last, len(words)):
        if length := begins_at(words, vocabulary.explaining, head):
            said = range(head + length, around.clause(head).stop)
            own = any(_can_explain(around, p, name, entry) for p in said)
            more = (p for p in range(head, len(words)) if p not in said or not _is_resin(around, p))
            return own and not any(p in around.dangers for p in more)
    return False


def _can_explain(around: Surroundings, at: int, name: Name, entry: Entry) -> bool:
    """Whether a word names what can look or smell so: of what is on wood its bark, moss, sap, or of
    a smell a conifer; not `smells of creosote but it's oak`.
    """
    stem, vocabulary = around.words[at].stem, around.vocabulary
    if _is_resin(around, at):
        return entry.warns_of == "on it"
    if entry.warns_of != "on it" or stem in vocabulary.growths:
        return around.is_of_plants(stem)
    return "conifer" in around.plants_at(at) and not around.words[name.last - 1].word.endswith("ed")


def _is_resin(around: Surroundings, at: int) -> bool:
    """Whether it is the pitch of wood in its bark or of twigs."""
    wood = around.nature in ("in bark", "brush")
    return wood and around.words[at].stem in around.vocabulary.pitches


def _is_another_plant(around: Surroundings, span: Span, name: Name) -> bool:
    """Whether somebody took it for a plant that it is not: `thought it was yew but it's cherry`."""
    vocabulary, words = around.vocabulary, around.words
    thought = words[name.governor - 1].stem in vocabulary.subjects
    thought = thought and words[name.governor - 2].stem in vocabulary.hearsay
    heads = vocabulary.clause_heads - vocabulary.denied_and
    head = span.last + (around.follows(span.last) in heads)
    length = begins_at(words, vocabulary.explaining, head) if head < len(words) else 0
    if not (thought and length) or any(p in around.dangers for p in range(head, len(words))):
        return False
    last = around.clause(head + length - 1).stop - 1
    small = {words[p].stem for p in range(head + length, last)}
    named = small <= vocabulary.articles | vocabulary.merely and bool(around.plants_at(last))
    return last >= head + length and named


def _is_others_work(around: Surroundings, span: Span, name: Name, entry: Entry) -> bool:
    """Whether people are busy with it or will be: `while they were doing the tarmac next door`."""
    vocabulary, words = around.vocabulary, around.words
    one = around.of_class(entry)
    if entry.warns_of not in ("thing", "on it") or (one and (one.spreads or one.fetched)):
        return False
    if span.first - 1 in around.dangers and words[span.first].word.endswith("ed"):
        start = around.clause(span.first).start
        got = {words[p].stem for p in range(start, span.first)} & vocabulary.passives
        return bool(got)  # `getting the house painted`
    if not name.article:
        return False
    part = part_of(around, span.first)
    people = vocabulary.pronouns | vocabulary.doers | vocabulary.owners | vocabulary.people
    for at in range(part.start, name.first):
        said = around.text[words[at].start : words[at].end].lower().replace("\u2019", "'")
        if words[at].stem in people and around.follows(at + 1) in vocabulary.being:
            verb = at + 2
        elif "'" in said and said.partition("'")[0] in vocabulary.pronouns:
            verb = at + 1
        else:
            continue
        doing = verb < name.first and words[verb].word.endswith("ing")
        own = {words[p].stem for p in part if p not in around.dangers}
        barred = vocabulary.subjects | vocabulary.wreckers | vocabulary.apart_words
        own_object = around.follows(name.last) in vocabulary.own_objects
        return (
            doing
            and not own & (barred - vocabulary.pronouns | vocabulary.sources)
            and not own_object
        )
    return False


def _once_stood(around: Surroundings, span: Span) -> bool:
    """Whether a thing is only said to have been there: `there was a shed there once`."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    first = clause.start
    if words[first].stem not in vocabulary.existing or is_fetched(around, span):
        return False
    rest = {words[p].stem for p in range(first + 1, len(words)) if p not in around.dangers}
    past = any(words[p].stem in vocabulary.had_been for p in range(first, span.first))
    barred = vocabulary.wreckers | vocabulary.own_objects - vocabulary.tops - vocabulary.none_of_it
    inside = any(
        words[p].stem in vocabulary.within and around.follows(p + 1) in vocabulary.subjects
        for p in range(span.last, clause.stop)
    )
    return past and not inside and not rest & (barred | vocabulary.bits | vocabulary.torn)


def _will_come(around: Surroundings, span: Span, name: Name) -> bool:
    """Whether a thing is still to come where the lot stood: `the new tank's going here`."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    if name.first != clause.start and words[name.first - 1].stem not in vocabulary.when:
        return False
    at = name.last + (around.follows(name.last) in vocabulary.being)
    coming = words[at].word if around.follows(at) else words[at - 1].word
    if coming not in vocabulary.coming:
        return False
    rest = {words[p].stem for p in range(at + 1, clause.stop)}
    return not rest & (
        vocabulary.pyres | vocabulary.within | vocabulary.joining - vocabulary.existing
    )
