"""What is to be said of a plan."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ..lot.model import ThicknessSource
from ..model.burn_plan import Loads
from ..model.findings import Finding, Verdict
from ..model.inputs.burn import Burn
from ..quantities.data import trusted
from ..quantities.units import as_wet
from ..tables.citations import Citation, cited, plain_citation
from ..tables.rows.burner import Burner
from ..tables.rows.methods.fire import Charring
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.graph import run
from ..words import Message, Quantity, Values
from .fire import HAIR, Fire
from .fuel import Fuel
from .layout import Layout, last_load
from .planned import MINUTE, Planned
from .portions import CRUMB
from .schedule import QUICK, lying_of

# so many lots are named in one sentence
_NAMED = 8
# a last load of less than this part of a full one is hardly worth its own lighting
_SMALL = 0.5
# a fire on less of the rim than this is told to be kept together
_CLEARLY = 0.7
_NO_THICKNESS = "plan.no-thickness"
_GUESSED = (ThicknessSource.TABLE, ThicknessSource.PACKING)


def plan_findings(
    planned: Planned, burner: Burner, row: str, tables: Tables, loads: Loads, burn: Burn
) -> list[Finding]:
    """All that is to be said of a plan before it is followed."""
    layout, fire = planned.layout, planned.fire
    assert layout is not None
    assert fire is not None
    findings = _short_of_wood(layout) if planned.firing != "closed" else []
    if loads.mid > 1:
        sources = _judged("the loads follow from the heap, the vessel and the time")
        alike = layout.alike
        counts = {"low": loads.low, "mid": loads.mid, "high": loads.high, "alike": alike}
        last = {} if alike else _of_the_last(layout, fire)
        findings.append(_of_the_burn("more-than-one-load", sources, counts | last))
    findings += _of_proportions(planned, burner, row, tables)
    if planned.firing != "closed":
        findings += [
            *_thick(layout, fire),
            *_quick(layout, fire),
            *_length_findings(planned, tables),
        ]
    findings += _hose(fire, layout, burn)
    return findings


def _enough(mass: float) -> float:
    """So much that what the steps take of it is there, to half a kilogram."""
    return math.ceil(2 * mass * (1 - HAIR)) / 2


def _short_of_wood(layout: Layout) -> list[Finding]:
    """Straw, leaves, shells and shavings carry no fire of their own."""
    lacks = math.fsum(layout.brought)
    if not lacks:
        return []
    values = {
        "bring": Quantity(_enough(lacks), "kg"),
        "all": Quantity(lacks * max(1.0 / layout.share, 1.0), "kg"),
        "loads": layout.loads,
        "wood": any(fuel.wood for fuel in layout.fuels),
    }
    return [_of_the_burn("carries-no-fire", _judged("what of a load is wood"), values)]


def _of_the_last(layout: Layout, fire: Fire) -> dict[str, object]:
    """How much the last load is, as it lies, how much of that is thin fuel to light and finish it,
    and how long it takes.
    """
    share = 1.0 - layout.share * (layout.loads - 1)
    mass = math.fsum(fuel.figures["lying_mass"].mid for fuel in layout.fuels) * share
    last = last_load(layout, fire)
    small = share < _SMALL * layout.share
    thin = math.fsum(map(lying_of, last.of(*QUICK))) + last.kindling
    return {
        "last": Quantity(mass, "kg"),
        "last_minutes": last.end / MINUTE,
        "last_thin": Quantity(thin, "kg"),
        "last_lacks": Quantity(_enough(last.kindling), "kg") if last.kindling else None,
        "small": small,
    }


def _thick(layout: Layout, fire: Fire) -> list[Finding]:
    """Lots that are split first, and lots that stay out of this fire."""
    findings = []
    for fuel in layout.fuels:
        if fuel.into > 1:
            values = {
                "into": fuel.into,
                "by_hand": fuel.rotted,
                "thin": Quantity(1000 * fuel.thickness, "mm"),
                "minutes": layout.end / MINUTE,
            }
            findings.append(_of_the_burn("split-first", _judged(_CORE), values, fuel.name))
    for fuel in layout.left_out:
        values = {
            "thickness": Quantity(1000 * fuel.model.thickness.value, "mm"),
            "least": Quantity(1000 * fire.planning.thinnest_split.mid, "mm"),
            "minutes": layout.end / MINUTE,
            "through": fuel.through.mid / MINUTE,
        }
        findings.append(_of_the_burn("left-out", _judged(_CORE), values, fuel.name))
    return findings


_CORE = "time in the flame against the time that is left"


def _quick(layout: Layout, fire: Fire) -> list[Finding]:
    """What lacks of thin dry fuel, and a heap that is little for its pit."""
    findings = []
    wanted = layout.pace * (fire.lighting + fire.aside)
    lacks = wanted * (1.0 - layout.quick)
    if layout.fuels and lacks > CRUMB * wanted:
        values = {
            "needed": Quantity(wanted, "kg"),
            "there": Quantity(wanted - lacks, "kg"),
            "lacks": Quantity(_enough(lacks), "kg"),
            "some": lacks < wanted * (1 - CRUMB),
            "loads": layout.loads,
            "thin": Quantity(1000 * fire.planning.quick_below.mid, "mm"),
            "wood": _to_split(layout, fire, lacks),
        }
        findings.append(
            _of_the_burn("too-little-quick-fuel", _judged("the pace of the fire"), values)
        )
    if layout.fuels and layout.small < _CLEARLY:
        across = fire.rim_width * layout.small**0.5
        values = {"across": Quantity(100 * across, "cm"), "rim": Quantity(fire.rim_width, "m")}
        findings.append(_of_the_burn("little-for-its-pit", _judged("the pace of the fire"), values))
    return findings


def _to_split(layout: Layout, fire: Fire, lacks: float) -> str | None:
    """Sound wood of which so much can be split into kindling."""
    enough = [
        fuel
        for fuel in layout.fuels
        if fuel.wood and not fire.soft(fuel) and fuel.dry * layout.share >= 2 * lacks
    ]
    return max(enough, key=lambda fuel: (fuel.dry, fuel.name)).name if enough else None


def _hose(fire: Fire, layout: Layout, burn: Burn) -> list[Finding]:
    if fire.most_fuel == math.inf or burn.hose is None:
        return []
    values = {"minutes": fire.planning.hosed.mid / MINUTE, "hose": burn.hose.text}
    return [_of_the_burn("as-much-as-the-hose", _judged("the water of the quench"), values)]


def _of_the_burn(
    code: str, sources: tuple[Citation, ...], values: Mapping[str, object], lot: str | None = None
) -> Finding:
    return trusted(Finding)(
        code=code,
        axis="burn",
        permits=Verdict.READY,
        sources=sources,
        values=Values(values),
        lot=lot,
    )


def _of_proportions(planned: Planned, burner: Burner, row: str, tables: Tables) -> list[Finding]:
    """A vessel much deeper or flatter than is usual."""
    usual, proportion = burner.proportion, planned.vessel.proportion
    if usual is None or usual.low <= proportion <= usual.high:
        return []
    values = {"proportion": proportion, "deep": proportion < usual.low, "usual": usual.mid}
    sources = cited(usual, tables, row.partition(":")[0])
    return [_of_the_burn("proportions", sources, values)]


def _length_findings(planned: Planned, tables: Tables) -> list[Finding]:
    """A burn too short to stand, one that is longer than its fuel, and a load that is stopped
    before it is through.
    """
    layout, fire = planned.layout, planned.fire
    assert layout is not None
    assert fire is not None
    if not fire.stated:
        return []
    sources, minutes = _judged("the times of the plan"), fire.most_time / MINUTE
    bed, least = fire.planning.bed.mid, fire.planning.burn_down_least.mid
    if planned.firing == "fed" and fire.most_time < bed + least:
        start = {"start": (bed + least) / MINUTE, "minutes": minutes}
        return [_of_the_burn("too-short", sources, start)]
    needed = layout.end if planned.firing == "fed" else _load_needs(layout, planned)
    if layout.fuels and fire.most_time > fire.planning.stretched.mid * needed:
        return [_of_the_burn("too-long", sources, {"minutes": needed / MINUTE})]
    uncharred = planned.estimate("uncharred_fraction")
    if uncharred is not None and layout.clamped and uncharred.mid_value > 100 * fire.brands:
        values: dict[str, object] = {"minutes": minutes, "share": uncharred}
        return [_of_the_burn("stopped-early", sources, values)]
    return []


def _load_needs(layout: Layout, planned: Planned) -> float:
    """The time that a load lit on top needs, s."""
    return planned.middles["feed_time"] + layout.burn_down


def plan_notes(layout: Layout, fire: Fire, tables: Tables) -> list[Message]:
    """What the times of a plan rest on, and what was taken for what nobody told."""
    if fire.firing == "closed":
        return []
    _, row = tables.method("char-through", Charring)
    notes = [
        Message(
            "plan.standard-fire",
            lightest=Quantity(row.lightest.mid, "kg/m^3"),
            densest=Quantity(row.densest.mid, "kg/m^3"),
            deep=Quantity(2000 * row.deep_from.mid, "mm"),
        )
    ]
    for fuel in layout.fuels:
        share = fuel.figures["moisture"].mid if "moisture" in fuel.figures else 0.0
        if share / (1 - share) > row.wettest.mid:
            notes.append(Message("plan.wetter", lot=fuel.name))
    guessed = [fuel for fuel in layout.fuels if fuel.model.thickness.source in _GUESSED]
    if guessed:
        named = guessed[:_NAMED]
        thick = tuple(Quantity(1000 * fuel.model.thickness.value, "mm") for fuel in named)
        lots, others = tuple(fuel.name for fuel in named), len(guessed) > _NAMED
        notes.append(Message(_NO_THICKNESS, lots=lots, thick=thick, others=others))
    return notes


def _judged(text: str) -> tuple[Citation, ...]:
    return (plain_citation("computed from the plan", at=text, known="derived"),)


def hot_findings(hot: Sequence[Fuel], tables: Tables) -> list[Finding]:
    """Lots whose own water would take too much of their heat."""
    _, planning = tables.method("planning", Planning)
    return [
        trusted(Finding)(
            code="water-takes-the-heat",
            axis="moisture",
            permits=Verdict.DRY_FIRST,
            sources=cited(planning.heat_limit, tables, "reference"),
            lot=fuel.name,
            values=Values({"share": 100 * fuel.figures["water_heat"].mid}),
        )
        for fuel in hot
    ]


def refusals(fuels: Sequence[Fuel], hot: Sequence[Fuel], tables: Tables, row: str) -> list[Finding]:
    """Why nothing is fed: too wet, with the moisture that it needs and the water to lose, or kept
    out.
    """
    burner = tables.row("burners", row, Burner)
    ready = 100 * as_wet(burner.moisture_ready.mid, burner.moisture_ready.basis)
    sources = cited(burner.moisture_ready, tables, row.partition(":")[0])
    wet = [fuel for fuel in fuels if fuel.verdict is Verdict.DRY_FIRST]
    findings = hot_findings(hot, tables)
    if wet:
        litres = math.fsum(max(_water(fuel), 0.0) for fuel in wet)
        findings.append(
            trusted(Finding)(
                code="too-wet-to-burn",
                axis="moisture",
                permits=Verdict.DRY_FIRST,
                sources=sources,
                evidence=tuple(Message("evidence.lot", what=fuel.name) for fuel in wet),
                values=Values(
                    {
                        "lots": tuple(fuel.name for fuel in wet),
                        "ready": ready,
                        "water": Quantity(litres, "L"),
                    }
                ),
            )
        )
    else:
        findings.append(
            trusted(Finding)(
                code="nothing-ready",
                axis="burn",
                permits=Verdict.CHECK_FIRST,
                sources=(plain_citation("the verdicts of the lots", known="derived"),),
            )
        )
    return findings


def _water(fuel: Fuel) -> float:
    values = run(fuel.model.chain, fuel.model.middles)
    return float(values.get("water_to_lose", 0.0))
