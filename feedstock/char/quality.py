"""Quality of char: classes that it may meet, a first sort by hand and eye."""

from __future__ import annotations

from collections.abc import Sequence

from ..errors import Problem, UnknownName, nearest_names, shown
from ..model.appraisal import Appraisal
from ..model.char import ClassForecast, FieldSort, Qualities, Quality
from ..quantities.cell import Cell
from ..quantities.estimate import Estimate, scaled_estimate
from ..quantities.frozen import FrozenMap
from ..tables.citations import Citation, citation, cited, plain_citation
from ..tables.loading.load import load_tables
from ..tables.names.index import Index
from ..tables.rows.methods.quality import CharQuality
from ..tables.rows.methods.standards import CharClass, CharStandards, FieldSign, FieldSigns
from ..tables.rows.row import Sourced
from ..tables.tables import Tables
from ..words import Message, Quantity, Texts
from .composition import CharOf, chars_of, ends_of, share_estimate, uncleared


def quality(
    appraisal: Appraisal, signs: Sequence[str] = (), tables: Tables | None = None
) -> Qualities:
    """The quality that the char of an appraisal is expected to have, lot by lot, and with `signs` a
    first sort.

    Molar H/C and O/C, organic carbon, ash, volatile matter and fixed carbon are 90 % intervals. A
    forecast is no analysis: what only a laboratory can tell is listed with the test to order.
    Raises UnknownName for a sign that is not known.
    """
    tables = tables if tables is not None else load_tables()
    _, standards = tables.method("char-standards", CharStandards)
    lots = tuple(_quality(item, tables) for item in chars_of(appraisal, tables))
    notes = [*uncleared(appraisal), Message("quality.forecast")]
    least = Quantity(standards.least_temperature.mid, "degC")
    notes += [
        Message(
            "quality.charred-wood",
            lot=lot.lot,
            temperature=Quantity(lot.temperature.mid_value, "degC"),
            least=least,
        )
        for lot in lots
        if not lot.biochar
    ]
    if any(lot.extrapolated for lot in lots):
        fitted = tables.method("char-quality", CharQuality)[1].fitted_to.mid
        notes.append(Message("quality.extrapolated", fitted=Quantity(fitted, "degC")))
    return Qualities(
        lots=lots,
        sort=sort_char(signs, tables) if signs else None,
        laboratory=FrozenMap(
            {name: Message("text", text=text) for name, text in standards.laboratory.items()}
        ),
        notes=tuple(notes),
    )


def _quality(char: CharOf, tables: Tables) -> Quality:
    _, method = tables.method("char-quality", CharQuality)
    row_id, standards = tables.method("char-standards", CharStandards)
    figures = char.figures(
        "temperature", "h_c", "o_c", "ash_in_char", "organic", "volatile", "fixed"
    )
    low, high = figures["temperature"].ends
    temperature = scaled_estimate(low, figures["temperature"].mid, high, "degC")
    shares = {
        name: share_estimate(figures[name])
        for name in ("organic", "ash_in_char", "volatile", "fixed")
    }
    hydrogen, oxygen = (
        share_estimate(figures["h_c"], 1.0, "1"),
        share_estimate(figures["o_c"], 1.0, "1"),
    )
    biochar = char.temperature >= standards.least_temperature.mid
    classes = (
        tuple(
            _class(key, class_row, hydrogen, oxygen, shares, tables, row_id)
            for key, class_row in standards.classes.items()
        )
        if biochar
        else ()
    )
    return Quality(
        lot=char.name,
        temperature=temperature,
        hydrogen_to_carbon=hydrogen,
        oxygen_to_carbon=oxygen,
        organic_carbon=shares["organic"],
        ash=shares["ash_in_char"],
        volatile_matter=shares["volatile"],
        fixed_carbon=shares["fixed"],
        biochar=biochar,
        extrapolated=char.temperature > method.fitted_to.mid,
        high_ash=shares["ash_in_char"].mid_value > 100 * standards.high_ash.mid,
        classes=classes,
    )


def _class(
    key: str,
    row: CharClass,
    hydrogen: Estimate,
    oxygen: Estimate,
    shares: dict[str, Estimate],
    tables: Tables,
    row_id: str,
) -> ClassForecast:
    """Each limit against the interval: kept at both ends with room, at the middle, or not."""
    limits: list[tuple[str, Cell | None, Estimate, bool]] = [
        ("H/C", row.hydrogen_most, hydrogen, True),
        ("O/C", row.oxygen_most, oxygen, True),
        ("ash", row.ash_most, shares["ash_in_char"], True),
        ("volatile matter", row.volatile_most, shares["volatile"], True),
        (f"{row.carbon} carbon", row.carbon_least, shares[row.carbon], False),
    ]
    room = tables.method("char-standards", CharStandards)[1].room.mid
    judged, sources = list[tuple[int, Message]](), list[Citation]()
    for name, cell, estimate, most in limits:
        if cell is not None:
            judged.append(_against(name, cell, estimate, most, room))
            sources += cited(cell, tables, row_id.partition(":")[0])
    return ClassForecast(
        name=row.name,
        version=row.version,
        meets=("likely", "may", "not likely")[max((worst for worst, _ in judged), default=0)],
        why=Message("quality.tests", tests=tuple(message for _, message in judged)),
        not_forecast=row.not_forecast,
        sources=tuple(dict.fromkeys(sources)),
    )


def _against(
    name: str, cell: Cell, estimate: Estimate, most: bool, room: float
) -> tuple[int, Message]:
    """One limit: 0 where the whole interval keeps it with `room` (a share of the limit) to spare, 1
    where its middle keeps it, 2 where not.
    """
    low, mid, high = ends_of(estimate)
    percent = estimate.unit == "%"
    limit = cell.mid * (100 if percent else 1)
    within = (
        (high < limit * (1 - room), mid < limit)
        if most
        else (low >= limit * (1 + room), mid >= limit)
    )
    message = Message(
        "quality.test",
        name=name,
        low=low,
        high=high,
        limit=limit,
        most=most,
        percent=percent,
        memory=cell.known == "memory",
    )
    return 0 if within[0] else 1 if within[1] else 2, message


def sort_char(signs: Sequence[str], tables: Tables | None = None) -> FieldSort:
    """Where pieces with these signs go: the most cautious of what the signs say.

    Raises UnknownName for a sign that is not known.
    """
    tables = tables if tables is not None else load_tables()
    row_id, method = tables.method("field-signs", FieldSigns)
    index = Index(
        {
            f":{key}": [name for names in item.names.values() for name in names]
            for key, item in method.signs.items()
        }
    )
    keys, problems = list[str](), list[Problem]()
    words = [item.names["en"][0] for item in method.signs.values()]
    for number, sign in enumerate([signs] if isinstance(signs, str) else signs):
        paths = index.find(sign)
        if len(paths) == 1:
            keys.append(paths[0][1:])
        else:
            problems.append(
                Problem(
                    "unknown-sign",
                    f"'{shown(sign)}' is not a sign on char that is known here",
                    f"Write of: {', '.join(words)}.",
                    f"signs[{number}]",
                    nearest=nearest_names(sign, words),
                )
            )
    if problems:
        raise UnknownName(problems)
    if not keys:
        raise UnknownName(
            [Problem("empty", "no sign was given", f"Write of: {', '.join(words)}.", "signs")]
        )
    stated = [method.signs[key] for key in dict.fromkeys(keys)]
    into = next(word for word in method.order if any(text.into == word for text in stated))
    because = tuple(_seen("sort.sign", text) for text in stated if text.into == into)
    others = tuple(_seen("sort.other", text) for text in stated if text.into != into)
    return FieldSort(
        into=into,
        because=because,
        others=others,
        always=tuple(Message("text", text=alway) for alway in method.always),
        sources=row_sources(method, tables, row_id),
    )


def _seen(code: str, sign: FieldSign) -> Message:
    name = Texts({language: names[0] for language, names in sign.names.items() if names})
    return Message(code, sign=name, meaning=sign.meaning, into=sign.into)


def row_sources(row: Sourced, tables: Tables, row_id: str) -> tuple[Citation, ...]:
    """The sources of a whole row."""
    if not row.source:
        words = {
            "practice": "common practice, no source",
            "judgement": "judgement of the maintainers",
        }
        return (
            plain_citation(
                words.get(str(row.known), "reference tables"),
                at=row.note if row.note != words.get(str(row.known)) else "",
                known=str(row.known),
            ),
        )
    return tuple(
        citation(tables, key, row_id.partition(":")[0], row.at, str(row.known))
        for key in row.source
    )
