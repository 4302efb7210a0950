"""Binds what a hypothesis brings, and what clean matter holds, to the chain of a lot: from the
board to the char and the bed.

The steps are put behind those of the lot's own chain, so that intervals, sums over lots and
explanations come from the one mechanism. Nothing is computed here but which of two hypotheses
brings more of an element.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ..model.findings import Verdict
from ..model.inputs.lot import Lot
from ..physics import load
from ..quantities.cell import Cell, Scale
from ..tables.gates import gate_method
from ..tables.limits import Limits
from ..tables.rows.contaminant import Contaminant, Load
from ..tables.rows.material import Material
from ..tables.rows.methods.load import Binders, Fate, Film, Paint, Preservatives, SoilAddition
from ..tables.tables import Tables
from ..uncertainty.figure import Figure
from ..uncertainty.graph import Chain, Step, run
from ..uncertainty.inputs import UNIT_OF, Input, Origin
from ..uncertainty.intervals import P95
from ..uncertainty.propagate import figures, from_moves
from ..uncertainty.sums import add
from .fate import kept_of


@dataclass(frozen=True, slots=True)
class Element:
    """An element of a lot: its name, and the hypotheses that bring it (none: it is there by
    nature).
    """

    symbol: str
    name: str
    brought_by: tuple[str, ...]
    permits: Verdict


@dataclass(slots=True)
class Loaded:
    """A lot's chain with the steps of its elements behind it; outputs are `content_As`,
    `screening_As` and so on.
    """

    chain: Chain
    inputs: tuple[Input, ...]
    elements: tuple[Element, ...]
    figures: Mapping[str, Figure] = field(default_factory=dict)


OUTPUTS = {
    "": "screening",
    "central": "central",
    "feed": "content",
    "largest_share": "largest_share",
    "soil_addition": "soil_addition",
}
"""The figures of an element by the last part of their path: `lots[0].elements.As.central`."""


@dataclass(slots=True)
class _Adder:
    lot: Lot
    full: str
    row: Material
    tables: Tables
    steps: list[Step]
    inputs: dict[str, Input]
    solid: bool

    def cell(
        self,
        name: str,
        cell: Cell,
        kind: str,
        full: str,
        path: tuple[str | int, ...],
        certain: bool = False,
    ) -> str:
        if name in self.inputs:
            return name
        where = self.tables.where(kind, full, path).row or full
        low, mid, high = (cell.mid,) * 3 if certain else (cell.low, cell.mid, cell.high)
        key = f"row:{where.replace(':', '/', 1)}/{'/'.join(map(str, path))}"
        self.inputs[name] = Input(
            name,
            low,
            mid,
            high,
            cell.scale,
            key,
            self.tables.origin(kind, full, path, cell),
            UNIT_OF.get(cell.dimension, "1"),
        )
        return name

    def known(self, name: str, value: float, text: str, unit: str = "1") -> str:
        self.inputs.setdefault(
            name,
            Input(
                name,
                value,
                value,
                value,
                "linear",
                f"exact:{name}",
                Origin("assumption", text),
                unit,
            ),
        )
        return name

    def step(
        self, output: str, function: Callable[..., Any], *inputs: str, scale: Scale = "log"
    ) -> str:
        if all(step.output != output for step in self.steps):
            self.steps.append(Step(output, function, inputs, scale))
        return output


def bind_elements(
    lot: Lot,
    full: str,
    chain: Chain,
    inputs: Sequence[Input],
    suspected: Iterable[tuple[str, Verdict]],
    limits: Limits | None,
    tables: Tables,
) -> Loaded | None:
    """The chain of a lot with the steps of every element that a limit names or a suspicion brings;
    None without tables for it.
    """
    fate = gate_method(tables, "fate", Fate)
    bed = gate_method(tables, "soil-addition", SoilAddition)
    if fate is None or bed is None:
        return None
    held = {each.name: each for each in inputs}
    solid = any(step.output == "density" and step.inputs[0] == "basic_density" for step in chain)
    adder = _Adder(lot, full, tables.material(full), tables, list(chain), held, solid)
    brought = _brought(adder, suspected)
    elements = []
    for symbol in dict.fromkeys([*(limits.of if limits else ()), *brought]):
        kept = kept_of(fate, symbol, held["temperature"].mid)
        background = _background(adder, symbol)
        if kept is None or (background is None and symbol not in brought):
            continue
        adder.cell(
            f"kept_screening_{symbol}",
            kept.conservative,
            "methods",
            kept.full,
            ("elements", symbol, "conservative"),
            certain=True,
        )
        adder.cell(
            f"kept_central_{symbol}",
            kept.central,
            "methods",
            kept.full,
            ("elements", symbol, "central", kept.band, "kept"),
        )
        _steps(adder, symbol, background, brought.get(symbol), limits, bed)
        by = brought[symbol].by if symbol in brought else ()
        elements.append(
            Element(
                symbol,
                kept.name,
                by,
                brought[symbol].permits if symbol in brought else Verdict.READY,
            )
        )
    adder.step("ash_in_char", load.ash_of_char, "ash", "ash_kept", "char_yield", scale="logit")
    wanted = {
        f"{output}_{each.symbol}" for each in elements for output in (*OUTPUTS.values(), "mass")
    } | {"char_mass", "ash_in_char"}
    steps, needed = _pruned(adder.steps, adder.inputs, wanted)
    made = {step.output for step in steps} | {each.name for each in needed}
    found = Loaded(steps, needed, tuple(elements))
    found.figures = figures(steps, needed, sorted(wanted & made))
    return found


def _pruned(
    steps: Sequence[Step], inputs: Mapping[str, Input], wanted: set[str]
) -> tuple[Chain, tuple[Input, ...]]:
    """Only what the wanted outputs rest on, so that nothing else is run again for every doubt."""
    needed = set(wanted)
    kept = []
    for step in reversed(steps):
        if step.output in needed:
            needed.update(step.inputs)
            kept.append(step)
    made = {step.output for step in kept}
    return tuple(reversed(kept)), tuple(
        each for name, each in inputs.items() if name in needed and name not in made
    )


def _background(adder: _Adder, symbol: str) -> str | None:
    if symbol == "N":
        binders = gate_method(adder.tables, "binders", Binders)
        return (
            None
            if binders is None
            else adder.cell(
                "background_N", binders[1].wood_nitrogen, "methods", binders[0], ("wood_nitrogen",)
            )
        )
    cell = adder.row.elements.get(symbol)
    return (
        None
        if cell is None
        else adder.cell(f"background_{symbol}", cell, "materials", adder.full, ("elements", symbol))
    )


def _steps(
    adder: _Adder,
    symbol: str,
    background: str | None,
    brought: _Brought | None,
    limits: Limits | None,
    bed: tuple[str, SoilAddition],
) -> None:
    if background is None:
        background = adder.known(f"background_{symbol}", 0.0, "no background content in the tables")
    added = (
        brought.step(adder)
        if brought is not None
        else adder.known(f"added_{symbol}", 0.0, "nothing is suspected to bring it")
    )
    content = adder.step(f"content_{symbol}", load.with_background, background, added)
    screening = adder.step(
        f"screening_{symbol}", load.in_char, content, f"kept_screening_{symbol}", "char_yield"
    )
    adder.step(f"central_{symbol}", load.in_char, content, f"kept_central_{symbol}", "char_yield")
    adder.step(f"mass_{symbol}", load.element_mass, "dry_mass", content, f"kept_screening_{symbol}")
    full, row = bed
    for name in ("dressing", "depth", "soil_density"):
        adder.cell(f"bed_{name}", getattr(row, name), "methods", full, (name,))
    adder.step(
        f"soil_addition_{symbol}",
        load.soil_addition,
        "bed_dressing",
        screening,
        "bed_depth",
        "bed_soil_density",
    )
    if brought is not None and limits is not None and symbol in limits.of:
        limit = adder.known(
            f"limit_{symbol}", limits.of[symbol].value, f"limit for {symbol} of {limits.name}"
        )
        kept = f"kept_screening_{symbol}"
        adder.step(
            f"largest_share_{symbol}",
            load.largest_share,
            limit,
            content,
            kept,
            "char_yield",
            background,
            kept,
            "char_yield",
            scale="logit",
        )


@dataclass(frozen=True, slots=True)
class _Brought:
    """The step that brings most of an element, among the hypotheses that bring any."""

    by: tuple[str, ...]
    permits: Verdict
    amount: float
    step: Callable[[_Adder], str]


def _brought(adder: _Adder, suspected: Iterable[tuple[str, Verdict]]) -> dict[str, _Brought]:
    found: dict[str, _Brought] = {}
    for full, permits in suspected:
        row = adder.tables.row("contaminants", full, Contaminant)
        for symbol, each in row.loads.items():
            step = _step_of(symbol, full, each)
            # a hypothesis is tried on a copy: only the one that brings most leaves its steps in the
            # chain
            trial = _Adder(
                adder.lot,
                adder.full,
                adder.row,
                adder.tables,
                list(adder.steps),
                dict(adder.inputs),
                adder.solid,
            )
            output = step(trial)
            amount = float(
                run(tuple(trial.steps), {i.name: i.mid for i in trial.inputs.values()})[output]
            )
            held = found.get(symbol)
            if held is None:
                found[symbol] = _Brought((full,), permits, amount, step)
            else:
                more = amount > held.amount
                found[symbol] = _Brought(
                    (*held.by, full),
                    max(held.permits, permits),
                    max(amount, held.amount),
                    step if more else held.step,
                )
    return found


def _step_of(symbol: str, full: str, each: Load) -> Callable[[_Adder], str]:
    def bind(adder: _Adder) -> str:
        if each.by == "retention":
            return _retention(adder, symbol, each)
        if each.by == "film":
            return _film(adder, symbol, each)
        if each.by == "agent":
            return _agent(adder, symbol, each)
        assert each.content is not None
        return adder.cell(
            f"brought_{symbol}", each.content, "contaminants", full, ("loads", symbol, "content")
        )

    return bind


def _density(adder: _Adder) -> str:
    """Oven-dry density of the solid wood: the lot's own, or that of treated pine where the lot is
    loose.
    """
    if adder.solid:
        return "density"
    full, row = _sure(gate_method(adder.tables, "preservatives", Preservatives))
    return adder.cell("treated_density", row.density, "methods", full, ("density",))


def _sure(found: tuple[str, Any] | None) -> tuple[str, Any]:
    assert found is not None, "the reference of `loads` was checked when the tables were read"
    return found


def _retention(adder: _Adder, symbol: str, each: Load) -> str:
    full, row = _sure(gate_method(adder.tables, "preservatives", Preservatives))
    held = row.of[each.of]
    retention = adder.cell(
        f"retention_{each.of}_{each.use}",
        held.retention[each.use],
        "methods",
        full,
        ("of", each.of, "retention", each.use),
    )
    fraction = adder.cell(
        f"fraction_{each.of}_{symbol}",
        held.elements[symbol],
        "methods",
        full,
        ("of", each.of, "elements", symbol),
        certain=True,
    )
    return adder.step(f"added_{symbol}", load.element_in_wood, retention, fraction, _density(adder))


def _film(adder: _Adder, symbol: str, each: Load) -> str:
    full, row = _sure(gate_method(adder.tables, "paint", Paint))
    film: Film = row.of[each.of]
    start = ("of", each.of)
    if symbol in film.loading:
        loading = adder.cell(
            f"loading_{each.of}_{symbol}",
            film.loading[symbol],
            "methods",
            full,
            (*start, "loading", symbol),
        )
    else:
        names = []
        for name in ("coats", "thickness", "density"):
            names.append(
                adder.cell(f"film_{name}", getattr(film, name), "methods", full, (*start, name))
            )
        names.append(
            adder.cell(
                f"film_share_{symbol}",
                film.share[symbol],
                "methods",
                full,
                (*start, "share", symbol),
            )
        )
        loading = adder.step(f"loading_{each.of}_{symbol}", load.film_loading, *names)
    faces = adder.cell("painted_faces", row.faces, "methods", full, ("faces",))
    return adder.step(
        f"added_{symbol}",
        load.element_in_board,
        faces,
        loading,
        _board_thickness(adder, full, row),
        _density(adder),
    )


def _board_thickness(adder: _Adder, full: str, row: Paint) -> str:
    lot = adder.lot
    pieces = lot.pieces
    given = lot.thickness
    if given is None and pieces is not None:
        given = pieces.diameter or (
            min((pieces.width, pieces.thickness), key=lambda m: m.mid)
            if pieces.width and pieces.thickness
            else None
        )
    if given is not None:
        return adder.known("board_thickness", given.mid, f"thickness as stated: {given.text}", "m")
    if adder.row.thickness is not None and adder.row.form in ("sawn", "board"):
        return adder.cell(
            "board_thickness", adder.row.thickness, "materials", adder.full, ("thickness",)
        )
    return adder.cell("board_thickness", row.thickness, "methods", full, ("thickness",))


def _agent(adder: _Adder, symbol: str, each: Load) -> str:
    full, row = _sure(gate_method(adder.tables, "binders", Binders))
    binder = row.of[each.of]
    key = adder.full.partition(":")[2]
    product = key if key in binder.resin else "usual"
    share = adder.cell(
        f"agent_{each.of}",
        binder.resin[product],
        "methods",
        full,
        ("of", each.of, "resin", product),
    )
    fraction = adder.cell(
        f"fraction_{each.of}_{symbol}",
        binder.elements[symbol],
        "methods",
        full,
        ("of", each.of, "elements", symbol),
    )
    return adder.step(f"added_{symbol}", load.element_of_agent, share, fraction)


# --- the heap, if it were mixed -------------------------------------------------------------------


def mixed_figure(loaded: Sequence[Loaded], symbol: str) -> Figure:
    """The share of an element in the char of all lots together; a lot whose tables do not know it
    brings none.

    Doubts of one key move in all lots at once, as they do in a sum.
    """
    if len(loaded) == 1 and f"screening_{symbol}" in loaded[0].figures:
        return loaded[0].figures[f"screening_{symbol}"]
    chars = add(each.figures["char_mass"] for each in loaded)
    masses = add(
        each.figures[f"mass_{symbol}"] for each in loaded if f"mass_{symbol}" in each.figures
    )
    if not chars.mid > 0:
        return Figure(0.0)

    def at(normals: Mapping[str, float]) -> dict[str, float]:
        return {"mixed": load.in_mixed_char([masses.at(normals)], [chars.at(normals)])}

    def both(key: str, z: float) -> tuple[dict[str, float], dict[str, float]]:
        return at({key: -z}), at({key: z})

    return from_moves(
        at({}),
        {key: both(key, P95) for key in {**chars.doubts, **masses.doubts}},
        lambda key: both(key, P95 / 2),
        {"mixed": lambda normals: at(normals)["mixed"]},
        {"mixed": "log"},
    )["mixed"]


def mixed_chain(
    loaded: Sequence[tuple[str, Loaded]], symbol: str
) -> tuple[Chain, tuple[Input, ...]]:
    """The chains of all lots as one, each name led by its lot's, with the mixed share as the last
    step `mixed`.
    """
    steps: list[Step] = []
    inputs: list[Input] = []
    elements, chars = [], []
    for lot, each in loaded:

        def named(name: str, lot: str = lot) -> str:
            return f"{lot}: {name}"

        steps += [
            Step(named(s.output), s.function, tuple(map(named, s.inputs)), s.scale)
            for s in each.chain
        ]
        inputs += [
            Input(named(i.name), i.low, i.mid, i.high, i.scale, i.key, i.origin, i.unit)
            for i in each.inputs
        ]
        chars.append(named("char_mass"))
        if any(s.output == f"mass_{symbol}" for s in each.chain):
            elements.append(named(f"mass_{symbol}"))
    count = len(elements)

    def mixed(*values: Any) -> Any:
        return load.in_mixed_char(values[:count], values[count:])

    mixed.formula = load.in_mixed_char.formula  # type: ignore[attr-defined]
    steps.append(Step("mixed", mixed, (*elements, *chars)))
    return tuple(steps), tuple(inputs)
