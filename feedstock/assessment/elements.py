"""Findings from the elements of a lot and of the mixed heap: the computed interval against the
limit in use.

What a suspicion brings is judged at its 95th percentile with no loss credited. What is there by
nature decides only for materials that gather an element and for suspect sites; for all others it is
information.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence

from ..lot.elements import LotElements
from ..lot.mixture import mixed_figure
from ..lot.model import LotModel
from ..model.appraisal import ElementContent, Mixed
from ..model.findings import Finding, Verdict
from ..physics import load
from ..quantities.estimate import Estimate
from ..tables.citations import Citation, citations, cited
from ..tables.gates import gate_method
from ..tables.limits import Limits, limit_text
from ..tables.rows.contaminant import Contaminant
from ..tables.rows.methods.load import LoadScreening
from ..tables.tables import Tables
from ..uncertainty.estimates import bounded_estimate
from ..uncertainty.figure import Figure
from ..uncertainty.graph import Step
from ..uncertainty.propagate import figures

PER_KG = 1e6
ADDED, NATURAL, MIXED, ASH, NOTE = (
    "load-over-limit",
    "background-over-limit",
    "mixed-over-limit",
    "high-ash-char",
    "background-note",
)


def contents(
    loaded: LotElements,
    symbols: Collection[str],
    accumulates: Iterable[str],
    suspect_site: bool,
    limits: Limits | None,
) -> tuple[ElementContent, ...]:
    """Those elements of a lot that are named in `symbols`, the ones that pass their limit furthest
    first.
    """
    gathers = set(accumulates)
    figures = loaded.figures
    found = []
    for each in (element for element in loaded.elements if element.symbol in symbols):
        limit = limits.of.get(each.symbol) if limits is not None else None
        added = bool(each.brought_by)

        def told(output: str, symbol: str = each.symbol) -> Estimate:
            return _estimate(figures[f"{output}_{symbol}"])

        share = figures.get(f"largest_share_{each.symbol}")
        found.append(
            ElementContent(
                element=each.symbol,
                name=each.name,
                feed=told("content"),
                screening=told("screening"),
                central=told("central"),
                limit=None if limit is None else _limit(limit.value),
                limit_set=limits.name if limits is not None and limit is not None else "",
                limit_known=limit.known if limit is not None else "",
                brought_by=tuple(full.partition(":")[2] for full in each.brought_by),
                decides=added or each.symbol in gathers or suspect_site,
                soil_addition=told("soil_addition"),
                largest_share=None if share is None else _estimate(share, "%", 100),
            )
        )
    return tuple(sorted(found, key=_rank))


def _limit(share: float) -> float:
    """A limit in mg/kg as it stands in the table, without the rounding of two changes of unit."""
    return float(f"{PER_KG * share:.9g}")


def _rank(each: ElementContent) -> tuple[float, str]:
    return (-each.screening.high_value / each.limit if each.limit else 0.0, each.element)


def _estimate(figure: Figure, unit: str = "mg/kg", factor: float = PER_KG) -> Estimate:
    return bounded_estimate(figure.ends, figure.mid, unit, factor)


def _passes(content: ElementContent) -> bool:
    """Whether its middle alone passes the limit."""
    return content.limit is not None and content.screening.mid_value > content.limit


def element_findings(
    found: Sequence[ElementContent],
    loaded: LotElements,
    limits: Limits | None,
    tables: Tables,
    lot: str,
) -> tuple[Finding, ...]:
    """What the limit says about a lot: suspicions, gatherers, and what is told for information."""
    method = gate_method(tables, "load-screening", LoadScreening)
    if limits is None or method is None:
        return ()
    words = method[1]
    added = [each for each in found if each.over and each.brought_by]
    natural = [each for each in found if each.over and not each.brought_by and each.decides]
    noted = [each for each in found if not each.decides and _passes(each)]
    out = []
    if added:
        out.append(_added(added, loaded, limits, words, tables, lot))
    if natural:
        out.append(
            Finding(
                code=NATURAL,
                axis="contamination",
                permits=Verdict.CHECK_FIRST,
                lot=lot,
                evidence=_evidence(natural, limits),
                sources=_sources(natural, limits),
                reason=f"{_first(natural, limits)} Nothing was added to it: plants and dung "
                "of this kind or from such a place gather it by "
                f"themselves.{_memory(natural)}",
                action=_laboratory(words, natural, limits),
                settle=f"{_laboratory(words, natural, limits)} It shows this batch and no other.",
            )
        )
    if noted:
        out.append(
            Finding(
                code=NOTE,
                axis="contamination",
                permits=Verdict.READY,
                lot=lot,
                evidence=_evidence(noted, limits),
                sources=_sources(noted, limits),
                reason=f"{_first(noted, limits)} This rests on contents of clean matter of "
                "its kind, not on this lot, and is told for "
                f"information.{_memory(noted)}",
                action=f"If you want to be sure: {_lowered(_laboratory(words, noted, limits))}",
            )
        )
    return tuple(out)


def _added(
    over: Sequence[ElementContent],
    loaded: LotElements,
    limits: Limits,
    words: LoadScreening,
    tables: Tables,
    lot: str,
) -> Finding:
    permits = max(
        Verdict.CHECK_FIRST,
        *(
            each.permits
            for each in loaded.elements
            if each.brought_by and each.symbol in {o.element for o in over}
        ),
    )
    worst = over[0]
    rows = list(
        dict.fromkeys(
            full
            for each in loaded.elements
            for full in each.brought_by
            if each.symbol == worst.element
        )
    )
    share = worst.largest_share
    most = (
        ""
        if share is None
        else f" From {_share(share)} of the dry mass of a clean heap on it would break that "
        f"limit. {words.why_no_share}"
    )
    if permits is Verdict.KEEP_OUT:
        action = tables.row("contaminants", rows[0], Contaminant).action
        settle = ""
    else:
        action, settle = (
            _laboratory(words, over, limits),
            f"{_laboratory(words, over, limits)} It shows this batch and no other.",
        )
    return Finding(
        code=ADDED,
        axis="contamination",
        permits=permits,
        lot=lot,
        evidence=_evidence(over, limits),
        action=action,
        settle=settle,
        sources=tuple(
            dict.fromkeys(
                (
                    *_sources(over, limits),
                    *citations(
                        "contaminants",
                        rows[0],
                        tables.row("contaminants", rows[0], Contaminant),
                        tables,
                    ),
                )
            )
        ),
        reason=f"If it is what it looks like: {_lowered(_first(over, limits))} "
        f"{words.into_air}{most}{_memory(over)}",
    )


def _first(over: Sequence[ElementContent], limits: Limits) -> str:
    worst = over[0]
    return (
        f"Its char would hold {_range(worst.screening)} mg of {worst.name} in a kilogram "
        f"(limit {limit_text(limits, worst.element)})."
    )


def _memory(over: Sequence[ElementContent]) -> str:
    return (
        " This verdict rests on a limit from memory."
        if any(each.limit_known == "memory" for each in over)
        else ""
    )


def _lowered(text: str) -> str:
    return text[:1].lower() + text[1:]


def _laboratory(words: LoadScreening, over: Sequence[ElementContent], limits: Limits) -> str:
    names = [each.name for each in over]
    listed = f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
    return words.laboratory.format(
        elements=listed,
        limits=f"{limits.name} ({', '.join(f'{each.name} {each.limit:g}' for each in over)} mg/kg)",
    )


def _evidence(over: Sequence[ElementContent], limits: Limits) -> tuple[str, ...]:
    return tuple(
        f"{each.name}: {_range(each.screening)} mg/kg of char, limit {each.limit:g}"
        for each in over
    )


def _sources(over: Sequence[ElementContent], limits: Limits) -> tuple[Citation, ...]:
    return tuple(dict.fromkeys(cite for each in over for cite in limits.of[each.element].sources))


def _range(estimate: Estimate) -> str:
    return (
        f"{plain(estimate.low_value)} to {plain(estimate.high_value)} (likely "
        f"{plain(estimate.mid_value)})"
    )


def _share(estimate: Estimate) -> str:
    low, high = plain(estimate.low_value), plain(estimate.high_value)
    return f"{low} to {high} %" if low != high else f"{low} %"


def plain(value: float) -> str:
    """Two significant digits without an exponent."""
    if value <= 0:
        return "0"
    digits = 1 - math.floor(math.log10(value))
    return f"{round(value, digits):.{max(digits, 0)}f}"


def ash_finding(model: LotModel, tables: Tables) -> Finding | None:
    """A char that is mostly ash is a salt and lime carrier and is measured before it is used."""
    method = gate_method(tables, "load-screening", LoadScreening)
    if method is None or model.row.ash is None:
        return None
    alone = model.plain
    ash, stays = alone.middle("ash"), alone.middle("ash_kept")
    if not load.ash_of_char(ash, stays, alone.char_yield) > method[1].ash_in_char.mid:
        return None
    step = Step("ash_in_char", load.ash_of_char, ("ash", "ash_kept", "char_yield"), "logit")
    share = figures((*alone.chain, step), alone.inputs, ["ash_in_char"])["ash_in_char"]
    where = tables.where("materials", model.row_id, ("ash",)).set
    low, high = (min(100 * end, 100.0) for end in share.ends)
    return Finding(
        code=ASH,
        axis="contamination",
        permits=Verdict.CHECK_FIRST,
        lot=model.name,
        sources=cited(model.row.ash, tables, where),
        evidence=(f"ash of the char: {plain(low)} to {plain(high)} %",),
        reason=f"Its char would be {plain(low)} to {plain(high)} % ash (likely "
        f"{plain(min(100 * share.mid, 100.0))}): more lime and salts than char, which "
        "burn roots and shift the soil's pH.",
        action=method[1].salts,
        settle=f"{method[1].salts} It shows this batch and no other.",
    )


def mixed_result(
    verdict: Verdict,
    loaded: Sequence[LotElements],
    parts: Sequence[Sequence[ElementContent]],
    limits: Limits | None,
    tables: Tables,
) -> Mixed:
    """All lots thrown together.

    The verdict is never better than `verdict`, that of the worst lot.
    """
    method = gate_method(tables, "load-screening", LoadScreening)
    if limits is None or method is None or not loaded:
        return Mixed(verdict=verdict)
    found = []
    for symbol in limits.of:
        mine = [each for part in parts for each in part if each.element == symbol]
        if not mine:
            continue
        added = tuple(dict.fromkeys(code for each in mine for code in each.brought_by))
        found.append(
            ElementContent(
                element=symbol,
                name=mine[0].name,
                screening=_estimate(mixed_figure(loaded, symbol)),
                limit=_limit(limits.of[symbol].value),
                limit_set=limits.name,
                limit_known=limits.of[symbol].known,
                brought_by=added,
                decides=any(each.decides for each in mine),
            )
        )
    found.sort(key=_rank)
    over = [each for each in found if each.over and each.decides]
    if not over:
        return Mixed(verdict=verdict, elements=tuple(found))
    worst = over[0]
    finding = Finding(
        code=MIXED,
        axis="contamination",
        permits=max(Verdict.CHECK_FIRST, verdict) if worst.brought_by else Verdict.CHECK_FIRST,
        evidence=_evidence(over, limits),
        sources=_sources(over, limits),
        reason="Thrown together, the char of the whole heap would hold "
        f"{_range(worst.screening)} mg of {worst.name} in a kilogram (limit "
        f"{limit_text(limits, worst.element)}).{_memory(over)}",
        action="Keep the lots apart: one of them spoils what the others give."
        if len(loaded) > 1
        else "Do as is said of the lot.",
        settle="" if worst.brought_by else _laboratory(method[1], over, limits),
    )
    return Mixed(verdict=max(verdict, finding.permits), elements=tuple(found), findings=(finding,))
