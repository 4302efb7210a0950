"""What happens when."""

from __future__ import annotations

from ..model.burn_plan import TimelineEvent
from ..quantities.estimate import Estimate
from ..uncertainty.estimates import scaled_estimate
from ..words import Message
from . import schedule as feeding
from .planned import _MINUTE, Planned, _minutes


def _timeline(
    planned: Planned, order: feeding.Order, covered: Estimate
) -> tuple[TimelineEvent, ...]:
    duration = planned.estimate("duration")
    events = [TimelineEvent(at=_minutes(0, 0, 0), event=_begin(planned.firing))]
    if duration is None:
        return (
            *events,
            TimelineEvent(
                at=_minutes(0, 0, 0),
                event=Message("event.closed"),
            ),
        )
    if planned.firing == "fed":
        start = planned.graph.inputs["start"]
        stands = _minutes(*(min(item, planned.end) for item in (start.low, start.mid, start.high)))
        events.append(TimelineEvent(at=stands, event=Message("event.stands")))
        events += [_with_end(event, planned, duration) for event in order.events()]
    elif planned.firing == "top-lit":
        events += _stick(planned)
    quench = Message("event.quench-set" if planned.fixed_end else "event.quench")
    events.append(TimelineEvent(at=duration, event=quench))
    later = scaled_estimate(
        duration.low_value + covered.low_value,
        duration.mid_value + covered.mid_value,
        duration.high_value + covered.high_value,
        "min",
    )
    return (*events, TimelineEvent(at=later, event=Message("event.open")))


def _with_end(event: TimelineEvent, planned: Planned, duration: Estimate) -> TimelineEvent:
    """A moment that is reckoned back from the quench is as unsure as that, where nobody set it."""
    if planned.fixed_end:
        return event
    low, mid, high = event.at.low_value, event.at.mid_value, event.at.high_value
    early = max(
        duration.low_value - (duration.mid_value - low),
        min(low, planned.graph.inputs["start"].low / _MINUTE),
    )
    return event.model_copy(
        update={
            "at": scaled_estimate(
                early, mid, duration.high_value - (duration.mid_value - high), "min"
            )
        }
    )


def _begin(firing: str) -> Message:
    return Message("event.begin-closed" if firing == "closed" else "event.begin")


def _stick(planned: Planned) -> list[TimelineEvent]:
    """What a stick set upright along the wall, down to the floor, should show on the way."""
    figure, found = planned.graph.derive("feed_time")["feed_time"], []
    low, high = figure.ends
    for quarter in (1, 2, 3, 4):
        part = quarter / 4.0
        found.append(
            TimelineEvent(
                at=_minutes(low * part, figure.mid * part, high * part),
                event=Message("event.stick", quarters=quarter),
            )
        )
    return [
        event
        for event in found
        if not planned.fixed_end or event.at.mid_value <= planned.end / _MINUTE
    ]
