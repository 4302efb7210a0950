"""What is sawn and split before the fire."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from ..model.burn_plan import Cut, Split
from ..quantities.data import trusted
from ..quantities.estimate import exact_estimate
from .fire import CLASSES, HAIR, Fire
from .fuel import Fuel
from .layout import Layout
from .portions import Portion


def cuts_of(layout: Layout, fire: Fire, longest: float) -> tuple[Cut, ...]:
    """Lots whose pieces are longer than what lies flat in the vessel, or than what is split, into
    equal lengths that are not; of what length nobody told there is none.
    """
    cuts = list[Cut]()
    for fuel in layout.fuels:
        pieces = fuel.lot.pieces
        most = min(longest, fire.planning.sawn_to_split.mid) if fuel.into > 1 else longest
        if pieces is not None and pieces.length.mid > most * (1 + HAIR):
            into = math.ceil(pieces.length.mid / most * (1 - HAIR))
            length = exact_estimate(pieces.length.mid / into, "m")
            cuts.append(trusted(Cut)(lot=fuel.name, into=into, length=length))
    return tuple(cuts)


class Piece(NamedTuple):
    """How heavy a piece of a lot is as it is sawn and lies, kg; `counted` where its pieces were,
    else no piece is heavier.
    """

    mass: float
    counted: bool


def pieces_of(layout: Layout, fire: Fire, longest: float, cuts: Iterable[Cut]) -> dict[str, Piece]:
    """Pieces of wood as they are sawn: of lots that were counted, and of what is thick."""
    lengths = {cut.lot: cut.into for cut in cuts}
    found = dict[str, Piece]()
    for fuel in layout.fuels:
        count, lying = _count(fuel), float(fuel.figures["lying_mass"].mid)
        if count is not None:
            found[fuel.name] = Piece(lying / count / lengths.get(fuel.name, 1), counted=True)
            continue
        volume = fuel.figures.get("wood_volume")
        if volume is not None and fuel.wood and fire.class_of(fuel.thickness) == CLASSES[-1]:
            length = min(longest, fire.planning.sawn_to_split.mid) if fuel.into > 1 else longest
            whole = math.pi / 4 * fuel.model.thickness.value**2 * length
            found[fuel.name] = Piece(lying / float(volume.mid) * whole, counted=False)
    return found


def splits_of(layout: Layout, fire: Fire, longest: float, cuts: Iterable[Cut]) -> tuple[Split, ...]:
    """What is to be split before the fire, for all loads: what of a lot makes the bed or goes with
    what sinks the flame, and the rest of the lots; as it is sawn by then.
    """
    lengths = {cut.lot: cut.into for cut in cuts}
    into = {fuel.name: fuel.into for fuel in layout.fuels}
    finer: dict[tuple[str, int], list[Portion]] = {}
    for portion in layout.of("bed", "with"):
        if portion.fuel.into > into[portion.fuel.name]:
            finer.setdefault((portion.fuel.name, portion.fuel.into), []).append(portion)
    parts = {
        key: math.fsum(p.dry for p in portions) / layout.share / portions[0].fuel.dry
        for key, portions in finer.items()
    }
    rest = {
        name: 1.0 - math.fsum(part for (lot, _), part in parts.items() if lot == name)
        for name in into
    }
    # what lies in the vessel may still be too long to split
    most = fire.planning.sawn_to_split.mid
    sawn = most if longest > most * (1 + HAIR) else None
    splits = [
        _split(fuel, rest[fuel.name], "through", sawn, lengths)
        for fuel in layout.fuels
        if fuel.into > 1 and rest[fuel.name] > HAIR
    ]
    for key, portions in finer.items():
        fuel, whys = portions[0].fuel, {p.part for p in portions}
        splits.append(
            _split(fuel, parts[key], whys.pop() if len(whys) == 1 else "both", sawn, lengths)
        )
    return tuple(splits)


def _split(
    fuel: Fuel, part: float, why: str, sawn: float | None, lengths: Mapping[str, int]
) -> Split:
    """So large a part of a lot; of counted pieces whole ones, more of them of the finer. Of pieces
    of which nobody told the length it is told to what they are sawn first.
    """
    whole, pieces = _count(fuel), None
    if whole is not None:
        more = why != "through"
        whole *= lengths.get(fuel.name, 1)
        pieces = math.ceil(whole * part - HAIR) if more else math.floor(whole * part + HAIR)
    return trusted(Split)(
        lot=fuel.name,
        pieces=pieces,
        into=fuel.into,
        thickness=exact_estimate(1000 * fuel.thickness, "mm"),
        mass=exact_estimate(float(fuel.figures["lying_mass"].mid) * part, "kg"),
        why=why,
        by_hand=fuel.rotted,
        sawn=exact_estimate(sawn, "m") if sawn and whole is None and not fuel.rotted else None,
    )


def _count(fuel: Fuel) -> int | None:
    """How many pieces a lot has, where they were counted."""
    pieces = fuel.lot.pieces
    return pieces.count if pieces is not None else None
