"""A heap appraised."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic import ConfigDict, Field, ValidationInfo, computed_field, field_validator

from ..quantities.data import Data, known_fields
from ..quantities.estimate import Estimate, custom_error
from ..quantities.format import Units
from ..quantities.frozen import FrozenMap
from ..words import Message
from .burn_plan import BurnPlan
from .drying import Drying
from .experience import Experience
from .explanation import Explanation
from .fields import Kilograms, Litres, Percent, PerMass, PerVolume
from .findings import Caution, Finding, Verdict, worst
from .inputs.burn import Burn
from .inputs.heap import Heap
from .rows import flat_rows

if TYPE_CHECKING:
    from ..tables.tables import Tables

SCHEMA = 1
"""Number of the shape of results; it stands in every written `Appraisal`."""


class Scores(Data):
    """0 to 100, in steps of 5; `suitability` never passes the ceiling that the verdict sets."""

    moisture: float
    """How dry it is."""
    density: float | None
    """How much dry matter there is in a volume."""
    contamination: float
    """How little speaks against it for soil."""
    char: float
    """How much of its carbon it keeps."""
    suitability: float
    """All of them, below the ceiling that the verdict sets."""


class ElementContent(Data):
    """An unwanted element, mg per kg of dry matter, in the feed and in its sorted dry char without
    soil.

    `screening` credits no loss and is what the limit judges at its high end; `central` is what is
    likely to stay in the char. `brought_by` names the suspicions that bring it; without any it is
    there by nature, and then `decides` says whether the limit judges it or is told for information.
    `content_known` is how the content of clean matter of its kind is known (read, memory ...).
    `largest_share` (% of the dry mass of a clean heap at which the limit breaks) explains why a lot
    is kept out and is no recipe. `soil_addition` is what one heavy dressing adds to the bed.
    """

    element: str
    """Its symbol."""
    name: str
    """Its name."""
    feed: PerMass | None = None
    """In the dry feed, mg/kg."""
    screening: PerMass
    """In the char without any loss credited, mg/kg; what the limit judges."""
    central: PerMass | None = None
    """In the char with what is likely to stay, mg/kg."""
    limit: float | None = None
    """The limit in use, mg/kg; none where the set names none."""
    limit_set: str = ""
    """The set of the limit."""
    limit_known: str = ""
    """How the limit is known."""
    content_known: str = ""
    """How the content of clean matter of its kind is known."""
    brought_by: tuple[str, ...] = ()
    """The suspicions that bring it; none where it is there by nature."""
    decides: bool = False
    """Whether the limit judges it or it is told for information."""
    largest_share: Percent | None = None
    """The share of a clean heap at which the limit breaks, %."""
    soil_addition: PerMass | None = None
    """What one heavy dressing adds to the bed, mg/kg."""

    @property
    def over(self) -> bool:
        """Whether the high end of the screening passes the limit."""
        return self.limit is not None and self.screening.high_value > self.limit


class LotAppraisal(Data):
    """One lot.

    `moisture` is wet basis, `density` oven-dry mass per solid volume (of loose matter: per heaped
    volume).

    A lot that is `keep out` has a dry mass and no char. `char_volume` is None where the tables hold
    no density for it. `verdict` is the worst that its findings permit, and is worked out from them
    whenever it is asked for: what a file says of it is not read. `read_as` tells how a material was
    read that no row goes by, None where one does. `drying` says how a lot that is too wet dries.
    """

    name: str
    """What the lot is called."""
    material: str
    """The material as the tables call it."""
    row: str
    """The full name of the material's row."""
    findings: tuple[Finding, ...] = ()
    """What was found, worst first."""
    scores: Scores
    """Scores from 0 to 100."""
    moisture: Percent
    """Water in the whole mass, %."""
    moisture_dry: Percent
    """Water per dry matter, %."""
    density: PerVolume | None = None
    """Oven-dry mass per solid volume, of loose matter per heaped volume, kg/m^3."""
    dry_mass: Kilograms
    """Oven-dry mass without soil, kg."""
    char_yield: Percent | None = None
    """Char per dry feed, %."""
    char_mass: Kilograms | None = None
    """Sorted dry char, kg; none of what is to be kept out."""
    char_volume: Litres | None = None
    """Sorted char, heaped and uncrushed, L."""
    char_carbon: Kilograms | None = None
    """Carbon in the char, kg."""
    water_to_lose: Litres
    """Water to lose before it is dry enough, L."""
    water_heat: Percent | None = None
    """The part of its heat that boils its own water, %."""
    drying: Drying | None = None
    """How it dries, where it is too wet."""
    notes: tuple[Message, ...] = ()
    """How words were read and what was assumed."""
    read_as: Message | None = None
    """How a material was read that no row goes by."""
    elements: tuple[ElementContent, ...] = ()
    """Unwanted elements that can decide or pass their limit."""

    @computed_field  # type: ignore[prop-decorator]
    @property
    def verdict(self) -> Verdict:
        """The worst that the findings permit."""
        return worst(self.findings)

    @field_validator("char_yield", "char_mass", "char_volume", "char_carbon")
    @classmethod
    def _no_char_of_what_is_kept_out(
        cls, figure: Estimate | None, info: ValidationInfo
    ) -> Estimate | None:
        out = worst(info.data.get("findings", ())) is Verdict.KEEP_OUT
        return None if out else figure


class Mixed(Data):
    """What all lots would be if they were thrown together: never better than the worst of them."""

    verdict: Verdict
    """What the whole heap would be."""
    elements: tuple[ElementContent, ...] = ()
    """Its unwanted elements."""
    findings: tuple[Finding, ...] = ()
    """What was found of it."""


class Total(Data):
    """The lots of one verdict together."""

    lots: tuple[str, ...]
    """The names of the lots."""
    dry_mass: Kilograms
    """Oven-dry mass, kg."""
    char_mass: Kilograms | None = None
    """Sorted dry char, kg."""
    char_volume: Litres | None = None
    """Sorted char, heaped, L."""
    char_carbon: Kilograms | None = None
    """Carbon in the char, kg."""


class TableUse(Data):
    """A set of tables that was in use."""

    name: str
    """The set's name."""
    version: str
    """Its version."""
    digest: str
    """The digest of its content."""


class Inputs(Data):
    """What the appraisal was made from, so that it can be explained or made again.

    `notes` say how a doubtful word was read and what was assumed.
    """

    heap: Heap
    """The heap."""
    burn: Burn | None = None
    """The burn."""
    limits: str | None = None
    """The set of limits that was named."""
    methods: FrozenMap[str, str] = FrozenMap()
    """Methods that were chosen, by purpose."""
    notes: tuple[Message, ...] = ()
    """How doubtful words were read and what was assumed."""
    experience: Experience | None = None
    """Own batches that correct the forecast."""

    @field_validator("heap", mode="before")
    @classmethod
    def _as_far_as_known(cls, heap: Any) -> Any:
        return heap if isinstance(heap, Heap) else known_fields(Heap, heap)

    @field_validator("burn", mode="before")
    @classmethod
    def _burn_as_far_as_known(cls, burn: Any) -> Any:
        return burn if isinstance(burn, Burn) else known_fields(Burn, burn)


class Appraisal(Data):
    """A heap appraised.

    Totals of char count every lot that is not `keep out`, as if dried and cleared.

    `char_mass_ready` and `char_volume_ready` count what can go in now. `verdict` is that of the
    worst lot, `verdict_mixed` that of the whole heap if it were thrown together. `advice` is the
    one measurement that would narrow the volume of char most, None where none would.
    """

    schema_: int = Field(default=SCHEMA, alias="schema")
    """The number of the shape of results."""
    burner: str
    """The burner as the tables call it."""
    lots: tuple[LotAppraisal, ...]
    """The lots, in the order of the heap."""
    dry_mass: Kilograms
    """Oven-dry mass of all lots that are not to be kept out, kg."""
    char_mass: Kilograms
    """Their sorted dry char, once dried and cleared, kg."""
    char_volume: Litres
    """Their sorted char, heaped, L."""
    char_carbon: Kilograms
    """Carbon in their char, kg."""
    char_mass_ready: Kilograms
    """Sorted dry char of the ready lots, kg."""
    char_volume_ready: Litres
    """Sorted char of the ready lots, heaped, L."""
    by_verdict: FrozenMap[Verdict, Total]
    """The lots of each verdict together."""
    goes_in: Total | None = None
    """What goes into the fire by the plan, all loads together: the ready lots without those that it
    leaves out; None without a plan.
    """
    findings: tuple[Finding, ...] = ()
    """All findings."""
    mixed: Mixed | None = None
    """What the heap would be if it were thrown together."""
    cautions: tuple[Caution, ...] = ()
    """Warnings that apply, in printing order."""
    burn: BurnPlan | None = None
    """The plan of the burn, where its measures are known."""
    advice: Message | None = None
    """The one measurement that would narrow the volume of char most; None where none would."""
    inputs: Inputs
    """What the appraisal was made from."""
    tables: tuple[TableUse, ...]
    """The sets of tables in use."""
    digest: str
    """The digest of the tables together."""

    model_config = ConfigDict(populate_by_name=True, serialize_by_alias=True)

    @computed_field  # type: ignore[prop-decorator]
    @property
    def verdict(self) -> Verdict:
        """That of the worst lot."""
        return max((lot.verdict for lot in self.lots), default=Verdict.READY)

    @computed_field  # type: ignore[prop-decorator]
    @property
    def verdict_mixed(self) -> Verdict:
        """That of the whole heap if it were thrown together."""
        return self.mixed.verdict if self.mixed is not None else self.verdict

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

    @field_validator("by_verdict")
    @classmethod
    def _as_the_findings_have_it(
        cls, totals: FrozenMap[Verdict, Total], info: ValidationInfo
    ) -> FrozenMap[Verdict, Total]:
        verdict_of = {lot: verdict for verdict, total in totals.items() for lot in total.lots}
        if verdict_of != {lot.name: lot.verdict for lot in info.data.get("lots", ())}:
            raise custom_error(
                "edited-result",
                "the totals are not of the verdicts that the findings leave",
                "Appraise the heap again.",
            )
        return totals

    @field_validator("mixed")
    @classmethod
    def _never_better(cls, mixed: Mixed | None, info: ValidationInfo) -> Mixed | None:
        """The verdict of the mixed heap, worked out anew."""
        if mixed is None:
            return None
        findings = (*info.data.get("findings", ()), *mixed.findings)
        lots = (lot.verdict for lot in info.data.get("lots", ()))
        return mixed.model_copy(update={"verdict": max(worst(findings), *lots, Verdict.READY)})

    def to_rows(self, units: Units = "metric") -> list[dict[str, Any]]:
        """One flat dict for each lot, of text and plain numbers, for data frames and tables: an
        estimate as `dry_mass.low`, `.mid`, `.high` and `.unit`, findings as codes with a bar
        between them. What there is none of is None; every row has the same columns.
        """
        return flat_rows(self.lots, units)

    def _repr_html_(self) -> str:
        """The result in a notebook."""
        from ..text import notebook_view

        return notebook_view(self)

    def noting(self, note: Message) -> Appraisal:
        """The same with one more note on what was assumed."""
        inputs = self.inputs.model_copy(update={"notes": (note, *self.inputs.notes)})
        return self.model_copy(update={"inputs": inputs})

    def explain(self, figure: str, tables: Tables | None = None) -> Explanation:
        """How a figure came about (`char_mass`, `lots.limbs.moisture`, `lots[2].char_volume`), down
        to table cells.

        Without `tables` those of this result that are still loaded in the process are read, else
        the default ones if they are the same. Raises UnknownName for a figure that is not there,
        and TableError where the tables are others.
        """
        from ..explanation import explain_figure

        return explain_figure(self, figure, tables)
