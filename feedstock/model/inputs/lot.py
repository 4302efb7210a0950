"""A lot: pieces of one kind and one history."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Annotated, Any, Self

from pydantic import AfterValidator, ConfigDict, Field, model_validator
from pydantic.config import JsonDict

from ...errors import shown
from ...quantities.estimate import custom_error
from ...quantities.fields import Measured
from .amount import Containers, Pieces, Stack
from .fields import (
    AsWritten,
    Density,
    InputModel,
    Mass,
    Remarks,
    ShareBelowOne,
    Text,
    Thick,
    Volume,
    Words,
    YesNo,
)
from .moisture import Moisture

if TYPE_CHECKING:
    from .fields import Quantity


class Sample(InputModel):
    """A piece of the lot that was dried and measured: its oven-dry mass and its volume (by dipping,
    or by tape).
    """

    oven_dry: Mass
    """Its mass after drying at 103 degC until it stays the same."""
    volume: Volume
    """Its volume, by dipping or by tape."""

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if not 20 <= self.oven_dry.mid / self.volume.mid <= 1540:
            raise custom_error(
                "out-of-range",
                "the sample would have a density of "
                f"{self.oven_dry.mid / self.volume.mid:.3g} kg/m^3",
                "Wood lies between about 100 and 1300 kg/m^3: look at the units of both.",
            )
        return self


class Measures(InputModel):
    """Own measurements, which stand before the tables."""

    basic_density: Density | None = None
    """Oven-dry mass over green volume."""
    bulk_density: Density | None = None
    """Oven-dry mass over the heaped volume."""
    ash: ShareBelowOne | None = None
    """Ash, a share of the dry mass."""
    sample: Sample | None = None
    """A dried piece with its volume."""

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            basic_density: Quantity | None = None,
            bulk_density: Quantity | None = None,
            ash: Quantity | None = None,
            sample: Mapping[str, Any] | Sample | None = None,
        ) -> None: ...


def _not_to_come(year: int) -> int:
    """A year after this one is a slip of the pen, and it would make old timber new."""
    this = date.today().year
    if year > this:
        raise custom_error(
            "out-of-range",
            f"the year {year} has not come yet",
            f"Write the year in which it was made or put up, at most {this}; or leave it out.",
        )
    return year


_AMOUNTS = ("mass", "volume", "pieces", "stack", "containers")


_AMOUNT_WAYS = "Write one of mass, volume (with packing), pieces, stack or containers."


LOT_EXAMPLE: JsonDict = {
    "name": "limbs",
    "material": "apple",
    "pieces": {"count": 30, "diameter": "5 cm", "length": "1 m"},
    "moisture": "18 % wet",
    "origin": "own trees",
    "signs": ["bark on"],
}
"""A lot as a person would write it, for schemas."""


class Lot(InputModel):
    """Pieces of one kind and one history.

    Raises ValidationError for an impossible or doubtful description.

    The amount is given in exactly one way, the moisture in at most one.
    """

    model_config = ConfigDict(json_schema_extra={"examples": [LOT_EXAMPLE]})

    name: Text | None = None
    """What the lot is called; without one it goes by its material."""
    material: Text
    """What it is: a name of the tables, or plant, form and state in any order."""
    mass: Mass | None = None
    """Its mass as it lies."""
    volume: Volume | None = None
    """Its heaped volume as it lies, with packing."""
    pieces: Pieces | None = None
    """So many like pieces with their measures."""
    stack: Stack | None = None
    """A stack or heap by its shape and outer measures."""
    containers: Containers | None = None
    """So many wheelbarrows, bags or bales."""
    packing: Text | None = None
    """How it lies in its volume: loose, stacked, brush ..."""
    moisture: Moisture | None = None
    """Its water, in one way."""
    thickness: Thick | None = None
    """The least dimension of its pieces."""
    decay: Annotated[int, Field(ge=1, le=5), AsWritten] | None = None
    """How rotten wood is, from 1 (sound) to 5 (powder)."""
    lying: YesNo = True
    """Whether rotted wood lay on the ground; no for standing dead wood."""
    soil: ShareBelowOne | None = None
    """Soil and grit on it, a share of the dry mass."""
    origin: Text = "unknown"
    """Where it comes from: own trees, farm, pallet, building site ..."""
    signs: Words = ()
    """What is seen, read or told of it: bare wood, mark HT, painted ..."""
    year: Annotated[int, Field(ge=1700), AsWritten, AfterValidator(_not_to_come)] | None = None
    """The year in which it was made or treated."""
    region: Text | None = None
    """The country or region in which it was made or treated."""
    measured: Measures | None = None
    """Own measurements, which stand before the tables."""
    remarks: Remarks | None = None
    """Anything else; danger words in it are heard."""
    dismiss: Words = ()
    """Danger words in its texts that do not mean what they say."""

    @model_validator(mode="before")
    @classmethod
    def _not_names(cls, raw: Any) -> Any:
        if isinstance(raw, str) or raw is None:
            raise custom_error(
                "not-a-mapping",
                f"'{shown(raw)}' is not a lot" if raw is not None else "there is no lot here",
                "Write material: and an amount for each lot.",
            )
        return raw

    @model_validator(mode="after")
    def _one_amount(self) -> Self:
        ways = [name for name in _AMOUNTS if getattr(self, name) is not None]
        if len(ways) != 1:
            raise custom_error(
                "two-amounts" if ways else "no-amount",
                f"the amount is given in more than one way ({', '.join(ways)})"
                if ways
                else "the lot has no amount",
                _AMOUNT_WAYS,
            )
        if self.packing is not None and ways[0] in ("mass", "pieces"):
            raise custom_error(
                "not-needed",
                f"`packing` belongs to a volume, a stack or containers, not to {ways[0]}",
                "Take packing away.",
                at=("packing",),
            )
        return self

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            material: str,
            name: str | None = None,
            mass: Quantity | None = None,
            volume: Quantity | None = None,
            pieces: Mapping[str, Any] | Pieces | None = None,
            stack: Mapping[str, Any] | Stack | None = None,
            containers: Mapping[str, Any] | Containers | None = None,
            packing: str | None = None,
            moisture: str | Measured | Mapping[str, Any] | Moisture | None = None,
            thickness: Quantity | None = None,
            decay: int | None = None,
            lying: bool = True,
            soil: Quantity | None = None,
            origin: str = "unknown",
            signs: Sequence[str] = (),
            year: int | None = None,
            region: str | None = None,
            measured: Mapping[str, Any] | Measures | None = None,
            remarks: str | None = None,
            dismiss: Sequence[str] = (),
        ) -> None: ...
