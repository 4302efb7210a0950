"""The plan of a burn as plain text, and what to gather: what a person carries to the pit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from ..model.burn_plan import BurnPlan, FeedingStep, Gathering, Loads
from ..model.findings import Caution, Finding
from ..quantities.estimate import Estimate
from ..quantities.format import Units, amount, in_units, rounded
from ..tables.citations import Citation
from .layout import listed, wrapped

# a lot is told to be split where more than this share of its pieces would keep a core, %
_SOME = 5.0


class Cites(Protocol):
    """Numbers sources as they are cited."""

    def cite(self, citations: tuple[Citation, ...]) -> str: ...

    def lines(self) -> Iterator[str]: ...


def plan_text(plan: BurnPlan, units: Units = "metric") -> str:
    """The whole sheet, with its cautions and sources."""
    from .sources import Sources

    sources = Sources()
    return (
        "\n".join([*plan_lines(plan, units, sources, alone=True), "Sources", *sources.lines()])
        + "\n"
    )


_FULL = 101.0
_CRUMB = 0.05  # kg; less is nothing to speak of


def plan_lines(
    plan: BurnPlan | None, units: Units, sources: Cites, alone: bool = False
) -> list[str]:
    """The plan as a part of a screen; with `alone` its cautions stand in it, else the screen has
    them.
    """
    if plan is None:
        return []
    lines = [
        f"The burn: {plan.burner}, {plan.firing}",
        wrapped(f"it holds {amount(plan.vessel_volume, units)}", "  "),
    ]
    if plan.refused:
        return [*lines, "", *_findings(plan.findings, sources), *_notes(plan.notes), ""]
    # what is wrong with the plan comes before the plan
    lines += [
        *_figures(plan, units),
        *_findings(plan.findings, sources),
        "",
        *_before(plan, units, sources, alone),
        "",
        *_feeding(plan, units),
        "",
    ]
    lines += [*_timeline(plan), "", *_quench(plan, units, sources)]
    if alone:
        lines += _cautions([c for c in plan.cautions if c.stage != "before"], sources, 1)
    lines += ["", *_through(plan)]
    if plan.emissions is not None:
        lines.append(
            wrapped(f"{plan.emissions.text} {sources.cite(plan.emissions.sources)}", "  - ")
        )
    return [*lines, *_notes(plan.notes), ""]


def _figures(plan: BurnPlan, units: Units) -> Iterator[str]:
    if plan.char_volume is not None and plan.char_mass is not None:
        yield wrapped(
            f"one load leaves {amount(plan.char_volume, units)} of char "
            f"({amount(plan.char_mass, units)}), sorted",
            "  ",
        )
    if plan.fill is not None:
        over = "; above 100 % it stands higher than the rim" if plan.fill.high_value > _FULL else ""
        yield wrapped(f"full at the end: {amount(plan.fill)}{over}", "  ")
    yield wrapped(_loads(plan.loads), "  ")
    if plan.left_over is not None and plan.left_over.mid_value > _CRUMB:
        yield wrapped(
            f"left over after the first load: {amount(plan.left_over, units)} of dry fuel", "  "
        )
    if plan.duration is not None:
        yield wrapped(f"takes {amount(plan.duration)} from lighting to quench", "  ")
    if plan.water_heat is not None:
        yield wrapped(f"its water takes {amount(plan.water_heat)} of its heat", "  ")


def _loads(loads: Loads) -> str:
    if loads.low == loads.high:
        return f"loads: {loads.mid}"
    return f"loads: {loads.low} to {loads.high}, likely {loads.mid}"


def whole(estimate: Estimate, units: Units) -> str:
    """The high end rounded up to two digits: for what must not fall short."""
    shown = in_units(estimate, units)
    step = 10 ** max(len(str(int(shown.high_value))) - 2, 0)
    number = -int(-shown.high_value // step) * step
    names = {"L": "litre" if number == 1 else "litres"}
    return f"{number} {names.get(shown.unit, shown.unit)}"


def _before(plan: BurnPlan, units: Units, sources: Cites, alone: bool) -> Iterator[str]:
    yield "Before you light"
    steps = []
    if plan.have_ready is not None:
        steps.append(
            f"Have {whole(plan.have_ready, units)} of water ready beside it, and a "
            "shovel and a rake. No water, no fire."
        )
    if plan.hold_back is not None and plan.hold_back.mid_value > 0:
        steps.append(
            f"Put thin, dry fuel aside: {amount(plan.hold_back, units)}, for lighting, "
            "for ashy spots and for the finish."
        )
    steps += [
        f"Split {core.lot} to {_length(core.split_to, units)} or thinner."
        for core in plan.cores
        if core.share.mid_value > _SOME
    ]
    steps.append(
        "Lay out within reach, in this order: "
        f"{listed(dict.fromkeys(step.lot for step in plan.feeding))}. What is not "
        "named here stays away from the fire."
    )
    if plan.firing == "top-lit":
        steps.append(
            "Set a straight, dry stick upright along the wall, down to the floor: "
            "drawn out, it shows how deep the fire stands."
        )
    for number, step in enumerate(steps, 1):
        yield wrapped(step, f"  {number:2}. ")
    if alone:
        yield from _cautions(
            [c for c in plan.cautions if c.stage == "before"], sources, len(steps) + 1
        )


def _length(estimate: Estimate, units: Units) -> str:
    if units == "us":
        return f"{estimate.to('in').mid_value:.2g} in"
    return f"{estimate.mid_value:.0f} mm"


def _cautions(cautions: list[Caution], sources: Cites, first: int) -> Iterator[str]:
    for number, each in enumerate(cautions, first):
        yield wrapped(f"{each.text} {sources.cite(each.sources)}", f"  {number:2}. ")


def _feeding(plan: BurnPlan, units: Units) -> Iterator[str]:
    yield "Feeding, one load" if plan.firing == "fed" else "Filling, one load, from the floor up"
    for number, step in enumerate(plan.feeding, 1):
        yield wrapped(
            f"{step.lot}, {_mass(step, units)}{_latest(step)}: {step.cue}", f"  {number:2}. "
        )


def _mass(step: FeedingStep, units: Units) -> str:
    shown = in_units(step.mass, units)
    width = max(shown.high_value - shown.low_value, 0.08 * shown.mid_value)
    return f"about {rounded(shown.mid_value, width)} {shown.unit}"


def _latest(step: FeedingStep) -> str:
    if step.latest is None or step.part == "kindling":
        return ""
    early, mid = step.latest.low_value, step.latest.mid_value
    careful = f", better by {early:.0f}" if mid - early >= 1 else ""
    return f", by minute {mid:.0f} at the latest{careful}"


def _timeline(plan: BurnPlan) -> Iterator[str]:
    yield "Minutes after lighting"
    for each in plan.timeline:
        hours = each.at.mid_value >= 300
        low, mid, high = (
            _clock(v, hours) for v in (each.at.low_value, each.at.mid_value, each.at.high_value)
        )
        when = mid if low == high else f"{mid} ({low} to {high})"
        yield wrapped(f"{when}: {each.event}", "  - ")


def _clock(minutes: float, hours: bool) -> str:
    """Minutes, or hours where minutes would pretend to know too much."""
    return f"{minutes / 60:.0f} h" if hours else f"{minutes:.0f}"


def _quench(plan: BurnPlan, units: Units, sources: Cites) -> Iterator[str]:
    yield "Putting it out"
    if plan.have_ready is not None:
        yield wrapped(f"have ready: {whole(plan.have_ready, units)}", "  ")
    if plan.quench_water is not None and plan.quench is not None:
        if not {"water", "bursts"} & set(plan.quench.ways):
            yield wrapped(
                "it is not put out with water as a rule; if it breaks open or must be drowned,",
                "  ",
            )
        yield wrapped(
            f"it will take {amount(plan.quench_water, units)}: "
            f"{_hose(plan.quench.hose_time)} of a hose at "
            f"{_flow(plan.quench.hose_flow, units)} {sources.cite(plan.quench.sources)}",
            "  ",
        )
        for number, step in enumerate(plan.quench.steps, 1):
            yield wrapped(step, f"  {number:2}. ")


def _flow(said: str, units: Units) -> str:
    """A flow as the plan tells it, `15 L/min`, in the units that the reader wants."""
    if units == "metric":
        return said
    litres = float(said.removesuffix(" L/min"))
    gallons = in_units(Estimate(litres, litres, litres, "L"), units)
    return f"{gallons.mid_value:.2g} {gallons.unit}/min"


def _hose(time: Estimate) -> str:
    return amount(time) if time.high_value > 1 else "less than a minute"


def _through(plan: BurnPlan) -> Iterator[str]:
    if plan.char_through:
        yield "Time in the flame until a piece is char to its centre"
    for lot, time in plan.char_through:
        yield wrapped(f"{lot}: {amount(time)}", "  - ")


def _findings(findings: tuple[Finding, ...], sources: Cites) -> Iterator[str]:
    for each in findings:
        lot = f"{each.lot}: " if each.lot is not None else ""
        yield wrapped(f"{lot}{each.reason} {sources.cite(each.sources)}", "  - ")
        yield wrapped(each.action, "    do: ")


def _notes(notes: tuple[str, ...]) -> Iterator[str]:
    for note in notes:
        yield wrapped(note, "  - ")


def _of_char(target: str) -> str:
    return (
        target
        if "char" in target.casefold() or "carbon" in target.casefold()
        else f"{target} of char"
    )


def gathering_text(found: Gathering, units: Units = "metric") -> str:
    """What to take from the heap, as plain text."""
    from .sources import Sources

    sources = Sources()
    lines = [
        wrapped(
            f"For {_of_char(found.target)}, with a confidence of {100 * found.confidence:.4g} %:"
        ),
        "",
    ]
    for number, lot in enumerate(found.lots, 1):
        mass = in_units(lot.mass, units)
        width = max(mass.high_value - mass.low_value, 0.08 * mass.mid_value)
        lines.append(
            wrapped(
                f"{lot.lot}: {lot.amount} (about {rounded(mass.mid_value, width)} {mass.unit})",
                f"  {number:2}. ",
            )
        )
    if not found.lots:
        lines.append("  nothing is ready to be taken")
    lines += [
        "",
        wrapped(
            f"That gives {amount(found.gives, units)}; all ready lots would give "
            f"{amount(found.could_give, units)}."
        ),
    ]
    if found.loads is not None:
        lines.append(wrapped(_loads(found.loads)[:1].upper() + _loads(found.loads)[1:] + "."))
    if found.hold_back is not None and found.hold_back.mid_value > 0:
        lines.append(
            wrapped(f"On top of it, thin dry fuel for each load: {amount(found.hold_back, units)}.")
        )
    lines += [*_findings(found.findings, sources), *_notes(found.notes)]
    return "\n".join(lines) + "\n"
