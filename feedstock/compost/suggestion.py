"""Amounts that would bring a mixture to its targets."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from ..model.compost import Suggestion
from ..physics import mixing
from ..physics.mixing import WATER, Ingredient, NoMixError
from ..quantities.cell import Cell
from ..tables.rows.methods.compost import Compost, CompostPractice
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..words import Message
from .inputs import CompostGiven, Known, known_material

Part = tuple[str, Ingredient, float]
"""A material's name, what it is made of, and its density as it lies, kg/m3."""
Addition = tuple[float, tuple[tuple[str, float, float], ...]]
"""Kilograms in all, and each material with kilograms and litres."""

WATER_PART: Part = ("water", WATER, 1000.0)

OFFERED = (
    ("straw", "carbon"),
    ("leaves", "carbon"),
    ("grass clippings", "nitrogen"),
    ("poultry litter", "nitrogen"),
)
"""What is suggested where nothing at hand will do: dry matter rich in carbon, and matter rich in
nitrogen.
"""


def suggestion_for(
    figures: dict[str, UncertainValue],
    materials: Sequence[Known],
    practice: CompostPractice,
    tables: Tables,
) -> Suggestion:
    """The smallest addition that brings C:N and moisture within what a heap bears, of one material
    or else of two; none where they are.
    """
    ratio, wet = practice.correct_ratio, practice.correct_moisture
    present = [_part(item) for item in materials]
    mix = [
        (float(figures["char_lying"].mid), mixing.char(float(figures["char_moisture"].mid))),
        *((float(figures[f"part{i}_mass"].mid), one) for i, (_, one, _) in enumerate(present)),
    ]
    now, moist = float(figures["ratio"].mid), float(figures["moisture"].mid)
    aim = _aim(practice)
    done = tables.method("compost", Compost)[1].ratio_finished.high
    if now <= done:
        return Suggestion(
            reaches=False,
            text=Message("suggest.finished", ratio=now),
        )
    if ratio.low <= now <= ratio.high and wet.low <= moist <= wet.high:
        return Suggestion(reaches=True, text=Message("suggest.there", aim=aim))
    offered = [
        _part(known_material(CompostGiven(material=name), 0, tables))
        for name, _ in OFFERED
        if name not in {part[0] for part in present}
    ]
    best, why = _singles(mix, [WATER_PART, *present, *offered], ratio, wet), ""
    if not best:
        for one in (ratio.low, ratio.high):
            for other in (wet.low, wet.high):
                more, reason = _solutions(mix, _pairs(present, offered, WATER_PART), one, other)
                best, why = best + more, why or reason
    if best:
        add = min(best)[1]
        code = "suggest.water" if [name for name, _, _ in add] == ["water"] else "suggest.least"
        return Suggestion(reaches=True, add=add, text=Message(code, aim=aim))
    return Suggestion(reaches=False, text=Message("suggest.none", aim=aim, why=why))


def _part(item: Known) -> Part:
    ingredient = Ingredient(item.moisture.mid, *_carbon(item))
    return item.name, ingredient, float(item.density.mid)


def _singles(
    mix: Sequence[tuple[float, Ingredient]], parts: Iterable[Part], ratio: Cell, wet: Cell
) -> list[Addition]:
    """The least of each single material that brings both within their limits."""
    out = list[Addition]()
    for name, ingredient, density in parts:
        try:
            mass = mixing.least_of_one(
                mix, ingredient, (ratio.low, ratio.high), (wet.low, wet.high)
            )
        except NoMixError:
            continue
        out.append((mass, ((name, mass, 1000 * mass / density),)))
    return out


def _aim(practice: CompostPractice) -> Message:
    """The targets in words."""
    ratio, wet = practice.correct_ratio, practice.correct_moisture
    return Message(
        "suggest.aim",
        ratio_low=ratio.low,
        ratio_high=ratio.high,
        wet_low=100 * wet.low,
        wet_high=100 * wet.high,
    )


def _pairs(
    present: Sequence[Part], offered: Sequence[Part], water: Part
) -> list[tuple[Part, Part]]:
    """What may be added together, what is at hand before what is offered."""
    return [
        *((one, water) for one in present),
        *((a, b) for i, a in enumerate(present) for b in present[i + 1 :]),
        *((one, water) for one in offered),
        *((a, b) for a in present for b in offered),
        *((a, b) for i, a in enumerate(offered) for b in offered[i + 1 :]),
    ]


def _solutions(
    mix: Sequence[tuple[float, Ingredient]],
    pairs: Iterable[tuple[Part, Part]],
    ratio: float,
    wet: float,
) -> tuple[list[Addition], str]:
    """The additions that meet both targets, and why the first pair that cannot does not."""
    why, best = "", list[Addition]()
    for first, second in pairs:
        try:
            amounts = mixing.solve_two(mix, first[1], second[1], ratio, wet)
        except NoMixError as reason:
            why = why or str(reason)
            continue
        add = tuple(
            (name, mass, 1000 * mass / density)
            for (name, _, density), mass in zip((first, second), amounts, strict=True)
            if mass > 1e-9
        )
        best.append((math.fsum(amounts), add))
    return best, why


def _carbon(material: Known) -> tuple[float, float]:
    assert material.nitrogen is not None
    assert material.ratio is not None
    return float(material.nitrogen.mid * material.ratio.mid), float(material.nitrogen.mid)
