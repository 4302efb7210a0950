"""What own batches taught, and whether forecasts were right."""

from __future__ import annotations

from ..say import FormattedValues, Sentence


def _own_batches(values: FormattedValues) -> str:
    feed = f" of {values('feed')}" if values["feed"] else ""
    batches = f"{values('batches')} own batch{'es' if values['batches'] != 1 else ''}"
    return values.fill(
        "{figure}{of_feed}: {factor:mid .2f} ({factor:range .2f}) times the tables' forecast, by "
        "{own}; of what can be learnt {batch_weight:.0f} % is theirs, {rest:.0f} % the tables'",
        of_feed=feed,
        own=batches,
        rest=100 - values["batch_weight"],
    )


SENTENCES: dict[str, Sentence] = {
    "experience.own-batches": _own_batches,
    "experience.other-burner": lambda values: values.fill(
        "none of your own batches was used: they are of another burner ({theirs}, not {burner})",
        theirs=", ".join(values.each("burners")),
    ),
    "experience.other-feed": lambda values: values.fill(
        "none of your own batches was used: they are of other kinds of feed ({theirs})",
        theirs=", ".join(values.each("feeds")),
    ),
    "experience.mixed": "{count} mixed batch(es) say nothing of one class of feed: {figure} was "
    "not learnt from them",
    "experience.of-batch": "{batch}: {note}",
    "experience.no-rate": "no burning rate: it is learnt from a fed fire whose rim was measured",
    "experience.no-vessel": "no burning rate: {problem}",
    "experience.same-batches": "{count} of these batches stand in the experience itself: for them "
    "this shows the fit and is no test",
}
