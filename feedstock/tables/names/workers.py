"""Whether a danger word only names who felled the lot, where those come from, or with which tool
and in which vessel it was worked and brought.
"""

from __future__ import annotations

from .spans import Span
from .surroundings import Surroundings, begins_at, ends_at
from .trie import Entry


def is_of_the_work(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it tells who cut or brought the lot, and with what, hedged or not."""
    return (
        _is_a_helper(around, span)
        or _is_a_family(around, span)
        or _is_ash_wood(around, span)
        or _is_lent_from(around, span, entry)
        or _are_people_of_it(around, span, entry)
        or _is_carried_in(around, span, entry)
        or _is_on_a_tool(around, span, entry)
        or _is_an_amount(around, span)
        or _went_home(around, span)
    )


def _is_a_family(around: Surroundings, span: Span) -> bool:
    """Whether it is what somebody is called: `left by Mr Painter`."""
    words, at = around.words, span.first
    if at == 0 or words[at].joint != " " or not around.text[words[at].start].isupper():
        return False
    return words[at - 1].stem in around.vocabulary.titles


def _is_ash_wood(around: Surroundings, span: Span) -> bool:
    """Whether `ash from` names the tree, from somebody with no fire: `ash from the hurley maker`;
    not `ash from the maker's stove`.
    """
    vocabulary, words = around.vocabulary, around.words
    if around.nature != "in bark" or words[span.last - 1].stem not in vocabulary.leaving:
        return False
    clause = around.clause(span.first)
    rest = [words[p].stem for p in range(span.last, clause.stop)]
    alone = not any(p in around.dangers for p in range(span.last, clause.stop))
    return alone and len(rest) > 1 and rest[-1] in vocabulary.makers


def _went_home(around: Surroundings, span: Span) -> bool:
    """Whether what the lot was brought in is named again, as taken back: `in sacks, I took the
    sacks home again`; not `I took the sacks home`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause, own = around.clause(span.first), around.stems(span)
    before = [s for s in around.spans if s.last <= clause.start and around.stems(s) == own]
    if not any(s.first in around.aside for s in before):
        return False
    rest = [words[p].stem for p in range(span.last, clause.stop)]
    took = {words[p].stem for p in range(clause.start, span.first)} & vocabulary.wrecking
    back = bool(rest) and rest[-1] in vocabulary.adverbs
    return (
        words[clause.start].stem in vocabulary.pronouns
        and bool(took and back)
        and set(rest) <= vocabulary.adverbs | vocabulary.homes
    )


def _is_on_a_tool(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is on a part of a tool: `the saw whose handle I painted`."""
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of != "on it" and not entry.foreign:
        return False
    if _is_a_part_of_a_tool(around, span):
        return True
    first = around.clause(span.first).start
    return any(
        words[p].stem in vocabulary.whose and words[p + 1].stem in vocabulary.tool_parts
        for p in range(first, span.first - 1)
    )


def _is_a_part_of_a_tool(around: Surroundings, span: Span) -> bool:
    """Whether it tells what a part of a tool or a vehicle is of: `a trolley with rubber tyres`."""
    vocabulary, words, first, last = around.vocabulary, around.words, span.first, span.last
    while last in around.dangers:
        last += 1
    while first - 1 in around.dangers:
        first -= 1
    own = {around.follows(last), *(words[p].stem for p in range(first, last))}
    clause = around.clause(span.first)
    before = [words[p].stem for p in range(clause.start, first)]
    while before and before[-1] in vocabulary.articles:
        before.pop()
    if not own & vocabulary.tool_parts or not before:
        return False
    if before[-1] not in vocabulary.along_with | vocabulary.being:
        return False
    tools = set(before) & (vocabulary.tools | vocabulary.carriers)
    return bool(tools and set(before) & (vocabulary.bringing | vocabulary.treework))


def _is_a_helper(around: Surroundings, span: Span) -> bool:
    """Whether it names somebody who felled the tree or lent a hand: `the furniture maker felled
    it`.
    """
    vocabulary, words = around.vocabulary, around.words
    last = around.behind_person(span)
    if last is None or around.nature == "any":
        return False
    clause = around.clause(span.first)
    before = [p for p in range(clause.start, span.first) if p not in around.dangers]
    while before and words[before[-1]].stem in vocabulary.articles | vocabulary.beside_between:
        before.pop()
    if any(p in around.dangers for p in range(last, clause.stop)):
        return False
    kin = {words[p].stem for p in before}
    if before and not kin & vocabulary.tops and not kin <= vocabulary.doers | vocabulary.articles:
        return False
    if any(words[p].stem in vocabulary.breaks for p in before):
        return False
    if {words[p].stem for p in clause} & vocabulary.tops:
        if any(begins_at(words, vocabulary.handing, p) for p in range(last, clause.stop)):
            return True
    return any(begins_at(words, vocabulary.helping, p) for p in range(last, clause.stop))


def _are_people_of_it(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it only says where those come from who cut the lot: `cut by the lads from the
    furniture workshop`.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.first
    if entry.warns_of not in ("thing", "place") and around.follows(span.last) not in (
        vocabulary.holders
    ):
        return False
    while at > 0 and words[at].joint == " " and words[at - 1].stem not in vocabulary.growing_at:
        at -= 1
    if at < 2 or words[at].joint == "," or words[at - 2].stem not in vocabulary.doers:
        return False
    if any(words[p].stem in vocabulary.being for p in range(at, span.first)):
        return False  # `a lad at work was throwing it out`
    if around.is_of_plants(words[at - 2].stem):
        return False  # `limbs from the old orchard`
    clause = around.clause(span.first)
    stems = {words[p].stem for p in clause}
    if stems & vocabulary.bits:
        return False
    groups = [vocabulary.helping, *([vocabulary.handing] if stems & vocabulary.tops else ())]
    helps = any(begins_at(words, each, p) for each in groups for p in clause)
    return helps or bool(stems & vocabulary.treework)


def _is_carried_in(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is only the vessel or the vehicle that the lot was brought in, or the tool that
    it was worked with: `carried over in clean plastic buckets`.
    """
    vocabulary, words = around.vocabulary, around.words
    held = vocabulary.vessels | vocabulary.tools | vocabulary.carriers
    if entry.warns_of == "thing" and not around.stems(span) & (held | vocabulary.ladders):
        return False
    if entry.warns_of not in ("thing", "on it") and not entry.foreign:
        return False
    own = around.stems(span) & (held | vocabulary.ladders)
    vessel = bool(own)
    if entry.warns_of != "thing" and not vessel and not entry.foreign:
        return False
    at = span.first
    stops = vocabulary.breaks - vocabulary.articles  # `a` is a preposition elsewhere
    while at > 0 and words[at].joint in " -" and words[at - 1].stem not in stops:
        at -= 1
    if own and at > 1 and words[at].joint == " " and words[at - 1].stem in vocabulary.denied_and:
        at -= 1  # `with wedges and a hammer`
        while (
            at > 0 and words[at].joint == " " and words[at - 1].stem not in stops - vocabulary.tools
        ):
            at -= 1
    if at == 0 or words[at].joint == ",":
        return False
    before = {words[p].stem for p in range(around.clause(span.first).start, at - 1)}
    by = words[at - 1].stem
    noun = around.follows(span.last) not in {"", *vocabulary.breaks}
    if entry.foreign and by in vocabulary.by_means_of and by not in vocabulary.along_with and noun:
        return bool(before & vocabulary.bringing)  # `sawn on a steel trestle`
    ladder = {*around.stems(span), around.follows(span.last)} & vocabulary.ladders
    if ladder and before & vocabulary.treework:
        return True  # `lopped from a ladder`
    if not ladder and not {*around.stems(span), around.follows(span.last)} & vocabulary.tools:
        if words[at - 1].stem in vocabulary.along_with:
            return False  # `came with some crates`
    if entry.warns_of != "thing" and not vessel:
        return False
    return by in vocabulary.by_means_of and bool(before & vocabulary.bringing)


def _is_lent_from(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is only where a tool comes from: `a saw borrowed from the boatyard`."""
    vocabulary, words, at = around.vocabulary, around.words, span.first
    if entry.warns_of not in ("thing", "place"):
        return False
    while at > 0 and words[at].joint == " " and words[at - 1].stem in vocabulary.articles:
        at -= 1
    before = {words[p].stem for p in range(around.clause(span.first).start, at)}
    lent = at > 1 and ends_at(words, vocabulary.lending, at - 2)
    return (
        bool(lent)
        and words[at - 1].stem in vocabulary.leaving
        and bool(before & (vocabulary.tools | vocabulary.carriers))
    )


def _is_an_amount(around: Surroundings, span: Span) -> bool:
    """Whether vessels only say how much there is: `four bin bags full`, `leaves, two bin bags`."""
    vocabulary, words, at = around.vocabulary, around.words, span.last
    vessels = bool(around.stems(span) & vocabulary.vessels)
    while around.follows(at) in vocabulary.vessels:
        vessels, at = True, at + 1
    full = around.follows(at) in vocabulary.filled
    first = span.first
    while vessels and first > 0 and words[first].joint == " ":
        first -= 1
        word = words[first]
        if word.stem in vocabulary.counts or word.word[0].isdigit():
            alone = words[first].joint == "," and first > 0 and around.clause(first).stop == at
            of_it = vocabulary.links - vocabulary.within - vocabulary.obliged
            counted = full or around.follows(at) in of_it
            return (
                counted
                or alone
                or (first > 0 and bool(ends_at(words, vocabulary.filling, first - 1)))
            )
        if ends_at(words, vocabulary.carrying, first):
            return True
        if word.stem in vocabulary.breaks:
            return False
    return False
