"""What the char is made of, and its carbon."""

from __future__ import annotations

from typing import Literal

from ..quantities.data import Data
from ..quantities.frozen import FrozenMap
from ..tables.citations import Citation
from ..words import Message
from .fields import Degrees, Kilograms, Percent, Plain


class ClassForecast(Data):
    """A class of a standard: whether the char would meet what can be forecast of it, and why;
    `not_forecast` needs a laboratory.
    """

    name: str
    """The class."""
    version: str
    """The version of its standard."""
    meets: Literal["likely", "may", "not likely"]
    """Whether the char would meet what can be forecast of it."""
    why: Message
    """By what."""
    not_forecast: tuple[str, ...] = ()
    """What a laboratory alone can tell."""
    sources: tuple[Citation, ...] = ()
    """Where its limits come from."""


class Quality(Data):
    """What the char of one lot is expected to be made of.

    Ratios are molar, shares are of dry matter.

    `biochar` is False where the middle of the temperature lies below the least that the word is
    used for.
    """

    lot: str
    """The lot's name."""
    temperature: Degrees
    """The highest temperature, degC."""
    hydrogen_to_carbon: Plain
    """Hydrogen to organic carbon, molar."""
    oxygen_to_carbon: Plain
    """Oxygen to organic carbon, molar."""
    organic_carbon: Percent
    """Organic carbon, % of the dry char."""
    ash: Percent
    """Ash, % of the dry char."""
    volatile_matter: Percent
    """Volatile matter, % of the dry char."""
    fixed_carbon: Percent
    """Fixed carbon, % of the dry char."""
    biochar: bool
    """Whether it was hot enough for the word."""
    extrapolated: bool = False
    """Whether the temperature lies outside the data."""
    high_ash: bool = False
    """Whether it is more ash than char."""
    classes: tuple[ClassForecast, ...] = ()
    """The classes that it may meet."""


class FieldSort(Data):
    """A first sort by hand and eye: where it goes, by which signs, and what to do in any case."""

    into: str
    """Where it goes."""
    because: tuple[Message, ...]
    """By which signs."""
    others: tuple[Message, ...] = ()
    """What other signs say."""
    always: tuple[Message, ...] = ()
    """What to do in any case."""
    sources: tuple[Citation, ...] = ()
    """Where the sort comes from."""


class Qualities(Data):
    """The forecast of every lot that gives char, what a laboratory alone can tell, and the first
    sort where signs were given.
    """

    lots: tuple[Quality, ...]
    """The forecast of every lot that gives char."""
    sort: FieldSort | None = None
    """A first sort by signs, where any were given."""
    laboratory: FrozenMap[str, Message]
    """What to order from a laboratory, by what it tells."""
    notes: tuple[Message, ...] = ()
    """What was assumed."""


class Carbon(Data):
    """Organic carbon of the char, and what of it is expected to be in the soil after `years`, in
    two published ways.

    `by_default` rests on the default classes of the inventory guidelines (feed and temperature),
    `by_ratio` on molar H/C and the mean soil temperature. The carbon dioxide is that of the same
    carbon by molar mass. None where a way does not apply.
    """

    years: int
    """For how many years it is told."""
    soil_temperature: Degrees
    """Yearly mean temperature of the bed, degC."""
    organic_carbon: Kilograms
    """Organic carbon of the char, kg."""
    default_carbon: Kilograms | None = None
    """Organic carbon by the default classes, kg."""
    by_default: Kilograms | None = None
    """What stays of it by the default classes, kg."""
    by_default_dioxide: Kilograms | None = None
    """The same as carbon dioxide, kg."""
    by_ratio: Kilograms | None = None
    """What stays by the molar ratio, kg."""
    by_ratio_dioxide: Kilograms | None = None
    """The same as carbon dioxide, kg."""
    scope: Message
    """What is counted and what is not."""
    notes: tuple[Message, ...] = ()
    """What was assumed."""
    sources: tuple[Citation, ...] = ()
    """Where the two ways come from."""
