"""Ready lots as fuel, and the graph of a plan: figures of a whole heap go in with their doubts, key
by key.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from .. import draws
from ..chain import Bound
from ..estimate import Estimate, Measured
from ..figures import (
    UNIT_OF,
    Chain,
    Doubt,
    Explanation,
    Figure,
    Input,
    Origin,
    Scale,
    Step,
    Term,
    add,
    figures,
    formula,
    formula_of,
    from_moves,
    run,
    upstream,
)
from ..heap import Lot
from ..percentiles import P95
from ..physics import charring, density, firing
from ..results import Verdict
from ..tables import Tables
from ..tables.methods import WoodWater
from ..tables.methods_fire import Charring
from ..tables.schema import Cell

PURPOSES = (
    "char-through",
    "burning-rate",
    "quench",
    "planning",
    "wood-char",
    "instruments",
    "kept",
)
"""The methods without which there is no plan."""

BENDS = (firing.fuel_by_two, firing.fuel_by_three, firing.loaded, firing.longer, firing.left_over)
"""Steps that take the least or the greatest of what is in doubt."""

SHARES = ("unburnt", "raw")
"""Given figures that no draw may carry past nothing or past all."""


@dataclass(slots=True)
class Fuel:
    """A lot on its way into a plan, with its figures in SI by the names of its chain."""

    name: str
    lot: Lot
    full: str
    bound: Bound
    verdict: Verdict
    class_: str
    form: str
    concerns: int = 0
    figures: dict[str, Figure] = field(default_factory=dict)
    coefficient: float = 0.0

    @property
    def thickness(self) -> float:
        """Least dimension, m."""
        return self.bound.thickness

    @property
    def through(self) -> Figure:
        """Time in flame until it is char to its centre, s."""
        return self.figures["char_through"]

    @property
    def dry(self) -> float:
        return float(self.figures["dry_mass"].mid)


@dataclass(slots=True)
class Graph:
    """The steps of a plan, its own inputs, and the figures of the heap that go in with their
    doubts.
    """

    tables: Tables
    steps: list[Step] = field(default_factory=list)
    inputs: dict[str, Input] = field(default_factory=dict)
    given: dict[str, Figure] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def step(
        self, output: str, function: Callable[..., Any], *inputs: str, scale: Scale = "log"
    ) -> str:
        self.steps.append(Step(output, function, inputs, scale))
        return output

    def cell(
        self,
        name: str,
        kind: str,
        full: str,
        *path: str | int,
        key: str = "",
        certain: bool = False,
    ) -> str:
        """An input that is a cell of a table; its doubt is shared with every other use of the
        cell.
        """
        found = self.tables.cell(kind, full, path)
        assert found is not None, (full, path)
        self.inputs[name] = cell_input(self.tables, name, kind, full, path, found, key, certain)
        return name

    def known(self, name: str, value: float, text: str, unit: str = "1") -> str:
        self.inputs[name] = Input(
            name, value, value, value, "linear", f"exact:{name}", Origin("assumption", text), unit
        )
        return name

    def measured(self, name: str, said: Measured, field_name: str, error: float = 0.0) -> str:
        """An input of the burn: with the user's own range, or with a relative error of
        measuring.
        """
        low, high = (
            (said.low, said.high)
            if said.low is not None and said.high is not None
            else (said.mid * (1 - error), said.mid * (1 + error))
        )
        origin = Origin("field", f"{field_name}: {said.text}", field=field_name)
        self.inputs[name] = Input(
            name,
            low,
            said.mid,
            high,
            "log",
            f"burn:{field_name}",
            origin,
            UNIT_OF.get(said.dimension, "1"),
        )
        return name

    def derive(self, *wanted: str) -> dict[str, Figure]:
        """The wanted figures: every key is moved once in the inputs and in the given figures alike,
        so shared doubt stays shared.
        """
        chain, inputs = tuple(self.steps), list(self.inputs.values())
        scales: dict[str, Scale] = {name: figure.scale for name, figure in self.given.items()} | {
            each.name: each.scale for each in inputs
        }
        scales |= {step.output: step.scale for step in chain}
        keys = dict.fromkeys(
            [
                *(each.key for each in inputs if not each.certain),
                *(key for figure in self.given.values() for key in figure.doubts),
            ]
        )

        def moved(key: str, z: float) -> dict[str, Any]:
            values = {each.name: each.at(z) if each.key == key else each.mid for each in inputs}
            for name, figure in self.given.items():
                change = (
                    (0.0, 0.0)
                    if key not in figure.doubts
                    else figure.doubts[key]
                    if abs(z) == P95
                    else figure.half(key)
                )
                values[name] = figure.mid + change[z > 0]
            return run(chain, values)

        def both(key: str, z: float) -> tuple[dict[str, Any], dict[str, Any]]:
            return moved(key, -z), moved(key, z)

        found = from_moves(
            moved("", 0.0),
            {key: both(key, P95) for key in keys},
            lambda key: both(key, P95 / 2),
            {},
            {name: scales[name] for name in wanted},
        )
        bent = self._bent() & found.keys()
        return (
            found
            if not bent
            else found
            | {
                name: replace(found[name], drawn=ends)
                for name, ends in self._drawn(chain, inputs, bent).items()
            }
        )

    def middle(self, output: str) -> float:
        """An output with every input at its middle."""
        mids = {each.name: each.mid for each in self.inputs.values()} | {
            name: figure.mid for name, figure in self.given.items()
        }
        return float(run(tuple(self.steps), mids)[output])

    def _bent(self) -> set[str]:
        """What the least or the greatest of several things goes into."""
        bent: set[str] = set()
        for step in self.steps:
            if step.function in BENDS or bent.intersection(step.inputs):
                bent.add(step.output)
        return bent

    def _drawn(
        self, chain: Chain, inputs: Sequence[Input], wanted: Collection[str]
    ) -> dict[str, tuple[float, float]]:
        needed = set[str]().union(*(upstream(chain, name) for name in wanted))
        steps = [step for step in chain if step.output in needed]
        columns: dict[str, Sequence[float]] = {}
        for each in (each for each in inputs if each.name in needed):
            columns[each.name] = (
                [each.mid] * draws.COUNT
                if each.certain
                else [each.at(z) for z in draws.normals_of(each.key)]
            )
        for name, figure in (
            (name, figure) for name, figure in self.given.items() if name in needed
        ):
            columns[name] = (
                figure.alone([(key, draws.normals_of(key)) for key in figure.doubts])
                if figure.doubts
                else [figure.mid] * draws.COUNT
            )
            if name in SHARES:
                columns[name] = [min(max(each, 0.0), 1.0) for each in columns[name]]
        runs = [
            run(steps, dict(zip(columns, row, strict=True)))
            for row in zip(*columns.values(), strict=True)
        ]
        return {name: draws.ends_of([each[name] for each in runs]) for name in wanted}


def cell_input(
    tables: Tables,
    name: str,
    kind: str,
    full: str,
    path: tuple[str | int, ...],
    cell: Cell,
    key: str = "",
    certain: bool = False,
) -> Input:
    """A cell as an input, with the key of the row that owns it."""
    owner = tables.where(kind, full, path).row or full
    low, high = (cell.mid, cell.mid) if certain else (cell.low, cell.high)
    label = "/".join(str(p) for p in path)
    return Input(
        name,
        low,
        cell.mid,
        high,
        cell.scale,
        key or f"row:{owner.replace(':', '/', 1)}/{label}",
        tables.origin(kind, full, path, cell),
        UNIT_OF.get(cell.dimension, "1"),
    )


def estimate_in(figure: Figure, unit: str, factor: float) -> Estimate:
    """A figure in its public unit, never below nothing."""
    low, high = figure.ends if figure.doubts else (figure.mid, figure.mid)
    mid = max(figure.mid, 0.0)
    return Estimate(max(min(low, mid), 0.0) * factor, mid * factor, max(high, mid) * factor, unit)


_AMOUNTS = (
    "dry_mass",
    "char_mass",
    "char_volume",
    "char_carbon",
    "wood_volume",
    "loose_volume",
    "lying_mass",
)


def part_of(fuel: Fuel, share: float) -> Fuel:
    """The same lot with that share of its amounts; what is not an amount stays."""
    scaled = {
        name: weighted([(share, each)]) if name in _AMOUNTS else each
        for name, each in fuel.figures.items()
    }
    return replace(fuel, figures=scaled)


def weighted(parts: Iterable[tuple[float, Figure]]) -> Figure:
    """The sum of figures times plain weights, doubts of equal key with their sign."""
    return add(each.times(weight) for weight, each in parts)


def prepare(fuel: Fuel, tables: Tables) -> None:
    """Run the lot's chain with what a plan asks beyond the appraisal: char-through time, and its
    volume in a load.
    """
    extra, inputs = char_through_steps(fuel, tables)
    made = {step.output for step in fuel.bound.chain} | {each.name for each in fuel.bound.inputs}
    if "solid_volume" in made and "wood_volume" not in made:
        extra = [*extra, Step("wood_volume", _solid_wood, ("solid_volume",))]
    elif "density" in made and "wood_volume" not in made:
        extra = [*extra, Step("loose_volume", density.volume_of, ("dry_mass", "density"))]
    extra = [*extra, Step("lying_mass", as_it_lies, ("dry_mass", "moisture"))]
    chain = (*fuel.bound.chain, *extra)
    there = made | {step.output for step in extra}
    wanted = [
        name
        for name in (
            "dry_mass",
            "char_mass",
            "char_volume",
            "char_carbon",
            "moisture",
            "water_heat",
            "wood_volume",
            "loose_volume",
            "lying_mass",
            "char_through",
            "char_coefficient",
        )
        if name in there
    ]
    fuel.figures = figures(chain, [*fuel.bound.inputs, *inputs], wanted)
    fuel.coefficient = float(fuel.figures["char_coefficient"].mid)


@formula("solid volume of wood that was measured", "identity", solid="m^3", result="m^3")
def _solid_wood(solid: Any) -> Any:
    return solid


@formula("mass as it lies", "identity, m_dry / (1 - w)", dry_mass="kg", wet="1", result="kg")
def as_it_lies(dry_mass: Any, wet: Any) -> Any:
    return dry_mass / (1.0 - wet)


def char_through_steps(fuel: Fuel, tables: Tables) -> tuple[list[Step], list[Input]]:
    """Steps from a lot's chain to `char_through`, s, and the inputs that they need besides the
    lot's own.
    """
    full, row = tables.method("char-through", Charring)
    steps: list[Step] = []
    inputs: list[Input] = []

    def cell(name: str, *path: str, certain: bool = False) -> str:
        found = tables.cell("methods", full, path)
        assert found is not None
        inputs.append(cell_input(tables, name, "methods", full, path, found, certain=certain))
        return name

    thickness = _thickness(fuel, tables, steps, inputs)
    dense = _oven_dry_density(fuel, tables, steps, inputs)
    contraction = cell(
        "char_contraction",
        "contraction",
        fuel.class_ if fuel.class_ in row.contraction else "other",
    )
    coefficients = [
        cell(f"through_{name}", name, certain=True)
        for name in ("constant", "per_density", "per_moisture", "per_contraction")
    ]
    exponent, below = (
        cell("through_exponent", "exponent", certain=True),
        cell("thin_below", "thin_below", certain=True),
    )
    factor, thin = cell("fire_factor", "factor"), cell("thin_time", "thin")
    steps.append(
        Step(
            "char_coefficient",
            charring.char_coefficient,
            (dense, "moisture_dry", contraction, *coefficients),
        )
    )
    steps.append(
        Step(
            "char_through",
            charring.through_time,
            (thickness, "char_coefficient", factor, thin, below, exponent),
        )
    )
    return steps, inputs


def _thickness(fuel: Fuel, tables: Tables, steps: list[Step], inputs: list[Input]) -> str:
    """The input that holds the least dimension: that of the lot's own chain where it has one."""
    there = {each.name for each in fuel.bound.inputs}
    lot, mid = fuel.lot, fuel.bound.thickness
    if lot.thickness is None:
        if "diameter" in there:
            return "diameter"
        if "butt" in there and "top" in there:
            steps.append(Step("mean_diameter", _mean_of_two, ("butt", "top")))
            return "mean_diameter"
        if (
            "board_thickness" in there
            and lot.pieces is not None
            and lot.pieces.thickness is not None
            and lot.pieces.thickness.mid == mid
        ):
            return "board_thickness"
        if (
            "width" in there
            and lot.pieces is not None
            and lot.pieces.width is not None
            and lot.pieces.width.mid == mid
        ):
            return "width"
        cell = tables.cell("materials", fuel.full, ("thickness",))
        if cell is not None:
            inputs.append(
                cell_input(tables, "least_dimension", "materials", fuel.full, ("thickness",), cell)
            )
            return "least_dimension"
    said = lot.thickness
    low, high = (
        (said.low, said.high)
        if said is not None and said.low is not None and said.high is not None
        else (mid, mid)
    )
    inputs.append(
        Input(
            "least_dimension",
            low,
            mid,
            high,
            "log",
            f"burn:thickness:{fuel.full}:{mid:.6g}",
            Origin("field", f"thickness: {said.text}" if said is not None else "thickness"),
            "m",
        )
    )
    return "least_dimension"


@formula("mean diameter", "identity", butt="m", top="m", result="m")
def _mean_of_two(butt: Any, top: Any) -> Any:
    return (butt + top) / 2.0


def _oven_dry_density(fuel: Fuel, tables: Tables, steps: list[Step], inputs: list[Input]) -> str:
    made = {step.output for step in fuel.bound.chain}
    full, row = tables.method("wood-water", WoodWater)
    if "density" not in made:
        inputs.append(
            Input(
                "through_density",
                500.0,
                500.0,
                500.0,
                "log",
                "exact:through_density",
                Origin("assumption", "no density in the tables"),
                "kg/m^3",
            )
        )
        return "through_density"
    if "wood_volume" not in made:
        return "density"
    for name, cell in (
        ("through_shrinkage", row.shrinkage),
        ("through_saturation", row.saturation),
    ):
        inputs.append(
            cell_input(tables, name, "methods", full, (name.partition("_")[2],), cell, certain=True)
        )
    for name, value in (("no_decay", 1.0), ("bone_dry", 0.0)):
        inputs.append(
            Input(
                name,
                value,
                value,
                value,
                "linear",
                f"exact:{name}",
                Origin("assumption", "oven-dry"),
                "1",
            )
        )
    steps.append(
        Step(
            "oven_dry_density",
            density.dry_per_volume,
            ("density", "no_decay", "bone_dry", "through_shrinkage", "through_saturation"),
        )
    )
    return "oven_dry_density"


def explained(
    figure_name: str,
    unit: str,
    factor: float,
    output: str,
    figure: Figure,
    graph: Graph,
    fuels: Sequence[Fuel],
    sums: Mapping[str, str],
    notes: Iterable[str],
) -> Explanation:
    """How a figure of the plan came about; `sums` says which figure of the lots stands behind each
    given one.
    """
    shares, given = figure.shares(), set[str]()
    needed = upstream(graph.steps, output)
    doubts: list[Doubt] = []
    terms: list[Term] = []

    def take(inputs: Iterable[Input], wanted: set[str], lot: str) -> None:
        for each in inputs:
            if each.name in wanted:
                doubts.append(
                    Doubt(
                        each.name,
                        each.low,
                        each.mid,
                        each.high,
                        each.unit,
                        each.key,
                        0.0 if each.key in given else shares.get(each.key, 0.0),
                        each.origin,
                        lot,
                    )
                )
                given.add(each.key)

    def tell(
        steps: Iterable[Step], wanted: set[str], values: Mapping[str, float], lot: str
    ) -> None:
        for step in steps:
            if step.output in wanted:
                about = formula_of(step.function)
                terms.append(
                    Term(
                        step.output,
                        values[step.output],
                        about.units.get("result", ""),
                        about.name,
                        about.reference,
                        tuple((name, values[name]) for name in step.inputs),
                        lot,
                    )
                )

    behind = {sums[name] for name in graph.given if name in needed and name in sums}
    for fuel in fuels:
        extra, more = char_through_steps(fuel, graph.tables)
        chain, inputs = (*fuel.bound.chain, *extra), [*fuel.bound.inputs, *more]
        wanted = set().union(*(upstream(chain, name) for name in behind)) if behind else set()
        tell(chain, wanted, run(chain, {each.name: each.mid for each in inputs}), fuel.name)
        take(inputs, wanted, fuel.name)
    mids = {each.name: each.mid for each in graph.inputs.values()} | {
        name: each.mid for name, each in graph.given.items()
    }
    tell(graph.steps, needed, run(tuple(graph.steps), mids), "the burn")
    take(graph.inputs.values(), needed, "")
    doubts = [replace(d, share=max(d.share, 0.0)) for d in sorted(doubts, key=lambda d: -d.share)]
    shown = estimate_in(figure, unit, factor)
    return Explanation(
        figure_name,
        unit,
        shown.low_value,
        shown.mid_value,
        shown.high_value,
        (),
        tuple(terms),
        tuple(doubts),
        tuple(notes),
    )
