"""Whether anything ties what grew to a thing that a text names.

Pieces in their bark, twigs and what is no wood are no fence and no shed. Such a thing can still be
in the lot or be what the lot was, and then the text says so in few ways: it begins with the thing,
it says that the lot is of, from, off or with it, or that somebody took it apart. Behind any other
small word, and as the object of any other verb, it stands somewhere else. So these rules know no
things and no places, and no verbs but those that tie.
"""

from __future__ import annotations

from .governors import Name, is_fetched, name_of, part_of
from .spans import Span
from .surroundings import Surroundings, begins_at
from .text import is_bent
from .trie import Entry

_MOST_VERB = 3


def is_untied(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the word before a danger's name ties no lot to it."""
    if around.nature == "any" or entry.warns_of not in ("thing", "on it"):
        return False
    name = name_of(around, span)
    if _is_likened(around, name):
        return not around.is_resumed(span.last) and not _is_after_all(around, span)
    if name.governor < 0 or is_fetched(around, span):
        return False
    if around.nature == "soft" and around.is_of_plants(around.words[span.last - 1].stem):
        return False  # `treated against docks`
    if not name.article and around.words[name.governor].stem not in around.vocabulary.besides:
        return False
    if around.behind_person(span) is not None:
        return False
    if entry.warns_of == "on it" and not _is_what_a_thing_is_like(around, span, name, entry):
        return False
    if around.is_resumed(span.last) or _goes_on_with_it(around, span):
        return False
    vocabulary, stem = around.vocabulary, around.words[name.governor].stem
    if stem in vocabulary.breaks:
        apart = stem in vocabulary.untying | vocabulary.besides and not _ties(around, name)
    else:
        apart = _is_of_a_verb(around, name, spoiled=entry.warns_of == "on it")
    if apart:
        around.aside.update(range(span.first, name.last))
    return apart


def _is_what_a_thing_is_like(around: Surroundings, span: Span, name: Name, entry: Entry) -> bool:
    """Whether it only tells of what a thing is, or what it holds: `the asbestos garages`, `the
    propane tank`; not what spreads from there.
    """
    vocabulary, words = around.vocabulary, around.words
    head, last = words[name.last - 1], words[span.last - 1].word
    if any(is_bent(words[p].word) for p in range(name.first, span.last)):
        return False  # `the leaking oil tank`
    if name.last == span.last or is_bent(head.word):
        return False
    if around.is_of_plants(head.stem) or head.stem in vocabulary.bits | vocabulary.spilt:
        return False
    one = around.of_class(entry)
    if one is None or not one.spreads:
        return True
    return head.stem in vocabulary.rooms | vocabulary.holders and not is_bent(last)


def _is_likened(around: Surroundings, name: Name) -> bool:
    """Whether the word before it likens: `peels like old paint`; not what smells or feels so, looks
    like it or was used as it.
    """
    vocabulary, words = around.vocabulary, around.words
    at = name.governor
    if at < 0 or words[at].stem not in vocabulary.likens:
        return False
    before = {words[p].stem for p in range(around.clause(at).start, at)}
    if words[at - 1].stem in vocabulary.joining_as:
        return False  # `as well as`
    sensed = before & vocabulary.sensing
    if sensed and not before & vocabulary.growths:
        return False
    if words[at].stem in vocabulary.liking:
        return not before & (vocabulary.sensing - vocabulary.looks)
    return not before & (vocabulary.fixing | vocabulary.lying | vocabulary.bringing)


def _is_after_all(around: Surroundings, span: Span) -> bool:
    """Whether the text says that it was that after all, or smells of it too."""
    vocabulary, words = around.vocabulary, around.words
    after = range(span.last, len(words))
    smells = any(words[p].stem in vocabulary.sensing - vocabulary.looks for p in after)
    return smells or any(begins_at(words, vocabulary.after_all, p) for p in after)


def _ties(around: Surroundings, name: Name) -> bool:
    """Whether the words before the governor of a name tie the lot to it all the same: `nailed to
    the shed`, `bits over the door`.
    """
    vocabulary, words = around.vocabulary, around.words
    before = {words[p].stem for p in range(part_of(around, name.governor).start, name.governor)}
    tying = vocabulary.fixing - vocabulary.being - vocabulary.breaks
    if words[name.governor].stem in vocabulary.besides | vocabulary.within:
        tying = tying | vocabulary.torn - vocabulary.falling | vocabulary.leftovers
    return bool(before & (tying | vocabulary.bits | vocabulary.joining - vocabulary.tops))


def _is_of_a_verb(around: Surroundings, name: Name, spoiled: bool) -> bool:
    """Whether it is the object of a verb that takes no thing apart and adds none: `missed the
    tank`, `doing the fence`; not `took up the floor`, `includes the gate`.
    """
    vocabulary, words, at = around.vocabulary, around.words, name.governor
    if at in around.dangers or around.is_of_plants(words[at].stem):
        return False
    if words[at].stem in vocabulary.amounts | vocabulary.wholes:
        return False
    tying = vocabulary.structural | vocabulary.wreckers | vocabulary.wrecking | vocabulary.fixing
    tying = tying | vocabulary.leavings | vocabulary.apart_words | vocabulary.sources
    tying = tying | vocabulary.tying
    stops = vocabulary.breaks | vocabulary.pronouns
    first = at
    while first > 0 and at - first < _MOST_VERB and words[first].joint == " ":
        if words[first - 1].stem in stops - vocabulary.apart_words:
            break
        first -= 1
    was = words[first - 1].stem in vocabulary.being if words[first].joint == " " else False
    if was and first and not is_bent(words[at].word):
        return False  # `was once the gate`
    verb = {words[p].stem for p in range(first, at + 1)}
    tying = tying | vocabulary.joining - vocabulary.tops | vocabulary.leftovers
    if around.words[name.first - 1].stem in vocabulary.knocks - vocabulary.misses and spoiled:
        return False  # `hit the asbestos garage`
    if verb & (tying | vocabulary.bits | vocabulary.own_objects):
        return False
    rest = {word.stem for word in words[name.last :]}
    return not rest & (vocabulary.bits | vocabulary.wreckers)


def _goes_on_with_it(around: Surroundings, span: Span) -> bool:
    """Whether a later clause begins with a word for it, none of the lot's: `it rotted`."""
    vocabulary, words = around.vocabulary, around.words
    return any(
        words[p].stem in vocabulary.subjects
        and not begins_at(words, vocabulary.went_away, p)
        and not begins_at(words, vocabulary.affirming, p)
        for p in range(span.last, len(words))
        if words[p].joint == ","
    )
