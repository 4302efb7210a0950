"""What a text holds around its danger words."""

from __future__ import annotations

from dataclasses import field
from functools import cached_property

from ...quantities.frozen import record
from ..rows.methods.language import DangerClass
from .language import Language
from .meanings import Nature
from .spans import Span
from .text import Token
from .trie import Entry, Phrase

_LONGEST, _LEAST_TOLD, _MOST_REMARK = 5, 3, 5


@record
class Surroundings:
    """A text by its words, with the words of its dangers. `aside` are words of things that are
    beside the lot, `gone` those of a clause about something that went elsewhere.
    """

    vocabulary: Language
    text: str
    words: list[Token]
    spans: list[Span]
    nature: Nature = "any"
    aside: set[int] = field(default_factory=set)
    gone: set[int] = field(default_factory=set)

    @cached_property
    def dangers(self) -> set[int]:
        return {p for s in self.spans if s.danger for p in range(s.first, s.last)}

    @cached_property
    def hedges(self) -> list[int]:
        """The words at which something is left open."""
        vocabulary, words = self.vocabulary, self.words
        return [
            at
            for at, word in enumerate(words)
            if (
                word.stem in vocabulary.hedge_ends
                and ends_at(words, vocabulary.hedges, at)
                and not (self._limits_plants(at) or self._passes_by(at) or self._is_a_month(at))
                and not self._denies_again(at)
                and not (self._knows_well(at) or self._is_none_within(at) or self._is_a_wish(at))
                and not (self._is_so_much(at) or self._is_firm(at) or self._disbelieves(at))
                and not self.is_off_now(at)
                and not self._is_of_foreign_matter(at)
                and not self._is_a_report(at)
            )
            or (
                at
                and word.stem in vocabulary.ellipses
                and not self.follows(at + 1)
                and not ends_at(words, vocabulary.negations, at - 1)
            )
        ]

    def is_left_open(self, span: Span) -> bool:
        """Whether a word leaves open what the sentence of a danger says, there or in one beside it
        that says little else: `No paint on it. I think.`
        """
        if not self.hedges:
            return False
        own = self.sentence(span.first)
        if any(at in own for at in self.hedges):
            return True
        words, beside = self.words, {own.start - 1, own.stop}
        for at in self.hedges:
            sentence = self.sentence(at)
            if not beside & {*sentence}:
                continue
            begins = ends_at(words, self.vocabulary.hedges, at) == at - sentence.start + 1
            if len(sentence) <= _MOST_REMARK or begins:
                return True
        return False

    def sentence(self, at: int) -> range:
        """The words of the sentence that a word stands in."""
        first, last = at, at + 1
        while first > 0 and not self._begins_sentence(first):
            first -= 1
        while last < len(self.words) and not self._begins_sentence(last):
            last += 1
        return range(first, last)

    def _begins_sentence(self, at: int) -> bool:
        words = self.words
        if words[at].joint != ",":
            return False
        between = self.text[words[at - 1].end : words[at].start] if at else "."
        return any(mark in between for mark in ".!?\n")

    def _is_of_foreign_matter(self, at: int) -> bool:
        """Whether `this year` ends the denial of foreign matter: `no plastic this year`."""
        words, this = self.words, at - 1
        if this < 1 or words[this].stem not in self.vocabulary.articles:
            return False
        foreign = any(s.last == this and s.danger and s.danger.foreign for s in self.spans)
        clause = self.clause(at)
        denied = begins_at(words, self.vocabulary.negations, clause.start) > 0
        passes = words[at].stem in self.vocabulary.passing
        return foreign and denied and passes and at + 1 == clause.stop

    def _limits_plants(self, at: int) -> bool:
        """Whether `only` names plants or what grows: `garden waste only`, `only the tree`."""
        if self.words[at].stem not in self.vocabulary.limits:
            return False
        after = at + 1
        between = self.vocabulary.articles | self.vocabulary.denied_verbs
        between = between | self.vocabulary.getting | self.vocabulary.self_owned
        while self.follows(after) in between:
            after += 1
        if self.follows(after) and self.is_of_plants(self.words[after].stem):
            return True
        ends = self.follows(after) in {"", *self.vocabulary.breaks}
        return ends and at > 0 and self.is_of_plants(self.words[at - 1].stem)

    def _denies_again(self, at: int) -> bool:
        """Whether a denial of one's own follows `but`: `she sprays hers but I never do`."""
        if self.words[at].stem not in self.vocabulary.clause_heads:
            return False
        if at and (self.words[at - 1].stem,) in self.vocabulary.negations:
            return bool(self.follows(at + 1)) and self.is_of_plants(self.words[at + 1].stem)
        if self._turns_to_else(at):
            return True
        after, people = at + 1, self.vocabulary.ours | self.vocabulary.pronouns
        while after < len(self.words) and self.words[after].stem in people:
            after += 1
        return any(
            begins_at(self.words, self.vocabulary.negations, p)
            for p in (at + 1, after)
            if p < len(self.words)
        )

    def _turns_to_else(self, at: int) -> bool:
        """Whether `but` goes on with plants, weather or work: `no sprays but it got wet`."""
        vocabulary, words = self.vocabulary, self.words
        part = range(at + 1, self.clause(at).stop)
        if words[at].stem in vocabulary.limits | vocabulary.passing:
            return False  # `no furniture, only on the ends`
        if len(part) < _LEAST_TOLD or words[part[-1]].stem in vocabulary.ellipses:
            return False
        open_ = (
            vocabulary.amounts
            | vocabulary.bits
            | vocabulary.joining - vocabulary.tops
            | vocabulary.passing
        )
        if any(p in self.dangers or words[p].stem in open_ for p in part):
            return False
        if any(ends_at(words, vocabulary.hedges, p) for p in part):
            return False
        told = vocabulary.gathering | vocabulary.likened | vocabulary.nature | vocabulary.falling
        return any(words[p].stem in told or self.is_of_plants(words[p].stem) for p in part)

    def _knows_well(self, at: int) -> bool:
        """Whether `know` begins a clause of its own without a danger: `I know the difference`."""
        if self.words[at].stem not in self.vocabulary.knowing:
            return False
        clause = self.clause(at)
        if at != clause.start + 1 or self.words[clause.start].stem not in self.vocabulary.pronouns:
            return False
        after = self.follows(at + 1)
        told = after in self.vocabulary.articles or (after and after not in self.vocabulary.breaks)
        return bool(told) and not any(
            p in self.dangers or ends_at(self.words, self.vocabulary.negations, p) for p in clause
        )

    def _is_none_within(self, at: int) -> bool:
        """Whether a word of where only ends the denial of foreign matter: `no plastic inside`; of
        paint it leaves open what is outside.
        """
        words, clause = self.words, self.clause(at)
        foreign = any(s.last == at and s.danger and s.danger.foreign for s in self.spans)
        where = words[at].stem in self.vocabulary.passing & self.vocabulary.within
        denied = begins_at(words, self.vocabulary.negations, clause.start) > 0
        rest = {word.stem for word in words[at + 1 :]}
        more = rest & (self.vocabulary.passing | self.vocabulary.amounts)
        return foreign and where and denied and at + 1 == clause.stop and not more

    def _is_a_wish(self, at: int) -> bool:
        """Whether `could` only says for what there was no time: `before we could bale it`."""
        vocabulary, words = self.vocabulary, self.words
        if words[at].stem not in vocabulary.seeing or at < 2:
            return False
        return words[at - 1].stem in vocabulary.pronouns and bool(
            ends_at(words, vocabulary.sooner, at - 2)
        )

    def _is_so_much(self, at: int) -> bool:
        """Whether `much` only gives weight to a denial: `never so much as a drop`."""
        if not at or self.words[at - 1].stem not in self.vocabulary.so:
            return False
        clause = self.clause(at)
        denied = (
            ends_at(self.words, self.vocabulary.negations, p) for p in range(clause.start, at)
        )
        return self.follows(at + 1) in self.vocabulary.likens and any(denied)

    def _is_firm(self, at: int) -> bool:
        """Whether it takes nothing back: `for certain`, `whatever she says`, `would not`."""
        vocabulary, words = self.vocabulary, self.words
        clause, stem = self.clause(at), words[at].stem
        if any(p in self.dangers for p in clause) and stem not in vocabulary.certain:
            return False
        if words[clause.start].stem in vocabulary.whatevers and at > clause.start:
            return True
        if stem in vocabulary.certain and at and words[at - 1].stem in vocabulary.purposes:
            return not any(ends_at(words, vocabulary.negations, p) for p in range(clause.start, at))
        would = stem in vocabulary.woulds and at + 1 < len(words)
        return would and begins_at(words, vocabulary.negations, at + 1) > 0

    def _is_a_report(self, at: int) -> bool:
        """Whether somebody says what follows of what grew: `the farmer says it isn't sprayed`; not
        `no pallets, my wife says`.
        """
        said = self.words[at].stem in self.vocabulary.reports and bool(self.follows(at + 1))
        return self.nature != "any" and said and at > self.clause(at).start

    def is_off_now(self, at: int) -> bool:
        """Whether `now` ends a clause that says that something is off or gone."""
        ends = at + 1 == len(self.words) or self.words[at + 1].joint == ","
        off = self.words[at - 1].stem in self.vocabulary.removed_last if at else False
        return ends and off and self.words[at].stem in self.vocabulary.passing

    def _disbelieves(self, at: int) -> bool:
        """Whether a verb of belief is denied itself: `we don't believe in sprays`."""
        denied = at > 0 and ends_at(self.words, self.vocabulary.negations, at - 1)
        return bool(denied) and self.follows(at + 1) in self.vocabulary.within

    def _is_a_month(self, at: int) -> bool:
        """Whether `May` is the month."""
        if self.words[at].stem not in self.vocabulary.months:
            return False
        return (
            self.text[self.words[at].start].isupper()
            and at > 0
            or (at > 0 and self.words[at - 1].stem in self.vocabulary.dating)
        )

    def _passes_by(self, at: int) -> bool:
        """Whether a word of amount or time stands in a clause of its own that tells of plants or of
        work with them, and takes nothing back: `cut last year, never sprayed`.
        """
        vocabulary, words = self.vocabulary, self.words
        if words[at].stem not in vocabulary.passing:
            return False
        clause = self.clause(at)
        if at and len(clause) == 1:
            clause = self.clause(at - 1)  # `ash the tree, now`
        if self.follows(at + 1) in vocabulary.within:
            return False  # `only on the trunk`
        before = words[at - 1].stem if at > clause.start else ""
        if before in vocabulary.agents and (words[at - 2].stem,) in vocabulary.negations:
            return at > clause.start + 1  # `not by us`
        if any(p in self.dangers for p in clause):
            return False
        if any(ends_at(words, vocabulary.negations, p) for p in clause):
            return False
        told = len(clause) >= _LEAST_TOLD
        return any(
            (told and words[p].stem in vocabulary.gathering) or self.is_of_plants(words[p].stem)
            for p in clause
        )

    def is_of_plants(self, stem: str) -> bool:
        """Whether a word names a plant, a form of its matter, or what grows on it by nature."""
        entries = self.vocabulary.composed.longest([stem])[1]
        grows = stem in self.vocabulary.growths
        return grows or any(entry.role in ("plant", "form") for entry in entries)

    def plants_at(self, at: int) -> set[str]:
        """How the plants grow that a word names: `tree`, `conifer`; none of no plant."""
        entries = self.vocabulary.composed.longest([self.words[at].stem])[1]
        return {str(self.vocabulary.plants[e.of].grows) for e in entries if e.role == "plant"}

    def is_resumed(self, after: int) -> bool:
        """Whether the text goes on to say of something that it is the lot all the same: `this is
        it`, `mixed in`.
        """
        return any(begins_at(self.words, self.vocabulary.resuming, p) for p in self._from(after))

    def is_joined(self, after: int) -> bool:
        """Whether the text goes on to say that some of it is in the lot: `some in with it`."""
        within = self.vocabulary.within | self.vocabulary.joining
        return any(
            length and {w.stem for w in self.words[p : p + length]} & within
            for p in self._from(after)
            if (length := begins_at(self.words, self.vocabulary.resuming, p))
        )

    def _from(self, after: int) -> range:
        return range(after, len(self.words))

    def is_whose(self, at: int) -> bool:
        """Whether a word says whose something is: `Ken's`, `the farmers'`."""
        said = self.text[self.words[at].start : self.words[at].end + 1].replace("\u2019", "'")
        who = said.partition("'")[0].lower()
        owns = said.rstrip().endswith(("'s", "s'")) and who not in self.vocabulary.breaks
        return owns and bool(self.follows(at + 1))

    def follows(self, at: int) -> str:
        """The word that stands at `at` in the clause of the word before it; "" for none."""
        here = at < len(self.words) and self.words[at].joint in " -"
        return self.words[at].stem if here else ""

    def is_a_can(self, at: int) -> bool:
        """Whether `can` is the vessel of what it follows: `the petrol can in the shed`."""
        vocabulary = self.vocabulary
        if self.follows(at) not in vocabulary.holders & vocabulary.breaks:
            return False
        ends = vocabulary.within | vocabulary.besides | vocabulary.links | vocabulary.denied_and
        return self.follows(at + 1) in {"", *ends}

    def is_wrecked(self, at: int) -> bool:
        """Whether `up`, `down` or `apart` at `at` belongs to a verb that makes pieces of what
        follows: `sawn up the deck`, not `carried up the steps`.
        """
        vocabulary = self.vocabulary
        verbs = vocabulary.wrecking | vocabulary.structural & vocabulary.gathering
        apart = self.words[at].stem in vocabulary.apart_words
        return apart and at > 0 and self.words[at - 1].stem in verbs

    def behind_person(self, span: Span) -> int | None:
        """Where the words go on that name a person, as `painter` or `furniture maker` do; None
        where they name none.
        """
        last = span.last
        if self.follows(last) in self.vocabulary.makers:
            return last + 1
        return last if self.words[last - 1].stem in self.vocabulary.people else None

    def clause(self, at: int) -> range:
        """The words of the clause that a word stands in."""
        first = last = at
        while first > 0 and self.words[first].joint != ",":
            first -= 1
        while last + 1 < len(self.words) and self.words[last + 1].joint != ",":
            last += 1
        return range(first, last + 1)

    def ends_clause(self, span: Span) -> bool:
        return span.last == len(self.words) or self.words[span.last].joint == ","

    def is_hedged(self, span: Span) -> bool:
        """Whether the clause of a danger leaves something open."""
        clause = self.clause(span.first)
        return any(at in clause for at in self.hedges)

    def stems(self, span: Span) -> set[str]:
        return {self.words[p].stem for p in range(span.first, span.last)}

    def of_class(self, entry: Entry) -> DangerClass | None:
        known = self.vocabulary.classes.get(entry.of)
        return known[1] if known is not None else None


def ends_at(words: list[Token], phrases: set[Phrase], last: int) -> int:
    """How many words of the longest of some phrases end with the word at `last`; 0 for none."""
    for length in range(min(_LONGEST, last + 1) if last < len(words) else 0, 0, -1):
        if any(words[at].joint == "," for at in range(last - length + 2, last + 1)):
            continue
        if tuple(w.stem for w in words[last - length + 1 : last + 1]) in phrases:
            return length
    return 0


def far_at(around: Surroundings, last: int) -> int:
    """How many words of a distance from something end with the word at `last`: `ten paces back
    from`; 0 for none.
    """
    vocabulary, words = around.vocabulary, around.words
    away = vocabulary.leaving | vocabulary.removed_last | vocabulary.links
    if last < 1 or words[last].stem not in away:
        return 0
    first = last - 1
    between = vocabulary.adverbs | vocabulary.within
    if first and words[first].stem in between and words[first].joint == " ":
        first -= 1
    return last - first + 1 if words[first].stem in vocabulary.units else 0


def begins_at(words: list[Token], phrases: set[Phrase], first: int) -> int:
    """How many words of the longest of some phrases begin with the word at `first`."""
    for length in range(min(_LONGEST, len(words) - first), 0, -1):
        if any(words[at].joint == "," for at in range(first + 1, first + length)):
            continue
        if tuple(w.stem for w in words[first : first + length]) in phrases:
            return length
    return 0
