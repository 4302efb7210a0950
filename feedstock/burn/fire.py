"""The fire of a plan in plain numbers, at the middle of every doubt: by these it is decided what is
split, what is left out, and in which order the rest goes in.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ..model.inputs.burn import Burn
from ..physics import charring, firing
from ..physics.shapes import Shape
from ..quantities.frozen import frozen
from ..tables.rows.burner import Burner
from ..tables.rows.methods.fire import Charring
from ..tables.rows.methods.planning import Planning
from ..uncertainty.graph import run
from .fuel import Fuel
from .graph import Graph
from .vessel import Vessel

CLASSES = ("thin", "finger", "wrist", "thick")
"""The classes of thickness, thinnest first."""
HAIR = 1e-6
"""What is told in inches and in millimetres is the same within this part of it."""


@frozen
class Fire:
    """Pace in kg dry a second, times in s, volumes in m3, lengths in m.

    `usable` is the char that the vessel holds a hand below its rim, `below_rim` the part that this
    is of all that it holds; `lit_at` at how many places it is lit, `along` whether its longest
    pieces lie in it along alone; `most_time` how long the burn
    may last, `stated` whether the person set that; `most_fuel` kg dry beyond which a hose cannot
    quench it in time; `front` the time in which the fire goes down a load of a volume.
    """

    planning: Planning
    firing: str
    pace: float
    usable: float
    below_rim: float
    load: float
    packing: float
    rim_width: float
    lit_at: int
    along: bool
    most_time: float
    stated: bool
    most_fuel: float
    brands: float
    exponent: float
    front: Callable[[float], float]

    @property
    def lighting(self) -> float:
        """The part of the quick fuel that lights, as a time at the pace."""
        return self.planning.lighting.mid

    @property
    def aside(self) -> float:
        """The part of it that is set aside for grey spots and the finish."""
        return self.planning.mending.mid + self.planning.finish.mid

    @property
    def bed(self) -> float:
        """Time until thick pieces may go in."""
        return min(self.planning.bed.mid, self.most_time)

    @property
    def made(self) -> float:
        """Lighting, bed and finish together, as a time at the pace."""
        return self.lighting + self.aside + self.planning.bed_pace.mid * self.bed

    @property
    def thickest(self) -> float:
        """Above this nothing goes in unsplit."""
        planning = self.planning
        wanted = min(planning.thickest.mid, planning.thickest_share.mid * self.rim_width)
        # what splitting in two would make too thin stays whole in the smallest bowl too
        return max(wanted, planning.thinnest_split.mid / float(charring.split_thickness(1.0, 2)))

    def thickest_of(self, fuel: Fuel) -> float:
        """The same of a lot: what is soft is opened to a wrist at least, for it holds its water and
        smoulders from within.
        """
        wrist = self.planning.classes.wrist.to
        return (
            min(self.thickest, wrist.mid)
            if wrist is not None and self.soft(fuel)
            else self.thickest
        )

    def burn_down(self, through: float) -> float:
        """From the last feeding to the quench, by what was laid last."""
        planning = self.planning
        least, most = planning.burn_down_least.mid, planning.burn_down_most.mid
        return min(max(through, least), most, max(self.most_time - self.bed, 0.0))

    def soft(self, fuel: Fuel) -> bool:
        """Whether it is wood so far rotted that it makes no bed for others."""
        decay = fuel.lot.decay or 0
        return fuel.rotted or (fuel.wood and decay >= self.planning.soft_from.mid)

    def class_of(self, thickness: float) -> str:
        """The class of pieces so thick."""
        for name in CLASSES:
            to = getattr(self.planning.classes, name).to
            if to is None or thickness <= to.mid * (1 + HAIR):
                return name
        return CLASSES[-1]


def middles_of(graph: Graph) -> Mapping[str, float]:
    """Every value of a graph with its inputs at their middles."""
    mids = {entry.name: entry.mid for entry in graph.inputs.values()}
    mids |= {name: figure.mid for name, figure in graph.given.items()}
    return run(tuple(graph.steps), mids)


def fire_of(graph: Graph, vessel: Vessel, burner: Burner, burn: Burn, how: str) -> Fire:
    """The fire by the inputs that the graph holds already: vessel, rim and burning rate."""
    _, planning = graph.tables.method("planning", Planning)
    _, charring_row = graph.tables.method("char-through", Charring)
    values = middles_of(graph)
    fed = how == "fed"
    stated, sides = burn.duration is not None, [values[name] for name in vessel.shape.rim]
    # a stated time ends a burn, or the sign that it is full
    below = _below_rim(vessel, burner, planning, values) if fed and not stated else 1.0
    holds = firing.usable_char(values["vessel"], values["fill"], values["in_vessel"]) if fed else 0
    most = burn.duration.mid if burn.duration is not None else planning.tended.mid
    return Fire(
        planning=planning,
        firing=how,
        pace=float(
            charring.feed_burnt(values["rate"], values["rim"], values["burning_fraction"], 1.0)
        ),
        usable=float(holds) * below,
        below_rim=below,
        load=0.0 if fed else values["vessel"] * values["heaped"],
        packing=values.get("load_packing", 1.0),
        rim_width=min(sides),
        lit_at=_places(sides[0], sides[-1], planning),
        along=planning.longest_share.mid * max(sides) > min(sides),
        most_time=most if fed or stated else float("inf"),
        stated=stated,
        most_fuel=float("inf"),
        brands=burner.brands.mid,
        exponent=charring_row.exponent.mid,
        front=_front(vessel.shape, vessel.dimensions, values) if how == "top-lit" else _at_once,
    )


def _below_rim(
    vessel: Vessel, burner: Burner, planning: Planning, values: Mapping[str, float]
) -> float:
    """The part of what fills a vessel that stays a hand below its rim."""
    if vessel.heap or burner.shape == "none":
        return 1.0
    depth = values["depth"]
    level = depth - min(planning.below_rim.mid, planning.below_rim_share.mid * depth)
    measures = [values[name] for name in vessel.dimensions]
    shape = vessel.shape
    return min(float(shape.filled(*measures, level) / shape.full(*measures)) / values["fill"], 1.0)


def _places(width: float, length: float, planning: Planning) -> int:
    """At how many places a vessel is lit: one that is longer than wide along all of it."""
    short, long = sorted((width, length))
    return max(1, round(long / planning.lit_apart.mid)) if long > short * (1 + HAIR) else 1


def _at_once(volume: float) -> float:
    return 0.0


def _front(
    shape: Shape, dimensions: tuple[str, ...], values: Mapping[str, float]
) -> Callable[[float], float]:
    """The time of the front to the floor, as the plan's chain has it, of a load."""
    measures = [values[name] for name in dimensions]
    full = shape.full(*measures)

    def time(volume: float) -> float:
        level = shape.level(*measures, volume / values["vessel"] * full)
        depth = firing.load_depth(level, volume, values["vessel"], values["rim"])
        return float(charring.front_time(depth, values["front"]))

    return time
