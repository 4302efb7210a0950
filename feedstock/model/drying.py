"""How a wet lot dries."""

from __future__ import annotations

from ..quantities.data import Data
from ..tables.citations import Citation
from ..words import Message
from .fields import Percent, Weeks


class Drying(Data):
    """How a wet lot becomes dry enough for its burner, outdoors.

    `weeks` is the time in the drying season, `weeks_winter` that of one begun in winter; None where
    it never gets there (in a winter: not before the next season). `stops_at` is the moisture (wet
    basis) at which the air lets it stop. `how` says how to lay it, `know` how to tell that it is
    dry, `time` says the times in words.
    """

    weeks: Weeks | None = None
    """Weeks in the drying season; none where it never gets there."""
    weeks_winter: Weeks | None = None
    """Weeks where it begins in winter; none where a winter does not do."""
    stops_at: Percent
    """The moisture at which the air lets it stop, % wet."""
    how: Message
    """How to lay it."""
    know: Message
    """How to know that it is dry."""
    time: Message
    """The times in words."""
    sources: tuple[Citation, ...] = ()
    """Where the times come from."""
