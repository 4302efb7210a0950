"""What the pictures of the sheet show, as places on a drawing 640 wide; a template draws them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..model.appraisal import Appraisal
from ..model.burn_plan import BurnPlan
from ..model.findings import Verdict
from ..quantities.format import in_units
from ..quantities.frozen import frozen
from ..words import Reader
from .step_lots import lots_of_step

WIDTH, _LABEL, _ROW = 640.0, 200.0, 26.0
_MOST_BARS = 12


@frozen
class Bar:
    """A row of a drawing: its label, where it begins, ends and has its middle, and its words."""

    label: str
    begin: float
    middle: float
    end: float
    top: float
    text: str
    sure: bool = True


@frozen
class Rows:
    """A drawing of rows with ticks along its foot."""

    bars: tuple[Bar, ...]
    ticks: tuple[tuple[float, str], ...]
    height: float
    title: str
    foot: str


@frozen
class Section:
    """A pit cut through its middle: its outline, the char in it, and its measures in words."""

    outline: tuple[tuple[float, float], ...]
    char: tuple[tuple[float, float], ...]
    height: float
    width_text: str
    depth_text: str
    fill_text: str
    title: str


def _ticks(most: float) -> list[float]:
    """Round numbers from nothing to the most, four to eight of them.

    >>> _ticks(37.0)
    [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0]
    """
    if most <= 0:
        return [0.0]
    power = 10.0 ** math.floor(math.log10(most / 4))
    step = next(s * power for s in (5, 2, 1) if s * power <= most / 4)
    return [n * step for n in range(int(most / step + 1e-9) + 1)]


def _scale(most: float) -> float:
    return (WIDTH - _LABEL - 20.0) / most if most > 0 else 0.0


def char_rows(result: Appraisal, reader: Reader) -> Rows | None:
    """The char that each lot gives, with its interval; None where none does."""
    lots = [
        (lot, in_units(lot.char_volume, reader.units))
        for lot in result.lots
        if lot.char_volume is not None and lot.char_volume.high_value > 0
    ]
    lots = sorted(lots, key=lambda pair: -pair[1].mid_value)[:_MOST_BARS]
    if not lots:
        return None
    most = max(volume.high_value for _, volume in lots)
    by = _scale(most)
    bars = tuple(
        Bar(
            lot.name,
            _LABEL + by * volume.low_value,
            _LABEL + by * volume.mid_value,
            _LABEL + by * volume.high_value,
            _ROW * n,
            reader.say("sheet.bar", lot=lot.name, volume=lot.char_volume),
            lot.verdict is Verdict.READY,
        )
        for n, (lot, volume) in enumerate(lots)
    )
    unit = reader.wording.symbol(lots[0][1].unit)
    ticks = tuple((_LABEL + by * at, f"{at:g}") for at in _ticks(most))
    return Rows(
        bars,
        ticks,
        _ROW * len(bars) + 40,
        reader.say("sheet.char-picture"),
        reader.say("sheet.char-foot", unit=unit),
    )


def feeding_rows(plan: BurnPlan, reader: Reader) -> Rows | None:
    """The feeding of one load by thickness against the minutes; None for what is not fed."""
    if plan.firing != "fed" or not plan.feeding:
        return None
    most = max(step.end.mid_value for step in plan.feeding)
    if plan.duration is not None:
        most = max(most, plan.duration.mid_value)
    by = _scale(most)
    bars = tuple(
        Bar(
            reader.say(f"thickness.{step.thickness}"),
            _LABEL + by * step.begin.mid_value,
            _LABEL + by * step.begin.mid_value,
            max(_LABEL + by * step.end.mid_value, _LABEL + by * step.begin.mid_value + 4.0),
            _ROW * n,
            reader.say("sheet.fed-bar", lots=lots_of_step(step, plan, reader), mass=step.mass),
        )
        for n, step in enumerate(plan.feeding)
    )
    ticks = tuple((_LABEL + by * at, f"{at:g}") for at in _ticks(most))
    return Rows(
        bars,
        ticks,
        _ROW * len(bars) + 40,
        reader.say("sheet.feeding-picture"),
        reader.say("sheet.minutes-foot"),
    )


def section_of(plan: BurnPlan, reader: Reader) -> Section | None:
    """The pit to scale with the char that one load leaves in it; None where it has no walls."""
    cut = plan.section
    if cut is None or plan.fill is None or cut.rim.mid_value <= 0:
        return None
    room, deep = 300.0, 150.0
    by = min(room / cut.rim.mid_value, deep / cut.depth.mid_value)
    half = [0.5 * by * width for width in cut.widths]
    depth = by * cut.depth.mid_value
    middle, top = room / 2 + 10, 24.0
    levels = [top + depth * (1 - n / (len(half) - 1)) for n in range(len(half))]
    outline = _outline(half, levels, middle)
    filled = max(1, round(cut.level * (len(half) - 1)))
    char = _outline(half[: filled + 1], levels[: filled + 1], middle)
    return Section(
        outline,
        char,
        depth + 60,
        reader.say("sheet.rim-text", rim=cut.rim),
        reader.say("sheet.depth-text", depth=cut.depth),
        reader.say("sheet.fill-text", fill=plan.fill),
        reader.say("sheet.section-picture", burner=plan.burner),
    )


def _outline(
    half: Sequence[float], levels: Sequence[float], middle: float
) -> tuple[tuple[float, float], ...]:
    """Both walls of a section from the rim down and up again."""
    left = [(middle - width, level) for width, level in zip(half, levels, strict=True)]
    right = [(middle + width, level) for width, level in zip(half, levels, strict=True)]
    return (*reversed(left), *right)
