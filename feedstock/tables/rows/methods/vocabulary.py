"""The classes and the forms of feedstock that a set of tables knows, and what each means."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..row import Sourced
from .part import Part


class FeedClass(Part):
    """What a class of feedstock means for the chain of a lot."""

    woody: bool = False
    """Whether the volume of its char follows from solid pieces."""
    flaky: bool = False
    """Whether thin pieces of it burn as fine matter."""
    rots_as: str = "hardwood"
    """The series of decay factors that it follows."""
    clean: bool = False
    """Whether more ash than clean wood has is soil."""
    kindles: bool = False
    """Whether it catches at once where it is thin and dry."""


class FeedClasses(Sourced):
    """Classes by name; the classes of all sets in use count."""

    kind_: Literal["feed-classes"] = Field(alias="kind")
    of: dict[str, FeedClass]
    """Classes, by name."""


class FeedForm(Part):
    """What a form of feedstock means for the chain of a lot."""

    solid: bool = False
    """Whether its pieces have a volume and a density of their own."""
    barked: bool = False
    """Whether its pieces are measured over their bark."""
    flaky: bool = False
    """Whether it lies loose and burns as fine matter."""
    board: bool = False
    """Whether its pieces are as thick as the row says."""
    rectangular: bool = False
    """Whether it is the form that a width and a thickness make of any wood."""


class FeedForms(Sourced):
    """Forms by name; the forms of all sets in use count."""

    kind_: Literal["feed-forms"] = Field(alias="kind")
    of: dict[str, FeedForm]
    """Forms, by name."""
