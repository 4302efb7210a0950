"""The classes and the forms of feedstock that a set of tables knows, and what each means."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..row import Sourced
from .part import Part


class FeedClass(Part):
    """What a class of feedstock means for the chain of a lot.

    `woody`: its char volume follows from the solid pieces. `flaky`: thin pieces of it burn as fine
    matter. `rots_as`: the series of decay factors. `clean`: more ash than clean wood has is soil.
    `kindles`: thin and dry it catches at once.
    """

    woody: bool = False
    flaky: bool = False
    rots_as: str = "hardwood"
    clean: bool = False
    kindles: bool = False


class FeedClasses(Sourced):
    """Classes by name; the classes of all sets in use count."""

    kind_: Literal["feed-classes"] = Field(alias="kind")
    of: dict[str, FeedClass]


class FeedForm(Part):
    """What a form means: `solid` pieces have a volume and a density of their own, `barked` ones are
    measured over their bark, `flaky` ones lie loose, `board` ones are as thick as the row says.
    `rectangular` is the form that a width and a thickness make of any wood.
    """

    solid: bool = False
    barked: bool = False
    flaky: bool = False
    board: bool = False
    rectangular: bool = False


class FeedForms(Sourced):
    """Forms by name; the forms of all sets in use count."""

    kind_: Literal["feed-forms"] = Field(alias="kind")
    of: dict[str, FeedForm]
