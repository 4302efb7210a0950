"""What the char is made of, and its carbon."""

from __future__ import annotations

from typing import Literal

from ..quantities.frozen import Data, FrozenMap
from ..tables.citations import Citation
from ..words import Message
from .fields import Degrees, Kilograms, Percent, Plain


class ClassForecast(Data):
    """A class of a standard: whether the char would meet what can be forecast of it, and why;
    `not_forecast` needs a laboratory.
    """

    name: str
    version: str
    meets: Literal["likely", "may", "not likely"]
    why: Message
    not_forecast: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()


class Quality(Data):
    """What the char of one lot is expected to be made of.

    Ratios are molar, shares are of dry matter.

    `biochar` is False where the middle of the temperature lies below the least that the word is
    used for.
    """

    lot: str
    temperature: Degrees
    hydrogen_to_carbon: Plain
    oxygen_to_carbon: Plain
    organic_carbon: Percent
    ash: Percent
    volatile_matter: Percent
    fixed_carbon: Percent
    biochar: bool
    extrapolated: bool = False
    high_ash: bool = False
    classes: tuple[ClassForecast, ...] = ()


class FieldSort(Data):
    """A first sort by hand and eye: where it goes, by which signs, and what to do in any case."""

    into: str
    because: tuple[Message, ...]
    others: tuple[Message, ...] = ()
    always: tuple[Message, ...] = ()
    sources: tuple[Citation, ...] = ()


class Qualities(Data):
    """The forecast of every lot that gives char, what a laboratory alone can tell, and the first
    sort where signs were given.
    """

    lots: tuple[Quality, ...]
    sort: FieldSort | None = None
    laboratory: FrozenMap[str, Message]
    notes: tuple[Message, ...] = ()


class Carbon(Data):
    """Organic carbon of the char, and what of it is expected to be in the soil after `years`, in
    two published ways.

    `by_default` rests on the default classes of the inventory guidelines (feed and temperature),
    `by_ratio` on molar H/C and the mean soil temperature. The carbon dioxide is that of the same
    carbon by molar mass. None where a way does not apply.
    """

    years: int
    soil_temperature: Degrees
    organic_carbon: Kilograms
    default_carbon: Kilograms | None = None
    by_default: Kilograms | None = None
    by_default_dioxide: Kilograms | None = None
    by_ratio: Kilograms | None = None
    by_ratio_dioxide: Kilograms | None = None
    scope: Message
    notes: tuple[Message, ...] = ()
    sources: tuple[Citation, ...] = ()
