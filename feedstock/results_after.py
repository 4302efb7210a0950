"""What comes after the burn, as data only: quality, carbon, compost, beds, what batches taught, and
whether the forecast was right.

Frozen, read back from JSON as they were.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, field_validator

from .errors import InputError
from .estimate import Estimate, FigureUnit, custom_error
from .located import problems_of, read_json, read_text

if TYPE_CHECKING:
    # results completes these models, which cite as it does
    from .results import Citation

Kilograms = Annotated[Estimate, FigureUnit("kg")]
Litres = Annotated[Estimate, FigureUnit("L")]
Percent = Annotated[Estimate, FigureUnit("%")]
Plain = Annotated[Estimate, FigureUnit("1")]
Degrees = Annotated[Estimate, FigureUnit("degC")]
Metres = Annotated[Estimate, FigureUnit("m")]
SquareMetres = Annotated[Estimate, FigureUnit("m^2")]
Weeks = Annotated[Estimate, FigureUnit("week")]
Millimetres = Annotated[Estimate, FigureUnit("mm")]
Finite = Annotated[float, Field(allow_inf_nan=False)]
Variance = Annotated[float, Field(gt=0, le=25, allow_inf_nan=False)]

SCHEMA_EXPERIENCE = 1
"""Number of the shape of a saved experience."""


class _Data(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class ClassForecast(_Data):
    """A class of a standard: whether the char would meet what can be forecast of it, and why;
    `not_forecast` needs a laboratory.
    """

    name: str
    version: str
    meets: Literal["likely", "may", "not likely"]
    why: str
    not_forecast: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()


class Quality(_Data):
    """What the char of one lot is expected to be made of.

    Ratios are molar, shares are of dry matter.

    `biochar` is False where the middle of the temperature lies below the least that the word is
    used for.
    """

    lot: str
    temperature: Degrees
    hydrogen_to_carbon: Plain
    oxygen_to_carbon: Plain
    organic_carbon: Percent
    ash: Percent
    volatile_matter: Percent
    fixed_carbon: Percent
    biochar: bool
    extrapolated: bool = False
    high_ash: bool = False
    classes: tuple[ClassForecast, ...] = ()


class FieldSort(_Data):
    """A first sort by hand and eye: where it goes, by which signs, and what to do in any case."""

    into: str
    because: tuple[str, ...]
    others: tuple[str, ...] = ()
    always: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()


class Qualities(_Data):
    """The forecast of every lot that gives char, what a laboratory alone can tell, and the first
    sort where signs were given.
    """

    lots: tuple[Quality, ...]
    sort: FieldSort | None = None
    laboratory: dict[str, str]
    notes: tuple[str, ...] = ()


class Carbon(_Data):
    """Organic carbon of the char, and what of it is expected to be in the soil after `years`, in
    two published ways.

    `by_default` rests on the default classes of the inventory guidelines (feed and temperature),
    `by_ratio` on molar H/C and the mean soil temperature. The carbon dioxide is that of the same
    carbon by molar mass. None where a way does not apply.
    """

    years: int
    soil_temperature: Degrees
    organic_carbon: Kilograms
    default_carbon: Kilograms | None = None
    by_default: Kilograms | None = None
    by_default_dioxide: Kilograms | None = None
    by_ratio: Kilograms | None = None
    by_ratio_dioxide: Kilograms | None = None
    scope: str
    notes: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()


class BlendPart(_Data):
    """One material of the mix as it lies: heaped volume, mass, and moisture on wet basis."""

    name: str
    volume: Litres
    mass: Kilograms
    moisture: Percent
    carbon_to_nitrogen: Plain | None = None


class Suggestion(_Data):
    """Amounts as they lie that would bring the mix to both targets, or why none can; `add` pairs a
    material with kilograms and litres.
    """

    reaches: bool
    add: tuple[tuple[str, float, float], ...] = ()
    text: str


class Blend(_Data):
    """Char in compost.

    Volumes are heaped and before mixing; `char_share` is of their sum, `char_share_mass` of the dry
    mass.

    `carbon_to_nitrogen` leaves the char's carbon out. `wanted` is what was asked for; None where
    the share follows from what is at hand.
    """

    char: BlendPart
    parts: tuple[BlendPart, ...]
    wanted: str | None = None
    char_share: Percent
    char_share_mass: Percent
    compost_needed: Litres
    volume: Litres
    mass: Kilograms
    moisture: Percent
    water_to_add: Litres
    carbon_to_nitrogen: Plain | None = None
    nitrogen_tied_up: Kilograms
    suggestion: Suggestion | None = None
    shape: str
    height: Metres
    width: Metres
    length: Metres | None = None
    volume_when_used: Litres
    until_used: Weeks
    crush_to: Millimetres
    remarks: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()


class BedPlan(_Data):
    """Area that the char treats at a dressing, and what to mind. `char` is its dry mass."""

    char: Kilograms
    dressing: str
    area: SquareMetres
    dressing_mass: Annotated[Estimate, FigureUnit("kg/m^2")]
    over_yearly: bool
    over_total: bool
    remarks: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()


FigureName = Literal["volume-per-feed", "mass-per-feed", "burning-rate"]


class Learned(_Data):
    """What a person's batches with one burner (and one class of feed) taught of a figure, on the
    log scale against the tables' forecast.

    `shift` and `variance` are those of the person's own level, `prior_variance` what it was before
    any batch, `batch_variance` what is new in every batch and stays; `stays` is the part of the
    forecast's log width that no batch can teach. `factor` is the level itself, 1 being the tables'
    forecast; `theirs` is the percentage of it that rests on the batches, the rest on the tables.
    """

    figure: FigureName
    burner: str
    feed: str = ""
    batches: Annotated[int, Field(ge=1)]
    shift: Annotated[float, Field(ge=-5, le=5, allow_inf_nan=False)]
    variance: Variance
    prior_variance: Variance
    batch_variance: Variance
    stays: Annotated[float, Field(gt=0, le=1, allow_inf_nan=False)]
    factor: Plain
    theirs: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]

    @property
    def key(self) -> str:
        """With whom its doubt is shared: every lot of the class in this burner."""
        return f"experience:{self.burner}/{self.feed}/{self.figure}"


class BatchFigure(_Data):
    """One figure of one batch: what the tables alone forecast and what was measured, and the weight
    it had in learning (1 in full).
    """

    batch: str
    figure: FigureName
    burner: str
    feed: str = ""
    predicted: Estimate
    measured: Estimate
    weight: Annotated[float, Field(ge=0, le=1)]
    wild: bool = False


class Experience(_Data):
    """What a person's own batches taught. Without records it changes nothing.

    Raises InputError from `read` for a file that is not one.
    """

    schema_: int = Field(default=SCHEMA_EXPERIENCE, alias="schema")
    person: str = ""
    learned: tuple[Learned, ...] = ()
    batches: tuple[BatchFigure, ...] = ()
    notes: tuple[str, ...] = ()

    model_config = ConfigDict(
        frozen=True, extra="forbid", populate_by_name=True, serialize_by_alias=True
    )

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
                each
                for each in self.learned
                if (each.figure, each.burner, each.feed) == (figure, burner, feed)
            ),
            None,
        )

    @property
    def wild(self) -> tuple[BatchFigure, ...]:
        """The records that lie so far off that they hardly counted."""
        return tuple(each for each in self.batches if each.wild)

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write it as JSON."""
        Path(path).write_text(self.model_dump_json(indent=2) + "\n", encoding="utf-8")

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> Experience:
        """An experience that was saved. Raises InputError with all problems."""
        text, name = read_text(path), os.fspath(path)
        located = read_json(text, name)
        try:
            return cls.model_validate_json(text)
        except ValidationError as why:
            raise InputError(problems_of(why, cls, located)) from None


def own_batches(experience: Experience | None, burner: str) -> list[str]:
    """How much of a forecast rests on own batches in this burner, in words; nothing where none of
    them tells.
    """
    found = (
        [each for each in experience.learned if each.burner == burner]
        if experience is not None
        else []
    )
    return [
        f"{each.figure}{f' of {each.feed}' if each.feed else ''}: "
        f"{each.factor.mid_value:.2f} ({each.factor.low_value:.2f} to "
        f"{each.factor.high_value:.2f}) times the tables' forecast, by "
        f"{each.batches} own batch{'es' if each.batches != 1 else ''}; of what can be "
        f"learnt {each.theirs:.0f} % is theirs, {100 - each.theirs:.0f} % the tables'"
        for each in found
    ]


class CheckedFigure(_Data):
    """All batches of one figure against the forecast: share inside the 90 % interval, and the bias.

    `bias` is the geometric mean of measured over predicted, in percent above (or below) 1; `within`
    counts batches.
    """

    figure: FigureName
    batches: int
    within: int
    share_within: Finite
    bias: Finite


class ForecastCheck(_Data):
    """Predicted against measured, batch by batch and together.

    `with_experience` says whether own batches were in the forecast.
    """

    rows: tuple[BatchFigure, ...]
    figures: tuple[CheckedFigure, ...]
    with_experience: bool = False
    notes: tuple[str, ...] = ()
