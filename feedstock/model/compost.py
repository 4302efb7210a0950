"""Char in compost and on beds."""

from __future__ import annotations

from ..quantities.data import Data
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
from .findings import Finding


class BlendPart(Data):
    """One material of the mix as it lies: heaped volume, mass, and moisture on wet basis."""

    name: str
    """The material."""
    volume: Litres
    """Heaped, as it lies, L."""
    mass: Kilograms
    """As it lies, kg."""
    dry_mass: Kilograms
    """Without its water, kg."""
    moisture: Percent
    """Water in the whole mass, %."""
    carbon_to_nitrogen: Plain | None = None
    """Carbon to nitrogen by mass; none of char."""


class Suggestion(Data):
    """Amounts as they lie that would bring the mix to both targets, or why none can; `add` pairs a
    material with kilograms and litres.
    """

    reaches: bool
    """Whether it brings the mix to its targets."""
    add: tuple[tuple[str, float, float], ...] = ()
    """Material, kilograms and litres, each."""
    text: Message
    """The suggestion in words."""


class Blend(Data):
    """Char in compost.

    Volumes are heaped and before mixing; `char_share` is of their sum, `char_share_mass` of the dry
    mass.

    `carbon_to_nitrogen` leaves the char's carbon out. `wanted` is what was asked for; None where
    the share follows from what is at hand. `char_crushed` is the volume of the char once crushed.
    """

    char: BlendPart
    """The char."""
    parts: tuple[BlendPart, ...]
    """The other materials."""
    wanted: Message | None = None
    """What was asked for."""
    char_share: Percent
    """The char's part of the volume, %."""
    char_share_mass: Percent
    """The char's part of the dry mass, %."""
    compost_needed: Litres
    """Compost or compost materials to gather, L."""
    volume: Litres
    """All of it before mixing, L."""
    mass: Kilograms
    """All of it as it lies, kg."""
    moisture: Percent
    """Water in the whole, %."""
    water_to_add: Litres
    """Water to add, L."""
    carbon_to_nitrogen: Plain | None = None
    """Carbon to nitrogen by mass, without the char's carbon."""
    nitrogen_tied_up: Kilograms
    """Nitrogen that fresh char ties up, kg."""
    suggestion: Suggestion | None = None
    """What would bring it to its targets."""
    shape: str
    """The shape of the heap."""
    height: Metres
    """Its height, m."""
    width: Metres
    """Its width, m."""
    length: Metres | None = None
    """Its length, m."""
    volume_when_used: Litres
    """What is left when it is ripe, L."""
    until_used: Weeks
    """Until it is ripe, weeks."""
    char_crushed: Litres
    """Volume of the char once it is crushed, L."""
    crush_to: Millimetres
    """To what the char is crushed, mm."""
    findings: tuple[Finding, ...] = ()
    """What was found about the parts by the gates of a lot."""
    remarks: tuple[Message, ...] = ()
    """What to mind."""
    notes: tuple[Message, ...] = ()
    """What was assumed."""
    sources: tuple[Citation, ...] = ()
    """Where its rules come from."""


class BedPlan(Data):
    """Area that the char treats at a dressing, and what to mind. `char` is its dry mass."""

    char: Kilograms
    """Dry mass of the char, kg."""
    dressing: Message
    """The dressing in words."""
    area: SquareMetres
    """The area that it treats, m^2."""
    dressing_mass: PerArea
    """Dry char on the area, kg/m^2."""
    over_yearly: bool
    """Whether it is more than is advised in a year."""
    over_total: bool
    """Whether it is more than is advised in all."""
    remarks: tuple[Message, ...] = ()
    """What to mind."""
    sources: tuple[Citation, ...] = ()
    """Where its rules come from."""
