"""Findings from the elements of a lot and of the mixed heap: the computed interval against the
limit in use.

What a suspicion brings is judged at its 95th percentile with no loss credited. What is there by
nature decides only for materials that gather an element and for suspect sites; for all others it is
information.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import Any

from ..lot.elements import LotElements
from ..lot.mixture import mixed_figure
from ..lot.model import LotModel
from ..model.appraisal import ElementContent, Mixed
from ..model.findings import Finding, Verdict
from ..physics import load
from ..quantities.estimate import Estimate
from ..tables.citations import Citation, citations, cited
from ..tables.gates import gate_method
from ..tables.limits import Limits
from ..tables.rows.contaminant import Contaminant
from ..tables.rows.methods.load import LoadScreening
from ..tables.tables import Tables
from ..uncertainty.estimates import bounded_estimate, figure_estimate
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import Step
from ..uncertainty.propagate import propagate
from ..words import Message, Values

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
    for item in (element for element in loaded.elements if element.symbol in symbols):
        limit = limits.of.get(item.symbol) if limits is not None else None
        added = bool(item.brought_by)

        def told(output: str, symbol: str = item.symbol) -> Estimate:
            return _estimate(figures[f"{output}_{symbol}"])

        share = figures.get(f"largest_share_{item.symbol}")
        found.append(
            ElementContent(
                element=item.symbol,
                name=item.name,
                feed=told("content"),
                screening=told("screening"),
                central=told("central"),
                limit=None if limit is None else _limit(limit.value),
                limit_set=limits.name if limits is not None and limit is not None else "",
                limit_known=limit.known if limit is not None else "",
                brought_by=tuple(row_id.partition(":")[2] for row_id in item.brought_by),
                decides=added or item.symbol in gathers or suspect_site,
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


def _estimate(figure: UncertainValue, unit: str = "mg/kg", factor: float = PER_KG) -> Estimate:
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
    added = [item for item in found if item.over and item.brought_by]
    natural = [item for item in found if item.over and not item.brought_by and item.decides]
    noted = [item for item in found if not item.decides and _passes(item)]
    out = []
    if added:
        out.append(_added(added, loaded, limits, words, tables, lot))
    if natural:
        action = _laboratory(words, natural, limits)
        values = {
            "held": _held(natural),
            "action": action,
            "settle": Message("settle.batch", step=action),
        }
        out.append(_finding(NATURAL, Verdict.CHECK_FIRST, natural, limits, values, lot))
    if noted:
        values = {"held": _held(noted), "laboratory": _laboratory(words, noted, limits)}
        out.append(_finding(NOTE, Verdict.READY, noted, limits, values, lot))
    return tuple(out)


def _finding(
    code: str,
    permits: Verdict,
    over: Sequence[ElementContent],
    limits: Limits,
    values: dict[str, Any],
    lot: str | None,
    sources: tuple[Citation, ...] = (),
) -> Finding:
    memory = {"memory": Message("limit-from-memory")} if _from_memory(over) else {}
    return Finding(
        code=code,
        axis="contamination",
        permits=permits,
        lot=lot,
        evidence=tuple(
            Message("evidence.element", element=o.name, screening=o.screening, limit=o.limit)
            for o in over
        ),
        sources=tuple(dict.fromkeys((*_sources(over, limits), *sources))),
        values=Values({**values, **memory}),
    )


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
            element.permits
            for element in loaded.elements
            if element.brought_by and element.symbol in {o.element for o in over}
        ),
    )
    worst = over[0]
    rows = list(
        dict.fromkeys(
            row_id
            for element in loaded.elements
            for row_id in element.brought_by
            if element.symbol == worst.element
        )
    )
    values: dict[str, Any] = {"held": _held(over), "into_air": words.into_air}
    if worst.largest_share is not None:
        values |= {"share": worst.largest_share, "why_no_share": words.why_no_share}
    row = tables.row("contaminants", rows[0], Contaminant)
    if permits is Verdict.KEEP_OUT:
        values["action"] = row.action
    else:
        action = _laboratory(words, over, limits)
        values |= {"action": action, "settle": Message("settle.batch", step=action)}
    cited_row = citations("contaminants", rows[0], row, tables)
    return _finding(ADDED, permits, over, limits, values, lot, cited_row)


def _held(over: Sequence[ElementContent]) -> Message:
    """What the char would hold of the element that passes its limit furthest."""
    worst = over[0]
    return Message(
        "char-would-hold", screening=worst.screening, element=worst.name, limit=_told(worst)
    )


def _told(each: ElementContent) -> Message:
    """A limit with the set that it stands in."""
    memory = each.limit_known == "memory"
    return Message("limit", limit=each.limit, set=each.limit_set, memory=memory)


def _from_memory(over: Sequence[ElementContent]) -> bool:
    return any(content.limit_known == "memory" for content in over)


def _laboratory(words: LoadScreening, over: Sequence[ElementContent], limits: Limits) -> Message:
    return Message(
        "text",
        text=words.laboratory,
        elements=tuple(content.name for content in over),
        limits=Message(
            "limits",
            set=limits.name,
            of=tuple(Message("limit-of", element=o.name, limit=o.limit) for o in over),
        ),
    )


def _sources(over: Sequence[ElementContent], limits: Limits) -> tuple[Citation, ...]:
    return tuple(
        dict.fromkeys(cite for content in over for cite in limits.of[content.element].sources)
    )


def ash_finding(model: LotModel, tables: Tables) -> Finding | None:
    """A char that is mostly ash is a salt and lime carrier and is measured before it is used."""
    method = gate_method(tables, "load-screening", LoadScreening)
    if method is None or model.row.ash is None:
        return None
    alone = model.plain
    feed_ash, stays = alone.middle("ash"), alone.middle("ash_kept")
    if not load.ash_of_char(feed_ash, stays, alone.char_yield) > method[1].ash_in_char.mid:
        return None
    step = Step("ash_in_char", load.ash_of_char, ("ash", "ash_kept", "char_yield"), "logit")
    share = propagate((*alone.chain, step), alone.inputs, ["ash_in_char"])["ash_in_char"]
    where = tables.where("materials", model.row_id, ("ash",)).set
    ash = figure_estimate(share, "%", 100)
    action = Message("text", text=method[1].salts)
    return Finding(
        code=ASH,
        axis="contamination",
        permits=Verdict.CHECK_FIRST,
        lot=model.name,
        sources=cited(model.row.ash, tables, where),
        evidence=(Message("evidence.ash-of-char", ash=ash),),
        values=Values(
            {"ash": ash, "action": action, "settle": Message("settle.batch", step=action)}
        ),
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
        mine = [item for part in parts for item in part if item.element == symbol]
        if not mine:
            continue
        added = tuple(dict.fromkeys(code for item in mine for code in item.brought_by))
        found.append(
            ElementContent(
                element=symbol,
                name=mine[0].name,
                screening=_estimate(mixed_figure(loaded, symbol)),
                limit=_limit(limits.of[symbol].value),
                limit_set=limits.name,
                limit_known=limits.of[symbol].known,
                brought_by=added,
                decides=any(item.decides for item in mine),
            )
        )
    found.sort(key=_rank)
    over = [item for item in found if item.over and item.decides]
    if not over:
        return Mixed(verdict=verdict, elements=tuple(found))
    worst = over[0]
    values: dict[str, Any] = {
        "screening": worst.screening,
        "element": worst.name,
        "limit": _told(worst),
        "lots": len(loaded),
    }
    if not worst.brought_by:
        values["settle"] = _laboratory(method[1], over, limits)
    permits = max(Verdict.CHECK_FIRST, verdict) if worst.brought_by else Verdict.CHECK_FIRST
    finding = _finding(MIXED, permits, over, limits, values, None)
    return Mixed(verdict=max(verdict, finding.permits), elements=tuple(found), findings=(finding,))
