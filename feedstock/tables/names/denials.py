"""Whether a text denies a danger, or says that it was picked out or went elsewhere."""

from __future__ import annotations

from .spans import Span
from .surroundings import Surroundings, begins_at, ends_at
from .trie import Entry

_MOST_GAP, _MOST_AFTER, _LONGEST, _MOST_SOURCE = 5, 9, 4, 3


def is_denied(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether a negation stands before the word, with nothing between but what may, and none before
    that one: `never without creosote` denies nothing. Where the lack of a thing warns as well, no
    verb may stand between.
    """
    vocabulary, words = around.vocabulary, around.words
    if around.follows(span.last) in vocabulary.removed_last and entry.warns_of != "place":
        return False  # `didn't get the nails out`
    if around.follows(span.last) in vocabulary.nothings and around.follows(span.last + 1) == "":
        return True  # `we spray nothing`
    if around.words[around.clause(span.first).start].stem in around.vocabulary.whatevers:
        rest = around.clause(span.first)
        if any(around.words[p].stem in around.vocabulary.mistaken for p in rest):
            return True  # `whoever told you these were posts was mistaken`
    if _was_never_used(around, span) or _is_true_of_none(around, span):
        return True
    one = around.of_class(entry)
    verbs = vocabulary.denied_verbs if one is None or not one.missing else set()
    at, denied, placed = span.first, False, False
    joined = around.follows(span.last) in vocabulary.denied_or
    named = span.first if around.words[span.first - 1].stem in vocabulary.relatives else 0
    while at > 0 and (words[at].joint in " -" or (joined and _lists(around, at))):
        at -= 1
        stem = words[at].stem
        if length := ends_at(words, vocabulary.negations, at):
            if denied and at == around.clause(span.first).start and stem in vocabulary.nobodies:
                return True  # `no, it wasn't a fence`
            if denied:
                return False
            denied, at = True, at - length + 1
        elif (denied or placed) and at in around.dangers:
            break  # `not sprayed near the road`
        elif stem in vocabulary.denied_or and not denied:
            joined = True
        elif stem in vocabulary.denied_between or (stem in verbs and not denied):
            placed = placed or (stem,) in vocabulary.places or stem in vocabulary.within
        elif denied:
            break
        elif named and named - at <= _MOST_SOURCE and stem not in vocabulary.breaks - {"that"}:
            continue  # `not from the farm that sprays`
        elif around.is_of_plants(stem) and at not in around.dangers:
            continue  # `none of the bark sanded off`
        elif at not in around.dangers and not _joins_two(around, span, at):
            break
    return denied


def _is_true_of_none(around: Surroundings, span: Span) -> bool:
    """Whether nobody and nothing is what its clause tells of: `not one of the mares has been
    given it`; not `none of the nails were taken out`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    length = begins_at(words, vocabulary.negations, clause.start)
    last = clause.start + length - 1
    begins = {w.word for w in words[clause.start : last + 1]}
    if not length or not begins & vocabulary.nobodies:
        return False
    rest = range(last + 1, clause.stop)
    if any(ends_at(words, vocabulary.negations, p) for p in rest):
        return False
    if {words[p].stem for p in rest} & vocabulary.asking_words:
        return False  # `nobody knows what it was treated with`
    undone = any(ends_at(words, vocabulary.removals, p) for p in rest)
    said = any(
        words[p].stem in vocabulary.being | vocabulary.saying for p in rest if p < span.first
    )
    return said and not undone and words[clause.stop - 1].stem not in vocabulary.removed_last


def _was_never_used(around: Surroundings, span: Span) -> bool:
    """Whether its clause says so of it: `paint was never used`; not `before last May`."""
    vocabulary, words = around.vocabulary, around.words
    length = begins_at(words, vocabulary.never_used, span.last) if around.follows(span.last) else 0
    clause = around.clause(span.first)
    rest = range(span.last + length, clause.stop)
    until = any(ends_at(words, vocabulary.sooner, p) for p in rest)
    return length > 0 and clause.start >= span.first - 1 and not until


def _lists(around: Surroundings, at: int) -> bool:
    """Whether the break of a clause before the word at `at` only stands in a list: `hasn't been
    dipped, brushed or sprayed`.
    """
    words, before = around.words, at - 1
    return before in around.dangers or words[before].word.endswith("ed")


def _joins_two(around: Surroundings, span: Span, at: int) -> bool:
    """Whether an `and` joins two dangers, of which the second ends the clause and says nothing of
    what was done: `free from plastic and string`, not `no nails and painted`.
    """
    words, dangers = around.words, around.dangers
    done = any(words[p].word.endswith("ed") for p in range(span.first, span.last))
    joins = words[at].stem in around.vocabulary.denied_and and {at - 1, at + 1} <= dangers
    return joins and around.ends_clause(span) and not done


def can_be_removed(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether it is foreign matter, hung on a tree, or all pieces of a kind, and is no part of the
    lot once it is off.
    """
    vocabulary, first = around.vocabulary, span.first
    if first and around.words[first].joint == " ":
        if around.words[first - 1].stem in vocabulary.wholes:
            return True
    if around.nature == "soft" and entry.warns_of == "thing":
        return True  # `dahlias, stakes pulled out`
    return entry.foreign or bool(around.stems(span) & vocabulary.hung)


def is_removed(around: Surroundings, span: Span) -> bool:
    """Whether the words after it, or those directly before it, say that it was picked out, and no
    negation before it that it was not: `didn't get the nails out`.
    """
    vocabulary, words, dangers = around.vocabulary, around.words, around.dangers
    clause = around.clause(span.first)
    if any(ends_at(words, vocabulary.negations, p) for p in range(clause.start, span.first)):
        return False
    if words[clause.start].word in vocabulary.undone:
        return False  # `please take the nails out`
    joined = False
    for at in range(span.last, min(len(words), span.last + _MOST_GAP)):
        if words[at].joint != " ":
            return words[at].joint == "," and _begins_with_removal(around, at)
        if any(
            ends_at(words[at:], vocabulary.removals, last) == last + 1 for last in range(_LONGEST)
        ):
            return True
        ends = at + 1 == len(words) or words[at + 1].joint == ","
        ends = ends or words[at + 1].stem in vocabulary.when - vocabulary.clause_heads
        ends = ends or around.is_off_now(at + 1)
        alone = at + 2 == len(words) and words[at + 1].stem in vocabulary.none_of_it
        if (ends or alone) and words[at].stem in vocabulary.removed_last:
            return True
        between = words[at].stem in vocabulary.removed_between or at in dangers
        if not between and not (joined and words[at].stem not in vocabulary.breaks):
            break
        joined = words[at].stem in vocabulary.denied_and
    at = span.first
    while at > 0 and words[at].joint == " ":
        at -= 1
        if ends_at(words, vocabulary.removals, at) and not words[at].word.endswith("s"):
            return True  # `stripped of plastic`, not `strips of plastic`
        listed = vocabulary.removed_between | vocabulary.denied_and | vocabulary.counts
        if words[at].stem not in listed and at not in dangers:
            return False
    return False


def _begins_with_removal(around: Surroundings, at: int) -> bool:
    """Whether the clause that begins here says no more than that something was picked out."""
    vocabulary, words = around.vocabulary, around.words
    while words[at].stem in vocabulary.removed_between and around.follows(at + 1):
        at += 1
    length = begins_at(words, vocabulary.removals, at)
    return length > 0 and not around.follows(at + length)


def removed_later(around: Surroundings) -> dict[str, int]:
    """Where foreign matter is said to be picked out, which answers what was said of it before."""
    return {
        entry.phrase: span.first
        for span in around.spans
        if (entry := span.danger) is not None
        and entry.foreign
        and not around.is_left_open(span)
        and is_removed(around, span)
    }


def is_elsewhere(around: Surroundings, span: Span, entry: Entry) -> bool:
    """Whether the words after a danger say that it is not in the lot: `is not included`. Then what
    else its clause names is where that went.
    """
    vocabulary, words = around.vocabulary, around.words
    groups = [vocabulary.excluded]
    if entry.foreign and words[around.clause(span.first).start].word in vocabulary.undone:
        return False
    if entry.warns_of in ("thing", "plant") or entry.foreign:
        groups.append(vocabulary.staying_there)
    if _is_parted(around, span):
        return not around.is_hedged(span)
    if _is_not_so_here(around, span):
        around.gone.update(around.clause(span.first))
        return True
    for at in range(span.last, min(len(words), span.last + _MOST_AFTER)):
        if words[at].joint == ",":
            while at in around.dangers and at + 1 < len(words):
                at += 1  # `Ply? MDF? None of that`
            last = around.clause(at).stop == at + 1 or begins_at(
                words, vocabulary.explaining, at + 1
            )
            alone = (words[at].stem,) in vocabulary.negations and bool(last)
            denied = alone or begins_at(words, vocabulary.nowhere, at) > 0
            others = any(begins_at(words, vocabulary.after_all, p) for p in range(at, len(words)))
            return denied and not others and not around.is_hedged(span)
        length = max(begins_at(words, group, at) for group in groups)
        length = length or _came_late(around, at, stands=len(groups) > 1)
        if not length:
            continue
        clause = around.clause(at)
        left_open = any(
            (p in clause or (p > at and _excepts(around, p))) and not at <= p < at + length
            for p in around.hedges
        )
        if left_open or _ends_there(around, at + length):
            return False
        around.gone.update(range(span.first, clause.stop))
        return True
    return False


def _is_not_so_here(around: Surroundings, span: Span) -> bool:
    """Whether the next clause says no more than that this lot did not: `the spoons get oiled, these
    never did`; not `these never did dry`.
    """
    vocabulary, words = around.vocabulary, around.words
    clause = around.clause(span.first)
    if clause.stop >= len(words) or words[clause.start].stem not in vocabulary.articles:
        return False
    after = around.clause(clause.stop)
    lot = vocabulary.subjects | vocabulary.own_objects & vocabulary.none_of_it
    if words[after.start].stem not in lot or len(after) == 1:
        return False
    told = {words[p].stem for p in clause} & (vocabulary.passives | vocabulary.being)
    length = begins_at(words, vocabulary.negations, after.start + 1)
    rest = [words[p].stem for p in range(after.start + 1 + length, after.stop)]
    ends = len(rest) < 2 and set(rest) <= vocabulary.saying | vocabulary.being
    return bool(told) and length > 0 and ends


def _came_late(around: Surroundings, at: int, stands: bool) -> int:
    """How many words at `at` say that it came later: `wasn't till`, and of a thing that stands
    somewhere `wasn't laid till`; 0 for none.
    """
    vocabulary, words = around.vocabulary, around.words
    length = begins_at(words, vocabulary.negations, at)
    if not length:
        return 0
    length += begins_at(words, vocabulary.arriving, at + length) if stands else 0
    later = vocabulary.when - vocabulary.clause_heads
    return length + 1 if around.follows(at + length) in later else 0


def _excepts(around: Surroundings, at: int) -> bool:
    """Whether the hedge that ends with the word at `at` excepts something: `apart from these`."""
    stems = {around.words[p].stem for p in range(max(0, at - 1), at + 1)}
    return bool(stems & around.vocabulary.excepting)


def _ends_there(around: Surroundings, at: int) -> bool:
    """Whether what follows says that it did not stay where it went: `left standing till May`; not
    `taken out and put in the skip`.
    """
    vocabulary = around.vocabulary
    if around.words[at - 1].stem in vocabulary.firsts:
        return False  # `moved out first and then`
    if around.follows(at) in vocabulary.denied_and:
        return not begins_at(around.words, vocabulary.excluded, at + 1)
    if around.follows(at) and (length := begins_at(around.words, vocabulary.sooner, at)):
        if around.follows(at + length) in vocabulary.pronouns:
            return False  # `went to the tip before we began`
        return not _names_plants(around, at + length)  # `went to the tip before the tree fell`
    return around.follows(at) in vocabulary.lasting


def _names_plants(around: Surroundings, at: int) -> bool:
    """Whether a plant or a form of its matter follows, with its article."""
    if around.follows(at) not in around.vocabulary.articles:
        return False
    return bool(around.follows(at + 1)) and around.is_of_plants(around.words[at + 1].stem)


def _is_parted(around: Surroundings, span: Span) -> bool:
    """Whether the danger was parted from the lot: `left the painted ones out`."""
    vocabulary, words, at = around.vocabulary, around.words, span.first
    while at > 0 and words[at].joint == " " and words[at - 1].stem in vocabulary.articles:
        at -= 1
    if at == 0 or words[at].joint != " " or words[at - 1].stem not in vocabulary.parting:
        return False
    after = span.last
    while around.follows(after) and words[after].stem not in vocabulary.breaks | vocabulary.parted:
        after += 1
    return around.follows(after) in vocabulary.parted
