"""A burn: the vessel, its measures and how it is fired."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import ConfigDict, Field, model_validator
from pydantic.config import JsonDict

from ...quantities.estimate import custom_error
from ...quantities.fields import Measured, QuantityField
from .fields import AsWritten, InputModel, Length, Rim, Text, Volume, Words

if TYPE_CHECKING:
    from .fields import Quantity


BURN_EXAMPLE: JsonDict = {"burner": "cone pit", "diameter": "1.1 m", "depth": "45 cm"}
"""A burn as a person would write it, for schemas."""


class Burn(InputModel):
    """How it is to be burnt.

    `burner` is a name of the tables; measures are those of the rim, inside.

    `shape` is how a round pit ends below: on a `floor`, in a `point`, or as a `bowl`.

    `firing` is `fed` (in layers) or `top-lit` (filled, then lit). `vessel`, `ground` and `lighting`
    are words of the tables that can raise a suspicion (galvanised; peat; liquid fuel). `heaped` is
    how high a top-lit load is piled, as a multiple of the vessel's volume.
    """

    model_config = ConfigDict(json_schema_extra={"examples": [BURN_EXAMPLE]})

    burner: Text
    """In what: cone pit, trench, kettle, drum, barbecue ..."""
    firing: Literal["fed", "top-lit", "closed"] | None = None
    """Fed in layers, lit from the top, or closed."""
    shape: Literal["floor", "point", "bowl"] | None = None
    """How the sides of a dug pit run."""
    width: Rim | None = None
    """Of the rim, inside."""
    diameter: Rim | None = None
    """Of a round rim, inside."""
    depth: Rim | None = None
    """From the rim to the floor."""
    length: Rim | None = None
    """Of a straight rim, inside."""
    bottom_width: Length | None = None
    """Of the floor."""
    bottom_length: Length | None = None
    """Of the floor."""
    volume: Volume | None = None
    """What the vessel holds, where its measures are not given."""
    duration: Annotated[Measured, QuantityField("time", above=0, maximum=30 * 86400)] | None = None
    """From lighting to quench."""
    temperature: (
        Annotated[
            Measured,
            QuantityField(
                "temperature",
                minimum=20,
                maximum=1300,
                why="Write the highest temperature of the char, for instance 650 degC.",
            ),
        ]
        | None
    ) = None
    """The highest temperature of the char."""
    hose: Annotated[Measured, QuantityField("flow", above=0, maximum=1)] | None = None
    """What the hose gives."""
    heaped: Annotated[float, Field(gt=0, le=5, allow_inf_nan=False), AsWritten] | None = None
    """How high a top-lit load is piled, as a multiple of the vessel's volume."""
    vessel: Words = ()
    """Words on the vessel: galvanised, painted, cast iron ..."""
    ground: Words = ()
    """Words on the ground: peat, roots, old bonfire ..."""
    lighting: Words = ()
    """Words on how it is lit: liquid fuel, glossy paper ..."""

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
