"""A batch as a person records it."""

from __future__ import annotations

import datetime
import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Any, Self

from pydantic import (
    AfterValidator,
    ConfigDict,
    StringConstraints,
    model_validator,
)

from ..errors import shown
from ..model.inputs.amount import Containers
from ..model.inputs.burn import BURN_EXAMPLE, Burn
from ..model.inputs.fields import InputModel, Mass, Remarks, Text
from ..model.inputs.heap import Lots
from ..model.inputs.lot import LOT_EXAMPLE, Lot
from ..quantities.estimate import custom_error
from ..quantities.fields import Measured, MoistureField, QuantityField

if TYPE_CHECKING:
    from ..model.inputs.fields import Quantity


_WET = (
    "Measure it heaped in a bucket and write volume: 60 L; or dry a handful at 105 degC "
    "until its weight stays and write sample: {wet: 412 g, oven_dry: 180 g} beside mass."
)


def _as_date(value: str) -> str:
    try:
        return datetime.date.fromisoformat(value).isoformat()
    except ValueError:
        raise custom_error(
            "not-a-date",
            f"'{shown(value)}' is not a date",
            "Write year-month-day, for instance 2026-03-14.",
        ) from None


Date = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=40),
    AfterValidator(_as_date),
]


Time = Annotated[
    Measured,
    QuantityField(
        "time",
        above=0,
        maximum=30 * 86400,
        why="Write how long it burnt, from lighting to quench, for instance 55 min.",
    ),
]


AnyMass = Annotated[Measured, QuantityField("mass", minimum=0, maximum=1e6)]


AnyVolume = Annotated[Measured, QuantityField("volume", minimum=0, maximum=1e4)]


class DriedSample(InputModel):
    """A handful of the char, weighed as it lay and after drying."""

    wet: Mass
    """Its mass as it lay."""
    oven_dry: Mass
    """Its mass after drying at 105 degC."""

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if self.oven_dry.mid > self.wet.mid:
            raise custom_error(
                "out-of-range",
                "the sample weighs more after drying than before",
                "Write the mass as it lay under wet, the dried one under oven_dry.",
            )
        return self

    if TYPE_CHECKING:

        def __init__(self, *, wet: Quantity, oven_dry: Quantity) -> None: ...


class CharMeasured(InputModel):
    """Sorted char without brands: heaped volume, or so many containers, or a mass with its moisture
    or a dried sample; both at will.
    """

    volume: (
        Annotated[
            Measured,
            QuantityField(
                "volume",
                above=0,
                maximum=1e4,
                why="Write the heaped volume of the sorted char, above nothing.",
            ),
        ]
        | None
    ) = None
    """Heaped volume of the sorted char."""
    containers: Containers | None = None
    """So many buckets or bags of it."""
    mass: (
        Annotated[
            Measured,
            QuantityField(
                "mass",
                above=0,
                maximum=1e6,
                why="Write the mass of the sorted char, above nothing.",
            ),
        ]
        | None
    ) = None
    """Its mass, with moisture or sample."""
    moisture: Annotated[Measured, MoistureField()] | None = None
    """Its water."""
    sample: DriedSample | None = None
    """A handful of it, weighed before and after drying."""

    @model_validator(mode="after")
    def _dry(self) -> Self:
        if self.volume is None and self.containers is None and self.mass is None:
            raise custom_error(
                "no-amount",
                "the char has no amount",
                "Write volume: 60 L (heaped, sorted), or mass with a dried sample.",
            )
        if self.volume is not None and self.containers is not None:
            raise custom_error(
                "two-amounts",
                "the volume of the char is given in two ways",
                "Write volume, or containers, not both.",
            )
        if self.mass is not None and self.moisture is None and self.sample is None:
            raise custom_error(
                "wet-mass",
                f"'{shown(self.mass.text)}' of char without its moisture: quenched "
                "char holds one to four times its own mass of water",
                _WET,
                at=("mass",),
            )
        if self.moisture is not None and self.sample is not None:
            raise custom_error(
                "two-moistures",
                "the moisture of the char is given in two ways",
                "Write moisture or sample, not both.",
            )
        if self.mass is None and (self.moisture is not None or self.sample is not None):
            raise custom_error(
                "missing-field",
                "a moisture of the char is given, but no mass",
                "Write the mass as it lay at the same time, or take the moisture away.",
            )
        return self

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            volume: Quantity | None = None,
            containers: Mapping[str, Any] | Containers | None = None,
            mass: Quantity | None = None,
            moisture: str | Measured | None = None,
            sample: Mapping[str, Any] | DriedSample | None = None,
        ) -> None: ...


class BatchRecord(InputModel):
    """One burn as it came out.

    `lots` is what was burnt; `minutes` runs from lighting to quench; brands and water are told
    beside.

    In a file `heap` may name a heap file (relative to the record) and `used` the lots of it that
    were burnt; both are read in. Raises ValidationError for what cannot be.
    """

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [
                {
                    "lots": [LOT_EXAMPLE],
                    "burn": BURN_EXAMPLE,
                    "minutes": "70 min",
                    "char": {"volume": "60 L"},
                    "brands": "2 kg",
                    "water": "80 L",
                }
            ]
        }
    )

    name: Text | None = None
    """What the burn is called."""
    date: Date | None = None
    """The day of the burn."""
    person: Text | None = None
    """Who burnt."""
    lots: Lots
    """What was burnt."""
    burn: Burn
    """How it was burnt."""
    minutes: Time | None = None
    """From lighting to quench."""
    char: CharMeasured
    """The sorted char, without brands."""
    brands: AnyMass | None = None
    """The mass of the brands, half-charred pieces."""
    water: AnyVolume | None = None
    """The water that was used."""
    remarks: Remarks | None = None
    """Anything else."""

    @model_validator(mode="before")
    @classmethod
    def _what_was_burnt(cls, raw: Any) -> Any:
        if isinstance(raw, Mapping) and not raw.get("lots"):
            raise custom_error(
                "no-lots",
                "it is not said what was burnt",
                "Write lots: (as in a heap file), or heap: FILE with used: [names of the lots]: "
                "without the dry feed no yield can be told.",
            )
        return raw

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> tuple[Self, ...]:
        """The batches of a YAML, JSON or CSV file.

        Raises InputError with all problems, each with its line.
        """
        from .reading import read_batches

        return read_batches(path, cls)

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            lots: Sequence[Lot | Mapping[str, Any]],
            burn: Burn | Mapping[str, Any],
            char: CharMeasured | Mapping[str, Any],
            name: str | None = None,
            date: str | None = None,
            person: str | None = None,
            minutes: Quantity | None = None,
            brands: Quantity | None = None,
            water: Quantity | None = None,
            remarks: str | None = None,
        ) -> None: ...
