"""How a lot lies to dry outdoors, and the steps that end in the time that it takes."""

from __future__ import annotations

from ..physics import drying, moisture
from ..quantities.frozen import frozen
from ..tables.caches import kept_of_tables
from ..tables.names.index import folded
from ..tables.rows.methods.amount import Container
from ..tables.rows.methods.drying import Drying, RainedOn
from ..tables.tables import Tables
from ..uncertainty.graph import Chain
from ..uncertainty.inputs import Input
from .elements import continued
from .model import Builder, LotModel, Thickness, ThicknessSource

RAINED_ON = "rained on"
"""The condition of dry matter that rain has wetted outside, whatever the material."""

LOOSE = ("spread", "bales")
"""Ways of lying in which matter is spread out to dry, and no pace is told."""


@frozen
class LotDrying:
    """A lot's chain with the steps of drying behind it.

    `season` and `winter` are the steps with the times, `split` that of the same pieces split; ""
    where there is none.
    """

    chain: Chain
    inputs: tuple[Input, ...]
    season: str
    winter: str
    split: str


def lies_to_dry(b: Builder, thickness: Thickness, container: Container | None) -> str:
    """How it lies to dry: by its form, thickness and bark; "" where the tables say nothing of
    drying.
    """
    if not b.tables.has_method("drying"):
        return ""
    row = b.tables.method("drying", Drying)[1]
    if not (b.row.solid or b.row.barked or b.row.woody):
        if b.evidence.class_ == "stalk":
            return "stalks"
        baled = container is not None and container.packing in row.baled
        return "bales" if baled else "spread"
    if "rotted" in b.row.traits or (b.lot.decay or 0) >= row.rotted_from:
        return "rotted"
    sawn = thickness.source in (ThicknessSource.BOARD, ThicknessSource.WIDTH)
    peeled = sawn or not b.row.barked or bool(b.evidence.signs & _without_bark(b.tables))
    if not b.row.solid or (thickness.value <= row.brash_to.mid and not peeled):
        return "brash"
    if peeled:
        return "split" if thickness.value <= row.split_to.mid else "rounds"
    return "poles" if thickness.value <= row.poles_to.mid else "rounds"


@kept_of_tables(64)
def _without_bark(tables: Tables) -> frozenset[str]:
    names = tables.method("drying", Drying)[1].without_bark
    return frozenset(row_id for name in names for row_id in tables.index("signs").find(name))


def is_rained_on(condition: str, tables: Tables) -> bool:
    """Whether a condition says that rain has wetted dry matter."""
    return folded(condition) == RAINED_ON and tables.has_method("drying")


def bind_rained_on(b: Builder, thickness: Thickness) -> None:
    """`moisture` of dry matter that rain has wetted outside."""
    row_id, _ = b.tables.method("drying", Drying)
    path, _ = _rain(b, thickness.value)
    b.cell("moisture", "methods", row_id, (*path, "moisture"))


def _rain(b: Builder, thickness: float) -> tuple[tuple[str | int, ...], RainedOn]:
    """What rain does to pieces of that thickness: its place in the row, and the part itself."""
    row = b.tables.method("drying", Drying)[1]
    if not (b.row.solid or b.row.barked or b.row.woody):
        return ("rained_on_loose",), row.rained_on_loose
    index = next(
        (
            number
            for number, part in enumerate(row.rained_on)
            if part.up_to is None or thickness <= part.up_to.mid
        ),
        len(row.rained_on) - 1,
    )
    return ("rained_on", index), row.rained_on[index]


def bind_drying(model: LotModel, tables: Tables) -> LotDrying:
    """The steps that end in the time until a lot is dry enough for its burner: in the season, in
    winter, and where splitting it would help, split.
    """
    b = continued(model, tables)
    row_id, row = tables.method("drying", Drying)
    b.known("airy", 1.0, "in an airy stack in the season", kind="assumption")
    b.cell("winter", "methods", row_id, ("winter",))
    if model.moisture_known == RAINED_ON or model.lies in LOOSE:
        rained = model.moisture_known == RAINED_ON
        path = (*_rain(b, model.thickness.value)[0], "takes") if rained else ("spread",)
        b.cell("drying_takes", "methods", row_id, path)
        season = b.step("drying_season", drying.slowed, "drying_takes", "airy")
        winter = b.step("drying_winter", drying.slowed, "drying_takes", "winter") if rained else ""
        return LotDrying(tuple(b.steps), tuple(b.inputs.values()), season, winter, "")
    b.cell("nearest", "methods", row_id, ("nearest",), exact=True)
    b.step("target_dry", moisture.dry_basis, "working_moisture", scale="log")
    for air in ("rest", "rest_winter"):
        b.cell(air, "methods", row_id, (air,))
        b.step(f"{air}_dry", moisture.dry_basis, air, scale="log")
    b.cell("pace", "methods", row_id, ("paces", model.lies))
    season = _time(b, "drying_season", "rest_dry", "pace", "airy")
    winter = _time(b, "drying_winter", "rest_winter_dry", "pace", "winter")
    split = ""
    if model.lies in ("poles", "rounds") and "split" in row.paces:
        b.cell("pace_split", "methods", row_id, ("paces", "split"))
        split = _time(b, "drying_split", "rest_dry", "pace_split", "airy")
    return LotDrying(tuple(b.steps), tuple(b.inputs.values()), season, winter, split)


def _time(b: Builder, output: str, rest: str, pace: str, slower: str) -> str:
    names = ("moisture_dry", "target_dry", rest, pace, slower, "nearest")
    return b.step(output, drying.drying_time, *names)
