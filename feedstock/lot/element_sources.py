"""What a suspicion brings of an element: a preservative by its retention, a paint by its film, a
resin by its share, or a content.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from ..model.findings import Verdict
from ..physics import elements as physics
from ..quantities.frozen import frozen
from ..tables.rows.contaminant import AddedContent, Contaminant
from ..tables.rows.methods.elements import Binders, Film, Paint, Preservatives
from ..uncertainty.graph import run
from .evidence import contents_added
from .model import Builder, LotModel


@frozen
class Brought:
    """The step that brings most of an element, among the hypotheses that bring any."""

    by: tuple[str, ...]
    permits: Verdict
    amount: float
    step: Callable[[Builder], str]


def brought_by(
    b: Builder, suspicions: Iterable[tuple[str, Verdict]], model: LotModel
) -> dict[str, Brought]:
    """For every element that some suspicion brings, the step of the one that brings most."""
    by_symbol: dict[str, Brought] = {}
    values: dict[str, Any] = {}
    for row_id, permits in suspicions:
        row = b.tables.row("contaminants", row_id, Contaminant)
        for symbol, added in contents_added(row, model.evidence, b.tables).items():
            step = _step_of(symbol, row_id, added)
            if not values:
                values = run(model.chain, model.middles)
            amount = _tried(b, step, values)
            brought = by_symbol.get(symbol)
            if brought is None:
                by_symbol[symbol] = Brought((row_id,), permits, amount, step)
            else:
                by_symbol[symbol] = Brought(
                    (*brought.by, row_id),
                    max(brought.permits, permits),
                    max(amount, brought.amount),
                    step if amount > brought.amount else brought.step,
                )
    return by_symbol


def _tried(b: Builder, step: Callable[[Builder], str], values: Mapping[str, Any]) -> float:
    """The middle of what a step brings, tried on a copy: only the one that brings most leaves its
    steps in the chain.
    """
    trial = replace(b, steps=[], inputs=dict(b.inputs), made=set(b.made))
    output = step(trial)
    middles = {entry.name: entry.mid for entry in trial.inputs.values()}
    return float(run(trial.steps, {**middles, **values})[output])


def _step_of(symbol: str, row_id: str, added: AddedContent) -> Callable[[Builder], str]:
    def bind(b: Builder) -> str:
        if added.by == "retention":
            return _retention(b, symbol, added)
        if added.by == "film":
            return _film(b, symbol, added)
        if added.by == "agent":
            return _agent(b, symbol, added)
        assert added.content is not None
        return b.cell(
            f"brought_{symbol}", "contaminants", row_id, ("element_content", symbol, "content")
        )

    return bind


def _density(b: Builder) -> str:
    """Oven-dry density of the solid wood: the lot's own, or that of treated pine where the lot is
    loose.
    """
    if b.solid_density:
        return "density"
    row_id, _ = _sure(b.tables.gate_method("preservatives", Preservatives))
    return b.cell("treated_density", "methods", row_id, ("density",))


def _sure(method: tuple[str, Any] | None) -> tuple[str, Any]:
    assert method is not None, "the reference of `loads` was checked when the tables were read"
    return method


def _retention(b: Builder, symbol: str, added: AddedContent) -> str:
    row_id, _ = _sure(b.tables.gate_method("preservatives", Preservatives))
    retention = b.cell(
        f"retention_{added.of}_{added.use}",
        "methods",
        row_id,
        ("of", added.of, "retention", added.use),
    )
    fraction = b.cell(
        f"fraction_{added.of}_{symbol}",
        "methods",
        row_id,
        ("of", added.of, "elements", symbol),
        exact=True,
    )
    return b.step(f"added_{symbol}", physics.element_in_wood, retention, fraction, _density(b))


def _film(b: Builder, symbol: str, added: AddedContent) -> str:
    row_id, row = _sure(b.tables.gate_method("paint", Paint))
    film: Film = row.of[added.of]
    start = ("of", added.of)
    if symbol in film.loading:
        loading = b.cell(
            f"loading_{added.of}_{symbol}",
            "methods",
            row_id,
            (*start, "loading", symbol),
        )
    else:
        names = []
        for name in ("coats", "thickness", "density"):
            names.append(b.cell(f"film_{name}", "methods", row_id, (*start, name)))
        names.append(
            b.cell(
                f"film_share_{symbol}",
                "methods",
                row_id,
                (*start, "share", symbol),
            )
        )
        loading = b.step(f"loading_{added.of}_{symbol}", physics.film_loading, *names)
    faces = b.cell("painted_faces", "methods", row_id, ("faces",))
    return b.step(
        f"added_{symbol}",
        physics.element_in_board,
        faces,
        loading,
        _board_thickness(b, row_id, row),
        _density(b),
    )


def _board_thickness(b: Builder, row_id: str, row: Paint) -> str:
    lot = b.lot
    pieces = lot.pieces
    thickness = lot.thickness
    if thickness is None and pieces is not None:
        thickness = pieces.diameter or (
            min((pieces.width, pieces.thickness), key=lambda m: m.mid)
            if pieces.width and pieces.thickness
            else None
        )
    if thickness is not None:
        return b.known(
            "board_thickness",
            thickness.mid,
            f"thickness as stated: {thickness.text}",
            "m",
            "assumption",
        )
    if b.row.thickness is not None and b.row.board:
        return b.cell("board_thickness", "materials", b.row_id, ("thickness",))
    return b.cell("board_thickness", "methods", row_id, ("thickness",))


def _agent(b: Builder, symbol: str, added: AddedContent) -> str:
    row_id, row = _sure(b.tables.gate_method("binders", Binders))
    binder = row.of[added.of]
    key = b.row_id.partition(":")[2]
    product = key if key in binder.resin else "usual"
    share = b.cell(
        f"agent_{added.of}",
        "methods",
        row_id,
        ("of", added.of, "resin", product),
    )
    fraction = b.cell(
        f"fraction_{added.of}_{symbol}",
        "methods",
        row_id,
        ("of", added.of, "elements", symbol),
    )
    return b.step(f"added_{symbol}", physics.element_of_agent, share, fraction)
