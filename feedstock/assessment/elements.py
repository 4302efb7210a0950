"""Findings from the elements of a lot and of the mixed heap: the computed interval against the
limit in use.

What a suspicion brings is judged at its 95th percentile with no loss credited. What is there by
nature decides only for materials that gather an element and for suspect sites; for all others it is
information. What is there by nature can be answered without a laboratory, by a use to which the
person binds themselves.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import Any

from ..lot.elements import LotElements, mixed_figure
from ..lot.model import LotModel
from ..model.appraisal import ElementContent, Mixed
from ..model.findings import Finding, Verdict
from ..physics import elements as physics
from ..quantities.data import trusted
from ..quantities.estimate import Estimate, bounded_estimate, figure_estimate
from ..tables.citations import Citation, citations, cited
from ..tables.limits import Limits
from ..tables.rows.contaminant import Contaminant
from ..tables.rows.methods.elements import ElementScreening
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import Step
from ..uncertainty.propagate import propagate
from ..words import Message, Values
from .answers import ASH, NATURAL, PER_KG, of_ash, of_nature

ADDED, MIXED, NOTE = "load-over-limit", "mixed-over-limit", "background-note"


def contents(
    bound: LotElements,
    symbols: Collection[str],
    accumulates: Iterable[str],
    suspect_site: bool,
    limits: Limits | None,
) -> tuple[ElementContent, ...]:
    """Those elements of a lot that are named in `symbols`, the ones that pass their limit furthest
    first.
    """
    gathers = set(accumulates)
    figures = bound.figures
    elements = []
    for item in (element for element in bound.elements if element.symbol in symbols):
        limit = limits.of.get(item.symbol) if limits is not None else None
        added = bool(item.brought_by)

        def estimate(output: str, symbol: str = item.symbol) -> Estimate:
            return element_estimate(figures[f"{output}_{symbol}"])

        share = figures.get(f"largest_share_{item.symbol}")
        elements.append(
            trusted(ElementContent)(
                element=item.symbol,
                name=item.name,
                feed=estimate("content"),
                screening=estimate("screening"),
                central=estimate("central"),
                limit=None if limit is None else limit_of_share(limit.value),
                limit_set=limits.name if limits is not None and limit is not None else "",
                limit_known=limit.known if limit is not None else "",
                brought_by=tuple(row_id.partition(":")[2] for row_id in item.brought_by),
                content_known=item.known,
                decides=added or item.symbol in gathers or suspect_site,
                soil_addition=estimate("soil_addition"),
                largest_share=None if share is None else element_estimate(share, "%", 100),
            )
        )
    return tuple(sorted(elements, key=rank))


def limit_of_share(share: float) -> float:
    """A limit in mg/kg as it stands in the table, without the rounding of two changes of unit."""
    return float(f"{PER_KG * share:.9g}")


def rank(content: ElementContent) -> tuple[float, str]:
    """Where an element stands in a list: the one furthest over its limit first."""
    return (
        -content.screening.high_value / content.limit if content.limit else 0.0,
        content.element,
    )


def element_estimate(
    figure: UncertainValue, unit: str = "mg/kg", factor: float = PER_KG
) -> Estimate:
    """A content in its public unit, never below nothing."""
    return bounded_estimate(figure.ends, figure.mid, unit, factor)


def passes(content: ElementContent) -> bool:
    """Whether its middle alone passes the limit."""
    return content.limit is not None and content.screening.mid_value > content.limit


def element_findings(
    elements: Sequence[ElementContent],
    bound: LotElements,
    limits: Limits | None,
    tables: Tables,
    model: LotModel,
) -> tuple[Finding, ...]:
    """What the limit says about a lot: suspicions, gatherers, and what is told for information."""
    method = tables.gate_method("element-screening", ElementScreening)
    if limits is None or method is None:
        return ()
    words, lot = method[1], model.name
    added = [item for item in elements if item.over and item.brought_by]
    natural = _natural(elements, model.row.accumulates)
    symbols = {item.element for item in natural}
    noted = [
        item
        for item in elements
        if not item.brought_by and item.element not in symbols and passes(item) and not item.decides
    ]
    out = []
    if added:
        out.append(_added(added, bound, limits, words, tables, lot))
    if natural:
        values, permits = of_nature(
            natural, _would_hold(natural), laboratory(words, natural, limits), words, model, tables
        )
        out.append(
            element_finding(
                NATURAL, permits, natural, limits, values, lot, content_sources(natural, bound)
            )
        )
    if noted:
        values = {"held": _would_hold(noted), "laboratory": laboratory(words, noted, limits)}
        sources = content_sources(noted, bound)
        out.append(element_finding(NOTE, Verdict.READY, noted, limits, values, lot, sources))
    return tuple(out)


def _natural(items: Sequence[ElementContent], accumulates: Collection[str]) -> list[ElementContent]:
    """What is there by nature and passes its limit: at its high end where the plant gathers it, at
    its middle where a suspect place lets it decide. Contents from memory are left aside where
    others decide already.
    """
    over = [
        item
        for item in items
        if not item.brought_by
        and item.decides
        and (item.over if item.element in accumulates else passes(item))
    ]
    return [item for item in over if item.content_known != "memory"] or over


def content_sources(over: Sequence[ElementContent], bound: LotElements) -> tuple[Citation, ...]:
    """The sources of the contents of clean matter, in the order of the contents, whatever the other
    lots of the heap have bound.
    """
    by_symbol = {element.symbol: element.sources for element in bound.elements}
    return tuple(cite for content in over for cite in by_symbol.get(content.element, ()))


def element_finding(
    code: str,
    permits: Verdict,
    over: Sequence[ElementContent],
    limits: Limits,
    values: dict[str, Any],
    lot: str | None,
    sources: tuple[Citation, ...] = (),
) -> Finding:
    """A finding about elements over a limit, or near it."""
    memory = _from_memory(over)
    answered = values.pop("answered", False)
    return trusted(Finding)(
        code=code,
        axis="contamination",
        permits=permits,
        lot=lot,
        cleared=answered,
        evidence=tuple(
            Message("evidence.element", element=o.name, screening=o.screening, limit=o.limit)
            for o in over
        ),
        sources=tuple(dict.fromkeys((*_sources(over, limits), *sources))),
        values=Values({**values, **memory}),
    )


def _added(
    over: Sequence[ElementContent],
    bound: LotElements,
    limits: Limits,
    words: ElementScreening,
    tables: Tables,
    lot: str,
) -> Finding:
    permits = max(
        Verdict.CHECK_FIRST,
        *(
            element.permits
            for element in bound.elements
            if element.brought_by and element.symbol in {o.element for o in over}
        ),
    )
    worst = over[0]
    rows = list(
        dict.fromkeys(
            row_id
            for element in bound.elements
            for row_id in element.brought_by
            if element.symbol == worst.element
        )
    )
    values: dict[str, Any] = {"held": _would_hold(over), "into_air": words.into_air}
    if worst.largest_share is not None:
        values |= {"share": worst.largest_share, "why_no_share": words.why_no_share}
    row = tables.row("contaminants", rows[0], Contaminant)
    if permits is Verdict.KEEP_OUT:
        values["action"] = row.action
    else:
        action = laboratory(words, over, limits)
        values |= {"action": action, "settle": Message("settle.batch", step=action)}
    cited_row = citations("contaminants", rows[0], row, tables)
    return element_finding(ADDED, permits, over, limits, values, lot, cited_row)


def _would_hold(over: Sequence[ElementContent]) -> Message:
    """What the char would hold of the element that passes its limit furthest."""
    worst = over[0]
    return Message(
        "char-would-hold", screening=worst.screening, element=worst.name, limit=told_limit(worst)
    )


def told_limit(content: ElementContent) -> Message:
    """A limit with the set that it stands in."""
    memory = content.limit_known == "memory"
    return Message("limit", limit=content.limit, set=content.limit_set, memory=memory)


def _from_memory(over: Sequence[ElementContent]) -> dict[str, Message]:
    """What is said where limits, or the contents of clean matter, are from memory."""
    parts = []
    if any(content.limit_known == "memory" for content in over):
        parts.append(Message("limit-from-memory"))
    remembered = tuple(
        content.name
        for content in over
        if content.content_known == "memory" and not content.brought_by
    )
    if remembered:
        parts.append(Message("content-from-memory", elements=remembered))
    return {"memory": Message("both", parts=tuple(parts))} if parts else {}


def laboratory(words: ElementScreening, over: Sequence[ElementContent], limits: Limits) -> Message:
    """What to order of a laboratory for these elements."""
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


def without_answered(
    elements: tuple[ElementContent, ...], findings: Sequence[Finding]
) -> tuple[ElementContent, ...]:
    """The elements of a lot; those by nature decide nothing more once they were answered."""
    if not any(finding.code == NATURAL and finding.cleared for finding in findings):
        return elements
    return tuple(
        item if item.brought_by else item.model_copy(update={"decides": False}) for item in elements
    )


def ash_finding(model: LotModel, tables: Tables) -> Finding | None:
    """A char that is mostly ash is a salt and lime carrier and is measured before it is used."""
    method = tables.gate_method("element-screening", ElementScreening)
    if method is None or model.row.ash is None:
        return None
    alone = model.plain
    if not alone.char_ash > method[1].ash_in_char.mid:
        return None
    step = Step("ash_in_char", physics.ash_of_char, ("ash", "ash_kept", "char_yield"), "logit")
    share = propagate((*alone.chain, step), alone.inputs, ["ash_in_char"])["ash_in_char"]
    where = tables.where("materials", model.row_id, ("ash",)).set
    ash = figure_estimate(share, "%", 100)
    values, permits = of_ash(method[1], model, tables)
    return trusted(Finding)(
        code=ASH,
        axis="contamination",
        permits=permits,
        lot=model.name,
        cleared=permits is Verdict.READY,
        sources=cited(model.row.ash, tables, where),
        evidence=(Message("evidence.ash-of-char", ash=ash),),
        values=Values({"ash": ash, **values}),
    )


def _carries(item: ElementContent) -> bool:
    """Whether a mixture can be over its limit because of what this part holds by nature: one that
    is below the limit by itself only dilutes.
    """
    return not item.brought_by and (item.over or passes(item))


def _worst_known(parts: Sequence[ElementContent]) -> str:
    """How a content of a mixture is known: from memory where a part that carries it is."""
    knowns = [item.content_known for item in parts if _carries(item)]
    knowns = knowns or [item.content_known for item in parts]
    return "memory" if "memory" in knowns else next(iter(knowns), "")


def _carried_by(
    over: Sequence[ElementContent],
    bound: Sequence[LotElements],
    parts: Sequence[Sequence[ElementContent]],
) -> tuple[Citation, ...]:
    """The sources of the contents of clean matter on which a finding about a mixture rests."""
    symbols = {item.element for item in over}
    return tuple(
        cite
        for lot, part in zip(bound, parts, strict=True)
        for cite in content_sources(
            [item for item in part if item.element in symbols and _carries(item)], lot
        )
    )


def _breaks(item: ElementContent) -> bool:
    """Whether an element decides and passes its limit: what was brought at its high end, what is
    there by nature at its middle.
    """
    return item.decides and (item.over if item.brought_by else passes(item))


def mixed_result(
    verdict: Verdict,
    bound: Sequence[LotElements],
    parts: Sequence[Sequence[ElementContent]],
    limits: Limits | None,
    tables: Tables,
) -> Mixed:
    """All lots thrown together.

    The verdict is never better than `verdict`, that of the worst lot.
    """
    method = tables.gate_method("element-screening", ElementScreening)
    if limits is None or method is None or not bound:
        return trusted(Mixed)(verdict=verdict)
    mixed = []
    for symbol in limits.of:
        contents_of = [item for part in parts for item in part if item.element == symbol]
        if not contents_of:
            continue
        added = tuple(dict.fromkeys(code for item in contents_of for code in item.brought_by))
        mixed.append(
            trusted(ElementContent)(
                element=symbol,
                name=contents_of[0].name,
                screening=element_estimate(mixed_figure(bound, symbol)),
                limit=limit_of_share(limits.of[symbol].value),
                limit_set=limits.name,
                limit_known=limits.of[symbol].known,
                content_known=_worst_known(contents_of),
                brought_by=added,
                decides=any(item.decides for item in contents_of),
            )
        )
    mixed.sort(key=rank)
    over = [item for item in mixed if _breaks(item)]
    if not over:
        return trusted(Mixed)(verdict=verdict, elements=tuple(mixed))
    worst = over[0]
    values: dict[str, Any] = {"screening": worst.screening, "element": worst.name}
    values |= {"limit": told_limit(worst), "lots": len(bound)}
    permits = max(Verdict.CHECK_FIRST, verdict)
    if not worst.brought_by:
        permits, values["settle"] = Verdict.CHECK_FIRST, laboratory(method[1], over, limits)
    sources = _carried_by(over, bound, parts)
    finding = element_finding(MIXED, permits, over, limits, values, None, sources)
    verdict = max(verdict, finding.permits)
    return trusted(Mixed)(verdict=verdict, elements=tuple(mixed), findings=(finding,))
