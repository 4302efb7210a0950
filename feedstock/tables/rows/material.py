"""A kind of feedstock."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, PrivateAttr

from .cell import Density, Heating, Length, MassShare, MoistureCell, Share
from .methods.vocabulary import FeedClass, FeedForm
from .row import Row, Words


class Material(Row):
    """A kind of feedstock.

    What is not given comes from the row named by `like`, everything but `names`.
    """

    like: str | None = None
    class_: str | None = Field(default=None, alias="class")
    form: str | None = None
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

    # what its class and its form mean, looked up once when the tables are loaded
    _class: FeedClass = PrivateAttr(default_factory=FeedClass)
    _form: FeedForm = PrivateAttr(default_factory=FeedForm)

    def means(self, class_: FeedClass, form: FeedForm) -> None:
        """Take what class and form mean; called once, when the tables are loaded."""
        self._class, self._form = class_, form

    def means_form(self, form: FeedForm) -> None:
        """Take what another form means, for a row that was read under a form of its own."""
        self._form = form

    @property
    def woody(self) -> bool:
        """Whether its char volume follows from the solid pieces."""
        return self._class.woody

    @property
    def kindles(self) -> bool:
        """Whether thin dry pieces of it light a fire."""
        return self._class.kindles

    @property
    def flaky(self) -> bool:
        """Whether thin pieces of it lie and burn as fine matter."""
        return self._class.flaky or self._form.flaky

    @property
    def rots_as(self) -> str:
        """The series of decay factors that it follows."""
        return self._class.rots_as

    @property
    def clean(self) -> bool:
        """Whether more ash than clean wood has is soil on it."""
        return self._class.clean

    @property
    def solid(self) -> bool:
        """Whether its pieces have a volume and a density of their own."""
        return self._form.solid

    @property
    def barked(self) -> bool:
        """Whether its pieces are measured over their bark."""
        return self._form.barked

    @property
    def board(self) -> bool:
        """Whether its pieces are as thick as the row says."""
        return self._form.board
