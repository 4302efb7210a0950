"""A kind of feedstock."""

from __future__ import annotations

from typing import Annotated, Literal, TypeVar

from pydantic import BeforeValidator, Field

from .cell import Density, Heating, Length, MassShare, MoistureCell, Share
from .cell_parts import by_key
from .methods.vocabulary import FeedClass, FeedForm
from .row import Row, Words

CellT = TypeVar("CellT")
ByKey = Annotated[dict[str, CellT], BeforeValidator(by_key)]


class Material(Row):
    """A kind of feedstock.

    What is not given comes from the row named by `like`, everything but `names`.
    """

    like: str | None = None
    """The row from which all comes that is not given here, save the names."""
    class_: str | None = Field(default=None, alias="class")
    """What it burns and chars like, a word of the method `feed-classes`."""
    form: str | None = None
    """What it is in the hand, a word of the method `feed-forms`."""
    basic_density: Density | None = None
    """Oven-dry mass over the volume of the green wood without its bark."""
    bark_density: Density | None = None
    """Oven-dry mass over the volume of the green bark."""
    bark_volume: Share | None = None
    """Volume of the bark as a share of that of the piece over its bark."""
    bulk_density: ByKey[Density] = Field(default_factory=dict)
    """Dry mass over the volume of a heap, by a word of packing."""
    ash: Share | None = None
    """Ash as a share of the dry matter, without soil that sticks to it."""
    soil: Share | None = None
    """Soil that usually sticks to it, as a share of the dry mass of both."""
    lignin: Share | None = None
    """Lignin as a share of the dry matter."""
    cellulose: Share | None = None
    """Cellulose as a share of the dry matter, not holocellulose."""
    hemicellulose: Share | None = None
    """Hemicelluloses as a share of the dry matter."""
    carbon: Share | None = None
    """Carbon as a share of the dry matter, with its ash."""
    hydrogen: Share | None = None
    """Hydrogen as a share of the dry matter, without that of water."""
    nitrogen: Share | None = None
    """Nitrogen as a share of the dry matter."""
    oxygen: Share | None = None
    """Oxygen as a share of the dry matter, mostly found as what is left."""
    sulphur: Share | None = None
    """Sulphur as a share of the dry matter."""
    chlorine: Share | None = None
    """Chlorine as a share of the dry matter."""
    volatile_matter: Share | None = None
    """Volatile matter as a share of the dry matter, by the standard test at 900 degC."""
    fixed_carbon: Share | None = None
    """Fixed carbon as a share of the dry matter: what is neither volatile nor ash."""
    heating_value: Heating | None = None
    """Higher heating value of the dry matter."""
    moisture: ByKey[MoistureCell] = Field(default_factory=dict)
    """Moisture by condition (`green`, `seasoned` ...), on the basis that is written with it."""
    thickness: Length | None = None
    """The least dimension of a usual piece, over its bark."""
    char_bulk_density: Density | None = None
    """Dry mass over the volume of a heap of its char; left out, it follows from the density of the
    feed.
    """
    history: Literal["needed", "not needed"] | None = None
    """Whether its past must be known before it may burn; left out, its form says it."""
    carries: Words = ()
    """Suspicions that it always carries, as keys of contaminants."""
    accumulates: Words = ()
    """Elements that the plant takes up by itself, so that what clean matter holds can decide."""
    traits: Words = ()
    """What rules and cautions go by besides class and form (`resinous`, `thorny` ...)."""
    elements: ByKey[MassShare] = Field(default_factory=dict)
    """What clean matter holds of an element, in the dry matter, by its chemical sign."""

    # what its class and its form mean, looked up once when the tables are loaded
    _class: FeedClass = FeedClass()
    _form: FeedForm = FeedForm()

    def means(self, class_: FeedClass, form: FeedForm) -> None:
        """Take what class and form mean; called once, when the tables are loaded."""
        self.__dict__.update(_class=class_, _form=form)

    def means_form(self, form: FeedForm) -> None:
        """Take what another form means, for a row that was read under a form of its own."""
        self.__dict__.update(_form=form)

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
