"""Binds what a suspicion brings, and what clean matter holds, to the chain of a lot: from the board
to the char and the bed, and to the char of all lots together.

The steps are put behind those of the lot's own chain, so that intervals, sums over lots and
explanations come from the one mechanism. They are bound only where something can depend on them:
`decisive` says for which elements.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field, replace
from typing import Any

from ..model.findings import Verdict
from ..physics import elements as physics
from ..quantities.cell import Cell
from ..quantities.frozen import frozen, record
from ..tables.caches import kept_of_tables
from ..tables.citations import Citation, cited
from ..tables.limits import Limits
from ..tables.rows.contaminant import Contaminant
from ..tables.rows.limits import LimitSet
from ..tables.rows.methods.elements import Binders, ElementFate, Fate, SoilAddition
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.graph import Chain, Step
from ..uncertainty.inputs import Input
from ..uncertainty.intervals import Z95
from ..uncertainty.propagate import from_perturbations, propagate
from ..uncertainty.sums import add, told_apart
from .element_sources import Brought, brought_by
from .evidence import contents_added
from .model import Builder, LotModel

Suspicions = Sequence[tuple[str, Verdict]]
"""Hypotheses that are raised and not cleared, each with the best verdict that it leaves."""


@frozen
class Element:
    """An element of a lot: its name, and the hypotheses that bring it (none: it is there by
    nature). `known` and `sources` are of what clean matter of its kind holds.
    """

    symbol: str
    name: str
    brought_by: tuple[str, ...]
    permits: Verdict
    known: str = ""
    sources: tuple[Citation, ...] = ()


@record
class LotElements:
    """A lot's chain with the steps of its elements behind it; outputs are `content_As`,
    `screening_As` and so on.
    """

    chain: Chain
    inputs: tuple[Input, ...]
    elements: tuple[Element, ...]
    figures: Mapping[str, UncertainValue] = field(default_factory=dict)

    def gives(self, name: str) -> bool:
        """Whether its chain has a step of that name."""
        return any(step.output == name for step in self.chain)


OUTPUTS = {
    "": "screening",
    "central": "central",
    "feed": "content",
    "largest_share": "largest_share",
    "soil_addition": "soil_addition",
}
"""The figures of an element by the last part of their path: `lots[0].elements.As.central`."""


def outputs_of(symbol: str) -> list[str]:
    """The steps that may give the figures of an element, and its mass in the char."""
    return [f"{output}_{symbol}" for output in (*OUTPUTS.values(), "mass")]


def decisive(
    model: LotModel, suspicions: Suspicions, limits: Limits | None, tables: Tables
) -> tuple[str, ...]:
    """The elements on which something can depend: those that a suspicion brings, those that the lot
    gathers or that a suspect place may have left in it, and those whose middle by nature alone
    would pass the limit in use.
    """
    fate = tables.gate_method("fate", Fate)
    if fate is None:
        return ()
    rows = [tables.row("contaminants", row_id, Contaminant) for row_id, _ in suspicions]
    brought = dict.fromkeys(
        symbol for row in rows for symbol in contents_added(row, model.evidence, tables)
    )
    if limits is None:
        return tuple(brought)
    suspect_site = any(row.background_decides for row in rows)
    natural = _passing(model.row_id, model.plain.char_yield, limits.row_id, tables)
    symbols = [
        symbol
        for symbol in limits.of
        if symbol in brought
        or (
            symbol in natural
            and (suspect_site or symbol in model.row.accumulates or natural[symbol])
        )
    ]
    return (*symbols, *(symbol for symbol in brought if symbol not in limits.of))


@kept_of_tables(4096)
def _passing(row_id: str, char_yield: float, limit_row: str, tables: Tables) -> Mapping[str, bool]:
    """For the elements that a limit names and the tables know of a material, whether what clean
    matter of it holds passes the limit in its char, all at the middle.
    """
    fate = tables.gate_method("fate", Fate)
    contents = tables.material(row_id).elements
    passing = {}
    for symbol, limit in tables.row("limits", limit_row, LimitSet).elements.items():
        fate_of_element = None if fate is None else fate[1].elements.get(symbol)
        if symbol in contents and fate_of_element is not None:
            middle = physics.in_char(
                contents[symbol].mid, fate_of_element.conservative.mid, char_yield
            )
            passing[symbol] = middle > limit.mid
    return passing


def bind_elements(
    model: LotModel,
    suspicions: Suspicions,
    limits: Limits | None,
    tables: Tables,
    symbols: Iterable[str] | None = None,
) -> LotElements | None:
    """The chain of a lot with the steps of elements behind it: `symbols`, or every one that a limit
    names or a suspicion brings. None without tables for it.
    """
    fate = tables.gate_method("fate", Fate)
    bed = tables.gate_method("soil-addition", SoilAddition)
    if fate is None or bed is None:
        return None
    b = continued(model.plain, tables)
    brought = brought_by(b, suspicions, model.plain)
    elements = []
    wanted = [*(limits.of if limits else ()), *brought] if symbols is None else symbols
    for symbol in dict.fromkeys(wanted):
        retention = kept_of(fate, symbol, model.plain.middle("temperature"))
        background = _background(b, symbol)
        if retention is None or (background is None and symbol not in brought):
            continue
        path = ("elements", symbol)
        b.cell(
            f"kept_screening_{symbol}",
            "methods",
            retention.row_id,
            (*path, "conservative"),
            exact=True,
        )
        b.cell(
            f"kept_central_{symbol}",
            "methods",
            retention.row_id,
            (*path, "central", retention.band, "kept"),
        )
        _steps(b, symbol, background, brought.get(symbol), limits, bed)
        by = brought.get(symbol)
        elements.append(
            Element(
                symbol,
                retention.name,
                by.by if by is not None else (),
                by.permits if by is not None else Verdict.READY,
                *_content_known(b, symbol),
            )
        )
    return LotElements(tuple(b.steps), tuple(b.inputs.values()), tuple(elements))


def continued(model: LotModel, tables: Tables) -> Builder:
    """A builder that goes on where the model of the lot ends."""
    return Builder(
        model.lot,
        model.name,
        model.evidence,
        model.row,
        tables,
        "",
        model.signature,
        "",
        list(model.chain),
        {entry.name: entry for entry in model.inputs},
        made={step.output for step in model.chain},
        solid_density=model.solid_density,
    )


def _background(b: Builder, symbol: str) -> str | None:
    if symbol == "N":
        binders = b.tables.gate_method("binders", Binders)
        if binders is None:
            return None
        return b.cell("background_N", "methods", binders[0], ("wood_nitrogen",))
    if symbol not in b.row.elements:
        return None
    return b.cell(f"background_{symbol}", "materials", b.row_id, ("elements", symbol))


def _content_known(b: Builder, symbol: str) -> tuple[str, tuple[Citation, ...]]:
    """How the content of clean matter is known, and its sources; nothing where no row has it."""
    cell = b.row.elements.get(symbol)
    if cell is None:
        return "", ()
    where = b.tables.where("materials", b.row_id, ("elements", symbol)).set
    return cell.known, cited(cell, b.tables, where)


def _known(b: Builder, name: str, value: float, text: str) -> str:
    return b.known(name, value, text, kind="assumption")


def _steps(
    b: Builder,
    symbol: str,
    background: str | None,
    brought: Brought | None,
    limits: Limits | None,
    bed: tuple[str, SoilAddition],
) -> None:
    if background is None:
        background = _known(b, f"background_{symbol}", 0.0, "no background content in the tables")
    added = (
        brought.step(b)
        if brought is not None
        else _known(b, f"added_{symbol}", 0.0, "nothing is suspected to bring it")
    )
    content = b.step(f"content_{symbol}", physics.with_background, background, added)
    screening = b.step(
        f"screening_{symbol}", physics.in_char, content, f"kept_screening_{symbol}", "char_yield"
    )
    b.step(f"central_{symbol}", physics.in_char, content, f"kept_central_{symbol}", "char_yield")
    b.step(f"mass_{symbol}", physics.element_mass, "dry_mass", content, f"kept_screening_{symbol}")
    row_id, _ = bed
    for name in ("dressing", "depth", "soil_density"):
        b.cell(f"bed_{name}", "methods", row_id, (name,))
    b.step(
        f"soil_addition_{symbol}",
        physics.soil_addition,
        "bed_dressing",
        screening,
        "bed_depth",
        "bed_soil_density",
    )
    if brought is not None and limits is not None and symbol in limits.of:
        limit = _known(
            b, f"limit_{symbol}", limits.of[symbol].value, f"limit for {symbol} of {limits.name}"
        )
        retention = f"kept_screening_{symbol}"
        b.step(
            f"largest_share_{symbol}",
            physics.largest_share,
            limit,
            content,
            retention,
            "char_yield",
            background,
            retention,
            "char_yield",
            scale="logit",
        )


@frozen
class Kept:
    """The two cells of an element, with their places in the row `full`."""

    row_id: str
    name: str
    conservative: Cell
    central: Cell
    band: int


def kept_of(fate: tuple[str, Fate], element: str, temperature: float) -> Kept | None:
    """What stays of an element in char of a highest temperature, degC; None where the table does
    not know it.
    """
    row_id, row = fate
    fate_of_element: ElementFate | None = row.elements.get(element)
    if fate_of_element is None:
        return None
    band = next(
        (
            number
            for number, item in enumerate(fate_of_element.central)
            if item.to is None or temperature < item.to.mid
        ),
        len(fate_of_element.central) - 1,
    )
    return Kept(
        row_id,
        fate_of_element.name,
        fate_of_element.conservative,
        fate_of_element.central[band].kept,
        band,
    )


def run_elements(lot: LotElements, symbol: str) -> LotElements:
    """The same with the figures on which the mixture rests."""
    names = ("char_mass", f"mass_{symbol}", f"screening_{symbol}")
    wanted = [name for name in names if lot.gives(name)]
    return replace(lot, figures=propagate(lot.chain, lot.inputs, wanted))


def mixed_figure(lots: Sequence[LotElements], symbol: str) -> UncertainValue:
    """The share of an element in the char of all lots together; a lot whose tables do not know it
    brings none.

    Doubts of one key move in all lots at once, as they do in a sum.
    """
    if len(lots) == 1 and f"screening_{symbol}" in lots[0].figures:
        return lots[0].figures[f"screening_{symbol}"]
    # also where one lot alone brings it: its char shares what the person guessed with the others'
    chars, masses = (
        add(told_apart(lot.figures[name]) for lot in lots if name in lot.figures)
        for name in ("char_mass", f"mass_{symbol}")
    )
    if not chars.mid > 0:
        return UncertainValue(0.0)

    def at(normals: Mapping[str, float]) -> dict[str, float]:
        return {"mixed": physics.in_mixed_char([masses.at(normals)], [chars.at(normals)])}

    def both(key: str, z: float) -> tuple[dict[str, float], dict[str, float]]:
        return at({key: -z}), at({key: z})

    return from_perturbations(
        at({}),
        {key: both(key, Z95) for key in {**chars.sensitivities, **masses.sensitivities}},
        lambda key: both(key, Z95 / 2),
        {"mixed": lambda normals: at(normals)["mixed"]},
        {"mixed": "log"},
    )["mixed"]


def mixed_chain(
    lots: Sequence[tuple[str, LotElements]], symbol: str
) -> tuple[Chain, tuple[Input, ...]]:
    """The chains of all lots as one, each name led by its lot's, with the mixed share as the last
    step `mixed`. What a person guessed is shared by the lots: see `told_apart`.
    """
    steps: list[Step] = []
    inputs: list[Input] = []
    elements, chars = [], []
    for lot, item in lots:

        def named(name: str, lot: str = lot) -> str:
            return f"{lot}: {name}"

        steps += [
            Step(named(s.output), s.function, tuple(map(named, s.inputs)), s.scale)
            for s in item.chain
        ]
        inputs += [replace(entry, name=named(entry.name)) for entry in item.inputs]
        chars.append(named("char_mass"))
        if any(s.output == f"mass_{symbol}" for s in item.chain):
            elements.append(named(f"mass_{symbol}"))
    count = len(elements)

    def mixed(*values: Any) -> Any:
        return physics.in_mixed_char(values[:count], values[count:])

    mixed.formula = physics.in_mixed_char.formula  # type: ignore[attr-defined]
    steps.append(Step("mixed", mixed, (*elements, *chars)))
    return tuple(steps), tuple(inputs)
