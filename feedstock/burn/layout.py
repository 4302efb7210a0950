"""What of the ready lots goes into one load, split how far, and when: decided at the middles."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from ..physics import charring, raw_wood
from ..quantities.frozen import frozen
from .fire import HAIR, Fire
from .fuel import Fuel, part_of
from .portions import (
    CRUMB,
    SPLITS,
    Portion,
    Store,
    bed_of,
    finest_first,
    in_turn,
    quick_fuels,
    thick_first,
    wood_lacking,
)

_ROUNDS = 80
_SETTLED = 12
_ALIKE = 0.02
"""Loads are alike within this part of one."""


@frozen
class Layout:
    """One load, of which there are `loads` alike; `share` is the part of every lot in it.

    `end` is the quench, s; `clamped` says that time ends the burn and not the fuel. `last` is what
    of all that was laid gets through last, `since` how long before the last feeding that was laid,
    s. `pace` is that of the fire, kg dry a second, `small` the part of the vessel's rim on which it
    is kept where there is little to burn. `quick` is the part of the quick fuel that the heap
    itself has, `most` what one load could take, kg dry. `brought` is the wood that a load without
    enough of it needs besides, kg dry: for the bed or between its layers, and for all that is fed
    onto a bed; `room` the part of a filled load that it takes, `kindling` the quick fuel that is
    brought, kg dry; `rim` the part of what one load could take that stays a hand below the rim.
    """

    fuels: tuple[Fuel, ...]
    left_out: tuple[Fuel, ...]
    portions: tuple[Portion, ...]
    loads: int
    share: float
    end: float
    burn_down: float
    last: Fuel | None
    clamped: bool
    pace: float
    small: float
    quick: float
    most: float
    brought: tuple[float, float] = (0.0, 0.0)
    kindling: float = 0.0
    room: float = 0.0
    rim: float = 1.0
    since: float = 0.0

    @property
    def alike(self) -> bool:
        """Whether all loads are of one size."""
        return math.isclose(self.share * self.loads, 1.0, rel_tol=_ALIKE)

    def of(self, *parts: str) -> list[Portion]:
        """The portions of these parts."""
        return [portion for portion in self.portions if portion.part in parts]


def laid_out(fuels: Sequence[Fuel], fire: Fire) -> Layout:
    """The load with every lot split until it gets through, and without what cannot be."""
    made = _fed if fire.firing == "fed" else _laid
    kept, out = sorted(fuels, key=lambda fuel: fuel.name), list[Fuel]()
    for _ in range(_ROUNDS):
        layout = made(kept, fire)
        if fire.firing == "closed":
            break
        split, hopeless = _changes(layout, fire)
        if split:
            kept = [split.get(fuel.name, fuel) for fuel in kept]
        elif hopeless:
            # one at a time: without the thickest the others may have time enough
            worst = max(hopeless, key=lambda fuel: (fuel.thickness, fuel.name))
            kept = [fuel for fuel in kept if fuel.name != worst.name]
            out.append(worst)
            if not kept:
                layout = replace(layout, fuels=(), portions=())
                break
        else:
            break
    return replace(layout, left_out=tuple(out))


def last_load(layout: Layout, fire: Fire) -> Layout:
    """What is left for the last load where all before it are full."""
    share = 1.0 - layout.share * (layout.loads - 1)
    return laid_out([part_of(fuel, share) for fuel in layout.fuels], fire)


def _changes(layout: Layout, fire: Fire) -> tuple[dict[str, Fuel], list[Fuel]]:
    """Lots that are to be split further, and lots that no splitting gets through."""
    split, hopeless = dict[str, Fuel](), list[Fuel]()
    for fuel in layout.fuels:
        uncharred = uncharred_of(fuel, layout, fire)
        little = _little(uncharred(1.0), fire)
        if little and fuel.thickness <= fire.thickest_of(fuel) * (1 + HAIR):
            continue
        further = _split(fuel, fire, uncharred)
        if further is not None:
            split[fuel.name] = further
        elif not little or fuel.thickness > fire.thickest * (1 + HAIR):
            hopeless.append(fuel)
    return split, hopeless


def _little(uncharred: float, fire: Fire) -> bool:
    """Whether so much raw wood is no more than the burner leaves as a rule."""
    return uncharred <= fire.brands * (1 + HAIR)


def _split(fuel: Fuel, fire: Fire, uncharred: Callable[[float], float]) -> Fuel | None:
    """The lot split no further than it must be; None where that is not to be had."""
    whole = fuel.model.thickness.value
    allowed = [
        into
        for into in SPLITS
        if into > fuel.into
        and charring.split_thickness(whole, into) >= fire.planning.thinnest_split.mid * (1 - HAIR)
    ]
    limits = dict.fromkeys((fire.thickest_of(fuel), fire.thickest))
    for limit, into in ((limit, into) for limit in limits for into in allowed):
        thin = charring.split_thickness(whole, into) <= limit * (1 + HAIR)
        if thin and _little(uncharred(_shorter(fuel, into, fire)), fire):
            return fuel.split(into, fire.exponent)
    return None


def _shorter(fuel: Fuel, into: int, fire: Fire) -> float:
    """The factor on a lot's time in the flame when it is split so."""
    return float(charring.split_time(1.0, into / fuel.into, fire.exponent))


def uncharred_of(fuel: Fuel, layout: Layout, fire: Fire) -> Callable[[float], float]:
    """The raw wood that is left of a lot, as a function of a factor on its time in the flame."""
    laid = [p for p in layout.portions if p.fuel.name == fuel.name and p.part not in ("light",)]
    laid = [p for p in laid if p.part not in ("aside", "cap")]
    whole = math.fsum(portion.dry for portion in laid)

    def uncharred(factor: float) -> float:
        if whole <= 0 or (fire.firing == "top-lit" and fire.stated):
            return 0.0
        return math.fsum(
            portion.dry / whole * _raw_share(portion, layout.end, factor, fire.exponent)
            for portion in laid
        )

    return uncharred


def raw_at_last(layout: Layout, fire: Fire) -> tuple[Fuel, ...]:
    """What of the wood is raw inside at the quench where it was laid last, by more than the burner
    leaves as a rule; the thickest first.
    """
    laid = [p for p in layout.of("bed", "main", "with", "layer") if p.fuel.wood]
    raw = {
        p.fuel.name: p.fuel
        for p in laid
        if not _little(_raw_share(p._replace(begin=p.end), layout.end, 1.0, fire.exponent), fire)
    }
    return tuple(sorted(raw.values(), key=lambda fuel: (-fuel.thickness, fuel.name)))


def _raw_share(portion: Portion, end: float, factor: float, exponent: float) -> float:
    through = portion.fuel.through.mid * factor
    youngest, oldest = max(end - portion.end, 0.0), max(end - portion.begin, 0.0)
    return float(raw_wood.raw_share_of_lot(youngest, oldest, through, exponent))


# --- a fire that is fed


def _fed(fuels: Sequence[Fuel], fire: Fire) -> Layout:
    total = math.fsum(fuel.dry for fuel in fuels)
    room = fire.usable / _char_per_fuel(fuels)
    pace, share, loads = fire.pace, 1.0, 1
    clamped, most, rim = False, 0.0, 1.0
    for _ in range(_SETTLED):
        layout = _fed_load(fuels, fire, pace, share, loads)
        before = (pace, share)
        pace, share, loads, clamped, most, rim = _next(layout, fire, total, room)
        if math.isclose(before[0], pace, rel_tol=HAIR) and math.isclose(
            before[1], share, rel_tol=HAIR
        ):
            break
    end = fire.most_time if clamped else layout.end
    return replace(layout, clamped=clamped, end=end, most=most, rim=rim)


def _next(
    layout: Layout, fire: Fire, total: float, room: float
) -> tuple[float, float, int, bool, float, float]:
    """Pace, share, loads, whether time ends the burn, and the most that one load takes, as told by
    one load; and which part of what it could take to the rim.
    """
    feeding = max(fire.most_time - fire.bed - layout.burn_down, 0.0)
    laid = fire.planning.bed_pace.mid * fire.bed
    quick = layout.quick * (fire.lighting + fire.aside)
    # what is brought is eaten too, and lies in the vessel as char
    besides = 1 + math.fsum(layout.brought) / (layout.share * total)
    eaten = fire.pace * min(quick + laid + feeding, fire.most_time) / besides
    room /= besides
    most = min(room, eaten, fire.most_fuel)
    rim = most / min(room / fire.below_rim, eaten, fire.most_fuel)
    loads = max(1, math.ceil(total / most * (1 - HAIR)))
    if loads > 1 and fire.stated:
        return fire.pace, most / total, loads, eaten <= min(room, fire.most_fuel), most, rim
    if loads > 1:
        return fire.pace, 1.0 / loads, loads, False, most, rim
    # little to burn: a fire on a part of the rim alone, as far as there is time for that
    small = total * max(fire.planning.main_least.mid / fire.made, fire.pace / eaten)
    return min(fire.pace, small), 1.0, 1, False, most, rim


def _char_per_fuel(fuels: Sequence[Fuel]) -> float:
    """Sorted char, m3 per kg dry; the mean of those lots of which it is known."""
    fuels_with_volume = [fuel for fuel in fuels if "char_volume" in fuel.figures]
    volume = math.fsum(fuel.figures["char_volume"].mid for fuel in fuels_with_volume)
    return max(volume / max(math.fsum(fuel.dry for fuel in fuels_with_volume), HAIR), HAIR**2)


def _fed_load(fuels: Sequence[Fuel], fire: Fire, pace: float, share: float, loads: int) -> Layout:
    store = Store(fuels, share)
    quick = quick_fuels(fuels, fire)
    light = store.take(quick, pace * fire.lighting, "light")
    aside = store.take(quick, pace * fire.aside, "aside")
    finest = sorted(fuels, key=finest_first(fire))
    lacking, wanted = (
        wood_lacking(fuels, fire) * share,
        pace * fire.planning.bed_pace.mid * fire.bed,
    )
    # a bed without wood is none: what is brought makes it first
    bed = bed_of(store, [f for f in finest if f.wood or not lacking], wanted, fire)
    for_bed = max(wanted - math.fsum(p.dry for p in bed), 0.0) if lacking else 0.0
    besides = max(lacking - for_bed, 0.0)
    main = [
        p._replace(part="loose" if p.fuel.fine else "main")
        for p in store.take(sorted(fuels, key=thick_first(fire)), float("inf"), "main")
    ]
    slower = 1 + besides / max(math.fsum(p.dry for p in main), HAIR)
    fed, at = in_turn(main, fire, pace / slower, bare=lacking > 0)
    laid = [p for p in fed if p.part != "with"]
    # a time that was given ends the burn, whatever is raw by then: what was laid last burns down
    late = [*light, *aside, *bed, *laid][-1:] if fire.stated else [*bed, *fed]
    last, since = _through_last(late or [*light, *aside], at)
    burn_down = fire.burn_down(last.through.mid - since if last is not None else 0.0)
    aside = [p._replace(begin=at, end=at + burn_down) for p in aside]
    there = math.fsum(p.dry for p in [*light, *aside])
    return Layout(
        fuels=tuple(fuels),
        left_out=(),
        portions=(*light, *bed, *fed, *aside),
        loads=loads,
        share=share,
        end=at + burn_down,
        burn_down=burn_down,
        last=last,
        clamped=False,
        pace=pace,
        small=pace / fire.pace,
        quick=min(there / (pace * (fire.lighting + fire.aside)), 1.0),
        most=0.0,
        brought=(for_bed, besides),
        kindling=_lacking(there, pace * (fire.lighting + fire.aside)),
        since=since,
    )


def _through_last(laid: Sequence[Portion], at: float) -> tuple[Fuel | None, float]:
    """What of all that was laid is through last, and how long before the last feeding, `at`, the
    last of it was laid: thin wood that goes in after thick does not end the fire for it.
    """
    if not laid:
        return None, 0.0
    last = max(laid, key=lambda p: (p.fuel.through.mid + p.end, p.fuel.name))
    return last.fuel, at - last.end if last.end > 0 else 0.0


# --- a load that is laid before it is lit


def _laid(fuels: Sequence[Fuel], fire: Fire) -> Layout:
    """Thick low, thin high, the cap on top; in a closed kiln the same without a cap."""
    volumes = {fuel.name: _gross(fuel, fire) for fuel in fuels}
    lacking = wood_lacking(fuels, fire) if fire.firing == "top-lit" else 0.0
    room = lacking / fire.planning.brought_density.mid / fire.packing
    gross = math.fsum(volumes.values()) + room
    loads = max(1, math.ceil(gross / fire.load * (1 - HAIR)))
    # a burn of a stated length is a full one; else all loads are alike
    share = min(1.0, fire.load / gross) if fire.stated else 1.0 / loads
    store = Store(fuels, share)
    wanted = fire.pace * (fire.lighting + fire.aside) if fire.firing == "top-lit" else 0.0
    cap = store.take(quick_fuels(fuels, fire), wanted, "cap")
    layers = store.take(sorted(fuels, key=thick_first(fire)), float("inf"), "layer")
    front = fire.front(gross * share)
    lowest = layers[0].fuel if layers else None
    burn_down = fire.burn_down(lowest.through.mid) if lowest is not None else 0.0
    end = fire.most_time if fire.stated else front + burn_down
    there = math.fsum(p.dry for p in cap)
    return Layout(
        fuels=tuple(fuels),
        left_out=(),
        portions=(*_reached(layers, volumes, front, room * share), *cap),
        loads=loads,
        share=share,
        end=0.0 if fire.firing == "closed" and not fire.stated else end,
        burn_down=burn_down,
        last=lowest,
        clamped=fire.stated,
        pace=fire.pace,
        small=1.0,
        quick=min(there / wanted, 1.0) if wanted > 0 else 1.0,
        most=math.fsum(fuel.dry for fuel in fuels) * fire.load / gross,
        brought=(lacking * share, 0.0),
        kindling=_lacking(there, wanted),
        room=room / gross,
    )


def _lacking(there: float, wanted: float) -> float:
    """The quick fuel to be brought, kg dry; a crumb whoever lights the fire finds."""
    return wanted - there if wanted - there > CRUMB * wanted else 0.0


def _reached(
    layers: Sequence[Portion], volumes: dict[str, float], front: float, room: float
) -> list[Portion]:
    """The layers with the time at which the front comes to each, the lowest last; `room` is that of
    the wood between them.
    """
    whole = math.fsum(volumes[p.fuel.name] * p.dry / p.fuel.dry for p in layers) + room
    below, out = room / whole if layers else 0.0, []
    for portion in layers:
        part = volumes[portion.fuel.name] * portion.dry / portion.fuel.dry / whole
        begin, end = front * (1.0 - below - part), front * (1.0 - below)
        out.append(portion._replace(begin=max(begin, 0.0), end=end))
        below += part
    return out


def _gross(fuel: Fuel, fire: Fire) -> float:
    """The volume in which a lot lies in a load."""
    wood = fuel.figures.get("wood_volume")
    loose = fuel.figures.get("loose_volume")
    solid = wood.mid / fire.packing if wood is not None else 0.0
    return max(float(solid + (loose.mid if loose is not None else 0.0)), HAIR**2)
