"""A vessel cut through its middle, for a drawing to scale."""

from __future__ import annotations

from collections.abc import Mapping

from ..model.burn_plan import VesselSection
from ..physics.shapes import SHAPES
from ..quantities.data import trusted
from ..quantities.estimate import Estimate, exact_estimate, told
from .planned import Planned

_LEVELS = 24
"""Heights at which the width is told, besides the floor."""
_FLOORS = ("bottom_diameter", "bottom_width")


def section_of(planned: Planned, dug: bool) -> VesselSection | None:
    """The widths of the vessel from its floor to its rim, and how high the char of one load stands,
    all at the middle, and its length where it has one; `dug` says that it is a hole in the ground.
    None for a heap, which has no walls.
    """
    vessel = planned.vessel
    if vessel.heap or "fill_share" not in planned.figures:
        return None
    shape = vessel.shape
    values = {
        name: planned.middles[dimension]
        for name, dimension in zip(shape.dimensions, vessel.dimensions, strict=True)
    }
    rim, depth = values[shape.rim[0]], values["depth"]
    if shape is SHAPES["cap"]:
        widths = _bowl(rim, depth)
    else:
        straight = rim if shape is SHAPES["cylinder"] else 0.0
        floor = next((values[name] for name in _FLOORS if name in values), straight)
        widths = [floor + (rim - floor) * n / _LEVELS for n in range(_LEVELS + 1)]
    measures = tuple(values[name] for name in shape.dimensions)
    full = float(shape.full(*measures))
    share = min(1.0, max(0.0, planned.figures["fill_share"].mid))
    level = float(shape.level(*measures, share * full)) / depth
    return trusted(VesselSection)(
        rim=exact_estimate(rim, "m"),
        depth=exact_estimate(depth, "m"),
        widths=tuple(map(told, widths)),
        level=told(min(1.0, max(0.0, level))),
        length=_length(values, "length"),
        floor_length=_length(values, "bottom_length") or _length(values, "length"),
        bowl=shape is SHAPES["cap"],
        dug=dug,
    )


def _length(values: Mapping[str, float], name: str) -> Estimate | None:
    return exact_estimate(values[name], "m") if name in values else None


def _bowl(rim: float, depth: float) -> list[float]:
    """The widths of a bowl that is part of a ball."""
    radius = (rim * rim / 4 + depth * depth) / (2 * depth)
    heights = [depth * n / _LEVELS for n in range(_LEVELS + 1)]
    return [2 * max(0.0, height * (2 * radius - height)) ** 0.5 for height in heights]
