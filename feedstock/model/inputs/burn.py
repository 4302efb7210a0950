"""A burn: the vessel, its measures and how it is fired."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field, model_validator

from ...quantities.estimate import custom_error
from ...quantities.fields import Measured, QuantityField
from .fields import AsWritten, Length, Rim, Text, Volume, Words, _Model

if TYPE_CHECKING:
    from .fields import Quantity


class Burn(_Model):
    """How it is to be burnt.

    `burner` is a name of the tables; measures are those of the rim, inside.

    `shape` is how a round pit ends below: on a `floor`, in a `point`, or as a `bowl`.

    `firing` is `fed` (in layers) or `top-lit` (filled, then lit). `vessel`, `ground` and `lighting`
    are words of the tables that can raise a suspicion (galvanised; peat; liquid fuel). `heaped` is
    how high a top-lit load is piled, as a multiple of the vessel's volume.
    """

    burner: Text
    firing: Literal["fed", "top-lit", "closed"] | None = None
    shape: Literal["floor", "point", "bowl"] | None = None
    width: Rim | None = None
    diameter: Rim | None = None
    depth: Rim | None = None
    length: Rim | None = None
    bottom_width: Length | None = None
    bottom_length: Length | None = None
    volume: Volume | None = None
    duration: Annotated[Measured, QuantityField("time", above=0, most=30 * 86400)] | None = None
    temperature: (
        Annotated[
            Measured,
            QuantityField(
                "temperature",
                least=20,
                most=1300,
                why="Write the highest temperature of the char, for instance 650 degC.",
            ),
        ]
        | None
    ) = None
    hose: Annotated[Measured, QuantityField("flow", above=0, most=1)] | None = None
    heaped: Annotated[float, AsWritten, Field(gt=0, le=5, allow_inf_nan=False)] | None = None
    vessel: Words = ()
    ground: Words = ()
    lighting: Words = ()

    @model_validator(mode="after")
    def _one_width(self) -> Self:
        if self.width is not None and self.diameter is not None:
            raise custom_error(
                "two-amounts",
                "both width and diameter are given",
                "Write diameter for a round rim, width (and length) for a straight one.",
            )
        return self

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            burner: str,
            firing: str | None = None,
            shape: str | None = None,
            width: Quantity | None = None,
            diameter: Quantity | None = None,
            depth: Quantity | None = None,
            length: Quantity | None = None,
            bottom_width: Quantity | None = None,
            bottom_length: Quantity | None = None,
            volume: Quantity | None = None,
            duration: Quantity | None = None,
            temperature: Quantity | None = None,
            hose: Quantity | None = None,
            heaped: float | None = None,
            vessel: str | Sequence[str] = (),
            ground: str | Sequence[str] = (),
            lighting: str | Sequence[str] = (),
        ) -> None: ...
