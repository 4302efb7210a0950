"""What comes out: data only.

Every model survives JSON: `X.model_validate_json(x.model_dump_json()) == x`.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from functools import total_ordering
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, field_validator

from .estimate import Estimate, FigureUnit, custom_error
from .heap import Burn, Heap
from .results_after import (
    BedPlan,
    Blend,
    Carbon,
    ClassForecast,
    Experience,
    FieldSort,
    Qualities,
    Quality,
)
from .results_burn import BurnPlan, Gathering, Quench, Remark

if TYPE_CHECKING:
    from .figures import Explanation

SCHEMA = 1
"""Number of the shape of results; it stands in every written `Appraisal`."""


@total_ordering
class Verdict(Enum):
    """What may be done with a lot, from best to worst; ordered by position."""

    READY = "ready"
    DRY_FIRST = "dry first"
    CHECK_FIRST = "check first"
    KEEP_OUT = "keep out"

    @property
    def position(self) -> int:
        """0 for ready to 3 for keep out."""
        return list(Verdict).index(self)

    def __lt__(self, other: object) -> bool:
        return self.position < other.position if isinstance(other, Verdict) else NotImplemented

    def __str__(self) -> str:
        return str(self.value)


class Data(BaseModel):
    """Frozen, without unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")


Percent = Annotated[Estimate, FigureUnit("%")]
Kilograms = Annotated[Estimate, FigureUnit("kg")]
Litres = Annotated[Estimate, FigureUnit("L")]
PerVolume = Annotated[Estimate, FigureUnit("kg/m^3")]
PerMass = Annotated[Estimate, FigureUnit("mg/kg")]
Minutes = Annotated[Estimate, FigureUnit("min")]


class Citation(Data):
    """A source, where in it, and how it is known (read, memory, derived, practice, judgement)."""

    text: str
    at: str = ""
    known: str = "read"

    def __str__(self) -> str:
        return ", ".join(part for part in (self.text, self.at) if part)


class Finding(Data):
    """One thing that was found about a lot: why, what to do, and the best verdict that it leaves.

    `cleared` marks a suspicion that named evidence has lowered; it stays visible. `settle` is the
    cheapest step that would settle a `check first`, with what it can and cannot prove.
    """

    code: str
    axis: str
    reason: str
    action: str
    permits: Verdict
    evidence: tuple[str, ...] = ()
    sources: Annotated[tuple[Citation, ...], Field(min_length=1)]
    lot: str | None = None
    cleared: bool = False
    settle: str = ""


class Scores(Data):
    """0 to 100, in steps of 5; `suitability` never passes the ceiling that the verdict sets."""

    moisture: float
    density: float | None
    contamination: float
    char: float
    suitability: float


class ElementContent(Data):
    """An unwanted element, mg per kg of dry matter, in the feed and in its sorted dry char without
    soil.

    `screening` credits no loss and is what the limit judges at its high end; `central` is what is
    likely to stay in the char. `brought_by` names the suspicions that bring it; without any it is
    there by nature, and then `decides` says whether the limit judges it or is told for information.
    `largest_share` (% of the dry mass of a clean heap at which the limit breaks) explains why a lot
    is kept out and is no recipe. `soil_addition` is what one heavy dressing adds to the bed.
    """

    element: str
    name: str
    feed: PerMass | None = None
    screening: PerMass
    central: PerMass | None = None
    limit: float | None = None
    limit_set: str = ""
    limit_known: str = ""
    brought_by: tuple[str, ...] = ()
    decides: bool = False
    largest_share: Percent | None = None
    soil_addition: PerMass | None = None

    @property
    def over(self) -> bool:
        """Whether the high end of the screening passes the limit."""
        return self.limit is not None and self.screening.high_value > self.limit


class LotAppraisal(Data):
    """One lot.

    `moisture` is wet basis, `density` oven-dry mass per solid volume (of loose matter: per heaped
    volume).

    A lot that is `keep out` has a dry mass and no char. `char_volume` is None where the tables hold
    no density for it.
    """

    name: str
    material: str
    row: str
    verdict: Verdict
    scores: Scores
    moisture: Percent
    moisture_dry: Percent
    density: PerVolume | None = None
    dry_mass: Kilograms
    char_yield: Percent | None = None
    char_mass: Kilograms | None = None
    char_volume: Litres | None = None
    char_carbon: Kilograms | None = None
    water_to_lose: Litres
    water_heat: Percent | None = None
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    elements: tuple[ElementContent, ...] = ()


class Mixed(Data):
    """What all lots would be if they were thrown together: never better than the worst of them."""

    verdict: Verdict
    elements: tuple[ElementContent, ...] = ()
    findings: tuple[Finding, ...] = ()


class Total(Data):
    """The lots of one verdict together."""

    lots: tuple[str, ...]
    dry_mass: Kilograms
    char_mass: Kilograms | None = None
    char_volume: Litres | None = None
    char_carbon: Kilograms | None = None


class Caution(Data):
    """A warning that applies to this burn."""

    code: str
    text: str
    order: int
    sources: tuple[Citation, ...]


for _model in (
    Quench,
    Remark,
    BurnPlan,
    Gathering,
    ClassForecast,
    Quality,
    FieldSort,
    Qualities,
    Carbon,
    Blend,
    BedPlan,
):
    # a plan speaks in findings and cautions, which stand above it in this module
    _model.model_rebuild(
        _types_namespace={"Caution": Caution, "Citation": Citation, "Finding": Finding}
    )


class TableUse(Data):
    """A set of tables that was in use."""

    name: str
    version: str
    digest: str


class Inputs(Data):
    """What the appraisal was made from, so that it can be explained or made again.

    `notes` say how a doubtful word was read and what was assumed.
    """

    heap: Heap
    burn: Burn | None = None
    limits: str | None = None
    methods: dict[str, str] = Field(default_factory=dict)
    notes: tuple[str, ...] = ()
    experience: Experience | None = None


class Appraisal(Data):
    """A heap appraised.

    Totals of char count every lot that is not `keep out`, as if dried and cleared.

    `char_mass_ready` and `char_volume_ready` count what can go in now. `verdict` is that of the
    worst lot, `verdict_mixed` that of the whole heap if it were thrown together.
    """

    schema_: int = Field(default=SCHEMA, alias="schema")
    burner: str
    lots: tuple[LotAppraisal, ...]
    dry_mass: Kilograms
    char_mass: Kilograms
    char_volume: Litres
    char_carbon: Kilograms
    char_mass_ready: Kilograms
    char_volume_ready: Litres
    by_verdict: dict[Verdict, Total]
    verdict: Verdict
    verdict_mixed: Verdict
    mixed: Mixed | None = None
    findings: tuple[Finding, ...] = ()
    cautions: tuple[Caution, ...] = ()
    burn: BurnPlan | None = None
    inputs: Inputs
    tables: tuple[TableUse, ...]
    digest: str

    model_config = ConfigDict(
        frozen=True, extra="forbid", populate_by_name=True, serialize_by_alias=True
    )

    @field_validator("schema_")
    @classmethod
    def _known_schema(cls, number: int) -> int:
        if number != SCHEMA:
            raise custom_error(
                "other-schema",
                f"this result has the schema {number}, and this version reads schema {SCHEMA}",
                "Read it with the version that wrote it, or appraise the heap again.",
            )
        return number

    def explain(self, figure: str) -> Explanation:
        """How a figure came about (`char_mass`, `lots.limbs.moisture`, `lots[2].char_volume`), down
        to table cells.

        Raises UnknownName for a figure that is not there, and TableError where the tables in use
        are no longer the same.
        """
        return explainer(self, figure)


def _no_explainer(appraisal: Appraisal, figure: str) -> Explanation:
    raise RuntimeError("import feedstock.appraise first")


explainer: Callable[[Any, str], Explanation] = _no_explainer
"""Set by `appraise`, which stands above this module and knows how to run the chains again."""
