"""What comes after the burn as plain text: quality, carbon, the mix, the beds, and what batches
taught.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..model.char import Carbon, Qualities, Quality
from ..model.compost import BedPlan, Blend, BlendPart
from ..model.experience import BatchFigure, Experience, ForecastCheck, Learned
from ..model.findings import Finding
from ..quantities.format import Units, in_units, rounded
from ..words import Message, Quantity, Reader
from ..words.layout import wrapped
from .sources import Sources


def _listed(notes: tuple[Message, ...], reader: Reader) -> list[str]:
    return [wrapped(reader.word(note), "  - ") for note in notes]


def quality_text(
    qualities: Qualities,
    carbon: Carbon | None = None,
    units: Units = "metric",
    language: str = "en",
    full: bool = True,
) -> str:
    """The forecast of the char, lot by lot, the first sort, what to order, and its carbon; in full
    with what is known of every class.
    """
    sources, reader = Sources(), Reader(units, language)
    lines: list[str] = []
    if full:
        for lot in qualities.lots:
            lines += [*_quality(lot, reader, sources), ""]
    else:
        lines += [wrapped(_in_short(lot, reader), rest="  ") for lot in qualities.lots]
        lines += [reader.say("char.more"), ""]
    if qualities.sort is not None:
        into = reader.say(
            "char.sort", into=qualities.sort.into, sources=sources.cite(qualities.sort.sources)
        )
        others = tuple(Message("char.also-seen", sign=other) for other in qualities.sort.others)
        messages = (*qualities.sort.because, *others, *qualities.sort.always)
        lines += [wrapped(into), *_listed(messages, reader), ""]
    lines.append(reader.say("char.laboratory"))
    for name, test in qualities.laboratory.items():
        lines.append(wrapped(f"{name}: {reader.word(test)}", "  - "))
    lines += _listed(qualities.notes, reader)
    if carbon is not None:
        lines += ["", *_carbon(carbon, reader, sources)]
    return "\n".join([*lines, "", reader.say("page.sources"), *sources.lines()]) + "\n"


def _in_short(lot: Quality, reader: Reader) -> str:
    """One lot in a line: its dry matter, and how many classes what can be forecast would meet."""
    likely = sum(row.meets == "likely" for row in lot.classes)
    return reader.say(
        "char.in-short",
        lot=lot.lot,
        carbon=lot.organic_carbon,
        ash=lot.ash,
        ratio=lot.hydrogen_to_carbon,
        likely=likely,
        classes=len(lot.classes),
        cold="" if lot.biochar else reader.say("char.too-cold"),
    )


def _quality(lot: Quality, reader: Reader, sources: Sources) -> Iterator[str]:
    say = reader.say
    cold = "" if lot.biochar else say("char.too-cold")
    yield wrapped(say("char.made-at", lot=lot.lot, temperature=lot.temperature, cold=cold))
    ratios = say("char.ratios", hydrogen=lot.hydrogen_to_carbon, oxygen=lot.oxygen_to_carbon)
    yield wrapped(ratios, say("char.of-ratios"))
    matter = say("char.dry-matter", carbon=lot.organic_carbon, ash=lot.ash)
    yield wrapped(matter, say("char.of-dry-matter"))
    volatile = say("char.volatile", volatile=lot.volatile_matter, fixed=lot.fixed_carbon)
    yield wrapped(volatile, "             ")
    if lot.high_ash:
        yield wrapped(say("char.high-ash"), "  - ")
    for class_row in lot.classes:
        line = say(
            "char.class",
            name=class_row.name,
            version=class_row.version,
            meets=say(f"char.meets-{class_row.meets.replace(' ', '-')}"),
            why=class_row.why,
            sources=sources.cite(class_row.sources),
            not_forecast=class_row.not_forecast,
        )
        yield wrapped(line, "  - ")


def _carbon(account: Carbon, reader: Reader, sources: Sources) -> Iterator[str]:
    say = reader.say
    yield wrapped(say("carbon.head", sources=sources.cite(account.sources)))
    yield wrapped(say("carbon.now", mass=account.organic_carbon), say("carbon.of-now"))
    for lead, left, dioxide in (
        ("carbon.of-default", account.by_default, account.by_default_dioxide),
        ("carbon.of-ratio", account.by_ratio, account.by_ratio_dioxide),
    ):
        if left is not None and dioxide is not None:
            later = say("carbon.later", years=account.years, left=left, dioxide=dioxide)
            yield wrapped(later, say(lead))
    soil = say("carbon.soil", temperature=account.soil_temperature)
    yield wrapped(soil, say("carbon.of-soil"))
    yield wrapped(reader.word(account.scope), "  ")
    yield from _listed(account.notes, reader)


def blend_text(
    blend: Blend,
    bed: BedPlan | None = None,
    units: Units = "metric",
    language: str = "en",
    recipes: Sequence[Message] = (),
) -> str:
    """The mix: what to gather, water, C:N, the heap, the time; and the beds. `recipes` are
    the same in buckets or barrows.
    """
    sources, reader = Sources(), Reader(units, language)
    cited = sources.cite(blend.sources)
    lines = [wrapped(reader.say("mix.head", wanted=blend.wanted, sources=cited)), ""]
    lines += [_part(part, reader) for part in (blend.char, *blend.parts)]
    lines += [line for entry in blend.findings for line in _gate(entry, reader, sources)]
    if recipes:
        lines += ["", *(wrapped(reader.word(entry), "  ", "    ") for entry in recipes)]
    lines += ["", *_mix(blend, reader), *_heap(blend, reader)]
    lines += ["", *_listed((*blend.remarks, *blend.notes), reader)]
    if bed is not None:
        lines += ["", *_beds(bed, reader, sources)]
    return "\n".join([*lines, "", reader.say("page.sources"), *sources.lines()]) + "\n"


def _gate(finding: Finding, reader: Reader, sources: Sources) -> Iterator[str]:
    """What keeps a part out of the mix, or is to be asked of it first."""
    code = "page.cleared" if finding.cleared else f"verdict.{finding.permits.name}"
    reason = reader.word(finding.message("reason"))
    line = f"{finding.lot}: {reader.say(code)}: {reason} {sources.cite(finding.sources)}"
    yield wrapped(line, "  - ")
    if not finding.cleared:
        step = finding.message("settle") or finding.message("action")
        yield wrapped(reader.word(step), reader.say("page.do"))


def _part(part: BlendPart, reader: Reader) -> str:
    ratio = part.carbon_to_nitrogen
    line = "" if ratio is None else reader.say("mix.part-ratio", ratio=ratio)
    return wrapped(
        reader.say(
            "mix.part",
            name=part.name,
            volume=part.volume,
            mass=part.mass,
            moisture=part.moisture,
            ratio=line,
        ),
        "  - ",
    )


def _mix(blend: Blend, reader: Reader) -> Iterator[str]:
    say = reader.say
    share = say("mix.char", volume=blend.char_share, mass=blend.char_share_mass)
    yield wrapped(share, say("mix.of-char"))
    yield wrapped(say("mix.gather", volume=blend.compost_needed), say("mix.of-gather"))
    yield wrapped(say("mix.moisture", moisture=blend.moisture), say("mix.of-moisture"))
    yield wrapped(say("mix.water", water=blend.water_to_add), say("mix.of-water"))
    if blend.carbon_to_nitrogen is not None:
        yield wrapped(say("mix.ratio", ratio=blend.carbon_to_nitrogen), say("mix.of-ratio"))
    if blend.nitrogen_tied_up.high_value > 0:
        yield wrapped(say("mix.nitrogen", mass=blend.nitrogen_tied_up), say("mix.of-nitrogen"))


def _heap(blend: Blend, reader: Reader) -> Iterator[str]:
    say = reader.say
    length = "" if blend.length is None else say("mix.length", length=blend.length)
    heap = say(
        "mix.heap",
        volume=blend.volume,
        shape=say(f"mix.a-{blend.shape}"),
        height=blend.height,
        width=blend.width,
        length=length,
    )
    yield wrapped(heap, say("mix.of-heap"))
    later = say("mix.later", volume=blend.volume_when_used, time=blend.until_used)
    yield wrapped(later, say("mix.of-later"))
    yield wrapped(
        say("mix.crush", size=blend.crush_to, volume=blend.char_crushed), say("mix.of-crush")
    )
    if blend.suggestion is not None:
        added = tuple(
            Message("mix.addition", name=n, mass=Quantity(mass, "kg"), volume=Quantity(litres, "L"))
            for n, mass, litres in blend.suggestion.add
        )
        text = reader.word(blend.suggestion.text)
        line = say("mix.add", additions=added, text=text) if added else text
        yield wrapped(line, say("mix.of-targets"))


def _beds(beds: BedPlan, reader: Reader, sources: Sources) -> Iterator[str]:
    say = reader.say
    yield wrapped(say("mix.beds", dressing=beds.dressing, sources=sources.cite(beds.sources)))
    yield wrapped(say("mix.treats", char=beds.char, area=beds.area), "  ")
    yield from _listed(beds.remarks, reader)


def experience_text(
    experience: Experience,
    check: ForecastCheck | None = None,
    units: Units = "metric",
    language: str = "en",
) -> str:
    """What was learnt, how much of the forecast is theirs, which records stood apart, and the check
    batch by batch.
    """
    reader = Reader(units, language)
    say = reader.say
    if not experience.learned:
        return "\n".join([say("taught.nothing"), *_listed(experience.notes, reader)]) + "\n"
    lines = [say("taught.head", person=experience.person)]
    lines += [line for level in experience.learned for line in _learned(level, reader)]
    for row in experience.outliers:
        apart = say(
            "taught.apart",
            batch=row.batch,
            figure=say(f"figure.{row.figure}"),
            measured=row.measured,
            predicted=row.predicted,
            weight=100 * row.weight,
        )
        lines.append(wrapped(apart, "  ! "))
    lines += _listed(experience.notes, reader)
    if check is not None:
        lines += ["", *check_lines(check, reader)]
    return "\n".join(lines) + "\n"


def _learned(level: Learned, reader: Reader) -> Iterator[str]:
    yield wrapped(
        reader.say(
            "taught.factor",
            figure=reader.say(f"figure.{level.figure}"),
            feed=level.feed,
            burner=level.burner.partition(":")[2].replace("-", " "),
            factor=level.factor,
            batches=level.batches,
        ),
        "  - ",
    )
    share = reader.say(
        "taught.share", batch_weight=level.batch_weight, rest=100 - level.batch_weight
    )
    yield wrapped(share, "    ")


_COLUMNS = (14, 17, 29, 11)


def _columns(*cells: str) -> str:
    widths = (*_COLUMNS, 0)
    return "".join(f"{cell:<{width}}" for cell, width in zip(cells, widths, strict=True)).rstrip()


def check_lines(checked: ForecastCheck, reader: Reader) -> Iterator[str]:
    """The table of predicted against measured, and what it comes to."""
    say = reader.say
    heads = ("batch", "figure", "forecast", "measured", "inside")
    yield _columns(*(say(f"check.{head}") for head in heads))
    for row in checked.rows:
        yield _row(row, reader)
    yield ""
    for figure in checked.figures:
        line = say(
            "check.in-all",
            figure=figure.figure,
            within=figure.within,
            batches=figure.batches,
            bias=abs(figure.bias),
            more=figure.bias >= 0,
        )
        yield wrapped(line, "  - ")
    yield from _listed(checked.notes, reader)


def _row(row: BatchFigure, reader: Reader) -> str:
    predicted, measured = row.predicted, row.measured
    shown = in_units(predicted, reader.units)
    width = shown.high_value - shown.low_value
    ends = (shown.low_value, shown.high_value, shown.mid_value)
    low, high, mid = (rounded(value, width) for value in ends)
    unit = reader.wording.symbol(shown.unit)
    between = reader.wording.range.format(low=low, high=high)
    within = predicted.low_value <= measured.mid_value <= predicted.high_value
    return _columns(
        row.batch[:13],
        row.figure,
        f"{between} ({mid}) {unit}",
        reader.word(measured, "bare mid .3g"),
        reader.say("check.yes" if within else "check.no"),
    )
