"""Char in compost and on beds."""

from __future__ import annotations

from typing import Annotated

from ..quantities.estimate import Estimate, FigureUnit
from ..tables.citations import Citation
from .after_fields import (
    Kilograms,
    Litres,
    Metres,
    Millimetres,
    Percent,
    Plain,
    SquareMetres,
    Weeks,
    _Data,
)


class BlendPart(_Data):
    """One material of the mix as it lies: heaped volume, mass, and moisture on wet basis."""

    name: str
    volume: Litres
    mass: Kilograms
    moisture: Percent
    carbon_to_nitrogen: Plain | None = None


class Suggestion(_Data):
    """Amounts as they lie that would bring the mix to both targets, or why none can; `add` pairs a
    material with kilograms and litres.
    """

    reaches: bool
    add: tuple[tuple[str, float, float], ...] = ()
    text: str


class Blend(_Data):
    """Char in compost.

    Volumes are heaped and before mixing; `char_share` is of their sum, `char_share_mass` of the dry
    mass.

    `carbon_to_nitrogen` leaves the char's carbon out. `wanted` is what was asked for; None where
    the share follows from what is at hand.
    """

    char: BlendPart
    parts: tuple[BlendPart, ...]
    wanted: str | None = None
    char_share: Percent
    char_share_mass: Percent
    compost_needed: Litres
    volume: Litres
    mass: Kilograms
    moisture: Percent
    water_to_add: Litres
    carbon_to_nitrogen: Plain | None = None
    nitrogen_tied_up: Kilograms
    suggestion: Suggestion | None = None
    shape: str
    height: Metres
    width: Metres
    length: Metres | None = None
    volume_when_used: Litres
    until_used: Weeks
    crush_to: Millimetres
    remarks: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()


class BedPlan(_Data):
    """Area that the char treats at a dressing, and what to mind. `char` is its dry mass."""

    char: Kilograms
    dressing: str
    area: SquareMetres
    dressing_mass: Annotated[Estimate, FigureUnit("kg/m^2")]
    over_yearly: bool
    over_total: bool
    remarks: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()
