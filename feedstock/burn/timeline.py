"""What happens when."""

from __future__ import annotations

from ..model.burn_plan import TimelineEvent
from ..quantities.data import trusted
from ..quantities.estimate import Estimate, exact_estimate, scaled_estimate
from ..words import Message
from .layout import raw_at_last
from .planned import MINUTE, Planned, minutes_of


def timeline_of(
    planned: Planned, duration: Estimate | None, covered: Estimate
) -> tuple[TimelineEvent, ...]:
    """From the lighting to the look under the cover."""
    layout, fire = planned.layout, planned.fire
    assert layout is not None
    assert fire is not None
    events = [trusted(TimelineEvent)(at=minutes_of(0, 0, 0), event=_begin(planned.firing))]
    if duration is None:
        return (
            *events,
            trusted(TimelineEvent)(at=minutes_of(0, 0, 0), event=Message("event.closed")),
        )
    wood = any(fuel.wood for fuel in layout.fuels)
    if planned.firing == "fed" and layout.of("main"):
        bed = fire.planning.bed
        low, mid, high = (min(at, fire.most_time) for at in (bed.low, bed.mid, bed.high))
        stands = minutes_of(low, mid, high)
        events.append(trusted(TimelineEvent)(at=stands, event=Message("event.stands", wood=wood)))
    elif planned.firing == "top-lit":
        events += _stick(planned)
    raw = bool(raw_at_last(layout, fire))
    quench = Message("event.quench-set" if layout.clamped else "event.quench", wood=wood, raw=raw)
    events.append(trusted(TimelineEvent)(at=duration, event=quench))
    later = scaled_estimate(
        duration.low_value + covered.low_value,
        duration.mid_value + covered.mid_value,
        duration.high_value + covered.high_value,
        "min",
    )
    return (*events, trusted(TimelineEvent)(at=later, event=Message("event.open")))


def _begin(firing: str) -> Message:
    return Message("event.begin-closed" if firing == "closed" else "event.begin")


def _stick(planned: Planned) -> list[TimelineEvent]:
    """What a stick set upright along the wall, down to the floor, should show on the way."""
    figure, found = planned.figures["feed_time"], []
    low, high = figure.ends
    for quarter in (1, 2, 3, 4):
        part = quarter / 4.0
        found.append(
            trusted(TimelineEvent)(
                at=minutes_of(low * part, figure.mid * part, high * part),
                event=Message("event.stick", quarters=quarter),
            )
        )
    layout = planned.layout
    assert layout is not None
    end = exact_estimate(layout.end / MINUTE, "min")
    return [
        event
        for event in found
        if not layout.clamped or event.at.mid_value <= end.mid_value * (1 + 1e-9)
    ]
