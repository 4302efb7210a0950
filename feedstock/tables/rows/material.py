"""A kind of feedstock."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .cell import Density, Heating, Length, MassShare, MoistureCell, Share
from .row import Row, Words

CLASSES = (
    "hardwood",
    "softwood",
    "bark",
    "bamboo",
    "straw",
    "stalk",
    "leaf",
    "shell",
    "husk",
    "manure",
    "seed",
    "paper",
    "board",
    "char",
)


FORMS = ("round", "brush", "sawn", "board", "loose", "pieces", "sheet")


WOODY = frozenset({"hardwood", "softwood", "bark", "bamboo", "board", "char"})
"""Classes whose char volume follows from the shrinkage of solid pieces."""


class Material(Row):
    """A kind of feedstock.

    What is not given comes from the row named by `like`, everything but `names`.
    """

    like: str | None = None
    class_: Literal[CLASSES] | None = Field(default=None, alias="class")  # type: ignore[valid-type]
    form: Literal[FORMS] | None = None  # type: ignore[valid-type]
    basic_density: Density | None = None
    bark_density: Density | None = None
    bark_volume: Share | None = None
    bulk_density: dict[str, Density] = Field(default_factory=dict)
    ash: Share | None = None
    soil: Share | None = None
    lignin: Share | None = None
    cellulose: Share | None = None
    hemicellulose: Share | None = None
    carbon: Share | None = None
    hydrogen: Share | None = None
    nitrogen: Share | None = None
    oxygen: Share | None = None
    sulphur: Share | None = None
    chlorine: Share | None = None
    volatile_matter: Share | None = None
    fixed_carbon: Share | None = None
    heating_value: Heating | None = None
    moisture: dict[str, MoistureCell] = Field(default_factory=dict)
    thickness: Length | None = None
    char_bulk_density: Density | None = None
    history: Literal["needed", "not needed"] | None = None
    carries: Words = ()
    accumulates: Words = ()
    traits: Words = ()
    elements: dict[str, MassShare] = Field(default_factory=dict)

    @property
    def woody(self) -> bool:
        return self.class_ in WOODY
