"""The graph of a plan with all that was decided on the way."""

from __future__ import annotations

from collections.abc import Mapping

from ..lot.model import FigureSpec
from ..quantities.estimate import Estimate, bounded_estimate, scaled_estimate
from ..quantities.frozen import Once, record
from ..uncertainty.figure import UncertainValue
from .fire import Fire, middles_of
from .graph import Graph, estimate_in
from .layout import Layout
from .vessel import Vessel

MINUTE = 60.0


PLAN_FIGURES: dict[str, FigureSpec] = {
    "vessel_volume": FigureSpec("vessel", "L", 1000),
    "char_volume": FigureSpec("burn_char", "L", 1000),
    "char_mass": FigureSpec("burn_char_mass", "kg", 1),
    "fill": FigureSpec("fill_share", "%", 100),
    "loads": FigureSpec("loads", "1", 1),
    "duration": FigureSpec("duration", "min", 1 / MINUTE),
    "hold_back": FigureSpec("hold_back", "kg", 1),
    "uncharred_fraction": FigureSpec("uncharred_fraction", "%", 100),
    "quench_water": FigureSpec("quench_water", "L", 1000),
    "have_ready": FigureSpec("quench_water", "L", 1000),
    "hose_time": FigureSpec("hose_time", "min", 1 / MINUTE),
    "hours": FigureSpec("hours", "h", 1 / 3600),
    "water": FigureSpec("all_water", "L", 1000),
    "quick_fuel": FigureSpec("all_quick", "kg", 1),
}


SUMS = {
    "total_dry": "dry_mass",
    "total_char_mass": "char_mass",
    "total_char": "char_volume",
    "total_wood": "wood_volume",
    "total_loose": "loose_volume",
    "known_char": "char_volume",
    "mass_without_volume": "char_mass",
    "burn_down": "char_through",
    "mean_through": "char_through",
    "uncharred_fraction": "char_through",
}
"""Which figure of the lots stands behind a given figure of the plan."""


@record
class Planned:
    """The graph of a plan with the layout of a load, None where nothing can be burnt."""

    graph: Graph
    vessel: Vessel
    firing: str
    figures: dict[str, UncertainValue]
    fire: Fire | None = None
    layout: Layout | None = None

    @Once
    def middles(self) -> Mapping[str, float]:
        """Every value of the graph with its inputs at their middles."""
        return middles_of(self.graph)

    def estimate(self, name: str) -> Estimate | None:
        """A figure of the plan in its unit; None where this plan has none."""
        about = PLAN_FIGURES[name]
        if about.output not in self.figures:
            return None
        figure = self.figures[about.output]
        if name == "uncharred_fraction":
            return bounded_estimate(figure.ends, figure.mid, "%", 100, "logit")
        return estimate_in(figure, about.unit, about.factor)


def minutes_of(low: float, mid: float, high: float) -> Estimate:
    """A time in minutes."""
    return scaled_estimate(low / MINUTE, mid / MINUTE, high / MINUTE, "min")
