"""Findings about water and soil, and how a wet lot is to be dried."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from threading import Lock

from ..lot.drying import LOOSE, RAINED_ON, LotDrying, bind_drying
from ..lot.model import LotModel
from ..model.drying import Drying
from ..model.findings import Finding, Verdict
from ..physics.drying import weight_left
from ..quantities.cell import Cell
from ..quantities.data import trusted
from ..quantities.estimate import Estimate, figure_estimate, scaled_estimate
from ..quantities.units import as_dry, as_wet
from ..tables.caches import cleared_with_tables
from ..tables.citations import Citation, cited
from ..tables.rows.burner import Burner
from ..tables.rows.methods.drying import Drying as DryingRow
from ..tables.rows.methods.drying import Lie
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.propagate import propagate
from ..words import Message, Quantity, Texts, Values


def too_wet(moisture: Estimate, burner_row: str, tables: Tables) -> bool:
    """Whether the middle is above the burner's working moisture."""
    burner = tables.row("burners", burner_row, Burner)
    return moisture.mid_value > 100 * as_wet(burner.moisture_ready.mid, burner.moisture_ready.basis)


def moisture_finding(
    moisture: Estimate, burner_row: str, tables: Tables, lot: str, drying: Drying | None, lies: str
) -> Finding | None:
    """The gate of the burner's working moisture, judged on the middle and on the high end, with how
    to dry the lot as far as that is known; None where it is dry enough.
    """
    burner = tables.row("burners", burner_row, Burner)
    ready, refused = (
        100 * as_wet(burner.moisture_ready.mid, burner.moisture_ready.basis),
        100 * as_wet(burner.moisture_refused.mid, burner.moisture_refused.basis),
    )
    name = burner_row.partition(":")[2]
    high_over = 100 * tables.defaults[1].high_over.mid
    if moisture.mid_value <= ready and moisture.high_value <= ready + high_over:
        return None
    sources = cited(burner.moisture_ready, tables, burner_row.partition(":")[0])
    values = {"burner": burner.called(name), "ready": ready, "refused": refused}
    if moisture.mid_value > refused:
        code = "far-too-wet"
    elif moisture.mid_value > ready:
        code = "too-wet"
    else:
        code = "may-be-too-wet"
        values = {"burner": values["burner"], "ready": ready, "high": moisture.high_value}
        if lies:
            wood = lies not in (*LOOSE, "stalks")
            values["action"] = Message("drying.measure-wood" if wood else "drying.measure-loose")
    if drying is not None:
        values["action"] = drying.how
    return trusted(Finding)(
        code=code,
        axis="moisture",
        permits=Verdict.DRY_FIRST,
        sources=sources,
        lot=lot,
        values=Values(values),
    )


def unstated_moisture(lot: str, material: Texts, source: tuple[Citation, ...]) -> Finding:
    """No moisture was given: the widest interval of the material is taken."""
    return trusted(Finding)(
        code="moisture-not-stated",
        axis="moisture",
        permits=Verdict.READY,
        lot=lot,
        sources=source,
        evidence=(Message("evidence.no-moisture"),),
        values=Values({"material": material}),
    )


def soil_finding(
    lot: str, ash_percent: float, limit_percent: float, source: tuple[Citation, ...]
) -> Finding:
    """More ash than clean wood has."""
    return trusted(Finding)(
        code="soil-suspected",
        axis="char",
        permits=Verdict.READY,
        lot=lot,
        sources=source,
        evidence=(Message("evidence.ash", ash=ash_percent),),
        values=Values({"most": limit_percent}),
    )


def rotted_finding(lot: str, decay: Message, source: tuple[Citation, ...]) -> Finding:
    """Wood so rotten that its char crumbles may be worth more left where it lies."""
    return trusted(Finding)(
        code="rotted-wood",
        axis="char",
        permits=Verdict.READY,
        lot=lot,
        sources=source,
        evidence=(decay,),
    )


_WEEK = 7 * 86400.0

# ways to tell a moisture from which the weight of dry matter follows
_MEASURED = ("stated", "reading", "weighed")


_MOST_KEPT = 2_000
_KEPT: OrderedDict[Hashable, Drying] = OrderedDict()
_LOCK = Lock()


def _forget() -> None:
    with _LOCK:
        _KEPT.clear()


cleared_with_tables(_forget)


def drying_of(model: LotModel, moisture: Estimate, ready: float, tables: Tables) -> Drying | None:
    """How a lot that is too wet dries to `ready` (wet basis, a share); None where the tables say
    nothing of drying.

    How much there is of it does not matter, so lots that say the same share the answer.
    """
    if not model.lies:
        return None
    kind = (model.signature, model.evidence, ready, tables)
    drying = _KEPT.get(kind)
    if drying is None:
        drying = _worked_out(model, moisture, ready, tables)
        with _LOCK:
            _KEPT[kind] = drying
            while len(_KEPT) > _MOST_KEPT:
                _KEPT.popitem(last=False)
    return drying


def _worked_out(model: LotModel, moisture: Estimate, ready: float, tables: Tables) -> Drying:
    row_id, row = tables.method("drying", DryingRow)
    at_rest, rained = model.moisture_known == "air", model.moisture_known == RAINED_ON
    loose = model.lies in LOOSE
    sodden = loose and not rained and moisture.mid_value > 100 * row.spread_wettest.mid
    bound = bind_drying(model, tables)
    times = _times(bound)
    never = at_rest or sodden or (not (loose or rained) and _too_moist_air(ready, row))
    weeks = None if never else _capped(times.get(bound.season), row.longest.mid)
    winter = None if never else _capped(times.get(bound.winter), row.winter_lasts.mid)
    stops = moisture if at_rest else _share(row.rest)
    return trusted(Drying)(
        weeks=weeks,
        weeks_winter=winter,
        stops_at=stops,
        how=_how(model, row, times.get(bound.split), sodden),
        know=_know(model, moisture, ready),
        time=Message(
            "drying.time",
            weeks=weeks,
            winter=winter,
            stops=stops,
            rained=rained,
            loose=loose,
            sodden=sodden,
            summer=row.winter_lasts.mid / _WEEK,
        ),
        sources=cited(_told_by(model, row), tables, row_id.partition(":")[0]),
    )


def _times(bound: LotDrying) -> dict[str, UncertainValue]:
    wanted = [name for name in (bound.season, bound.winter, bound.split) if name]
    return propagate(bound.chain, bound.inputs, wanted)


def _too_moist_air(ready: float, row: DryingRow) -> bool:
    """Whether the air of the season itself keeps matter wetter than the burner takes."""
    return as_dry(ready) <= as_dry(as_wet(row.rest.mid, row.rest.basis)) + row.nearest.mid


def _capped(time: UncertainValue | None, most: float) -> Estimate | None:
    """Weeks, told no further than `most` (s); None where the middle lies beyond it."""
    if time is None or time.mid >= most:
        return None
    weeks = figure_estimate(time, "week", 1 / _WEEK)
    end = most / _WEEK
    return scaled_estimate(
        max(weeks.low_value, 0.0), weeks.mid_value, min(weeks.high_value, end), "week"
    )


def _share(cell: Cell) -> Estimate:
    """A moisture of the tables in percent, wet basis."""
    low, mid, high = (as_wet(value, cell.basis) for value in (cell.low, cell.mid, cell.high))
    return scaled_estimate(low, mid, high, "%", 100.0)


def _told_by(model: LotModel, row: DryingRow) -> Cell:
    """The cell on which the time of a lot rests most."""
    if model.lies in LOOSE:
        return row.spread
    lie: Lie = model.lies  # type: ignore[assignment]
    return row.paces[lie]


def _how(model: LotModel, row: DryingRow, split: UncertainValue | None, sodden: bool) -> Message:
    if sodden:
        return Message("drying.lay-sodden")
    if model.moisture_known == "air":
        return Message("drying.lay-at-rest")
    if model.moisture_known == RAINED_ON:
        return Message(
            "drying.lay-rained-on-loose" if model.lies in LOOSE else "drying.lay-rained-on"
        )
    return Message(
        f"drying.lay-{model.lies}",
        thickness=Quantity(1000 * row.split_to.mid, "mm"),
        short=Quantity(100 * row.short.mid, "cm"),
        split=None if split is None else figure_estimate(split, "week", 1 / _WEEK),
        heap=row.heap.mid,
        pile=row.large_pile.mid,
    )


def _know(model: LotModel, moisture: Estimate, ready: float) -> Message:
    left = None
    if model.moisture_known in _MEASURED:
        left = 100 * weight_left(as_dry(moisture.mid_value / 100), as_dry(ready))
    if model.moisture_known == RAINED_ON:
        return Message("drying.know-rained-on")
    loose = model.lies in (*LOOSE, "stalks", "rotted")
    kind = "loose" if loose else "brash" if model.lies == "brash" else "wood"
    return Message(f"drying.know-{kind}", left=left)
