"""Whether a clause with a danger word speaks of something else than the lot: of the char, of what
others do at home, of who felled it, of what a thing is kept for, of what came later.
"""

from __future__ import annotations

from .spans import Span
from .surroundings import Surroundings, begins_at, ends_at
from .trie import Entry

_MOST_BEFORE, _MOST_NAME = 6, 4


def is_of_another(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the clause of a danger is about something else, hedged or not."""
    return (
        _is_of_char(around, span)
        or _is_kept_for_people(around, span, entry)
        or _is_of_others(around, span, entry)
        or _is_answered(around, span, entry)
        or _is_declined(around, span)
        or _is_advice(around, span)
        or _is_told_of_others(around, span, entry)
    )


def _is_of_char(around: Surroundings, span: Span) -> bool:
    """Whether it tells what the char will be used for: `the char is for the bed by the fence`, not
    `char from the fence`.
    """
    vocabulary, words = around.vocabulary, around.words
    for at in range(around.clause(span.first).start, span.first - 1):
        if words[at].stem not in vocabulary.chars or words[at].word.endswith(("ed", "ing")):
            continue
        between = {words[p].stem for p in range(at + 1, span.first)}
        return words[at + 1].stem in vocabulary.char_goes and not between & vocabulary.sources
    for at in range(span.last, around.clause(span.first).stop):
        if words[at].stem in vocabulary.chars:  # `a new box is ready for the char`
            while words[at - 1].stem in vocabulary.articles:
                at -= 1
            waits = {words[p].stem for p in range(span.last, at)} & vocabulary.char_waits
            if waits and words[at - 1].stem in vocabulary.purposes:
                return True
            return words[at - 1].stem in vocabulary.along_with and _is_planned(around, span)
    return False


def _is_planned(around: Surroundings, span: Span) -> bool:
    """Whether the clause of a danger tells what somebody will do: `we'll`, `want to`."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    said = (around.text[words[p].start : words[p].end].lower() for p in clause)
    return any(word.endswith(("'ll", "\u2019ll")) for word in said) or any(
        words[p].stem in vocabulary.planning for p in clause
    )


def _is_kept_for_people(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a thing is kept for somebody or something that is not the fire: `saving the boards
    for my brother`, `the tin of stain is for the table`.
    """
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of not in ("thing", "on it") or around.is_hedged(span):
        return False
    first, held = span.first, False
    while first > 0 and words[first].joint == " ":
        stem = words[first - 1].stem
        if stem in vocabulary.vessels | vocabulary.carriers or stem in vocabulary.links:
            held = held or stem not in vocabulary.links
        elif stem not in vocabulary.articles:
            break
        first -= 1
    begins = first == around.clause(first).start
    keeps = not begins and words[first].joint == " " and words[first - 1].stem in vocabulary.keeping
    at = span.last
    stops = vocabulary.passives | vocabulary.purposes
    while at < span.last + _MOST_BEFORE and around.follows(at) and words[at].stem not in stops:
        at += 1
    if begins and (entry.warns_of == "thing" or held):
        if around.follows(at) not in vocabulary.passives:
            return False
        at += 1
    elif not keeps:
        return False
    if around.follows(at) not in vocabulary.purposes:
        return False
    rest = {words[p].stem for p in range(at + 1, around.clause(span.first).stop)}
    kept = bool(rest) and not rest & vocabulary.pyres
    if kept:
        around.gone.update(range(at, around.clause(span.first).stop))
    return kept


def _is_of_others(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether others do it or have it, and a clause beside says that this is not so here:
    `my neighbour burns pallets. I don't`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    named = range(clause.start, min(clause.start + _MOST_NAME, span.first))
    owner = next((p for p in named if words[p].stem in vocabulary.owners), None)
    if owner is None:
        return False
    stop = _without_others(around, span).stop
    heads = vocabulary.clause_heads & vocabulary.when
    stop = min((p for p in range(span.last, stop) if words[p].stem in heads), default=stop)
    if _has_the_lot(around, range(owner + 1, stop)):
        return False
    does = words[span.first - 1].stem in vocabulary.being or any(
        words[p].stem in vocabulary.habits or p in around.dangers
        for p in range(owner + 1, span.first + 1)
    )
    if not does:
        return False
    beside = [around.clause(clause.stop)] if clause.stop < len(words) else []
    beside += [
        range(p + 1, clause.stop) for p in clause if words[p].stem in vocabulary.clause_heads
    ]
    if clause.start:
        beside.append(around.clause(clause.start - 1))
    thing = _is_thing_or_done_to_it(around, span, entry)
    return any(_tells_it_is_not_so(around, each, thing) for each in beside)


def _has_the_lot(around: Surroundings, clause: range) -> bool:
    """Whether a clause says that something is in the lot or was done to it."""
    own = around.vocabulary.subjects | around.vocabulary.joining - around.vocabulary.habits
    return any(
        around.words[p].stem in own and around.follows(p + 1) not in around.vocabulary.spots
        for p in clause
    )


def _tells_it_is_not_so(around: Surroundings, clause: range, thing: bool) -> bool:
    """Whether a clause denies for this lot, or for those who write, what the one beside it says; of
    a thing, whether it tells what else the lot is.
    """
    vocabulary, words = around.vocabulary, around.words
    if clause and words[clause.start].stem in vocabulary.clause_heads:
        clause = clause[1:]
    if not clause:
        return False
    first = {words[p].stem for p in list(clause)[:2]}
    negated = any(ends_at(words, vocabulary.negations, p) for p in clause)
    stems = {words[p].stem for p in clause}
    open_ = any(p in clause for p in around.hedges) or stems & vocabulary.joining - vocabulary.tops
    if thing and begins_at(words, vocabulary.affirming, clause.start):
        whose = {words[p].stem for p in clause if not _is_another_plot(around, p)}
        told = stems & vocabulary.tops or (
            stems & vocabulary.leaving
            and not _is_theirs(whose, around)
            and not stems & vocabulary.none_of_it  # `but these are from it`
        )
        if told:
            return not open_
    if begins_at(words, vocabulary.others_lots, clause.start):
        return not open_
    apart = any(begins_at(words, vocabulary.staying_there, p) for p in clause)
    return (bool(first & vocabulary.ours) or apart) and negated and not open_


def _is_theirs(stems: set[str], around: Surroundings) -> bool:
    """Whether a clause names others again: `these are from his yard`."""
    return bool(stems & (around.vocabulary.others_own | around.vocabulary.owners))


def _is_another_plot(around: Surroundings, at: int) -> bool:
    """Whether `other` is no person's but that of a garden: `from the other garden`."""
    vocabulary, words = around.vocabulary, around.words
    other = words[at].stem in vocabulary.owners and words[at - 1].stem in vocabulary.articles
    plots = vocabulary.plots_grown - vocabulary.edges
    return other and words[at].stem not in vocabulary.doers and around.follows(at + 1) in plots


def _is_answered(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the clause tells what became of a thing, and another one that the lot is what grew:
    `I'm saving the boards for a shelf, this lot is just boughs`.
    """
    words = around.words
    if entry.warns_of not in ("thing", "on it"):
        return False
    clause = around.clause(span.first)
    stems = {words[p].stem for p in clause}
    if not _is_thing_or_done_to_it(around, span, entry):
        return False  # `the hay was sprayed, this is the hay`
    if not _tells_what_became(around, span, entry, stems):
        return False
    return any(_tells_what_grew(around, p) for p in _clauses(around) if p not in clause)


def _tells_what_became(around: Surroundings, span: Span, entry: Entry, stems: set[str]) -> bool:
    """Whether the clause of a danger, of these words, tells what something looks like, another lot,
    or what became of a thing.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    if stems & vocabulary.sensing:
        return entry.warns_of == "thing" and bool(stems & vocabulary.likens)
    if begins_at(words, vocabulary.others_lots, _after_article(around, clause.start)):
        return True
    told = stems & (vocabulary.stories | vocabulary.acts | vocabulary.doing)
    if not told or words[clause.start].stem in vocabulary.bare_starts:
        return False
    before = {words[p].stem for p in range(clause.start, span.first)}
    return not before & vocabulary.sources and not _has_the_lot(around, clause)


def _after_article(around: Surroundings, first: int) -> int:
    """The first word of a clause behind `the`, where no phrase of another lot begins with it."""
    if begins_at(around.words, around.vocabulary.others_lots, first):
        return first
    return first + (around.words[first].stem in around.vocabulary.articles)


def _clauses(around: Surroundings) -> list[int]:
    """The first word of each clause of the text."""
    return [at for at, word in enumerate(around.words) if at == 0 or word.joint == ","]


def _tells_what_grew(around: Surroundings, first: int) -> bool:
    """Whether the clause that begins here says that the lot is no more than parts of plants."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(first)
    if words[first].stem in vocabulary.clause_heads:
        first += 1
    if first >= clause.stop or not begins_at(words, vocabulary.affirming, first):
        return False
    clause = range(first, clause.stop)
    if any(p in around.dangers or p in around.hedges for p in clause):
        return False
    stems = {words[p].stem for p in clause}
    negated = any(ends_at(words, vocabulary.negations, p) for p in clause)
    return bool(stems & vocabulary.tops) and not negated


def _is_advice(around: Surroundings, span: Span) -> bool:
    """Whether it begins advice: `Tip: keep it dry`."""
    words, after = around.words, around.text[around.words[span.last - 1].end :]
    begins = around.clause(span.first).start == span.first
    return begins and words[span.first].stem in around.vocabulary.advising and after[:1] == ":"


def _is_declined(around: Surroundings, span: Span) -> bool:
    """Whether the clause after it says that none of it was taken: `he had decking as well, I
    didn't take any`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    if clause.stop == len(words):
        return False
    after = around.clause(clause.stop)
    first = {words[p].stem for p in list(after)[:2]}
    denied = [p for p in after if ends_at(words, vocabulary.negations, p)]
    if not denied or not first & vocabulary.ours:
        return False
    verb = any(words[p].stem in vocabulary.declining for p in range(denied[0] + 1, after.stop))
    ends = words[after.stop - 1].stem in vocabulary.none_of_it
    return verb and ends and not any(p in after and words[p].stem != "any" for p in around.hedges)


def _is_told_of_others(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a whole sentence tells what people do or what a thing is, and nothing in the text
    makes that the lot: `we park by the garage`, `dad's boat was in the way`. Of pieces in their
    bark and of leaves and stalks alone; what is sawn may be a part of any thing.
    """
    if around.nature == "any" or not _is_thing_or_done_to_it(around, span, entry):
        return False
    vocabulary, words = around.vocabulary, around.words
    one = around.of_class(entry)
    if one is not None and one.fetched:
        return False
    clause = _without_others(around, span)
    if any(p in clause and words[p].stem not in vocabulary.passing for p in around.hedges):
        return False
    first = clause.start
    while first < span.first and words[first].stem in vocabulary.clause_heads:
        first += 1
    if not (_begins_with_people(around, span, first) or _is_subject(around, span, first)):
        return False
    own = {words[p].stem for p in clause if p not in around.dangers and p != first}
    if own & vocabulary.linking or (own & vocabulary.wreckers and own & vocabulary.apart_words):
        return False
    if any(
        words[p].stem in vocabulary.subjects and not begins_at(words, vocabulary.went_away, p)
        for p in _clauses(around)
        if p > span.first
    ):
        return False  # `we had a pergola, it rotted`
    if clause.stop < len(words) and words[clause.stop].stem in vocabulary.clause_heads:
        if around.follows(clause.stop + 1) in vocabulary.subjects:
            return False  # `the decking is not the shed's but it is in the load`
    return not any(begins_at(words, vocabulary.resuming, p) for p in range(len(words)))


def _is_thing_or_done_to_it(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is a thing, or was done to a thing of the same clause: `painted the shed`."""
    if entry.warns_of == "thing":
        return not around.words[span.first].word.endswith("ed")  # `knocked through`
    clause, one = around.clause(span.first), around.of_class(entry)
    if one is not None and one.spreads:
        return False
    return entry.warns_of == "on it" and any(
        other.danger is not None
        and other.danger.warns_of == "thing"
        and other.first in clause
        and other.first != span.first
        for other in around.spans
    )


def _without_others(around: Surroundings, span: Span) -> range:
    """The clause of a danger without what goes before or after it by a word as `when`."""
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    cuts = [
        p
        for p in clause
        if words[p].stem in vocabulary.when
        and p not in around.dangers
        and around.follows(p + 1) not in vocabulary.ours  # `the people before us`
    ]
    first = max((p + 1 for p in cuts if p < span.first), default=clause.start)
    return range(first, min((p for p in cuts if p >= span.last), default=clause.stop))


def _begins_with_people(around: Surroundings, span: Span, first: int) -> bool:
    """Whether a clause begins with somebody who does something: `we`, `my brother`. Of a noun there
    must be a verb, `the council built a fence`; a possessive is none.
    """
    vocabulary, words = around.vocabulary, around.words
    while first < span.first and words[first].stem in vocabulary.articles:
        first += 1
    if first >= span.first:
        return False
    said = around.text[words[first].start : words[first].end].lower().replace("\u2019", "'")
    if said.partition("'")[0] in vocabulary.pronouns:
        return True
    if words[first].stem not in vocabulary.doers:
        return False
    verbs = (p for p in range(first + 1, span.first) if p not in around.dangers)
    own = span.first == first + 1 and words[span.first].word.endswith("ed")
    return own or any(
        words[p].stem in vocabulary.acts or words[p].word.endswith(("ed", "ing")) for p in verbs
    )


def _is_subject(around: Surroundings, span: Span, first: int) -> bool:
    """Whether a thing begins its clause and something is said of it: `the boat was in the way`."""
    vocabulary, words = around.vocabulary, around.words
    if any(words[p].stem in vocabulary.breaks for p in range(first, span.first)):
        return False
    after = span.last
    while after in around.dangers:
        after += 1
    return around.follows(after) in vocabulary.saying
