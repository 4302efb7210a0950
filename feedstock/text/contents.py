"""What stands on the one page and on the sheet, in parts: each thing once, as a person needs it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from ..model.appraisal import Appraisal, LotAppraisal, Total
from ..model.findings import Finding, Verdict
from ..quantities.estimate import Estimate
from ..quantities.frozen import frozen
from ..words import Reader

_GATES = ("contamination", "handling")
_DOUBTFUL = ("heap.read-as", "heap.usual-size")
"""Notes that a person must see: how a doubtful word was read, and what was planned for."""
MANY = 8
"""More names than these are not read at a pit."""
_NOT_USED = ("experience.other-burner", "experience.other-feed")
_CONTAINER = "lot.container"
_WORD_TAKEN = "word-taken"
_NOT_READ = "words-not-read"
_ROTTED = "rotted-wood"
_RECORD, _HELPS = "advice.record", 25
"""Advice that is of use after a burn alone; and the least part of the doubt, in %, that is told."""


@frozen
class Part:
    """A heading and what stands under it."""

    head: str
    items: tuple[str, ...] = ()
    verdict: Verdict | None = None


@frozen
class Contents:
    """The parts for a reader at a level of detail: at 0 all of them, with each step less."""

    result: Appraisal
    reader: Reader
    level: int = 0

    def head(self) -> str:
        """What was appraised."""
        result = self.result
        name = result.inputs.heap.name or ""
        return self.reader.say(
            "sheet.head", name=name, count=len(result.lots), burner=result.burner
        )

    def groups(self) -> Iterator[Part]:
        """The lots by what is to be done with them."""
        yield self._now()
        plan = self.result.burn
        if plan is not None and plan.left_out:
            yield Part(self.reader.say("sheet.left-out", lots=plan.left_out))
        for verdict, code, named, worded in (
            (Verdict.DRY_FIRST, "sheet.dry-first", self._named_wet, self._drying),
            (Verdict.CHECK_FIRST, "sheet.check-first", self._named_about, self._step),
            (Verdict.KEEP_OUT, "sheet.stays-out", self._named_about, self._action),
        ):
            lots = [lot for lot in self.result.lots if lot.verdict is verdict]
            if lots:
                once = verdict is Verdict.DRY_FIRST
                items = self._grouped(((named(lot), worded(lot)) for lot in lots), once)
                head = self._head(code, self.result.by_verdict[verdict])
                yield Part(head, tuple(items), verdict)

    def _now(self) -> Part:
        say, result = self.reader.say, self.result
        total = result.goes_in or result.by_verdict.get(Verdict.READY)
        if total is None:
            return Part(say("sheet.nothing-now"))
        volume = _some(total.char_volume)
        code = "sheet.now-lots" if volume is not None else "sheet.now-mass"
        lots = self.reader.word(total.lots)
        if len(total.lots) > MANY:
            whole = len(total.lots) == len(result.lots)
            lots = say("sheet.every-lot" if whole else "sheet.other-lots", count=len(total.lots))
        text = say(code, lots=lots, mass=total.dry_mass, volume=volume, char=total.char_mass)
        refused = result.burn is not None and result.burn.refused
        head = "sheet.fit" if refused else "sheet.now"
        return Part(say(head), (text,), Verdict.READY)

    def _head(self, code: str, total: Total) -> str:
        volume = _some(total.char_volume)
        if volume is None:
            return self.reader.say(code if total.char_mass is None else f"{code}-mass")
        return self.reader.say(code, volume=volume)

    def _grouped(self, worded: Iterable[tuple[str, str]], once: bool) -> Iterator[str]:
        """Lots with what is to be done with them, those of the same text together; with `once` no
        sentence is said of a second group.
        """
        groups: dict[str, list[str]] = {}
        for name, text in worded:
            groups.setdefault(text if self.level < 3 else "", []).append(name)
        told_before = set[str]()
        for text, names in groups.items():
            text = _once(text, told_before) if once else text
            lots = self.reader.listed(names)
            yield self.reader.say("sheet.lots", lots=lots, text=text) if text else lots

    def _named_wet(self, lot: LotAppraisal) -> str:
        weeks = None if lot.drying is None else lot.drying.weeks
        assumed = lot.name in self._not_measured()
        wet = self.reader.say("sheet.wet", moisture=lot.moisture, weeks=weeks, assumed=assumed)
        return self.reader.say("sheet.lot-about", lot=lot.name, about=wet)

    def _not_measured(self) -> set[str]:
        """Lots whose water nobody measured: nothing was said of it, or only their state."""
        pairs = zip(self.result.lots, self.result.inputs.heap.lots, strict=False)
        return {
            lot.name
            for lot, stated in pairs
            if stated.moisture is None or stated.moisture.condition is not None
        }

    def _named_about(self, lot: LotAppraisal) -> str:
        """The lot with the suspicion, and with its water where it is to be dried too."""
        about = [
            self.reader.word(finding.values["about"], "lower")
            for finding in _deciding(lot)
            if "about" in finding.values and "word" not in finding.values
        ][:1]
        wet = any(f.axis == "moisture" and f.permits > Verdict.READY for f in lot.findings)
        if wet and lot.verdict is Verdict.CHECK_FIRST:
            about.append(self.reader.say("sheet.and-dry", moisture=lot.moisture))
        if not about or self.level > 2:
            return lot.name
        return self.reader.say("sheet.lot-about", lot=lot.name, about="; ".join(about))

    def _drying(self, lot: LotAppraisal) -> str:
        if lot.drying is not None:
            how = self._short(self.reader.word(lot.drying.how))
            if self.level < 1 and self.result.goes_in is None and lot.drying.weeks is not None:
                # nothing burns today: there is room for how one knows that it may
                how = f"{how} {self.reader.say('sheet.dry-when', know=lot.drying.know)}"
            if lot.drying.weeks is not None:
                return how
            return self.reader.say("sheet.drying", how=how, time=lot.drying.time)
        return self._short(self.reader.word(_deciding(lot)[0].message("action")))

    def _step(self, lot: LotAppraisal) -> str:
        """The one step that settles what keeps the lot back."""
        findings = _deciding(lot)
        heard = [self._heard(finding) for finding in findings if "word" in finding.values]
        return " ".join(heard) or self._first_step(findings[0])

    def _heard(self, finding: Finding) -> str:
        """What a person wrote that can mean a danger, and the line that answers it."""
        found = {name: finding.values[name] for name in ("word", "where", "heap")}
        return self.reader.say("sheet.heard", settle=finding.message("settle"), **found)

    def _first_step(self, finding: Finding) -> str:
        settle = finding.message("settle")
        if settle is None:
            return self._short(self.reader.word(finding.message("action")))
        step, action = (
            self.reader.word(settle.values.get("step", settle)),
            self.reader.word(finding.message("action")),
        )
        # where the action names the line to write, a step that does not is half an answer
        return self._short(action if "`" in action and "`" not in step else step)

    def _action(self, lot: LotAppraisal) -> str:
        """Where a lot that stays out goes; where lines are dear what holds of all of them."""
        if self.level > 1:
            return self.reader.say("sheet.take-away")
        return self.reader.word(_deciding(lot)[0].message("action"))

    def _short(self, text: str) -> str:
        """A text, or where lines are dear its first sentence, or its first part."""
        if self.level < 2:
            return text
        first = text.partition(". ")[0].rstrip(".")
        return f"{first.partition(': ')[0]}."

    def read_as(self) -> Iterator[str]:
        """What the tables say of themselves, and how words were read where that was not plain."""
        say = self.reader.say
        for finding in self.result.findings:
            if finding.lot is None:
                yield self.reader.word(finding.message("reason"))
        unread = [
            word
            for lot in self.result.lots
            for found in lot.findings
            if found.code == _NOT_READ
            for word in found.values["words"]
        ]
        if unread:
            yield say("sheet.not-read", words=tuple(dict.fromkeys(unread)))
        rotted = [
            lot.name
            for lot in self.result.lots
            # how to dry it says so too
            if lot.verdict in (Verdict.READY, Verdict.CHECK_FIRST)
            and any(found.code == _ROTTED for found in lot.findings)
        ]
        if rotted and self.level < 2:
            yield say("sheet.rotted", lots=tuple(rotted))
        read = [
            say("sheet.was-read", lot=lot.name, text=lot.read_as)
            for lot in self.result.lots
            if lot.read_as is not None
        ]
        if read and self.level < 2:
            yield f"{'; '.join(read)}."
        notes = self.result.inputs.notes
        taken = [self.reader.word(note) for note in notes if note.code in _DOUBTFUL]
        taken += [*(self._containers() if self.level < 1 else ()), *self._not_theirs()]
        if taken:
            yield say("sheet.taken", items=" ".join(taken))
        for note in notes:
            if note.code in _NOT_USED:
                yield say("sheet.note", note=note)

    def _containers(self) -> Iterator[str]:
        """What the containers were taken to hold by which amounts are given, each once."""
        notes = [n for lot in self.result.lots for n in lot.notes if n.code == _CONTAINER]
        by_name = {note.values["container"]: note for note in notes}
        held = [self.reader.say("sheet.container", **note.values) for note in by_name.values()]
        if held:
            yield self.reader.say("sheet.containers", items="; ".join(held))

    def _not_theirs(self) -> list[str]:
        """Words by which a person may have meant a row of their own set, and did not get it."""
        found_by_word = {
            (found.values["word"], found.values["row"]): found
            for lot in self.result.lots
            for found in lot.findings
            if found.code == _WORD_TAKEN and found.values.get("bare")
        }
        return [
            self.reader.say("sheet.word-taken", word=word, action=found.message("action"))
            for (word, _), found in found_by_word.items()
        ]

    def last(self, record: bool = True) -> Iterator[str]:
        """What would help most, what to write down, and what this is not."""
        say, result = self.reader.say, self.result
        burnt = result.burn is not None and not result.burn.refused
        advice = result.advice
        helps = advice is not None and advice.values["share"] >= _HELPS
        if advice is not None and helps and self.level < 1 and (burnt or advice.code != _RECORD):
            yield say("sheet.advice", advice=self.reader.word(advice, "lower"))
        if record and result.burn is not None and not result.burn.refused:
            yield say("sheet.record" if self.level < 3 else "sheet.record-short")
        yield say("sheet.not-a-test")


def _once(text: str, told_before: set[str]) -> str:
    """A text without the sentences that another lot's has said."""
    new = [part for part in text.split(". ") if part.rstrip(".") not in told_before]
    told_before |= {part.rstrip(".") for part in new}
    return ". ".join(new)


def _some(volume: Estimate | None) -> Estimate | None:
    return volume if volume is not None and volume.high_value > 0 else None


def _deciding(lot: LotAppraisal) -> Sequence[Finding]:
    """The findings that leave the lot its verdict, contamination first."""
    findings = [f for f in lot.findings if f.permits is lot.verdict and not f.cleared]
    return sorted(findings, key=lambda f: (f.axis not in _GATES, "about" not in f.values))
