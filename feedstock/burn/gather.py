"""The inverse: which ready lots, and how much of each, give a wanted amount of char with a stated
confidence.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from statistics import NormalDist

from ..errors import InputError, Problem, shown
from ..model.burn_plan import GatheredLot, Gathering
from ..model.findings import Finding, Verdict
from ..model.inputs.burn import Burn
from ..model.inputs.heap import Heap
from ..quantities.estimate import COVERAGE, Estimate
from ..tables.citations import plain_citation
from ..tables.rows.methods.char import CharRetention
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..words import Message, Quantity, Values
from .fuel import Fuel, part_of, weighted
from .graph import estimate_in
from .layout import Layout
from .measures import has_measures
from .plan import can_plan, layout_at_middle, loads_told, plan_graph, usable_fuels
from .planned import Planned
from .taken import amount_told, scaled_lot, takeable
from .target import Target

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
# %; less than this rounds to nothing
_SOME = 0.5
_NOTHING_OFF = "gather.nothing-off"


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
    confidence; the last in part. What the burn takes off is counted in.

    Raises InputError for a confidence outside 0 to 1 and for whole loads of a burn without
    measures.
    """
    _check(confidence, whole_loads, burn)
    usable = _usable(fuels, target, tables)
    ordered = sorted(usable, key=_preference)
    fire = _Burnt(burn, tables, burner_row, target.figure, bool(ordered))
    ordered = fire.that_get_through(ordered)
    taken = fire.until(ordered, target.amount, confidence)
    if whole_loads and fire.burn is not None:
        taken = _whole(ordered, taken, fire.loads)
    chosen = [(share, fuel) for share, fuel in taken if share > 0]
    gives = _sum(chosen, target.figure).times(fire.left_of(chosen))
    whole = [(1.0, fuel) for fuel in ordered]
    could = _sum(whole, target.figure).times(fire.left_of(whole))
    enough = bool(chosen) and quantile(gives, confidence) >= target.amount * (1 - 1e-6)
    short = () if enough else (_short(target, could, confidence, fuels, usable),)
    planned = fire.planned(chosen)
    return Gathering(
        target=target.text,
        confidence=confidence,
        enough=enough,
        lots=tuple(_gathered(share, fuel, target) for share, fuel in chosen),
        gives=estimate_in(gives, target.unit, target.factor),
        could_give=estimate_in(could, target.unit, target.factor),
        loads=loads_told(planned) if planned is not None else None,
        whole_loads=whole_loads,
        hold_back=planned.estimate("hold_back") if planned is not None else None,
        bring=_bring(planned),
        heap=_heap_of(heap, chosen),
        findings=short,
        notes=tuple(_notes(fire, chosen, whole_loads, usable)),
    )


_TRIES = 12


class _Burnt:
    """What a burn leaves of the char that lots could give: nothing of the quick fuel counts beyond
    what stays of kindling, nor what is left out. Without a plan all of it.
    """

    def __init__(
        self, burn: Burn | None, tables: Tables, row: str, figure: str, any_lot: bool
    ) -> None:
        plans = any_lot and has_measures(burn) and can_plan(tables)
        self.burn = burn if plans else None
        self.tables, self.row, self.figure = tables, row, figure

    def layout(self, chosen: Iterable[tuple[float, Fuel]]) -> Layout | None:
        parts = _parts(chosen)
        if self.burn is None or not parts:
            return None
        return layout_at_middle(parts, self.burn, self.tables, self.row)[0]

    def that_get_through(self, ordered: Sequence[Fuel]) -> list[Fuel]:
        """The lots without those that no splitting gets through in this burn."""
        layout = self.layout((1.0, fuel) for fuel in ordered)
        out = {fuel.name for fuel in layout.left_out} if layout is not None else set()
        return [fuel for fuel in ordered if fuel.name not in out]

    def left_of(self, chosen: Sequence[tuple[float, Fuel]]) -> float:
        """The part of the char of these lots that the burn leaves."""
        layout = self.layout(chosen)
        if layout is None:
            return 1.0
        whole = math.fsum(share * fuel.figures[self.figure].mid for share, fuel in chosen)
        return _left(layout, self.figure, self.tables) / whole

    def until(
        self, ordered: Sequence[Fuel], amount: float, confidence: float
    ) -> list[tuple[float, Fuel]]:
        """What to take so that the burn leaves the amount."""
        wanted = amount
        taken = _until(ordered, self.figure, wanted, confidence)
        for _ in range(_TRIES if self.burn is not None else 0):
            left = quantile(_sum(taken, self.figure).times(self.left_of(taken)), confidence)
            if left >= amount * (1 - 1e-9) or all(share >= 1 for share, _ in taken):
                break
            wanted *= max(amount / max(left, amount / 4), 1 + 1e-6)
            taken = _until(ordered, self.figure, wanted, confidence)
        return taken

    def loads(self, chosen: Iterable[tuple[float, Fuel]]) -> float:
        """Loads as a real number."""
        layout = self.layout(chosen)
        if layout is None or not layout.fuels:
            return 0.0
        return math.fsum(fuel.dry for fuel in layout.fuels) / layout.most

    def planned(self, chosen: Sequence[tuple[float, Fuel]]) -> Planned | None:
        """The plan of what was chosen; None without one."""
        if self.burn is None or not chosen:
            return None
        planned = plan_graph(_parts(chosen), self.burn, self.tables, self.row)
        return planned if planned.layout is not None and planned.layout.fuels else None


def _left(layout: Layout, figure: str, tables: Tables) -> float:
    """The char of all loads at the middle."""
    whole = math.fsum(fuel.figures[figure].mid for fuel in layout.fuels)
    dry = math.fsum(fuel.dry for fuel in layout.fuels)
    if not dry > 0:
        return 0.0
    quick = math.fsum(p.dry for p in layout.of("light", "aside", "cap")) / layout.share
    kept = tables.method("char-retention", CharRetention)[1].kindling.mid
    return whole * (1.0 - min(quick / dry, 1.0) * (1.0 - kept))


def _bring(planned: Planned | None) -> Estimate | None:
    """The quick fuel, kg dry, that the chosen lots do not have, for all loads."""
    if planned is None or planned.layout is None:
        return None
    lacks = (1.0 - planned.layout.quick) * planned.layout.loads
    about = estimate_in(planned.figures["hold_back"], "kg", lacks)
    return about if lacks > _CRUMB else None


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
    about = {"name": heap.name, "remarks": heap.remarks, "dismiss": heap.dismiss}
    return Heap.model_validate({**about, "lots": lots}) if lots else None


def _check(confidence: float, whole_loads: bool, burn: Burn | None) -> None:
    number = isinstance(confidence, int | float) and not isinstance(confidence, bool)
    if not number or not 0 < confidence < 1:
        raise InputError(
            [
                Problem(
                    "out-of-range",
                    f"a confidence of {shown(confidence)} is not between 0 and 1",
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

    low, high = 0.0, math.fsum(fuel.dry * (1.0 - shares.get(fuel.name, 0.0)) for fuel in ordered)
    if loads(filled(high)) <= wanted:
        return filled(high)
    for _ in range(_LOAD_HALVINGS):
        middle = (low + high) / 2
        if loads(filled(middle)) <= wanted + _HAIR:
            low = middle
        else:
            high = middle
    return filled(low)


def _gathered(share: float, fuel: Fuel, target: Target) -> GatheredLot:
    figure = weighted([(share, fuel.figures[target.figure])])
    return GatheredLot(
        lot=fuel.name,
        share=100 * share,
        amount=amount_told(fuel.lot, share),
        mass=estimate_in(fuel.figures["lying_mass"], "kg", share),
        char=estimate_in(figure, target.unit, target.factor),
    )


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
        sources=(plain_citation("computed from the ready lots", known="derived"),),
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


def _notes(
    fire: _Burnt, chosen: Sequence[tuple[float, Fuel]], whole_loads: bool, usable: Sequence[Fuel]
) -> list[Message]:
    notes = [Message("gather.as-they-lie")]
    if fire.burn is None:
        notes.append(Message("gather.no-burn"))
    elif chosen:
        off = 100 * (1.0 - fire.left_of(chosen))
        some = off >= _SOME
        notes.append(Message("gather.taken-off", share=off) if some else Message(_NOTHING_OFF))
    if whole_loads and usable:
        notes.append(Message("gather.filled-up"))
    return notes
