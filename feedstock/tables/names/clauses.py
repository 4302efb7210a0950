"""What the clause around a danger word says of it: that the lot stands beside it, did something to
it, was there before it or is likened to it, or that it names somebody or something else.
"""

from __future__ import annotations

from .language import Language
from .spans import Span
from .surroundings import Surroundings, begins_at, ends_at, far_at
from .trie import Entry, Phrase

_MOST_OF_NAME, _MOST_LINKS, _MOST_GAP = 4, 2, 5


def is_apart(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the clause sets the lot apart from a danger, hedged or not."""
    if entry.warns_of == "thing" and _is_beside_thing(around, span):
        return True
    return (
        _is_asked_for(around, span, entry)
        or _is_by_nature(around, span, entry)
        or _is_a_person(around, span)
        or _is_what_held_it(around, span, entry)
        or _is_aside(around, span, entry)
    )


def _is_beside_thing(around: Surroundings, span: Span) -> bool:
    """Whether a place phrase with an article stands before the thing, with nothing between but
    another thing (`against the shed wall`) or what kind of thing it is.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.first
    while at > 0 and words[at].joint == " ":
        at -= 1
        if ends_at(words, vocabulary.bare_places, at):
            return not _is_fetched_from(around, span, at)
        if words[at].stem in vocabulary.articles:
            while at > 0 and words[at].joint == " " and words[at - 1].stem in vocabulary.articles:
                at -= 1  # `the neighbour's`
            if at == 0 or words[at].joint != " " or _is_fetched_from(around, span, at - 1):
                return False
            if around.is_joined(span.last):
                return False  # `by the fence, some of it in with them`
            return _is_placed(around, at - 1) or (
                words[at - 1].stem in vocabulary.within and _stays(around, at - 1)
            )
        if words[at].stem in vocabulary.within and around.follows(span.last) in vocabulary.staying:
            return not _is_fetched_from(around, span, at)  # `im Schuppen getrocknet`
        if at not in around.dangers and words[at].stem not in vocabulary.beside_between:
            return False
    return False


def _is_fetched_from(around: Surroundings, span: Span, at: int) -> bool:
    """Whether the thing is one that lots are fetched from, and the lot was in or on it."""
    classes = (around.of_class(entry) for entry in span.entries)
    fetched = any(one is not None and one.fetched for one in classes)
    return fetched and around.words[at].stem in around.vocabulary.within


def _is_placed(around: Surroundings, last: int) -> bool:
    """Whether a phrase of place ends with the word at `last`, and nothing was torn from there."""
    length = ends_at(around.words, around.vocabulary.places, last)
    return length > 0 and not _is_torn_from(around, last - length + 1)


def _only_goes_there(around: Surroundings, at: int) -> bool:
    """Whether something went, lay or was worked in, on or at the thing, and was no part of it:
    `sawn on the bench`, not `used on the roof`.
    """
    vocabulary, words = around.vocabulary, around.words
    if words[at].stem not in vocabulary.going_to:
        return False
    if around.is_wrecked(at):
        return False  # `took down the shed`
    while at > 0 and words[at].joint != "," and words[at - 1].stem in vocabulary.going_to:
        at -= 1
    clause = [words[p].stem for p in range(around.clause(at).start, at)]
    before = {
        stem
        for stem, following in zip(clause, [*clause[1:], ""], strict=False)
        if not (
            stem in vocabulary.being and following in vocabulary.doing | vocabulary.obliged
        )  # `had to drag`
    }
    if before & (vocabulary.fixing | vocabulary.torn):
        return False
    return bool(before & vocabulary.doing)


def _is_torn_from(around: Surroundings, first: int) -> bool:
    """Whether the lot was taken from beside or under the thing, or is what is left of it: `pulled
    up from under`.
    """
    vocabulary, words = around.vocabulary, around.words
    before = {words[p].stem for p in range(max(0, first - 3), first)}
    leaves = words[first].stem in vocabulary.leaving or before & vocabulary.leaving
    return bool(before & vocabulary.leftovers or (leaves and before & vocabulary.torn))


def _stays(around: Surroundings, at: int) -> bool:
    """Whether what stands before the word at `at` says that the lot only lay there: `kept dry` in
    the barn, or `under the bench` in it.
    """
    for before in range(at - 1, max(-1, at - _MOST_GAP), -1):
        if around.words[before + 1].joint != " ":
            return False
        if before in around.aside or around.words[before].stem in around.vocabulary.staying:
            return True
        if before in around.dangers:
            return False
    return False


def _is_aside(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the words before a danger set the lot apart from it."""
    vocabulary, words = around.vocabulary, around.words
    at, article = _before_name(around, span.first)
    if at < 0:
        return False
    kind = entry.warns_of
    if ends_at(words, vocabulary.distant, at):
        return kind in ("thing", "place") and not _is_negated(around, at)
    if kind == "on it" and _is_what_grows_like_it(around, at):
        return True
    if _is_likened(around, at) and not _smells_of_it(around, span.last):
        return kind in ("thing", "on it", "place")
    if kind == "place":
        plot = around.nature != "soft" and words[span.last - 1].stem in vocabulary.plots
        if article and words[span.last - 1].stem in vocabulary.fixtures:
            return _is_beside(around, at)
        sooner = bool(ends_at(words, vocabulary.sooner, at))
        return article and (sooner or (plot and _only_goes_there(around, at)))
    if entry.foreign:
        return _is_covered(around, at, article)
    if kind != "thing" or _is_fetched_from(around, span, at):
        return False
    if article and (_is_beside(around, at) or _only_goes_there(around, at)):
        return not around.is_joined(span.last)
    return _is_a_purpose(around, at)


def _before_name(around: Surroundings, first: int) -> tuple[int, bool]:
    """The word that governs the name that a word stands in, -1 for none, and whether the name has
    an article.
    """
    vocabulary, words, at = around.vocabulary, around.words, first
    article = words[first].stem in vocabulary.articles and {first, first + 1} <= around.dangers
    while at > 0 and words[at].joint != ",":
        word = words[at - 1].stem
        if article and (
            far_at(around, at - 1)
            or any(ends_at(words, group, at - 1) for group in _befores(vocabulary))
        ):
            return at - 1, article  # `junto a la valla`: `a` is an article elsewhere
        if word in vocabulary.articles:
            article = True
        elif article or word in vocabulary.breaks:
            return at - 1, article
        elif first - at >= _MOST_OF_NAME:
            return -1, False
        at -= 1
    return -1, article


def _befores(vocabulary: Language) -> tuple[set[Phrase], ...]:
    return vocabulary.places, vocabulary.contacts, vocabulary.sooner, vocabulary.covering


def _is_beside(around: Surroundings, at: int) -> bool:
    """Whether the word at `at` puts the lot beside what follows, at once or by another name:
    `the wall of the barn`.
    """
    vocabulary, words = around.vocabulary, around.words
    for _ in range(_MOST_LINKS + 1):
        befores = (ends_at(words, group, at) for group in _befores(vocabulary))
        if length := max(far_at(around, at), *befores):
            return not _is_torn_from(around, at - length + 1)
        joins = words[at].stem in vocabulary.links | vocabulary.denied_and
        if not joins or not at or words[at].joint == ",":
            return False
        at, _ = _before_name(around, at - 1)
        if at < 0:
            return False
    return False


def _is_covered(around: Surroundings, at: int, article: bool) -> bool:
    """Whether it lay over the lot: `under the plastic`, `under a sheet of iron`."""
    vocabulary, words = around.vocabulary, around.words
    if words[at].stem in vocabulary.links and at:
        at, article = _before_name(around, at - 1)
    return article and at >= 0 and bool(ends_at(words, vocabulary.covering, at))


def _is_negated(around: Surroundings, at: int) -> bool:
    """Whether a negation stands among the words before."""
    clause = around.clause(at)
    return any(
        ends_at(around.words, around.vocabulary.negations, p) for p in range(clause.start, at)
    )


def _is_likened(around: Surroundings, at: int) -> bool:
    """Whether `as`, `as if` or `like` stands at `at`, after a word of how a piece is or of what
    grows on it: `straight as a pole`, `resin like glue`.
    """
    vocabulary, words, first = around.vocabulary, around.words, at
    if words[at].stem in vocabulary.links and at > 1:
        before, _ = _before_name(around, at - 1)  # `like strips of plastic`
        first = at = before if before >= 0 else at
    while first >= 0 and words[first].stem in vocabulary.likens:
        if first == 0 or words[first].joint == ",":
            first -= 1
            break
        first -= 1
    if first == at or first < 0:
        return False
    while first > 0 and words[first].stem in vocabulary.adverbs and words[first].joint == " ":
        first -= 1  # `curls up like`
    if words[first].stem in vocabulary.sensing:
        return False
    if _is_as_as(around, first, at):
        return True
    return words[first].stem in vocabulary.likened or any(
        words[p].stem in vocabulary.growths for p in range(first + 1)
    )


def _is_what_grows_like_it(around: Surroundings, at: int) -> bool:
    """Whether it is lichen, bark or the like of the same clause that only looks so: `the lichen
    looks like paint`.
    """
    vocabulary, words = around.vocabulary, around.words
    before = range(around.clause(at).start, at)
    looks = words[at].stem in vocabulary.likens and words[at - 1].stem in vocabulary.sensing
    return looks and any(words[p].stem in vocabulary.growths for p in before)


def _smells_of_it(around: Surroundings, first: int) -> bool:
    """Whether the text goes on to say that it smells of that too."""
    vocabulary, words = around.vocabulary, around.words
    return any(
        (words[p].stem in vocabulary.sensing and around.follows(p + 2) in vocabulary.subjects)
        or begins_at(words, vocabulary.after_all, p)
        for p in range(first, len(words))
    )


def _is_as_as(around: Surroundings, first: int, at: int) -> bool:
    """Whether the word at `first` is how something is, between two words that liken: `as bright
    as`; not `as well as`.
    """
    vocabulary, words = around.vocabulary, around.words
    if first == 0 or words[first].joint == "," or words[first].stem in vocabulary.joining_as:
        return False
    return words[first - 1].stem == words[at].stem in vocabulary.likens


def _is_a_purpose(around: Surroundings, at: int) -> bool:
    """Whether the thing is what something was given away or kept for: `sold for furniture`."""
    vocabulary, words = around.vocabulary, around.words
    if words[at].stem not in vocabulary.purposes:
        return False
    for before in range(at - 1, max(-1, at - _MOST_GAP - 1), -1):
        if words[before + 1].joint == "," or before in around.dangers:
            return False
        if ends_at(words, vocabulary.giving, before):
            return True
    return False


def _is_by_nature(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether wind and weather did it: `demolished by the storm`, `bleached by the sun`."""
    vocabulary, at = around.vocabulary, span.last
    if entry.warns_of not in ("thing", "on it") or around.follows(at) not in vocabulary.agents:
        return False
    clause = around.clause(span.first)
    if any(around.words[p].stem in vocabulary.sensing for p in clause):
        return False
    at += 1
    while around.follows(at) in vocabulary.articles or around.follows(at) in vocabulary.natural:
        at += 1
    return around.follows(at) in vocabulary.nature


def _is_what_held_it(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the lot only came, lay or stood in or on a thing: `the crate it came in`."""
    vocabulary, words = around.vocabulary, around.words
    if entry.warns_of != "thing" and not entry.foreign:
        return False
    at = span.last
    while at in around.dangers:
        at += 1
    at += around.follows(at) in vocabulary.relatives
    if around.follows(at) not in vocabulary.subjects:
        return False
    if entry.warns_of == "thing" and around.follows(at + 1) in vocabulary.knocks:
        return _begins_clause(around, span)  # `the shed it hit`
    for after in range(at + 1, min(len(words), at + _MOST_GAP)):
        if words[after].joint == ",":
            return False
        if words[after].stem in vocabulary.holding:
            lies = any(words[verb].stem in vocabulary.lying for verb in range(at + 1, after))
            return lies and _begins_clause(around, span) and not _joins_again(around, after + 1)
    return False


def _begins_clause(around: Surroundings, span: Span) -> bool:
    """Whether the name that a danger stands in begins its clause."""
    before = range(around.clause(span.first).start, span.first)
    return not any(around.words[p].stem in around.vocabulary.breaks for p in before)


def _joins_again(around: Surroundings, at: int) -> bool:
    """Whether the rest of a clause says that it is in the lot all the same."""
    rest = range(at, around.clause(at - 1).stop)
    return any(around.words[p].stem in around.vocabulary.joining for p in rest)


def is_where_it_grew(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a word with its article tells where pieces in their bark grew, or where leaves and
    stalks were gathered: `from the house`, `off the patio`. Of bark it must be a weak word: a
    strong one names a thing all the same, and is asked about.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.first
    while at > 0 and words[at - 1].stem in vocabulary.articles:
        at -= 1
    named = 0 < at < span.first and words[at - 1].stem in vocabulary.growing_at
    if not named or not entry.under_bark or entry.warns_of != "thing":
        return False
    one = around.of_class(entry)
    if one is not None and one.fetched:
        return False  # `from the salvage yard`
    if around.nature == "in bark":
        return entry.weak
    return words[span.last - 1].stem in vocabulary.plots


def is_an_address(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a road or a field is only the name of where the garden lies: `our garden in Mill
    Road`.
    """
    vocabulary, words, at = around.vocabulary, around.words, span.last - 1
    if entry.warns_of == "thing" and around.follows(at + 1) in vocabulary.fields:
        return all(around.text[words[p].start].isupper() for p in (at, at + 1))  # `Barn Close`
    if around.follows(at + 1) in vocabulary.streets:
        at += 1  # `Church Road`
    elif entry.warns_of != "place":
        return False
    if words[at].stem not in vocabulary.streets or at == 0:
        return False
    named = all(around.text[words[p].start].isupper() for p in (at - 1, at))
    if words[at].joint != " " or not named:
        return False
    return any(word.stem in vocabulary.homes for word in words)


def _is_a_person(around: Surroundings, span: Span) -> bool:
    """Whether the word names people who are only told of the fire, or come for something else."""
    vocabulary, words = around.vocabulary, around.words
    last = around.behind_person(span)
    if last is None:
        return False
    if last == span.last and around.follows(last) in vocabulary.vessels:
        return True  # `builders' bags`
    if around.follows(last) and begins_at(words, vocabulary.told, last):
        return True
    if _joins_again(around, last):
        return False  # `ask the painter what he put on`
    at = span.first
    while at > 0 and words[at].joint == " " and words[at - 1].stem in vocabulary.articles:
        at -= 1
    if at == 0 or words[at].joint != " ":
        return False
    if ends_at(words, vocabulary.telling, at - 1) or ends_at(words, vocabulary.sooner, at - 1):
        return True
    return any(ends_at(words, vocabulary.lending, before) for before in range(at))


def _is_asked_for(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a clause only asks for something: `bring the metal bucket`; not `please take the
    nails out`.
    """
    first = around.words[around.clause(span.first).start]
    asks = first.stem in around.vocabulary.asking
    to_do = first.word in around.vocabulary.undone
    return asks and (entry.warns_of == "thing" or (entry.foreign and not to_do))
