"""Char in compost: what to gather, water, C:N, the heap."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Literal

from ..char.quality import row_sources
from ..errors import InputError, Problem, counted, shown
from ..model.compost import Blend, BlendPart
from ..quantities.estimate import Estimate, bounded_estimate, scaled_estimate
from ..quantities.fields import Measured, QuantityField
from ..quantities.units import Refused
from ..tables.inputs import cell_input
from ..tables.loading.load import load_tables
from ..tables.rows.methods.compost import Compost, CompostPractice
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.inputs import Input
from ..uncertainty.keys import compost_key
from ..uncertainty.propagate import propagate
from ..words import Message, Quantity
from .containers import by_volume
from .gates import part_findings
from .inputs import (
    MOST_PARTS,
    CompostGiven,
    Known,
    char_given,
    compost_given,
    known_material,
    measured_input,
)
from .mixture import WEEK, mix_graph, wanted_names
from .pile import pile
from .suggestion import suggestion_for


def blend(
    char: Any,
    parts: Sequence[Any] = (),
    fraction: Any = None,
    *,
    by: Literal["volume", "mass"] = "volume",
    tables: Tables | None = None,
) -> Blend:
    """Char in compost: what to gather for a wanted share, or the share that is reached with what is
    at hand.

    `char` is a volume (`60 L`), a mapping (`mass` with `moisture`, `density`), an `Estimate` or an
    appraisal. `parts` are names, pairs (name, volume) or mappings (`material`, `volume` or `mass`,
    and at will `moisture`, `nitrogen`, `carbon_to_nitrogen`, `density`, `origin` and `signs`, by
    which a part goes through the gates of a lot). `fraction` is the wanted
    share of char (`15 %`, `10 to 20 %`), of the heaped volumes
    or, with `by="mass"`, of the dry mass; the amounts of the parts then only say in which
    proportion they are taken. Without it the share follows from the parts, or is the default where
    they have no amounts. Raises FeedstockError for unknown materials, wet char without moisture, a
    share outside 0 to 1.
    """
    tables = tables if tables is not None else load_tables()
    char_stated = char_given(char, tables)
    compost = _parts(parts, tables)
    materials = [known_material(part, index, tables) for index, part in enumerate(compost)]
    amounts = [_amount(part, item) for part, item in zip(compost, materials, strict=True)]
    _check_amounts(amounts)
    at_hand = bool(amounts) and all(amount is not None for amount in amounts)
    share, wanted, notes = _wanted(fraction, at_hand, by, tables)
    inputs, steps = mix_graph(char_stated, compost, materials, amounts, share, by, tables)
    there = {step.output for step in steps} | {entry.name for entry in inputs}
    names = [name for name in wanted_names(len(materials)) if name in there]
    figures = propagate(tuple(steps), inputs, names)
    result = _result(
        figures,
        materials,
        wanted,
        by,
        at_hand,
        math.fsum(amount for amount in amounts if amount is not None),
        tables,
        notes,
    )
    return result.model_copy(update={"findings": part_findings(compost, tables)})


def _parts(parts: Sequence[Any], tables: Tables) -> list[CompostGiven]:
    entries = [parts] if isinstance(parts, (str, Mapping)) else counted(parts, MOST_PARTS, "parts")
    out, problems = list[CompostGiven](), list[Problem]()
    for index, part in enumerate(entries):
        try:
            out.append(by_volume(compost_given(part, index), index, tables))
        except InputError as why:
            problems += why.problems
    if problems:
        raise InputError(problems)
    return out or [CompostGiven(material="garden compost")]


def _amount(part: CompostGiven, material: Known) -> float | None:
    """Heaped volume, m3, at the middle; None where no amount was given."""
    if part.volume is not None:
        return part.volume.mid
    return float(part.mass.mid / material.density.mid) if part.mass is not None else None


def _check_amounts(amounts: Sequence[float | None]) -> None:
    if any(amount is None for amount in amounts) and any(amount is not None for amount in amounts):
        index = next(i for i, amount in enumerate(amounts) if amount is None)
        raise InputError(
            [
                Problem(
                    "no-amount",
                    "some parts have an amount and this one has none",
                    "Give every part a volume or a mass, or none of them.",
                    f"parts[{index}]",
                )
            ]
        )


def _wanted(
    fraction: Any, at_hand: bool, by: str, tables: Tables
) -> tuple[Input | None, Message | None, list[Message]]:
    """The wanted share as an input; None where it follows from what is at hand."""
    row_id, method = tables.method("compost", Compost)
    if by not in ("volume", "mass"):
        raise InputError(
            [
                Problem(
                    "unknown-word",
                    f"'{shown(str(by))}' is not a way to count a share",
                    "Write volume or mass.",
                    "by",
                )
            ]
        )
    if fraction is None:
        if at_hand:
            return None, None, []
        name = "char_by_volume" if by == "volume" else "char_by_dry_mass"
        cell = getattr(method, name)
        share = cell_input(tables, "fraction", "methods", row_id, (name,))
        between = Message("blend.share-range", low=100 * cell.low, high=100 * cell.high)
        return share, Message("blend.wanted", share=between, by=by, default=True), []
    stated = _share(fraction)
    most = method.char_by_volume_most.mid
    notes = (
        [] if by == "mass" or stated.mid <= most else [Message("blend.outside", most=100 * most)]
    )
    return (
        measured_input("fraction", stated, "logit", 0.0, compost_key("fraction")),
        Message("blend.wanted", share=stated.text, by=by),
        notes,
    )


def _share(fraction: Any) -> Measured:
    if isinstance(fraction, (int, float)) and not isinstance(fraction, bool):
        fraction = f"{100 * fraction:.12g} %" if math.isfinite(fraction) else str(fraction)
    try:
        door = QuantityField(
            "share",
            above=0,
            below=1,
            why="Write a share of char above 0 % and below 100 %, for instance 15 %.",
        )
        stated = door.read(fraction)
        door.check(stated)
    except Refused as why:
        raise InputError([Problem(why.code, why.what, why.expected, "fraction")]) from None
    return stated


def shown_as(figure: UncertainValue, unit: str, factor: float) -> Estimate:
    """A figure in its public unit, never below nothing."""
    return bounded_estimate(figure.ends, figure.mid, unit, factor)


def _part(figures: dict[str, UncertainValue], name: str, prefix: str, ratio: bool) -> BlendPart:
    lying = "char_lying" if prefix == "char" else f"{prefix}_mass"
    return BlendPart(
        name=name,
        volume=shown_as(figures[f"{prefix}_volume"], "L", 1000),
        mass=shown_as(figures[lying], "kg", 1),
        dry_mass=shown_as(figures[f"{prefix}_dry"], "kg", 1),
        moisture=shown_as(figures[f"{prefix}_moisture"], "%", 100),
        carbon_to_nitrogen=shown_as(figures[f"{prefix}_ratio"], "1", 1) if ratio else None,
    )


def _result(
    figures: dict[str, UncertainValue],
    materials: Sequence[Known],
    wanted: Message | None,
    by: str,
    at_hand: bool,
    there: float,
    tables: Tables,
    notes: list[Message],
) -> Blend:
    row_id, practice = tables.method("compost-practice", CompostPractice)
    method_full, method = tables.method("compost", Compost)

    def litres(name: str) -> Estimate:
        return shown_as(figures[name], "L", 1000)

    sources = (*row_sources(method, tables, method_full), *row_sources(practice, tables, row_id))
    shape, height, width, length = pile(float(figures["volume"].mid), practice)
    used, crushed = practice.until_used, practice.crushed
    return Blend(
        char=_part(figures, "char", "char", False),
        parts=tuple(
            _part(figures, item.name, f"part{i}", True) for i, item in enumerate(materials)
        ),
        wanted=wanted,
        char_share=shown_as(figures["char_share"], "%", 100),
        char_share_mass=shown_as(figures["char_share_mass"], "%", 100),
        compost_needed=litres("compost_needed"),
        volume=litres("volume"),
        mass=shown_as(figures["mass"], "kg", 1),
        moisture=shown_as(figures["moisture"], "%", 100),
        water_to_add=shown_as(figures["water_to_add"], "L", 1),
        carbon_to_nitrogen=shown_as(figures["ratio"], "1", 1),
        nitrogen_tied_up=shown_as(figures["tied_up"], "kg", 1),
        suggestion=suggestion_for(figures, materials, practice, tables),
        shape=shape,
        height=height,
        width=width,
        length=length,
        volume_when_used=litres("volume_when_used"),
        until_used=scaled_estimate(used.low / WEEK, used.mid / WEEK, used.high / WEEK, "week"),
        char_crushed=litres("char_crushed"),
        crush_to=scaled_estimate(1000 * crushed.low, 1000 * crushed.mid, 1000 * crushed.high, "mm"),
        remarks=tuple(_remarks(figures, method, wanted is not None and at_hand, there)),
        notes=tuple(notes),
        sources=tuple(dict.fromkeys(sources)),
    )


def _remarks(
    figures: dict[str, UncertainValue], method: Compost, recipe: bool, there: float
) -> Iterable[Message]:
    yield Message("blend.no-food")
    yield Message("blend.charge-it")
    need = float(figures["compost_needed"].mid)
    hand = Quantity(1000 * there, "L")
    if recipe and there < need * (1 - 1e-9):
        yield Message("blend.more-needed", there=hand, more=Quantity(1000 * (need - there), "L"))
    elif recipe and there > need * (1 + 1e-9):
        yield Message("blend.less-needed", there=hand, needed=Quantity(1000 * need, "L"))
    density = float(figures["mass"].mid / figures["volume"].mid)
    if density > method.bulk_density_most.mid:
        most = Quantity(method.bulk_density_most.mid, "kg/m^3")
        yield Message("blend.dense", density=Quantity(density, "kg/m^3"), most=most)
    if float(figures["tied_up"].mid) > 0:
        yield Message("blend.ties-up")
    top = method.moisture_acceptable.high
    if float(figures["moisture"].mid) > top:
        yield Message("blend.wet", most=100 * top)
