"""The steps of one load: what goes in from when to when, in which portions, by which cue."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from types import MappingProxyType

from ..model.burn_plan import FeedingStep
from ..quantities.data import trusted
from ..quantities.estimate import Estimate, exact_estimate, scaled_estimate
from ..quantities.frozen import frozen
from ..words import Message, Quantity
from .before import Piece
from .fire import CLASSES, HAIR, Fire
from .fuel import Fuel
from .layout import Layout, raw_at_last
from .portions import CRUMB, Portion, without_crumbs

MINUTE = 60.0
QUICK = ("light", "aside", "cap")
"""Parts of the feeding that are thin fuel."""
_FULL, _HANDS = 0.75, 2.5
"""An armful or a handful is at least so full, and at most so many handfuls are one portion."""

_FEW = 3
"""So few layers of what lies aside as well are no step of their own."""

Ratios = tuple[float, float]
"""Both ends over the middle."""


@frozen
class Schedule:
    """Steps from a layout.

    `time` is how far off the times of the plan may be, by the length of the burn; `amount` how far
    off the amounts, where the time is set and the fire's own pace tells how much it takes. `pieces`
    tells of the lots how heavy one of their pieces is, as it is sawn.
    """

    layout: Layout
    fire: Fire
    time: Ratios
    amount: Ratios | None
    pieces: Mapping[str, Piece] = MappingProxyType({})

    def steps(self) -> tuple[FeedingStep, ...]:
        """All steps in their order."""
        steps = self._fed() if self.fire.firing == "fed" else self._load()
        return tuple(step for step in steps if step.mass.mid_value > 0)

    # -- fed

    def _fed(self) -> Iterator[FeedingStep]:
        layout, fire = self.layout, self.fire
        wanted = layout.pace * fire.lighting
        yield self._quick("light", layout.of("light"), wanted, 0.0, 0.0)
        for_bed, besides = layout.brought
        bed, main = without_crumbs(layout.of("bed"), layout.of("main", "loose"), fire)
        if bed or for_bed:
            yield self._bed(bed, main, for_bed)
        first, fed = True, list[FeedingStep]()
        flares = math.fsum(portion.dry for portion in main if not portion.fuel.wood)
        layers, aside, since = self._with_what_is_aside(main)
        company, aside = self._company(aside)
        carried = [n for n, each in enumerate(layers) if company and each[-1].end > _since(company)]
        for portions in layers:
            part, cue = portions[0].part, self._cue(portions, first)
            own = math.fsum(p.dry for p in portions if not p.fuel.wood)
            bring = besides * own / flares if own else 0.0
            cue = f"{cue}-with" if bring else cue
            begin = portions[0].begin
            step = self._step(part, portions, begin, portions[-1].end, cue, bring=bring)
            fed.append(self._with_wood(step, bring) if bring else step)
            first = False
        if carried:
            turns = round(math.fsum(_turns(fed[number]) for number in carried))
            beside = self._step("with", company, company[0].begin, company[-1].end, turns=turns)
            fed.insert(carried[0] + 1, beside)
        yield from fed
        wanted = layout.pace * fire.aside
        yield self._quick("aside", aside, wanted, since, layout.end)

    def _bed(self, bed: Sequence[Portion], main: Sequence[Portion], bring: float) -> FeedingStep:
        """The bed of embers; before thick wood with the minutes that it may take."""
        fire = self.fire
        if not bring and not any(p.fuel.wood for p in bed):
            return self._step("bed", bed, 0.0, fire.bed, "bed-loose")
        step = self._step("bed", bed, 0.0, fire.bed, bring=bring)
        thick = bool(main) and fire.class_of(main[0].fuel.thickness) == CLASSES[-1]
        takes = fire.planning.bed
        span = {"from": round(takes.low / MINUTE), "to": round(takes.high / MINUTE)}
        cue = Message("cue.bed", along=fire.along, **(span if thick else {}))
        return step.model_copy(update={"cue": cue})

    def _with_wood(self, step: FeedingStep, bring: float) -> FeedingStep:
        """The step with how many handfuls of the wood that is brought go with a portion."""
        count = step.mass.mid_value / step.portion.mid_value
        handfuls = round(bring / count / self.fire.planning.handful.mid)
        return step.model_copy(update={"cue": Message(step.cue.code, handfuls=handfuls)})

    def _with_what_is_aside(
        self, main: Sequence[Portion]
    ) -> tuple[list[list[Portion]], list[Portion], float]:
        """The layers of the feeding; all that lies aside, with the crumbs of the same fuel and its
        last layers where they are few; and since when that goes in.
        """
        aside, since = list(self.layout.of("aside")), self.layout.end - self.layout.burn_down
        names = {portion.fuel.name for portion in aside}
        layers = self._layers(main)
        same = layers and all(p.fuel.name in names for p in layers[-1])
        if same and self._time_in_layers(layers[-1]) < _FEW:
            last = layers.pop()
            aside, since = [*last, *aside], last[0].begin
        for number, portions in enumerate(layers):
            most = self._kind(max(portions, key=lambda portion: portion.dry))
            crumbs = [p for p in portions if p.fuel.name in names and self._kind(p) != most]
            aside += crumbs
            begin, end = portions[0].begin, portions[-1].end
            kept = [p for p in portions if p not in crumbs]
            layers[number] = _from_to(kept, begin, end)
        return layers, aside, since

    def _company(self, aside: list[Portion]) -> tuple[list[Portion], list[Portion]]:
        """The wood beside what sinks the flame without crumbs of what lies aside, and all that lies
        aside.
        """
        company, names = self.layout.of("with"), {portion.fuel.name for portion in aside}
        if not company:
            return [], aside
        most = self._kind(max(company, key=lambda portion: portion.dry))
        crumbs = [p for p in company if p.fuel.name in names and self._kind(p) != most]
        kept = [p for p in company if p not in crumbs]
        return _from_to(kept, company[0].begin, company[-1].end), [*aside, *crumbs]

    def _layers(self, main: Sequence[Portion]) -> list[list[Portion]]:
        """What goes in together: a class of one kind; less than one layer goes with the next, or
        with the one before where it is the last.
        """
        layers = list[list[Portion]]()
        waiting = list[Portion]()
        for _, group in groupby(main, key=self._kind):
            portions = [*waiting, *group]
            waiting = []
            if self._time_in_layers(portions) >= 1 - HAIR:
                layers.append(portions)
            elif layers and layers[-1][0].part == portions[0].part:
                layers[-1] += portions
            else:
                waiting = portions
        return [*layers, *([waiting] if waiting else [])]

    def _time_in_layers(self, portions: Sequence[Portion]) -> float:
        every = getattr(self.fire.planning.classes, self._kind(portions[-1])[1]).every.mid
        return float((portions[-1].end - portions[0].begin) / every)

    def _kind(self, portion: Portion) -> tuple[str, str, bool, bool]:
        fuel, fire = portion.fuel, self.fire
        return portion.part, fire.class_of(fuel.thickness), fuel.wood, fire.soft(fuel)

    def _cue(self, portions: Sequence[Portion], first: bool) -> str:
        most = max(portions, key=lambda portion: portion.dry)
        if most.part == "loose":
            if most.fuel.rotted and not math.fsum(self.layout.brought):
                return "loose-lumps"
            return "loose" if any(fuel.wood for fuel in self.layout.fuels) else "loose-alone"
        if not most.fuel.wood:
            return "other"
        return "first" if first else "main"

    def _quick(
        self, part: str, portions: Sequence[Portion], wanted: float, begin: float, end: float
    ) -> FeedingStep:
        """A step of the quick fuel, with what of it the heap does not have."""
        lacks = wanted - math.fsum(p.dry for p in portions)
        little = self.layout.quick >= 1.0 - CRUMB or lacks <= HAIR * wanted
        lacks = 0.0 if little else lacks
        straw = bool(portions) and all(p.fuel.fine for p in portions)
        cue = f"{part}-loose" if straw else part
        raw = raw_at_last(self.layout, self.fire) if part == "aside" else ()
        step = self._step(part, portions, begin, end, cue, bring=lacks)
        if part == "light" and self.fire.lit_at > 1:
            along = Message(f"{step.cue.code}-along", places=self.fire.lit_at)
            return step.model_copy(update={"cue": along})
        if not raw:
            return step
        late = Message(f"{step.cue.code}-raw", lots=tuple(fuel.name for fuel in raw))
        return step.model_copy(update={"cue": late})

    def _step(
        self,
        part: str,
        portions: Sequence[Portion],
        begin: float,
        end: float,
        cue: str = "",
        bring: float = 0.0,
        turns: int = 0,
    ) -> FeedingStep:
        name = "finger" if part in ("bed", "layer") else "thin"
        if portions:
            weights = dict.fromkeys(CLASSES, 0.0)
            for portion in portions:
                weights[self.fire.class_of(portion.fuel.thickness)] += portion.dry
            name = max(CLASSES, key=lambda kind: (weights[kind], CLASSES.index(kind)))
        every = getattr(self.fire.planning.classes, name).every.mid
        if part == "loose":
            planning, beside = self.fire.planning, bring > 0 or bool(self.layout.of("with"))
            every = (planning.loose_with_wood if beside else planning.loose_every).mid
        if part == "bed":
            every = min(every, self.fire.planning.classes.finger.every.mid)
        mass = self._mass(portions, bring)
        wood = any(item.fuel.wood for item in portions) or (bring > 0 and not portions)
        if turns:
            count, by_hand = turns, self._beside(mass.mid_value, turns)
        else:
            piece = self._piece(portions)
            count, by_hand = self._in_hands(mass.mid_value, end - begin, every, wood, piece)
        litres = _litres(portions) / count if part == "loose" and not bring else 0.0
        if litres > 0:
            values = {"at_once": 1, "all": count, "volume": Quantity(litres, "L")}
            by_hand = Message("hand.of-volume", **values)
        return trusted(FeedingStep)(
            part=part,
            thickness=name,
            lots=_names(portions),
            thinnest=_thickness(portions, min),
            thickest=_thickness(portions, max),
            begin=self._at(begin),
            end=self._at(end),
            mass=mass,
            portion=_parted(mass, count),
            by_hand=by_hand if count > 1 else None,
            every=self._at((end - begin) / count) if count > 1 else None,
            bring=exact_estimate(bring, "kg") if bring > 0 else None,
            cue=Message(f"cue.{cue or part}"),
        )

    def _beside(self, mass: float, turns: int) -> Message:
        """So much with each portion of what it goes with."""
        planning = self.fire.planning
        halves = 2 * mass / turns / planning.armful.mid
        if halves >= _FULL:
            return Message("hand.beside-armfuls", at_once=1, all=turns, halves=round(halves))
        handfuls = round(mass / turns / planning.handful.mid, 2)
        return Message("hand.beside", at_once=1, all=turns, handfuls=handfuls)

    def _piece(self, portions: Sequence[Portion]) -> Piece:
        """The heaviest piece of a step, as it is split."""
        found = [
            Piece(piece.mass / p.fuel.into, piece.counted)
            for p in portions
            if (piece := self.pieces.get(p.fuel.name)) is not None
        ]
        whole = len({p.fuel.name for p in portions}) == 1
        heaviest = max(found, default=Piece(0.0, False))
        return heaviest if whole else heaviest._replace(counted=False)

    def _in_hands(
        self, mass: float, time: float, every: float, wood: bool, piece: Piece
    ) -> tuple[int, Message]:
        """In how many portions a mass goes in, about one `every` so often, so that they add up to
        it: whole pieces, armfuls or handfuls of wood where that is near, else so many equal
        portions. A portion is a whole piece at least.
        """
        wanted = math.ceil(time / every * (1 - HAIR))
        # nobody feeds more often than every minute
        wanted = max(1, min(wanted, math.floor(time / MINUTE * (1 + HAIR))))
        armful, handful = self.fire.planning.armful.mid, self.fire.planning.handful.mid
        if wood and wanted > 1 and mass / wanted < handful / 2:
            return wanted, Message("hand.sticks", at_once=1, all=wanted)
        if wood:
            # and less than a hand takes is no portion
            wanted = max(1, min(wanted, math.floor(mass / handful / _FULL)))
        whole = piece.mass if piece.counted and piece.mass > armful / 2 else 0.0
        hands = [("pieces", whole)] if whole else []
        hands.append(("logs", piece.mass) if piece.mass > armful else ("armfuls", armful))
        hands += [("half-armfuls", armful / 2), ("handfuls", handful)]
        for name, one in hands:
            full = mass / wanted / one
            near = name == "pieces" or full >= _FULL
            if not wood or not near or (name == "handfuls" and full > _HANDS):
                continue
            at_once = max(1, round(full))
            while mass / one / at_once > max(time / MINUTE, 1):
                at_once += 1
            count = max(1, round(mass / one / at_once))
            return count, Message(f"hand.{name}", at_once=at_once, all=count * at_once)
        return wanted, Message("hand.portions", at_once=1, all=wanted)

    def _at(self, time: float) -> Estimate:
        low, high = self.time
        minutes = time / MINUTE
        return scaled_estimate(minutes * low, minutes, minutes * high, "min")

    def _mass(self, portions: Sequence[Portion], bring: float) -> Estimate:
        """As it lies; what is brought counts dry."""
        low = mid = high = 0.0
        for portion in portions:
            lying = lying_of(portion)
            below, above = self.amount or _ratios(portion.fuel)
            low, mid, high = low + lying * below, mid + lying, high + lying * above
        return scaled_estimate(low + bring, mid + bring, high + bring, "kg")

    # -- laid before lighting

    def _lying(self, step: FeedingStep) -> FeedingStep:
        """The step with its cue for a vessel in which nothing lies across."""
        if not self.fire.along:
            return step
        return step.model_copy(update={"cue": Message(step.cue.code, along=True)})

    def _load(self) -> Iterator[FeedingStep]:
        layout, fire = self.layout, self.fire
        layers = layout.of("layer")
        grouped = [
            list(group)
            for _, group in groupby(layers, key=lambda p: fire.class_of(p.fuel.thickness))
        ]
        if layout.brought[0] > 0:
            wood = self._step("layer", [], 0.0, 0.0, "layer-wood", bring=layout.brought[0])
            yield self._lying(wood)
        for number, portions in enumerate(grouped):
            place = "lowest" if number == 0 else "upper" if number == len(grouped) - 1 else "middle"
            cue = "closed" if fire.firing == "closed" else place
            yield self._lying(self._step("layer", portions, 0.0, 0.0, cue))
        if fire.firing == "top-lit":
            wanted = layout.pace * (fire.lighting + fire.aside)
            yield self._quick("cap", layout.of("cap"), wanted, 0.0, 0.0)


def _since(portions: Sequence[Portion]) -> float:
    """When they begin, a hair later: what ends then is before them."""
    return portions[0].begin * (1 + HAIR)


def _turns(step: FeedingStep) -> int:
    """In how many portions a step goes in."""
    hands = step.by_hand
    return 1 if hands is None else round(hands.values["all"] / hands.values["at_once"])


def _from_to(portions: Sequence[Portion], begin: float, end: float) -> list[Portion]:
    """Portions that begin and end so all together."""
    timed = [portions[0]._replace(begin=begin), *portions[1:]]
    return [*timed[:-1], timed[-1]._replace(end=end)]


def _litres(portions: Sequence[Portion]) -> float:
    """What they are as they lie loose, L; nothing where that of one is not known."""
    shares = [(p.fuel.scooped, p.dry / p.fuel.dry) for p in portions]
    if any(volume is None for volume, _ in shares):
        return 0.0
    return 1000 * math.fsum(volume * share for volume, share in shares if volume is not None)


def _names(portions: Sequence[Portion]) -> tuple[str, ...]:
    """Each lot once, the thickest first."""
    ordered = sorted(portions, key=lambda p: (-p.fuel.thickness, p.fuel.name))
    return tuple(dict.fromkeys(p.fuel.name for p in ordered))


def _thickness(
    portions: Sequence[Portion], end: Callable[[Iterable[float]], float]
) -> Estimate | None:
    if not portions:
        return None
    return exact_estimate(1000 * end(p.fuel.thickness for p in portions), "mm")


def _parted(mass: Estimate, count: int) -> Estimate:
    low, mid, high = mass.low_value, mass.mid_value, mass.high_value
    return scaled_estimate(low / count, mid / count, high / count, "kg")


def lying_of(portion: Portion) -> float:
    """A portion as it lies, kg."""
    fuel = portion.fuel
    return float(fuel.figures["lying_mass"].mid * portion.dry / fuel.dry)


def _ratios(fuel: Fuel) -> Ratios:
    low, high = fuel.figures["dry_mass"].ends
    return low / fuel.dry, high / fuel.dry
