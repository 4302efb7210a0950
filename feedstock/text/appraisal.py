"""An appraisal in words."""

from __future__ import annotations

from collections.abc import Iterator

from ..model.appraisal import Appraisal, LotAppraisal, Total
from ..model.findings import Finding, Verdict
from ..quantities.format import Units, rounded
from ..words import Reader
from ..words.layout import wrapped
from .plan import plan_lines
from .sources import Sources

# litres of water, and percent of the heat: less than this is not worth a line
_SOME_WATER, _SOME_HEAT = 0.05, 5.0
_GATES = ("contamination", "handling")
_HEARD = "word-heard"


def appraisal_text(result: Appraisal, units: Units = "metric", language: str = "en") -> str:
    """The whole screen."""
    sources, reader = Sources(), Reader(units, language)
    lines = [*_answer(result, reader), "", *plan_lines(result.burn, reader, sources)]
    for lot in result.lots:
        lines += [*_lot(lot, reader, sources), ""]
    lines += _asked(result, reader, sources)
    lines += _general(result, reader, sources)
    lines += _assumed(result, reader)
    lines += _cautions(result, reader, sources)
    lines += [reader.say("page.sources"), *sources.lines(), "", *_tables(result, reader)]
    return "\n".join(lines) + "\n"


def lot_page(lot: LotAppraisal, units: Units = "metric", language: str = "en") -> str:
    """One lot whole: its figures, its findings and their sources."""
    sources, reader = Sources(), Reader(units, language)
    lines = [*_lot(lot, reader, sources)]
    lines += [wrapped(reader.word(note), "  - ") for note in lot.notes]
    lines += ["", reader.say("page.sources"), *sources.lines()]
    return "\n".join(lines) + "\n"


def _answer(result: Appraisal, reader: Reader) -> Iterator[str]:
    say = reader.say
    name = f"{result.inputs.heap.name}: " if result.inputs.heap.name else ""
    yield wrapped(say("page.head", name=name, count=len(result.lots), burner=result.burner))
    yield ""
    ready = result.goes_in or result.by_verdict.get(Verdict.READY)
    if ready is None:
        yield say("page.nothing-yet")
    else:
        yield from _total("page.now", ready, reader)
    for verdict, head in (
        (Verdict.DRY_FIRST, "page.if-dried"),
        (Verdict.CHECK_FIRST, "page.if-checked"),
    ):
        if verdict in result.by_verdict:
            yield from _total(head, result.by_verdict[verdict], reader)
    out = result.by_verdict.get(Verdict.KEEP_OUT)
    if out is not None:
        yield wrapped(say("page.stays-out", lots=out.lots, mass=out.dry_mass), rest="  ")
    if len(result.by_verdict) > 1 and result.verdict_mixed is not Verdict.READY:
        verdict_mixed = say(f"verdict.{result.verdict_mixed.name}")
        yield wrapped(say("page.mixed", verdict=verdict_mixed))
        for finding in result.mixed.findings if result.mixed is not None else ():
            yield wrapped(reader.word(finding.message("reason")), "  ")


def _total(head: str, total: Total, reader: Reader) -> Iterator[str]:
    say = reader.say
    yield wrapped(
        say("page.total", head=say(head), lots=total.lots, mass=total.dry_mass), rest="  "
    )
    if total.char_volume is not None and total.char_mass is not None:
        code = "page.gives" if total.char_volume.high_value > 0 else "page.gives-mass"
        yield wrapped(say(code, volume=total.char_volume, mass=total.char_mass), "  ")


def _lot(lot: LotAppraisal, reader: Reader, sources: Sources) -> Iterator[str]:
    about = f" ({lot.material})" if lot.material.casefold() != lot.name.casefold() else ""
    yield wrapped(f"{lot.name}{about}: {reader.say(f'verdict.{lot.verdict.name}').upper()}")
    yield from _figures(lot, reader)
    yield from _drying(lot, reader, sources)
    yield wrapped(_scores(lot, reader), reader.say("page.scores"))
    out = lot.verdict is Verdict.KEEP_OUT
    for finding in lot.findings:
        # how to dry what must not be burnt helps nobody
        if finding.code == _HEARD:
            # what stays out anyway is not asked about
            if not out:
                yield wrapped(reader.say("page.see-words", word=finding.values["word"]), "  - ")
        elif not (out and finding.axis not in _GATES):
            yield from _finding(finding, reader, sources)
    if not any(f.axis in _GATES for f in lot.findings):
        yield wrapped(reader.say("page.nothing-flagged"), "  - ")


def _figures(lot: LotAppraisal, reader: Reader) -> Iterator[str]:
    say = reader.say
    dry = lot.moisture_dry
    on_dry_basis = rounded(dry.mid_value, dry.high_value - dry.low_value)
    yield wrapped(say("page.moisture", wet=lot.moisture, dry=on_dry_basis), say("page.of-moisture"))
    if lot.density is not None:
        yield wrapped(say("page.density", density=lot.density), say("page.of-density"))
    yield wrapped(reader.word(lot.dry_mass), say("page.of-dry-mass"))
    if lot.char_mass is not None and lot.char_carbon is not None:
        volume = f"; {reader.word(lot.char_volume)}" if lot.char_volume is not None else ""
        yield wrapped(f"{reader.word(lot.char_mass)}{volume}", say("page.of-char"))
        yield wrapped(reader.word(lot.char_carbon), say("page.of-carbon"))
    if lot.water_to_lose.mid_value >= _SOME_WATER and lot.verdict is not Verdict.KEEP_OUT:
        yield wrapped(say("page.water", water=lot.water_to_lose), say("page.of-water"))
    if lot.water_heat is not None and lot.water_heat.mid_value >= _SOME_HEAT:
        yield wrapped(say("page.heat", share=lot.water_heat), say("page.of-heat"))


def _drying(lot: LotAppraisal, reader: Reader, sources: Sources) -> Iterator[str]:
    if lot.drying is None:
        return
    text = f"{reader.word(lot.drying.time)} {sources.cite(lot.drying.sources)}"
    yield wrapped(text, reader.say("page.of-drying"))
    if lot.drying.weeks is not None:
        yield wrapped(reader.word(lot.drying.know), reader.say("page.dry-when"))


def _scores(lot: LotAppraisal, reader: Reader) -> str:
    named = [
        (name, getattr(lot.scores, name))
        for name in ("moisture", "density", "contamination", "char")
    ]
    parts = (
        f"{reader.say(f'score.{name}')} {reader.word(score, '.0f')}"
        for name, score in named
        if score is not None
    )
    return reader.say("page.suitability", scores=", ".join(parts), score=lot.scores.suitability)


def _finding(finding: Finding, reader: Reader, sources: Sources) -> Iterator[str]:
    mark, say = sources.cite(finding.sources), reader.say
    head = (
        say("page.cleared")
        if finding.cleared
        else say(f"verdict.{finding.permits.name}")
        if finding.permits is not Verdict.READY
        else say("page.note")
    )
    evidence = "; ".join(reader.word(item) for item in finding.evidence)
    because = f" ({evidence})" if evidence else ""
    yield wrapped(f"{head}: {reader.word(finding.message('reason'))}{because} {mark}", "  - ")
    if finding.cleared:
        return
    action, settle = finding.message("action"), finding.message("settle")
    yield wrapped(reader.word(action), say("page.do"))
    if settle is not None and settle != action and settle.values.get("step") != action:
        yield wrapped(reader.word(settle), say("page.settle"), "      ")


def _asked(result: Appraisal, reader: Reader, sources: Sources) -> list[str]:
    """What a person wrote that needs an answer: each word once, with the lots that it stands for
    and the line that answers it. What is to be kept out needs none.
    """
    asked: dict[tuple[object, ...], tuple[Finding, list[str]]] = {}
    for lot in result.lots:
        for finding in lot.findings if lot.verdict is not Verdict.KEEP_OUT else ():
            if finding.code == _HEARD:
                values = finding.values
                key = (str(values["word"]).casefold(), values["material"], values["heap"])
                lots = asked.setdefault(key, (finding, []))[1]
                lots += [lot.name] if lot.name not in lots else []
    if not asked:
        return []
    lines = [reader.say("page.of-words")]
    for finding, lots in asked.values():
        about, mark = reader.word(tuple(lots)), sources.cite(finding.sources)
        reason = reader.word(finding.message("reason"))
        lines.append(wrapped(f"{about}: {reason} {mark}", "  - "))
        lines += _answers(finding, reader)
    return [*lines, ""]


def _answers(finding: Finding, reader: Reader) -> Iterator[str]:
    """The lines to paste; not broken, however long they are."""
    say, values = reader.say, finding.values
    if values.get("field"):
        yield say("page.if-fits") + reader.sentence(f"{_HEARD}.fits", values)
    if values["material"]:
        yield say("page.without-word")
    else:
        head = say("page.if-not-heap" if values["heap"] else "page.if-not")
        yield head + reader.sentence(f"{_HEARD}.does-not", values)


def _general(result: Appraisal, reader: Reader, sources: Sources) -> list[str]:
    general = [f for f in result.findings if f.lot is None]
    if not general:
        return []
    lines = (line for f in general for line in _finding(f, reader, sources))
    return [reader.say("page.of-tables"), *lines, ""]


def _assumed(result: Appraisal, reader: Reader) -> list[str]:
    notes = [wrapped(reader.word(note), "  - ") for note in result.inputs.notes]
    return [reader.say("page.assumed"), *notes, ""] if notes else []


def _cautions(result: Appraisal, reader: Reader, sources: Sources) -> list[str]:
    lines = [reader.say("page.cautions"), f"  {reader.say('page.local-codes')}"]
    for number, caution in enumerate(result.cautions, 1):
        text = f"{reader.word(caution.message)} {sources.cite(caution.sources)}"
        lines.append(wrapped(text, f"  {number:2}. "))
    return [*lines, ""]


def _tables(result: Appraisal, reader: Reader) -> Iterator[str]:
    sets = "; ".join(f"{t.name} {t.version} ({t.digest[:12]})" for t in result.tables)
    yield wrapped(sets, reader.say("page.tables"))
    yield wrapped(reader.say("page.ranges"))
