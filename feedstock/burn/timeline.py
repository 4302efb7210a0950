"""What happens when."""

from __future__ import annotations

from ..model.burn_plan import TimelineEvent
from ..quantities.estimate import Estimate
from ..uncertainty.estimates import scaled_estimate
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
                event="How long a closed kiln takes depends on the heat that it gets: quench "
                "or seal it when the smoke has turned thin and clear.",
            ),
        )
    if planned.firing == "fed":
        start = planned.graph.inputs["start"]
        stands = _minutes(*(min(each, planned.end) for each in (start.low, start.mid, start.high)))
        events.append(
            TimelineEvent(
                at=stands,
                event="The fire stands when the embers of the medium pieces glow: the "
                "thickest may go in.",
            )
        )
        events += [_with_end(each, planned, duration) for each in order.events()]
    elif planned.firing == "top-lit":
        events += _stick(planned)
    word = (
        "Quench now: you set this time."
        if planned.fixed_end
        else "Quench when the flames sink, thin and clear, and no thick piece shows wood "
        "when it is broken open."
    )
    events.append(TimelineEvent(at=duration, event=word))
    later = scaled_estimate(
        duration.low_value + covered.low_value,
        duration.mid_value + covered.mid_value,
        duration.high_value + covered.high_value,
        "min",
    )
    return (
        *events,
        TimelineEvent(
            at=later,
            event="If it was covered instead of drowned: not opened before this, then felt "
            "and looked at again.",
        ),
    )


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


def _begin(firing: str) -> str:
    if firing == "closed":
        return (
            "A retort is closed and heated from outside; a mound or a drum kiln is lit "
            "and, once it has caught, closed step by step."
        )
    return "Light it, on top."


def _stick(planned: Planned) -> list[TimelineEvent]:
    """What a stick set upright along the wall, down to the floor, should show on the way."""
    figure, found = planned.graph.derive("feed_time")["feed_time"], []
    low, high = figure.ends
    for quarter, word in ((1, "a quarter"), (2, "half"), (3, "three quarters"), (4, "all")):
        part = quarter / 4.0
        end = (
            "; then look at the lowest pieces, and quench when they are through"
            if quarter == 4
            else ""
        )
        found.append(
            TimelineEvent(
                at=_minutes(low * part, figure.mid * part, high * part),
                event=f"A test stick set along the wall should be black over {word} of its "
                f"length{end}.",
            )
        )
    return [
        event
        for event in found
        if not planned.fixed_end or event.at.mid_value <= planned.end / _MINUTE
    ]
