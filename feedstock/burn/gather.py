"""The inverse: which ready lots, and how much of each, give a wanted amount of char with a stated
confidence.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from statistics import NormalDist
from typing import Any

from ..errors import InputError, Problem
from ..model.burn_plan import GatheredLot, Gathering
from ..model.findings import Finding, Verdict
from ..model.inputs.burn import Burn
from ..model.inputs.heap import Heap
from ..model.inputs.lot import Lot
from ..quantities.estimate import COVERAGE
from ..quantities.fields import Measured
from ..tables.citations import Citation
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..words import Message, Quantity, Values
from .fuel import Fuel, part_of, weighted
from .graph import estimate_in
from .plan import can_plan, loads_at_middle, loads_of, plan_graph, usable_fuels
from .planned import Planned
from .target import Target
from .vessel import has_measures

CONFIDENCE = 0.8
"""Four times in five there is at least as much char as was asked for, unless another confidence is
stated.
"""

# how far the ends of an interval stand from its middle, in standard deviations
_Z90 = NormalDist().inv_cdf(0.5 + COVERAGE / 2)
_HALVINGS = 60
# a load is whole within this much of it, and found by so many halvings of what is left in the heap
_HAIR = 1e-6
_LOAD_HALVINGS = 24
# so many lots are named in one sentence
_NAMED = 12
# less than this share of a lot is nothing that anybody takes
_CRUMB = 1e-6


def gather_from(
    target: Target,
    fuels: Sequence[Fuel],
    heap: Heap,
    burn: Burn | None,
    tables: Tables,
    burner_row: str,
    confidence: float,
    whole_loads: bool,
) -> Gathering:
    """Take ready lots in order (least doubtful, driest first) until the target is met with the
    confidence; the last in part.

    Raises InputError for a confidence outside 0 to 1 and for whole loads of a burn without
    measures.
    """
    _check(confidence, whole_loads, burn)
    usable = _usable(fuels, target, tables)
    ordered = sorted(usable, key=_preference)
    taken = _until(ordered, target.figure, target.amount, confidence)
    plans = bool(ordered) and burn is not None and has_measures(burn) and can_plan(tables)
    if whole_loads and plans and burn is not None:
        taken = _whole(
            ordered,
            taken,
            lambda some: loads_at_middle(_parts(some), burn, tables, burner_row),
        )
    chosen = [(share, fuel) for share, fuel in taken if share > 0]
    planned = None
    if plans and burn is not None:
        planned = plan_graph(_parts(chosen) or ordered, burn, tables, burner_row)
    gives = _sum(chosen, target.figure)
    could = _sum([(1.0, fuel) for fuel in ordered], target.figure)
    enough = bool(chosen) and quantile(gives, confidence) >= target.amount * (1 - 1e-6)
    short = () if enough else (_short(target, could, confidence, fuels, usable),)
    return Gathering(
        target=target.text,
        confidence=confidence,
        enough=enough,
        lots=tuple(_gathered(share, fuel, target) for share, fuel in chosen),
        gives=estimate_in(gives, target.unit, target.factor),
        could_give=estimate_in(could, target.unit, target.factor),
        loads=loads_of(planned.figures["loads"]) if planned is not None and chosen else None,
        whole_loads=whole_loads,
        hold_back=planned.estimate("hold_back") if planned is not None else None,
        heap=_heap_of(heap, chosen),
        findings=(*short, *_leaves_less(planned, chosen, burn)),
        notes=tuple(_notes(planned is not None, whole_loads, fuels, usable)),
    )


def _usable(fuels: Sequence[Fuel], target: Target, tables: Tables) -> list[Fuel]:
    """Fuel that gives any of what is wanted."""
    usable, _ = usable_fuels(fuels, tables)
    name = target.figure
    return [fuel for fuel in usable if name in fuel.figures and fuel.figures[name].mid > 0]


def _preference(fuel: Fuel) -> tuple[int, float, float, str]:
    """The least doubtful and driest first."""
    return fuel.concerns, fuel.figures["moisture"].mid, fuel.thickness, fuel.name


def _parts(chosen: Iterable[tuple[float, Fuel]]) -> list[Fuel]:
    return [part_of(fuel, share) for share, fuel in chosen if share > 0]


def _heap_of(heap: Heap, chosen: Sequence[tuple[float, Fuel]]) -> Heap | None:
    """What to take, as a heap; None where it is nothing."""
    lots = [scaled_lot(fuel.lot, share, fuel.name) for share, fuel in chosen]
    said = {"name": heap.name, "remarks": heap.remarks, "dismiss": heap.dismiss}
    return Heap.model_validate({**said, "lots": lots}) if lots else None


def _check(confidence: float, whole_loads: bool, burn: Burn | None) -> None:
    if not 0 < confidence < 1:
        raise InputError(
            [
                Problem(
                    "out-of-range",
                    f"a confidence of {confidence:g} is not between 0 and 1",
                    "Write for instance 0.8: four times in five there is enough.",
                    "confidence",
                )
            ]
        )
    if whole_loads and not has_measures(burn):
        raise InputError(
            [
                Problem(
                    "missing-field",
                    "whole loads need a burn with its measures",
                    "Give burner, width or diameter, and depth.",
                    "burn",
                )
            ]
        )


def quantile(figure: UncertainValue, confidence: float) -> float:
    """The amount that is reached or passed with this confidence; 0.5 gives the middle, 0.95 the low
    end of the interval.
    """
    low, high = figure.ends
    z = NormalDist().inv_cdf(confidence) / _Z90
    end = low if z >= 0 else high
    if end <= 0 or figure.mid <= 0:
        return float(max(figure.mid - abs(z) * (figure.mid - end), 0.0))
    return float(figure.mid * (end / figure.mid) ** abs(z))


def _sum(chosen: Iterable[tuple[float, Fuel]], name: str) -> UncertainValue:
    return weighted((share, fuel.figures[name]) for share, fuel in chosen)


def _until(
    ordered: Sequence[Fuel], name: str, wanted: float, confidence: float
) -> list[tuple[float, Fuel]]:
    """Whole lots in order while the target is not met, then the part of the next that meets it."""
    taken: list[tuple[float, Fuel]] = []
    for fuel in ordered:
        if quantile(_sum([*taken, (1.0, fuel)], name), confidence) < wanted:
            taken.append((1.0, fuel))
            continue
        low, high = 0.0, 1.0
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if quantile(_sum([*taken, (middle, fuel)], name), confidence) < wanted:
                low = middle
            else:
                high = middle
        return [*taken, (takeable(fuel.lot, high), fuel)]
    return taken


def _whole(
    ordered: Sequence[Fuel],
    taken: list[tuple[float, Fuel]],
    loads: Callable[[list[tuple[float, Fuel]]], float],
) -> list[tuple[float, Fuel]]:
    """Filled up in the same order until the loads are whole, as far as the ready lots go."""
    shares = {fuel.name: share for share, fuel in taken}
    wanted = math.ceil(loads(taken) - _HAIR)

    def filled(more: float) -> list[tuple[float, Fuel]]:
        chosen = []
        for fuel in ordered:
            before = shares.get(fuel.name, 0.0)
            added = min(more / fuel.dry, 1.0 - before)
            more -= added * fuel.dry
            if before + added > _CRUMB:
                chosen.append((takeable(fuel.lot, before + added), fuel))
        return chosen

    low, high = 0.0, sum(fuel.dry * (1.0 - shares.get(fuel.name, 0.0)) for fuel in ordered)
    if loads(filled(high)) <= wanted:
        return filled(high)
    for _ in range(_LOAD_HALVINGS):
        middle = (low + high) / 2
        if loads(filled(middle)) <= wanted + _HAIR:
            low = middle
        else:
            high = middle
    return filled(low)


def takeable(lot: Lot, share: float) -> float:
    """The share rounded up to what can be taken: whole pieces of a counted lot."""
    if lot.pieces is None:
        return min(share, 1.0)
    return min(math.ceil(share * lot.pieces.count - 1e-9), lot.pieces.count) / lot.pieces.count


def scaled_lot(lot: Lot, share: float, name: str) -> Lot:
    """The same lot with that share of its amount, under the name that it goes by in the heap."""
    update: dict[str, Any] = {"name": name}
    if share < 1.0:
        if lot.mass is not None:
            update["mass"] = _scaled(lot.mass, share, "kg")
        elif lot.volume is not None:
            update["volume"] = _scaled(lot.volume, share, "m^3")
        elif lot.pieces is not None:
            update["pieces"] = lot.pieces.model_copy(
                update={"count": max(1, round(lot.pieces.count * share))}
            )
        elif lot.containers is not None:
            update["containers"] = lot.containers.model_copy(
                update={"count": lot.containers.count * share}
            )
        elif lot.stack is not None:
            update["stack"] = lot.stack.model_copy(
                update={"length": _scaled(lot.stack.length, share, "m")}
            )
    return lot.model_copy(update=update)


def _scaled(stated: Measured, share: float, unit: str) -> Measured:
    numbers = {
        part: float(f"{getattr(stated, part) * share:.12g}")
        for part in ("low", "mid", "high")
        if getattr(stated, part) is not None
    }
    text = f"{numbers['mid']!r} {unit}"
    if stated.low is not None:
        text = f"{numbers['low']!r} to {numbers['high']!r} {unit}, likely {numbers['mid']!r} {unit}"
    return Measured(text, stated.dimension, numbers["mid"], numbers.get("low"), numbers.get("high"))


def _gathered(share: float, fuel: Fuel, target: Target) -> GatheredLot:
    figure = weighted([(share, fuel.figures[target.figure])])
    return GatheredLot(
        lot=fuel.name,
        share=100 * share,
        amount=_amount(fuel.lot, share),
        mass=estimate_in(fuel.figures["lying_mass"], "kg", share),
        char=estimate_in(figure, target.unit, target.factor),
    )


def _amount(lot: Lot, share: float) -> Message:
    """What to take, in the way in which the lot was described."""
    if share >= 1.0:
        return Message("take.all")
    if lot.mass is not None:
        return Message("take.part", part=Quantity(lot.mass.mid * share, "kg"))
    if lot.volume is not None:
        return Message("take.part", part=Quantity(1000 * lot.volume.mid * share, "L"))
    if lot.pieces is not None:
        part = max(1, round(lot.pieces.count * share))
        return Message("take.pieces", part=part, whole=lot.pieces.count)
    if lot.containers is not None:
        whole = lot.containers.count
        return Message("take.containers", part=whole * share, whole=whole, of=lot.containers.of)
    assert lot.stack is not None
    length = lot.stack.length.mid
    part_of_it = Quantity(length * share, "m")
    return Message("take.stack", part=part_of_it, whole=Quantity(length, "m"))


def _short(
    target: Target,
    could: UncertainValue,
    confidence: float,
    fuels: Sequence[Fuel],
    usable: Sequence[Fuel],
) -> Finding:
    """The plain word that the heap cannot, with what stands in the way."""
    most = quantile(could, confidence) * target.factor if usable else 0.0
    out = [fuel.name for fuel in fuels if fuel.verdict is not Verdict.READY]
    return Finding(
        code="not-enough",
        axis="burn",
        permits=Verdict.READY,
        sources=(Citation(text="computed from the ready lots", known="derived"),),
        values=Values(
            {
                "target": target.text,
                "confidence": 100 * confidence,
                "gives": Quantity(most, target.unit),
                "not_ready": tuple(out[:_NAMED]),
                "others": len(out) > _NAMED,
            }
        ),
    )


def _leaves_less(
    planned: Planned | None, chosen: Sequence[tuple[float, Fuel]], burn: Burn | None
) -> tuple[Finding, ...]:
    """What the burn itself takes off the char of the lots: quick fuel, and wood that is raw when it
    is stopped.
    """
    if planned is None or not chosen or "burn_char" not in planned.figures or burn is None:
        return ()
    loads, each = planned.figures["loads"].mid, planned.figures["burn_char"].mid
    whole = _sum(chosen, "char_volume").mid
    most = planned.graph.tables.method("planning", Planning)[1].leaves_most.mid
    # a last load that is not full is counted by its part
    left = each * max(loads, 1.0)
    if not whole > 0 or left >= most * whole:
        return ()
    return (
        Finding(
            code="burn-leaves-less",
            axis="burn",
            permits=Verdict.READY,
            sources=(Citation(text="computed from the plan of the burn", known="derived"),),
            values=Values(
                {
                    "left": Quantity(1000 * left, "L"),
                    "share": 100 * left / whole,
                    "times": whole / left,
                    "duration": burn.duration.text if burn.duration is not None else "",
                }
            ),
        ),
    )


def _notes(
    planned: bool, whole_loads: bool, fuels: Sequence[Fuel], usable: Sequence[Fuel]
) -> list[Message]:
    notes = [Message("gather.as-they-lie")]
    if planned:
        notes.append(Message("gather.quick-fuel"))
    if whole_loads and usable:
        notes.append(Message("gather.filled-up"))
    return notes
