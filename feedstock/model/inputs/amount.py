"""Amounts in pieces, stacks and containers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field, model_validator

from ...quantities.estimate import custom_error
from .fields import AsWritten, Count, InputModel, Length, Long, ShareBelowOne, Text, Thick

if TYPE_CHECKING:
    from .fields import Quantity


class Pieces(InputModel):
    """A count of like pieces: round by `diameter` (in the middle, over bark) or `diameters` (butt,
    top), or sawn by `width` and `thickness`.
    """

    count: Count
    """How many pieces."""
    length: Long
    """The length of each."""
    diameter: Thick | None = None
    """In the middle, over bark."""
    diameters: tuple[Thick, Thick] | None = None
    """Of butt and top, over bark."""
    width: Thick | None = None
    """Of a sawn piece."""
    thickness: Thick | None = None
    """Of a sawn piece."""
    hollow: ShareBelowOne | None = None
    """The part of the section that is rotted away."""

    @model_validator(mode="after")
    def _one_section(self) -> Self:
        ways = [
            self.diameter is not None,
            self.diameters is not None,
            self.width is not None or self.thickness is not None,
        ]
        if sum(ways) != 1:
            raise custom_error(
                "two-amounts" if sum(ways) else "no-amount",
                "the cross-section of the pieces is given in more than one way"
                if sum(ways)
                else "the pieces have no cross-section",
                "Write diameter, or diameters: [butt, top], or width and thickness.",
            )
        if ways[2] and (self.width is None or self.thickness is None):
            raise custom_error(
                "missing-field",
                "sawn pieces need both width and thickness",
                "Write width: 140 mm and thickness: 19 mm.",
            )
        return self

    if TYPE_CHECKING:

        def __init__(
            self,
            *,
            count: int,
            length: Quantity,
            diameter: Quantity | None = None,
            diameters: Sequence[Quantity] | None = None,
            width: Quantity | None = None,
            thickness: Quantity | None = None,
            hollow: Quantity | None = None,
        ) -> None: ...


class Stack(InputModel):
    """A stacked or heaped gross volume by its shape and outer measures."""

    shape: Literal["box", "half cylinder", "half ellipsoid", "paraboloid", "cone"] = "box"
    """The shape of the outside."""
    width: Length
    """Outer width."""
    length: Length
    """Outer length."""
    height: Length
    """Outer height."""

    if TYPE_CHECKING:

        def __init__(
            self, *, shape: str = "box", width: Quantity, length: Quantity, height: Quantity
        ) -> None: ...


class Containers(InputModel):
    """So many wheelbarrows, bags or bales."""

    count: Annotated[float, Field(gt=0, le=1e5, allow_inf_nan=False), AsWritten]
    """How many, also parts of one."""
    of: Text
    """Which: wheelbarrow, bucket, bag, bale ..."""

    if TYPE_CHECKING:

        def __init__(self, *, count: float, of: str) -> None: ...
