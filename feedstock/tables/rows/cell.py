"""Cells: how a number of a table is read, by dimension."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Annotated, Any

from ...errors import nearest_names, shown
from ...quantities.cell import (
    BY_RULE,
    COVERS,
    ENDS,
    KNOWN,
    UNSOURCED,
    Cell,
    Scale,
    widened,
)
from ...quantities.estimate import custom_error
from ...quantities.parse import read_moisture, read_quantity
from ...quantities.units import DIMENSIONS, Refused
from .cell_parts import CELL_PARTS
from .ends import RULES, Rule, ends_word, rule_of, times

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
    from pydantic_core import CoreSchema


_CELL_KEYS = tuple(CELL_PARTS)


_BOUND_UNITS = {"share": (100, "%"), "moisture": (100, "%"), "mass share": (1e6, "mg/kg")}
"""How the bounds of what is a number in SI are told."""


class CellOf:
    """For `Annotated[Cell, CellOf("density", "log")]`: reads a cell of that dimension and checks
    it.

    `exact` lets a coefficient of a published formula stand without an interval.
    """

    def __init__(
        self,
        dimension: str,
        scale: Scale,
        minimum: float | None = None,
        maximum: float | None = None,
        exact: bool = False,
    ) -> None:
        self.dimension, self.scale, self.minimum, self.maximum, self.exact = (
            dimension,
            scale,
            minimum,
            maximum,
            exact,
        )

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.with_info_plain_validator_function(self._validate)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        text = {
            "type": "string",
            "examples": [DIMENSIONS.get(self.dimension, DIMENSIONS["share"]).example],
        }
        ends = {"anyOf": [{"enum": list(ENDS)}, {"type": "string", "pattern": f"^{BY_RULE}"}]}
        by_rule = {"properties": {"ends": ends["anyOf"][1]}, "required": ["ends"]}
        keys = {"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]}
        parts: dict[str, Any] = {
            **{key: {"type": "string"} for key in CELL_PARTS},
            **dict.fromkeys(("value", "low", "high"), text),
            "source": keys,
            "known": {"enum": list(KNOWN)},
            "covers": {"enum": list(COVERS)},
            "ends": ends,
            "n": {"type": "integer"},
        }
        return {
            "type": "object",
            "additionalProperties": False,
            "required": ["value"],
            **({} if self.exact else {"anyOf": [{"required": ["low", "high"]}, by_rule]}),
            "x-dimension": self.dimension,
            "properties": {
                name: {**part, "description": CELL_PARTS[name]} for name, part in parts.items()
            },
        }

    def _validate(self, raw: Any, info: ValidationInfo) -> Cell:
        return self.take(raw, (info.context or {}).get(RULES, {}))

    def take(self, raw: Any, rules: Mapping[str, Rule]) -> Cell:
        """A cell as it stands in a table; `rules` make the ends of those that name one."""
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
        ends = ends_word(raw, known)
        self._check_source(known, source, at, note)
        rule = rule_of(ends, raw, rules)
        values, texts, said_basis = self._values(raw) if rule is None else self._ruled(raw, rule)
        low, mid, high = widened(*values, covers, known, _count(raw), self.scale)
        return Cell(
            low,
            mid,
            high if self.maximum is None else min(high, self.maximum),
            self.dimension,
            self.scale,
            texts,
            said_basis or basis,
            known,
            covers,
            source,
            at,
            note,
            ends,
        )

    def _ruled(
        self, raw: Mapping[str, Any], rule: Rule
    ) -> tuple[tuple[float, float, float], tuple[str, str, str], str]:
        """The ends that a rule makes of the lowest and the highest value that were read, or of the
        value alone.
        """
        value = raw.get("value")
        low, high = (value if raw.get(part) is None else raw[part] for part in ("low", "high"))
        ruled = {**raw, "low": times(low, rule.below), "high": times(high, rule.above)}
        return self._values(ruled if value is not None else raw)

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
            self.minimum is not None
            and number < self.minimum
            or self.maximum is not None
            and number > self.maximum
        ):
            raise custom_error(
                "out-of-range",
                f"{part} '{shown(raw)}' is outside what is physically possible",
                self._bounds(),
            )
        return number, basis

    def _bounds(self) -> str:
        factor, unit = _BOUND_UNITS.get(self.dimension, (1, ""))
        unit = unit or DIMENSIONS[self.dimension].si.replace("1", "")
        parts = [
            f"{word} {factor * bound:.7g} {unit}".strip()
            for word, bound in (("at least", self.minimum), ("at most", self.maximum))
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
        stated, basis = read_moisture(text)
    else:
        stated, basis = read_quantity(text, dimension), ""
    if stated.low is not None:
        raise Refused(
            "not-a-quantity",
            f"'{shown(text)}' is a range",
            "Write one number here; the range goes into low and high.",
        )
    return stated.mid, basis


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


RetainedShare = Annotated[Cell, CellOf("share", "log", 0, 2)]
"""What is left of what a laboratory would leave: it may be more."""


KeptAsh = Annotated[Cell, CellOf("number", "log", 0, 2)]


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


ExactPoints = Annotated[Cell, CellOf("share", "linear", 0, 1, exact=True)]


ExactLength = Annotated[Cell, CellOf("length", "log", 0, 100, exact=True)]


ExactMass = Annotated[Cell, CellOf("mass", "log", 0, exact=True)]


ExactTemperature = Annotated[Cell, CellOf("temperature", "linear", -50, 1500, exact=True)]


Gate = Annotated[Cell, CellOf("moisture", "logit", 0, 9, exact=True)]


Dressing = Annotated[Cell, CellOf("area density", "log", 0)]
