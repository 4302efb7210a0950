"""Learning from batches."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..cell import ExactPoints, Fraction, Plain
from ..row import Sourced
from .part import Part


class Learnable(Part):
    """The share of a figure's prior variance, on the log scale, that stays with person and
    burner.
    """

    share: Fraction
    """Part of the prior variance, on the log scale, that stays with person and burner."""


class Learning(Sourced):
    """How a figure's doubt splits into what batches can teach and what is new in each, and how a
    outlier counts.
    """

    kind_: Literal["learning"] = Field(alias="kind")
    figures: dict[Literal["volume-per-feed", "mass-per-feed", "burning-rate"], Learnable]
    """How each figure's doubt is split."""
    freedom: Plain
    """Degrees of freedom of the doubt of a batch: the fewer, the less a wild one counts."""


class BatchRecords(Sourced):
    """How a record of a batch is taken: the share of one class that makes it a batch of that class,
    and when a record counts as an outlier.
    """

    kind_: Literal["batch-records"] = Field(alias="kind")
    main_share: ExactPoints
    """Share of the dry feed from which one class makes the batch one of that class."""
    outlier_below: Plain
    """Weight below which a batch is told to be wild, 0 to 1."""
    minutes_error: ExactPoints
    """Half of the 90 % interval of stated minutes, as a share of them."""
