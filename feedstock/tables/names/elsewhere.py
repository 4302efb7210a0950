"""Whether a thing of a text was away, not there yet or somebody else's when the lot was cut, or
only says what something is like.
"""

from __future__ import annotations

from .spans import Span
from .surroundings import Surroundings, begins_at, ends_at
from .trie import Entry

_MOST_BEFORE, _MOST_NAME, _MOST_AFTER = 6, 4, 6


def is_away(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a thing is none of the lot's by its time, its place or its owner, hedged or not."""
    return (
        _is_done_later(around, span, entry)
        or _came_later(around, span, entry)
        or _was_gone_before(around, span, entry)
        or _is_kept_apart(around, span)
        or _was_held_before(around, span, entry)
        or _grew_after(around, span, entry)
        or _begins_before_it(around, span, entry)
        or _is_unreal(around, span, entry)
        or _stood_where_it_grew(around, span, entry)
        or _belongs_to_others(around, span)
        or _goes_elsewhere(around, span, entry)
        or _is_measured_by(around, span, entry)
        or _is_wanted_yet(around, span, entry)
    )


def _is_done_later(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it was done to a thing after the lot was away: `before the shed was painted`."""
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of not in ("on it", "place") or span.first == 0:
        return False
    if words[span.first - 1].stem not in vocabulary.passives:
        return False
    thing = False
    for at in range(span.first - 2, max(-1, span.first - 2 - _MOST_BEFORE), -1):
        if words[at + 1].joint == ",":
            return False
        if ends_at(words, vocabulary.sooner, at):
            return thing
        if at in around.dangers:
            thing = True
        elif around.is_of_plants(words[at].stem) or words[at].stem in vocabulary.own_objects:
            return False
        elif words[at].stem not in vocabulary.breaks | vocabulary.articles:
            thing = True
    return False


def _came_later(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the lot was cut or stacked before somebody did it: `felled before we creosoted the
    gates`; not `before we creosoted it`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    at = next((p for p in clause if ends_at(words, vocabulary.sooner, p)), None)
    if at is None or at >= span.first or around.nature == "any":
        return False
    people = vocabulary.pronouns | vocabulary.doers
    if entry.warns_of != "on it":
        people = people | vocabulary.articles | vocabulary.existing
    after = at + 1
    while around.follows(after) in vocabulary.articles:
        after += 1
    workers = vocabulary.doers | vocabulary.makers | vocabulary.people | vocabulary.owners
    first = {words[at + 1].stem} & people or {around.follows(after)} & workers
    before = {words[p].stem for p in range(clause.start, at)}
    told = before & (vocabulary.bringing | vocabulary.treework | vocabulary.doing)
    own = any(words[p].stem in vocabulary.own_objects for p in range(at + 2, clause.stop))
    return bool(first and told) and not own and not before & vocabulary.fixing - vocabulary.being


def _begins_before_it(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the text begins with a time before the thing: `before we had the greenhouse the vine
    grew here`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    length = begins_at(words, vocabulary.sooner, clause.start)
    if entry.warns_of != "thing" or around.nature == "any" or not length:
        return False
    if span.first - clause.start > _MOST_BEFORE:
        return False
    stop = clause.stop
    rest = range(span.last, around.clause(stop).stop if stop < len(words) else stop)
    stems = {words[p].stem for p in rest}
    grown = any(around.is_of_plants(words[p].stem) for p in rest if p not in around.dangers)
    if any(begins_at(words, vocabulary.resuming, p) for p in rest):
        return False
    gone = stems & (vocabulary.bits | vocabulary.torn | vocabulary.leaving)
    return grown and bool(stems & vocabulary.growing) and not gone


def _grew_after(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the lot grew after a thing was gone: `planted after the barn was pulled down`."""
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of != "thing" or around.nature == "any":
        return False
    clause = around.clause(span.first)
    at = next((p for p in clause if words[p].stem in vocabulary.afters and p < span.first), None)
    if at is None:
        return False
    before = {words[p].stem for p in range(clause.start, at)}
    grew = before & vocabulary.growing and not before & (vocabulary.bits | vocabulary.leaving)
    return bool(grew) and not any(words[p].stem in vocabulary.bits for p in clause)


def _was_held_before(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the lot's place held a thing and was emptied since: `the bin held boards, but was
    swept before this went in`.
    """
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of not in ("thing", "place"):
        return False
    before = {words[p].stem for p in range(span.first)}
    if not before & vocabulary.held_before:
        return False
    later = [p for p in range(span.last, len(words)) if ends_at(words, vocabulary.sooner, p)]
    emptied = any(words[p].stem in vocabulary.emptied for at in later for p in range(span.last, at))
    lot = vocabulary.subjects | vocabulary.joining | vocabulary.tops
    return emptied and any(words[p].stem in lot for at in later for p in range(at + 1, len(words)))


def _is_kept_apart(around: Surroundings, span: Span) -> bool:
    """Whether the lot is kept apart from it: `stacked apart from the painted stuff`."""
    vocabulary, words, at = around.vocabulary, around.words, span.first
    while at > 0 and words[at].joint in " -" and at > span.first - _MOST_NAME:
        at -= 1
        if ends_at(words, vocabulary.kept_apart, at):
            return True
        if words[at].stem in vocabulary.breaks - vocabulary.articles:
            return False
    return False


def _was_gone_before(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a thing was taken away before the lot grew or was cut: `was hauled off before this
    brush sprouted`.
    """
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of != "thing":
        return False
    clause = around.clause(span.first)
    later = [p for p in range(span.last, clause.stop) if ends_at(words, vocabulary.sooner, p)]
    if not later:
        return False
    between = {words[p].stem for p in range(span.last, later[0] + 1)}
    after = range(later[-1] + 1, min(clause.stop, later[-1] + 1 + _MOST_AFTER))
    return bool(between & vocabulary.departed) and any(
        p not in around.dangers
        and (around.is_of_plants(words[p].stem) or words[p].stem in vocabulary.plots_grown)
        for p in after
    )


def _is_unreal(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it was to become such a thing and has not: `were going to be fence posts`."""
    vocabulary, words, at = around.vocabulary, around.words, span.first
    if entry.warns_of != "thing":
        return False
    while at > 0 and words[at].joint in " -" and at > span.first - _MOST_NAME:
        at -= 1
        if ends_at(words, vocabulary.unreal, at):
            return True
        if words[at].stem in vocabulary.purposes:
            before = {words[p].stem for p in range(around.clause(at).start, at)}
            if around.nature == "any" and not before & vocabulary.tops:
                return False
            rest = range(span.last, around.clause(span.first).stop)
            return any(begins_at(words, vocabulary.unused, p) for p in rest)
    return False


def _stood_where_it_grew(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a thing only stood where a tree grew or a heap lay: `planted where the swing had
    been`.
    """
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of != "thing":
        return False
    at = span.first
    while at > 0 and words[at].joint == " " and at > span.first - _MOST_NAME:
        at -= 1
        if words[at].stem in vocabulary.wheres:
            break
    if (
        words[at].stem not in vocabulary.wheres
        or around.follows(span.last) not in vocabulary.standing
    ):
        return False
    clause = {words[p].stem for p in range(around.clause(at).start, at)}
    if clause & (vocabulary.leaving | vocabulary.torn | vocabulary.bits):
        return False
    around.gone.update(range(span.last, around.clause(span.first).stop))
    return True


def _belongs_to_others(around: Surroundings, span: Span) -> bool:
    """Whether what it is part of is another's: `the heap with the doors is my brother's`."""
    vocabulary, words = around.vocabulary, around.words
    at = span.last
    while at in around.dangers:
        at += 1
    after = around.clause(span.first).stop
    if after < len(words) and begins_at(words, vocabulary.belonging, after):
        stems = {words[p].stem for p in around.clause(after)}
        return not stems & (vocabulary.ours | vocabulary.joining) - vocabulary.self_owned
    if around.follows(at) not in vocabulary.being:
        return False
    at += 1
    while around.follows(at) in vocabulary.articles:
        at += 1
    if not around.follows(at) or around.follows(at + 1):
        return False
    said = around.text[words[at].start : words[at].end].lower().replace("\u2019", "'")
    return words[at].stem in vocabulary.doers | vocabulary.owners and said.endswith("'s")


def _goes_elsewhere(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a thing, or all pieces of a kind, go somewhere that is not the fire: `pallets go back
    to the yard`, `anything painted goes to the depot`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    whole = words[clause.start].stem in vocabulary.wholes
    if entry.warns_of not in ("thing", "on it") or around.is_hedged(span):
        return False
    if not whole and (entry.warns_of != "thing" or span.first != clause.start):
        return False
    at = span.last
    while at in around.dangers:
        at += 1
    if (
        around.follows(at) not in vocabulary.goes_off
        or around.follows(at + 1) not in vocabulary.towards
    ):
        return False
    rest = {words[p].stem for p in range(at + 1, clause.stop)}
    return not rest & (vocabulary.pyres | vocabulary.joining)


def _is_measured_by(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it only says how big or of which colour something is: `the colour of a varnished
    fiddle`.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.first
    if entry.warns_of not in ("thing", "on it"):
        return False
    while at > 0 and words[at].joint in " -" and at > span.first - _MOST_NAME:
        at -= 1
        if ends_at(words, vocabulary.measuring, at):
            return not _is_on_it(around, span)
        if words[at].stem in vocabulary.breaks - vocabulary.denied_or - vocabulary.articles:
            return False
    return False


def _is_wanted_yet(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is what somebody has to get before the lot is cut: `when I get petrol`; not `when
    I get the paint off`.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.first - 1
    if entry.warns_of != "on it" or entry.foreign or not around.ends_clause(span):
        return False
    while at > 1 and words[at].stem in vocabulary.articles | vocabulary.amounts | vocabulary.links:
        at -= 1
    if at < 2 or words[at].stem not in vocabulary.getting:
        return False
    when = words[at - 2].stem in vocabulary.when
    return when and words[at - 1].stem in vocabulary.pronouns


def _is_on_it(around: Surroundings, span: Span) -> bool:
    """Whether a place of it follows: `the colour of paint on the ends`."""
    return around.follows(span.last) in around.vocabulary.within
