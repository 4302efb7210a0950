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


class Learning(Sourced):
    """How a figure's doubt splits into what batches can teach and what is new in each, and how a
    wild record counts.
    """

    kind_: Literal["learning"] = Field(alias="kind")
    figures: dict[Literal["volume-per-feed", "mass-per-feed", "burning-rate"], Learnable]
    freedom: Plain


class BatchRecords(Sourced):
    """How a record of a batch is taken: the share of one class that makes it a batch of that class,
    and when a record counts as wild.
    """

    kind_: Literal["batch-records"] = Field(alias="kind")
    main_share: ExactPoints
    wild_below: Plain
    minutes_error: ExactPoints
