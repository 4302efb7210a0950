"""Parts of lots, and the orders in which they are taken for one load."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from ..physics import charring
from ..quantities.frozen import frozen
from .fire import CLASSES, HAIR, Fire
from .fuel import Fuel

SPLITS = (2, 4, 8, 16)
"""In how many a piece may be split."""


@frozen
class Portion:
    """So much of a lot, kg dry, that goes into one load from `begin` to `end`, s after lighting.

    `part` is light, bed, main, loose or aside of a fed fire, layer or cap of a load.
    """

    fuel: Fuel
    dry: float
    part: str
    begin: float = 0.0
    end: float = 0.0


class Store:
    """What is left of every lot of one load while it is dealt out."""

    def __init__(self, fuels: Sequence[Fuel], share: float) -> None:
        self.left = {fuel.name: fuel.dry * share for fuel in fuels}

    def take(self, fuels: Iterable[Fuel], wanted: float, part: str) -> list[Portion]:
        """Up to `wanted` kg dry from the lots in order."""
        taken = []
        for fuel in fuels:
            dry = min(wanted, self.left[fuel.name])
            if dry > HAIR * fuel.dry:
                self.left[fuel.name] -= dry
                wanted -= dry
                taken.append(Portion(fuel, dry, part))
        return taken


def wood_lacking(fuels: Sequence[Fuel], fire: Fire) -> float:
    """The wood that carries a fire of all these lots and is not among them, kg dry."""
    whole = math.fsum(fuel.dry for fuel in fuels)
    wood = math.fsum(fuel.dry for fuel in fuels if fuel.wood)
    least = fire.planning.wood_least.mid
    if not whole or wood >= least * whole * (1 - HAIR):
        return 0.0
    # as much as makes the wood that part of all
    return float((least * whole - wood) / (1 - least))


def quick_fuels(fuels: Iterable[Fuel], fire: Fire) -> list[Fuel]:
    """What may light and finish a fire: thin first, then finger thick up to the thumb; twigs before
    straw.
    """
    most = fire.planning.quick_below.mid * (1 + HAIR)
    quick = [fuel for fuel in fuels if fuel.kindles and fuel.thickness <= most]
    return sorted(
        quick,
        key=lambda fuel: (
            CLASSES.index(fire.class_of(fuel.thickness)),
            fuel.fine,
            fuel.thickness,
            fuel.name,
        ),
    )


def thick_first(fire: Fire) -> Callable[[Fuel], tuple[bool, bool, int, bool, float, float, str]]:
    """Thick before thin, in every class wood before all else; soft wood onto the embers of sound
    wood; what lies fine and loose is last.
    """

    def key(fuel: Fuel) -> tuple[bool, bool, int, bool, float, float, str]:
        kind = CLASSES.index(fire.class_of(fuel.thickness))
        return (
            fuel.fine,
            fire.soft(fuel),
            -kind,
            not fuel.wood,
            -fuel.thickness,
            -fuel.through.mid,
            fuel.name,
        )

    return key


def fit_for_bed(bed: Sequence[Portion], fire: Fire) -> list[Portion]:
    """What is thick for a bed is split, unless most of the bed needs none of that."""
    fit = [replace(p, fuel=_for_bed(p.fuel, fire)) for p in bed]
    fine = math.fsum(p.dry for p, was in zip(fit, bed, strict=True) if p.fuel is was.fuel)
    return list(bed) if fine >= math.fsum(p.dry for p in bed) / 2 else fit


def _for_bed(fuel: Fuel, fire: Fire) -> Fuel:
    """The finest there is, split to finger thickness where it is thicker."""
    to = fire.planning.classes.finger.to
    if to is None or fuel.thickness <= to.mid * (1 + HAIR) or not fuel.wood:
        return fuel
    whole = fuel.model.thickness.value
    fine = [n for n in SPLITS if charring.split_thickness(whole, n) <= to.mid * (1 + HAIR)]
    return fuel.split(next(iter(fine), SPLITS[-1]), fire.exponent)
