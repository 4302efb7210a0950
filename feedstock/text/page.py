"""An appraisal in words."""

from __future__ import annotations

from collections.abc import Iterator

from ..model.appraisal import Appraisal, LotAppraisal, Total
from ..model.findings import Finding, Verdict
from ..quantities.format import Units, amount, rounded
from .layout import listed, wrapped
from .plan import plan_lines
from .sources import Sources


def appraisal_text(result: Appraisal, units: Units = "metric") -> str:
    """The whole screen."""
    sources = Sources()
    lines = [*_answer(result, units), "", *plan_lines(result.burn, units, sources)]
    for lot in result.lots:
        lines += [*_lot(lot, units, sources), ""]
    lines += _general(result, sources)
    lines += _assumed(result)
    lines += _cautions(result, sources)
    lines += ["Sources", *sources.lines(), "", *_tables(result)]
    return "\n".join(lines) + "\n"


def _answer(result: Appraisal, units: Units) -> Iterator[str]:
    name = f"{result.inputs.heap.name}: " if result.inputs.heap.name else ""
    count = len(result.lots)
    yield wrapped(f"{name}{count} lot{'s' if count != 1 else ''}, for a {result.burner}")
    yield ""
    ready = result.by_verdict.get(Verdict.READY)
    if ready is None:
        yield "Now: nothing can go in yet."
    else:
        yield from _total("Now", ready, units)
    for verdict, head in (
        (Verdict.DRY_FIRST, "If dried first"),
        (Verdict.CHECK_FIRST, "If checked and cleared (and dry)"),
    ):
        if verdict in result.by_verdict:
            yield from _total(head, result.by_verdict[verdict], units)
    out = result.by_verdict.get(Verdict.KEEP_OUT)
    if out is not None:
        yield wrapped(
            f"Stays out: {listed(out.lots)} ({amount(out.dry_mass, units)}, dry). No "
            "share of it, however small, belongs in char for food soil.",
            rest="  ",
        )
    if len(result.by_verdict) > 1 and result.verdict_mixed is not Verdict.READY:
        yield wrapped(
            f"Thrown together the whole heap would be: {result.verdict_mixed}. Keep the lots apart."
        )
        for finding in result.mixed.findings if result.mixed is not None else ():
            yield wrapped(finding.reason, "  ")


def _total(head: str, total: Total, units: Units) -> Iterator[str]:
    yield wrapped(f"{head}: {listed(total.lots)}, {amount(total.dry_mass, units)}, dry", rest="  ")
    if total.char_volume is not None and total.char_mass is not None:
        volume = (
            f"{amount(total.char_volume, units)} ({amount(total.char_mass, units)})"
            if total.char_volume.high_value > 0
            else amount(total.char_mass, units)
        )
        yield wrapped(f"gives {volume} of char, sorted, dry and heaped, uncrushed", "  ")


def _lot(lot: LotAppraisal, units: Units, sources: Sources) -> Iterator[str]:
    about = f" ({lot.material})" if lot.material.casefold() != lot.name.casefold() else ""
    yield wrapped(f"{lot.name}{about}: {str(lot.verdict).upper()}")
    dry = lot.moisture_dry
    yield wrapped(
        f"{amount(lot.moisture, units)} wet basis "
        f"({rounded(dry.mid_value, dry.high_value - dry.low_value)} % dry basis)",
        "  moisture   ",
    )
    if lot.density is not None:
        yield wrapped(f"{amount(lot.density, units)}, oven-dry", "  density    ")
    yield wrapped(amount(lot.dry_mass, units), "  dry mass   ")
    if lot.char_mass is not None and lot.char_carbon is not None:
        yield wrapped(
            amount(lot.char_mass, units)
            + (f"; {amount(lot.char_volume, units)}" if lot.char_volume is not None else ""),
            "  char       ",
        )
        yield wrapped(amount(lot.char_carbon, units), "  carbon     ")
    if lot.water_to_lose.mid_value >= 0.05 and lot.verdict is not Verdict.KEEP_OUT:
        yield wrapped(
            f"{amount(lot.water_to_lose, units)} of water to lose before it is dry enough",
            "  water      ",
        )
    if lot.water_heat is not None and lot.water_heat.mid_value >= 5:
        yield wrapped(f"its water takes {amount(lot.water_heat)} of its heat", "  heat       ")
    yield wrapped(_scores(lot), "  scores     ")
    out = lot.verdict is Verdict.KEEP_OUT
    for finding in lot.findings:
        # how to dry what must not be burnt helps nobody
        if not (out and finding.axis not in ("contamination", "handling")):
            yield from _finding(finding, sources)
    if not any(f.axis in ("contamination", "handling") for f in lot.findings):
        yield wrapped(
            "nothing was flagged for contamination, by the origin and signs that you "
            "gave; that is no test.",
            "  - ",
        )


def _scores(lot: LotAppraisal) -> str:
    named = [
        ("moisture", lot.scores.moisture),
        ("density", lot.scores.density),
        ("contamination", lot.scores.contamination),
        ("char", lot.scores.char),
    ]
    return (
        ", ".join(f"{name} {score:.0f}" for name, score in named if score is not None)
        + f"; suitability {lot.scores.suitability:.0f} of 100"
    )


def _finding(finding: Finding, sources: Sources) -> Iterator[str]:
    mark = sources.cite(finding.sources)
    head = (
        "cleared, and kept in view"
        if finding.cleared
        else str(finding.permits)
        if finding.permits is not Verdict.READY
        else "note"
    )
    because = f" ({'; '.join(finding.evidence)})" if finding.evidence else ""
    yield wrapped(f"{head}: {finding.reason}{because} {mark}", "  - ")
    if not finding.cleared:
        yield wrapped(finding.action, "    do: ")
        if finding.settle and finding.settle.partition(" It shows")[0] != finding.action:
            yield wrapped(finding.settle, "    what would settle it: ", "      ")


def _general(result: Appraisal, sources: Sources) -> list[str]:
    general = [f for f in result.findings if f.lot is None]
    if not general:
        return []
    return ["The tables", *(line for f in general for line in _finding(f, sources)), ""]


def _assumed(result: Appraisal) -> list[str]:
    return (
        ["Read and assumed", *(wrapped(note, "  - ") for note in result.inputs.notes), ""]
        if result.inputs.notes
        else []
    )


def _cautions(result: Appraisal, sources: Sources) -> list[str]:
    lines = [
        "Before you light, and after",
        "  Local codes and licensed practice come before anything that stands here.",
    ]
    for number, each in enumerate(result.cautions, 1):
        lines.append(wrapped(f"{each.text} {sources.cite(each.sources)}", f"  {number:2}. "))
    return [*lines, ""]


def _tables(result: Appraisal) -> Iterator[str]:
    yield wrapped(
        "; ".join(f"{t.name} {t.version} ({t.digest[:12]})" for t in result.tables), "Tables: "
    )
    yield wrapped(
        "Ranges hold nine times in ten if what you stated is right; see README for "
        "what they cannot know."
    )
