"""What own batches taught, and whether forecasts were right."""

from __future__ import annotations

import os
from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, ValidationError, field_validator, model_validator

from ..documents.encoding import MOST_TABLE_BYTES, read_text
from ..documents.problems import problems_of
from ..documents.writing import write_whole
from ..errors import InputError, Problem
from ..quantities.data import Data
from ..quantities.estimate import Estimate, custom_error
from ..uncertainty.keys import experience_key
from ..words import Message
from .fields import Finite, Plain, Variance

SCHEMA_EXPERIENCE = 1
"""Number of the shape of a saved experience."""


FigureName = Literal["volume-per-feed", "mass-per-feed", "burning-rate"]


_EARLIER_NAMES = {
    "stays": "irreducible_fraction",
    "theirs": "batch_weight",
    "wild": "outlier",
}


def _present_names(data: Any) -> Any:
    """What was saved under earlier names of fields is read under those of today."""
    if not isinstance(data, dict):
        return data
    return {_EARLIER_NAMES.get(name, name): value for name, value in data.items()}


class Learned(Data):
    """What a person's batches with one burner (and one class of feed) taught of a figure, on the
    log scale against the tables' forecast.

    `shift` and `variance` are those of the person's own level, `prior_variance` what it was before
    any batch, `batch_variance` what is new in every batch and stays; `irreducible_fraction` is the
    part of the forecast's log width that no batch can teach. `factor` is the level itself, 1 being
    the tables' forecast; `batch_weight` is the percentage of it that rests on the batches, the rest
    on the tables.
    """

    figure: FigureName
    """Of which figure."""
    burner: str
    """The burner's full name."""
    feed: str = ""
    """The class of feed, where it counts."""
    batches: Annotated[int, Field(ge=1)]
    """How many batches taught it."""
    shift: Annotated[float, Field(ge=-5, le=5, allow_inf_nan=False)]
    """The person's own level against the tables, in the logarithm."""
    variance: Variance
    """How unsure that level is."""
    prior_variance: Variance
    """How unsure it was before any batch."""
    batch_variance: Variance
    """What is new in every batch."""
    irreducible_fraction: Annotated[float, Field(gt=0, le=1, allow_inf_nan=False)]
    """The part of the width that no batch can teach."""
    factor: Plain
    """The level; 1 is the tables' forecast."""
    batch_weight: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
    """The part of it that rests on the batches, %."""

    _earlier = model_validator(mode="before")(_present_names)

    @property
    def key(self) -> str:
        """With whom its doubt is shared: every lot of the class in this burner."""
        return experience_key(self.burner, self.feed, self.figure)


class BatchFigure(Data):
    """One figure of one batch: what the tables alone forecast and what was measured, and the weight
    it had in learning (1 in full).
    """

    batch: str
    """The batch."""
    figure: FigureName
    """Which figure."""
    burner: str
    """The burner's full name."""
    feed: str = ""
    """The class of feed."""
    predicted: Estimate
    """What the tables alone forecast."""
    measured: Estimate
    """What was measured."""
    weight: Annotated[float, Field(ge=0, le=1)]
    """How much it counted, 1 in full."""
    outlier: bool = False
    """Whether it lies so far off that it hardly counted."""

    _earlier = model_validator(mode="before")(_present_names)


class Experience(Data):
    """What a person's own batches taught. Without records it changes nothing.

    Raises InputError from `read` for a file that is not one.
    """

    schema_: int = Field(default=SCHEMA_EXPERIENCE, alias="schema")
    """The number of the shape."""
    person: str = ""
    """Whose batches."""
    learned: tuple[Learned, ...] = ()
    """What was learnt."""
    batches: tuple[BatchFigure, ...] = ()
    """The batches, figure by figure."""
    notes: tuple[Message, ...] = ()
    """What was left out and why."""

    model_config = ConfigDict(populate_by_name=True, serialize_by_alias=True)

    @field_validator("schema_")
    @classmethod
    def _known_schema(cls, number: int) -> int:
        if number != SCHEMA_EXPERIENCE:
            raise custom_error(
                "other-schema",
                f"this experience has the schema {number}, and this version reads "
                f"schema {SCHEMA_EXPERIENCE}",
                "Read it with the version that wrote it, or learn from the batches again.",
            )
        return number

    def of(self, figure: FigureName, burner: str, feed: str = "") -> Learned | None:
        """What is known of a figure in this burner, by full name, with this class of feed; None
        where no batch tells.
        """
        return next(
            (
                level
                for level in self.learned
                if (level.figure, level.burner, level.feed) == (figure, burner, feed)
            ),
            None,
        )

    @property
    def outliers(self) -> tuple[BatchFigure, ...]:
        """The records that lie so far off that they hardly counted."""
        return tuple(batch for batch in self.batches if batch.outlier)

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write it as JSON, the old file whole until the new one is. Raises InputError."""
        write_whole(path, self.model_dump_json(indent=2) + "\n")

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> Experience:
        """An experience that was saved. Raises InputError with all problems."""
        from ..documents.json_reader import read_json  # only where files are read

        text, name = read_text(path, MOST_TABLE_BYTES), os.fspath(path)
        try:
            document = read_json(text, name)
            return cls.model_validate_json(text)
        except InputError as why:
            raise _of_batches(text, name) or why from None
        except ValidationError as why:
            error = InputError(problems_of(why, cls, document))
            raise _of_batches(text, name) or error from None


def _of_batches(text: str, name: str) -> InputError | None:
    """What is to be said where the file holds batches, from which nothing was learnt yet."""
    from ..documents.yaml_reader import read_yaml  # only where files are read

    if name.lower().endswith(".csv"):
        batches = "char." in text.partition("\n")[0]
    else:
        try:
            data = read_yaml(text, name).data
        except InputError:
            return None
        entries = data.get("batches") if isinstance(data, dict) else data
        batches = isinstance(entries, list) and any(
            isinstance(entry, dict) and "char" in entry for entry in entries
        )
    if not batches:
        return None
    what = "this is a record of batches, not what was learnt from it"
    remedy = f"Learn from it: feedstock learn {name} --save mine.json, and give mine.json here."
    return InputError([Problem("not-learnt", what, remedy, file=name, line=1, column=1)])


def own_batches(experience: Experience | None, burner: str) -> list[Message]:
    """How much of a forecast rests on own batches in this burner; nothing where none of them
    tells.
    """
    levels = (
        [level for level in experience.learned if level.burner == burner]
        if experience is not None
        else []
    )
    return [
        Message(
            "experience.own-batches",
            figure=item.figure,
            feed=item.feed,
            factor=item.factor,
            batches=item.batches,
            batch_weight=item.batch_weight,
        )
        for item in levels
    ]


class CheckedFigure(Data):
    """All batches of one figure against the forecast: share inside the 90 % interval, and the bias.

    `bias` is the geometric mean of measured over predicted, in percent above (or below) 1; `within`
    counts batches.
    """

    figure: FigureName
    """Which figure."""
    batches: int
    """How many batches told it."""
    within: int
    """How many lay inside the interval."""
    share_within: Finite
    """The part of them, %."""
    bias: Finite
    """By how much they lie above the forecast in the mean, %."""


class ForecastCheck(Data):
    """Predicted against measured, batch by batch and together.

    `with_experience` says whether own batches were in the forecast.
    """

    rows: tuple[BatchFigure, ...]
    """The batches, figure by figure."""
    figures: tuple[CheckedFigure, ...]
    """All batches of a figure together."""
    with_experience: bool = False
    """Whether own batches were in the forecast."""
    notes: tuple[Message, ...] = ()
    """What was left out and why."""
