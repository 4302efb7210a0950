"""What binding finds out of a lot, as fields: nothing is guessed again from names of steps."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from enum import Enum

from ..model.experience import Learned
from ..model.inputs.lot import Lot
from ..tables.rows.material import Material
from ..uncertainty.graph import Chain
from ..uncertainty.inputs import Input
from ..words import Message
from .evidence import Evidence
from .words import NO_WORDS, WordsOfLot


class Route(Enum):
    """The way by which the amount of a lot was given."""

    MASS = "weighed"
    COUNTED = "counted"
    HEAPED = "heaped"
    STACKED = "stacked"
    CONTAINED = "contained"


class ThicknessSource(Enum):
    """Where the least dimension of a lot's pieces comes from."""

    STATED = "stated"
    DIAMETER = "diameter of the pieces"
    TAPER = "mean of butt and top"
    WIDTH = "width of the pieces"
    BOARD = "thickness of the pieces"
    PACKING = "usual for the way it lies"
    TABLE = "usual for the material"


@dataclass(frozen=True, slots=True)
class Thickness:
    """The least dimension, m, and where it comes from."""

    value: float
    source: ThicknessSource


@dataclass(frozen=True, slots=True)
class LotModel:
    """A lot bound to its row once: its chain from amount and moisture to char, water and time in
    the fire, the inputs, and what was found out on the way.

    `evidence` holds row, origin and signs as row ids. `solid` says that the amount is a volume of
    solid wood, `solid_density` that the density is that of the pieces and not of the heap.
    `in_bark` says that the pieces were measured over their bark. `oven_dry_density`, `wood_volume`
    and `loose_volume` are the steps that give these, "" where there is none; `volume_base` is the
    step per which own batches count char volume. `char_yield` is its middle by the tables alone,
    which no amount moves. `words` are those of its texts that ask something.

    `lies` says how it lies to dry, "" where the tables say nothing of drying.

    `uncorrected` is the same lot before own experience, by which contamination is judged.
    """

    lot: Lot
    name: str
    evidence: Evidence
    row: Material
    signature: str
    route: Route
    solid: bool
    in_bark: bool
    thickness: Thickness
    fineness: str
    moisture_known: str
    lies: str
    solid_density: bool
    oven_dry_density: str
    wood_volume: str
    loose_volume: str
    volume_base: str
    char_yield: float
    chain: Chain
    inputs: tuple[Input, ...]
    outputs: frozenset[str]
    figures: tuple[str, ...]
    notes: tuple[Message, ...] = ()
    words: WordsOfLot = NO_WORDS
    read_as: Message | None = None
    uncorrected: LotModel | None = None
    rate: Learned | None = None

    @property
    def row_id(self) -> str:
        """The full name of the material's row."""
        return self.evidence.material

    @property
    def kind(self) -> Hashable:
        """What lots have in common that differ in nothing but how much there is of them: what they
        say, and how wide a range they state of their amount.
        """
        ranges = tuple(
            (
                entry.name,
                float(f"{entry.low / entry.mid:.12g}"),
                float(f"{entry.high / entry.mid:.12g}"),
            )
            for entry in self.inputs
            if entry.amount and not entry.exact and entry.mid
        )
        return self.signature, ranges

    @property
    def plain(self) -> LotModel:
        """The lot as the tables alone have it."""
        return self if self.uncorrected is None else self.uncorrected

    def middle(self, name: str) -> float:
        """The middle of an input."""
        return float(next(entry.mid for entry in self.inputs if entry.name == name))

    def gives(self, name: str) -> bool:
        """Whether its chain has an input or a step of that name."""
        return name in self.outputs

    @property
    def middles(self) -> Mapping[str, float]:
        """Every input at its middle."""
        return {entry.name: entry.mid for entry in self.inputs}
