"""The graph of a plan with all that was decided on the way."""

from __future__ import annotations

from dataclasses import dataclass

from ..lot.figures import FigureSpec
from ..quantities.estimate import Estimate
from ..uncertainty.estimates import scaled_estimate
from ..uncertainty.figure import UncertainValue
from . import schedule as feeding
from .fuel import Fuel
from .graph import Graph, estimate_in
from .vessel import Vessel

_MINUTE = 60.0


PLAN_FIGURES: dict[str, FigureSpec] = {
    "vessel_volume": FigureSpec("vessel", "L", 1000),
    "char_volume": FigureSpec("burn_char", "L", 1000),
    "char_mass": FigureSpec("burn_char_mass", "kg", 1),
    "fill": FigureSpec("fill_share", "%", 100),
    "left_over": FigureSpec("left_over", "kg", 1),
    "loads": FigureSpec("loads", "1", 1),
    "duration": FigureSpec("duration", "min", 1 / _MINUTE),
    "hold_back": FigureSpec("hold_back", "kg", 1),
    "unburnt": FigureSpec("unburnt", "%", 100),
    "raw": FigureSpec("raw", "%", 100),
    "quench_water": FigureSpec("quench_water", "L", 1000),
    "have_ready": FigureSpec("quench_water", "L", 1000),
    "hose_time": FigureSpec("hose_time", "min", 1 / _MINUTE),
}


SUMS = {
    "total_dry": "dry_mass",
    "total_char_mass": "char_mass",
    "total_char": "char_volume",
    "total_wood": "wood_volume",
    "total_loose": "loose_volume",
    "known_char": "char_volume",
    "mass_without_volume": "char_mass",
    "longest": "char_through",
    "mean_through": "char_through",
    "unburnt": "char_through",
    "raw": "char_through",
}
"""Which figure of the lots stands behind a given figure of the plan."""


@dataclass(slots=True)
class Planned:
    """The graph of a plan with all that was decided on the way."""

    graph: Graph
    vessel: Vessel
    fuels: list[Fuel]
    firing: str
    figures: dict[str, UncertainValue]
    end: float
    start: float
    fixed_end: bool

    def estimate(self, name: str) -> Estimate | None:
        about = PLAN_FIGURES[name]
        if name in ("unburnt", "raw") and name in self.figures:
            return feeding.share_in(self.figures[name])
        return (
            estimate_in(self.figures[about.output], about.unit, about.factor)
            if about.output in self.figures
            else None
        )


def _minutes(low: float, mid: float, high: float) -> Estimate:
    return scaled_estimate(low / _MINUTE, mid / _MINUTE, high / _MINUTE, "min")
