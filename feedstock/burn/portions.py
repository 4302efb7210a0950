"""Parts of lots, and the orders in which they are taken for one load."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from .fire import CLASSES, HAIR, Fire
from .fuel import Fuel

SPLITS = (2, 4, 8, 16)
"""In how many a piece may be split."""

CRUMB = 0.1
"""Less than this part of the quick fuel is not worth a word: whoever lights the fire finds it; nor
is less of a bed worth splitting."""


class Portion(NamedTuple):
    """So much of a lot, kg dry, that goes into one load from `begin` to `end`, s after lighting.

    `part` is light, bed, main, loose, with or aside of a fed fire, layer or cap of a load.
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


def finest_first(fire: Fire) -> Callable[[Fuel], tuple[bool, bool, bool, float, str]]:
    """Thin before thick, wood before all else, of that what is sound."""
    return lambda fuel: (not fuel.wood, fire.soft(fuel), fuel.fine, fuel.thickness, fuel.name)


def bed_of(store: Store, finest: Iterable[Fuel], wanted: float, fire: Fire) -> list[Portion]:
    """Up to `wanted` kg dry of the finest there is, from lighting on; what is thick for a bed is
    split, and is not worth that for a crumb of it.
    """
    bed = [p._replace(end=fire.bed) for p in store.take(finest, wanted, "bed")]
    split = [p._replace(fuel=_for_bed(p.fuel, fire)) for p in bed]
    thick = [p.dry for p, was in zip(split, bed, strict=True) if p.fuel is not was.fuel]
    return split if math.fsum(thick) > CRUMB * wanted else bed


def without_crumbs(
    bed: Sequence[Portion], main: Sequence[Portion], fire: Fire
) -> tuple[list[Portion], list[Portion]]:
    """The bed without crumbs that are too thick for it, and what follows with them."""
    fed = {p.fuel.name for p in main}
    crumbs = {
        p.fuel.name: p.dry
        for p in bed
        if p.fuel.name in fed and _for_bed(p.fuel, fire) is not p.fuel
    }
    kept = [p for p in bed if p.fuel.name not in crumbs]
    if not kept:
        return list(bed), list(main)
    return kept, [p._replace(dry=p.dry + crumbs.pop(p.fuel.name, 0.0)) for p in main]


def _for_bed(fuel: Fuel, fire: Fire) -> Fuel:
    """The finest there is; wood that is thicker than a finger split no further than to that."""
    to = fire.planning.classes.finger.to
    split, further = fuel, [n for n in SPLITS if n > fuel.into]
    while further and fuel.wood and to is not None and split.thickness > to.mid * (1 + HAIR):
        split = fuel.split(further.pop(0), fire.exponent)
    return split


def in_turn(
    main: Sequence[Portion], fire: Fire, pace: float, bare: bool
) -> tuple[list[Portion], float]:
    """The feeding of an established bed, one after the other at the pace, and its end. With `bare`
    all wood is needed before what carries no fire; else some of it is kept back for that.
    """
    sound, run = _carried(main, fire)
    kept = [] if bare else _kept_back(sound, run, fire, pace)
    for portion in kept:
        sound[-1:] = [sound[-1]._replace(dry=sound[-1].dry - portion.dry)]
        if sound[-1].dry <= HAIR * portion.dry:
            sound.pop()
    fed, at = _one_by_one(sound, fire.bed, pace)
    if not kept:
        run, at = _one_by_one(run, at, pace)
        return [*fed, *run], at
    # it lasts as long as what sinks the flame, so that no portion of that goes in without wood
    with_it, sinks = (math.fsum(p.dry for p in part) for part in (kept, run))
    slow = pace * with_it / (with_it + sinks)
    beside, _ = _one_by_one(list(reversed(kept)), at, slow)
    run, at = _one_by_one(run, at, pace - slow)
    return [*fed, *run, *beside], at


def _carried(main: Sequence[Portion], fire: Fire) -> tuple[list[Portion], list[Portion]]:
    """The wood that carries the fire, and behind it what sinks the flame: fine matter, rotted
    wood.
    """
    count = len(main)
    while count and (not main[count - 1].fuel.wood or fire.soft(main[count - 1].fuel)):
        count -= 1
    return list(main[:count]), list(main[count:])


def _kept_back(
    sound: Sequence[Portion], run: Sequence[Portion], fire: Fire, pace: float
) -> list[Portion]:
    """The thinnest of the sound wood that is fed with what sinks the flame, thinnest first: as much
    as makes wood its least part of that, and no more than half of it. What takes no longer than a
    bed the embers of the wood carry.
    """
    if not sound or math.fsum(p.dry for p in run) <= fire.bed * pace:
        return []
    least = fire.planning.wood_least.mid
    most = least / (1 - least) * math.fsum(p.dry for p in run)
    most = min(most, math.fsum(p.dry for p in sound if p.fuel.wood) / 2)
    # as thin as a bed: what is laid last of it gets through while the fire burns down
    return [p._replace(fuel=_for_bed(p.fuel, fire)) for p in _thinnest(sound, most)]


def _thinnest(sound: Sequence[Portion], wanted: float) -> list[Portion]:
    kept = list[Portion]()
    for portion in reversed(sound):
        if wanted <= HAIR * portion.fuel.dry or not portion.fuel.wood:
            break
        kept.append(portion._replace(dry=min(wanted, portion.dry), part="with"))
        wanted -= kept[-1].dry
    return kept


def _one_by_one(portions: Sequence[Portion], at: float, pace: float) -> tuple[list[Portion], float]:
    timed = list[Portion]()
    for portion in portions:
        timed.append(portion._replace(begin=at, end=at + portion.dry / pace))
        at = timed[-1].end
    return timed, at
