"""The shapes of table rows.

One number about the world is one `Cell`: value, interval, source and locator.

A cell's interval is converted once, on reading, to the 5th and 95th percentile: what it covers and
how it is known decide (design of the intervals: DEVELOPERS.md).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from ..errors import nearest_names, shown
from ..estimate import custom_error
from ..figures import Scale
from ..units import DIMENSIONS, Refused, read_moisture, read_quantity

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema

SCHEMA = 1
"""The number of the shape that this version reads and writes; it stands in every `set`."""

Known = Literal["read", "memory", "derived", "practice", "judgement"]
KNOWN: tuple[str, ...] = ("read", "memory", "derived", "practice", "judgement")
COVERS: tuple[str, ...] = ("p90", "p95", "sd", "range")
UNSOURCED = frozenset({"practice", "judgement"})

# what turns half a width into half the width of a 90 % interval, by what the cell says that it
# covers
_TO_P90 = {"p90": 1.0, "sd": 1.645, "p95": 0.839, "range": 1.0}
# from memory, or the range of fewer than five sources: wider by half
_WIDER = 1.5
_ENOUGH_SOURCES = 5

CLASSES = (
    "hardwood",
    "softwood",
    "bark",
    "bamboo",
    "straw",
    "stalk",
    "leaf",
    "shell",
    "husk",
    "manure",
    "seed",
    "paper",
    "board",
    "char",
)
FORMS = ("round", "brush", "sawn", "board", "loose", "pieces", "sheet")
WOODY = frozenset({"hardwood", "softwood", "bark", "bamboo", "board", "char"})
"""Classes whose char volume follows from the shrinkage of solid pieces."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One number about the world: SI values at the 5th percentile, the middle and the 95th, and
    where they come from.

    `text` holds the three values as they stand in the table.
    """

    low: float
    mid: float
    high: float
    dimension: str
    scale: Scale
    text: tuple[str, str, str]
    basis: str = ""
    known: str = "read"
    covers: str = "p90"
    source: tuple[str, ...] = ()
    at: str = ""
    note: str = ""


_CELL_KEYS = ("value", "low", "high", "source", "at", "known", "covers", "basis", "note", "n")


class CellOf:
    """For `Annotated[Cell, CellOf("density", "log")]`: reads a cell of that dimension and checks
    it.

    `exact` lets a coefficient of a published formula stand without an interval.
    """

    def __init__(
        self,
        dimension: str,
        scale: Scale,
        least: float | None = None,
        most: float | None = None,
        exact: bool = False,
    ) -> None:
        self.dimension, self.scale, self.least, self.most, self.exact = (
            dimension,
            scale,
            least,
            most,
            exact,
        )

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.no_info_plain_validator_function(self.take)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        text = {
            "type": "string",
            "examples": [DIMENSIONS.get(self.dimension, DIMENSIONS["share"]).example],
        }
        needed = ["value"] if self.exact else ["value", "low", "high"]
        return {
            "type": "object",
            "additionalProperties": False,
            "required": needed,
            "x-dimension": self.dimension,
            "properties": {
                "value": text,
                "low": text,
                "high": text,
                "source": {
                    "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]
                },
                "at": {"type": "string"},
                "known": {"enum": list(KNOWN)},
                "covers": {"enum": list(COVERS)},
                "basis": {"type": "string"},
                "note": {"type": "string"},
                "n": {"type": "integer"},
            },
        }

    def take(self, raw: Any) -> Cell:
        if isinstance(raw, Cell):
            return raw
        if not isinstance(raw, Mapping):
            raise custom_error(
                "not-a-cell",
                f"'{shown(raw)}' is not a cell",
                "Write {value: ..., low: ..., high: ..., source: ..., at: ...}.",
            )
        for key in raw:
            if key not in _CELL_KEYS:
                raise custom_error(
                    "unknown-field",
                    f"'{shown(key)}' is not part of a cell",
                    f"Parts: {', '.join(_CELL_KEYS)}.",
                    nearest_names(str(key), _CELL_KEYS),
                )
        known, covers = _word(raw, "known", KNOWN, "read"), _word(raw, "covers", COVERS, "p90")
        source, at = _texts(raw.get("source")), _text(raw, "at")
        note, basis = _text(raw, "note"), _text(raw, "basis")
        self._check_source(known, source, at, note)
        values, texts, said_basis = self._values(raw)
        low, mid, high = widened(*values, covers, known, _count(raw), self.scale)
        if self.most is not None:
            high = min(high, self.most)
        return Cell(
            low,
            mid,
            high,
            self.dimension,
            self.scale,
            texts,
            said_basis or basis,
            known,
            covers,
            source,
            at,
            note,
        )

    def _values(
        self, raw: Mapping[str, Any]
    ) -> tuple[tuple[float, float, float], tuple[str, str, str], str]:
        if raw.get("value") is None:
            raise custom_error(
                "missing-field", "the cell has no value", "Write value, low and high."
            )
        value, basis = self._number(raw["value"], "value")
        if raw.get("low") is None or raw.get("high") is None:
            if self.exact and raw.get("low") is None and raw.get("high") is None:
                return (value, value, value), (str(raw["value"]),) * 3, basis
            raise custom_error(
                "missing-field",
                "the cell has no interval",
                "Write low and high; if nothing is known of them, say so with known: "
                "judgement and wide ends.",
            )
        (low, low_basis), (high, high_basis) = (
            self._number(raw["low"], "low"),
            self._number(raw["high"], "high"),
        )
        if not low_basis == basis == high_basis:
            raise custom_error(
                "mixed-basis",
                "value, low and high are on different bases",
                "Write all three % wet or all three % dry.",
            )
        if not low <= value <= high or not low < high:
            raise custom_error(
                "inverted-range",
                f"low {raw['low']}, value {raw['value']}, high {raw['high']} are out "
                "of order, or enclose nothing",
                "Write low <= value <= high with low below high.",
            )
        return (low, value, high), (str(raw["value"]), str(raw["low"]), str(raw["high"])), basis

    def _number(self, raw: Any, part: str) -> tuple[float, str]:
        if not isinstance(raw, str):
            raw = repr(raw) if isinstance(raw, (int, float)) and not isinstance(raw, bool) else raw
        if not isinstance(raw, str):
            raise custom_error(
                "not-a-quantity",
                f"{part} '{shown(raw)}' is not a number",
                "Write for instance 570 kg/m^3.",
            )
        try:
            number, basis = _read(raw, self.dimension)
        except Refused as why:
            raise custom_error(why.code, f"{part}: {why.what}", why.expected, why.nearest) from None
        if (
            self.least is not None
            and number < self.least
            or self.most is not None
            and number > self.most
        ):
            raise custom_error(
                "out-of-range",
                f"{part} '{shown(raw)}' is outside what is physically possible",
                self._bounds(),
            )
        return number, basis

    def _bounds(self) -> str:
        unit = DIMENSIONS[self.dimension].si if self.dimension in DIMENSIONS else ""
        parts = [
            f"{word} {bound:g} {unit}".strip()
            for word, bound in (("at least", self.least), ("at most", self.most))
            if bound is not None
        ]
        return f"Write {' and '.join(parts)}."

    def _check_source(self, known: str, source: tuple[str, ...], at: str, note: str) -> None:
        if known not in UNSOURCED and not (source and at):
            raise custom_error(
                "no-source",
                f"a value that is {known} needs a source and where it stands there",
                "Write source: and at:; or known: judgement or practice, with a note.",
            )
        if known == "memory" and "from memory" not in at:
            raise custom_error(
                "no-source",
                "a value from memory does not say so",
                "Write `from memory` into at:, behind the locator.",
            )
        if known in UNSOURCED and not note:
            raise custom_error(
                "no-source",
                f"a value by {known} gives no reason",
                "Write a note: why this value, why this width.",
            )


@lru_cache(maxsize=8192)
def _read(text: str, dimension: str) -> tuple[float, str]:
    if dimension == "moisture":
        said, basis = read_moisture(text)
    else:
        said, basis = read_quantity(text, dimension), ""
    if said.low is not None:
        raise Refused(
            "not-a-quantity",
            f"'{shown(text)}' is a range",
            "Write one number here; the range goes into low and high.",
        )
    return said.mid, basis


def widened(
    low: float, mid: float, high: float, covers: str, known: str, n: int, scale: Scale
) -> tuple[float, float, float]:
    """The ends as 5th and 95th percentiles: sd x 1.645, p95 x 0.839; from memory or a range of few
    sources wider by half.

    Widths are changed on the cell's scale, so that an amount stays above nothing and a share below
    one.
    """
    factor = _TO_P90[covers]
    if known == "memory" or (covers == "range" and n < _ENOUGH_SOURCES):
        factor *= _WIDER
    if factor == 1.0:
        return low, mid, high
    return _moved(mid, low, factor, scale), mid, _moved(mid, high, factor, scale)


def _moved(mid: float, end: float, factor: float, scale: Scale) -> float:
    straight = mid + (end - mid) * factor
    if scale == "linear" or end == mid:
        return straight
    if scale == "log":
        # near the middle both ways agree; far out only the log keeps an amount above nothing
        return (
            straight
            if straight > 0.2 * mid
            else mid * (end / mid) ** factor
            if end > 0 and mid > 0
            else max(straight, 0.0)
        )
    if not 0 < mid < 1 or not 0 < end < 1:
        return min(max(straight, 0.0), 1.0)
    if 0.1 * mid < straight < 1 - 0.1 * (1 - mid):
        return straight
    x, m = math.log(end / (1 - end)), math.log(mid / (1 - mid))
    return 1 / (1 + math.exp(-(m + (x - m) * factor)))


def _word(raw: Mapping[str, Any], key: str, words: tuple[str, ...], default: str) -> str:
    value = raw.get(key, default)
    if value not in words:
        raise custom_error(
            "unknown-word",
            f"{key}: '{shown(value)}' is not a word that is known here",
            f"Write one of {', '.join(words)}.",
            nearest_names(str(value), words),
        )
    return str(value)


def _text(raw: Mapping[str, Any], key: str) -> str:
    value = raw.get(key, "")
    if not isinstance(value, str):
        raise custom_error("not-text", f"{key} is not text", "Write plain text.")
    return value


def _texts(value: Any) -> tuple[str, ...]:
    if value is None:
        return ()
    if isinstance(value, str):
        return (value,)
    if isinstance(value, (list, tuple)) and all(isinstance(v, str) for v in value):
        return tuple(value)
    raise custom_error(
        "not-text",
        "source is neither a key nor a list of keys",
        "Write source: key, or source: [key, other].",
    )


def _count(raw: Mapping[str, Any]) -> int:
    value = raw.get("n", 1)
    if not str(value).isdigit() or len(str(value)) > 6:
        raise custom_error(
            "not-a-number",
            f"n: '{shown(value)}' is not a count of sources",
            "Write a whole number.",
        )
    return int(value)


Density = Annotated[Cell, CellOf("density", "log", 1, 2500)]
Share = Annotated[Cell, CellOf("share", "logit", 0, 1)]
Points = Annotated[Cell, CellOf("share", "linear", 0, 1)]
Ratio = Annotated[Cell, CellOf("number", "log", 0)]
Fraction = Annotated[Cell, CellOf("number", "logit", 0, 1)]
Plain = Annotated[Cell, CellOf("number", "linear", exact=True)]
Length = Annotated[Cell, CellOf("length", "log", 0, 100)]
Volume = Annotated[Cell, CellOf("volume", "log", 0)]
Temperature = Annotated[Cell, CellOf("temperature", "linear", -50, 1500)]
Heating = Annotated[Cell, CellOf("specific energy", "log", 0, 60e6)]
MoistureCell = Annotated[Cell, CellOf("moisture", "logit", 0, 9)]
MassShare = Annotated[Cell, CellOf("mass share", "log", 0, 1)]
Rate = Annotated[Cell, CellOf("area rate", "log", 0)]
Minutes = Annotated[Cell, CellOf("time", "log", 0)]
HeatFlux = Annotated[Cell, CellOf("heat flux", "log", 0)]
ExactPoints = Annotated[Cell, CellOf("share", "linear", 0, 1, exact=True)]
ExactLength = Annotated[Cell, CellOf("length", "log", 0, 100, exact=True)]
ExactTemperature = Annotated[Cell, CellOf("temperature", "linear", -50, 1500, exact=True)]
Gate = Annotated[Cell, CellOf("moisture", "logit", 0, 9, exact=True)]
Dressing = Annotated[Cell, CellOf("area density", "log", 0)]


def _as_tuple(value: Any) -> Any:
    return (value,) if isinstance(value, str) else value


Words = Annotated[tuple[str, ...], BeforeValidator(_as_tuple)]
Names = dict[str, Words]


class Row(BaseModel):
    """What every row has: it is frozen, refuses unknown fields, and may say which names it goes
    by.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    kind: ClassVar[str] = ""

    names: Names = Field(default_factory=dict)
    note: str = ""

    def display(self, key: str) -> str:
        """The first English name, or the key."""
        english = self.names.get("en") or next(iter(self.names.values()), ())
        return english[0] if english else key.replace("-", " ")


class Sourced(Row):
    """A row whose text is a claim about the world and has its source."""

    source: Words = ()
    at: str = ""
    known: Known = "read"


class Source(Row):
    """A publication, standard, data set or page."""

    title: str
    authors: str = ""
    year: int | None = None
    where: str = ""
    doi: str = ""
    url: str = ""
    licence: str = ""


class Material(Row):
    """A kind of feedstock.

    What is not given comes from the row named by `like`, everything but `names`.
    """

    like: str | None = None
    class_: Literal[CLASSES] | None = Field(default=None, alias="class")  # type: ignore[valid-type]
    form: Literal[FORMS] | None = None  # type: ignore[valid-type]
    basic_density: Density | None = None
    bark_density: Density | None = None
    bark_volume: Share | None = None
    bulk_density: dict[str, Density] = Field(default_factory=dict)
    ash: Share | None = None
    soil: Share | None = None
    lignin: Share | None = None
    cellulose: Share | None = None
    hemicellulose: Share | None = None
    carbon: Share | None = None
    hydrogen: Share | None = None
    nitrogen: Share | None = None
    oxygen: Share | None = None
    sulphur: Share | None = None
    chlorine: Share | None = None
    volatile_matter: Share | None = None
    fixed_carbon: Share | None = None
    heating_value: Heating | None = None
    moisture: dict[str, MoistureCell] = Field(default_factory=dict)
    thickness: Length | None = None
    char_bulk_density: Density | None = None
    history: Literal["needed", "not needed"] | None = None
    carries: Words = ()
    accumulates: Words = ()
    traits: Words = ()
    elements: dict[str, MassShare] = Field(default_factory=dict)

    @property
    def woody(self) -> bool:
        return self.class_ in WOODY


class Condition(BaseModel):
    """What must hold together; a list means any of its words, except `signs`, which must all be
    present.

    `words` are looked for in the name and the remarks of a lot: what a person calls a thing can
    raise a suspicion.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    signs: Words = ()
    origins: Words = ()
    not_origins: Words = ()
    materials: Words = ()
    classes: Words = ()
    forms: Words = ()
    traits: Words = ()
    history: Literal["needed"] | None = None
    before: int | None = None
    after: int | None = None
    regions: Words = ()
    vessel: Words = ()
    ground: Words = ()
    lighting: Words = ()
    words: Words = ()


Permits = Literal["ready", "dry first", "check first", "keep out"]


class Rule(Condition):
    """One way in which a hypothesis is raised; its texts and its gate stand before those of the
    hypothesis.
    """

    permits: Permits | None = None
    reason: str = ""
    action: str = ""


class Load(BaseModel):
    """How much of an element a hypothesis brings: computed `by` a method row, or a `content` of the
    dry feed.

    `by: retention` takes `of` (a preservative) and `use`; `by: film` and `by: agent` take `of` (a
    film, a resin).
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    by: Literal["retention", "film", "agent", "content"]
    of: str = ""
    use: str = ""
    content: MassShare | None = None


class Settles(BaseModel):
    """A step that would settle a suspicion: what to do, what it can prove and what it cannot.

    The cheapest stands first.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    by: Literal["mark", "question", "look", "cut face", "kit", "growing test", "laboratory"]
    step: str
    proves: str
    not_proves: str
    source: Words = ()


class Contaminant(Sourced):
    """A hypothesis of contamination: what raises it, what it permits at best, why, and what to
    do.
    """

    axis: Literal["contamination", "handling"] = "contamination"
    reason: str
    action: str
    permits: Permits
    raised_by: tuple[Rule, ...] = ()
    loads: dict[str, Load] = Field(default_factory=dict)
    settles: tuple[Settles, ...] = ()
    background_decides: bool = False


class Loosens(BaseModel):
    """Why a set makes a gate of another set easier to pass."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    reason: Annotated[str, Field(min_length=1)]


class Clears(Sourced):
    """Evidence that lowers one hypothesis, and only that one, to a finding that stays visible."""

    hypothesis: str
    when: Condition
    unless: Condition | None = None
    reason: str
    loosens: Loosens | None = None


class Sign(Sourced):
    """One observation with one meaning; its effects stand with the hypotheses."""

    meaning: str
    asks: str = ""
    excludes: Words = ()


class OriginRow(Sourced):
    """Where a lot comes from."""

    meaning: str
    known_history: bool = True
    # a word of the vocabulary, not a claim about the world
    known: Known = "judgement"


class LimitSet(Sourced):
    """Published limits, mg/kg dry, of one regulation or standard in one version."""

    title: str
    version: str = ""
    date: str = ""
    scope: Literal["char", "feed"] = "char"
    basis: str = ""
    default: bool = False
    reason: str = ""
    elements: dict[str, Annotated[Cell, CellOf("mass share", "log", 0, 1, exact=True)]]


class Reference(BaseModel):
    """The feed with which a published field yield was measured."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    class_: Literal[CLASSES] = Field(alias="class")  # type: ignore[valid-type]
    ash: Share
    thickness: Length


class Burner(Sourced):
    """A way of making char: its shape, its fire and what it keeps."""

    shape: Literal["cone", "frustum", "cylinder", "cap", "trench", "prismoid", "heap", "none"]
    firing: Annotated[tuple[Literal["fed", "top-lit", "closed"], ...], BeforeValidator(_as_tuple)]
    air: Literal["open", "closed"]
    temperature: Temperature
    field_yield: Share | None = None
    reference: Reference | None = None
    contains: Words = ()
    brands: Share
    ash_kept: Fraction
    kept: Share | None = None
    moisture_ready: Gate
    moisture_refused: Gate
    # for the plan of a burn; a row without them gives yields and no plan beyond its own measures
    stands: Literal["earth", "vessel"] = "vessel"
    floor: Fraction | None = None
    usual: dict[str, Length] = Field(default_factory=dict)
    proportion: Ratio | None = None
    filling: Share | None = None
    burning: Rate | None = None
    kept_small: bool = False
    quenching: Words = ()


class Caution(Sourced):
    """A plain warning, with what triggers it."""

    text: str
    when: CautionWhen = Field(default_factory=lambda: CautionWhen(always=True))
    order: int = 50


class CautionWhen(BaseModel):
    """Any list that is given must match; `always` needs nothing."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    always: bool = False
    burners: Words = ()
    airs: Words = ()
    vessels: Words = ()
    grounds: Words = ()
    materials: Words = ()
    traits: Words = ()
    classes: Words = ()
    firing: Words = ()
    after: str = ""


class ScalePoint(BaseModel):
    """One point of a scale: a value of the figure, and the score there."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: float
    score: Annotated[float, Field(ge=0, le=100)]


class ScaleRow(Sourced):
    """A score of 0 to 100, piecewise linear between points in rising order, flat outside them."""

    of: str
    unit: str = ""
    points: Annotated[tuple[ScalePoint, ...], Field(min_length=1)]
    weight: float = 1.0
    reason: str
    known: Known = "judgement"


Caution.model_rebuild()
