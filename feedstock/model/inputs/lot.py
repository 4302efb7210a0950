"""A lot: pieces of one kind and one history."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Annotated, Any, Self

from pydantic import AfterValidator, Field, StringConstraints, model_validator

from ...errors import shown
from ...quantities.estimate import custom_error
from ...quantities.fields import Measured
from .amount import Containers, Pieces, Stack
from .fields import AsWritten, Density, Length, Mass, ShareBelowOne, Text, Volume, Words, _Model
from .moisture import Moisture

if TYPE_CHECKING:
    from .fields import Quantity


class Sample(_Model):
    """A piece of the lot that was dried and measured: its oven-dry mass and its volume (by dipping,
    or by tape).
    """

    oven_dry: Mass
    volume: Volume

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


class Measures(_Model):
    """Own measurements, which stand before the tables."""

    basic_density: Density | None = None
    bulk_density: Density | None = None
    ash: ShareBelowOne | None = None
    sample: Sample | None = None

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


class Lot(_Model):
    """Pieces of one kind and one history.

    Raises ValidationError for an impossible or doubtful description.

    The amount is given in exactly one way, the moisture in at most one.
    """

    name: Text | None = None
    material: Text
    mass: Mass | None = None
    volume: Volume | None = None
    pieces: Pieces | None = None
    stack: Stack | None = None
    containers: Containers | None = None
    packing: Text | None = None
    moisture: Moisture | None = None
    thickness: Length | None = None
    decay: Annotated[int, AsWritten, Field(ge=1, le=5)] | None = None
    lying: bool = True
    soil: ShareBelowOne | None = None
    origin: Text = "unknown"
    signs: Words = ()
    year: Annotated[int, AsWritten, Field(ge=1700), AfterValidator(_not_to_come)] | None = None
    region: Text | None = None
    measured: Measures | None = None
    remarks: Annotated[str, StringConstraints(max_length=2000)] | None = None
    dismiss: Words = ()

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
        given = [name for name in _AMOUNTS if getattr(self, name) is not None]
        if len(given) != 1:
            raise custom_error(
                "two-amounts" if given else "no-amount",
                f"the amount is given in more than one way ({', '.join(given)})"
                if given
                else "the lot has no amount",
                _AMOUNT_WAYS,
            )
        if self.packing is not None and given[0] in ("mass", "pieces"):
            raise custom_error(
                "not-needed",
                f"`packing` belongs to a volume, a stack or containers, not to {given[0]}",
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
