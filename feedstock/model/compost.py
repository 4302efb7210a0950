"""Char in compost and on beds."""

from __future__ import annotations

from ..quantities.frozen import Data
from ..tables.citations import Citation
from ..words import Message
from .fields import (
    Kilograms,
    Litres,
    Metres,
    Millimetres,
    PerArea,
    Percent,
    Plain,
    SquareMetres,
    Weeks,
)


class BlendPart(Data):
    """One material of the mix as it lies: heaped volume, mass, and moisture on wet basis."""

    name: str
    volume: Litres
    mass: Kilograms
    moisture: Percent
    carbon_to_nitrogen: Plain | None = None


class Suggestion(Data):
    """Amounts as they lie that would bring the mix to both targets, or why none can; `add` pairs a
    material with kilograms and litres.
    """

    reaches: bool
    add: tuple[tuple[str, float, float], ...] = ()
    text: Message


class Blend(Data):
    """Char in compost.

    Volumes are heaped and before mixing; `char_share` is of their sum, `char_share_mass` of the dry
    mass.

    `carbon_to_nitrogen` leaves the char's carbon out. `wanted` is what was asked for; None where
    the share follows from what is at hand.
    """

    char: BlendPart
    parts: tuple[BlendPart, ...]
    wanted: Message | None = None
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
    remarks: tuple[Message, ...] = ()
    notes: tuple[Message, ...] = ()
    sources: tuple[Citation, ...] = ()


class BedPlan(Data):
    """Area that the char treats at a dressing, and what to mind. `char` is its dry mass."""

    char: Kilograms
    dressing: Message
    area: SquareMetres
    dressing_mass: PerArea
    over_yearly: bool
    over_total: bool
    remarks: tuple[Message, ...] = ()
    sources: tuple[Citation, ...] = ()
