"""In which order the ready lots go in, until which minute, with which cue; and which pieces will
keep a raw core.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from ..lot.model import ThicknessSource
from ..model.burn_plan import Core, FeedingStep, TimelineEvent
from ..model.findings import Finding, Verdict
from ..physics import charring, raw_wood
from ..quantities.estimate import Estimate
from ..tables.citations import Citation, citation, cited
from ..tables.rows.methods.fire import Charring
from ..tables.rows.methods.planning import Planning
from ..tables.tables import Tables
from ..uncertainty.estimates import bounded_estimate, exact_estimate, scaled_estimate
from ..uncertainty.figure import UncertainValue
from ..words import Message, Quantity, Values
from .fuel import Fuel
from .graph import estimate_in

_MINUTE = 60.0
# pieces that go in together are still some moments apart
_TOGETHER = 1.0
# so many lots are named in one sentence
_NAMED = 8


def not_through(fuel: Fuel, end: float, start: float) -> UncertainValue:
    """Share of a lot's pieces with a core at `end` (s), fed evenly from `start` until its latest
    moment.
    """
    youngest, oldest = _ages(fuel, end, start)
    spread = max(oldest, youngest + _TOGETHER)
    return _shared(fuel.through, lambda time: float(charring.not_through(youngest, spread, time)))


def raw(fuel: Fuel, end: float, start: float, exponent: float) -> UncertainValue:
    """Share of a lot's wood that is still raw core at `end`, as `not_through`."""
    youngest, oldest = _ages(fuel, end, start)
    return _shared(
        fuel.through,
        lambda time: float(raw_wood.raw_share_of_lot(youngest, oldest, time, exponent)),
    )


def _ages(fuel: Fuel, end: float, start: float) -> tuple[float, float]:
    oldest = max(end - start, 0.0)
    return min(fuel.through.mid, oldest), oldest


def not_through_of_load(fuel: Fuel, end: float, front: float) -> UncertainValue:
    """Share of a lot's pieces with a core at `end` (s) in a load whose fire goes down evenly in
    `front` seconds.
    """
    youngest = max(end - front, 0.0)
    return _shared(
        fuel.through,
        lambda time: float(charring.not_through(youngest, max(end, youngest + _TOGETHER), time)),
    )


def _shared(through: UncertainValue, share: Callable[[float], float]) -> UncertainValue:
    mid = share(through.mid)
    sensitivities = {
        key: (share(through.mid + low) - mid, share(through.mid + high) - mid)
        for key, (low, high) in through.sensitivities.items()
    }
    return UncertainValue(mid, sensitivities, "linear")


def share_in(figure: UncertainValue) -> Estimate:
    """A share that is added up on the linear scale, in percent, kept within 0 and 100."""
    return bounded_estimate(figure.ends, figure.mid, "%", 100, "logit")


@dataclass(slots=True)
class Order:
    """The order for one load.

    `end` and `start` in s, `hold` the quick fuel in kg dry, `share` the part of the heap in one
    load.

    `front` is the time, s, in which the fire of a top-lit load reaches the floor.
    """

    fuels: Sequence[Fuel]
    firing: str
    end: float
    start: float
    hold: float
    share: float
    planning: Planning
    fixed_end: bool
    exponent: float
    front: float = 0.0
    _left: dict[str, float] = field(default_factory=dict)
    _known_cores: tuple[Core, ...] | None = None

    def steps(self) -> tuple[FeedingStep, ...]:
        self._left = {fuel.name: fuel.dry * self.share for fuel in self.fuels}
        made = self._fed() if self.firing == "fed" else self._laid()
        return tuple(step for step in made if step.mass.mid_value > 0)

    def names(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(step.lot for step in self.steps()))

    # -- sizes

    def quick(self) -> list[Fuel]:
        """Thin lots, twigs before straw and leaves."""
        thin = [fuel for fuel in self.fuels if fuel.thickness <= self.planning.quick_below.mid]
        return sorted(
            thin,
            key=lambda fuel: (
                fuel.fine,
                fuel.through.mid,
                fuel.thickness,
                fuel.name,
            ),
        )

    def sturdy(self) -> list[Fuel]:
        """All others, those that need longest first; among equals the densest first."""
        others = [fuel for fuel in self.fuels if fuel.thickness > self.planning.quick_below.mid]
        return sorted(others, key=lambda fuel: (-fuel.through.mid, -fuel.coefficient, fuel.name))

    # -- fed

    def _fed(self) -> Iterator[FeedingStep]:
        lighting, mending, finish = (
            getattr(self.planning, name).mid for name in ("lighting", "mending", "finish")
        )
        whole = lighting + mending + finish
        quick = self.quick()
        kindling = self._take(quick, self.hold * lighting / whole)
        reserve = self._take(quick, self.hold * (mending + finish) / whole)
        yield from (self._step(fuel, "kindling", dry, _at(0.0)) for fuel, dry in kindling)
        medium = [
            fuel
            for fuel in reversed(self.sturdy())
            if fuel.thickness <= self.planning.medium_below.mid
        ]
        first = self._take(medium, self.hold * self.planning.start.mid / whole)
        yield from (
            self._step(fuel, "establish", dry, _at(min(self.start, self.end)))
            for fuel, dry in first
        )
        for fuel in self.sturdy():
            yield self._step(fuel, "main", self._left[fuel.name], self._latest(fuel))
        for fuel in sorted(
            quick,
            key=lambda f: (f.fine, -f.through.mid, -f.coefficient, f.name),
        ):
            yield self._step(
                fuel,
                "thin",
                self._left[fuel.name],
                self._latest(fuel),
                "loose" if fuel.fine else "thin",
            )
        yield from (self._step(fuel, "finish", dry, _at(self.end)) for fuel, dry in reserve)

    def _take(self, lots: Sequence[Fuel], wanted: float) -> list[tuple[Fuel, float]]:
        """Up to `wanted` kg dry from the lots in order, and less of it left afterwards."""
        taken = []
        for fuel in lots:
            part = min(wanted, self._left[fuel.name])
            if part > 0:
                self._left[fuel.name] -= part
                wanted -= part
                taken.append((fuel, part))
        return taken

    def _latest(self, fuel: Fuel) -> Estimate:
        low, high = fuel.through.ends
        early, mid, late = (
            max(self.end - time, self.start) for time in (high, fuel.through.mid, low)
        )
        early, mid, late = (min(item, self.end) / _MINUTE for item in (early, mid, late))
        return scaled_estimate(early, mid, late, "min")

    def _step(
        self, fuel: Fuel, part: str, dry: float, latest: Estimate | None, cue: str = ""
    ) -> FeedingStep:
        lying = fuel.figures["lying_mass"]
        scale = dry / fuel.dry if fuel.dry > 0 else 0.0
        return FeedingStep(
            lot=fuel.name,
            part=part,
            mass=estimate_in(lying, "kg", scale),
            latest=latest,
            cue=Message(f"cue.{cue or part}"),
        )

    # -- laid before lighting

    def _laid(self) -> Iterator[FeedingStep]:
        if self.firing == "closed":
            yield from (
                self._step(fuel, "body", self._left[fuel.name], None, "closed")
                for fuel in self.sturdy()
            )
            yield from (
                self._step(
                    fuel,
                    "body",
                    self._left[fuel.name],
                    None,
                    "closed-thin" if self.sturdy() else "closed",
                )
                for fuel in self.quick()
            )
            return
        quick = self.quick()
        cap = self._take(quick, self.hold)
        for fuel in reversed(quick):
            yield self._step(fuel, "bottom", self._left[fuel.name], None)
        rising = list(reversed(self.sturdy()))
        for number, fuel in enumerate(rising):
            yield self._step(
                fuel, "top" if number == len(rising) - 1 else "body", self._left[fuel.name], None
            )
        yield from (self._step(fuel, "cap", dry, None) for fuel, dry in cap)

    # -- what is to be said

    def cores(self) -> tuple[Core, ...]:
        """Lots of which some pieces may keep a core, and how thin they would have to be.

        None for a burn too short to speak of, nor for a load that is left until its pieces are
        through.
        """
        if self._known_cores is None:
            self._known_cores = self._find_cores()
        return self._known_cores

    def _find_cores(self) -> tuple[Core, ...]:
        if (
            self.firing == "closed"
            or self.end <= 2 * self.start
            or (self.firing == "top-lit" and not self.fixed_end)
        ):
            return ()
        found = []
        for fuel in self.sturdy():
            share = share_in(
                not_through_of_load(fuel, self.end, self.front)
                if self.firing == "top-lit"
                else not_through(fuel, self.end, self.start)
            )
            many = share.mid_value > 100 * self.planning.cores_told.mid
            if many or (
                share.high_value > 100 * self.planning.cores_at_slow_end.mid
                and fuel.thickness > self.planning.quick_below.mid
            ):
                thin = self._split(fuel, many)
                if thin >= 1000 * fuel.thickness:
                    continue
                found.append(Core(lot=fuel.name, share=share, split_to=exact_estimate(thin, "mm")))
        return tuple(found)

    def _split(self, fuel: Fuel, surely: bool) -> float:
        """Thickness, mm, that is through in the time there is: at the middle of the doubt, or at
        its slow end where the middle suffices.
        """
        _, high = fuel.through.ends
        slow = 1.0 if surely else high / fuel.through.mid
        # in a load the fire comes to a piece on its way down: half of the burn is what the middle
        # one has
        time = (
            self.end / 2 if self.firing == "top-lit" else max(self.end - self.start, 0.0)
        ) / slow
        part = (time / fuel.through.mid) ** (1.0 / self.exponent)
        step = 1000 * self.planning.split_step.mid
        return float(
            min(
                max(step, step * (1000 * fuel.thickness * min(part, 1.0) // step)),
                1000 * fuel.thickness,
            )
        )

    def events(self) -> Iterator[TimelineEvent]:
        """When the last thick piece and the last thin one may go in."""
        sturdy = self.sturdy()
        for lots, code in (
            (sturdy[:1], "event.slowest"),
            (sturdy[-1:] if len(sturdy) > 1 else [], "event.last-thick"),
            (self.quick()[:1], "event.last-thin"),
        ):
            for fuel in lots:
                yield TimelineEvent(at=self._latest(fuel), event=Message(code, lot=fuel.name))

    def findings(self, tables: Tables) -> list[Finding]:
        found = []
        there = sum(fuel.dry for fuel in self.quick()) * self.share
        if self.firing != "closed" and there < self.hold:
            set_name = tables.method("planning", Planning)[0].partition(":")[0]
            found.append(
                Finding(
                    code="too-little-quick-fuel",
                    axis="burn",
                    permits=Verdict.READY,
                    sources=cited(self.planning.lighting, tables, set_name),
                    values=Values(
                        {
                            "needed": Quantity(self.hold, "kg"),
                            "there": Quantity(there, "kg"),
                            "thin": Quantity(1000 * self.planning.quick_below.mid, "mm"),
                        }
                    ),
                )
            )
        for core in self.cores():
            if core.share.mid_value > 100 * self.planning.cores_told.mid:
                row_id, row = tables.method("char-through", Charring)
                found.append(
                    Finding(
                        code="cores-left",
                        axis="burn",
                        permits=Verdict.READY,
                        lot=core.lot,
                        sources=(
                            *_row_sources(tables, row_id, row),
                            Citation(text="computed from the plan", known="derived"),
                        ),
                        values=Values(
                            {
                                "minutes": self.end / _MINUTE,
                                "share": core.share.mid_value,
                                "thin": Quantity(core.split_to.mid_value, "mm"),
                            }
                        ),
                    )
                )
        return found

    def notes(self, tables: Tables) -> list[Message]:
        if self.firing == "closed":
            return []
        _, row = tables.method("char-through", Charring)
        notes = [
            Message(
                "plan.standard-fire",
                lightest=Quantity(row.lightest.mid, "kg/m^3"),
                densest=Quantity(row.densest.mid, "kg/m^3"),
                deep=Quantity(2000 * row.deep_from.mid, "mm"),
            )
        ]
        for fuel in self.fuels:
            if (
                "moisture" in fuel.figures
                and fuel.figures["moisture"].mid / (1 - fuel.figures["moisture"].mid)
                > row.wettest.mid
            ):
                notes.append(Message("plan.wetter", lot=fuel.name))
        guessed = [
            fuel.name for fuel in self.fuels if fuel.model.thickness.source is ThicknessSource.TABLE
        ]
        if guessed:
            others = len(guessed) > _NAMED
            notes.append(Message("plan.no-thickness", lots=guessed[:_NAMED], others=others))
        slowest = self.sturdy()[:1]
        if (
            slowest
            and not self.fixed_end
            and self.firing != "closed"
            and self.start + slowest[0].through.mid >= self.end * (1 - 1e-9)
        ):
            notes.append(Message("plan.thickest", lot=slowest[0].name))
        return notes


def _at(time: float) -> Estimate:
    return exact_estimate(time / _MINUTE, "min")


def _row_sources(tables: Tables, row_id: str, row: Charring) -> tuple[Citation, ...]:
    set_name = row_id.partition(":")[0]
    return tuple(citation(tables, key, set_name, row.at, row.known) for key in row.source)
