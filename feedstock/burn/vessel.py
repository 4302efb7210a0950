"""From the measures of a burn to a vessel: volume, rim area and depth as steps of the plan's
graph.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import Any

from ..errors import InputError, Problem
from ..model.inputs.burn import Burn
from ..physics import filling, geometry, vessel
from ..physics.shapes import SHAPES, Shape
from ..quantities.estimate import figure_estimate
from ..quantities.frozen import record
from ..tables.rows.burner import Burner
from ..tables.rows.methods.amount import Instruments
from ..uncertainty.elementwise import maximum, minimum
from ..uncertainty.formula import formula
from ..uncertainty.graph import run
from ..words import Message, Texts
from .graph import Graph
from .measures import MEASURES


@formula(
    "rim of a round or oval heap", "identity, A = pi w l/4", width="m", length="m", result="m^2"
)
def heap_rim(width: Any, length: Any) -> Any:
    return vessel.round_rim(1.0) * width * length


@formula(
    "heap filled to a level",
    "identity, half ellipsoid: V (3 y/h - (y/h)^3)/2",
    width="m",
    length="m",
    depth="m",
    level="m",
    result="m^3",
)
def heap_filled(width: Any, length: Any, depth: Any, level: Any) -> Any:
    up = minimum(maximum(level / depth, 0.0), 1.0)
    return geometry.half_ellipsoid(width, length, depth) * (3.0 * up - up**3) / 2.0


@formula(
    "height of a smaller heap",
    "identity, similar heaps: h (V/V_full)^(1/3)",
    width="m",
    length="m",
    depth="m",
    volume="m^3",
    result="m",
)
def heap_level(width: Any, length: Any, depth: Any, volume: Any) -> Any:
    return filling.cone_level(
        1.0,
        depth,
        volume / geometry.half_ellipsoid(width, length, depth) * geometry.cone(1.0, depth),
    )


HEAP = Shape(
    ("width", "length", "depth"),
    ("width", "length"),
    geometry.half_ellipsoid,
    heap_rim,
    heap_filled,
    heap_level,
)
"""A pile on the ground has no wall; it is taken as half an ellipsoid of its own measures."""


@record
class Vessel:
    """A vessel in the graph under the names `vessel` (m3), `rim` (m2), `depth` (m) and those of its
    dimensions.
    """

    shape: Shape
    dimensions: tuple[str, ...]
    proportion: float
    heap: bool


def what_to_give(burner: Burner, name: Texts) -> Message:
    """The note of a burn without measures."""
    bare = burner.shape in _OPEN
    return Message("plan.what-to-give", shape=burner.shape, burner=name, open=bare)


_OPEN = ("heap", "none")
"""Shapes without a wall: their depth is the height at which the fuel lies."""


def add_vessel(graph: Graph, burn: Burn, burner: Burner, row: str) -> Vessel:
    """Put the vessel into the graph.

    Raises InputError with every measure that is missing or does not belong.
    """
    taken = _Taken(graph, burn, burner, row)
    shape = taken.shape()
    if burn.volume is not None and not any(
        getattr(burn, name) is not None for name in MEASURES if name != "volume"
    ):
        return taken.similar(shape)
    names = tuple(taken.dimension(name) for name in shape.dimensions)
    taken.refuse_others(shape)
    taken.refuse()
    graph.step("vessel_by_measures", shape.full, *names)
    rim = [names[shape.dimensions.index(name)] for name in shape.rim]
    graph.step("rim", shape.rim_area, *rim)
    if burn.volume is not None:
        graph.measured("vessel", burn.volume, "burn.volume", taken.volume_error)
        _compare(graph, burn)
    else:
        graph.step("vessel", _same_volume, "vessel_by_measures")
    width = _mid(graph, rim[0])
    return Vessel(shape, names, width / _mid(graph, "depth"), shape is HEAP)


def _compare(graph: Graph, burn: Burn) -> None:
    """A volume that was given beside its measures counts; where the two cannot both be right that
    is said.
    """
    measures, stated = (
        graph.derive("vessel_by_measures")["vessel_by_measures"],
        graph.inputs["vessel"],
    )
    low, high = measures.ends
    if burn.volume is not None and (high < stated.low or stated.high < low):
        between = figure_estimate(measures, "L", 1000)
        graph.notes.append(Message("plan.two-volumes", written=burn.volume.text, measures=between))


@formula("volume of the vessel", "identity", volume="m^3", result="m^3")
def _same_volume(volume: Any) -> Any:
    return volume


@formula("floor of a sloping pit", "identity, rim x share", rim="m", floor="1", result="m")
def floor_by_share(rim: Any, floor: Any) -> Any:
    return rim * floor


@formula(
    "floor of even slopes",
    "identity, l - (w - w'), not below 0",
    length="m",
    width="m",
    bottom_width="m",
    result="m",
)
def floor_by_slope(length: Any, width: Any, bottom_width: Any) -> Any:
    return vessel.bottom_from_slope(length, 1.0, (width - bottom_width) / 2.0)


def _mid(graph: Graph, name: str) -> float:
    values = {entry.name: entry.mid for entry in graph.inputs.values()} | {
        key: item.mid for key, item in graph.given.items()
    }
    return float(run(tuple(graph.steps), values)[name])


class _Taken:
    """Takes dimensions one by one: measured, else by default, else noted as missing."""

    def __init__(self, graph: Graph, burn: Burn, burner: Burner, row: str) -> None:
        self.graph, self.burn, self.burner, self.row = graph, burn, burner, row
        _, tools = graph.tables.method("instruments", Instruments)
        dug = burner.stands == "earth"
        self.error, self.volume_error = tools.dug.mid if dug else tools.length.mid, tools.volume.mid
        self.problems: list[Problem] = []
        self.used: set[str] = set()

    def shape(self) -> Shape:
        burn, kind = self.burn, self.burner.shape
        if burn.shape is not None:
            return self._as_dug(burn.shape)
        if kind == "trench" and burn.diameter is not None:
            self.problems.append(
                Problem(
                    "not-needed",
                    "a trench has no diameter",
                    "Give width, length and depth.",
                    "burn.diameter",
                )
            )
        if kind == "heap":
            return HEAP
        if kind == "cap" and burn.length is not None and self.burner.floor is not None:
            return SHAPES["prismoid"]
        round_pit = kind == "prismoid" and burn.diameter is not None
        on_a_floor = kind == "cone" and self.burner.floor is not None
        if (
            round_pit
            or on_a_floor
            or (kind in ("cone", "cylinder", "cap", "none") and burn.bottom_width is not None)
        ):
            return SHAPES["frustum"]
        return SHAPES["cylinder" if kind == "none" else kind]

    def _as_dug(self, ends: str) -> Shape:
        """A round pit whose end below was told."""
        kind, burn = self.burner.shape, self.burn
        if kind not in ("cone", "cap", "prismoid") or (kind == "prismoid" and not burn.diameter):
            burner = self.burner.display(self.row.partition(":")[2])
            self.problems.append(
                Problem(
                    "not-needed",
                    f"the {burner} is reckoned by the measures of its walls",
                    "Leave shape out, or give the diameter of a round pit.",
                    "burn.shape",
                )
            )
            return SHAPES["cylinder" if kind == "none" else kind] if kind != "heap" else HEAP
        return SHAPES[{"floor": "frustum", "point": "cone", "bowl": "cap"}[ends]]

    def dimension(self, name: str) -> str:
        burn = self.burn
        stated = getattr(burn, {"bottom_diameter": "bottom_width"}.get(name, name), None)
        if name == "diameter" and stated is None:
            stated = burn.width
        if name == "width" and stated is None:
            stated = burn.diameter
        if stated is not None:
            field_name = name if getattr(burn, name, None) is not None else _asked(name)
            self.used.add(field_name)
            return self.graph.measured(name, stated, f"burn.{field_name}", self.error)
        return self._default(name)

    def refuse_others(self, shape: Shape) -> None:
        """A measure that the shape does not have is no measure of this vessel: nothing is left out
        without a word.
        """
        for name in MEASURES:
            if name != "volume" and name not in self.used and getattr(self.burn, name) is not None:
                measures = [
                    {"bottom_diameter": "bottom_width"}.get(dimension, dimension)
                    for dimension in shape.dimensions
                ]
                self.problems.append(
                    Problem(
                        "not-needed",
                        f"the {self.burner.display(self.row.partition(':')[2])} as it "
                        f"is reckoned here has no {name.replace('_', ' ')}",
                        f"Its measures are {', '.join(measures)}; give those, or its volume alone.",
                        f"burn.{name}",
                    )
                )

    def _default(self, name: str) -> str:
        maker: dict[str, Callable[[], str | None]] = {
            "length": self._length,
            "bottom_width": lambda: self._floor("bottom_width", "width"),
            "bottom_diameter": lambda: self._floor("bottom_diameter", "diameter"),
            "bottom_length": self._bottom_length,
        }
        default = maker[name]() if name in maker else None
        if default is not None:
            return default
        field_name = {"diameter": "diameter", "bottom_diameter": "bottom_width"}.get(name, name)
        bare = self.burner.shape in _OPEN
        self.problems.append(
            Problem(
                "missing-field",
                f"the {self.burner.display(self.row.partition(':')[2])} has no "
                f"{field_name.replace('_', ' ')}",
                f"Give {field_name}: {'how high it lies, ' if name == 'depth' and bare else ''}"
                f"for instance 40 cm{'' if bare else ', inside'}.",
                f"burn.{field_name}",
            )
        )
        return name

    def _length(self) -> str | None:
        if self.burner.shape == "trench" or "width" not in self.graph.inputs:
            return None
        if "diameter" not in self.graph.inputs and self.burn.diameter is None:
            self.graph.notes.append(Message("plan.no-length"))
        self.graph.step(
            "length",
            floor_by_share,
            "width",
            self.graph.known("as_long_as_wide", 1.0, "no length given"),
        )
        return "length"

    def _floor(self, name: str, rim: str) -> str | None:
        if self.burner.floor is None or rim not in self.graph.inputs:
            return None
        self.graph.notes.append(Message("plan.no-floor"))
        self.graph.step(
            name, floor_by_share, rim, self.graph.cell("floor_share", "burners", self.row, "floor")
        )
        return name

    def _bottom_length(self) -> str | None:
        if self.burner.floor is None or "width" not in self.graph.inputs:
            return None
        if self.burn.bottom_width is not None:
            self.graph.step("bottom_length", floor_by_slope, "length", "width", "bottom_width")
        else:
            self.graph.step("bottom_length", floor_by_share, "length", "floor_share")
        return "bottom_length"

    def similar(self, shape: Shape) -> Vessel:
        """Only the volume is known: a vessel of the usual proportions that holds it."""
        graph, usual = self.graph, self.burner.usual
        assert self.burn.volume is not None
        graph.measured("vessel", self.burn.volume, "burn.volume", self.volume_error)
        for name in shape.dimensions:
            self._usual(name, usual.keys())
        self.refuse()
        graph.notes.append(Message("plan.volume-alone"))
        graph.step("usual_full", shape.full, *(f"usual_{name}" for name in shape.dimensions))
        for name in shape.dimensions:
            graph.step(name, vessel.scaled, f"usual_{name}", "usual_full", "vessel")
        graph.step("rim", shape.rim_area, *shape.rim)
        return Vessel(
            shape, shape.dimensions, _mid(graph, shape.rim[0]) / _mid(graph, "depth"), shape is HEAP
        )

    def _usual(self, name: str, names: Collection[str]) -> None:
        graph = self.graph
        if name in names:
            graph.cell(f"usual_{name}", "burners", self.row, "usual", name)
        elif name == "length" and "width" in names:
            graph.step(
                "usual_length",
                floor_by_share,
                "usual_width",
                graph.known("as_long_as_wide", 1.0, "no length given"),
            )
        elif (
            name.startswith("bottom_")
            and self.burner.floor is not None
            and name.removeprefix("bottom_") in {*names, "length"}
        ):
            graph.step(
                f"usual_{name}",
                floor_by_share,
                f"usual_{name.removeprefix('bottom_')}",
                graph.cell("floor_share", "burners", self.row, "floor"),
            )
        else:
            self.problems.append(
                Problem(
                    "missing-field",
                    f"the tables hold no usual proportions of this burner ({name})",
                    f"Give {name}: for instance 40 cm, inside.",
                    f"burn.{_asked(name)}",
                )
            )

    def refuse(self) -> None:
        if self.problems:
            raise InputError(list(dict.fromkeys(self.problems)))


def _asked(name: str) -> str:
    return {"diameter": "width", "width": "diameter", "bottom_diameter": "bottom_width"}.get(
        name, name
    )
